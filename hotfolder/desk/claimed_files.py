"""Claimed files that somebody may still write into: waited for before they are copied, kept after delivery.

A claim is a rename, so a writer goes on writing into the claimed file. What it writes later must neither be
lost nor be delivered by halves.
"""

import threading
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from enum import Enum

from hotfolder.config.studio import Timing
from hotfolder.intake.unfinished import why_unfinished
from hotfolder.intake.writers import Writers, writers_of
from hotfolder.model.jobs import JobId
from hotfolder.store.copies import sha256_of
from hotfolder.store.jobs import Job
from hotfolder.store.moves import Fingerprint, status_of

KEPT = "kept, in case its writer goes on"  # why a delivered file's job is still in work
_LOOKS = 15  # how often a kept file is looked at, in all


class ClaimedFiles:
    """For how long claimed files have been as they are. For any thread; `clock` is monotonic, in seconds."""

    def __init__(self, timing: Timing, clock: Callable[[], float] = time.monotonic) -> None:
        self._timing = timing
        self._clock = clock
        self._lock = threading.Lock()
        self._since: dict[JobId, tuple[tuple[int, int], float]] = {}

    def has_waited(self, job: JobId, seen: Fingerprint) -> None:
        """The file was waited for in the inbox already."""
        with self._lock:
            self._since[job] = (_key(seen), self._clock() - self._timing.unfinished_s)

    def why_waiting(self, job: Job, seen: Fingerprint) -> str | None:
        """Why the claimed file of `job`, which looks as `seen`, is not copied yet; None where it may be."""
        with self._lock:
            key, since_s = self._since.get(job.state.job, (None, 0.0))
            if key != _key(seen):
                since_s = self._clock()
                self._since[job.state.job] = (_key(seen), since_s)
        unfinished = why_unfinished(job.claimed)
        if unfinished is None:
            return None
        if not unfinished.held and self._clock() - since_s >= self._timing.unfinished_s:
            return None
        return unfinished.why

    def forget(self, job: JobId) -> None:
        """The job is done with."""
        with self._lock:
            self._since.pop(job, None)


def is_unwritten_since(job: Job, seen: Fingerprint) -> bool:
    """Whether the claimed file looks as `seen`, and nobody can write into it any more."""
    now = status_of(job.claimed)
    return (
        writers_of(job.claimed) is Writers.NONE
        and now is not None
        and _key(Fingerprint.of(now)) == _key(seen)
    )


class KeptLook(Enum):
    """What a look at a kept file says."""

    WAITS = "its time is not over, or somebody has it open for writing"
    SAME = "it is what was delivered, and its time is over"
    CHANGED = "it is no longer what was delivered"


def kept_until(now: datetime, timing: Timing) -> str:
    """Until when a file that was delivered just now is kept, as a job's state has it."""
    return (now.astimezone(UTC) + timedelta(seconds=timing.keep_s)).isoformat()


def look_again(job: Job, now: datetime, timing: Timing) -> KeptLook:
    """Compare a kept file with what was delivered."""
    status = status_of(job.claimed)
    if status is None:  # removed by somebody; its bytes were delivered
        return KeptLook.SAME
    changed = status.st_size != job.state.seen.size
    if not changed and status.st_mtime_ns != job.state.seen.mtime_ns:
        changed = sha256_of(job.claimed) != job.state.sha256
    if changed:
        return KeptLook.CHANGED
    if writers_of(job.claimed) is Writers.SOME or 0 < _left_s(job, now) <= timing.keep_s:
        return KeptLook.WAITS
    # The time of a file on a share may be older than its bytes; these alone decide in the end.
    return KeptLook.SAME if sha256_of(job.claimed) == job.state.sha256 else KeptLook.CHANGED


def next_look_s(job: Job, now: datetime, timing: Timing) -> float:
    """In how many seconds a kept file is to be looked at again."""
    usual_s = max(timing.quiet_s, timing.keep_s / _LOOKS)
    left_s = _left_s(job, now)
    return min(usual_s, left_s) if left_s > 0 else usual_s


def _left_s(job: Job, now: datetime) -> float:
    until = job.state.kept_until
    return 0.0 if until is None else (datetime.fromisoformat(until) - now).total_seconds()


def _key(seen: Fingerprint) -> tuple[int, int]:
    return seen.size, seen.mtime_ns
