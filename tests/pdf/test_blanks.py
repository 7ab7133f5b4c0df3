# Codes that show nothing, by a font's encoding or by its map to Unicode.

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.pdf.blanks import blank_codes


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
    assert blank_codes(font) == codes


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
    assert blank_codes(font) == codes
