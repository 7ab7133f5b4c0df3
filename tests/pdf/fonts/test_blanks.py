# Codes that show nothing, by a font's encoding or by its map to Unicode.

import time

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.pdf.fonts.blanks import blank_codes
from hotfolder.pdf.fonts.unicode_text import named_texts, read_unicode_map


@pytest.mark.parametrize(
    ("font", "codes"),
    [
        (Dictionary(Subtype=Name.Type1, Encoding=Name.WinAnsiEncoding), {32, 160}),
        (Dictionary(Subtype=Name.Type1, Encoding=Name.MacRomanEncoding), {32, 202}),
        (Dictionary(Subtype=Name.Type1), {32}),
        (Dictionary(Subtype=Name.TrueType, FontDescriptor=Dictionary(Flags=4)), set()),
        (
            Dictionary(Subtype=Name.Type1, Encoding=Dictionary(Differences=Array([5, Name.space, Name.a]))),
            {5, 32},
        ),
        (Dictionary(Subtype=Name.Type1, Encoding=Dictionary(Differences=Array([32, Name.integral]))), set()),
        (Dictionary(Subtype=Name.Type0), set()),
        (None, {32}),
    ],
)
def test_the_encoding_tells(font: Dictionary | None, codes: set[int]) -> None:
    assert blank_codes(font, {}) == codes


@pytest.mark.parametrize(
    ("unicode_map", "codes"),
    [
        (b"2 beginbfchar <0003> <0020> <0004> <0041> endbfchar", {3}),
        (b"1 beginbfchar\n<0003>\n<00A0>\nendbfchar", {3}),
        (b"1 beginbfrange <0003> <0006> <001E> endbfrange", {5}),
        (b"1 beginbfrange <0003> <0005> [<0041> <0020> <3000>] endbfrange", {4, 5}),
        (b"1 beginbfrange <0003> <0005> [<0041>] <0007> <0007> <0020> endbfrange", {7}),
        (b"1 beginbfchar <03> <0020> <04> endbfchar <05> <0020>", {3}),
        (b"1 beginbfchar <0003> <00200041> endbfchar", set()),
        (b"beginbfrange <> <> <> <0> [ ] ] endbfchar <zz", set()),
    ],
)
def test_the_map_to_unicode_tells(unicode_map: bytes, codes: set[int]) -> None:
    pdf = pikepdf.new()
    font = Dictionary(Subtype=Name.Type0, ToUnicode=pdf.make_stream(unicode_map))
    assert blank_codes(font, read_unicode_map(font)) == codes


@pytest.mark.parametrize(
    ("unicode_map", "texts"),
    [
        (b"1 beginbfchar <0003> <0041> endbfchar", {3: "A"}),
        # More than one character, and one beyond the first 65 536.
        (b"2 beginbfchar <03> <00660066> <04> <D83DDE00> endbfchar", {3: "ff", 4: "\U0001f600"}),
        # The last character of a range goes up; so it does where producers let it run over a byte's end.
        (b"1 beginbfrange <00FE> <0101> <01FE> endbfrange", {254: "Ǿ", 255: "ǿ", 256: "Ȁ", 257: "ȁ"}),
        (b"1 beginbfrange <01> <02> [<0041> <00420043>] endbfrange", {1: "A", 2: "BC"}),
        # What cannot be shown is left out; a code for it is kept.
        (b"1 beginbfchar <03> <0041000700E4> endbfchar", {3: "Aä"}),
        (b"1 beginbfchar <03> <D83D> endbfchar", {3: ""}),
        (b"no map at all", {}),
    ],
)
def test_a_map_to_unicode_is_read(unicode_map: bytes, texts: dict[int, str]) -> None:
    pdf = pikepdf.new()
    assert read_unicode_map(Dictionary(ToUnicode=pdf.make_stream(unicode_map))) == texts


def test_a_map_to_unicode_has_an_end() -> None:
    pdf = pikepdf.new()
    endless = b"1 beginbfrange <00000000> <FFFFFFFF> <0041> endbfrange"
    assert len(read_unicode_map(Dictionary(ToUnicode=pdf.make_stream(endless)))) == 65_536


def test_names_of_glyphs_mean_characters() -> None:
    """Source: Adobe Glyph List Specification (names, uniXXXX, uXXXXX, and suffixes after a full stop)."""
    names = {1: "A", 2: "Euro", 3: "uni20AC", 4: "u1F600", 5: "a.sc", 6: "f_i", 7: "g12", 8: ".notdef"}
    assert named_texts(names) == {1: "A", 2: "€", 3: "€", 4: "\U0001f600", 5: "a", 6: "fi"}


def test_a_map_to_unicode_that_says_the_same_over_and_over_comes_to_an_end() -> None:
    pdf = pikepdf.new()
    ranges = b"1 beginbfrange " + b"<0000> <fffe> <0000> " * 5000 + b" <ffff> <ffff> <0041> endbfrange"
    began = time.process_time()
    texts = read_unicode_map(Dictionary(ToUnicode=pdf.make_stream(ranges)))
    assert texts[0x41] == "A"
    assert time.process_time() - began < 10
