"""`hotfolder tell`: what a daemon elsewhere does with a shared studio, told on this desktop.

A shared folder sends no events, so the studio-wide chain of the audit log is read again every few
seconds, from where it ended. Only what comes after the start is told, and nothing is written. A
share may go away for a night: that is said once, and what came meanwhile is told on its return.
"""

import logging
import os
import signal
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from types import FrameType
from typing import BinaryIO, Final

from rich.console import Console

from hotfolder.config.studio import Studio, load_studio
from hotfolder.desk.closed_jobs import summary_in
from hotfolder.desk.held import HeldItems
from hotfolder.desk.studio_view import StudioView, read_view
from hotfolder.errors import StorageError, UsageError
from hotfolder.host.desktop import Desktop
from hotfolder.host.journal import set_up_logging
from hotfolder.host.notices import Notices
from hotfolder.model.jobs import HeldNotice, JobId, JobNotice, Summary
from hotfolder.store.audit_log.audit import CHAIN, name_in
from hotfolder.store.audit_log.chained import Json, check_chain, text_of
from hotfolder.wording.nearest import choose

logger = logging.getLogger(__name__)

POLL_S: Final = 3.0
_ANCHOR_BYTES: Final = 4096  # several lines, each with hashes: no other file has the same
_TAIL_BYTES: Final = 65536
_TICK_S: Final = 0.5
_FAULT: Final = 3


def tell_studio(root: Path, printer: str | None) -> int:
    """Notify of what happens in the studio `root` until SIGINT or SIGTERM; the exit code."""
    studio = load_studio(root)
    names = [known.name for known in studio.printers]
    if printer is not None and printer not in names:
        raise UsageError(f"The studio has no printer '{printer}'. {choose(printer, names)}")
    set_up_logging(verbose=False, console=Console(stderr=True))
    stop = threading.Event()

    def end(number: int, frame: FrameType | None) -> None:  # noqa: ARG001 - the signal module's form
        stop.set()

    signal.signal(signal.SIGINT, end)
    signal.signal(signal.SIGTERM, end)
    # The studio's own switch is about the daemon's desktop; whoever starts this wants to be told.
    notices = Notices(replace(studio.notices, desktop=True), Desktop())
    # A share that hangs holds up the thread that reads it, but not the end of the program.
    follower = threading.Thread(
        target=follow,
        args=(studio, printer, notices.tell, stop, POLL_S, notices.tell_held),
        name="follow",
        daemon=True,
    )
    follower.start()
    while follower.is_alive() and not stop.wait(_TICK_S):
        pass
    notices.close()
    return 0 if stop.is_set() else _FAULT


def follow(
    studio: Studio,
    printer: str | None,
    tell: Callable[[JobNotice], None],
    stop: threading.Event,
    poll_s: float,
    tell_held: Callable[[Sequence[HeldNotice]], None] = lambda held: None,  # noqa: ARG005 - nobody is told
) -> None:
    """Hand each job that ends from now on to `tell`, and what lies still to `tell_held`, until `stop` is set.

    printer: only this one's; None for all.
    """
    held = HeldItems()
    chain = NewLines(studio.audit / CHAIN)
    begun = is_away = False
    while not stop.is_set():
        try:
            lines = chain.read(may_be_missing=studio.file.exists())
        except OSError as trouble:
            if not is_away:
                logger.warning(
                    "the studio cannot be reached (%s); waiting for it", trouble.strerror or trouble
                )
            is_away = True
        else:
            if not begun:
                logger.info("watching the jobs of %s from now on", studio.name)
            elif is_away:
                logger.info("the studio is back")
            begun, is_away = True, False
            for line in lines:
                notice = notice_of(studio, line)
                if notice is not None and printer in {None, notice.printer}:
                    logger.info("%s: %s %s", notice.printer, notice.name, notice.summary.verdict.words)
                    tell(notice)
            view = _view(studio)
            if view is not None:
                due = held.due(view, time.monotonic())
                tell_held([notice for notice in due if printer in {None, notice.printer}])
        stop.wait(poll_s)


def _view(studio: Studio) -> StudioView | None:
    """What the daemon saw last; None where none is at work, or where its folder is not for us to read."""
    try:
        return read_view(studio.hidden, datetime.now(UTC))
    except (StorageError, OSError):
        return None


def notice_of(studio: Studio, line: Mapping[str, Json]) -> JobNotice | None:
    """The notice of a line of the chain, with paths as this machine reaches them.

    None for a line without a verdict, such as one that closes a torn line.
    """
    summary = summary_in(line)
    try:
        return None if summary is None else _notice(studio, line, summary)
    except ValueError:  # a time or a name that nobody can read
        return None


def _notice(studio: Studio, line: Mapping[str, Json], summary: Summary) -> JobNotice:
    printer = text_of(line, "printer")
    folder = next((known.folder for known in studio.printers if known.name == printer), studio.root / printer)
    page = name_in(line, "report_html")
    return JobNotice(
        job=JobId(text_of(line, "job")),
        printer=printer,
        product=text_of(line, "product") or None,
        name=name_in(line),
        summary=summary,
        artwork=folder / text_of(line, "folder") / name_in(line, "delivered"),
        report=folder / text_of(line, "reports") / page if page else None,
        at=datetime.fromisoformat(text_of(line, "at")),
        previous_job=JobId(text_of(line, "previous_job")) or None,
        released_by=text_of(line, "released_by") or None,
    )


class NewLines:
    """The records that are appended to a chained file after the first reading.

    What was read last is looked at again each time: if it no longer stands there the file is
    another one, and reading goes on at its end. Inodes would not do, since a network share may
    give a file a new one with each connection.
    """

    def __init__(self, path: Path) -> None:
        self._path = path
        self._offset: int | None = None  # where the last whole line ends, in bytes
        self._anchor = b""  # what stands before that

    def read(self, *, may_be_missing: bool) -> list[Mapping[str, Json]]:
        """The records since the last reading; the first one only finds the end.

        may_be_missing: whether an absent file means that no job has ended yet. OSError where the
        file is away.
        """
        try:
            with self._path.open("rb") as file:
                if self._offset is None:
                    self._go_to_end(file)
                    return []
                file.seek(self._offset - len(self._anchor))
                content = file.read()
                if not content.startswith(self._anchor):
                    logger.info("the studio has a new audit log; jobs are told from here on")
                    self._go_to_end(file)
                    return []
        except FileNotFoundError:
            if not may_be_missing:
                raise
            self._offset = self._offset or 0
            return []
        return self._take(content.removeprefix(self._anchor))

    def _go_to_end(self, file: BinaryIO) -> None:
        start = max(0, file.seek(0, os.SEEK_END) - _TAIL_BYTES)
        file.seek(start)
        self._offset, self._anchor = start, b""
        self._take(file.read())

    def _take(self, content: bytes) -> list[Mapping[str, Json]]:
        """The records of the whole lines in `content`; a line without its newline is left for later."""
        whole = content[: content.rfind(b"\n") + 1]
        self._offset = (self._offset or 0) + len(whole)
        self._anchor = (self._anchor + whole)[-_ANCHOR_BYTES:]
        return [record.content for record in check_chain(whole).records]
