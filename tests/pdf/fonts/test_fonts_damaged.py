# Font programs that cannot be read, or are damaged behind a sound start.
import shutil
import subprocess
from pathlib import Path

import pytest
from pikepdf import Dictionary, Name, Pdf
from PIL import Image

from hotfolder.pdf.fonts.programs.font_programs import OpenFont, open_font
from tests.pdf.drawn_page import Drawn
from tests.pdf.fonts import made_fonts
from tests.pdf.fonts.fonts_read import Make, font_shown, truetype_font

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
    page = drawn.read(b"BT /F 10 Tf 50 60 Td (Ax) Tj ET")
    [font], [mark] = page.fonts, page.marks
    assert (font.missing_glyphs, font.widths_differ, font.damaged) == (0, False, False)
    assert font.unread != ""
    assert mark.text is not None
    assert mark.text.ink is None


@pytest.mark.parametrize("program", [b"", b"no font at all", b"\0" * 100, b"\x01\x02\x03\x04" * 20])
def test_what_is_no_font_program_at_all_is_damaged(program: bytes) -> None:
    font = font_shown(_over(program), b"(A)")
    assert (font.damaged, font.unread, font.missing_glyphs) == (True, "", 0)


def test_a_program_whose_data_do_not_unpack_is_damaged() -> None:
    def make(pdf: Pdf) -> Dictionary:
        font = made_fonts.simple(pdf, made_fonts.truetype())
        font.FontDescriptor.FontFile2.write(b"nothing that inflates", filter=Name.FlateDecode)
        return font

    assert font_shown(make, b"(A)").damaged


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
    font = font_shown(lambda pdf: made_fonts.simple(pdf, program, key, subtype=subtype), b"(A)")
    assert (font.damaged, font.unread) == (False, "")


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler's pdftoppm is missing")
@pytest.mark.parametrize("program", [b"no font at all", b"\0" * 100])
def test_poppler_puts_another_font_in_the_place_of_one_that_is_none(program: bytes, tmp_path: Path) -> None:
    drawn = Drawn()
    drawn.resource("Font", "F", _over(program)(drawn.pdf))
    drawn.read(b"BT /F 40 Tf 50 60 Td (A) Tj ET")
    path = tmp_path / "text.pdf"
    drawn.pdf.save(path)
    result = subprocess.run(
        ["pdftoppm", "-r", "72", "-gray", "-singlefile", path, tmp_path / "drawn"],
        check=True, capture_output=True, timeout=60,
    )  # fmt: skip
    assert b"Embedded font file may be invalid" in result.stderr
    with Image.open(tmp_path / "drawn.pgm") as picture:
        assert sum(picture.histogram()[:128]) > 100  # it draws a letter all the same


def test_a_glyph_that_is_part_of_itself_is_told() -> None:
    font = font_shown(truetype_font(program=made_fonts.truetype_in_circles()), b"(A)")
    assert "intricate" in font.unread


@pytest.mark.parametrize(
    ("module", "limit"), [("font_programs", "FONT_PROGRAM_WORK"), ("font_programs", "FONT_PROGRAM_BYTES"),
                          ("truetype_outlines", "GLYPH_WORK")],
)  # fmt: skip
def test_what_lies_beyond_a_limit_is_told(module: str, limit: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(f"hotfolder.pdf.fonts.programs.{module}.{limit}", 10)
    drawn = Drawn()
    drawn.resource("Font", "F", made_fonts.simple(drawn.pdf, made_fonts.truetype()))
    page = drawn.read(b"BT /F 10 Tf 50 60 Td (AO) Tj ET")
    assert "intricate" in page.fonts[0].unread
    assert page.marks[0].text is not None
    assert page.marks[0].text.ink is None


def test_instructions_of_a_glyph_are_limited(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("hotfolder.pdf.fonts.programs.charstrings.GLYPH_WORK", 10)

    def make(pdf: Pdf) -> Dictionary:
        return made_fonts.simple(pdf, made_fonts.cff(), "FontFile3 Type1C", subtype=Name.Type1)

    assert "intricate" in font_shown(make, b"(O)").unread


def test_a_font_is_opened_only_for_text_on_paper(monkeypatch: pytest.MonkeyPatch) -> None:
    opened = []

    def note(*fonts: object) -> OpenFont:
        opened.append(fonts)
        return open_font(*fonts)

    monkeypatch.setattr("hotfolder.pdf.fonts.fonts.open_font", note)
    hidden = font_shown(truetype_font(), b"(xyz)", b"3 Tr")
    assert (hidden.missing_glyphs, hidden.printed, opened) == (0, False, [])
    assert font_shown(truetype_font(), b"(xyz)").missing_glyphs == 3
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
    font = font_shown(_over(program), b"(AO)")
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
    font = font_shown(_over(program), b"(A O)")
    assert (font.damaged, font.unread) == (False, "")
