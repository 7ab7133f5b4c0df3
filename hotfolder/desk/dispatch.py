"""Which work is next: settled files and waiting jobs, handed to the threads in turn for each printer.

A printer that drops a thousand files does not make the others wait: the next piece of work
comes from the printer that was served longest ago, and a printer whose files take long never holds
every worker. Nothing is handed out twice at a time.
"""

import sys
import threading
from collections import Counter, OrderedDict
from collections.abc import Hashable
from dataclasses import dataclass
from typing import Final

from hotfolder.intake.candidate import Candidate
from hotfolder.model.jobs import JobId

FIRST_PAUSE_S: Final = 5.0
LONGEST_PAUSE_S: Final = 300.0


@dataclass(frozen=True, slots=True)
class WaitingJob:
    """A job that lies in work and has to go on: found at start, or refused by the file system."""

    printer: str
    job: JobId


Work = Candidate | WaitingJob


@dataclass(frozen=True, slots=True)
class _Pause:
    until_s: float
    length_s: float


class Dispatch:
    """The queue between the scanning threads and the working threads.

    most_each: how many pieces of work of one printer may be in hand at a time.
    """

    def __init__(self, most_each: int = sys.maxsize) -> None:
        self._most_each = most_each
        self._changed = threading.Condition()
        self._queues: OrderedDict[str, OrderedDict[Hashable, Work]] = OrderedDict()
        self._in_hand: dict[Hashable, str] = {}  # with the printer
        self._pauses: dict[Hashable, _Pause] = {}
        self._closed = False

    def offer(self, work: Work) -> None:
        """Take in `work` unless it is waiting or in hand already."""
        key = key_of(work)
        with self._changed:
            if key in self._in_hand or self._closed:
                return
            self._queues.setdefault(work.printer, OrderedDict()).setdefault(key, work)
            self._changed.notify()

    def next(self, now_s: float, patience_s: float) -> Work | None:
        """The next piece of work, taken in hand; None after `patience_s` or when closed."""
        with self._changed:
            work = self._pick(now_s)
            if work is None and not self._closed:
                self._changed.wait(patience_s)
                work = self._pick(now_s)
            return work

    def _pick(self, now_s: float) -> Work | None:
        if self._closed:
            return None
        served = Counter(self._in_hand.values())
        for printer in list(self._queues):
            if served[printer] >= self._most_each:
                continue
            queue = self._queues[printer]
            for key, work in queue.items():
                pause = self._pauses.get(key)
                if key in self._in_hand or (pause is not None and pause.until_s > now_s):
                    continue
                del queue[key]
                if queue:
                    self._queues.move_to_end(printer)
                else:
                    del self._queues[printer]
                self._in_hand[key] = work.printer
                return work
        return None

    def becomes(self, work: Candidate, job: WaitingJob) -> None:
        """A candidate in hand has been claimed: from now on its job is what is in hand."""
        with self._changed:
            self._in_hand[key_of(job)] = job.printer
        self.done(work)

    def done(self, work: Work) -> None:
        """`work` is out of hand and will not come again by itself."""
        key = key_of(work)
        with self._changed:
            self._in_hand.pop(key, None)
            self._pauses.pop(key, None)
            self._changed.notify_all()

    def pause(self, work: Work, now_s: float, least_s: float = FIRST_PAUSE_S) -> bool:
        """Put `work` back, to be tried again after `least_s`, doubled each time; True the first time."""
        key = key_of(work)
        with self._changed:
            before = self._pauses.get(key)
            length_s = least_s if before is None else min(before.length_s * 2, LONGEST_PAUSE_S)
            self._pauses[key] = _Pause(now_s + length_s, length_s)
            self._in_hand.pop(key, None)
            self._queues.setdefault(work.printer, OrderedDict())[key] = work
            return before is None

    def keep_only(self, printer: str, product: str | None, candidates: list[Candidate]) -> None:
        """Forget waiting candidates of this folder that the last scan did not see any more."""
        present = {key_of(candidate) for candidate in candidates}
        with self._changed:
            queue = self._queues.get(printer)
            for key, work in list(queue.items()) if queue else ():
                if isinstance(work, Candidate) and work.product == product and key not in present:
                    del self._queues[printer][key]
                    self._pauses.pop(key, None)

    @property
    def idle(self) -> bool:
        """Whether nothing waits and nothing is in hand; paused work does not count."""
        with self._changed:
            waiting = any(key not in self._pauses for queue in self._queues.values() for key in queue)
            return not waiting and not self._in_hand

    @property
    def counts(self) -> tuple[int, int]:
        """How many pieces of work wait, and how many are in hand."""
        with self._changed:
            return sum(len(queue) for queue in self._queues.values()), len(self._in_hand)

    @property
    def queued(self) -> tuple[Candidate, ...]:
        """The files that wait to be taken."""
        with self._changed:
            every = (work for queue in self._queues.values() for work in queue.values())
            return tuple(work for work in every if isinstance(work, Candidate))

    def close(self) -> None:
        """Hand out nothing more; wakes everybody who waits."""
        with self._changed:
            self._closed = True
            self._changed.notify_all()


def key_of(work: Work) -> Hashable:
    """What makes two pieces of work the same: the job, or the file's place and inode."""
    if isinstance(work, WaitingJob):
        return work.job
    return (work.printer, work.product, work.name, work.device, work.inode)
