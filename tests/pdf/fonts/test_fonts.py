# Fonts: facts, widths, codes and extents.

import math
import re
import shutil
import subprocess
from pathlib import Path

import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotfolder.pdf.fonts.core_fonts import CORE_FONTS
from hotfolder.pdf.fonts.encodings import MAC_ROMAN, STANDARD, WIN_ANSI
from hotfolder.pdf.fonts.fonts import FontMetrics, FontReader, Glyph
from tests.pdf.raw_pdf import deflated, open_raw, page, stream, write_raw

DESCRIPTOR = "<< /Type /FontDescriptor /FontName /Sample {} >>"


def read(font: str, others: dict[int, str | bytes] | None = None) -> FontMetrics:
    """The metrics of object 10, a font dictionary."""
    objects: dict[int, str | bytes] = {10: f"<< /Type /Font {font} >>"}
    objects |= others or {}
    with open_raw(objects) as pdf:
        return FontReader().read(pdf.get_object(10, 0))


def widths(metrics: FontMetrics, data: bytes) -> list[float]:
    """The width of each glyph that `data` shows, in 1/1000 em."""
    return [round(1000 * glyph.width_em, 3) for glyph in metrics.decode(data)]


def composite(
    encoding: str, descendant: str = "", others: dict[int, str | bytes] | None = None
) -> FontMetrics:
    """A composite font over a CIDFontType2."""
    cid_font = f"<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Sample {descendant} >>"
    objects: dict[int, str | bytes] = {11: cid_font}
    return read(
        f"/Subtype /Type0 /BaseFont /Sample /Encoding {encoding} /DescendantFonts [11 0 R]",
        objects | (others or {}),
    )


# Facts


@pytest.mark.parametrize(
    ("entry", "subtype", "program"),
    [
        ("/FontFile 13 0 R", "", "FontFile"),
        ("/FontFile2 13 0 R", "", "FontFile2"),
        ("/FontFile3 13 0 R", "/Subtype /Type1C", "Type1C"),
        ("/FontFile3 13 0 R", "/Subtype /OpenType", "OpenType"),
        ("/FontFile3 13 0 R", "", "FontFile3"),
        ("/FontFile2 99 0 R", "", None),
        ("/FontFile2 null", "", None),
        ("/FontFile2 (no stream)", "", None),
        ("", "", None),
    ],
)
def test_a_font_is_embedded_where_its_program_is_in_the_file(
    entry: str, subtype: str, program: str | None
) -> None:
    objects: dict[int, str | bytes] = {12: DESCRIPTOR.format(entry), 13: stream(b"program", subtype)}
    facts = read("/Subtype /TrueType /BaseFont /Sample /FontDescriptor 12 0 R", objects).facts
    assert (facts.program, facts.embedded) == (program, program is not None)


def test_an_empty_program_is_none() -> None:
    objects: dict[int, str | bytes] = {12: DESCRIPTOR.format("/FontFile2 13 0 R"), 13: stream(b"")}
    assert not read("/Subtype /TrueType /BaseFont /Sample /FontDescriptor 12 0 R", objects).facts.embedded


@pytest.mark.parametrize(
    ("name", "subset"),
    [("ABCDEF+Sample", True), ("ABCDE+Sample", False), ("abcdef+Sample", False), ("Sample", False),
     ("ABCDEFG+Sample", False), ("ABCDE1+Sample", False)],
)  # fmt: skip
def test_a_subset_has_six_capitals_and_a_plus(name: str, *, subset: bool) -> None:
    facts = read(f"/Subtype /Type1 /BaseFont /{name}").facts
    assert (facts.name, facts.subset, facts.type, facts.object) == (name, subset, "Type1", "10 0")


def test_a_composite_font_has_the_type_and_program_of_its_descendant() -> None:
    objects: dict[int, str | bytes] = {12: DESCRIPTOR.format("/FontFile2 13 0 R"), 13: stream(b"program")}
    facts = composite("/Identity-H", "/FontDescriptor 12 0 R", objects).facts
    assert (facts.type, facts.program, facts.name) == ("CIDFontType2", "FontFile2", "Sample")


def test_a_name_is_looked_for_where_producers_put_it() -> None:
    objects: dict[int, str | bytes] = {12: DESCRIPTOR.format("")}
    assert read("/Subtype /TrueType /FontDescriptor 12 0 R", objects).facts.name == "Sample"
    assert read("/Subtype /TrueType /BaseFont (Two Words)").facts.name == "Two Words"
    assert read("/Subtype /TrueType /BaseFont /Two#20Words").facts.name == "Two Words"
    assert read("/Subtype /TrueType").facts.name == "unnamed"


# Simple fonts


def test_widths_of_a_simple_font_begin_at_its_first_character() -> None:
    objects: dict[int, str | bytes] = {12: DESCRIPTOR.format("/MissingWidth 250")}
    metrics = read(
        "/Subtype /TrueType /BaseFont /Sample /FirstChar 65 /LastChar 67 /Widths [600 700.5 (x)] "
        "/FontDescriptor 12 0 R",
        objects,
    )
    assert widths(metrics, b"AABCZ\x00") == [600, 600, 700.5, 250, 250, 250]


def test_a_font_that_gives_no_widths_is_guessed_at() -> None:
    """Widths are required but for the standard fonts (ISO 32000-2, table 109)."""
    assert widths(read("/Subtype /TrueType /BaseFont /Sample"), b"AB") == [500, 500]


def test_word_spacing_applies_to_the_single_byte_32() -> None:
    simple = read("/Subtype /Type1 /BaseFont /Helvetica")
    assert [glyph.is_word_space for glyph in simple.decode(b"a b")] == [False, True, False]
    two_bytes = composite("/Identity-H")
    assert [glyph.is_word_space for glyph in two_bytes.decode(b"\x00 \x20\x20")] == [False, False]


# Figures as published in the AFM files of the core 14 fonts; each pair is a code in
# StandardEncoding and its width there.
@pytest.mark.parametrize(
    ("name", "data", "expected"),
    [
        ("Helvetica", b"Ai W", [667, 222, 278, 944]),
        ("Helvetica-BoldOblique", b"Ai W", [722, 278, 278, 944]),
        ("Times-Roman", b"Ai W", [722, 278, 250, 944]),
        ("Times-BoldItalic", b"Ai W", [667, 278, 250, 889]),
        ("Courier-Bold", b"Ai W", [600, 600, 600, 600]),
        ("Symbol", b"a\xa5", [631, 713]),
        ("ZapfDingbats", b"!l", [974, 791]),
        ("Arial,Bold", b"Ai W", [722, 278, 278, 944]),
        ("TimesNewRomanPS-ItalicMT", b"Ai W", [611, 278, 250, 833]),
        ("CourierNew", b"Ai", [600, 600]),
    ],
)
def test_standard_fonts_have_widths_without_giving_any(name: str, data: bytes, expected: list[float]) -> None:
    assert widths(read(f"/Subtype /Type1 /BaseFont /{name}"), data) == expected


def test_given_widths_win_over_those_of_a_standard_font() -> None:
    metrics = read("/Subtype /Type1 /BaseFont /Helvetica /FirstChar 65 /Widths [123]")
    assert widths(metrics, b"AB") == [123, 0]


def test_the_encoding_chooses_the_glyph_of_a_standard_font() -> None:
    # 0xC4: Adieresis in WinAnsi (667), circumflex's cousin tilde in Standard (333), florin in MacRoman (556).
    assert widths(read("/Subtype /Type1 /BaseFont /Helvetica /Encoding /WinAnsiEncoding"), b"\xc4") == [667]
    assert widths(read("/Subtype /Type1 /BaseFont /Helvetica"), b"\xc4") == [333]
    assert widths(read("/Subtype /Type1 /BaseFont /Helvetica /Encoding /MacRomanEncoding"), b"\xc4") == [556]
    differences = "<< /BaseEncoding /WinAnsiEncoding /Differences [65 /W /i (junk) 300 /A 196 /space] >>"
    metrics = read(f"/Subtype /Type1 /BaseFont /Helvetica /Encoding {differences}")
    assert widths(metrics, b"ABC\xc4") == [944, 222, 722, 278]


def test_encodings_hold_what_annex_d_lists() -> None:
    """Source: ISO 32000-2, annex D.2 (Latin character set and encodings), a sample of its rows."""
    rows = {  # name: standard, MacRoman, WinAnsi
        "A": (0o101, 0o101, 0o101),
        "Euro": (None, None, 0o200),
        "bullet": (0o267, 0o245, 0o225),
        "fi": (0o256, 0o336, None),
        "quotesingle": (0o251, 0o047, 0o047),
        "grave": (0o301, 0o140, 0o140),
        "twosuperior": (None, None, 0o262),
        "ydieresis": (None, 0o330, 0o377),
    }
    for glyph, codes in rows.items():
        for code, encoding in zip(codes, (STANDARD, MAC_ROMAN, WIN_ANSI), strict=True):
            if code is not None:
                assert encoding[code] == glyph
            else:
                assert glyph not in encoding.values()


def test_every_glyph_of_a_latin_encoding_has_a_width_in_the_standard_fonts() -> None:
    helvetica = CORE_FONTS["Helvetica"].widths
    printable = [code for code in range(0x20, 0x100) if code != 0x7F]
    for encoding in (STANDARD, WIN_ANSI):
        assert [code for code in printable if code in encoding and encoding[code] not in helvetica] == []


# Composite fonts


def test_widths_by_cid() -> None:
    metrics = composite("/Identity-H", "/DW 500 /W [1 [100 200] 10 12 300 20 [400]]")
    data = b"".join(cid.to_bytes(2, "big") for cid in (0, 1, 2, 3, 9, 10, 12, 13, 20))
    assert widths(metrics, data) == [500, 100, 200, 500, 500, 300, 300, 500, 400]


def test_default_width_is_a_full_em() -> None:
    assert widths(composite("/Identity-H"), b"\x00\x05") == [1000]


def test_vertical_text_moves_down_by_its_own_figures() -> None:
    metrics = composite(
        "/Identity-V", "/DW 1000 /DW2 [800 -900] /W [3 [600]] /W2 [7 [-500 250 700] 8 9 -400 1 2]"
    )
    assert metrics.vertical
    shown = metrics.decode(b"\x00\x03\x00\x07\x00\x09")
    assert [(glyph.advance_em, glyph.origin_em) for glyph in shown] == [
        (-0.9, (0.3, 0.8)), (-0.5, (0.25, 0.7)), (-0.4, (0.001, 0.002)),
    ]  # fmt: skip


def test_vertical_defaults_are_the_standards() -> None:
    """Source: ISO 32000-2, 9.7.4.3: DW2 is [880 -1000], the origin lies above the middle of the glyph."""
    (glyph,) = composite("/Identity-V").decode(b"\x00\x01")
    assert (glyph.advance_em, glyph.origin_em) == (-1.0, (0.5, 0.88))
    assert not composite("/Identity-H").vertical


CMAP = b"""/CIDInit /ProcSet findresource begin
1 begincodespacerange <00> <7f> endcodespacerange % one byte
1 begincodespacerange <8140> <9ffc> endcodespacerange
2 begincidrange <20> <7e> 100 <8140> <8150> 500 endcidrange
1 begincidchar <8160> 7 endcidchar
1 beginnotdefrange <00> <1f> 1 endnotdefrange
end"""


def test_an_embedded_cmap_cuts_and_maps() -> None:
    metrics = composite("12 0 R", "/W [100 [110 120] 500 500 130 7 [140] 0 [150]]", {12: deflated(CMAP)})
    data = b"\x20\x21\x81\x40\x81\x60\x81\x70"
    assert [glyph.code for glyph in metrics.decode(data)] == [0x20, 0x21, 0x8140, 0x8160, 0x8170]
    assert widths(metrics, data) == [110, 120, 130, 140, 150]
    assert metrics.decode(b" ")[0].is_word_space


def test_an_embedded_cmap_may_build_on_another_and_be_vertical() -> None:
    child = stream(b"1 begincidchar <21> 9 endcidchar", "/UseCMap 12 0 R /WMode 1")
    metrics = composite("13 0 R", "/W [9 [900] 100 [110]]", {12: deflated(CMAP), 13: child})
    assert metrics.vertical
    assert widths(metrics, b"\x21") == [900]
    on_identity = stream(b"", "/UseCMap /Identity-H")
    assert widths(composite("13 0 R", "/W [5 [55]]", {13: on_identity}), b"\x00\x05") == [55]


def test_cmaps_that_build_on_each_other_in_a_circle_end() -> None:
    circle = {12: stream(CMAP, "/UseCMap 13 0 R"), 13: stream(CMAP, "/UseCMap 12 0 R")}
    assert len(composite("12 0 R", others=dict(circle)).decode(b"\x20\x81\x40")) == 2


@pytest.mark.parametrize(
    ("cmap", "data", "codes"),
    [
        ("UniJIS-UCS2-H", "A\u3042", [0x41, 0x3042]),
        ("UniGB-UTF16-H", "A\U00020000", [0x41, 0xD840DC00]),
        ("90ms-RKSJ-H", "A\u3042\uff71", [0x41, 0x82A0, 0xB1]),
        ("GBK-EUC-H", "A\u4e2d", [0x41, 0xD6D0]),
        ("ETen-B5-H", "A\u4e2d", [0x41, 0xA4A4]),
        ("KSCms-UHC-V", "A\ud55c", [0x41, 0xC7D1]),
        ("GBK2K-H", "A\u4e2d\u0080", [0x41, 0xD6D0, 0x81308130]),
    ],
)
def test_predefined_cmaps_cut_text_as_their_encoding_does(cmap: str, data: str, codes: list[int]) -> None:
    """Reference: Python's codecs of the encodings that table 116 of ISO 32000-2 names for these CMaps."""
    codecs = {
        "UniJIS-UCS2-H": "utf-16-be", "UniGB-UTF16-H": "utf-16-be", "90ms-RKSJ-H": "cp932",
        "GBK-EUC-H": "gbk", "ETen-B5-H": "big5", "KSCms-UHC-V": "cp949", "GBK2K-H": "gb18030",
    }  # fmt: skip
    metrics = composite(f"/{cmap}")
    assert [glyph.code for glyph in metrics.decode(data.encode(codecs[cmap]))] == codes
    assert metrics.vertical is cmap.endswith("V")


def test_latin_letters_of_a_predefined_cmap_are_proportional_or_half_width() -> None:
    assert widths(composite("/90ms-RKSJ-H", "/W [34 [700]]"), b"AB\x82\xa0") == [700, 500, 1000]
    assert widths(composite("/UniJIS-UCS2-H", "/W [34 [700]]"), b"\x00A\x00B\x30\x42") == [700, 500, 1000]


# Type 3


def test_a_type_3_font_paints_with_procedures() -> None:
    objects: dict[int, str | bytes] = {
        10: "<< /Type /Font /Subtype /Type3 /FontMatrix [0.01 0 0 0.01 0 0] /FontBBox [0 -20 100 80] "
        "/FirstChar 97 /LastChar 98 /Widths [50 75] /Encoding << /Differences [97 /one /two /three] >> "
        "/CharProcs << /one 12 0 R /two 13 0 R /three (none) >> /Resources << /Font << >> >> >>",
        12: stream(b"50 0 d0"),
        13: stream(b"75 0 d0"),
    }
    with open_raw(objects) as pdf:
        metrics = FontReader().read(pdf.get_object(10, 0))
        type3 = metrics.type3
        assert type3 is not None
        assert {code: each.read_bytes() for code, each in type3.procedures.items()} == {
            97: b"50 0 d0", 98: b"75 0 d0",
        }  # fmt: skip
        assert type3.matrix == (0.01, 0.0, 0.0, 0.01, 0.0, 0.0)
        assert isinstance(type3.resources, pikepdf.Dictionary)
    assert widths(metrics, b"abc") == [500, 750, 0]
    assert (metrics.ascent_em, metrics.descent_em) == pytest.approx((0.8, -0.2))
    assert (metrics.facts.type, metrics.facts.program) == ("Type3", "CharProcs")


# Extents


@pytest.mark.parametrize(
    ("entries", "extents"),
    [
        ("/Ascent 750 /Descent -250", (0.75, -0.25)),
        ("/Ascent -750 /Descent 250", (0.75, -0.25)),
        ("/Ascent 0 /Descent 0", (0.95, -0.35)),
        ("/Ascent 32767 /Descent (low)", (0.95, -0.35)),
        ("", (0.95, -0.35)),
    ],
)
def test_extents_come_from_the_descriptor_where_they_make_sense(
    entries: str, extents: tuple[float, float]
) -> None:
    objects: dict[int, str | bytes] = {12: DESCRIPTOR.format(entries)}
    metrics = read("/Subtype /TrueType /BaseFont /Sample /FontDescriptor 12 0 R", objects)
    assert (metrics.ascent_em, metrics.descent_em) == pytest.approx(extents)


# Junk


def test_a_font_is_read_once() -> None:
    with open_raw({10: "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>"}) as pdf:
        reader = FontReader()
        assert reader.read(pdf.get_object(10, 0)) is reader.read(pdf.get_object(10, 0))
        direct = [pikepdf.Dictionary(Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Symbol) for _ in "ab"]
        assert reader.read(direct[0]) is reader.read(direct[1])


@pytest.mark.parametrize(
    "junk", [None, 5, True, "text", pikepdf.Array([1]), pikepdf.Name.Font, pikepdf.Dictionary()]
)
def test_what_is_no_font_gives_defaults(junk: object) -> None:
    metrics = FontReader().read(junk)
    assert metrics.decode(b"A") == [Glyph(65, 0.5, 65, text="A")]
    assert (metrics.facts.name, metrics.facts.type, metrics.facts.embedded) == ("unnamed", "unknown", False)


@given(st.binary(max_size=200), st.binary(max_size=40))
def test_no_cmap_and_no_string_break_reading(cmap: bytes, data: bytes) -> None:
    body = b"1 begincodespacerange <00> <ff> endcodespacerange " + cmap
    shown = composite("12 0 R", others={12: stream(body)}).decode(data)
    assert 0 <= len(shown) <= len(data)
    assert len(composite("/Identity-H").decode(data)) == (len(data) + 1) // 2


@pytest.mark.parametrize(
    "junk", ["5", "[1 2 3]", "[1 [2 (a) /b] 3]", "[(a) 1]", "[5 3 100]", "[1 [] 2 2 (w)]", "[-4 9 1]"]
)
def test_widths_of_junk_are_numbers(junk: str) -> None:
    for key in ("W", "W2", "DW2"):
        for glyph in composite("/Identity-V", f"/{key} {junk}").decode(b"\x00\x01\x00\x02\xff\xff"):
            assert math.isfinite(glyph.width_em)
            assert math.isfinite(glyph.advance_em)
            assert all(map(math.isfinite, glyph.origin_em))


# Against a reference


@pytest.mark.skipif(shutil.which("pdffonts") is None, reason="poppler's pdffonts is not installed")
def test_facts_are_those_that_poppler_finds(tmp_path: Path) -> None:
    """Reference: poppler's `pdffonts` (columns name, emb, sub)."""
    program = b"no real program: pdffonts looks at the dictionaries"
    objects: dict[int, str | bytes] = {
        3: page(
            "/MediaBox [0 0 300 400] /Resources << /Font << /A 10 0 R /B 11 0 R /C 12 0 R /D 13 0 R >> >>"
        ),
        10: "<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica >>",
        11: "<< /Type /Font /Subtype /TrueType /BaseFont /ABCDEF+First /FontDescriptor 20 0 R >>",
        12: "<< /Type /Font /Subtype /Type0 /BaseFont /Second /Encoding /Identity-H "
        "/DescendantFonts [14 0 R] >>",
        13: "<< /Type /Font /Subtype /Type1 /BaseFont /UVWXYZ+Third /FontDescriptor 22 0 R >>",
        14: "<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Second /FontDescriptor 21 0 R "
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> >>",
        20: "<< /Type /FontDescriptor /FontName /ABCDEF+First /Flags 4 /FontFile2 30 0 R >>",
        21: "<< /Type /FontDescriptor /FontName /Second /Flags 4 /FontFile2 30 0 R >>",
        22: "<< /Type /FontDescriptor /FontName /UVWXYZ+Third /Flags 4 >>",
        30: stream(program, f"/Length1 {len(program)}"),
    }
    file = write_raw(tmp_path / "fonts.pdf", objects)
    told = subprocess.run(["pdffonts", str(file)], check=True, capture_output=True, text=True).stdout
    found = {}
    for line in told.splitlines()[2:]:
        match = re.search(r"^(\S+)\s.*\s(yes|no)\s+(yes|no)\s+(?:yes|no)\s+\d+\s+\d+$", line)
        assert match is not None
        found[match[1]] = (match[2] == "yes", match[3] == "yes")
    with open_raw(objects) as pdf:
        facts = [FontReader().read(pdf.get_object(number, 0)).facts for number in (10, 11, 12, 13)]
    assert {font.name: (font.embedded, font.subset) for font in facts} == found
