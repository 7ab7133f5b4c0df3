"""Bounded reading of bytes at stated places: a length in a file is a claim, not a fact."""

import io
from typing import BinaryIO, Literal

from hotfolder.errors import CutShortError
from hotfolder.raster.limits import MOST_BLOCK_BYTES


class ByteSource:
    """A file, or a block of one, that is read by offset; nothing past its end is ever made up."""

    def __init__(self, stream: BinaryIO) -> None:
        self._stream = stream
        self.size = stream.seek(0, io.SEEK_END)

    @classmethod
    def of(cls, block: bytes) -> "ByteSource":
        """A source over bytes that are in memory already."""
        return cls(io.BytesIO(block))

    def read(self, offset: int, count: int) -> bytes:
        """Exactly `count` bytes from `offset`. Raises CutShortError where they are not all there."""
        if offset < 0 or count < 0 or offset + count > self.size or count > MOST_BLOCK_BYTES:
            raise CutShortError
        self._stream.seek(offset)
        data = self._stream.read(count)
        if len(data) != count:  # somebody shortened the file under us
            raise CutShortError
        return data

    def some(self, offset: int, most: int) -> bytes:
        """Up to `most` bytes from `offset`: fewer at the end of the file, none behind it."""
        return self.read(offset, min(most, self.size - offset)) if 0 <= offset < self.size else b""

    def number(
        self, offset: int, count: int, order: Literal["big", "little"] = "big", *, signed: bool = False
    ) -> int:
        """The integer in `count` bytes at `offset`. Raises CutShortError where they are not all there."""
        return int.from_bytes(self.read(offset, count), order, signed=signed)
