"""Whether TIFF and PSD files hold all the picture data that their own headers promise: a few small reads."""

from dataclasses import dataclass
from itertools import pairwise
from typing import Final, Literal

from hotfolder.intake.reading import BoundedFile

_DIRECTORIES: Final = 64
_ENTRIES: Final = 1000
_PIECES: Final = 1 << 15  # strips or tiles of one picture that are looked at: the last ones
_TAIL: Final = 1 << 16
_LARGE: Final = 1 << 16
_COMPRESSION, _STRIPS, _STRIP_BYTES, _TILES, _TILE_BYTES = 259, 273, 279, 324, 325
_LENGTHS: Final = {1: 1, 3: 2, 4: 4, 13: 4, 16: 8}  # bytes of the whole numbers among TIFF's field types
_UNCOMPRESSED: Final = 1
_RAW, _PACKED = 0, 1  # how a PSD's merged picture is stored

Order = Literal["little", "big"]


@dataclass(frozen=True, slots=True)
class _TiffLayout:
    """How numbers stand in a TIFF: the byte order, and the lengths of counts and offsets."""

    order: Order
    counts: int  # of the number of entries
    offsets: int

    @property
    def entry(self) -> int:
        return 4 + 2 * self.offsets


def tiff_end(file: BoundedFile) -> str | None:
    """What is missing of a TIFF, in a few words; None where nothing is."""
    head = file.at(0, 16)
    order: Order = "little" if head.startswith(b"I") else "big"
    is_big = int.from_bytes(head[2:4], order) == 43
    layout = _TiffLayout(order, 8, 8) if is_big else _TiffLayout(order, 2, 4)
    place = 8 if is_big else 4
    offset = int.from_bytes(head[place : place + layout.offsets], order)
    if not offset:
        return "its directory is missing"
    seen: set[int] = set()
    while offset and offset not in seen and len(seen) < _DIRECTORIES:
        seen.add(offset)
        count = int.from_bytes(file.at(offset, layout.counts), order)
        first = offset + layout.counts
        last = first + count * layout.entry
        if not count or last + layout.offsets > file.size:
            return "its directory lies beyond its end"
        missing = _picture_end(file, layout, file.at(first, min(count, _ENTRIES) * layout.entry))
        if missing is not None:
            return missing
        offset = int.from_bytes(file.at(last, layout.offsets), order)
    return None


def _picture_end(file: BoundedFile, layout: _TiffLayout, entries: bytes) -> str | None:
    fields = {
        int.from_bytes(entries[start : start + 2], layout.order): entries[start : start + layout.entry]
        for start in range(0, len(entries) - layout.entry + 1, layout.entry)
    }
    for places, lengths in ((_STRIPS, _STRIP_BYTES), (_TILES, _TILE_BYTES)):
        if places in fields and lengths in fields:
            starts = _numbers(file, layout, fields[places])
            sizes = _numbers(file, layout, fields[lengths])
            if starts is None or sizes is None:
                return "the list of its picture data lies beyond its end"
            pieces = [(start, start + size) for start, size in zip(starts, sizes, strict=False) if size]
            packing = _numbers(file, layout, fields[_COMPRESSION]) if _COMPRESSION in fields else None
            return _pieces_end(file, pieces, is_packed=packing not in {None, (_UNCOMPRESSED,)})
    return None


def _pieces_end(file: BoundedFile, pieces: list[tuple[int, int]], *, is_packed: bool) -> str | None:
    if not pieces:
        return None
    begin, end = min(start for start, _ in pieces), max(end for _, end in pieces)
    if end > file.size:
        return f"it should have {end} bytes and has {file.size} so far"
    if not begin:
        return "its picture is missing"
    if is_packed:
        # No compression makes long runs of zeros; a short piece may be anything.
        zero = any(file.is_zero(start, end) for start, end in pieces[-1:] if end - start > 64)
    else:
        # Paper is zeros too, in CMYK without compression: only a large part makes one doubt.
        part = (end - begin) // 4
        zero = part >= _LARGE and file.is_zero(end - part, end)
    return "the last part of its picture is still empty" if zero else None


def _numbers(file: BoundedFile, layout: _TiffLayout, entry: bytes) -> tuple[int, ...] | None:
    """The last whole numbers of a field; None where they lie beyond the end. No numbers: an empty tuple."""
    length = _LENGTHS.get(int.from_bytes(entry[2:4], layout.order), 0)
    count = int.from_bytes(entry[4 : 4 + layout.offsets], layout.order)
    if not length or not count:
        return ()
    value = entry[4 + layout.offsets :]
    total = count * length
    if total <= layout.offsets:
        content = value[:total]
    else:
        offset = int.from_bytes(value, layout.order)
        if offset + total > file.size:
            return None
        read = min(total, _PIECES * length)
        content = file.at(offset + total - read, read)
    edges = range(0, len(content) + 1, length)
    return tuple(int.from_bytes(content[start:end], layout.order) for start, end in pairwise(edges))


def psd_end(file: BoundedFile) -> str | None:
    """What is missing of a PSD or PSB, in a few words; None where nothing is."""
    head = file.at(0, 26)
    if len(head) < 26:
        return "its header is cut short"
    wide = head[5] == 2  # PSB
    offset: int | None = 26
    for length in (4, 4, 8 if wide else 4):  # colour mode, resources, layers
        size = None if offset is None else file.number(offset, length)
        offset = None if size is None or offset is None else offset + length + size
    packing = None if offset is None else file.number(offset, 2)
    if offset is None or packing is None:
        return "it ends before its merged picture"
    channels, height = int.from_bytes(head[12:14]), int.from_bytes(head[14:18])
    width, depth = int.from_bytes(head[18:22]), int.from_bytes(head[22:24])
    rows = channels * height
    if packing == _RAW:
        end = offset + 2 + rows * ((width * depth + 7) // 8)
        begin = end - (end - offset) // 4
    elif packing == _PACKED:
        size = 4 if wide else 2
        table = file.at(offset + 2, min(rows, 1 << 20) * size)
        counts = (int.from_bytes(table[start : start + size]) for start in range(0, len(table), size))
        end = offset + 2 + rows * size + sum(counts)
        begin = max(offset + 2, end - min(_TAIL, end - offset))
    else:
        return None
    if end > file.size:
        return f"it should have {end} bytes and has {file.size} so far"
    return "the last part of its picture is still empty" if file.is_zero(begin, end) else None
