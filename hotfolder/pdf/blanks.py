"""Which codes of a font show nothing: spaces, wherever the font keeps them.

A line that ends with a space does not reach as far as its last space does. Code 32 alone proves
nothing: fonts cut down to their used glyphs put an integral sign there, and composite fonts have
the space anywhere. The font's encoding tells, or its map to Unicode (ISO 32000-2, 9.6.5 and 9.10.3).
"""

import re
from collections.abc import Iterator
from typing import Final

from hotfolder.pdf.encodings import read_encoding
from hotfolder.pdf.reading import entry, name, whole
from hotfolder.pdf.streams import bounded_bytes

_NAMES: Final = frozenset({"space", "nbspace", "nonbreakingspace", "uni0020", "uni00A0"})
# Unicode's space separators (general category Zs) as they stand in a map, two bytes each.
_SPACES: Final = frozenset(
    character.encode("utf-16-be")
    for character in ("\u0020", "\u00a0", "\u202f", "\u205f", "\u3000", *map(chr, range(0x2000, 0x200B)))
)
_SYMBOLIC: Final = 4  # FontDescriptor Flags, table 121
_MOST_MAP_BYTES: Final = 8 << 20  # a map of all 65 536 codes has about 1.5 MB
_TOKEN: Final = re.compile(rb"<([0-9A-Fa-f\s]*)>|([\[\]])|(begin|end)(bfchar|bfrange)")


def blank_codes(font: object) -> frozenset[int]:
    """The codes that show nothing; none where the font does not tell."""
    mapped = frozenset(_mapped_to_space(bounded_bytes(entry(font, "/ToUnicode"), _MOST_MAP_BYTES) or b""))
    if name(entry(font, "/Subtype")) == "Type0":
        return mapped
    encoding = read_encoding(entry(font, "/Encoding"), {})
    named = {code for code, glyph in encoding.items() if glyph in _NAMES}
    # What the encoding gives another name to is that, whatever a map says.
    found = named | {code for code in mapped if encoding.get(code, "space") in _NAMES}
    flags = whole(entry(entry(font, "/FontDescriptor"), "/Flags")) or 0
    if 32 not in encoding and not flags & _SYMBOLIC:
        found.add(32)  # the Latin encodings that a font may be built with all have it there (annex D.2)
    return frozenset(found)


def _mapped_to_space(data: bytes) -> Iterator[int]:
    section, bracket = b"", False
    codes: list[bytes] = []
    for match in _TOKEN.finditer(data):
        digits, punctuation, begins, kind = match.groups()
        if kind is not None:
            section, codes, bracket = (kind if begins == b"begin" else b""), [], False
        elif punctuation is not None:
            bracket = punctuation == b"["
            if not bracket:
                yield from _listed(codes)
                codes = []
        else:
            codes.append(_bytes(digits))
            if section == b"bfchar" and len(codes) == 2:
                if codes[1] in _SPACES:
                    yield int.from_bytes(codes[0])
                codes = []
            elif section == b"bfrange" and len(codes) == 3 and not bracket:
                yield from _ranged(*codes)
                codes = []


def _listed(codes: list[bytes]) -> Iterator[int]:
    """A range whose texts are listed one by one: its ends, then the texts."""
    if len(codes) > 2:
        first = int.from_bytes(codes[0])
        yield from (first + place for place, text in enumerate(codes[2:]) if text in _SPACES)


def _ranged(low: bytes, high: bytes, text: bytes) -> Iterator[int]:
    """A range whose texts go up with its codes, in their last byte."""
    first, last = int.from_bytes(low), int.from_bytes(high)
    for place in range(min(last - first, 255) + 1):
        if text[:-1] + bytes([(text[-1] if text else 0) + place & 0xFF]) in _SPACES:
            yield first + place


def _bytes(digits: bytes) -> bytes:
    clean = b"".join(digits.split())
    return bytes.fromhex((clean + b"0" * (len(clean) % 2)).decode("ascii"))
