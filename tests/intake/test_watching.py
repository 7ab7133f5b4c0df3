"""The threads that scan, and the events that wake them: no file depends on an event."""

import ctypes
import errno
import logging
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Self

import pytest
from watchdog.observers.api import BaseObserver, EventEmitter

from hotfolder.config.studio import MARKER, Timing
from hotfolder.intake import watching
from hotfolder.intake.candidate import Candidate
from hotfolder.intake.scanning import Away, Inbox, Listing, scan
from hotfolder.intake.watching import FolderWatch, PrinterWatch, watch_events

TIMING = Timing(scan_s=0.01, quiet_s=0.01)
SELDOM = Timing(scan_s=600, quiet_s=0.01)  # whoever is looked into twice was woken
QUEUE_LENGTH = Path("/proc/sys/fs/inotify/max_queued_events")


def until(happened: Callable[[], bool]) -> None:
    give_up_s = time.monotonic() + 10
    while not happened():
        assert time.monotonic() < give_up_s
        time.sleep(0.01)


def lay_inbox(folder: Path) -> Inbox:
    folder.mkdir(parents=True)
    (folder / MARKER).touch()
    return Inbox("quay", None, folder)


def watch_of(*inboxes: Inbox, timing: Timing = TIMING) -> PrinterWatch:
    """The scans of these folders, to be woken; what they find is offered to nobody."""
    folders = [FolderWatch(inbox, timing) for inbox in inboxes]
    return PrinterWatch(folders, timing, lambda *_: None, lambda _: None, threading.Event())


@contextmanager
def events_of(*watches: PrinterWatch) -> Iterator[BaseObserver]:
    observer = watch_events(watches)
    assert observer is not None
    try:
        yield observer
    finally:
        observer.stop()
        observer.join(10)


class Scans:
    """One printer's scans in their thread, and what they say."""

    def __init__(self, *inboxes: Inbox, timing: Timing = TIMING) -> None:
        self.offered: list[str] = []
        self.returned: list[tuple[str, ...]] = []
        self._stopping = threading.Event()
        self.folders = [FolderWatch(inbox, timing) for inbox in inboxes]
        self.watch = PrinterWatch(self.folders, timing, self._offer, self.returned.append, self._stopping)

    def _offer(self, _: Inbox, candidates: list[Candidate]) -> None:
        self.offered.extend(candidate.name for candidate in candidates)

    def __enter__(self) -> Self:
        self.watch.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._stopping.set()
        self.watch.wake.set()
        self.watch.join(10)


# What one folder's scans say.


def test_a_file_is_named_when_it_has_settled_and_waits_till_then(tmp_path: Path) -> None:
    folder = FolderWatch(lay_inbox(tmp_path / "inbox"), Timing(scan_s=0.01, quiet_s=0.05))
    (folder.inbox.folder / "flyer.pdf").write_bytes(b"12345")
    assert folder.scan_once() == []
    assert [(file.name, file.why) for file in folder.waiting] == [("flyer.pdf", "still arriving")]
    time.sleep(0.06)
    assert folder.scan_once() == []  # quiet for long enough, and seen twice only
    assert [candidate.name for candidate in folder.scan_once()] == ["flyer.pdf"]
    assert folder.waiting == ()


def test_what_is_no_job_is_told_once_and_again_when_it_went_and_came_back(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO, "hotfolder")
    folder = FolderWatch(lay_inbox(tmp_path / "inbox"), TIMING)
    posters = folder.inbox.folder / "all my posters"
    posters.mkdir()
    folder.scan_once()
    folder.scan_once()
    assert caplog.text.count("all my posters is not taken: a folder") == 1
    posters.rmdir()
    folder.scan_once()
    posters.mkdir()
    folder.scan_once()
    assert caplog.text.count("all my posters is not taken: a folder") == 2


def test_a_file_that_waits_for_more_than_quiet_is_told_once(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO, "hotfolder")
    folder = FolderWatch(lay_inbox(tmp_path / "inbox"), Timing(scan_s=0.01, quiet_s=0))
    (folder.inbox.folder / "flyer.pdf").touch()
    for _ in range(5):
        assert folder.scan_once() == []
    assert caplog.text.count("inbox of quay: flyer.pdf waits: empty so far") == 1


def test_an_inbox_that_is_away_is_told_once_for_each_reason(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO, "hotfolder")
    folder = FolderWatch(lay_inbox(tmp_path / "inbox"), TIMING)
    (folder.inbox.folder / MARKER).unlink()
    folder.scan_once()
    folder.scan_once()
    assert caplog.text.count("not available, trying again: has no marker file") == 1
    folder.inbox.folder.rmdir()
    folder.scan_once()
    assert caplog.text.count("not available, trying again: cannot be opened: No such file") == 1
    folder.inbox.folder.mkdir()
    (folder.inbox.folder / MARKER).touch()
    folder.scan_once()
    folder.scan_once()
    assert caplog.text.count("inbox of quay is available again") == 1
    assert folder.away is None


# What one printer's thread does.


def test_a_fault_of_ours_in_a_scan_is_told_and_the_thread_goes_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    broken, sound = (lay_inbox(tmp_path / name) for name in ("broken", "sound"))
    (sound.folder / "flyer.pdf").write_bytes(b"12345")
    mended = threading.Event()

    def faulty(inbox: Inbox) -> Listing | Away:
        if inbox is broken and not mended.is_set():
            raise ZeroDivisionError("nobody expected this")
        return scan(inbox)

    monkeypatch.setattr(watching, "scan", faulty)
    with Scans(broken, sound) as scans:
        until(lambda: "flyer.pdf" in scans.offered)
        assert scans.folders[0].away is not None
        assert scans.watch.completed_s is not None  # one folder's fault is no reason to restart for all
        mended.set()
        until(lambda: scans.folders[0].away is None)
    assert "nobody expected this" in caplog.text


def test_a_printer_counts_as_scanned_when_the_last_of_its_folders_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    quick, slow = (lay_inbox(tmp_path / name) for name in ("quick", "slow"))
    listed = threading.Event()

    def slowly(inbox: Inbox) -> Listing | Away:
        if inbox is slow:
            assert listed.wait(10)
        return scan(inbox)

    monkeypatch.setattr(watching, "scan", slowly)
    with Scans(quick, slow) as scans:
        until(lambda: scans.folders[0].scans > 0)
        assert scans.watch.completed_s is None
        listed.set()
        until(lambda: scans.watch.completed_s is not None)


def test_a_folder_that_is_renamed_away_and_back_is_scanned_again(tmp_path: Path) -> None:
    inbox = lay_inbox(tmp_path / "inbox")
    aside = tmp_path / "aside"
    with Scans(inbox) as scans:
        until(lambda: scans.folders[0].scans > 0)
        inbox.folder.rename(aside)
        until(lambda: scans.folders[0].away is not None)
        assert scans.returned == []
        aside.rename(inbox.folder)
        until(lambda: scans.returned == [("quay",)])
        (inbox.folder / "flyer.pdf").write_bytes(b"12345")
        until(lambda: "flyer.pdf" in scans.offered)


def test_a_folder_in_the_place_of_the_one_that_was_there_is_scanned_without_events(tmp_path: Path) -> None:
    """A share that is mounted again is another folder, and what was asked for events was the old one."""
    inbox = lay_inbox(tmp_path / "inbox")
    with Scans(inbox) as scans, events_of(scans.watch):
        until(lambda: scans.folders[0].scans > 0)
        inbox.folder.rename(tmp_path / "aside")
        until(lambda: scans.folders[0].away is not None)
        lay_inbox(inbox.folder)
        (inbox.folder / "flyer.pdf").write_bytes(b"12345")
        until(lambda: "flyer.pdf" in scans.offered)


# What events add.


def test_a_dropped_file_wakes_the_scan(tmp_path: Path) -> None:
    inbox = lay_inbox(tmp_path / "inbox")
    with Scans(inbox, timing=SELDOM) as scans, events_of(scans.watch):
        until(lambda: scans.folders[0].scans == 1)
        (inbox.folder / "flyer.pdf").write_bytes(b"12345")
        until(lambda: [file.name for file in scans.folders[0].waiting] == ["flyer.pdf"])


def test_a_burst_of_events_wakes_few_scans(tmp_path: Path) -> None:
    with Scans(lay_inbox(tmp_path / "inbox"), timing=SELDOM) as scans:
        began_s = time.monotonic()
        while time.monotonic() < began_s + 0.5:
            scans.watch.wake.set()
            time.sleep(0.001)
        took_s = time.monotonic() - began_s
        assert 2 <= scans.folders[0].scans <= took_s / 0.1 + 2


def test_a_folder_that_is_renamed_away_and_back_still_wakes_its_scan(tmp_path: Path) -> None:
    inbox = lay_inbox(tmp_path / "inbox")
    watch = watch_of(inbox)
    with events_of(watch):
        inbox.folder.rename(tmp_path / "aside")
        (tmp_path / "aside").rename(inbox.folder)
        wait_for_silence(watch.wake)
        (inbox.folder / "flyer.pdf").write_bytes(b"12345")
        assert watch.wake.wait(10)


@pytest.mark.skipif(not QUEUE_LENGTH.exists(), reason="no inotify on this system")
def test_more_events_than_the_system_keeps_lose_no_file(tmp_path: Path) -> None:
    inbox = lay_inbox(tmp_path / "inbox")
    watch = watch_of(inbox)
    with events_of(watch):
        overflow(inbox.folder)
        until(lambda: "flyer.pdf" in [file.name for file in watch.folders[0].scan_once()])
        wait_for_silence(watch.wake)
        (inbox.folder / "poster.pdf").write_bytes(b"12345")
        assert watch.wake.wait(10)


def overflow(folder: Path) -> None:
    """Cause more events than the system keeps, none of which is read meanwhile, and lay a file at the end.

    Every name makes several events. A `PyDLL` keeps the interpreter's lock for as long as its call lasts.
    """
    files = int(QUEUE_LENGTH.read_text()) // 2
    names = f"seq -f '{folder}/%.0f.tmp' {files}"
    command = f"{names} | xargs touch; {names} | xargs rm; printf 12345 > '{folder}/flyer.pdf'"
    assert ctypes.PyDLL(None).system(command.encode()) == 0


def wait_for_silence(wake: threading.Event) -> None:
    """Wait until the events that are on their way have arrived."""
    give_up_s = time.monotonic() + 30
    wake.clear()
    while wake.wait(0.5):
        assert time.monotonic() < give_up_s
        wake.clear()


@pytest.mark.parametrize("refused", [errno.ENOSPC, errno.EMFILE])
def test_without_events_files_are_found_by_scanning_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture, refused: int
) -> None:
    first, second = (lay_inbox(tmp_path / name) for name in ("first", "second"))
    real = EventEmitter.start
    started: list[EventEmitter] = []

    def start(emitter: EventEmitter) -> None:
        if started:
            raise OSError(refused, "no more of them")
        real(emitter)
        started.append(emitter)

    monkeypatch.setattr(EventEmitter, "start", start)
    with Scans(first, second) as scans:
        assert watch_events([scans.watch]) is None
        assert caplog.text.count("no events (no more of them;") == 1
        assert [emitter.is_alive() for emitter in started] == [
            False
        ]  # it would fill a queue that nobody reads
        for inbox in (first, second):
            (inbox.folder / f"{inbox.folder.name}.pdf").write_bytes(b"12345")
        until(lambda: {"first.pdf", "second.pdf"} <= set(scans.offered))


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
    watches = [watch_of(broken), watch_of(sound)]
    with events_of(*watches):
        (sound.folder / "flyer.pdf").write_bytes(b"12345")
        assert watches[1].wake.wait(10)
