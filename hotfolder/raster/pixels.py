"""Whether all the pixels that a header promises are there and whole, looked at in passing.

Nothing is kept: strips, rows and chunks are unpacked step by step and only counted, so that
a poster costs time and no memory, and neither does a file of a few bytes that claims to be
one. What only a decoder can follow goes to `decoder`.
"""

import zlib
from collections.abc import Iterable, Iterator
from pathlib import Path

from hotfolder.errors import CutShortError
from hotfolder.model.facts import ProblemKind
from hotfolder.raster.decoder import decode_jpeg, decode_tiff
from hotfolder.raster.headers.picture import (
    HeaderTrouble,
    JpegScans,
    PackedRows,
    Packing,
    PictureHeader,
    Pieces,
    PngRows,
    TiffFrame,
)
from hotfolder.raster.headers.source import ByteSource
from hotfolder.raster.limits import MOST_CHUNKS, MOST_RUNS, MOST_STREAMED_BYTES, STEP_BYTES

MISSING = HeaderTrouble(
    "", "the file ends before its last pixels; a part of the picture is missing", ProblemKind.DAMAGED
)
BROKEN = HeaderTrouble(
    "", "the pixels are damaged; a part of the picture would print wrong or not at all", ProblemKind.DAMAGED
)


class _TooMuchError(Exception):
    """Following the pixels met one of our limits."""


def look_at_pixels(path: Path, source: ByteSource, picture: PictureHeader) -> Iterator[HeaderTrouble]:
    """What is wrong with the pixels of `picture`, if anything.

    `source` is the open file at `path`; a decoder gets an opening of its own.
    """
    try:
        yield from _looked_at(path, source, picture)
    except CutShortError:
        yield MISSING
    except (zlib.error, _BrokenDataError):
        yield BROKEN
    except _TooMuchError:
        yield HeaderTrouble(
            "",
            f"the picture has {picture.facts.width_px} x {picture.facts.height_px} px, "
            "more than this version looks at; its pixels were not looked at",
            ProblemKind.LIMIT,
        )


def _looked_at(path: Path, source: ByteSource, picture: PictureHeader) -> Iterator[HeaderTrouble]:
    match picture.pixels:
        case None:
            explained = any(trouble.kind is not ProblemKind.NOTE for trouble in picture.troubles)
            if not explained:
                yield MISSING
        case Pieces() as pieces:
            _follow_pieces(source, pieces)
        case PackedRows() as rows:
            _follow_rows(source, rows)
        case PngRows() as rows:
            yield from _follow_png(source, rows)
        case TiffFrame() as frame:
            if frame.pieces is not None:
                _all_there(source, frame.pieces.offsets, frame.pieces.packed_bytes)
            yield from decode_tiff(path, picture.facts, frame)
        case JpegScans() as scans:
            if source.size - scans.start < scans.least_bytes:
                yield MISSING
            else:
                yield from decode_jpeg(path, picture.facts, scans)


class _BrokenDataError(Exception):
    """Packed data that unpacks to something else than the header promises."""


def _all_there(source: ByteSource, offsets: tuple[int, ...], sizes: tuple[int, ...]) -> None:
    """Raises CutShortError where a piece does not lie inside the file."""
    if any(offset + size > source.size for offset, size in zip(offsets, sizes, strict=True)):
        raise CutShortError


def _follow_pieces(source: ByteSource, pieces: Pieces) -> None:
    if pieces.packing is Packing.NONE:
        _all_there(source, pieces.offsets, pieces.unpacked_bytes)
        return
    _all_there(source, pieces.offsets, pieces.packed_bytes)
    if sum(pieces.unpacked_bytes) > MOST_STREAMED_BYTES:
        raise _TooMuchError
    runs = MOST_RUNS
    for offset, packed, wanted in zip(
        pieces.offsets, pieces.packed_bytes, pieces.unpacked_bytes, strict=True
    ):
        if pieces.packing is Packing.DEFLATE:
            unpacked = sum(len(part) for part in _inflated(_steps(source, offset, packed), wanted))
        else:
            unpacked, used = packbits_length(_steps(source, offset, packed), runs)
            runs -= used
        if unpacked < wanted:
            raise _BrokenDataError


def _steps(source: ByteSource, offset: int, count: int) -> Iterator[bytes]:
    """The bytes of one piece, a step at a time."""
    for place in range(offset, offset + count, STEP_BYTES):
        yield source.read(place, min(STEP_BYTES, offset + count - place))


def _inflated(blocks: Iterable[bytes], most: int) -> Iterator[bytes]:
    """Unpacks `blocks` in steps until the data or `most` bytes are at an end. Raises zlib.error."""
    unpacker = zlib.decompressobj()
    left = most
    for block in blocks:
        waiting = block
        while not unpacker.eof and left > 0:
            part = unpacker.decompress(waiting, min(STEP_BYTES, left))
            waiting = unpacker.unconsumed_tail
            left -= len(part)
            if part:
                yield part
            elif not waiting:
                break
        if unpacker.eof or left <= 0:
            return


def packbits_length(blocks: Iterable[bytes], most_runs: int) -> tuple[int, int]:
    """How many bytes PackBits data unpacks to, and in how many runs (TIFF 6.0, section 9).

    Bytes of a last run that is cut short are not counted.
    """
    total = runs = ahead = 0
    for block in blocks:
        place, end = ahead, len(block)
        while place < end:
            head = block[place]
            runs += 1
            if head < 128:
                total += head + 1
                place += head + 2
            elif head > 128:
                total += 257 - head
                place += 2
            else:
                place += 1
        ahead = place - end
        if runs > most_runs:
            raise _TooMuchError
    return total - ahead, runs


def _follow_rows(source: ByteSource, rows: PackedRows) -> None:
    place = rows.table + rows.rows * rows.entry_bytes
    if place > source.size:
        raise CutShortError
    left = MOST_RUNS
    for size in _row_sizes(source, rows):
        unpacked, used = packbits_length([source.read(place, size)], left)
        left -= used
        if unpacked < rows.row_bytes:
            raise _BrokenDataError
        place += size


def _row_sizes(source: ByteSource, rows: PackedRows) -> Iterator[int]:
    for block in _steps(source, rows.table, rows.rows * rows.entry_bytes):  # a step holds whole entries
        for at in range(0, len(block), rows.entry_bytes):
            yield int.from_bytes(block[at : at + rows.entry_bytes], "big")


def _follow_png(source: ByteSource, rows: PngRows) -> Iterator[HeaderTrouble]:
    """Unpacks the data chunks, and looks at their checksums and the filter byte of each row."""
    wanted = sum(count * size for count, size in rows.passes)
    if wanted > MOST_STREAMED_BYTES:
        raise _TooMuchError
    filters = _Filters(rows.passes)
    data = _png_data(source, rows.first_chunk)
    for part in _inflated(data, wanted):
        filters.see(part)
    for _ in data:
        pass  # the checksums of what is left count too
    if filters.seen < wanted:
        raise CutShortError
    if not _has_end(source, rows.first_chunk):
        yield HeaderTrouble("", "the file lacks its end mark; all pixels are there", ProblemKind.NOTE)


class _Filters:
    """Looks at the first byte of each row as the data comes by: 0 to 4 (PNG third edition, 9.2)."""

    def __init__(self, passes: tuple[tuple[int, int], ...]) -> None:
        self.seen = 0
        self._bounds: list[tuple[int, int, int]] = []  # where a pass starts and ends, and its bytes a row
        start = 0
        for rows, row_bytes in passes:
            self._bounds.append((start, start + rows * row_bytes, row_bytes))
            start += rows * row_bytes

    def see(self, part: bytes) -> None:
        """Raises _BrokenDataError where a row in `part` starts with no filter."""
        begin, end = self.seen, self.seen + len(part)
        for start, stop, row_bytes in self._bounds:
            first = start + max(0, -((start - begin) // row_bytes)) * row_bytes
            firsts = (
                part[first - begin : min(end, stop) - begin : row_bytes] if first < min(end, stop) else b""
            )
            if firsts and max(firsts) > 4:
                raise _BrokenDataError
        self.seen = end


def _png_data(source: ByteSource, place: int) -> Iterator[bytes]:
    """The bodies of the data chunks, which stand together (5.6), in steps.

    Raises _BrokenDataError and CutShortError.
    """
    for _ in range(MOST_CHUNKS):
        if place + 8 > source.size:
            return  # whether pixels are missing is seen by counting them
        length, name = source.number(place, 4), source.read(place + 4, 4)
        if name != b"IDAT":
            return
        total = zlib.crc32(name)
        for block in _steps(source, place + 8, length):
            total = zlib.crc32(block, total)
            yield block
        if total != source.number(place + 8 + length, 4):
            raise _BrokenDataError
        place += 12 + length
    raise _TooMuchError


def _has_end(source: ByteSource, place: int) -> bool:
    try:
        for _ in range(MOST_CHUNKS):
            if source.read(place + 4, 4) == b"IEND":
                return True
            place += 12 + source.number(place, 4)
    except CutShortError:
        pass
    return False
