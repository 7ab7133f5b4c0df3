"""Cuts the strings of a composite font into codes, and turns codes into CIDs (ISO 32000-2, 9.7.5 and 9.7.6).

Embedded CMaps are read. Of the predefined ones (table 116) only Identity is known in full; of the others, how
long their codes are and what they mean, but not their CIDs. Their Latin letters are taken for the
proportional ones at the beginning of each character collection, or for half-width ones where the font gives
those no width; all other characters get the font's default width.
"""

import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import Final

from hotfolder.pdf.fonts.code_spaces import TWO_BYTES, CodeSpace
from hotfolder.pdf.fonts.predefined_cmaps import PredefinedCMap, predefined_cmap
from hotfolder.pdf.objects.reading import entry, name, whole
from hotfolder.pdf.objects.streams import bounded_bytes

# The largest embedded CMap met in practice maps 65 536 codes one by one, about 1.5 MB.
_MOST_CMAP_BYTES: Final = 8 << 20
_MOST_PARENTS: Final = 8  # CMaps that build on one another (usecmap); real ones go two deep


@dataclass(frozen=True, slots=True)
class CidRange:
    """Consecutive codes that stand for consecutive CIDs."""

    low: int
    high: int
    cid: int


@dataclass(frozen=True, slots=True)
class CMap:
    """How strings are cut into codes, and which CID a code stands for.

    ranges: by code length in bytes, sorted; None where the code is the CID. starts: the first code of each
    range, likewise. predefined: one of the predefined CMaps whose CIDs are not known here; None otherwise.
    blanks: the codes of its spaces.
    """

    spaces: tuple[CodeSpace, ...]
    vertical: bool
    ranges: dict[int, tuple[CidRange, ...]] | None = None
    starts: dict[int, tuple[int, ...]] = field(default_factory=dict)
    predefined: PredefinedCMap | None = None
    blanks: frozenset[int] = frozenset()

    def cut(self, data: bytes) -> Iterator[bytes]:
        """The codes in `data`, in order; the last one may be cut short."""
        if len(self.spaces) == 1 and self.spaces[0] == TWO_BYTES:
            yield from (data[at : at + 2] for at in range(0, len(data), 2))
            return
        at = 0
        while at < len(data):
            length = self._length(data[at : at + 4])
            yield data[at : at + length]
            at += length

    def _length(self, ahead: bytes) -> int:
        for length in range(1, len(ahead) + 1):
            if any(space.holds(ahead[:length]) for space in self.spaces):
                return length
        # 9.7.6.3: a code outside every space is as long as the space that it fits best.
        fitting = [len(space.low) for space in self.spaces if space.begins(ahead[:1])]
        return min(fitting or [len(space.low) for space in self.spaces])

    def cid(self, code: bytes) -> int:
        """The CID of `code`; 0, the glyph for what is not there, where the CMap maps it to none."""
        value = int.from_bytes(code)
        if self.predefined is not None:
            return value - _BEFORE_LATIN if self.is_half_width(code) else 0
        if self.ranges is None:
            return value
        at = bisect_right(self.starts.get(len(code), ()), value) - 1
        if at < 0:
            return 0
        cid_range = self.ranges[len(code)][at]
        return cid_range.cid + value - cid_range.low if value <= cid_range.high else 0

    def is_half_width(self, code: bytes) -> bool:
        """Whether `code` is a Latin letter of a predefined CMap."""
        return self.predefined is not None and 0x20 <= int.from_bytes(code) <= 0x7E

    def text(self, code: bytes) -> str:
        """The text of `code` in the encoding of a predefined CMap; empty where that is not known."""
        return self.predefined.text(code) if self.predefined is not None else ""


# In Adobe's character collections for Japan, Korea and China the proportional glyphs for
# U+0020 to U+007E are CIDs 1 to 95 (from memory; a few signs differ).
_BEFORE_LATIN: Final = 0x1F
IDENTITY: Final = CMap((TWO_BYTES,), vertical=False)


def read_cmap(value: object) -> CMap:
    """The CMap that a composite font's `Encoding` names or embeds; Identity where it is neither."""
    named = name(value)
    if named is not None:
        return _predefined(named)
    return _embedded(value, _MOST_PARENTS) or IDENTITY


def _predefined(named: str) -> CMap:
    vertical = named.endswith("V")
    if named.startswith("Identity"):
        return CMap((TWO_BYTES,), vertical=vertical)
    known = predefined_cmap(named)
    return CMap(known.spaces, vertical, predefined=known, blanks=known.blanks)


_TOKEN: Final = re.compile(rb"<([0-9A-Fa-f\s]*)>|\[|\]|/([^\s<>\[\](){}/%]+)|([^\s<>\[\](){}/%]+)")
_COMMENT: Final = re.compile(rb"%[^\r\n]*")


def _embedded(value: object, parents_left: int) -> CMap | None:
    """The CMap in a stream; None where there is none to be read."""
    data = bounded_bytes(value, _MOST_CMAP_BYTES)
    if data is None:
        return None
    parent_value = entry(value, "/UseCMap")
    parent = None
    if parent_value is not None and parents_left:
        named = name(parent_value)
        parent = _predefined(named) if named is not None else _embedded(parent_value, parents_left - 1)
    spaces, ranges = _parse(_COMMENT.sub(b"", data))
    if parent is not None:
        spaces = list(parent.spaces) + [each for each in spaces if each not in parent.spaces]
        for length, inherited in (parent.ranges or {}).items():
            ranges.setdefault(length, []).extend(inherited)
        if parent.ranges is None and not ranges:
            return replace(parent, spaces=tuple(spaces), vertical=whole(entry(value, "/WMode")) == 1)
    if not spaces:
        spaces = [TWO_BYTES]
    sorted_ranges = {
        length: tuple(sorted(unsorted, key=lambda each: each.low)) for length, unsorted in ranges.items()
    }
    return CMap(
        tuple(spaces),
        vertical=whole(entry(value, "/WMode")) == 1,
        ranges=sorted_ranges,
        starts={length: tuple(each.low for each in of_length) for length, of_length in sorted_ranges.items()},
    )


def _parse(data: bytes) -> tuple[list[CodeSpace], dict[int, list[CidRange]]]:
    """Code spaces and CID ranges of a CMap file; malformed sections are skipped."""
    spaces: list[CodeSpace] = []
    ranges: dict[int, list[CidRange]] = {}
    codes: list[bytes] = []
    section = b""
    for match in _TOKEN.finditer(data):
        code_hex, _, word = match.groups()
        if word is not None and (word.startswith((b"begin", b"end"))):
            section, codes = word, []
        elif code_hex is not None:
            digits = b"".join(code_hex.split())
            codes.append(bytes.fromhex((digits + b"0" * (len(digits) % 2)).decode("ascii"))[:4])
            if section == b"begincodespacerange" and len(codes) == 2:
                if codes[0] and len(codes[0]) == len(codes[1]):
                    spaces.append(CodeSpace(codes[0], codes[1]))
                codes = []
        elif word is not None and word.isdigit() and codes:
            wanted = {b"begincidrange": 2, b"begincidchar": 1}.get(section)
            if wanted == len(codes) and codes[0]:
                low, high = int.from_bytes(codes[0]), int.from_bytes(codes[-1])
                ranges.setdefault(len(codes[0]), []).append(CidRange(low, high, int(word[:9])))
            codes = []
    return spaces, ranges
