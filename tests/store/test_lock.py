"""One daemon a studio."""

import errno
import fcntl
import os
import shutil
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from hotfolder.errors import StudioBusyError
from hotfolder.store.lock import studio_lock

HOLD = """
import sys
from pathlib import Path
from hotfolder.store.lock import studio_lock
with studio_lock(Path(sys.argv[1])):
    print("held", flush=True)
    sys.stdin.read()
"""


def test_a_second_holder_is_refused_and_told_who_holds_it(tmp_path: Path) -> None:
    lock = tmp_path / ".hotfolder" / "lock"
    with subprocess.Popen(
        [sys.executable, "-c", HOLD, lock], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == "held\n"
        with pytest.raises(StudioBusyError, match=f"process {holder.pid} on "), studio_lock(lock):
            pass
        holder.kill()
        holder.wait(10)
    with studio_lock(lock):  # the system gave it up, however its holder ended
        assert lock.read_text(encoding="utf-8").startswith(f"process {os.getpid()} on ")


def test_the_lock_lies_in_a_folder_that_only_its_user_enters(tmp_path: Path) -> None:
    with studio_lock(tmp_path / ".hotfolder" / "lock"):
        assert (tmp_path / ".hotfolder").stat().st_mode & 0o777 == 0o700
    with studio_lock(tmp_path / ".hotfolder" / "lock"):
        pass  # and it can be had again


def test_a_studio_whose_lock_was_removed_is_still_held(tmp_path: Path) -> None:
    lock = tmp_path / ".hotfolder" / "lock"
    with studio_lock(lock):
        shutil.rmtree(lock.parent)
        with pytest.raises(StudioBusyError), studio_lock(lock):
            pass


def test_a_removed_lock_file_is_laid_and_locked_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lock = tmp_path / ".hotfolder" / "lock"
    no_locks_on_folders(monkeypatch)
    with studio_lock(lock) as held:
        shutil.rmtree(lock.parent)
        held.keep()
        held.keep()
        assert lock.read_text(encoding="utf-8").startswith(f"process {os.getpid()} on ")
        with pytest.raises(StudioBusyError), studio_lock(lock):
            pass
        shutil.rmtree(lock.parent)
        with (
            studio_lock(lock),
            pytest.raises(StudioBusyError),
        ):  # where folders have no locks, until it is seen
            held.keep()


def no_locks_on_folders(monkeypatch: pytest.MonkeyPatch) -> None:
    """As on NFS, where flock(2) is made of locks on bytes, which a folder has none of."""
    real = fcntl.flock

    def flock(descriptor: int, operation: int) -> None:
        if stat.S_ISDIR(os.fstat(descriptor).st_mode):
            raise OSError(errno.EBADF, os.strerror(errno.EBADF))
        real(descriptor, operation)

    monkeypatch.setattr(fcntl, "flock", flock)
