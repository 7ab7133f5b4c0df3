"""`hotfolder audit`: whether the record holds, and the story of one job in plain words. Only reads."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Final

from hotfolder.commands.waiting import waiting
from hotfolder.config.names import same_name_key
from hotfolder.config.studio import MARKER, Printer, Studio, load_studio
from hotfolder.desk.closed_jobs import ClosedJob, closed_jobs, find_job, summary_in, unknown_job
from hotfolder.errors import StorageError
from hotfolder.model.jobs import JobId
from hotfolder.store.audit_log.audit import log_of, name_in
from hotfolder.store.audit_log.chained import Json, Record, number_of, read_chain, text_of
from hotfolder.store.audit_log.index import JobIndex
from hotfolder.store.audit_log.verifying import AuditReport, verify
from hotfolder.store.jobs import STATE_FILE
from hotfolder.store.moves import status_of
from hotfolder.store.work import left_behind
from hotfolder.wording.shown import shown_name


@dataclass(frozen=True, slots=True)
class AuditResult:
    """What `hotfolder audit` prints, and its exit code: 0 where every chain holds, else 1."""

    lines: tuple[str, ...]
    exit_code: int


def audit_studio(root: Path, job: str | None = None) -> AuditResult:
    """Check every chain of the studio's audit log; with `job` (id or file name) tell its story as well.

    ConfigError for a folder that is no studio, UsageError for a job that nobody knows.
    """
    studio = load_studio(root)
    with waiting("Checking the audit log"):
        report = _verified(studio)
    lines = [] if job is None else [*_stories(studio, job), ""]
    lines.extend(str(trouble) for trouble in report.troubles)
    lines.extend(_left_behind(studio))
    lines.extend(
        f"{printer} is not available: which of its jobs are in work cannot be seen"
        for printer in sorted(_away(studio))
    )
    lines.append(_summary(report))
    lines = [shown_name(line) for line in lines]
    return AuditResult(tuple(lines), 1 if report.troubles else 0)


def _verified(studio: Studio) -> AuditReport:
    """What holds and what does not; read twice where something seems not to.

    A daemon may be writing while we read: a job that it closed just then has a log that the chain,
    read before, does not know yet. What is really broken is so at the second look too.
    """
    # The index first: a job that is closed while we read is then no job that is missing.
    known = JobIndex(studio.state, studio.audit, same_name_key).all_jobs()
    first = verify(studio.audit, _jobs_in_hand(studio), known, _away(studio))
    if not first.troubles:
        return first
    second = verify(studio.audit, _jobs_in_hand(studio), known, _away(studio))
    lasting = tuple(trouble for trouble in second.troubles if trouble in first.troubles)
    return replace(second, troubles=lasting)


def _jobs_in_hand(studio: Studio) -> frozenset[JobId]:
    """The jobs that lie in work; their logs are not closed yet."""
    jobs = {job for left in left_behind(studio.root, studio.printers).values() for job in left}
    away = _away(studio)
    for printer in studio.printers:
        if printer.name not in away and status_of(printer.work) is not None:
            jobs |= {JobId(path.parent.name) for path in printer.work.glob(f"*/{STATE_FILE}")}
    return frozenset(jobs)


def _away(studio: Studio) -> frozenset[str]:
    """Printers whose folders are not there: on a share that is not mounted, or whose connection is broken."""
    return frozenset(printer.name for printer in studio.printers if not _is_here(printer))


def _is_here(printer: Printer) -> bool:
    try:
        return status_of(printer.inbox / MARKER) is not None
    except StorageError:
        return False


def _left_behind(studio: Studio) -> Iterator[str]:
    """Jobs in work of a printer that the studio file does not name any more."""
    for work, jobs in left_behind(studio.root, studio.printers).items():
        folder, count = work.relative_to(studio.root), "1 job" if len(jobs) == 1 else f"{len(jobs)} jobs"
        yield f"{folder} holds {count}, and the studio file names no such printer any more: name it again"


def _summary(report: AuditReport) -> str:
    jobs = "1 job" if report.jobs == 1 else f"{report.jobs} jobs"
    in_hand = f", {len(report.open_jobs)} of them still in work" if report.open_jobs else ""
    if not report.troubles:
        return f"{jobs}{in_hand}, {report.records} records: the audit log is intact."
    places = "1 place" if len(report.troubles) == 1 else f"{len(report.troubles)} places"
    return f"{jobs}{in_hand}, {report.records} records: the audit log is damaged in {places}."


def _stories(studio: Studio, wanted: str) -> Iterator[str]:
    """The story of each job that `wanted` may mean, oldest first, with an empty line between two."""
    jobs = closed_jobs(studio.audit)
    meant = [closed.job for closed in find_job(wanted, jobs)]
    if not meant and "/" not in wanted and status_of(studio.audit / log_of(JobId(wanted))) is not None:
        meant = [JobId(wanted)]  # in hand
    if not meant:
        raise unknown_job(wanted, jobs.values())
    for number, job in enumerate(meant):
        if number:
            yield ""
        yield from _story(studio, job, jobs.get(job))


def _story(studio: Studio, job: JobId, closed: ClosedJob | None) -> Iterator[str]:
    name = "" if closed is None else f", {closed.name} for {closed.printer}"
    yield f"Job {job}{name}"
    for record in read_chain(studio.audit / log_of(job)).records:
        at = _moment(text_of(record.content, "at"))
        for line in _words(record):
            yield f"  {at}  {line}"
            at = " " * len(at)
    if closed is not None and closed.replaced_by is not None:
        yield f"  A newer version of it came as job {closed.replaced_by}."


def _moment(at: str) -> str:
    try:
        return f"{datetime.fromisoformat(at).astimezone():%Y-%m-%d %H:%M:%S}"
    except ValueError:
        return at


def _words(record: Record) -> tuple[str, ...]:
    """What a record says, in words; the first line says the event, those after it what belongs to it."""
    tell = _TELLERS.get(record.event)
    return (record.event,) if tell is None else tell(record.content)


def _claimed(content: Mapping[str, Json]) -> tuple[str, ...]:
    product, previous = text_of(content, "product"), text_of(content, "previous_job")
    first = f"taken from the inbox{f' of {product}' if product else ''}: {_bytes(content)}"
    return (first, f"the last file of this name was job {previous}") if previous else (first,)


def _copied(content: Mapping[str, Json]) -> tuple[str, ...]:
    same = text_of(content, "same_bytes_as")
    first = f"read: {_bytes(content)}, SHA-256 {text_of(content, 'sha256')}"
    return (first, f"exactly the bytes of job {same}") if same else (first,)


def _judged(content: Mapping[str, Json]) -> tuple[str, ...]:
    gravest = text_of(content, "first")
    first = f"judged by {text_of(content, 'rule_set')}: {_verdict(content)}"
    return (first, gravest) if gravest else (first,)


def _released(content: Mapping[str, Json]) -> tuple[str, ...]:
    return (f"released by {text_of(content, 'by')} despite its findings:", f'"{text_of(content, "reason")}"')


def _delivered(content: Mapping[str, Json]) -> tuple[str, ...]:
    taken = ", and fetched from there at once" if content.get("taken") else ""
    return (f"delivered as {_place(content)}{taken}",)


_TELLERS: Final[Mapping[str, Callable[[Mapping[str, Json]], tuple[str, ...]]]] = {
    "claimed": _claimed,
    "copied": _copied,
    "judged": _judged,
    "released": _released,
    "delivering": lambda content: (f"about to be delivered as {_place(content)}",),
    "delivered": _delivered,
    "replaced": lambda content: (
        f"takes the place of job {text_of(content, 'older')},",
        f"which was moved to {text_of(content, 'folder')}",
    ),
    "lost": lambda _: ("lost: somebody removed the file from the work folder before it was read",),
    "closed": lambda _: ("record closed",),
    "torn-line": lambda content: (
        f"a crash left half a line here ({number_of(content, 'torn_bytes')} bytes)",
    ),
}


def _bytes(content: Mapping[str, Json]) -> str:
    return f"{number_of(content, 'bytes'):,} bytes"


def _verdict(content: Mapping[str, Json]) -> str:
    summary = summary_in(content)
    if summary is None:
        return "a verdict that cannot be read"
    unjudged = f", {summary.unjudged} not judged" if summary.unjudged else ""
    return f"{summary.verdict.words} ({summary.must_fix} must be fixed, {summary.advice} advice{unjudged})"


def _place(content: Mapping[str, Json]) -> str:
    return f"{text_of(content, 'folder')}/{name_in(content, 'delivered')}"
