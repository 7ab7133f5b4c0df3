"""One daemon a studio: a lock that the system gives up when its holder ends, however it ends."""

import contextlib
import fcntl
import os
import socket
from collections.abc import Iterator
from pathlib import Path

from hotfolder.errors import StudioBusy
from hotfolder.shown import shown_name
from hotfolder.store.refusals import refusals
from hotfolder.store.writing import make_folder


@contextlib.contextmanager
def studio_lock(lock_file: Path) -> Iterator[None]:
    """Hold the studio while the block runs. StudioBusy, with who holds it, where somebody does.

    The file stays, since removing it would let two holders lock two files of one name; what it says
    is only for people.
    """
    make_folder(lock_file.parent, mode=0o700)
    with refusals("locking", lock_file):
        descriptor = os.open(lock_file, os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW | os.O_CLOEXEC, 0o600)
    try:
        with refusals("locking", lock_file):
            try:
                fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                holder = os.pread(descriptor, 200, 0).decode("utf-8", "replace").strip()
                studio = shown_name(str(lock_file.parent.parent))
                raise StudioBusy(
                    f"the studio '{studio}' is in the hands of another hotfolder ({shown_name(holder)}); "
                    "one at a time, or two would take the same files"
                ) from None
            os.ftruncate(descriptor, 0)
            os.pwrite(descriptor, f"process {os.getpid()} on {socket.gethostname()}\n".encode(), 0)
        yield
    finally:
        os.close(descriptor)
