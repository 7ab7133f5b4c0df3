"""One round over all inboxes: when everything that lay there has been handled, for `run --once`.

It goes by scans that are done, not by time alone: a slow share may take a minute to be listed.
"""

from collections.abc import Sequence
from typing import Final

from hotfolder.config.studio import Timing
from hotfolder.intake.settling import SCANS
from hotfolder.intake.watching import FolderWatch

_GIVEN_UP_S: Final = 600.0  # an inbox whose listing takes longer than this is not waited for


class Round:
    """Whether a round is over. All times are monotonic, in seconds."""

    def __init__(self, folders: Sequence[FolderWatch], timing: Timing, now_s: float) -> None:
        self._folders = tuple(folders)
        self._timing = timing
        self._began_s = now_s
        self._quiet_since_s: float | None = None
        self._begin()

    def is_over(self, now_s: float, *, idle: bool) -> bool:
        """Whether all is handled. idle: nobody works, and nothing that was offered waits.

        A file that will be taken after a certain time is waited for; one that may wait without end is not.
        """
        if not idle or any(waiting.ends for folder in self._folders for waiting in folder.waiting):
            self._begin()
            return False
        done = [
            folder.scans - before
            for folder, before in zip(self._folders, self._before, strict=True)
            if not self._is_given_up(folder, now_s)
        ]
        if min(done, default=SCANS + 1) < 1:
            return False
        if self._quiet_since_s is None:
            self._quiet_since_s = now_s
        patience_s = max(self._timing.quiet_s, SCANS * self._timing.scan_s) + self._timing.scan_s
        return min(done, default=SCANS + 1) > SCANS and now_s - self._quiet_since_s > patience_s

    def _begin(self) -> None:
        self._before = [folder.scans for folder in self._folders]
        self._quiet_since_s = None

    def _is_given_up(self, folder: FolderWatch, now_s: float) -> bool:
        last_s = self._began_s if folder.completed_s is None else folder.completed_s
        return now_s - last_s > _GIVEN_UP_S
