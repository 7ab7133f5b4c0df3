"""A person sends a job on against its findings: which job is meant, and whether that can be done."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from hotfolder.config.studio import Printer, Studio
from hotfolder.delivery.names import LONGEST_NAME_BYTES, numbered_names, same_name_key
from hotfolder.delivery.sidecars import can_be_marked, is_report_of, read_report, released_html, released_json
from hotfolder.errors import StorageError, UsageError
from hotfolder.model.findings import Verdict
from hotfolder.model.jobs import ChildResult, JobId
from hotfolder.report import Release as ReportedRelease
from hotfolder.store.audit_log.audit import CHAIN, name_in, records_since
from hotfolder.store.audit_log.chained import Json, number_of, text_of
from hotfolder.store.copies import sha256_of
from hotfolder.store.delivery_folders import DeliveryFolders
from hotfolder.store.jobs import FileGroup, Job, JobState, ReleaseDecision, Step, is_job_id
from hotfolder.store.moves import Fingerprint, look, remove, set_aside, take_in
from hotfolder.store.narrowing import is_path_within
from hotfolder.store.requests import ReleaseRequest
from hotfolder.store.work import WorkFolders
from hotfolder.store.writing import make_folder, write_file
from hotfolder.wording.nearest import nearest
from hotfolder.wording.shown import shown_name


@dataclass(frozen=True, slots=True)
class Closed:
    """A closed job, as its last line in the studio-wide chain has it.

    replaced_by: the newer version that came while this one lay in needs-fixing.
    """

    job: JobId
    printer: str
    product: str | None
    name: str
    sha256: str
    verdict: str
    group: FileGroup | None
    result: Mapping[str, Json]
    previous_job: JobId | None
    released_by: str
    replaced_by: JobId | None = None


def closed_jobs(audit: Path) -> dict[JobId, Closed]:
    """All closed jobs, by id, oldest first."""
    found: dict[JobId, Closed] = {}
    for record in records_since(audit / CHAIN, 0):
        line = record.content
        if is_job_id(text_of(line, "job")):
            closed = _closed(line)
            found[closed.job] = closed
            for older in jobs_in(line, "replaces"):
                if older in found:
                    found[older] = replace(found[older], replaced_by=closed.job)
    return found


def jobs_in(line: Mapping[str, Json], key: str) -> tuple[JobId, ...]:
    """The jobs that a record names under `key`."""
    named = line.get(key)
    texts = [job for job in named if isinstance(job, str)] if isinstance(named, list) else []
    return tuple(JobId(job) for job in texts if is_job_id(job))


def group_in(line: Mapping[str, Json]) -> FileGroup | None:
    """The group whose names a record has; None where nothing was delivered, or the record is damaged."""
    delivered, report = name_in(line, "delivered"), name_in(line, "report_json")
    folders = (text_of(line, "folder"), text_of(line, "reports"))
    if not (delivered and report and all(map(is_path_within, folders))):
        return None
    return FileGroup(
        folder=folders[0],
        reports=folders[1],
        artwork=delivered,
        report_json=report,
        report_html=name_in(line, "report_html") or None,
    )


def _closed(line: Mapping[str, Json]) -> Closed:
    previous = text_of(line, "previous_job")
    return Closed(
        job=JobId(text_of(line, "job")),
        printer=text_of(line, "printer"),
        product=text_of(line, "product") or None,
        name=name_in(line),
        sha256=text_of(line, "sha256"),
        verdict=text_of(line, "verdict"),
        group=group_in(line),
        result=line,
        previous_job=JobId(previous) if previous else None,
        released_by=text_of(line, "released_by"),
        replaced_by=JobId(text_of(line, "replaced_by")) if text_of(line, "replaced_by") else None,
    )


def find_job(wanted: str, jobs: Mapping[JobId, Closed]) -> list[Closed]:
    """The closed jobs that `wanted` may mean: the one of this id, else all of a file of this name."""
    if JobId(wanted) in jobs:
        return [jobs[JobId(wanted)]]
    key = same_name_key(wanted)
    return [closed for closed in jobs.values() if key in _keys(closed)]


def _keys(closed: Closed) -> set[str]:
    names = {closed.name} if closed.group is None else {closed.name, closed.group.artwork}
    return {same_name_key(name) for name in names}


def unknown_job(wanted: str, jobs: Iterable[Closed]) -> UsageError:
    """The error for a job that nobody knows, with the nearest one."""
    known = {word for closed in jobs for word in (closed.job, closed.name)}
    near = nearest(wanted, known)
    hint = f"; did you mean '{shown_name(near)}'?" if near is not None else ""
    return UsageError(f"no job and no file called '{shown_name(wanted)}' is in the audit log{hint}")


def choose_releasable(wanted: str, jobs: Mapping[JobId, Closed]) -> Closed:
    """The one job that `wanted` means and that may be released. UsageError says what stands against it."""
    found = find_job(wanted, jobs)
    if not found:
        raise unknown_job(wanted, jobs.values())
    open_ones = [closed for closed in found if _why_not(closed) is None]
    if len(open_ones) == 1:
        return open_ones[0]
    if len(open_ones) > 1:
        ids = ", ".join(closed.job for closed in open_ones)
        raise UsageError(f"several jobs of '{shown_name(wanted)}' need fixing; give one of the ids: {ids}")
    raise UsageError(f"job {found[-1].job} cannot be released: {_why_not(found[-1])}")


def _why_not(closed: Closed) -> str | None:
    if closed.released_by:
        return f"{shown_name(closed.released_by)} has released it already"
    if closed.verdict == Verdict.READY:
        return "it is ready, and was delivered to the outbox"
    if closed.group is None:
        return "it was never delivered"
    if closed.verdict != Verdict.NEEDS_FIXING:
        return "its line in the record is damaged"
    if closed.replaced_by is not None:
        return f"a newer version of it has come, job {closed.replaced_by}"
    return None


def check_files(closed: Closed, printer_folder: Path) -> None:
    """See that the group still lies in needs-fixing as it was judged. UsageError where it does not."""
    group = closed.group
    if group is None:
        raise UsageError(f"job {closed.job} was never delivered")
    artwork = printer_folder / group.folder / group.artwork
    shown = shown_name(str(artwork))
    again = "drop the file into the inbox again, then release the new job"
    if look(artwork) is None:
        raise UsageError(f"'{shown}' is no longer there: it was moved, renamed or deleted; {again}")
    if not closed.sha256:
        raise UsageError(f"'{shown}' could not be read, so it is not known what would be sent on")
    if sha256_of(artwork) != closed.sha256:
        raise UsageError(f"'{shown}' was changed after it was judged; {again}")
    report = printer_folder / group.reports / group.report_json
    if look(report) is None:
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
    group, artwork = closed.group, None if closed.group is None else look(_artwork_of(closed, printer))
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
        if look(job.claimed) is None:
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
    if look(job.claimed) is None:  # put back before an interruption
        return folder
    return set_aside(job.claimed, folder, numbered_names(group.artwork, LONGEST_NAME_BYTES))


def _artwork_of(closed: Closed, printer: Printer) -> Path:
    group = closed.group
    if group is None:
        raise AssertionError("this job was never delivered")
    return printer.folder / group.folder / group.artwork


def unmarked_result(closed: Closed, printer_folder: Path, work_folder: Path) -> ChildResult:
    """What was found out about a job that is to be released; its marked reports will lie in `work_folder`."""
    group = closed.group
    page = (
        None
        if group is None or group.report_html is None
        else printer_folder / group.reports / group.report_html
    )
    folder = work_folder / "released"
    return ChildResult(
        verdict=Verdict(closed.verdict),
        must_fix=number_of(closed.result, "must_fix"),
        advice=number_of(closed.result, "advice"),
        unjudged=number_of(closed.result, "unjudged"),
        first=text_of(closed.result, "first") or None,
        rule_set=text_of(closed.result, "rule_set"),
        report_json=folder / "report.json",
        report_html=folder / "report.html" if page is not None and can_be_marked(page) else None,
    )


def mark_reports(job: Job, printer_folder: Path) -> None:
    """Write the job's reports anew, with the release in them and the findings as they were."""
    group, release, result = job.state.released_from, job.state.release, job.state.result
    if group is None or release is None or result is None:
        raise AssertionError("this job is no release")
    marked = ReportedRelease(release.by, release.reason, datetime.fromisoformat(release.at))
    reports = printer_folder / group.reports
    make_folder(result.report_json.parent)
    write_file(result.report_json, released_json(read_report(reports / group.report_json), marked))
    if group.report_html is not None and result.report_html is not None:
        write_file(result.report_html, released_html(read_report(reports / group.report_html), marked))


def remove_old_reports(job: Job, printer: Printer, folders: DeliveryFolders) -> None:
    """Remove the unmarked reports that a released group left in needs-fixing."""
    group = job.state.released_from
    if group is None:
        return
    folders.ready(printer, printer.needs_fixing)
    for name in (group.report_json, group.report_html):
        path = None if name is None else printer.folder / group.reports / name
        # Another job may have got the same names for its group since.
        if path is not None and is_report_of(path, job.state.job):
            remove(path)
