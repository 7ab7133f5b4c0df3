"""The daemon: start, stop, recovery, fairness over printers, word to the service manager.

Threads: one scans each printer's folders, a few work on jobs (each with a child process), and
the main thread only waits, feeds the service manager's watchdog and carries out requests.
"""

import logging
import signal
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from types import FrameType
from typing import Final

from hotfolder.config.studio import Printer, Studio
from hotfolder.desk.desk import Desk
from hotfolder.desk.dispatch import Dispatch, WaitingJob, Work
from hotfolder.desk.held import HeldItems
from hotfolder.desk.studio_view import WaitReasons, remove_view, write_view
from hotfolder.errors import DaemonStoppingError, StorageError, StudioBusyError
from hotfolder.host.systemd import ServiceManager
from hotfolder.intake.candidate import Candidate
from hotfolder.intake.rounds import Round
from hotfolder.intake.scanning import Inbox, inboxes_of
from hotfolder.intake.watching import FolderWatch, PrinterWatch, watch_events
from hotfolder.model.jobs import HeldNotice
from hotfolder.wording.shown import shown_name

logger = logging.getLogger(__name__)
WORKERS: Final = 3
_EACH: Final = WORKERS - 1  # one printer's files, however long they take, leave a worker to the others
_TICK_S: Final = 0.25
_STATUS_S: Final = 5.0
_VIEW_S: Final = 3.0
_LATE_SCANS: Final = 5  # an inbox is late when it has missed this many scans...
_LATE_S: Final = 30.0  # ... and at least this long: a slow share is not a dead one


class Daemon:
    """Runs one studio. `stop_now` ends the children that are still at work.

    keep_lock: sees that the studio is still ours; raises StudioBusyError where it is not. tell_held: tells
    people what lies still and needs somebody to look; never raises and never waits.
    """

    def __init__(
        self,
        studio: Studio,
        desk: Desk,
        service: ServiceManager,
        stop_now: threading.Event,
        keep_lock: Callable[[], None] = lambda: None,
        tell_held: Callable[[Sequence[HeldNotice]], None] = lambda held: None,  # noqa: ARG005 - nobody is told
    ) -> None:
        self._studio = studio
        self._desk = desk
        self._service = service
        self._stop_now = stop_now
        self._keep_lock = keep_lock
        self._tell_held = tell_held
        self._held = HeldItems()
        self._stopping = threading.Event()
        self._dispatch = Dispatch(_EACH)
        self._watches = tuple(self._watch(printer) for printer in studio.printers)
        self._workers = tuple(
            threading.Thread(target=self._work, name=f"work-{number}", daemon=True)
            for number in range(WORKERS)
        )
        self._finished = 0
        self._reasons = WaitReasons()
        self._viewed_s: float | None = None
        self._refused_view = ""
        self._fed_s = 0.0

    def run(self, *, once: bool) -> tuple[str, ...]:
        """Run until SIGTERM or SIGINT, or with `once` until all is handled: what was left, a line each."""
        with self._signals():
            self._recover()
            observer = None if once else watch_events(self._watches)
            for thread in (*self._watches, *self._workers):
                thread.start()
            self._wait_for_first_scans()
            self._service.ready()
            self._loop(self._round() if once else lambda: False)
            self._stop()
            self._forget_view()
            if observer is not None:
                observer.stop()
                observer.join(_TICK_S)
        return self._left()

    # What the main thread does.

    @contextmanager
    def _signals(self) -> Iterator[None]:
        def stop(number: int, frame: FrameType | None) -> None:  # noqa: ARG001 - the signal module's form
            self._stopping.set()

        before = {number: signal.signal(number, stop) for number in (signal.SIGTERM, signal.SIGINT)}
        try:
            yield
        finally:
            for number, handler in before.items():
                signal.signal(number, handler)

    def _recover(self) -> None:
        self._service.extend(_LATE_S)
        self._go_on()

    def _wait_for_first_scans(self) -> None:
        until_s = time.monotonic() + _LATE_S
        while time.monotonic() < until_s and not self._stopping.is_set():
            if all(watch.completed_s is not None for watch in self._watches):
                return
            self._stopping.wait(0.02)

    def _loop(self, finished: Callable[[], bool]) -> None:
        while not self._stopping.is_set() and not finished():
            try:
                self._feed_watchdog()
                self._keep_lock()
                self._write_view()
                self._desk.keep_records()
                for job in self._desk.carry_out_requests():
                    self._dispatch.offer(WaitingJob(self._desk.printer_of(job), job))
            except StudioBusyError as error:
                logger.critical("%s: this one stops", error)
                self._stopping.set()
            except StorageError as error:
                logger.warning("%s", error)
            except Exception:  # the main loop: a fault of ours must not end the daemon
                logger.exception("error in hotfolder itself, in the main loop; it goes on")
            self._stopping.wait(_TICK_S)

    def _feed_watchdog(self) -> None:
        """Tell the service manager that we live, but only if every inbox is being scanned."""
        now_s = time.monotonic()
        late_s = max(_LATE_SCANS * self._studio.timing.scan_s, _LATE_S)
        if any(watch.completed_s is None or now_s - watch.completed_s > late_s for watch in self._watches):
            return
        if now_s - self._fed_s >= min(self._service.watchdog_interval_s or _STATUS_S, _STATUS_S):
            self._service.alive()
            waiting, in_hand = self._dispatch.counts
            self._service.status(
                f"{len(self._watches)} printers, {waiting} waiting, {in_hand} in hand, {self._finished} done"
            )
            self._fed_s = now_s

    def _write_view(self) -> None:
        """Write down what we see, for `hotfolder status`; where that is refused, it is told once."""
        now_s = time.monotonic()
        if self._viewed_s is not None and now_s - self._viewed_s < min(_VIEW_S, self._studio.timing.scan_s):
            return
        self._viewed_s = now_s
        folders = [folder for watch in self._watches for folder in watch.folders]
        view = self._reasons.view(folders, self._dispatch.queued)
        self._tell_held(self._held.due(view, now_s))
        try:
            write_view(self._studio.hidden, view)
        except StorageError as error:
            if self._refused_view != str(error):
                logger.warning("what 'hotfolder status' shows cannot be written: %s", error)
            self._refused_view = str(error)

    def _forget_view(self) -> None:
        with suppress(StorageError):
            remove_view(self._studio.hidden)

    def _stop(self) -> None:
        """Take nothing new; let the jobs that are worked on finish in time, else leave them in work."""
        self._service.stopping()
        self._stopping.set()
        self._dispatch.close()
        until_s = time.monotonic() + self._studio.timing.stop_s
        for worker in self._workers:
            worker.join(max(0.0, until_s - time.monotonic()))
        self._stop_now.set()
        for thread in (*self._workers, *self._watches):
            thread.join(_LATE_S if thread in self._workers else 1.0)

    def _round(self) -> Callable[[], bool]:
        """For `--once`: whether everything that lay there has been handled."""
        folders = [folder for watch in self._watches for folder in watch.folders]
        one = Round(folders, self._studio.timing, time.monotonic())
        return lambda: one.is_over(time.monotonic(), idle=self._dispatch.idle)

    # What the scanning and working threads do.

    def _watch(self, printer: Printer) -> PrinterWatch:
        folders = [FolderWatch(inbox, self._studio.timing) for inbox in inboxes_of(printer)]
        return PrinterWatch(folders, self._studio.timing, self._offer, self._go_on, self._stopping)

    def _offer(self, inbox: Inbox, candidates: list[Candidate]) -> None:
        self._dispatch.keep_only(inbox.printer, inbox.product, candidates)
        for candidate in candidates:
            self._dispatch.offer(candidate)

    def _work(self) -> None:
        while not self._stopping.is_set():
            work = self._dispatch.next(time.monotonic(), _TICK_S)
            if work is not None:
                self._handle(work)

    def _handle(self, work: Work) -> None:
        """One piece of work; whatever goes wrong with it, the next one is taken up."""
        try:
            if isinstance(work, Candidate):
                job = self._desk.take(work)
                self._reasons.file_goes_on(work)
                if job is None:
                    self._dispatch.done(work)
                    return
                claimed = WaitingJob(work.printer, job)
                self._dispatch.becomes(work, claimed)
                work = claimed
            self._reasons.job_goes_on(work.job)
            onward = self._desk.work(work.job)
            self._finished += onward.ended
            self._dispatch.done(work)
            for job in onward.again:
                self._reasons.job_waits(work.printer, job, onward.why)
                self._dispatch.pause(WaitingJob(work.printer, job), time.monotonic(), onward.wait_s)
        except DaemonStoppingError:
            self._dispatch.done(work)
        except StorageError as error:
            self._put_off(work, str(error))
            if self._dispatch.pause(work, time.monotonic()):
                logger.warning("%s; it is tried again", error)
        except Exception:  # the job loop: a fault of ours must not stop the daemon
            logger.exception("error in hotfolder itself; this work is kept and tried again: %s", work)
            self._put_off(work, "an error in hotfolder itself; its log says which")
            self._dispatch.pause(work, time.monotonic())

    def _put_off(self, work: Work, why: str) -> None:
        if isinstance(work, Candidate):
            self._reasons.file_waits(work, why)
        else:
            self._reasons.job_waits(work.printer, work.job, why)

    def _go_on(self, printers: tuple[str, ...] | None = None) -> None:
        """Take up the jobs that lie in work: at start, and when a share has come back."""
        for job in self._desk.recover(printers):
            logger.info("job=%s goes on where it was left", job)
            self._dispatch.offer(WaitingJob(self._desk.printer_of(job), job))

    def _left(self) -> tuple[str, ...]:
        lines = []
        for watch in self._watches:
            for folder in watch.folders:
                if folder.away is not None:
                    lines.append(f"{folder.shown}: not available: {folder.away}")
                entries = [(waiting.name, waiting.why) for waiting in folder.waiting]
                entries += [(left.name, left.why) for left in folder.left]
                lines += [f"{folder.shown}: {shown_name(name)}: {why}" for name, why in sorted(entries)]
        return tuple(lines)
