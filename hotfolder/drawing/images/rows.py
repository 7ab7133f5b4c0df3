"""The rows of pictures whose data are plain samples, unpacked a strip at a time (ISO 32000-2, 7.4, 8.9.3).

A large picture is never held whole where that can be avoided: deflated data come in pieces, and data that
were differenced as in PNG go through libvips, which reads them row by row.
"""

import struct
import zlib
from collections.abc import Iterator
from typing import Final

import numpy as np
import pikepdf

from hotfolder.drawing.images.entries import ImageEntries
from hotfolder.errors import NotDrawnError
from hotfolder.model.plates import Bytes
from hotfolder.pdf.objects.reading import READING_ERRORS, entry, whole
from hotfolder.pdf.objects.streams import survey

_PIECE: Final = 1 << 22  # bytes that are unpacked at a time
_HELD: Final = 64 * 1024 * 1024  # bytes that are unpacked at once without a thought
_MOST_HELD: Final = 320 * 1024 * 1024  # and where there is no other way
_MOST_BYTES: Final = 4 << 30  # of any picture, unpacked

# What PNG calls pictures of so many components (ISO/IEC 15948, 11.2.2); two and four have the name of alpha.
_PNG_COLOUR: Final = {1: 0, 2: 4, 3: 2, 4: 6}
_PNG_SIGNATURE: Final = b"\x89PNG\r\n\x1a\n"


def strips(entries: ImageEntries, components: int, step: int) -> Iterator[Bytes]:
    """Rows of packed samples as they stand in the data, shape (rows, bytes of a row).

    As many rows at a time as is handy, always a multiple of `step` but for the last. Where data break off,
    rows do so too: a last row of which half is there, or the only one, is filled up with 0, one that is
    only begun is left out. NotDrawnError where they cannot be unpacked.
    """
    row = (entries.width * components * entries.bits + 7) // 8
    if row * entries.height > _MOST_BYTES:
        raise NotDrawnError("a picture is too large to be decoded")
    try:
        yield from _in_rows(_pieces(entries, components, row), row, entries.height, step)
    except READING_ERRORS:
        raise NotDrawnError("the data of a picture cannot be read") from None


def _in_rows(pieces: Iterator[bytes | memoryview], row: int, height: int, step: int) -> Iterator[Bytes]:
    left, held = height, bytearray()
    block = row * step
    for piece in pieces:
        held += piece
        count = min(len(held) // block * step, left)
        if count:
            yield np.frombuffer(bytes(held[: count * row]), np.uint8).reshape(count, row)
            del held[: count * row]
            left -= count
        if not left:
            return
    # Of a row with little in it the rest would be black or paper; like other readers we leave it out.
    whole_rows, rest = divmod(len(held), row)
    only = left == height and not whole_rows
    count = min(whole_rows + int(2 * rest >= row or (only and rest > 0)), left)
    if count:
        last = bytes(held[: count * row]).ljust(count * row, b"\0")
        yield np.frombuffer(last, np.uint8).reshape(count, row)


def _pieces(entries: ImageEntries, components: int, row: int) -> Iterator[bytes | memoryview]:
    predictor = whole(entry(entries.parameters, "/Predictor")) or 1
    needed = row * entries.height
    if entries.filters == ("FlateDecode",) and predictor == 1:
        return _inflated(memoryview(entries.stream.get_raw_stream_buffer()))
    framed = entries.filters == ("FlateDecode",) and predictor >= 10 and entries.bits == 8
    if needed > _HELD and framed and components in _PNG_COLOUR:
        return _through_png(entries, components)
    return _unpacked(entries, needed)


def _inflated(data: memoryview) -> Iterator[bytes]:
    machine = zlib.decompressobj()
    rest: bytes | memoryview = data
    while rest and not machine.eof:
        try:
            piece = machine.decompress(rest, _PIECE)
        except zlib.error:
            return  # what came before the break is shown
        yield piece
        rest = machine.unconsumed_tail
    tail = machine.flush()
    if tail:
        yield tail


def _unpacked(entries: ImageEntries, needed: int) -> Iterator[memoryview]:
    if needed > _MOST_HELD or survey(entries.stream, 2 * _MOST_HELD).length is None:
        raise NotDrawnError("a picture is too large to be decoded")
    # Run lengths too, which qpdf counts among the special ones.
    level = pikepdf.StreamDecodeLevel.specialized
    yield memoryview(entries.stream.get_stream_buffer(decode_level=level))


def _through_png(entries: ImageEntries, components: int) -> Iterator[bytes]:
    """Data differenced as in PNG, in the frame of a PNG file."""
    import pyvips  # noqa: PLC0415 - not to start before a child is forked

    header = struct.pack(
        ">IIBBBBB", entries.width, entries.height, entries.bits, _PNG_COLOUR[components], 0, 0, 0
    )
    data = bytes(entries.stream.get_raw_stream_buffer())
    framed = _PNG_SIGNATURE + _chunk(b"IHDR", header) + _chunk(b"IDAT", data) + _chunk(b"IEND", b"")
    del data
    try:
        picture = pyvips.Image.new_from_buffer(
            framed, "", access="sequential", fail_on="none", unlimited=True
        )
        region = pyvips.Region.new(picture)
        many = max(1, _PIECE // max(1, picture.width * components))
        for top in range(0, entries.height, many):
            yield region.fetch(0, top, picture.width, min(many, entries.height - top))
    except pyvips.Error:
        raise NotDrawnError("the data of a picture cannot be read") from None


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I4s", len(data), kind) + data + struct.pack(">I", zlib.crc32(data, zlib.crc32(kind)))
