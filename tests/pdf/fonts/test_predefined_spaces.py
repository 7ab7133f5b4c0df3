# Spaces of fonts that name a predefined CMap and bring no map to Unicode: a run ends before them.
#
# Codes of the space and of the wide one (U+3000) by iconv of glibc, in the encoding that ISO 32000-2,
# table 116, says each CMap is of.
import subprocess

import pytest

from tests.pdf.fonts.test_fonts import composite


@pytest.mark.parametrize(
    ("cmap", "encoding"),
    [
        ("GBK-EUC-H", "GBK"),
        ("GB-EUC-H", "GB2312"),
        ("GBpc-EUC-V", "GB2312"),
        ("GBK2K-V", "GB18030"),
        ("UniGB-UCS2-H", "UCS-2BE"),
        ("UniGB-UTF16-V", "UTF-16BE"),
        ("UniJIS-UTF8-H", "UTF-8"),
        ("UniJIS-UTF32-H", "UTF-32BE"),
        ("B5pc-H", "BIG5"),
        ("ETen-B5-H", "BIG5"),
        ("HKscs-B5-V", "BIG5-HKSCS"),
        ("90ms-RKSJ-H", "SHIFT_JIS"),
        ("90pv-RKSJ-V", "SHIFT_JIS"),
        ("EUC-H", "EUC-JP"),
        ("KSC-EUC-H", "EUC-KR"),
        ("KSCms-UHC-V", "UHC"),
    ],
)
def test_spaces_of_a_predefined_cmap_are_blank(cmap: str, encoding: str) -> None:
    metrics = composite(f"/{cmap}")
    space, wide, letter = (
        subprocess.run(
            ["iconv", "-f", "UTF-8", "-t", encoding], input=text.encode(), capture_output=True, check=True
        ).stdout
        for text in (" ", "\u3000", "中")
    )
    assert [glyph.is_blank for glyph in metrics.decode(space + wide + letter)] == [True, True, False]


@pytest.mark.parametrize("cmap", ["H", "V"])
def test_the_wide_space_of_jis_is_blank(cmap: str) -> None:
    # JIS X 0208: row 1, place 1 is the wide space; 0x3021 the first of its Chinese characters.
    assert [glyph.is_blank for glyph in composite(f"/{cmap}").decode(b"\x21\x21\x30\x21")] == [True, False]


def test_identity_knows_no_spaces() -> None:
    assert [glyph.is_blank for glyph in composite("/Identity-H").decode(b"\x00\x20\x30\x00")] == [False] * 2
