# Fonts that come near to breaking a requirement and keep it, and where breaches are told to be.
from collections.abc import Callable
from pathlib import Path

import pytest
from pikepdf import Array, Dictionary, Name, Object, Pdf, Stream

from hotfolder.checks.shared.pdfx_levels import Level
from tests.checks.pdf.pdfx.bases import edited
from tests.checks.pdf.pdfx.cases.painting import draw, resource
from tests.checks.pdf.pdfx.judged import broken, judged, left_open
from tests.seeded.type_by_hand import composite_font, drawn_font, latin, made_typeface, plain_font, shown


def _elsewhere(pdf: Pdf) -> Object:
    return plain_font(pdf, made_typeface("Elsewhere", 70), embedded=False)


def _never_shown(pdf: Pdf) -> None:
    resource(pdf, "Font", "Unused", _elsewhere(pdf))


def _chosen_and_not_shown(pdf: Pdf) -> None:
    resource(pdf, "Font", "More", _elsewhere(pdf))
    draw(pdf, "BT /More 12 Tf 60 60 Td () Tj ET")


def _drawn_letters(pdf: Pdf) -> None:
    resource(pdf, "Font", "Drawn", drawn_font(pdf, "Drawn", "30 0 0 0 30 30 d1 0 0 30 30 re f"))
    draw(pdf, "BT 0 0 0 1 k /Drawn 12 Tf 60 60 Td (A) Tj ET")


def _map_of_its_own(pdf: Pdf) -> None:
    font = composite_font(pdf, "Wide", 60)
    pairs = b"".join(number.to_bytes(2) for number in range(64))
    font.DescendantFonts[0].CIDToGIDMap = pdf.make_indirect(Stream(pdf, pairs))
    resource(pdf, "Font", "More", font)
    draw(pdf, f"BT 0 0 0 1 k /More 12 Tf 60 60 Td {shown('LIGHT')} Tj ET")


def _widths_a_little_off(pdf: Pdf) -> None:
    font = plain_font(pdf, made_typeface("Rounded", 70))
    font.Widths = Array([each + 5 for each in font.Widths.as_list()])
    resource(pdf, "Font", "More", font)
    draw(pdf, f"BT 0 0 0 1 k /More 12 Tf 60 60 Td {latin('LIGHT')} Tj ET")


def _blanks_among_letters(pdf: Pdf) -> None:
    resource(pdf, "Font", "More", plain_font(pdf, made_typeface("Spaced", 70)))
    draw(pdf, f"BT 0 0 0 1 k /More 12 Tf 60 60 Td ( ) Tj {latin('LIGHT')} Tj ET")


@pytest.mark.parametrize(
    "edit",
    [
        _blanks_among_letters,
        _never_shown,
        _chosen_and_not_shown,
        _drawn_letters,
        _map_of_its_own,
        _widths_a_little_off,
    ],
)
@pytest.mark.parametrize("level", [Level.X1A_2001, Level.X4])
def test_fonts_that_levels_take(level: Level, edit: Callable[[Pdf], None], tmp_path: Path) -> None:
    conformance = judged(edited(level, edit), level, tmp_path)
    assert broken(conformance) == {}
    assert left_open(conformance) == []


def _invisible(pdf: Pdf) -> None:
    resource(pdf, "Font", "More", _elsewhere(pdf))
    draw(pdf, f"BT 3 Tr /More 12 Tf 60 60 Td {latin('LIGHT')} Tj ET")


def test_x4_takes_fonts_of_invisible_text_that_are_not_in_the_file(tmp_path: Path) -> None:
    assert broken(judged(edited(Level.X4, _invisible), Level.X4, tmp_path)) == {}


def test_x4_takes_opentype(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        font = plain_font(pdf, made_typeface("Open", 70))
        font.FontDescriptor.FontFile3 = font.FontDescriptor.FontFile2
        font.FontDescriptor.FontFile3.Subtype = Name.OpenType
        del font.FontDescriptor["/FontFile2"]
        resource(pdf, "Font", "More", font)
        draw(pdf, f"BT 0 0 0 1 k /More 12 Tf 60 60 Td {latin('LIGHT')} Tj ET")

    assert broken(judged(edited(Level.X4, edit), Level.X4, tmp_path)) == {}


def test_a_breach_names_the_font_its_pages_and_its_places(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        resource(pdf, "Font", "More", _elsewhere(pdf))
        for page in pdf.pages:
            text = f"BT 0 0 0 1 k /More 12 Tf 60 60 Td {latin('LIGHT')} Tj ET"
            page.contents_add(Stream(pdf, text.encode()))

    (requirement,) = judged(edited(Level.X1A_2003, edit), Level.X1A_2003, tmp_path).broken
    assert requirement.requirement.id == "font-not-embedded"
    assert {each.what for each in requirement.breaches} == {"the font Elsewhere is not in the file"}
    assert [each.page.number for each in requirement.breaches if each.page is not None] == [1, 2]
    assert [len(each.boxes) for each in requirement.breaches] == [1, 1]


def test_another_font_of_the_same_name_is_not_told_where_it_is_used(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        face = made_typeface("Twice", 70)
        resource(pdf, "Font", "Here", plain_font(pdf, face))
        resource(pdf, "Font", "Gone", plain_font(pdf, face, embedded=False))
        for page, font in zip(pdf.pages, ("Here", "Gone"), strict=True):
            text = f"BT 0 0 0 1 k /{font} 12 Tf 60 60 Td {latin('LIGHT')} Tj ET"
            page.contents_add(Stream(pdf, text.encode()))

    (requirement,) = judged(edited(Level.X4, edit), Level.X4, tmp_path).broken
    assert [each.page.number for each in requirement.breaches if each.page is not None] == [2]


def test_glyphs_are_left_open_where_a_map_that_is_not_read_tells_them(tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        font = composite_font(pdf, "Wide", 60)
        font.Encoding = Name("/UniJIS-UTF16-H")
        resource(pdf, "Font", "More", font)
        draw(pdf, "BT 0 0 0 1 k /More 12 Tf 60 60 Td <00410042> Tj ET")

    conformance = judged(edited(Level.X4, edit), Level.X4, tmp_path)
    assert "glyph-missing" in left_open(conformance)
    assert "font-cmap" not in broken(conformance)


@pytest.mark.parametrize("level", Level)
def test_fonts_that_make_no_sense_raise_nothing(level: Level, tmp_path: Path) -> None:
    def edit(pdf: Pdf) -> None:
        odd = pdf.make_indirect(Dictionary(Type=Name.Font, Subtype=Name.Type0))
        odd.DescendantFonts, odd.Encoding = Array([odd]), odd
        stream = pdf.make_indirect(Stream(pdf, b"\x00\x01\x00\x00\xff\xff"))
        short = Dictionary(Subtype=Name.TrueType, FontDescriptor=Dictionary(FontFile2=stream, Flags=Name.No))
        for index, font in enumerate((odd, short, Array([]), Dictionary(Subtype=7))):
            resource(pdf, "Font", f"Odd{index}", font)
            draw(pdf, f"BT 0 0 0 1 k /Odd{index} 12 Tf 60 60 Td (AB) Tj ET")

    assert "font-not-embedded" in broken(judged(edited(level, edit), level, tmp_path))
