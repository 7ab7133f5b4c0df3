"""What the desk and its neighbours say to each other about one job: plain, frozen, picklable.

The desk gives a `JobOrder`, gets a `JobResult` or a `ChildFailure`, and tells what became of
the job in a `JobNotice`.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Final, NewType

from hotfolder.model.findings import Verdict

JobId = NewType("JobId", str)


@dataclass(frozen=True, slots=True)
class Summary:
    """The judgement on a piece of artwork in short.

    must_fix, advice: how many findings of each. unjudged: how many rules could not be judged.
    first_finding: the gravest finding in one line, None where there is none. rule_set: its name.
    """

    verdict: Verdict
    must_fix: int
    advice: int
    unjudged: int
    first_finding: str | None
    rule_set: str

    @property
    def findings(self) -> int:
        """How many findings there are in all."""
        return self.must_fix + self.advice

    def as_fields(self) -> dict[str, str | int | None]:
        """The summary with its keys in JSON: those of a child's result, a job's state and the audit log."""
        return {
            "verdict": str(self.verdict),
            "must_fix": self.must_fix,
            "advice": self.advice,
            "unjudged": self.unjudged,
            "first": self.first_finding,
            "rule_set": self.rule_set,
        }

    @staticmethod
    def from_fields(fields: Mapping[str, object]) -> "Summary":
        """The summary that `as_fields` gave, whatever else `fields` holds. ValueError where it is damaged."""
        match fields:
            case {
                "verdict": str(verdict),
                "must_fix": int(must_fix),
                "advice": int(advice),
                "unjudged": int(unjudged),
                "first": str() | None as first_finding,
                "rule_set": str(rule_set),
            }:
                return Summary(Verdict(verdict), must_fix, advice, unjudged, first_finding, rule_set)
        raise ValueError("a part of the summary is missing, or of another kind than it should be")


@dataclass(frozen=True, slots=True)
class FileToExamine:
    """A piece of artwork that is to be examined and reported on, with what its report says of it besides.

    artwork: where its bytes lie. name: what people call it. folder: existing and empty; the reports are
    written there. sha256: the hash of its bytes, empty where they are too many for that; None where it is
    still to be made. job: None for a file that is none. previous_job: the last job of this name at its
    printer. same_bytes_as: an earlier job with exactly these bytes. replaces: earlier jobs whose files make
    room for this one's.
    """

    artwork: Path
    name: str
    folder: Path
    sha256: str | None = None
    job: JobId | None = None
    previous_job: JobId | None = None
    same_bytes_as: JobId | None = None
    replaces: tuple[JobId, ...] = ()


@dataclass(frozen=True, slots=True)
class JobOrder:
    """Examine the artwork of one job.

    file: the job's private copy, called as in the inbox. rules: a rule set's name or path, as the studio file
    has it. attempt: 1, or 2 after a child that died.
    """

    file: FileToExamine
    printer: str
    product: str | None
    rules: str
    attempt: int = 1


@dataclass(frozen=True, slots=True)
class JobResult:
    """What an examination came to, and where the reports lie (in the try's folder).

    problem: why the file could not be examined, None where it was.
    """

    summary: Summary
    report_json: Path
    report_html: Path | None
    problem: str | None = None


@dataclass(frozen=True, slots=True)
class ChildFailure:
    """A child that gave no result, and how it ended in words that complete 'measuring it ...'.

    again: whether a second try may do better; one that took too long would take as long again. log_tail: the
    end of what the child wrote to its log.
    """

    how: str
    again: bool = True
    log_tail: str = ""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """Why a file was not examined, in words that complete 'This file could not be measured: ...'.

    remedy: what to do about it, in whole sentences; None where nothing better is known than to save it again.
    """

    reason: str
    remedy: str | None = None


MOST_FAILURES: Final = 2  # a child that died is tried once more


@dataclass(frozen=True, slots=True)
class Failures:
    """How many children died of one file, and how the last of them ended: what decides on another try."""

    count: int = 0
    how: str = ""

    @property
    def attempt(self) -> int:
        """The number of the try that comes next, from 1."""
        return min(self.count + 1, MOST_FAILURES)

    @property
    def obstacle(self) -> Obstacle | None:
        """Why no other child is tried; None where one may be."""
        return Obstacle(f"measuring it {self.how}") if self.count >= MOST_FAILURES else None

    def and_then(self, failure: ChildFailure) -> "Failures":
        """One more; a child that is not to be tried again has failed as often as it may."""
        if failure.again:
            return Failures(self.count + 1, f"{failure.how}, twice")
        return Failures(MOST_FAILURES, failure.how)


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
    summary: Summary
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
class NextSteps:
    """What follows when a thread is through with a job.

    again: the jobs to be worked in `wait_s` seconds. why: what they wait for, in words. ended: whether the
    job came to its end now.
    """

    again: tuple[JobId, ...] = ()
    wait_s: float = 0.0
    why: str = field(default="", compare=False)
    ended: bool = field(default=False, compare=False)
