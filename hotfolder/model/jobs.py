"""What the desk and its neighbours say to each other about one job: plain, frozen, picklable.

The desk gives a `ChildOrder`, gets a `ChildResult` or a `ChildFailure`, and tells what became of
the job in a `JobNotice`.
"""

from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import NewType

from hotfolder.model.findings import Verdict

JobId = NewType("JobId", str)


@dataclass(frozen=True, slots=True)
class ChildOrder:
    """Examine one piece of artwork and report on it.

    artwork: the job's private copy, of which `sha256` is the hash. original_name: what the file was
    called in the inbox, for the report. rules: a rule set's name or path, as the studio file has it.
    try_folder: existing and empty; the child writes there and nowhere else. attempt: 1, or 2 after a
    child that died. previous_job: the last job of this name at this printer. same_bytes_as: an earlier
    job with exactly these bytes. replaces: earlier jobs whose files make room for this one's.
    """

    job: JobId
    printer: str
    product: str | None
    artwork: Path
    original_name: str
    sha256: str
    rules: str
    try_folder: Path
    attempt: int = 1
    previous_job: JobId | None = None
    same_bytes_as: JobId | None = None
    replaces: tuple[JobId, ...] = ()


@dataclass(frozen=True, slots=True)
class ChildResult:
    """What was found out, and where the reports lie (in the try's folder).

    must_fix, advice: how many findings of each. unjudged: how many rules could not be judged.
    first: the gravest finding in one line, for a notification. rule_set: the name of the rule set.
    problem: why the file could not be examined, None where it was.
    """

    verdict: Verdict
    must_fix: int
    advice: int
    unjudged: int
    first: str | None
    rule_set: str
    report_json: Path
    report_html: Path | None
    problem: str | None = None


@dataclass(frozen=True, slots=True)
class ChildFailure:
    """A child that gave no result, and how it ended in words that complete 'the measuring ...'.

    again: whether a second try may do better.
    """

    how: str
    again: bool = True


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Why a file was not examined, in words that complete 'This file could not be measured: ...'.

    remedy: what to do about it, in whole sentences; None where nothing better is known than to save it again.
    """

    reason: str
    remedy: str | None = None


@dataclass(frozen=True, slots=True)
class JobNotice:
    """What became of a job, for whoever tells people.

    artwork: where the file was delivered. report: the page to look at, None where there is none.
    released_by: who sent it on against its findings, None where nobody did. continues: the job whose file
    went on changing after its delivery, and became this one.
    """

    job: JobId
    printer: str
    product: str | None
    name: str
    verdict: Verdict
    must_fix: int
    advice: int
    unjudged: int
    first: str | None
    artwork: Path
    report: Path | None
    at: datetime
    previous_job: JobId | None = None
    released_by: str | None = None
    continues: JobId | None = None


@dataclass(frozen=True, slots=True)
class HeldNotice:
    """Something that lies still and needs somebody to look, and why; an empty name: the inbox itself."""

    printer: str
    product: str | None
    name: str
    why: str


@dataclass(frozen=True, slots=True)
class Onward:
    """What is left to do after a job was worked: `again` in `wait_s` seconds, and why.

    ended: whether the job came to its end now.
    """

    again: tuple[JobId, ...] = ()
    wait_s: float = 0.0
    why: str = field(default="", compare=False)
    ended: bool = field(default=False, compare=False)
