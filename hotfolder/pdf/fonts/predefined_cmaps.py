"""The predefined CMaps (ISO 32000-2, table 116): how long their codes are, and the text that they stand for.

Each is for a character encoding that its name gives; those whose names begin with Uni are for Unicode. The
text is shown in messages only, so signs that a vendor added to an encoding may be missing.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from hotfolder.pdf.fonts.code_spaces import CodeSpace, code_spaces
from hotfolder.pdf.fonts.unicode_text import readable

_SPACE: Final = 0x20  # in every one of these encodings


@dataclass(frozen=True, slots=True)
class PredefinedCMap:
    """A predefined CMap, or several that have the same codes.

    spaces: its codespace ranges. wide_space: the code of the ideographic space (U+3000).
    codec: Python's name of its encoding; empty where there is none. seven_bits: its codes are those of the
    encoding without the highest bit of each byte. signs: single bytes that show something else than in ASCII.
    """

    spaces: tuple[CodeSpace, ...]
    wide_space: int
    codec: str
    seven_bits: bool = False
    signs: Mapping[int, str] = field(default_factory=dict)

    @property
    def blanks(self) -> frozenset[int]:
        """The codes of spaces."""
        return frozenset({_SPACE, self.wide_space})

    def text(self, code: bytes) -> str:
        """The text of `code`; empty where that is not known."""
        if len(code) == 1 and code[0] in self.signs:
            return self.signs[code[0]]
        data = bytes(byte | 0x80 for byte in code) if self.seven_bits else code
        try:
            return readable(data.decode(self.codec)) if self.codec else ""
        except UnicodeDecodeError:
            return ""


_YEN: Final = {0x5C: "\u00a5"}
_WON: Final = {0x5C: "\u20a9"}
_YUAN: Final = {0x24: "\u00a5", 0x7E: "\u203e"}
_TWO: Final = code_spaces("0000-ffff")
_ROWS: Final = code_spaces("2121-7e7e")
_EUC: Final = code_spaces("00-80", "a1a1-fefe")

# By a part of the name; the first that fits counts. Code spaces are those of the CMaps themselves, which
# are published as cmap-resources; the encodings are those of table 116. MacJapanese and the vendors' JIS and
# Shift-JIS have no codec of their own and are read as the standard they extend.
_BY_NAME: Final = tuple(
    (re.compile(pattern), cmap)
    for pattern, cmap in (
        ("UCS2", PredefinedCMap(_TWO, 0x3000, "utf-16-be")),
        (
            "UTF16",
            PredefinedCMap(code_spaces("0000-d7ff", "d800dc00-dbffdfff", "e000-ffff"), 0x3000, "utf-16-be"),
        ),
        ("UTF32", PredefinedCMap(code_spaces("00000000-0010ffff"), 0x3000, "utf-32-be")),
        (
            "UTF8",
            PredefinedCMap(
                code_spaces("00-7f", "c080-dfbf", "e08080-efbfbf", "f0808080-f7bfbfbf"), 0xE38080, "utf-8"
            ),
        ),
        # Japan
        (
            "^90msp?-RKSJ|^Ext-RKSJ",
            PredefinedCMap(
                code_spaces("00-80", "8140-9ffc", "a0-df", "e040-fcfc"), 0x8140, "cp932", signs=_YEN
            ),
        ),
        (
            "RKSJ",
            PredefinedCMap(
                code_spaces("00-80", "8140-9ffc", "a0-df", "e040-fcfc", "fd-ff"),
                0x8140,
                "shift_jis",
                signs=_YEN,
            ),
        ),
        (
            "^(?:78-)?EUC-",
            PredefinedCMap(code_spaces("00-80", "8ea0-8edf", "a1a1-fefe"), 0xA1A1, "euc_jp", signs=_YEN),
        ),
        ("^(?:Ext-|Add-|78-)?[HV]$", PredefinedCMap(_ROWS, 0x2121, "euc_jp", seven_bits=True)),
        # China
        ("^GBK2K", PredefinedCMap(code_spaces("00-7f", "81308130-fe39fe39", "8140-fefe"), 0xA1A1, "gb18030")),
        ("^GBKp", PredefinedCMap(code_spaces("00-80", "8140-fefe"), 0xA1A1, "gbk")),
        ("^GBK", PredefinedCMap(code_spaces("00-80", "8140-fefe"), 0xA1A1, "gbk", signs=_YUAN)),
        ("^GBpc", PredefinedCMap(code_spaces("00-80", "a1a1-fcfe", "fd-ff"), 0xA1A1, "gbk")),
        ("^GB-EUC", PredefinedCMap(_EUC, 0xA1A1, "gbk", signs=_YUAN)),
        ("^GB-[HV]$", PredefinedCMap(_ROWS, 0x2121, "gbk", seven_bits=True)),
        ("^GBT(?:pc)?-EUC", PredefinedCMap(_EUC, 0xA1A1, "")),
        # Taiwan and Hong Kong
        ("^B5pc", PredefinedCMap(code_spaces("00-80", "a140-fcfe", "fd-ff"), 0xA140, "cp950")),
        ("^ETen", PredefinedCMap(code_spaces("00-80", "a140-fefe"), 0xA140, "big5hkscs")),
        ("^HKscs|^ETHK", PredefinedCMap(code_spaces("00-80", "8740-fefe"), 0xA140, "big5hkscs")),
        ("^HK", PredefinedCMap(code_spaces("00-80", "8140-fefe"), 0xA140, "")),
        (
            "^CNS-EUC",
            PredefinedCMap(
                code_spaces(
                    "00-80", "8ea1a1a1-8ea1fefe", "8ea2a1a1-8ea2fefe", "8ea3a1a1-8ea3fefe", "a1a1-fefe"
                ),
                0xA1A1,
                "",
            ),
        ),
        # Korea
        ("^KSC-EUC", PredefinedCMap(_EUC, 0xA1A1, "euc_kr", signs=_WON)),
        ("^KSCms-UHC-HW", PredefinedCMap(code_spaces("00-80", "8141-fefe"), 0xA1A1, "cp949", signs=_WON)),
        ("^KSCms-UHC", PredefinedCMap(code_spaces("00-80", "8141-fefe"), 0xA1A1, "cp949")),
        ("^KSCpc", PredefinedCMap(code_spaces("00-84", "a141-fdfe", "fe-ff"), 0xA1A1, "euc_kr")),
        (
            "^KSC-Johab",
            PredefinedCMap(code_spaces("00-80", "8441-d3fe", "d831-defe", "e031-f9fe"), 0xD931, "johab"),
        ),
        ("^KSC-[HV]$", PredefinedCMap(_ROWS, 0x2121, "euc_kr", seven_bits=True)),
    )
)
_UNKNOWN: Final = PredefinedCMap(_TWO, 0x2121, "")


def predefined_cmap(name: str) -> PredefinedCMap:
    """The CMap that a name stands for; one with codes of two bytes for a name that is not known."""
    return next((cmap for pattern, cmap in _BY_NAME if pattern.search(name)), _UNKNOWN)
