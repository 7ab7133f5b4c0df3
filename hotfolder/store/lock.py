"""One daemon a studio: a lock that the system gives up when its holder ends, however it ends.

Two things are locked: the file `lock`, which says who holds it, and the studio's folder itself, since
somebody may remove the file. Where the file system has no locks on folders (NFS) the holder finds out
that its file is gone, and lays it again.
"""

import contextlib
import fcntl
import os
import socket
from collections.abc import Iterator
from pathlib import Path

from hotfolder.errors import StudioBusyError
from hotfolder.store.refusals import refusals
from hotfolder.store.writing import make_folder
from hotfolder.wording.shown import shown_name


class StudioLock:
    """A held lock. For one thread."""

    def __init__(self, lock_file: Path) -> None:
        self._file = lock_file
        self._studio = lock_file.parent.parent
        self._descriptors: list[int] = []

    def take(self) -> None:
        """Lock the studio's folder and its file. StudioBusyError where somebody holds one of them."""
        self._lock_folder()
        self._lock_file()

    def keep(self) -> None:
        """See that the lock file is still the one that is locked; where it was removed, it is laid again.

        StudioBusyError where somebody else has laid and locked one meanwhile.
        """
        ours = os.fstat(self._descriptors[-1])
        with contextlib.suppress(OSError):
            if os.path.samestat(self._file.lstat(), ours):
                return
        self._lock_file()

    def release(self) -> None:
        """Give the lock up."""
        while self._descriptors:
            os.close(self._descriptors.pop())

    def _lock_folder(self) -> None:
        make_folder(self._file.parent, mode=0o700)
        with refusals("locking", self._studio):
            descriptor = os.open(self._studio, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
        self._descriptors.append(descriptor)
        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise self._busy() from None
        except OSError:  # this file system has no locks on folders: the file's has to do
            return

    def _lock_file(self) -> None:
        """The file stays when the lock is given up: two holders could else lock two files of one name."""
        make_folder(self._file.parent, mode=0o700)
        with refusals("locking", self._file):
            flags = os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW | os.O_CLOEXEC
            descriptor = os.open(self._file, flags, 0o600)
            try:
                fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except OSError as error:
                os.close(descriptor)
                if isinstance(error, BlockingIOError):
                    raise self._busy() from None
                raise
            self._descriptors.append(descriptor)
            os.ftruncate(descriptor, 0)
            os.pwrite(descriptor, f"process {os.getpid()} on {socket.gethostname()}\n".encode(), 0)

    def _busy(self) -> StudioBusyError:
        holder = "nobody knows which"
        with contextlib.suppress(OSError), self._file.open("rb") as file:
            holder = file.read(200).decode("utf-8", "replace").strip() or holder
        return StudioBusyError(
            f"the studio '{shown_name(str(self._studio))}' is already watched by another hotfolder "
            f"({shown_name(holder)}); only one may run at a time, or both would take the same files"
        )


@contextlib.contextmanager
def studio_lock(lock_file: Path) -> Iterator[StudioLock]:
    """Hold the studio while the block runs. StudioBusyError, with who holds it, where somebody does.

    What the file says is only for people.
    """
    lock = StudioLock(lock_file)
    try:
        lock.take()
        yield lock
    finally:
        lock.release()
