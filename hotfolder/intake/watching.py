"""Scans the folders of one printer, over and over, and offers what has settled.

The scan is the truth. An event of the file system only wakes the next scan earlier: shares send
none, queues overflow and an observer's thread can die; all that costs is one scan interval.
"""

import logging
import threading
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final

from watchdog.events import FileSystemEvent, FileSystemEventHandler
from watchdog.observers import Observer
from watchdog.observers.api import BaseObserver

from hotfolder.config.studio import Timing
from hotfolder.intake.candidate import Candidate
from hotfolder.intake.scanning import Away, Inbox, LeftAlone, Listing, scan
from hotfolder.intake.settling import ARRIVING, Settling, Waiting
from hotfolder.wording.shown import shown_name

logger = logging.getLogger(__name__)
_LEAST_PAUSE_S: Final = 0.1  # a burst of events wakes one scan, not a hundred


class FolderWatch:
    """What is known of one inbox from scan to scan, and what the log says about it.

    waiting: the files that have not settled. left: the entries that are no jobs. away: why the inbox could
    not be listed by the last scan; None where it could. scans: how many are done, and the files that had
    settled were offered. completed_s: when the last scan ended, on the monotonic clock.
    """

    def __init__(self, inbox: Inbox, timing: Timing) -> None:
        self.inbox = inbox
        self.waiting: tuple[Waiting, ...] = ()
        self.left: tuple[LeftAlone, ...] = ()
        self.completed_s: float | None = None
        self.scans = 0
        self.away: str | None = None
        self._settling = Settling(inbox, timing)
        self._logged: set[LeftAlone] = set()
        self._logged_waiting: set[tuple[str, str]] = set()

    @property
    def shown(self) -> str:
        """The inbox as it is called in messages."""
        product = f"/{shown_name(self.inbox.product)}" if self.inbox.product else ""
        return f"{shown_name(self.inbox.printer)}{product}"

    def scan_once(self) -> list[Candidate]:
        """Scan once: the files that have settled, none where the inbox is away."""
        listing = scan(self.inbox)
        now_s = time.monotonic()
        self.completed_s = now_s
        if isinstance(listing, Away):
            self._log_away(listing)
            return []
        if self.away is not None:
            logger.info("inbox of %s is available again", self.shown)
            self.away = None
        settled, waiting = self._settling.observe(listing, now_s)
        self.waiting, self.left = tuple(waiting), listing.left
        self._log_left(listing)
        self._log_waiting()
        return settled

    def fail(self) -> None:
        """The scan raised what nobody expected: shown like an inbox that is away, and tried again."""
        self.completed_s = time.monotonic()
        self.away = "an error in hotfolder itself; its log says which"

    def _log_away(self, away: Away) -> None:
        if self.away != away.reason:
            logger.warning("inbox of %s is not available, trying again: %s", self.shown, away.reason)
        self.away = away.reason

    def _log_waiting(self) -> None:
        """Say once of each file why it waits, where it has been quiet for long enough to be taken."""
        present = {(file.name, file.why) for file in self.waiting if file.why != ARRIVING}
        for name, why in sorted(present - self._logged_waiting):
            logger.info("inbox of %s: %s waits: %s", self.shown, shown_name(name), why)
        self._logged_waiting = present

    def _log_left(self, listing: Listing) -> None:
        """Say once of each entry why it is no job; again only if it went and came back."""
        present = set(listing.left)
        for entry in sorted(present - self._logged, key=lambda entry: entry.name):
            logger.info("inbox of %s: %s is not taken: %s", self.shown, shown_name(entry.name), entry.why)
        self._logged = present


class PrinterWatch(threading.Thread):
    """Scans the folders of one printer in a thread of its own, so that a slow share holds up nobody else.

    `offer` is called with each folder and its settled files after each scan, `returned` with the
    printer's name (in a tuple) when a folder that was away is back.
    """

    def __init__(
        self,
        folders: Sequence[FolderWatch],
        timing: Timing,
        offer: Callable[[Inbox, list[Candidate]], None],
        returned: Callable[[tuple[str, ...]], None],
        stopping: threading.Event,
    ) -> None:
        super().__init__(name=f"scan-{folders[0].inbox.printer}", daemon=True)
        self.folders = tuple(folders)
        self._timing = timing
        self._offer = offer
        self._returned = returned
        self._stopping = stopping
        self.wake = threading.Event()

    def run(self) -> None:
        """Scan until told to stop."""
        while not self._stopping.is_set():
            for folder in self.folders:
                try:
                    self._scan(folder)
                except Exception:  # the scan's net: a fault of ours must not end this printer's scans
                    logger.exception("error in hotfolder itself, looking into the inbox of %s", folder.shown)
                    folder.fail()
                    folder.scans += 1
            self.wake.wait(self._timing.scan_s)
            self.wake.clear()
            self._stopping.wait(_LEAST_PAUSE_S)

    def _scan(self, folder: FolderWatch) -> None:
        was_away = folder.away is not None
        settled = folder.scan_once()
        if was_away and folder.away is None:
            self._returned((folder.inbox.printer,))
        self._offer(folder.inbox, settled)
        folder.scans += 1

    @property
    def completed_s(self) -> float | None:
        """When the folder that was scanned longest ago was scanned, on the monotonic clock."""
        times = [folder.completed_s for folder in self.folders]
        known = [time_s for time_s in times if time_s is not None]
        return min(known) if len(known) == len(times) else None


class _Wake(FileSystemEventHandler):
    """Any event in a folder wakes its printer's scan; what the event says is of no interest."""

    def __init__(self, wake: threading.Event) -> None:
        self._wake = wake

    def on_any_event(self, event: FileSystemEvent) -> None:  # noqa: ARG002 - see the class
        """Wake the scan."""
        self._wake.set()


def watch_events(watches: Sequence[PrinterWatch]) -> BaseObserver | None:
    """Let events wake the scans; None, said once, where the system refuses."""
    observer = Observer()
    try:
        for watch in watches:
            for folder in watch.folders:
                if _is_here(folder.inbox.folder):
                    observer.schedule(_Wake(watch.wake), str(folder.inbox.folder))
        observer.start()
    except OSError as error:
        logger.warning(
            "no events (%s; if it says 'no space', raise fs.inotify.max_user_watches): "
            "files are found by scanning alone",
            error.strerror,
        )
        observer.unschedule_all()  # those that started would gather events that nobody reads, without end
        return None
    return observer


def _is_here(folder: Path) -> bool:
    """Whether the folder is there; a share whose connection is broken answers with an error."""
    try:
        return folder.is_dir()
    except OSError:
        return False
