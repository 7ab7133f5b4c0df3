# What the glyphs that come on paper tell of their font: missing ones, other widths, programs that break.

import shutil
import subprocess
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest
from pikepdf import Array, Dictionary, Name, Pdf
from PIL import Image

from hotfolder.model.document import Font
from hotfolder.pdf.fonts.programs.font_programs import OpenFont, open_font
from tests.pdf.drawn_page import Drawn, helvetica
from tests.pdf.fonts import made_fonts

Make = Callable[[Pdf], Dictionary]


def _font(make: Make, shown: bytes, before: bytes = b"") -> Font:
    """The facts of a font after text in it was shown on a page."""
    drawn = Drawn()
    drawn.resource("Font", "F", make(drawn.pdf))
    [font] = drawn.read(b"BT " + before + b" /F 10 Tf 50 60 Td " + shown + b" Tj ET").fonts
    return font


def _missing(make: Make, shown: bytes, before: bytes = b"") -> int:
    font = _font(make, shown, before)
    assert font.unread == ""
    return font.missing_glyphs


def _truetype(
    *,
    flags: int = 32,
    program: bytes | None = None,
    widths: Mapping[int, float] | None = None,
    encoding: object = Name.WinAnsiEncoding,
) -> Make:
    data = program or made_fonts.truetype()
    return lambda pdf: made_fonts.simple(pdf, data, flags=flags, widths=widths, Encoding=encoding)


def _differences(*parts: int | str, base: str | None = None) -> Dictionary:
    named = Array([Name(f"/{part}") if isinstance(part, str) else part for part in parts])
    found = Dictionary(Type=Name.Encoding, Differences=named)
    if base is not None:
        found.BaseEncoding = Name(f"/{base}")
    return found


# Simple fonts over TrueType programs (ISO 32000-2, 9.6.5.4)


def test_each_code_without_a_glyph_counts_once() -> None:
    assert _missing(_truetype(), b"(gAO)") == 0
    assert _missing(_truetype(), b"(gAxOyxx)") == 2


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
    assert _missing(_truetype(encoding=_differences(65, "unheardof")), b"(A)") == 1


def test_spaces_do_not_count() -> None:
    no_space = made_fonts.truetype({65: "A"})
    assert _missing(_truetype(program=no_space), b"( A A )") == 0
    # WinAnsiEncoding has a second space at 160.
    assert _missing(_truetype(program=no_space), b"<41A041>") == 0


@pytest.mark.parametrize("before", [b"3 Tr", b"1 0 0 1 500 0 cm"])
def test_codes_of_text_that_is_not_on_paper_do_not_count(before: bytes) -> None:
    assert _missing(_truetype(), b"(xyz)", before) == 0


@pytest.mark.parametrize("block", [0x0000, 0xF000, 0xF100, 0xF200])
def test_a_symbolic_font_goes_by_its_symbol_map(block: int) -> None:
    program = made_fonts.truetype({}, tables={(3, 0): {block + 33: "A", block + 34: "O"}})
    make = _truetype(program=program, flags=4)
    assert (_missing(make, b"<2122>"), _missing(make, b"(x)")) == (0, 1)


def test_a_symbolic_font_goes_by_its_mac_map() -> None:
    program = made_fonts.truetype({}, tables={(1, 0): {0x80: "A"}})
    make = _truetype(program=program, flags=4)
    assert (_missing(make, b"<80>"), _missing(make, b"<81>")) == (0, 1)


def test_a_nonsymbolic_font_goes_by_what_names_mean_in_unicode() -> None:
    program = made_fonts.truetype({0x20AC: "A", 0x160: "O"})
    # 0x80 is Euro in WinAnsiEncoding; Scaron comes from the differences.
    make = _truetype(program=program, encoding=_differences(1, "Scaron", base="WinAnsiEncoding"))
    assert (_missing(make, b"<8001>"), _missing(make, b"<02>")) == (0, 1)


def test_a_nonsymbolic_font_goes_by_what_names_mean_in_mac_roman() -> None:
    # Adieresis: 0xC4 in WinAnsiEncoding, 0x80 in MacRomanEncoding (annex D.2).
    program = made_fonts.truetype({}, tables={(1, 0): {0x80: "A"}})
    assert _missing(_truetype(program=program), b"<C4>") == 0


def test_a_name_that_means_nothing_is_looked_up_as_it_stands() -> None:
    program = made_fonts.truetype({0x41: "O"})
    make = _truetype(program=program, encoding=_differences(1, "A", "g", "nothing"))
    assert (_missing(make, b"<0102>"), _missing(make, b"<03>")) == (0, 1)


def test_a_font_without_any_map_has_its_glyphs_as_codes() -> None:
    make = _truetype(program=made_fonts.truetype({}), flags=4)
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
    font = _font(_truetype(widths={65: width, 79: 0}), b"(A)")
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

    assert [_font(type1, shown).widths_differ for shown in (b"(A)", b"(O)")] == [False, True]
    assert [_font(keyed, shown).widths_differ for shown in (b"<0002>", b"<0003>")] == [False, True]


def test_a_missing_glyph_has_no_width_to_compare() -> None:
    assert not _font(_truetype(widths={120: 900}), b"(x)").widths_differ


# Facts of the whole document


def test_what_glyphs_tell_is_gathered_over_pages() -> None:
    drawn = Drawn()
    drawn.resource("Font", "F", made_fonts.simple(drawn.pdf, made_fonts.truetype()))
    page = b"BT /F 10 Tf 50 60 Td (%s) Tj ET"
    first = drawn.read(page % b"x").fonts
    assert [font.missing_glyphs for font in first] == [1]
    again = drawn.read(page % b"xy BT" + b" /F 10 Tf (A) Tj").fonts
    assert [font.missing_glyphs for font in again] == [4]  # x, y, B and T


# Programs that cannot be read


def _over(program: bytes) -> Make:
    """A font that brings `program`, whatever it is."""

    def make(pdf: Pdf) -> Dictionary:
        font = made_fonts.simple(pdf, program)
        font.FontDescriptor.FontFile2.Length1 = 1
        return font

    return make


@pytest.mark.parametrize(
    "program",
    [pytest.param(b"wOFF" + b"\0" * 40, id="packed for the web")],
)
def test_a_program_that_cannot_be_read_here_is_told_and_is_not_called_damaged(program: bytes) -> None:
    drawn = Drawn()
    drawn.resource("Font", "F", _over(program)(drawn.pdf))
    found = drawn.read(b"BT /F 10 Tf 50 60 Td (Ax) Tj ET")
    [font], [mark] = found.fonts, found.marks
    assert (font.missing_glyphs, font.widths_differ, font.damaged) == (0, False, False)
    assert font.unread != ""
    assert mark.text is not None
    assert mark.text.ink is None


@pytest.mark.parametrize("program", [b"", b"no font at all", b"\0" * 100, b"\x01\x02\x03\x04" * 20])
def test_what_is_no_font_program_at_all_is_damaged(program: bytes) -> None:
    font = _font(_over(program), b"(A)")
    assert (font.damaged, font.unread, font.missing_glyphs) == (True, "", 0)


def test_a_program_whose_data_do_not_unpack_is_damaged() -> None:
    def make(pdf: Pdf) -> Dictionary:
        font = made_fonts.simple(pdf, made_fonts.truetype())
        font.FontDescriptor.FontFile2.write(b"nothing that inflates", filter=Name.FlateDecode)
        return font

    assert _font(make, b"(A)").damaged


@pytest.mark.parametrize(
    ("program", "key", "subtype"),
    [
        (made_fonts.truetype(), "FontFile2", Name.TrueType),
        (made_fonts.type1(), "FontFile", Name.Type1),
        (b"\n" * 20 + made_fonts.type1(), "FontFile", Name.Type1),
        (made_fonts.cff(), "FontFile3 Type1C", Name.Type1),
        (made_fonts.opentype(), "FontFile3 OpenType", Name.Type1),
    ],
)
def test_font_programs_are_known_by_how_they_begin(program: bytes, key: str, subtype: Name) -> None:
    font = _font(lambda pdf: made_fonts.simple(pdf, program, key, subtype=subtype), b"(A)")
    assert (font.damaged, font.unread) == (False, "")


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler's pdftoppm is missing")
@pytest.mark.parametrize("program", [b"no font at all", b"\0" * 100])
def test_poppler_puts_another_font_in_the_place_of_one_that_is_none(program: bytes, tmp_path: Path) -> None:
    drawn = Drawn()
    drawn.resource("Font", "F", _over(program)(drawn.pdf))
    drawn.read(b"BT /F 40 Tf 50 60 Td (A) Tj ET")
    path = tmp_path / "text.pdf"
    drawn.pdf.save(path)
    told = subprocess.run(
        ["pdftoppm", "-r", "72", "-gray", "-singlefile", path, tmp_path / "drawn"],
        check=True, capture_output=True, timeout=60,
    )  # fmt: skip
    assert b"Embedded font file may be invalid" in told.stderr
    with Image.open(tmp_path / "drawn.pgm") as picture:
        assert sum(picture.histogram()[:128]) > 100  # it draws a letter all the same


def test_a_glyph_that_is_part_of_itself_is_told() -> None:
    font = _font(_truetype(program=made_fonts.truetype_in_circles()), b"(A)")
    assert "intricate" in font.unread


@pytest.mark.parametrize(
    ("module", "limit"), [("font_programs", "FONT_PROGRAM_WORK"), ("font_programs", "FONT_PROGRAM_BYTES"),
                          ("truetype_outlines", "GLYPH_WORK")],
)  # fmt: skip
def test_what_lies_beyond_a_limit_is_told(module: str, limit: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(f"hotfolder.pdf.fonts.programs.{module}.{limit}", 10)
    drawn = Drawn()
    drawn.resource("Font", "F", made_fonts.simple(drawn.pdf, made_fonts.truetype()))
    found = drawn.read(b"BT /F 10 Tf 50 60 Td (AO) Tj ET")
    assert "intricate" in found.fonts[0].unread
    assert found.marks[0].text is not None
    assert found.marks[0].text.ink is None


def test_instructions_of_a_glyph_are_limited(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("hotfolder.pdf.fonts.programs.charstrings.GLYPH_WORK", 10)

    def make(pdf: Pdf) -> Dictionary:
        return made_fonts.simple(pdf, made_fonts.cff(), "FontFile3 Type1C", subtype=Name.Type1)

    assert "intricate" in _font(make, b"(O)").unread


def test_a_font_is_opened_only_for_text_on_paper(monkeypatch: pytest.MonkeyPatch) -> None:
    opened = []

    def note(*fonts: object) -> OpenFont:
        opened.append(fonts)
        return open_font(*fonts)

    monkeypatch.setattr("hotfolder.pdf.fonts.fonts.open_font", note)
    hidden = _font(_truetype(), b"(xyz)", b"3 Tr")
    assert (hidden.missing_glyphs, hidden.printed, opened) == (0, False, [])
    assert _font(_truetype(), b"(xyz)").missing_glyphs == 3
    assert len(opened) == 1


# Programs that begin well and are damaged behind that


def _with_table(program: bytes, tag: bytes, content: bytes) -> bytes:
    """`program` with the first bytes of one of its tables in another state."""
    for at in range(12, 12 + 16 * program[5], 16):
        if program[at : at + 4] == tag:
            place = int.from_bytes(program[at + 8 : at + 12])
            return program[:place] + content + program[place + len(content) :]
    message = f"there is no table {tag!r}"
    raise AssertionError(message)


def _without_table(program: bytes, tag: bytes) -> bytes:
    """`program` with a table that its directory calls by a name that nobody asks for."""
    return (
        program[:12]
        + program[12 : 12 + 16 * program[5]].replace(tag, b"none")
        + program[12 + 16 * program[5] :]
    )


_SOUND = made_fonts.truetype()
_GARBAGE = bytes(73 * number % 251 for number in range(400))
DAMAGED = [
    pytest.param(_SOUND[:200], id="cut off among its tables"),
    pytest.param(_SOUND[: len(_SOUND) // 2], id="cut off in the middle"),
    pytest.param(_SOUND[:300] + b"\xa7" * (len(_SOUND) - 300), id="garbage behind a valid start"),
    pytest.param(_SOUND[: len(_SOUND) // 3].ljust(len(_SOUND), b"\0"), id="nothing behind a valid start"),
    pytest.param(_with_table(_SOUND, b"loca", b"\xff" * 16), id="glyphs said to be where none are"),
    pytest.param(_with_table(_SOUND, b"loca", b"\0" * 64), id="glyphs said to be nowhere"),
    pytest.param(_with_table(_SOUND, b"glyf", b"\x7f" * 900), id="glyphs that make no sense"),
    pytest.param(_with_table(_SOUND, b"head", b"\0" * 54), id="a head of nothing"),
    pytest.param(_without_table(_SOUND, b"glyf"), id="no glyphs"),
    pytest.param(_without_table(_SOUND, b"loca"), id="no places of glyphs"),
    pytest.param(_without_table(_SOUND, b"maxp"), id="no count of glyphs"),
    pytest.param(b"%!PS-AdobeFont-1.0\n/FontMatrix [1 0 0 1 0 0]", id="Type 1 without glyphs"),
    pytest.param(made_fonts.type1()[: len(made_fonts.type1()) * 3 // 5], id="Type 1 cut off"),
    pytest.param(b"\x01\x00\x04\x01" + b"\0" * 40, id="CFF of nothing"),
    pytest.param(made_fonts.cff()[: len(made_fonts.cff()) * 4 // 5], id="CFF cut off"),
    pytest.param(made_fonts.cff()[:60] + _GARBAGE, id="CFF of garbage behind a valid start"),
]


@pytest.mark.parametrize("program", DAMAGED)
def test_a_program_that_is_damaged_behind_its_start_is_damaged(program: bytes) -> None:
    """FreeType refuses each of them, or draws no letter, or another one, of it."""
    font = _font(_over(program), b"(AO)")
    assert (font.damaged, font.unread) == (True, "")


SOUND = [
    pytest.param(_SOUND, id="whole"),
    pytest.param(_SOUND + b"\0" * 7, id="padded"),
    pytest.param(_without_table(_SOUND, b"post"), id="without names of glyphs"),
    pytest.param(_without_table(_SOUND, b"OS/2"), id="without what systems ask for"),
    pytest.param(
        b"".join(
            (
                _SOUND[:12],
                *(
                    _SOUND[at : at + 4] + b"\0\0\0\0" + _SOUND[at + 8 : at + 16]
                    for at in range(12, 12 + 16 * _SOUND[5], 16)
                ),
                _SOUND[12 + 16 * _SOUND[5] :],
            )
        ),
        id="without checksums",
    ),
    pytest.param(made_fonts.type1(), id="Type 1"),
    pytest.param(made_fonts.type1() + b"0" * 512 + b"\ncleartomark\n", id="Type 1 with its trailer"),
    pytest.param(made_fonts.cff(), id="CFF"),
    pytest.param(made_fonts.cff() + b"\0" * 3, id="CFF, padded"),
]


@pytest.mark.parametrize("program", SOUND)
def test_what_a_pdf_may_leave_out_of_a_program_is_no_damage(program: bytes) -> None:
    """Length1 is wrong in each of them, which no reader minds."""
    font = _font(_over(program), b"(A O)")
    assert (font.damaged, font.unread) == (False, "")
