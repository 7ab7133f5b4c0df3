"""Copies and hashes: the job works on a copy that nobody else knows.

A writer may still hold a claimed file open, so its bytes are not to be trusted twice. A copy
shares its blocks with the source where the file system can (a reflink), keeps its holes, and is synced
always.
"""

import contextlib
import errno
import fcntl
import hashlib
import os
import stat
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from hotfolder.digest import sha256_to_end
from hotfolder.errors import StorageError
from hotfolder.store.refusals import refusals
from hotfolder.store.writing import write_all
from hotfolder.wording.shown import shown_name

_FICLONE: Final = 0x40049409  # linux/fs.h, _IOW(0x94, 9, int)
_BLOCK: Final = 1 << 20
RESERVE_BYTES: Final = 64 << 20
"""What a copy leaves free: reports, logs and job states need room to say that the disk is full."""


def sha256_of(path: Path) -> str:
    """The SHA-256 of the regular file `path`, in hexadecimal digits."""
    with (
        refusals("reading", path),
        _reading(path) as descriptor,
        open(descriptor, "rb", buffering=0, closefd=False) as file,
    ):
        return sha256_to_end(file)


def may_read(path: Path) -> bool:
    """Whether this program has the right to read `path`; StorageError for any other refusal."""
    with refusals("reading", path):
        try:
            with _reading(path):
                return True
        except PermissionError:
            return False


def read_small(path: Path, most_bytes: int) -> bytes | None:
    """The bytes of the regular file `path`; None where there are more than `most_bytes`.

    Never blocks and follows no link: the file may be anybody's.
    """
    with refusals("reading", path), _reading(path) as descriptor:
        content = b"".join(_blocks(descriptor, most_bytes + 1))
    return content if len(content) <= most_bytes else None


def read_head(path: Path, most_bytes: int) -> bytes:
    """The first bytes of the regular file `path`, `most_bytes` at most; else like `read_small`."""
    with refusals("reading", path), _reading(path) as descriptor:
        return b"".join(_blocks(descriptor, most_bytes))


def copy_file(source: Path, target: Path) -> str:
    """Copy `source` to `target`, ours alone, synced; the SHA-256 of the copy.

    A leftover of an earlier try is written anew. The time of the source is kept where possible; the
    rights are those of any new file there. StorageError where there is no room, before anything is
    written.
    """
    with refusals("copying", source):
        with contextlib.suppress(FileNotFoundError):
            target.unlink()
        with _reading(source) as reader, _creating(target) as writer:
            if _reflink(reader, writer):
                digest = None
            else:
                extents = _extents(reader)
                _need_room(target.parent, sum(extent.length for extent in extents if not extent.is_hole))
                digest = _copy_blocks(reader, writer, extents)
            _keep_time(reader, writer)
            os.fsync(writer)
    return digest if digest is not None else sha256_of(target)


@contextlib.contextmanager
def _reading(path: Path) -> Iterator[int]:
    """A descriptor of the regular file `path`. O_NONBLOCK: opening a pipe must not wait for a writer."""
    descriptor = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC)
    try:
        if not stat.S_ISREG(os.fstat(descriptor).st_mode):
            raise OSError(errno.EINVAL, "it is no regular file", str(path))
        yield descriptor
    finally:
        os.close(descriptor)


@contextlib.contextmanager
def _creating(path: Path) -> Iterator[int]:
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_CLOEXEC, 0o666)
    try:
        yield descriptor
    except BaseException:
        with contextlib.suppress(OSError):
            path.unlink()
        raise
    finally:
        os.close(descriptor)


def _blocks(descriptor: int, most_bytes: int | None = None) -> Iterator[bytes]:
    left = most_bytes
    while left is None or left > 0:
        block = os.read(descriptor, _BLOCK if left is None else min(_BLOCK, left))
        if not block:
            return
        yield block
        left = None if left is None else left - len(block)


def _reflink(reader: int, writer: int) -> bool:
    try:
        fcntl.ioctl(writer, _FICLONE, reader)
    except OSError:  # another file system, or one that cannot: the bytes are copied instead
        return False
    return True


def _need_room(folder: Path, size: int) -> None:
    room = os.statvfs(folder)
    free = room.f_bavail * room.f_frsize
    if free < size + RESERVE_BYTES:
        raise StorageError(
            f"the disk of '{shown_name(str(folder))}' is too full for a copy: {_mb(size)} MB and "
            f"{_mb(RESERVE_BYTES)} MB of reserve are needed, {_mb(free)} MB are free"
        )


def _mb(size: int) -> str:
    return f"{size / 1_000_000:.1f}"


@dataclass(frozen=True, slots=True)
class _Extent:
    """A stretch of a file that holds data or is a hole."""

    length: int
    is_hole: bool


def _copy_blocks(reader: int, writer: int, extents: Sequence[_Extent]) -> str:
    """Copy all bytes; a hole in the source is one in the copy, and takes no room."""
    running = hashlib.sha256()
    end = written = 0
    passed_over = False  # whether the copy ends in a hole, and is shorter than that so far
    for extent in extents:
        end += extent.length
        while written < end:
            block = os.read(reader, min(_BLOCK, end - written))
            if not block:  # cut short meanwhile
                break
            running.update(block)
            # What is no zero was written into the hole meanwhile, or the file system was wrong.
            passed_over = extent.is_hole and not any(block)
            if passed_over:
                os.lseek(writer, len(block), os.SEEK_CUR)
            else:
                write_all(writer, block)
            written += len(block)
    for block in _blocks(reader):  # it grew meanwhile
        running.update(block)
        write_all(writer, block)
        written += len(block)
        passed_over = False
    if passed_over:  # else not asked for: there are shares that cannot do it
        os.ftruncate(writer, written)
    return running.hexdigest()


def _extents(descriptor: int) -> list[_Extent]:
    """The stretches of data and of holes, in their order; the file's position is at its beginning then."""
    size = os.fstat(descriptor).st_size
    extents: list[_Extent] = []
    end = 0
    try:
        while end < size:
            data = _seek_data(descriptor, end, size)
            hole = os.lseek(descriptor, data, os.SEEK_HOLE) if data < size else size
            extents += [_Extent(data - end, is_hole=True), _Extent(hole - data, is_hole=False)]
            end = hole
    except OSError:  # a file system that knows of no holes
        extents = [_Extent(size, is_hole=False)]
    os.lseek(descriptor, 0, os.SEEK_SET)
    return extents


def _seek_data(descriptor: int, offset: int, size: int) -> int:
    try:
        return os.lseek(descriptor, offset, os.SEEK_DATA)
    except OSError as error:
        if error.errno == errno.ENXIO:  # nothing but a hole from here on
            return size
        raise


def _keep_time(reader: int, writer: int) -> None:
    times = os.fstat(reader)
    with contextlib.suppress(OSError):  # some shares refuse; the time is a courtesy
        os.utime(writer, ns=(times.st_atime_ns, times.st_mtime_ns))
