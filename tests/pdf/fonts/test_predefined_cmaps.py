# What text means whose font names a predefined CMap and brings no map to Unicode.
#
# References: the conversions of glibc (iconv) between the encodings that ISO 32000-2, table 116, names;
# pdftotext, and the CMaps themselves, as Debian's poppler-data has them.

import re
import subprocess
import unicodedata
from collections.abc import Iterator
from pathlib import Path

import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.pdf.fonts.predefined_cmaps import predefined_cmap
from tests.pdf.drawn_page import Drawn, only
from tests.pdf.fonts.test_fonts import composite

_CMAP_FILES = Path("/usr/share/poppler/cMap")
needs_poppler_data = pytest.mark.skipif(not _CMAP_FILES.is_dir(), reason="poppler-data is missing")

_JAPAN, _CHINA, _TAIWAN, _KOREA = "カタ日本語3 Ab", "印刷中国 Ab", "印刷臺灣 Ab", "인쇄 한국 Ab"

# CMap, the encoding as iconv calls it, some text in it, the ordering of its characters.
CMAPS = [
    ("UniJIS-UCS2-H", "UCS-2BE", _JAPAN, "Japan1"),
    ("UniJIS-UTF16-H", "UTF-16BE", _JAPAN + "𠮟", "Japan1"),
    ("UniJIS-UTF32-H", "UTF-32BE", _JAPAN, "Japan1"),
    ("UniJIS-UTF8-H", "UTF-8", _JAPAN, "Japan1"),
    ("90ms-RKSJ-H", "CP932", _JAPAN + "①ｱ", "Japan1"),
    ("90msp-RKSJ-H", "CP932", _JAPAN, "Japan1"),
    ("83pv-RKSJ-H", "SHIFT_JIS", _JAPAN, "Japan1"),
    ("90pv-RKSJ-H", "SHIFT_JIS", _JAPAN, "Japan1"),
    ("Add-RKSJ-H", "SHIFT_JIS", _JAPAN, "Japan1"),
    ("Ext-RKSJ-H", "SHIFT_JIS", _JAPAN, "Japan1"),
    ("EUC-H", "EUC-JP", _JAPAN + "ｱ", "Japan1"),
    ("UniGB-UCS2-H", "UCS-2BE", _CHINA, "GB1"),
    ("UniGB-UTF16-H", "UTF-16BE", _CHINA, "GB1"),
    ("GB-EUC-H", "GB2312", _CHINA, "GB1"),
    ("GBpc-EUC-H", "GB2312", _CHINA, "GB1"),
    ("GBK-EUC-H", "GBK", _CHINA + "鍾", "GB1"),
    ("GBKp-EUC-H", "GBK", _CHINA + "鍾", "GB1"),
    ("GBK2K-H", "GB18030", _CHINA + "㐂", "GB1"),
    ("UniCNS-UCS2-H", "UCS-2BE", _TAIWAN, "CNS1"),
    ("UniCNS-UTF16-H", "UTF-16BE", _TAIWAN, "CNS1"),
    ("B5pc-H", "BIG5", _TAIWAN, "CNS1"),
    ("ETen-B5-H", "BIG5", _TAIWAN, "CNS1"),
    ("ETenms-B5-H", "BIG5", _TAIWAN, "CNS1"),
    ("HKscs-B5-H", "BIG5-HKSCS", _TAIWAN + "咗", "CNS1"),
    ("UniKS-UCS2-H", "UCS-2BE", _KOREA, "Korea1"),
    ("UniKS-UTF16-H", "UTF-16BE", _KOREA, "Korea1"),
    ("KSC-EUC-H", "EUC-KR", _KOREA, "Korea1"),
    ("KSCms-UHC-H", "UHC", _KOREA + "똠", "Korea1"),
    ("KSCms-UHC-HW-H", "UHC", _KOREA, "Korea1"),
    ("KSCpc-EUC-H", "EUC-KR", _KOREA, "Korea1"),
]


def _by_iconv(text: str, encoding: str) -> bytes:
    return subprocess.run(
        ["iconv", "-f", "UTF-8", "-t", encoding], input=text.encode(), capture_output=True, check=True
    ).stdout


@pytest.mark.parametrize(("cmap", "encoding", "text", "_ordering"), CMAPS)
def test_the_name_of_a_cmap_tells_what_its_codes_mean(
    cmap: str, encoding: str, text: str, _ordering: str
) -> None:
    for name in (cmap, f"{cmap.removesuffix('H')}V"):
        glyphs = composite(f"/{name}").decode(_by_iconv(text, encoding))
        assert [glyph.text for glyph in glyphs] == list(text)


def test_rows_and_places_of_the_national_standards() -> None:
    """JIS X 0208, GB 2312 and KS X 1001 by two bytes of seven bits each."""
    for cmap, encoding, text in (
        ("H", "EUC-JP", "日本"),
        ("GB-H", "GB2312", "中国"),
        ("KSC-H", "EUC-KR", "한국"),
    ):
        seven_bits = bytes(byte & 0x7F for byte in _by_iconv(text, encoding))
        assert "".join(glyph.text for glyph in composite(f"/{cmap}").decode(seven_bits)) == text


def test_a_price_has_the_sign_of_its_country() -> None:
    for cmap, sign in (("90ms-RKSJ-H", "¥"), ("KSC-EUC-H", "₩"), ("KSCms-UHC-H", "\\")):
        assert composite(f"/{cmap}").decode(b"\x5c")[0].text == sign
    assert composite("/GBK-EUC-H").decode(b"$")[0].text == "¥"


def test_a_map_to_unicode_goes_first() -> None:
    drawn = _drawn("90ms-RKSJ-H", b"\x82\xa0\x82\xa2", "Japan1")
    drawn.page.obj.Resources.Font.F.ToUnicode = drawn.pdf.make_stream(
        b"1 beginbfchar <82a0> <2603> endbfchar"
    )
    assert _words(drawn) == "☃い"


def test_what_is_not_in_the_encoding_means_nothing() -> None:
    for cmap, code in (
        ("90ms-RKSJ-H", b"\xeb\xbf"),
        ("Unheard-Of-H", b"\x30\x42"),
        ("CNS-EUC-H", b"\xa4\xa1"),
    ):
        assert [glyph.text for glyph in composite(f"/{cmap}").decode(code)] == [""]


# Poppler


def _drawn(cmap: str, shown: bytes, ordering: str) -> Drawn:
    """A page with a line of text in a font that is not embedded and names its CMap."""
    drawn = Drawn()
    descendant = Dictionary(
        Type=Name.Font, Subtype=Name.CIDFontType2, BaseFont=Name.Made, DW=1000,
        CIDSystemInfo=Dictionary(Registry=b"Adobe", Ordering=ordering.encode(), Supplement=0),
        FontDescriptor=Dictionary(Type=Name.FontDescriptor, FontName=Name.Made, Flags=4),
    )  # fmt: skip
    font = Dictionary(
        Type=Name.Font, Subtype=Name.Type0, BaseFont=Name.Made, Encoding=Name(f"/{cmap}"),
        DescendantFonts=Array([descendant]),
    )  # fmt: skip
    drawn.resource("Font", "F", font)
    drawn.page.obj.Contents = drawn.pdf.make_stream(
        b"BT /F 10 Tf 20 200 Td <" + shown.hex().encode() + b"> Tj ET"
    )
    return drawn


def _words(drawn: Drawn) -> str:
    text = only(drawn.read_as_is()).text
    assert text is not None
    return text.words


@needs_poppler_data
@pytest.mark.parametrize(("cmap", "encoding", "text", "ordering"), CMAPS)
def test_pdftotext_reads_the_same(cmap: str, encoding: str, text: str, ordering: str, tmp_path: Path) -> None:
    drawn = _drawn(cmap, _by_iconv(text, encoding), ordering)
    drawn.pdf.save(tmp_path / "text.pdf")
    done = subprocess.run(
        ["pdftotext", "-raw", "-enc", "UTF-8", tmp_path / "text.pdf", "-"],
        check=True, capture_output=True, timeout=60,
    )  # fmt: skip
    assert _plain(done.stdout.decode()) == _plain(_words(drawn))


def _plain(text: str) -> str:
    """Text without spaces, and without the differences between wide and half-width letters."""
    return "".join(unicodedata.normalize("NFKC", text).split())


def _cmap_files() -> Iterator[Path]:
    # Johab's and those of rows and places are not among the predefined ones of PDF, but are named like them.
    named = {cmap for cmap, *_ in CMAPS} | {
        "H",
        "V",
        "GB-H",
        "KSC-H",
        "KSC-Johab-H",
        "CNS-EUC-H",
        "GBT-EUC-H",
    }
    return (path for path in _CMAP_FILES.glob("Adobe-*/*") if path.name in named)


@needs_poppler_data
def test_codes_are_as_long_as_the_cmaps_themselves_say() -> None:
    seen = 0
    for path in _cmap_files():
        text = path.read_text("latin-1")
        sections = re.findall(r"begincodespacerange(.*?)endcodespacerange", text, re.DOTALL)
        pairs = re.findall(r"<(\w+)>\s*<(\w+)>", " ".join(sections))
        spaces = {(bytes.fromhex(low), bytes.fromhex(high)) for low, high in pairs}
        if not spaces:
            continue  # it takes them from another one
        ours = {(space.low, space.high) for space in predefined_cmap(path.name).spaces}
        if "UCS2" in path.name:
            spaces = {(b"\0\0", b"\xff\xff")}  # halves of surrogate pairs have no place in it
        if "RKSJ" in path.name:
            ours -= {(b"\xfd", b"\xff")}
            spaces -= {(b"\xfd", b"\xff")}
        assert ours == spaces, path.name
        seen += 1
    assert seen > 25
