# What a run of text says: by the PDF, or by the encoding of the font's program where the PDF leaves it open.

import re
import shutil
import subprocess
from collections.abc import Mapping
from pathlib import Path

import pytest
from pikepdf import Array, Dictionary, Name

from tests.pdf.drawn_page import Drawn, only
from tests.pdf.fonts import made_fonts

# Codes of the program's own, at which every Latin encoding has another letter or none.
_OWN: Mapping[int, str] = {1: "g", 65: "O", 66: "A"}
_SHOWN = b"<014241>"

# Each has a program in which the codes 1, B and A show the letters g, A and O.
PROGRAMS: Mapping[str, tuple[bytes, str, Name]] = {
    "Type 1": (made_fonts.type1(encoding=_OWN), "FontFile", Name.Type1),
    "CFF": (made_fonts.cff(_OWN), "FontFile3 Type1C", Name.Type1),
    "TrueType, symbol map": (
        made_fonts.truetype({}, tables={(3, 0): {0xF000 + code: name for code, name in _OWN.items()}}),
        "FontFile2",
        Name.TrueType,
    ),
    "TrueType, Macintosh map": (
        made_fonts.truetype({}, tables={(1, 0): _OWN}), "FontFile2", Name.TrueType,
    ),
    "TrueType, symbol and Unicode maps": (
        made_fonts.truetype(tables={(3, 0): {0xF000 + code: name for code, name in _OWN.items()}}),
        "FontFile2",
        Name.TrueType,
    ),
}  # fmt: skip


def _drawn(kind: str, **entries: object) -> Drawn:
    """A page that shows three letters in a font without an encoding, or with what `entries` give it."""
    drawn = Drawn()
    program, key, subtype = PROGRAMS[kind]
    font = made_fonts.simple(drawn.pdf, program, key, subtype=subtype, flags=4)
    font.Widths = Array([500] * 256)
    del font.Encoding
    for entry, value in entries.items():
        font[f"/{entry}"] = value
    drawn.resource("Font", "F", font)
    drawn.page.obj.Contents = drawn.pdf.make_stream(b"BT /F 10 Tf 50 60 Td " + _SHOWN + b" Tj ET")
    return drawn


def _words(drawn: Drawn) -> str:
    text = only(drawn.read_as_is()).text
    assert text is not None
    return text.words


@pytest.mark.parametrize("kind", PROGRAMS)
def test_codes_without_an_encoding_mean_what_the_program_says(kind: str) -> None:
    """Source: ISO 32000-2, 9.6.5: the implicit base encoding is the font program's own."""
    assert _words(_drawn(kind)) == "gAO"


@pytest.mark.parametrize("kind", PROGRAMS)
def test_differences_go_before_the_programs_encoding(kind: str) -> None:
    encoding = Dictionary(Differences=Array([66, Name.germandbls]))
    assert _words(_drawn(kind, Encoding=encoding)) == "gßO"


def test_an_encoding_with_a_name_goes_before_the_programs() -> None:
    assert _words(_drawn("Type 1", Encoding=Name.WinAnsiEncoding)) == "BA"
    based = Dictionary(BaseEncoding=Name.WinAnsiEncoding, Differences=Array([65, Name.germandbls]))
    assert _words(_drawn("Type 1", Encoding=based)) == "Bß"


def test_a_map_to_unicode_goes_before_the_programs_encoding() -> None:
    drawn = _drawn("CFF")
    font = drawn.page.obj.Resources.Font.F
    font.ToUnicode = drawn.pdf.make_stream(b"1 beginbfchar <42> <20AC> endbfchar")
    assert _words(drawn) == "g€O"


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler's pdftotext is missing")
@pytest.mark.parametrize("kind", ["Type 1", "CFF"])
def test_pdftotext_reads_the_same(kind: str, tmp_path: Path) -> None:
    """It takes the encodings of Type 1 and CFF programs, and does not look into those of TrueType."""
    drawn = _drawn(kind)
    drawn.pdf.save(tmp_path / "text.pdf")
    assert _by_pdftotext(tmp_path / "text.pdf") == _words(drawn)


def _by_pdftotext(path: Path) -> str:
    done = subprocess.run(
        ["pdftotext", "-raw", "-enc", "UTF-8", path, "-"], check=True, capture_output=True, timeout=60
    )
    return re.sub(r"\s+", "", done.stdout.decode())


def test_a_program_that_cannot_be_read_leaves_codes_without_meaning() -> None:
    drawn = Drawn()
    for flags, words in ((4, ""), (32, "A")):  # a font of Latin letters is taken at its word
        font = made_fonts.simple(drawn.pdf, made_fonts.truetype()[:200], flags=flags)
        del font.Encoding
        drawn.resource("Font", "F", font)
        drawn.page.obj.Contents = drawn.pdf.make_stream(b"BT /F 10 Tf 50 60 Td (A) Tj ET")
        assert _words(drawn) == words


def test_names_left_over_in_a_font_that_was_cut_down_mean_nothing() -> None:
    """A post table of the first format names 258 glyphs (OpenType specification); the font has five."""
    cut = bytearray(made_fonts.truetype({}, tables={(1, 0): {65: "A"}}))
    at = cut.index(b"post")
    offset = int.from_bytes(cut[at + 8 : at + 12])
    cut[offset : offset + 4] = b"\0\1\0\0"
    drawn = Drawn()
    font = made_fonts.simple(drawn.pdf, bytes(cut), flags=4)
    del font.Encoding
    drawn.resource("Font", "F", font)
    drawn.page.obj.Contents = drawn.pdf.make_stream(b"BT /F 10 Tf 50 60 Td (A) Tj ET")
    assert _words(drawn) == ""
