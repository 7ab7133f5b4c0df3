"""Jobs that came to their end, read back out of the audit log, and which of them somebody means."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from hotfolder.config.names import same_name_key
from hotfolder.errors import UsageError
from hotfolder.model.findings import Verdict
from hotfolder.model.jobs import JobId, Summary
from hotfolder.store.audit_log.audit import CHAIN, name_in, records_since
from hotfolder.store.audit_log.chained import Json, number_of, text_of
from hotfolder.store.jobs import FileGroup, is_job_id
from hotfolder.store.narrowing import is_path_within
from hotfolder.wording.nearest import nearest
from hotfolder.wording.shown import shown_name


@dataclass(frozen=True, slots=True)
class ClosedJob:
    """A closed job, as its last line in the studio-wide chain has it.

    summary: None for a job without a verdict. replaced_by: the newer version that came while this one lay in
    needs-fixing.
    """

    job: JobId
    printer: str
    product: str | None
    name: str
    sha256: str
    summary: Summary | None
    group: FileGroup | None
    previous_job: JobId | None
    released_by: str
    replaced_by: JobId | None = None

    @property
    def verdict(self) -> Verdict | None:
        """The verdict; None for a job that was lost, or whose line is damaged."""
        return None if self.summary is None else self.summary.verdict


def closed_jobs(audit: Path) -> dict[JobId, ClosedJob]:
    """All closed jobs, by id, oldest first."""
    jobs: dict[JobId, ClosedJob] = {}
    for record in records_since(audit / CHAIN, 0):
        line = record.content
        if is_job_id(text_of(line, "job")):
            closed = _closed(line)
            jobs[closed.job] = closed
            for older in jobs_in(line, "replaces"):
                if older in jobs:
                    jobs[older] = replace(jobs[older], replaced_by=closed.job)
    return jobs


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


def summary_in(line: Mapping[str, Json]) -> Summary | None:
    """The summary that a record has; None where it names no verdict, 0 for a damaged count."""
    try:
        verdict = Verdict(text_of(line, "verdict"))
    except ValueError:
        return None
    return Summary(
        verdict=verdict,
        must_fix=number_of(line, "must_fix"),
        advice=number_of(line, "advice"),
        unjudged=number_of(line, "unjudged"),
        first_finding=text_of(line, "first") or None,
        rule_set=text_of(line, "rule_set"),
    )


def _closed(line: Mapping[str, Json]) -> ClosedJob:
    previous = text_of(line, "previous_job")
    return ClosedJob(
        job=JobId(text_of(line, "job")),
        printer=text_of(line, "printer"),
        product=text_of(line, "product") or None,
        name=name_in(line),
        sha256=text_of(line, "sha256"),
        summary=summary_in(line),
        group=group_in(line),
        previous_job=JobId(previous) if previous else None,
        released_by=text_of(line, "released_by"),
        replaced_by=JobId(text_of(line, "replaced_by")) if text_of(line, "replaced_by") else None,
    )


def find_job(wanted: str, jobs: Mapping[JobId, ClosedJob]) -> list[ClosedJob]:
    """The closed jobs that `wanted` may mean: the one of this id, else all of a file of this name."""
    if JobId(wanted) in jobs:
        return [jobs[JobId(wanted)]]
    key = same_name_key(wanted)
    return [closed for closed in jobs.values() if key in _keys(closed)]


def _keys(closed: ClosedJob) -> set[str]:
    names = {closed.name} if closed.group is None else {closed.name, closed.group.artwork}
    return {same_name_key(name) for name in names}


def unknown_job(wanted: str, jobs: Iterable[ClosedJob]) -> UsageError:
    """The error for a job that nobody knows, with the nearest one."""
    known = {word for closed in jobs for word in (closed.job, closed.name)}
    near = nearest(wanted, known)
    hint = f"; did you mean '{shown_name(near)}'?" if near is not None else ""
    return UsageError(f"no job and no file called '{shown_name(wanted)}' is in the audit log{hint}")
