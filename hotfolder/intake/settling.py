"""Whether a file in an inbox is whole: the same over several scans, and quiet for a while.

Events cannot tell (they do not exist on shares), and no single scan can. A file has settled when
inode, size and times are equal over `SCANS` scans and the quiet time has gone by on the monotonic
clock. A file that still grows is waited for without end, and so is one that somebody has open for
writing. An empty file, one that we may not read and one that does not end as its format ends wait
longer, for what is missing often comes last.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from hotfolder.config.studio import Timing
from hotfolder.intake.candidate import Candidate
from hotfolder.intake.scanning import Inbox, Listing, SeenFile
from hotfolder.intake.unfinished import Unfinished, why_unfinished

SCANS: Final = 3
ARRIVING: Final = "still arriving"


@dataclass(frozen=True, slots=True)
class _Watched:
    seen: SeenFile
    since_s: float
    scans: int


@dataclass(frozen=True, slots=True)
class Waiting:
    """A file that has not settled yet, and why it waits.

    quiet_s: for how long it has been seen as it is. ends: whether it is taken after a certain time, if it
    stays as it is.
    """

    name: str
    why: str
    quiet_s: float
    ends: bool


class Settling:
    """What is known of the files of one inbox from scan to scan."""

    def __init__(
        self,
        inbox: Inbox,
        timing: Timing,
        ask: Callable[[Path], Unfinished | None] = why_unfinished,
    ) -> None:
        self._inbox = inbox
        self._timing = timing
        self._ask = ask
        self._watched: Mapping[str, _Watched] = {}

    def observe(self, listing: Listing, now_s: float) -> tuple[list[Candidate], list[Waiting]]:
        """Take in one scan made at `now_s` (monotonic): the files that have settled, and the others.

        A settled file is named again by each later scan until it has left the inbox.
        """
        self._watched = {seen.name: self._follow(seen, now_s) for seen in listing.files}
        settled: list[Candidate] = []
        waiting: list[Waiting] = []
        for watched in self._watched.values():
            file_waits = self._why_waiting(watched, now_s)
            if file_waits is None:
                settled.append(self._candidate(watched.seen))
            else:
                waiting.append(file_waits)
        return settled, waiting

    def _follow(self, seen: SeenFile, now_s: float) -> _Watched:
        before = self._watched.get(seen.name)
        if before is None or before.seen != seen:
            return _Watched(seen, now_s, 1)
        return _Watched(seen, before.since_s, before.scans + 1)

    def _why_waiting(self, watched: _Watched, now_s: float) -> Waiting | None:
        quiet_s = now_s - watched.since_s

        def waiting(why: str, *, ends: bool = True) -> Waiting:
            return Waiting(watched.seen.name, why, quiet_s, ends)

        if watched.scans < SCANS or quiet_s < self._timing.quiet_s:
            return waiting(ARRIVING, ends=False)
        if watched.seen.size == 0 and quiet_s < self._timing.empty_s:
            return waiting("empty so far")
        if not watched.seen.readable and quiet_s < self._timing.unreadable_s:
            return waiting("hotfolder has no permission to read it")
        unfinished = self._ask(self._inbox.folder / watched.seen.name)
        if unfinished is None or (not unfinished.held and quiet_s >= self._timing.unfinished_s):
            return None
        return waiting(unfinished.why, ends=not unfinished.held)

    def _candidate(self, seen: SeenFile) -> Candidate:
        return Candidate(
            printer=self._inbox.printer,
            product=self._inbox.product,
            folder=self._inbox.folder,
            name=seen.name,
            device=seen.device,
            inode=seen.inode,
            size=seen.size,
            mtime_ns=seen.mtime_ns,
        )
