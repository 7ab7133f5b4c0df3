"""The threads that scan: a fault of ours in one folder ends neither its thread nor another folder's scans."""

import errno
import threading
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from hotfolder.config.studio import MARKER, Timing
from hotfolder.intake import watching
from hotfolder.intake.candidate import Candidate
from hotfolder.intake.scanning import Away, Inbox, Listing, scan
from hotfolder.intake.watching import FolderWatch, PrinterWatch, watch_events

TIMING = Timing(scan_s=0.01, quiet_s=0.01)


def until(happened: Callable[[], bool]) -> None:
    give_up_s = time.monotonic() + 10
    while not happened():
        assert time.monotonic() < give_up_s
        time.sleep(0.01)


def test_a_fault_of_ours_in_a_scan_is_told_and_the_thread_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    broken, sound = (Inbox("quay", name, tmp_path / name) for name in ("broken", "sound"))
    for inbox in (broken, sound):
        inbox.folder.mkdir()
        (inbox.folder / MARKER).touch()
    (sound.folder / "flyer.pdf").write_bytes(b"12345")
    mended = threading.Event()

    def faulty(inbox: Inbox) -> Listing | Away:
        if inbox is broken and not mended.is_set():
            raise ZeroDivisionError("nobody expected this")
        return scan(inbox)

    monkeypatch.setattr(watching, "scan", faulty)
    offered: list[str] = []
    stopping = threading.Event()
    folders = [FolderWatch(inbox, TIMING) for inbox in (broken, sound)]

    def offer(_: Inbox, found: list[Candidate]) -> None:
        offered.extend(file.name for file in found)

    watch = PrinterWatch(folders, TIMING, offer, lambda _: None, stopping)
    watch.start()
    try:
        until(lambda: "flyer.pdf" in offered)
        assert folders[0].away is not None
        assert watch.completed_s is not None  # one folder's fault is no reason to restart for all printers
        mended.set()
        until(lambda: folders[0].away is None)
    finally:
        stopping.set()
        watch.wake.set()
        watch.join(10)
    assert "nobody expected this" in caplog.text


def test_a_share_whose_connection_is_broken_at_the_start_leaves_the_other_folders_their_events(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    broken, sound = (Inbox(name, None, tmp_path / name) for name in ("broken", "sound"))
    sound.folder.mkdir()
    real = Path.is_dir

    def is_dir(path: Path) -> bool:
        if path == broken.folder:
            raise OSError(errno.ENOTCONN, "Transport endpoint is not connected", str(path))
        return real(path)

    monkeypatch.setattr(Path, "is_dir", is_dir)
    stopping = threading.Event()
    watches = [
        PrinterWatch([FolderWatch(inbox, TIMING)], TIMING, lambda *_: None, lambda _: None, stopping)
        for inbox in (broken, sound)
    ]
    observer = watch_events(watches)
    assert observer is not None
    try:
        (sound.folder / "flyer.pdf").write_bytes(b"12345")
        assert watches[1].wake.wait(10)
    finally:
        observer.stop()
        observer.join(10)
