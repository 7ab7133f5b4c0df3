"""One job from claim to delivery. The desk owns the job, and interprets no artwork.

`Desk.work` is the way of a job, from top to bottom. Each step looks first whether it is done, so the
same function goes on with a job that was interrupted anywhere: `job.json` (see `store.jobs`) is saved
before and after each step, and nothing that a step does is done twice.

Several threads may work on different jobs. They share only what guards itself: the audit log, the
index of former jobs, the jobs in hand, and one lock a printer for choosing names.
"""

import logging
import threading
from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import datetime

from hotfolder.config.names import same_name_key
from hotfolder.config.studio import Printer, Studio
from hotfolder.delivery.groups import deliver, overtaken, places, stage
from hotfolder.delivery.sidecars import is_own_report, sync_reports
from hotfolder.desk import record, releases
from hotfolder.desk.attempts import Attempts
from hotfolder.desk.claimed_files import (
    KEPT,
    ClaimedFiles,
    KeptLook,
    is_unwritten_since,
    look_again,
    next_look_s,
)
from hotfolder.desk.former_jobs import FormerJobs
from hotfolder.desk.new_jobs import NewJobs
from hotfolder.desk.old_reports import set_report_aside
from hotfolder.desk.older_versions import make_room, newer_version, versions_to_replace
from hotfolder.desk.private_copies import PrivateCopies, compared
from hotfolder.desk.release_requests import ReleaseRequests
from hotfolder.errors import StorageError
from hotfolder.intake.candidate import Candidate
from hotfolder.intake.writers import Writers, writers_of
from hotfolder.model.jobs import ChildFailure, JobId, JobNotice, JobOrder, JobResult, NextSteps, Obstacle
from hotfolder.store.audit_log.audit import AuditLog
from hotfolder.store.audit_log.index import JobIndex
from hotfolder.store.copies import sha256_of
from hotfolder.store.delivery_folders import DeliveryFolders
from hotfolder.store.jobs import Job, Step
from hotfolder.store.moves import Fingerprint, claim, remove, status_of
from hotfolder.store.work import WorkFolders, left_behind
from hotfolder.wording.shown import shown_name

logger = logging.getLogger(__name__)
job_logger = logging.getLogger("hotfolder.job")  # one line for each job, and nothing else


class Desk:
    """Takes settled files, and brings each to its end.

    run_child: examines one piece of artwork in a child; raises DaemonStoppingError when the daemon stops.
    write_failure_report: the reports on a file that no child could examine, and why. clock: the time,
    with its zone. notify: tells people; never raises and never waits.
    """

    def __init__(
        self,
        studio: Studio,
        run_child: Callable[[JobOrder], JobResult | ChildFailure],
        write_failure_report: Callable[[JobOrder, Obstacle], JobResult],
        clock: Callable[[], datetime],
        notify: Callable[[JobNotice], None],
    ) -> None:
        self._studio = studio
        self._attempts = Attempts(run_child, write_failure_report, studio.limits.artwork_bytes)
        self._claimed = ClaimedFiles(studio.timing)
        self._clock = clock
        self._notify = notify
        self._audit = AuditLog(studio.audit, clock)
        self._work = WorkFolders({printer.name: printer.work for printer in studio.printers})
        self._folders = DeliveryFolders(studio.hidden)
        self._delivering = {printer.name: threading.Lock() for printer in studio.printers}
        self._waits: dict[JobId, str] = {}  # what was said last of a job that waits
        self._requests = ReleaseRequests(studio, self._work, self._folders, clock)
        self._former = FormerJobs(JobIndex(studio.state, studio.audit, same_name_key))
        self._copies = PrivateCopies(self._claimed, self._former, self._audit, studio.limits.artwork_bytes)
        self._new = NewJobs(self._work, self._audit, self._former, clock, studio.timing)

    def take(self, candidate: Candidate) -> JobId | None:
        """Claim `candidate`; None where it vanished, changed, is being written or was a report of ours.

        StorageError where the file system refuses; the file is then still in the inbox.
        """
        source = candidate.folder / candidate.name
        printer = self._studio.printer(candidate.printer)
        if status_of(source) is None or writers_of(source) is Writers.SOME:
            return None
        if is_own_report(source):
            set_report_aside(source, printer, self._folders)
            return None
        expected = Fingerprint(candidate.inode, candidate.size, candidate.mtime_ns)
        job = self._new.lay(printer, candidate.product, candidate.name, expected)
        try:
            got = claim(source, job.claimed, expected)
        except StorageError:
            if status_of(job.claimed) is None:
                self._work.remove(job)
                raise
            got = expected  # claimed all the same: only the sync was refused
        if got is None:
            self._work.remove(job)
            return None
        self._claimed.has_waited(job.state.job, got)
        return self._new.in_hand(job)

    def work(self, job_id: JobId) -> NextSteps:
        """Bring a job to its end. StorageError: it stays as it is, to be worked again later.

        DaemonStoppingError (out of run_child): it stays for the next start. One thread a job at a time.
        """
        if not self._work.holds(job_id):
            return NextSteps()  # done already
        job = self._work.open(job_id)
        printer = self._studio.printer(job.state.printer)
        if job.state.kept_until is not None:
            return self._keep(job)
        job = self._begin(job)
        copied = self._copies.made(job)
        if isinstance(copied, str):
            return self._later(job, copied)
        job = copied
        ended = self._ended_early(job, printer)
        if ended is not None:
            return ended
        job = self._judge(job, printer)
        job = self._stage(job, printer)
        job = self._deliver(job, printer)
        if not job.has(Step.DELIVERED):
            return self._later(job, "it changed while it was measured, or what was made of it is gone")
        job = self._record(job)
        job = self._drop_claimed(job, printer)
        job = self._tell(job, printer)
        return self._clear(job)

    def recover(self, printers: Iterable[str] | None = None) -> list[JobId]:
        """Jobs to_go_on in work (of `printers`, or of all) that are not in hand: go on with them.

        For the start, and for a printer whose share has come back.
        """
        wanted = None if printers is None else set(printers)
        to_go_on: list[JobId] = []
        if wanted is None:
            for folder, jobs in left_behind(self._studio.root, self._studio.printers).items():
                logger.warning(
                    "'%s' holds %s, and the studio file names no such printer any more: name it again, "
                    "or the files stay where they are",
                    shown_name(str(folder)),
                    "1 job" if len(jobs) == 1 else f"{len(jobs)} jobs",
                )
        for printer in self._studio.printers:
            if wanted is not None and printer.name not in wanted:
                continue
            try:
                self._folders.adopt(printer)
            except StorageError as error:
                logger.warning("%s: %s", printer.name, error)
            try:
                to_go_on.extend(self._new.in_hand(job) for job in self._work.recover(printer.name))
            except StorageError as error:
                logger.warning("%s: jobs in work cannot be looked at: %s", printer.name, error)
        return to_go_on

    def printer_of(self, job: JobId) -> str:
        """The printer of a job in hand. KeyError for any other."""
        return self._work.printer_of(job)

    def keep_records(self) -> None:
        """Write down again what this program needs to remember, where somebody removed it."""
        self._folders.keep()

    def carry_out_requests(self) -> list[JobId]:
        """Answer what commands laid beside the daemon; the jobs that are to be worked for it."""
        return self._requests.carry_out()

    # The steps of `work`, in their order.

    def _begin(self, job: Job) -> Job:
        if job.has(Step.CLAIMED):
            return job
        record.claimed(self._audit, job.state)
        return job.saved(replace(job.state, step=Step.CLAIMED))

    def _judge(self, job: Job, printer: Printer) -> Job:
        """Have the copy examined in a child; a released job keeps its findings, and gets a note of it."""
        if job.has(Step.JUDGED):
            return job
        if job.state.release is not None:
            releases.mark_reports(job, printer.folder)
            record.released(self._audit, job.state)
        else:
            # Those that this job has moved away already count too, where it is judged once more.
            older = (*job.state.replaces, *versions_to_replace(job.state, self._audit, printer))
            job = job.saved(replace(job.state, replaces=tuple(dict.fromkeys(older))))
            job = self._attempts.examine(job, printer)
            record.judged(self._audit, job.state)
        hashes = () if job.state.result is None else sync_reports(job.state.result)
        return job.saved(replace(job.state, step=Step.JUDGED, report_hashes=hashes))

    def _stage(self, job: Job, printer: Printer) -> Job:
        """See that what was judged is what was dropped, and have it ready for its last rename."""
        if job.has(Step.STAGED):
            return job
        job = compared(job)
        return stage(job, printer, self._folders) if job.has(Step.JUDGED) else job

    def _deliver(self, job: Job, printer: Printer) -> Job:
        if job.has(Step.DELIVERED) or not job.has(Step.STAGED):
            return job
        with self._delivering[printer.name]:
            job = self._overtaken(job, printer)
            job = make_room(job, printer, self._audit)
            return deliver(
                job,
                printer,
                self._folders,
                lambda named, group: record.delivering(self._audit, named.state, group),
            )

    def _overtaken(self, job: Job, printer: Printer) -> Job:
        """Where a newer version was delivered meanwhile, the job is staged for the older ones' folder."""
        state = job.state
        if job.has(Step.NAMED) or state.release is not None or state.replaced_by is not None:
            return job
        newest = self._former.last_of_name(printer.name, state.name)
        newer = newer_version(state, newest, self._audit, self._has_laid)
        if newer is None:
            return job
        return stage(overtaken(job, printer, self._folders, newer), printer, self._folders)

    def _has_laid(self, job: JobId) -> bool:
        """Whether the artwork of a job in hand has its final name; False for a job that is not in hand."""
        try:
            return self._work.open(job).has(Step.DELIVERED)
        except (KeyError, StorageError):
            return False

    def _record(self, job: Job) -> Job:
        if job.has(Step.RECORDED):
            return job
        if job.state.chain_since is None:
            job = job.saved(replace(job.state, chain_since=self._audit.chain_end()))
        group = job.state.group
        if group is not None:
            printer = self._studio.printer(job.state.printer)
            is_here = self._folders.is_here(printer, places(job, printer).top)
            taken = is_here and status_of(group.artwork_in(printer.folder)) is None
            record.delivered(self._audit, job.state, taken=taken)
        record.close(self._audit, job.state)
        self._former.closed(job.state)
        job_logger.info("%s", record.log_line(job.state, self._clock()))
        return job.saved(replace(job.state, step=Step.RECORDED))

    def _drop_claimed(self, job: Job, printer: Printer) -> Job:
        """Remove the claimed file if it is what was delivered for certain; else it gets a job of its own.

        That job begins with newer bytes where there are some, and is kept for a while where they may come.
        """
        state = job.state
        if job.has(Step.DROPPED):
            return job
        claimed = status_of(job.claimed)
        if claimed is not None and state.readable:
            seen = Fingerprint.of(claimed)
            same = sha256_of(job.claimed) == state.sha256
            if state.next_job is None and same and (state.release or is_unwritten_since(job, seen)):
                remove(job.claimed)
            else:
                job = self._new.follow_up(job, printer, seen, same=same)
        releases.remove_old_reports(job, printer, self._folders)
        return job.saved(replace(job.state, step=Step.DROPPED))

    def _tell(self, job: Job, printer: Printer) -> Job:
        if job.has(Step.TOLD):
            return job
        notice = record.notice_of(job.state, printer, self._clock())
        if notice is not None:
            self._notify(notice)
        return job.saved(replace(job.state, step=Step.TOLD))

    def _clear(self, job: Job) -> NextSteps:
        self._work.remove(job)
        self._claimed.forget(job.state.job)
        self._waits.pop(job.state.job, None)
        self._former.forget(job.state)
        following = job.state.next_job
        if following is None or not self._new.take_offer(following):
            return NextSteps(ended=True)
        return NextSteps((following,), self._studio.timing.quiet_s, ended=True)

    # What happens beside the straight way.

    def _later(self, job: Job, why: str) -> NextSteps:
        if self._waits.get(job.state.job) != why:
            logger.info("job=%s waits: %s", job.state.job, why)
        self._waits[job.state.job] = why
        return NextSteps((job.state.job,), self._studio.timing.quiet_s, why)

    def _keep(self, job: Job) -> NextSteps:
        """Look whether a file that was delivered, and may still be written, is a job now."""
        state, now, timing = job.state, self._clock(), self._studio.timing
        match look_again(job, now, timing):
            case KeptLook.WAITS:
                return NextSteps((state.job,), next_look_s(job, now, timing), KEPT)
            case KeptLook.SAME:
                self._work.remove(job)
                return NextSteps()
        logger.info(
            "job=%s changed after it was delivered; it goes on as job=%s", state.previous_job, state.job
        )
        status = status_of(job.claimed)
        seen = state.seen if status is None else Fingerprint.of(status)
        job.saved(replace(state, kept_until=None, sha256="", seen=seen, continues=state.previous_job))
        return NextSteps((self._new.in_hand(job),), timing.quiet_s, "it changed after it was delivered")

    def _ended_early(self, job: Job, printer: Printer) -> NextSteps | None:
        """How a job ended whose file is gone, or is another one than was released; None for any other."""
        if self._is_lost(job):
            return self._close_lost(job)
        return self._put_back(job, printer) if self._is_another(job) else None

    def _is_lost(self, job: Job) -> bool:
        """Whether somebody removed the claimed file from the work folder before it was copied."""
        state = job.state
        return state.step is Step.COPIED and not state.readable and status_of(job.claimed) is None

    def _close_lost(self, job: Job) -> NextSteps:
        logger.error("job=%s was lost: somebody removed its file from '%s'", job.state.job, job.folder)
        record.lost(self._audit, job.state)
        return self._clear(self._record(job.saved(replace(job.state, result=None))))

    def _is_another(self, job: Job) -> bool:
        """Whether the file of a release is no longer the one that was judged."""
        release = job.state.release
        return job.state.step is Step.COPIED and release is not None and job.state.sha256 != release.sha256

    def _put_back(self, job: Job, printer: Printer) -> NextSteps:
        lies = releases.put_back(job, printer, self._folders)
        logger.warning(
            "job=%s was not released: its file changed meanwhile; it lies in %s", job.state.job, lies
        )
        return self._clear(job)
