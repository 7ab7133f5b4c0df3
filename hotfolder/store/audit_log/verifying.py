"""Whether the audit log holds: every chain, and the studio-wide chain over them."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from pathlib import Path

from hotfolder.model.jobs import JobId
from hotfolder.store.audit_log.audit import CHAIN, log_of
from hotfolder.store.audit_log.chained import ChainReading, read_chain, text_of
from hotfolder.store.refusals import refusals


@dataclass(frozen=True, slots=True)
class RecordTrouble:
    """A place where the record does not hold. file: in the audit folder. line: 1-based, or None."""

    file: str
    line: int | None
    what: str

    def __str__(self) -> str:
        place = self.file if self.line is None else f"{self.file}:{self.line}"
        return f"{place}: {self.what}"


@dataclass(frozen=True, slots=True)
class AuditReport:
    """What was checked. open_jobs: jobs that are still worked on, so that their logs are not closed."""

    jobs: int
    records: int
    open_jobs: tuple[str, ...]
    troubles: tuple[RecordTrouble, ...]


def verify(
    folder: Path,
    in_work: Collection[str] = (),
    closed_before: Collection[JobId] = (),
    away: Collection[str] = (),
) -> AuditReport:
    """Check every log in the audit folder, and the studio-wide chain over them.

    in_work: the jobs whose work is not done; only their logs may be without a closing line.
    closed_before: jobs that are known to have been in the chain. It protects each line by the one that
    comes after it, so that the last ones could else be cut off unseen. away: printers whose folders are not
    there, so that nobody knows which of their jobs are not done: a log of theirs may be open.
    """
    chain = read_chain(folder / CHAIN)
    troubles = list(_troubles_of(CHAIN, chain))
    if not folder.is_dir():
        troubles.append(RecordTrouble(folder.name, None, "is missing: the whole folder of the audit log"))
    closings: dict[str, list[str]] = {}
    for line in chain.records:
        if line.event != "torn-line":
            closings.setdefault(text_of(line.content, "log"), []).append(text_of(line.content, "closing"))
    records = len(chain.records)
    open_jobs: list[str] = []
    names = tuple(_logs(folder))
    for name in names:
        log = read_chain(folder / name)
        records += len(log.records)
        troubles.extend(_troubles_of(name, log))
        job, closed = Path(name).stem, closings.get(name, [])
        is_open = job in in_work or (_printer_of(log) in away and not _is_closed(log, closed))
        if is_open:
            open_jobs.append(job)
        troubles.extend(_against_chain(name, log, closed, in_work=is_open))
    troubles.extend(
        RecordTrouble(name, None, "is missing, although the studio's chain (chain.jsonl) lists it")
        for name in closings
        if name not in names
    )
    in_chain = {text_of(line.content, "job") for line in chain.records}
    for job in sorted(set(closed_before) - in_chain):
        name = log_of(job)
        if name not in names:
            what = "is missing, and so is its line in chain.jsonl; the index of jobs knows it"
            troubles.append(RecordTrouble(name, None, what))
        elif job in in_work:
            troubles.append(RecordTrouble(name, None, "was closed, but its line in chain.jsonl is missing"))
    return AuditReport(len(names), records, tuple(open_jobs), tuple(troubles))


def _logs(folder: Path) -> Iterator[str]:
    with refusals("reading", folder):
        for path in sorted(folder.glob("[0-9]*/[0-9]*/*.jsonl")):
            yield str(path.relative_to(folder))


def _printer_of(log: ChainReading) -> str:
    return text_of(log.records[0].content, "printer") if log.records else ""


def _is_closed(log: ChainReading, closings: list[str]) -> bool:
    return bool(closings) and not log.unfinished and log.last is not None and log.last.hash == closings[-1]


def _troubles_of(name: str, reading: ChainReading) -> Iterator[RecordTrouble]:
    for broken in reading.broken:
        yield RecordTrouble(name, broken.line, broken.what)


def _against_chain(
    name: str, log: ChainReading, closings: list[str], *, in_work: bool
) -> Iterator[RecordTrouble]:
    known = {record.hash for record in log.records}
    for closing in closings:
        if closing not in known:
            what = "lacks a line that chain.jsonl has for it: altered or cut short"
            yield RecordTrouble(name, None, what)
    if in_work:
        return
    if log.unfinished:
        yield RecordTrouble(name, None, "ends in half a line, and its job is not in work")
    elif not closings:
        yield RecordTrouble(name, None, "is not in chain.jsonl, and its job is not in work")
    elif log.last is not None and log.last.hash != closings[-1]:
        yield RecordTrouble(name, log.last.line, "goes on after its closing line")
