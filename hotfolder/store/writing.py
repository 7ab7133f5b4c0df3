"""Writing that is whole after a crash: a file of ours is the old one or the new one, never half.

The temporary file lies in the target's folder; it is synced before its name is changed, and the
folder after it.
"""

import contextlib
import errno
import os
from pathlib import Path

from hotfolder.errors import StorageError
from hotfolder.store.refusals import refusals
from hotfolder.wording.shown import shown_name


def sync_folder(folder: Path) -> None:
    """Make changed names in `folder` last. A file system that cannot is believed to do so by itself."""
    descriptor = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
    try:
        os.fsync(descriptor)
    except OSError as error:
        if error.errno not in {errno.EINVAL, errno.ENOTSUP}:
            raise
    finally:
        os.close(descriptor)


def write_all(descriptor: int, content: bytes | memoryview) -> None:
    """Write every byte of `content`, however many calls that takes."""
    left = memoryview(content)
    while left:
        left = left[os.write(descriptor, left) :]


def write_file(path: Path, content: bytes) -> None:
    """Write a file that nobody looks at yet, and sync it. A leftover of the same name is written anew."""
    with refusals("writing", path):
        with contextlib.suppress(FileNotFoundError):
            path.unlink()
        descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_CLOEXEC, 0o666)
        try:
            write_all(descriptor, content)
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def replace_file(path: Path, content: bytes) -> None:
    """Replace (or make) `path`, a file of ours alone, in one step."""
    temporary = path.with_name(f".{path.name}.new")
    write_file(temporary, content)
    with refusals("writing", path):
        temporary.replace(path)
        sync_folder(path.parent)


def sync_file(path: Path) -> None:
    """Make the bytes of a regular file last that another process wrote. No link is followed."""
    with refusals("syncing", path):
        descriptor = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def append(path: Path, content: bytes) -> None:
    """Append to `path` and sync; after a crash the end of `content` may be missing, nothing else."""
    with refusals("writing", path):
        new = not path.exists()
        descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND | os.O_CLOEXEC, 0o666)
        try:
            write_all(descriptor, content)
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
        if new:
            sync_folder(path.parent)


def make_folder(folder: Path, mode: int = 0o777) -> None:
    """Make `folder` and what is missing above it; the names last. `mode` is for `folder` itself."""
    with refusals("making the folder", folder):
        if folder.is_dir():
            return
        if not folder.parent.is_dir():
            make_folder(folder.parent)
        with contextlib.suppress(FileExistsError):  # made by somebody else meanwhile
            folder.mkdir(mode)
        sync_folder(folder.parent)


def make_plain_folder(folder: Path) -> None:
    """Make `folder` in a place that others may write to. StorageError where a link stands there.

    A link would let them choose where our files go.
    """
    if folder.is_symlink():
        raise StorageError(
            f"'{shown_name(str(folder))}' is a link, and is not followed; remove it, or make it a folder"
        )
    make_folder(folder)
