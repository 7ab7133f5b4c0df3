"""What lies still and needs somebody: a dropped folder, a file or a job that waits, an inbox that is away.

People are told of each once, after it has lain longer than what passes by itself; again only if it went and
came back.
"""

from collections.abc import Iterator
from typing import Final

from hotfolder.desk.claimed_files import KEPT
from hotfolder.desk.studio_view import QUEUED, StudioView
from hotfolder.intake.bycatch import why_left_alone
from hotfolder.intake.settling import ARRIVING
from hotfolder.model.jobs import HeldNotice

PATIENCE_S: Final = 120.0
_PASSING: Final = frozenset({ARRIVING, QUEUED, KEPT})


class HeldItems:
    """What was seen to lie still, since when, and what people were told of it.

    patience_s: how long something has to wait until people are told; of what is left alone for good at once.
    """

    def __init__(self, patience_s: float = PATIENCE_S) -> None:
        self._patience_s = patience_s
        self._since_s: dict[HeldNotice, float] = {}
        self._told: set[HeldNotice] = set()

    def due(self, view: StudioView, now_s: float) -> tuple[HeldNotice, ...]:
        """What people are to be told of now. now_s: seconds on any clock that only goes on."""
        patience_s = dict(self._lying_still(view))
        self._told &= patience_s.keys()
        self._since_s = {notice: self._since_s.get(notice, now_s) for notice in patience_s}
        due = tuple(
            notice
            for notice, since_s in self._since_s.items()
            if notice not in self._told and now_s - since_s >= patience_s[notice]
        )
        self._told.update(due)
        return due

    def _lying_still(self, view: StudioView) -> Iterator[tuple[HeldNotice, float]]:
        """Each, and how long people are not told of it; without what systems and programs leave behind."""
        for entry in view.left:
            if why_left_alone(entry.name) is None:
                yield HeldNotice(entry.printer, entry.product, entry.name, entry.why), 0.0
        for entry in (*view.away, *view.waiting):
            if entry.why not in _PASSING:
                yield HeldNotice(entry.printer, entry.product, entry.name, entry.why), self._patience_s
        for job in view.jobs:
            if job.why and job.why not in _PASSING:
                yield HeldNotice(job.printer, None, f"job {job.job}", job.why), self._patience_s
