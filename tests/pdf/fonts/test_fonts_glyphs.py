# What the glyphs that come on paper tell of their font: missing ones, other widths, programs that break.

import shutil
import subprocess
from collections.abc import Callable
from pathlib import Path

import pytest
from pikepdf import Array, Dictionary, Name, Pdf
from PIL import Image

from tests.pdf.drawn_page import Drawn, helvetica
from tests.pdf.fonts import made_fonts
from tests.pdf.fonts.fonts_read import Make, font_shown, truetype_font


def _missing(make: Make, shown: bytes, before: bytes = b"") -> int:
    font = font_shown(make, shown, before)
    assert font.unread == ""
    return font.missing_glyphs


def _differences(*parts: int | str, base: str | None = None) -> Dictionary:
    named = Array([Name(f"/{part}") if isinstance(part, str) else part for part in parts])
    found = Dictionary(Type=Name.Encoding, Differences=named)
    if base is not None:
        found.BaseEncoding = Name(f"/{base}")
    return found


# Simple fonts over TrueType programs (ISO 32000-2, 9.6.5.4)


def test_each_code_without_a_glyph_counts_once() -> None:
    assert _missing(truetype_font(), b"(gAO)") == 0
    assert _missing(truetype_font(), b"(gAxOyxx)") == 2


_WITHOUT_ENCODING = {
    "Unicode map": made_fonts.truetype(),
    "older Unicode map": made_fonts.truetype({}, tables={(0, 3): made_fonts.CODES}),
    "Macintosh map": made_fonts.truetype({}, tables={(1, 0): made_fonts.CODES}),
    "no map, names": made_fonts.truetype({}),
}


def _without_encoding(program: bytes, flags: int) -> Make:
    def make(pdf: Pdf) -> Dictionary:
        font = made_fonts.simple(pdf, program, flags=flags)
        del font.Encoding
        return font

    return make


@pytest.mark.parametrize("flags", [4, 32])
@pytest.mark.parametrize("kind", _WITHOUT_ENCODING)
def test_a_font_without_encoding_shows_what_readers_find(kind: str, flags: int, tmp_path: Path) -> None:
    """Whatever map the font has; poppler draws the letter, and not the sign for what is not there."""
    make = _without_encoding(_WITHOUT_ENCODING[kind], flags)
    assert _missing(make, b"(A)") == 0
    assert _missing(make, b"(B)") == 1
    if shutil.which("pdftoppm") is not None:
        # The letter A has an area of 0.5 x 0.56 x 0.7 em, the sign for what is missing one of 0.4 x 0.65 em.
        assert _dark_by_poppler(make, b"A", tmp_path) == pytest.approx(1_960, rel=0.02)
        assert _dark_by_poppler(make, b"B", tmp_path) == pytest.approx(2_600, rel=0.02)


def _dark_by_poppler(make: Make, shown: bytes, folder: Path) -> int:
    """How many square points of a page poppler makes dark with a letter of 100 pt."""
    drawn = Drawn()
    drawn.resource("Font", "F", make(drawn.pdf))
    drawn.read(b"BT /F 100 Tf 50 60 Td (%s) Tj ET" % shown)
    path = folder / "letter.pdf"
    drawn.pdf.save(path)
    subprocess.run(
        ["pdftoppm", "-r", "72", "-gray", "-singlefile", path, folder / "drawn"], check=True, timeout=60
    )
    with Image.open(folder / "drawn.pgm") as picture:
        return sum(picture.histogram()[:128])


def test_a_name_that_the_font_lacks_is_missing_whatever_stands_at_its_code() -> None:
    assert _missing(truetype_font(encoding=_differences(65, "unheardof")), b"(A)") == 1


def test_spaces_do_not_count() -> None:
    no_space = made_fonts.truetype({65: "A"})
    assert _missing(truetype_font(program=no_space), b"( A A )") == 0
    # WinAnsiEncoding has a second space at 160.
    assert _missing(truetype_font(program=no_space), b"<41A041>") == 0


@pytest.mark.parametrize("before", [b"3 Tr", b"1 0 0 1 500 0 cm"])
def test_codes_of_text_that_is_not_on_paper_do_not_count(before: bytes) -> None:
    assert _missing(truetype_font(), b"(xyz)", before) == 0


@pytest.mark.parametrize("block", [0x0000, 0xF000, 0xF100, 0xF200])
def test_a_symbolic_font_goes_by_its_symbol_map(block: int) -> None:
    program = made_fonts.truetype({}, tables={(3, 0): {block + 33: "A", block + 34: "O"}})
    make = truetype_font(program=program, flags=4)
    assert (_missing(make, b"<2122>"), _missing(make, b"(x)")) == (0, 1)


def test_a_symbolic_font_goes_by_its_mac_map() -> None:
    program = made_fonts.truetype({}, tables={(1, 0): {0x80: "A"}})
    make = truetype_font(program=program, flags=4)
    assert (_missing(make, b"<80>"), _missing(make, b"<81>")) == (0, 1)


def test_a_nonsymbolic_font_goes_by_what_names_mean_in_unicode() -> None:
    program = made_fonts.truetype({0x20AC: "A", 0x160: "O"})
    # 0x80 is Euro in WinAnsiEncoding; Scaron comes from the differences.
    make = truetype_font(program=program, encoding=_differences(1, "Scaron", base="WinAnsiEncoding"))
    assert (_missing(make, b"<8001>"), _missing(make, b"<02>")) == (0, 1)


def test_a_nonsymbolic_font_goes_by_what_names_mean_in_mac_roman() -> None:
    # Adieresis: 0xC4 in WinAnsiEncoding, 0x80 in MacRomanEncoding (annex D.2).
    program = made_fonts.truetype({}, tables={(1, 0): {0x80: "A"}})
    assert _missing(truetype_font(program=program), b"<C4>") == 0


def test_a_name_that_means_nothing_is_looked_up_as_it_stands() -> None:
    program = made_fonts.truetype({0x41: "O"})
    make = truetype_font(program=program, encoding=_differences(1, "A", "g", "nothing"))
    assert (_missing(make, b"<0102>"), _missing(make, b"<03>")) == (0, 1)


def test_a_font_without_any_map_has_its_glyphs_as_codes() -> None:
    make = truetype_font(program=made_fonts.truetype({}), flags=4)
    assert (_missing(make, b"<01020304>"), _missing(make, b"<05>")) == (0, 1)


# Simple fonts over programs that name their glyphs (9.6.2, 9.6.5)


@pytest.mark.parametrize(
    ("program", "key"),
    [
        pytest.param(made_fonts.type1, "FontFile", id="Type 1"),
        pytest.param(made_fonts.cff, "FontFile3 Type1C", id="CFF"),
        pytest.param(made_fonts.opentype, "FontFile3 OpenType", id="OpenType"),
    ],
)
def test_names_of_an_encoding_are_looked_up_in_the_program(program: Callable[[], bytes], key: str) -> None:
    def make(pdf: Pdf) -> Dictionary:
        encoding = _differences(1, "A", "O", "Aring")
        return made_fonts.simple(pdf, program(), key, subtype=Name.Type1, Encoding=encoding)

    assert (_missing(make, b"<010241>"), _missing(make, b"<03>"), _missing(make, b"(x)")) == (0, 1, 1)


def test_without_an_encoding_that_of_the_program_counts() -> None:
    program = made_fonts.type1(encoding={1: "A", 0o12: "O"})

    def make(pdf: Pdf) -> Dictionary:
        font = made_fonts.simple(pdf, program, "FontFile", subtype=Name.Type1, flags=4)
        del font.Encoding
        return font

    assert (_missing(make, b"<010A>"), _missing(make, b"(A)")) == (0, 1)


def test_differences_without_a_base_are_over_the_encoding_of_the_program() -> None:
    program = made_fonts.type1(encoding={1: "A"})

    def make(pdf: Pdf) -> Dictionary:
        return made_fonts.simple(
            pdf, program, "FontFile", subtype=Name.Type1, flags=4, Encoding=_differences(2, "O")
        )

    assert (_missing(make, b"<0102>"), _missing(make, b"(A)")) == (0, 1)


# Composite fonts (9.7.4)


def test_cids_of_a_truetype_font_are_glyphs_or_are_mapped_to_them() -> None:
    def identity(pdf: Pdf) -> Dictionary:
        return made_fonts.composite(pdf, made_fonts.truetype(), "FontFile2")

    def mapped(pdf: Pdf) -> Dictionary:
        return made_fonts.composite(pdf, made_fonts.truetype(), "FontFile2", cid_to_gid={7: 2, 8: 99})

    assert (_missing(identity, b"<00020003>"), _missing(identity, b"<00000005>")) == (0, 2)
    # A map that ends too early, and one that points past the last glyph.
    assert (_missing(mapped, b"<0007>"), _missing(mapped, b"<000200080009>")) == (0, 3)


def test_cids_of_a_cff_font_are_its_own_or_its_glyphs() -> None:
    def keyed(pdf: Pdf) -> Dictionary:
        program = made_fonts.cff_with_cids({"space": 1, "A": 500, "O": 501, "g": 9})
        return made_fonts.composite(
            pdf, program, "FontFile3 CIDFontType0C", subtype=Name.CIDFontType0, widths={500: 600, 501: 700}
        )

    def named(pdf: Pdf) -> Dictionary:
        return made_fonts.composite(
            pdf, made_fonts.cff(), "FontFile3 CIDFontType0C", subtype=Name.CIDFontType0
        )

    assert (_missing(keyed, b"<01F401F5>"), _missing(keyed, b"<0002>")) == (0, 1)
    assert (_missing(named, b"<00020003>"), _missing(named, b"<01F4>")) == (0, 1)


def test_a_space_of_a_composite_font_is_known_by_its_meaning() -> None:
    def make(pdf: Pdf) -> Dictionary:
        mapped = pdf.make_stream(b"1 beginbfchar <0000> <0020> endbfchar")
        return made_fonts.composite(pdf, made_fonts.truetype(), "FontFile2", ToUnicode=mapped)

    assert _missing(make, b"<000200000003>") == 0


def test_letters_that_paint_themselves_may_be_missing() -> None:
    assert _missing(made_fonts.type3, b"(A g)") == 0
    assert _missing(made_fonts.type3, b"(A x)") == 1


def test_of_a_font_that_is_not_embedded_nothing_is_missing() -> None:
    assert _missing(lambda _pdf: helvetica(), b"(gxyz)") == 0


# Widths


@pytest.mark.parametrize(
    ("width", "differs"), [(600, False), (610, False), (590, False), (611, True), (0, True)]
)
def test_widths_may_differ_by_a_hundredth_of_the_em(width: float, *, differs: bool) -> None:
    font = font_shown(truetype_font(widths={65: width, 79: 0}), b"(A)")
    assert (font.widths_differ, font.missing_glyphs) == (differs, 0)


def test_widths_of_each_kind_of_program_are_compared() -> None:
    def type1(pdf: Pdf) -> Dictionary:
        return made_fonts.simple(
            pdf, made_fonts.type1(), "FontFile", subtype=Name.Type1, widths={65: 600, 79: 720}
        )

    def keyed(pdf: Pdf) -> Dictionary:
        return made_fonts.composite(
            pdf, made_fonts.cff(), "FontFile3 CIDFontType0C", subtype=Name.CIDFontType0,
            widths={2: 600, 3: 720},
        )  # fmt: skip

    assert [font_shown(type1, shown).widths_differ for shown in (b"(A)", b"(O)")] == [False, True]
    assert [font_shown(keyed, shown).widths_differ for shown in (b"<0002>", b"<0003>")] == [False, True]


def test_a_missing_glyph_has_no_width_to_compare() -> None:
    assert not font_shown(truetype_font(widths={120: 900}), b"(x)").widths_differ


# Facts of the whole document


def test_what_glyphs_tell_is_gathered_over_pages() -> None:
    drawn = Drawn()
    drawn.resource("Font", "F", made_fonts.simple(drawn.pdf, made_fonts.truetype()))
    page = b"BT /F 10 Tf 50 60 Td (%s) Tj ET"
    first = drawn.read(page % b"x").fonts
    assert [font.missing_glyphs for font in first] == [1]
    again = drawn.read(page % b"xy BT" + b" /F 10 Tf (A) Tj").fonts
    assert [font.missing_glyphs for font in again] == [4]  # x, y, B and T
