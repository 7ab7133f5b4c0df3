"""Sends a job on that somebody releases despite its findings: which one is meant, if it may be, and how."""

from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path

from hotfolder.config.studio import Printer, Studio
from hotfolder.delivery.names import LONGEST_NAME_BYTES, numbered_names
from hotfolder.delivery.sidecars import (
    can_be_marked,
    read_report,
    released_html,
    released_json,
    remove_reports_of,
)
from hotfolder.desk.closed_jobs import ClosedJob, closed_jobs, find_job, unknown_job
from hotfolder.errors import StorageError, UsageError
from hotfolder.model.findings import Verdict
from hotfolder.model.jobs import JobId, JobResult
from hotfolder.report import Release as ReportedRelease
from hotfolder.store.copies import sha256_of
from hotfolder.store.delivery_folders import DeliveryFolders
from hotfolder.store.jobs import Job, JobState, ReleaseDecision, Step
from hotfolder.store.moves import Fingerprint, set_aside, status_of, take_in
from hotfolder.store.requests import ReleaseRequest
from hotfolder.store.work import WorkFolders
from hotfolder.store.writing import make_folder, write_file
from hotfolder.wording.shown import shown_name


def choose_releasable(wanted: str, jobs: Mapping[JobId, ClosedJob]) -> ClosedJob:
    """The one job that `wanted` means and that may be released. UsageError says what stands against it."""
    meant = find_job(wanted, jobs)
    if not meant:
        raise unknown_job(wanted, jobs.values())
    releasable = [closed for closed in meant if _why_not(closed) is None]
    if len(releasable) == 1:
        return releasable[0]
    if len(releasable) > 1:
        ids = ", ".join(closed.job for closed in releasable)
        raise UsageError(f"several jobs of '{shown_name(wanted)}' need fixing; give one of the ids: {ids}")
    raise UsageError(f"job {meant[-1].job} cannot be released: {_why_not(meant[-1])}")


def _why_not(closed: ClosedJob) -> str | None:
    if closed.released_by:
        return f"{shown_name(closed.released_by)} has released it already"
    if closed.verdict is Verdict.READY:
        return "it is ready, and was delivered to the outbox"
    if closed.group is None:
        return "it was never delivered"
    if closed.verdict is not Verdict.NEEDS_FIXING:
        return "its line in the record is damaged"
    if closed.replaced_by is not None:
        return f"a newer version of it has come, job {closed.replaced_by}"
    return None


def check_files(closed: ClosedJob, printer_folder: Path) -> None:
    """See that the group still lies in needs-fixing as it was judged. UsageError where it does not."""
    group = closed.group
    if group is None:
        raise UsageError(f"job {closed.job} was never delivered")
    artwork = group.artwork_in(printer_folder)
    shown = shown_name(str(artwork))
    again = "drop the file into the inbox again, then release the new job"
    if status_of(artwork) is None:
        raise UsageError(f"'{shown}' is no longer there: it was moved, renamed or deleted; {again}")
    if not closed.sha256:
        raise UsageError(f"'{shown}' could not be read, so it is not known what would be sent on")
    if sha256_of(artwork) != closed.sha256:
        raise UsageError(f"'{shown}' was changed after it was judged; {again}")
    report = group.json_in(printer_folder)
    if status_of(report) is None:
        raise UsageError(f"its report '{shown_name(str(report))}' is no longer there; {again}")
    if not can_be_marked(report):
        raise UsageError(f"its report '{shown_name(str(report))}' was altered; {again}")


def reopen(
    request: ReleaseRequest, studio: Studio, work: WorkFolders, folders: DeliveryFolders, now: datetime
) -> Job:
    """Take the group of a job back into work, to be delivered to the outbox.

    UsageError where no job, or none that may be released, is meant. StorageError where the file system
    refuses. In both cases everything still lies where it was.
    """
    closed = choose_releasable(request.job, closed_jobs(studio.audit))
    if closed.printer not in {printer.name for printer in studio.printers}:
        raise UsageError(
            f"job {closed.job} was for '{closed.printer}', which is no longer a printer of this studio"
        )
    printer = studio.printer(closed.printer)
    folders.ready(printer, printer.needs_fixing)
    check_files(closed, printer.folder)
    group, artwork = closed.group, None if closed.group is None else status_of(_artwork_of(closed, printer))
    if group is None or artwork is None:
        raise UsageError(f"the file of job {closed.job} was taken away just now")
    at = now.astimezone(UTC).isoformat()
    state = JobState(
        job=closed.job,
        printer=closed.printer,
        product=closed.product,
        name=closed.name,
        step=Step.CLAIMING,
        seen=Fingerprint.of(artwork),
        began_at=at,
        previous_job=closed.previous_job,
        result=unmarked_result(closed, printer.folder, printer.work / closed.job),
        release=ReleaseDecision(request.by, request.reason, at, closed.sha256),
        released_from=group,
    )
    job = work.lay(state)
    if job is None:
        raise UsageError(f"job {closed.job} is being worked on; try again in a moment")
    try:
        take_in(_artwork_of(closed, printer), job.claimed)
    except StorageError:
        if status_of(job.claimed) is None:
            work.remove(job)
            raise
    return job


def put_back(job: Job, printer: Printer, folders: DeliveryFolders) -> Path:
    """Give a file that changed while it was being released its place in needs-fixing again; that place."""
    group = job.state.released_from
    if group is None:
        raise AssertionError("this job is no release")
    folder = printer.folder / group.folder
    folders.ready(printer, printer.needs_fixing)
    if status_of(job.claimed) is None:  # put back before an interruption
        return folder
    return set_aside(job.claimed, folder, numbered_names(group.artwork, LONGEST_NAME_BYTES))


def _artwork_of(closed: ClosedJob, printer: Printer) -> Path:
    group = closed.group
    if group is None:
        raise AssertionError("this job was never delivered")
    return group.artwork_in(printer.folder)


def unmarked_result(closed: ClosedJob, printer_folder: Path, work_folder: Path) -> JobResult:
    """The result of a job that is to be released; its marked reports will lie in `work_folder`."""
    if closed.summary is None:
        raise AssertionError("a job without a verdict is not released")
    page = None if closed.group is None else closed.group.page_in(printer_folder)
    folder = work_folder / "released"
    return JobResult(
        summary=closed.summary,
        report_json=folder / "report.json",
        report_html=folder / "report.html" if page is not None and can_be_marked(page) else None,
    )


def mark_reports(job: Job, printer_folder: Path) -> None:
    """Write the job's reports anew, with the release in them and the findings as they were."""
    group, release, result = job.state.released_from, job.state.release, job.state.result
    if group is None or release is None or result is None:
        raise AssertionError("this job is no release")
    marked = ReportedRelease(release.by, release.reason, datetime.fromisoformat(release.at))
    make_folder(result.report_json.parent)
    write_file(result.report_json, released_json(read_report(group.json_in(printer_folder)), marked))
    page = group.page_in(printer_folder)
    if page is not None and result.report_html is not None:
        write_file(result.report_html, released_html(read_report(page), marked))


def remove_old_reports(job: Job, printer: Printer, folders: DeliveryFolders) -> None:
    """Remove the unmarked reports that a released group left in needs-fixing."""
    group = job.state.released_from
    if group is None:
        return
    folders.ready(printer, printer.needs_fixing)
    remove_reports_of(job.state.job, group.reports_in(printer.folder))
