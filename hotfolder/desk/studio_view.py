"""What the daemon sees of its inboxes and jobs, written down for `hotfolder status`.

One small file in the studio's hidden folder, replaced whole every few seconds. It is a courtesy: nothing
goes by it, and where it is missing or old no daemon is at work.
"""

import json
import os
import socket
import threading
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

from hotfolder.intake.candidate import Candidate
from hotfolder.intake.watching import FolderWatch
from hotfolder.model.jobs import JobId
from hotfolder.store.copies import read_small
from hotfolder.store.moves import remove
from hotfolder.store.writing import replace_file

VIEW_FILE: Final = "view.json"
QUEUED: Final = "its turn comes next"
_MOST_BYTES: Final = 4 << 20
_MOST_ENTRIES: Final = 2000
_FRESH: Final = timedelta(seconds=45)  # it is written every few seconds, and a disk may be slow


@dataclass(frozen=True, slots=True)
class InboxEntry:
    """A file that waits or a thing that is left alone, in the inbox of a printer or of its product."""

    printer: str
    product: str | None
    name: str
    why: str


@dataclass(frozen=True, slots=True)
class InWork:
    """A job in work, and why it waits; nothing where it is being worked on."""

    printer: str
    job: str
    why: str


@dataclass(frozen=True, slots=True)
class StudioView:
    """All that the daemon sees.

    at: ISO 8601, UTC. process, host: the daemon's. away: inboxes that cannot be looked into.
    """

    at: str
    process: int
    host: str
    waiting: tuple[InboxEntry, ...]
    left: tuple[InboxEntry, ...]
    away: tuple[InboxEntry, ...]
    jobs: tuple[InWork, ...]


class WaitReasons:
    """Why files and jobs wait, as the threads say it. For any thread."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._jobs: dict[JobId, InWork] = {}
        self._files: dict[tuple[str, str | None, str], str] = {}

    def job_waits(self, printer: str, job: JobId, why: str) -> None:
        """The job is to be taken up later."""
        with self._lock:
            self._jobs[job] = InWork(printer, job, why)

    def job_goes_on(self, job: JobId) -> None:
        """The job is being worked on, or done."""
        with self._lock:
            self._jobs.pop(job, None)

    def file_waits(self, file: Candidate, why: str) -> None:
        """The file could not be taken."""
        with self._lock:
            self._files[file.printer, file.product, file.name] = why

    def file_goes_on(self, file: Candidate) -> None:
        """The file is taken."""
        with self._lock:
            self._files.pop((file.printer, file.product, file.name), None)

    def view(self, folders: Iterable[FolderWatch], queued: Iterable[Candidate]) -> StudioView:
        """What is known now. queued: the files that have settled, and were not taken yet."""
        waiting: list[InboxEntry] = []
        left: list[InboxEntry] = []
        away: list[InboxEntry] = []
        for folder in folders:
            printer, product = folder.inbox.printer, folder.inbox.product
            if folder.away is not None:
                away.append(InboxEntry(printer, product, "", folder.away))
            waiting += [InboxEntry(printer, product, file.name, file.why) for file in folder.waiting]
            left += [InboxEntry(printer, product, entry.name, entry.why) for entry in folder.left]
        with self._lock:
            jobs = tuple(self._jobs.values())
            for file in queued:
                why = self._files.get((file.printer, file.product, file.name), QUEUED)
                waiting.append(InboxEntry(file.printer, file.product, file.name, why))
        return StudioView(
            at=datetime.now(UTC).isoformat(),
            process=os.getpid(),
            host=socket.gethostname(),
            waiting=tuple(waiting[:_MOST_ENTRIES]),
            left=tuple(left[:_MOST_ENTRIES]),
            away=tuple(away[:_MOST_ENTRIES]),
            jobs=jobs[:_MOST_ENTRIES],
        )


def write_view(hidden: Path, view: StudioView) -> None:
    """Write the view into its file. StorageError where the file system refuses."""
    replace_file(hidden / VIEW_FILE, json.dumps(asdict(view), indent=1).encode("ascii") + b"\n")


def remove_view(hidden: Path) -> None:
    """The daemon stops: what it saw is of no use any more. StorageError as above."""
    remove(hidden / VIEW_FILE)


def read_view(hidden: Path, now: datetime) -> StudioView | None:
    """What a daemon at work saw last; None where none is. StorageError where it cannot be read."""
    if not (hidden / VIEW_FILE).exists():
        return None
    try:
        content = json.loads(read_small(hidden / VIEW_FILE, _MOST_BYTES) or b"")
        lists = {
            key: tuple(InboxEntry(**entry) for entry in content[key]) for key in ("waiting", "left", "away")
        }
        jobs = tuple(InWork(**job) for job in content["jobs"])
        view = StudioView(content["at"], content["process"], content["host"], **lists, jobs=jobs)
        age = now - datetime.fromisoformat(view.at)
    except (ValueError, KeyError, TypeError):
        return None
    return view if -_FRESH < age < _FRESH else None
