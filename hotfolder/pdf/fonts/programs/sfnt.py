"""Reads the tables of TrueType and OpenType fonts that are embedded in a PDF.

Such fonts are often cut down to what a PDF needs (ISO 32000-2, 9.9) and lack tables that a font
on a computer has. So each table is read on its own, when it is asked for, and a glance costs no more than
what is looked up: a full Asian font has some ten megabytes. Tables: OpenType specification 1.9.
"""

import struct
from bisect import bisect_left
from collections.abc import Callable
from typing import Final

from fontTools.ttLib.standardGlyphOrder import standardGlyphOrder

from hotfolder.errors import DamagedFontError, FontFaultError

_MOST_TABLES: Final = 256  # fonts have below forty
_MOST_SUBTABLES: Final = 64  # of cmap; fonts have below ten
_MAGIC: Final = frozenset({b"\0\1\0\0", b"true", b"OTTO"})

Lookup = Callable[[int], int]  # character code to glyph; 0 where there is none


class Sfnt:
    """A font of tables.

    Raises `DamagedFontError` for what is missing or broken, `FontFaultError` for data of another kind.
    """

    def __init__(self, data: bytes) -> None:
        self._data = data
        start = 0
        if data[:4] == b"ttcf":
            (start,) = read(">12xI", data, 0)  # the first font of a collection
        if data[start : start + 4] not in _MAGIC:
            raise FontFaultError
        (count,) = read(">4xH", data, start)
        self._places: dict[bytes, tuple[int, int]] = {}
        for at in range(min(count, _MOST_TABLES)):
            # A directory that breaks off leaves those tables usable that it names.
            if start + 12 + 16 * (at + 1) > len(data):
                break
            tag, offset, length = struct.unpack_from(">4s4xII", data, start + 12 + 16 * at)
            self._places[tag] = (offset, length)
        self.units_per_em: int = read(">18xH", self.table(b"head"), 0)[0]
        self.glyph_count: int = read(">4xH", self.table(b"maxp"), 0)[0]
        if not self.units_per_em:
            raise DamagedFontError

    def __contains__(self, tag: bytes) -> bool:
        return tag in self._places

    def is_cut(self, tag: bytes) -> bool:
        """Whether a table that is listed reaches out of the data; readers leave out such a table."""
        offset, length = self._places.get(tag, (0, 0))
        return offset + length > len(self._data)

    def table(self, tag: bytes) -> bytes:
        """The bytes of a table; empty where there is none."""
        offset, length = self._places.get(tag, (0, 0))
        return self._data[offset : offset + length]

    def piece(self, tag: bytes, start: int, length: int) -> bytes:
        """`length` bytes of a table from `start`, and no more than it has."""
        offset, size = self._places.get(tag, (0, 0))
        return self._data[offset + start : offset + min(start + length, size)]

    def metrics(self, glyph: int) -> tuple[int, int] | None:
        """Advance and left side bearing (hmtx) in font units; None where the font gives none."""
        header = self.piece(b"hhea", 34, 2)
        if len(header) < 2:
            return None
        count = int.from_bytes(header)
        if not count:
            return None
        place = 4 * min(glyph, count - 1)
        full = self.piece(b"hmtx", place, 4)
        if len(full) < 4:
            if place + 4 <= self._places.get(b"hmtx", (0, 0))[1]:
                raise DamagedFontError  # the table has it, and the data end before
            return None
        advance, bearing = struct.unpack(">Hh", full)
        if glyph >= count:
            short = self.piece(b"hmtx", 4 * count + 2 * (glyph - count), 2)
            bearing = struct.unpack(">h", short)[0] if len(short) == 2 else bearing
        return advance, bearing

    def character_maps(self) -> dict[tuple[int, int], Lookup]:
        """The lookups of cmap by platform and encoding; those that cannot be read are left out."""
        table = self.table(b"cmap")
        lookups: dict[tuple[int, int], Lookup] = {}
        if len(table) < 4:
            return lookups
        count = int.from_bytes(table[2:4])
        for at in range(min(count, _MOST_SUBTABLES)):
            record = table[4 + 8 * at : 12 + 8 * at]
            if len(record) < 8:
                break
            platform, encoding, offset = struct.unpack(">HHI", record)
            try:
                lookup = _read_lookup(table[offset:])
            except FontFaultError:
                continue
            if lookup is not None:
                lookups.setdefault((platform, encoding), lookup)
        return lookups

    def glyph_names(self) -> dict[str, int]:
        """Glyphs by name (post); empty where the font gives no names."""
        table = self.table(b"post")
        if len(table) < 4:
            return {}
        match int.from_bytes(table[:4]):
            case 0x10000:
                return {name: glyph for glyph, name in enumerate(standardGlyphOrder)}
            case 0x20000:
                return _named_glyphs(table)
            case _:
                return {}


def read(form: str, data: bytes, at: int) -> tuple[int, ...]:
    """`struct.unpack_from`, with a `DamagedFontError` where the data end too early."""
    try:
        return struct.unpack_from(form, data, at)
    except struct.error as error:
        raise DamagedFontError from error


def _named_glyphs(table: bytes) -> dict[str, int]:
    if len(table) < 34:
        return {}
    (count,) = struct.unpack_from(">H", table, 32)
    count = min(count, (len(table) - 34) // 2)
    indexes = struct.unpack_from(f">{count}H", table, 34)
    own: list[str] = []
    at = 34 + 2 * count
    while at < len(table):
        length = table[at]
        own.append(table[at + 1 : at + 1 + length].decode("latin-1"))
        at += 1 + length
    standard = len(standardGlyphOrder)
    glyphs: dict[str, int] = {}
    for glyph, index in enumerate(indexes):
        if index < standard:
            glyphs.setdefault(standardGlyphOrder[index], glyph)
        elif index - standard < len(own):
            glyphs.setdefault(own[index - standard], glyph)
    return glyphs


# Lookups of cmap, by the format of the subtable


def _read_lookup(data: bytes) -> Lookup | None:
    (form,) = read(">H", data, 0)
    match form:
        case 0:
            glyphs = data[6:262]
            return lambda code: glyphs[code] if 0 <= code < len(glyphs) else 0
        case 4:
            return _segments(data)
        case 6:
            return _trimmed(data)
        case 12:
            return _groups(data)
        case _:
            return None  # 2, 8, 10, 13, 14: none of them serves a code that a PDF shows


def _trimmed(data: bytes) -> Lookup:
    first, count = read(">6xHH", data, 0)
    count = max(min(count, (len(data) - 10) // 2), 0)
    glyphs = struct.unpack_from(f">{count}H", data, 10)
    return lambda code: glyphs[code - first] if 0 <= code - first < count else 0


def _segments(data: bytes) -> Lookup:
    """Format 4: segments of codes, each with a shift or with glyphs listed one by one."""
    (twice,) = read(">6xH", data, 0)
    count = twice // 2
    ends: tuple[int, ...] = read(f">{count}H", data, 14)
    starts = read(f">{count}H", data, 16 + twice)
    shifts = read(f">{count}H", data, 16 + 2 * twice)
    place = 16 + 3 * twice
    offsets = read(f">{count}H", data, place)

    def look_up(code: int) -> int:
        at = bisect_left(ends, code)
        if at == count or starts[at] > code:
            return 0
        if not offsets[at] or offsets[at] == 0xFFFF:  # the latter is written by old programs for "none"
            return int(code + shifts[at]) & 0xFFFF
        where = place + 2 * at + offsets[at] + 2 * (code - starts[at])
        glyph = int.from_bytes(data[where : where + 2])
        return int(glyph + shifts[at]) & 0xFFFF if glyph else 0

    return look_up


def _groups(data: bytes) -> Lookup:
    """Format 12: groups of consecutive codes for consecutive glyphs."""
    (count,) = read(">12xI", data, 0)
    count = max(min(count, (len(data) - 16) // 12), 0)
    rows: tuple[int, ...] = struct.unpack_from(f">{3 * count}I", data, 16)
    starts, ends, glyphs = rows[0::3], rows[1::3], rows[2::3]

    def look_up(code: int) -> int:
        at = bisect_left(ends, code)
        if at == count or starts[at] > code:
            return 0
        return glyphs[at] + code - starts[at]

    return look_up
