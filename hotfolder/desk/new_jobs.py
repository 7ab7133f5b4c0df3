"""Begins jobs: for a file in an inbox, or for newer bytes of a file that was delivered already."""

import logging
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime

from hotfolder.config.studio import Printer, Timing
from hotfolder.desk.claimed_files import kept_until
from hotfolder.desk.former_jobs import FormerJobs
from hotfolder.model.jobs import JobId
from hotfolder.store.audit_log.audit import AuditLog
from hotfolder.store.jobs import Job, JobState, Step, new_job_id
from hotfolder.store.moves import Fingerprint, take_in
from hotfolder.store.work import WorkFolders

logger = logging.getLogger(__name__)


class NewJobs:
    """Lays the work folders of new jobs. For any thread, but one a job."""

    def __init__(
        self,
        work: WorkFolders,
        audit: AuditLog,
        former: FormerJobs,
        clock: Callable[[], datetime],
        timing: Timing,
    ) -> None:
        self._work = work
        self._audit = audit
        self._former = former
        self._clock = clock
        self._timing = timing
        self._to_offer: set[JobId] = set()  # follow-up jobs that nobody was told of yet

    def lay(self, printer: Printer, product: str | None, name: str, seen: Fingerprint) -> Job:
        """A new job for a file of an inbox, which names the last one of this name. StorageError."""
        while True:
            state = self._state(self._id(printer), printer, product, name, seen)
            previous = self._former.last_of_name(printer.name, name)
            job = self._work.lay(replace(state, previous_job=previous))
            if job is not None:
                return job

    def follow_up(self, job: Job, printer: Printer, seen: Fingerprint, *, same: bool) -> Job:
        """Give the claimed file a job of its own that names this one; kept only, while it is the `same`."""
        if job.state.next_job is None:
            job = job.saved(replace(job.state, next_job=self._id(printer)))
        state, following = job.state, job.state.next_job
        if following is None:
            raise AssertionError("an id was chosen")
        new = self._state(following, printer, state.product, state.name, seen)
        if same:
            until = kept_until(self._clock(), self._timing)
            new = replace(new, previous_job=state.job, sha256=state.sha256, kept_until=until)
        else:
            new = replace(new, previous_job=state.job, continues=state.job)
        # Where the folder is there already, this was interrupted here before.
        laid = self._work.lay(new) or self._work.open(following)
        take_in(job.claimed, laid.claimed)
        self._to_offer.add(following)
        if laid.state.kept_until is None:
            self._former.remember(laid.state)
            logger.info("job=%s changed after it was delivered; it goes on as job=%s", state.job, following)
        else:
            logger.info("job=%s: its file is kept for a while, since it may still be written", state.job)
        return job

    def take_offer(self, job: JobId) -> bool:
        """Whether `job` is a follow-up that nobody was told of yet; from now on somebody was."""
        offered = job in self._to_offer
        self._to_offer.discard(job)
        return offered

    def in_hand(self, job: Job) -> JobId:
        """`job` is to be worked: later ones of its name will name it, unless its file is only kept."""
        if job.state.kept_until is None:
            self._former.remember(job.state)
        return job.state.job

    def _id(self, printer: Printer) -> JobId:
        while True:
            job = new_job_id(printer.name, self._clock())
            if not self._audit.knows(job):
                return job

    def _state(
        self, job: JobId, printer: Printer, product: str | None, name: str, seen: Fingerprint
    ) -> JobState:
        began_at = self._clock().astimezone(UTC).isoformat()
        return JobState(job, printer.name, product, name, Step.CLAIMING, seen, began_at)
