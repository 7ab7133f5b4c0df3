"""An outbox on a share that goes away and comes back, with real mounts where this user may mount."""

import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from hotfolder.errors import ShareAwayError
from hotfolder.store.delivery_folders import DeliveryFolders
from hotfolder.store.jobs import Step
from tests.journeys.shares import KINDS, Share, why_not
from tests.studio_at_work import lay_studio, names_in

MEMORY = Path("/dev/shm")


def may_mount() -> bool:
    try:
        command = ["unshare", "-m", "mount", "--make-rprivate", "/"]
        return subprocess.run(command, capture_output=True, check=False).returncode == 0
    except FileNotFoundError:
        return False


needs_mounts = pytest.mark.skipif(not may_mount(), reason="this user may not mount")
"""The same without the right to mount, by links: test_crash_points.py and test_delivery_folders.py."""


@needs_mounts
def test_a_share_may_go_away_after_any_step_and_nothing_is_lost(tmp_path: Path) -> None:
    if MEMORY.stat().st_dev == tmp_path.stat().st_dev:
        pytest.skip("no second file system: /dev/shm")
    with tempfile.TemporaryDirectory(dir=MEMORY) as root:
        command = ["unshare", "-m", sys.executable, "-m", "tests.on_a_share", root, str(tmp_path)]
        done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=300)
    steps = len(Step) - 2  # all but the first and the last
    assert (done.stdout, done.returncode) == (f"{4 * steps}\n", 0), done.stderr


@pytest.mark.parametrize("kind", KINDS)
def test_another_share_at_the_same_mount_point_is_not_delivered_into(kind: str, tmp_path: Path) -> None:
    """It gets the same device number, and its root the same inode number."""
    reason = why_not(kind)
    if reason is not None:
        pytest.skip(reason)
    studio = lay_studio(tmp_path / "studio")
    quay = studio.printer("quay")
    right, wrong = (Share(kind, tmp_path / name, quay.outbox) for name in ("right", "wrong"))
    try:
        right.mount()
        DeliveryFolders(studio.hidden).adopt(quay)
        right.unmount()
        wrong.mount()
        with pytest.raises(ShareAwayError):
            DeliveryFolders(studio.hidden).ready(quay, quay.outbox)
        assert list(wrong.lent.iterdir()) == []
        wrong.unmount()
        right.mount()
        assert DeliveryFolders(studio.hidden).ready(quay, quay.outbox) == ()
        assert names_in(quay.outbox) == []
    finally:
        right.unmount()
        wrong.unmount()
