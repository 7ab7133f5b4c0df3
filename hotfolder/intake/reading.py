"""Small reads at given places of a file, and where the file system has nothing written."""

import errno
import os
from dataclasses import dataclass
from typing import Final

_SAMPLES: Final = 16
_SAMPLE: Final = 4096


@dataclass(frozen=True, slots=True)
class BoundedFile:
    """An open file of `size` bytes. OSError passes through."""

    descriptor: int
    size: int

    def at(self, offset: int, length: int) -> bytes:
        """The bytes at `offset`; fewer where the file ends before."""
        if not 0 <= offset < self.size:
            return b""
        return os.pread(self.descriptor, length, offset)

    def number(self, offset: int, length: int) -> int | None:
        """The big-endian number at `offset`; None beyond the end."""
        read = self.at(offset, length)
        return int.from_bytes(read) if len(read) == length else None

    def ends_in_a_hole(self) -> bool:
        """Whether room for the last byte was set aside and never written (lseek(2), SEEK_DATA)."""
        try:
            os.lseek(self.descriptor, self.size - 1, os.SEEK_DATA)
        except OSError as error:
            return error.errno == errno.ENXIO
        return False

    def has_hole(self) -> bool:
        """Whether any part was never written (lseek(2), SEEK_HOLE)."""
        try:
            return os.lseek(self.descriptor, 0, os.SEEK_HOLE) < self.size
        except OSError:
            return False

    def is_zero(self, start: int, end: int) -> bool:
        """Whether samples all over the bytes from `start` to `end` hold nothing but zeros."""
        step = max(_SAMPLE, (end - start) // _SAMPLES)
        places = [*range(start, max(start + 1, end - _SAMPLE), step), max(start, end - _SAMPLE)]
        return not any(any(self.at(place, min(_SAMPLE, end - place))) for place in places)
