"""The text of a font's codes in Unicode, which is shown in messages and tells spaces.

It comes from the font's map to Unicode (ISO 32000-2, 9.10.3), or, where a simple font has none, from the
names of its glyphs (9.10.2).
"""

import re
from collections.abc import Iterator, Mapping
from itertools import islice
from typing import Final

from fontTools import agl

from hotfolder.pdf.fonts.encodings import Encoding
from hotfolder.pdf.objects.limits import UNICODE_MAP_BYTES, UNICODE_MAP_ENTRIES
from hotfolder.pdf.objects.reading import entry
from hotfolder.pdf.objects.streams import bounded_bytes

_TOKEN: Final = re.compile(rb"<([0-9A-Fa-f\s]*)>|([\[\]])|(begin|end)(bfchar|bfrange)")
_LONGEST: Final = 32  # bytes of the text for one code; ligatures have three letters, emoji up to seven signs

Texts = Mapping[int, str]


def read_unicode_map(font: object) -> dict[int, str]:
    """The text of each code in a font's map to Unicode; malformed entries are left out."""
    data = bounded_bytes(entry(font, "/ToUnicode"), UNICODE_MAP_BYTES) or b""
    texts: dict[int, str] = {}
    for code, text in islice(_entries(data), UNICODE_MAP_ENTRIES):
        texts[code] = readable(text[:_LONGEST].decode("utf-16-be", "ignore"))
    return texts


def named_texts(encoding: Encoding) -> dict[int, str]:
    """The text of each code by its glyph name (Adobe Glyph List); names unknown to it are left out."""
    texts = ((code, text_of_name(name)) for code, name in encoding.items())
    return {code: text for code, text in texts if text}


def text_of_name(name: str) -> str:
    """The text of a glyph name (Adobe Glyph List); empty for a name that the list does not have."""
    return readable(agl.toUnicode(name))


def readable(text: str) -> str:
    """`text` without characters that cannot be printed; white space stays."""
    return (
        text if text.isprintable() else "".join(each for each in text if each.isprintable() or each.isspace())
    )


def _entries(data: bytes) -> Iterator[tuple[int, bytes]]:
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
                yield int.from_bytes(codes[0]), codes[1]
                codes = []
            elif section == b"bfrange" and len(codes) == 3 and not bracket:
                yield from _ranged(*codes)
                codes = []


def _listed(codes: list[bytes]) -> Iterator[tuple[int, bytes]]:
    """A range whose texts are listed one by one: its ends, then the texts."""
    if len(codes) > 2:
        first = int.from_bytes(codes[0])
        yield from ((first + place, text) for place, text in enumerate(codes[2:]))


def _ranged(low: bytes, high: bytes, text: bytes) -> Iterator[tuple[int, bytes]]:
    """A range whose texts go up with its codes, in their last character."""
    first, last = int.from_bytes(low), int.from_bytes(high)
    end = int.from_bytes(text[-2:])
    for place in range(min(last - first, UNICODE_MAP_ENTRIES) + 1):
        yield first + place, text[:-2] + ((end + place) & 0xFFFF).to_bytes(2)


def _bytes(digits: bytes) -> bytes:
    clean = b"".join(digits.split())
    return bytes.fromhex((clean + b"0" * (len(clean) % 2)).decode("ascii"))
