"""TIFF directories (TIFF 6.0, section 2; BigTIFF): tags and their values, read only when asked for."""

import struct
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from hotfolder.errors import CutShortError
from hotfolder.raster.headers.source import ByteSource
from hotfolder.raster.limits import MOST_BLOCK_BYTES, MOST_DIRECTORIES, MOST_ENTRIES, MOST_VALUES

# Field types (TIFF 6.0, page 15; 13 from TIFF Technical Note 1; 16 to 18 from BigTIFF).
_SIZES = {
    1: 1,
    2: 1,
    3: 2,
    4: 4,
    5: 8,
    6: 1,
    7: 1,
    8: 2,
    9: 4,
    10: 8,
    11: 4,
    12: 8,
    13: 4,
    16: 8,
    17: 8,
    18: 8,
}
_INTEGERS = {1: "B", 3: "H", 4: "I", 6: "b", 7: "B", 8: "h", 9: "i", 13: "I", 16: "Q", 17: "q", 18: "Q"}
_REALS = {5: "II", 10: "ii", 11: "f", 12: "d"}


@dataclass(frozen=True, slots=True)
class TiffEntry:
    """One tag: its field type, how many values, and the offset at which they lie."""

    kind: int
    count: int
    place: int


@dataclass(frozen=True, slots=True)
class Directory:
    """One image file directory. A value that is absent or cannot be read gives the stated default."""

    source: ByteSource
    order: Literal["<", ">"]
    big: bool
    entries: dict[int, TiffEntry]
    following: int

    def __contains__(self, tag: int) -> bool:
        return tag in self.entries

    def numbers(self, tag: int, most: int = MOST_VALUES) -> tuple[int, ...]:
        """The first `most` whole numbers of `tag`; none where it is absent or cannot be read."""
        entry = self.entries.get(tag)
        code = _INTEGERS.get(entry.kind) if entry else None
        if entry is None or code is None:
            return ()
        count = min(entry.count, most)
        try:
            block = self.source.read(entry.place, count * _SIZES[entry.kind])
        except CutShortError:
            return ()
        return struct.unpack(f"{self.order}{count}{code}", block)

    def number(self, tag: int, default: int) -> int:
        """The first whole number of `tag`, or `default`."""
        numbers = self.numbers(tag, most=1)
        return numbers[0] if numbers else default

    def real(self, tag: int) -> float | None:
        """The first number of `tag`, rational or not; None where there is none, or it divides by zero."""
        entry = self.entries.get(tag)
        if entry is None or not entry.count:
            return None
        code = _REALS.get(entry.kind)
        if code is None:
            whole = self.numbers(tag, most=1)
            return float(whole[0]) if whole else None
        try:
            values = struct.unpack(self.order + code, self.source.read(entry.place, _SIZES[entry.kind]))
        except CutShortError:
            return None
        if len(values) == 1:
            return float(values[0])
        return values[0] / values[1] if values[1] else None

    def block(self, tag: int) -> bytes | None:
        """The bytes of `tag`; None where it is absent, not all there, or larger than we read."""
        entry = self.entries.get(tag)
        if entry is None:
            return None
        try:
            return self.source.read(entry.place, entry.count * _SIZES[entry.kind])
        except CutShortError:
            return None

    def start(self, tag: int, most: int = MOST_BLOCK_BYTES) -> bytes:
        """The first bytes of `tag`, up to `most`: what there is of them."""
        entry = self.entries.get(tag)
        if entry is None:
            return b""
        return self.source.some(entry.place, min(most, entry.count * _SIZES[entry.kind]))

    def another(self, place: int) -> "Directory":
        """The directory at offset `place` of the same file. Raises CutShortError."""
        return _directory_at(self.source, place, self.order, big=self.big)


def first_directory(source: ByteSource) -> Directory:
    """The first directory. Raises CutShortError where there is none."""
    for directory in directories(source):
        return directory
    raise CutShortError


def directories(source: ByteSource) -> Iterator[Directory]:
    """The chain of directories; it ends where an offset leads back, or at our limit.

    Raises CutShortError where the header, or a directory that the chain leads to, is not there.
    """
    order: Literal["<", ">"] = "<" if source.read(0, 2) == b"II" else ">"
    version = source.number(2, 2, "little" if order == "<" else "big")
    if source.read(0, 2) not in {b"II", b"MM"} or version not in {42, 43}:
        raise CutShortError
    big = version == 43
    place = _unpack(source, 8 if big else 4, "Q" if big else "I", order)
    seen: set[int] = set()
    while place and place not in seen and len(seen) < MOST_DIRECTORIES:
        seen.add(place)
        directory = _directory_at(source, place, order, big=big)
        yield directory
        place = directory.following


def _unpack(source: ByteSource, place: int, code: str, order: str) -> int:
    value: int = struct.unpack(order + code, source.read(place, struct.calcsize(order + code)))[0]
    return value


def _directory_at(source: ByteSource, place: int, order: Literal["<", ">"], *, big: bool) -> Directory:
    count = _unpack(source, place, "Q" if big else "H", order)
    head, step, room = (8, 20, 8) if big else (2, 12, 4)
    if count > MOST_ENTRIES:
        raise CutShortError
    table = source.read(place + head, count * step)
    entries: dict[int, TiffEntry] = {}
    for index in range(count):
        tag, kind, values = struct.unpack_from(order + ("HHQ" if big else "HHI"), table, index * step)
        if kind not in _SIZES:
            continue  # readers skip field types that they do not know (TIFF 6.0, page 16)
        inside = place + head + index * step + step - room
        where = inside
        if values * _SIZES[kind] > room:
            where = _unpack(source, inside, "Q" if big else "I", order)
        entries.setdefault(tag, TiffEntry(kind, values, where))
    try:
        following = _unpack(source, place + head + count * step, "Q" if big else "I", order)
    except CutShortError:
        following = 0  # some writers of Exif blocks leave it out
    return Directory(source, order, big, entries, following)
