"""Folders and small text files that a studio is laid with: whole or not at all, never over others."""

import contextlib
import os
import stat
import uuid
from collections.abc import Iterator
from pathlib import Path

from hotfolder.errors import StorageError
from hotfolder.store.exclusive import rename_exclusively
from hotfolder.store.refusals import refusals
from hotfolder.store.writing import make_folder, sync_folder, write_file


def lay_folder(path: Path, mode: int = 0o777) -> bool:
    """Makes the folder `path` (`mode` less the umask); False where it is there already.

    StorageError where something else is in its place, or the system refuses.
    """
    with refusals("looking at", path):
        if path.is_dir():
            return False
    if os.path.lexists(path):
        message = f"{path} should be a folder, and something else is there; nothing was changed"
        raise StorageError(message)
    make_folder(path, mode)
    return True


def lay_text(path: Path, text: str) -> bool:
    """Writes a new file; False, and nothing is changed, where something of that name is there."""
    if os.path.lexists(path):
        return False
    with _fresh_beside(path) as fresh, refusals("making", path):
        write_file(fresh, text.encode())
        try:
            rename_exclusively(fresh, path)
        except FileExistsError:
            return False
        sync_folder(path.parent)
    return True


def append_text(path: Path, text: str) -> None:
    """Replaces the file by itself with `text` at its end; what stood there stays byte for byte."""
    path = path.resolve()  # a link goes on pointing to the file
    with _fresh_beside(path) as fresh, refusals("adding to", path):
        before = path.read_bytes()
        gap = b"" if before.endswith(b"\n") or not before else b"\n"
        write_file(fresh, before + gap + text.encode())
        fresh.chmod(stat.S_IMODE(path.stat().st_mode))
        fresh.replace(path)
        sync_folder(path.parent)


@contextlib.contextmanager
def _fresh_beside(path: Path) -> Iterator[Path]:
    """A hidden name beside `path`, for a file that gets the final name when it is whole."""
    fresh = path.with_name(f".hotfolder-new-{uuid.uuid4().hex}")
    try:
        yield fresh
    finally:
        with contextlib.suppress(OSError):  # what is told is why the writing failed
            fresh.unlink(missing_ok=True)
