"""One daemon a studio."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from hotfolder.errors import StudioBusy
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
        with pytest.raises(StudioBusy, match=f"process {holder.pid} on "), studio_lock(lock):
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
