"""What a report is made from."""

from dataclasses import dataclass
from datetime import datetime

from hotfolder import __version__
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import FileFacts, Problem, ProblemKind, Unmeasured
from hotfolder.model.findings import Change, Finding, Judgement, Severity, Unjudged
from hotfolder.model.ruleset import RuleSet


@dataclass(frozen=True, slots=True)
class Release:
    """A person sent a job on against its findings: who, why, when."""

    by: str
    reason: str
    at: datetime


@dataclass(frozen=True, slots=True)
class Report:
    """One file, what it is judged by, and what was found.

    not_measured: what this version does not measure yet: a subject and a sentence each.
    previous_job: the job that had the same name before.
    same_bytes_as: an earlier job with exactly these bytes. replaces: jobs with an earlier version of this
    file that came back, and lie among the older versions now. version: the program that measured.
    """

    artwork: Artwork
    rule_set: RuleSet
    judgement: Judgement
    made_at: datetime
    changes: tuple[Change, ...] = ()
    not_measured: tuple[tuple[str, str], ...] = ()
    job: str | None = None
    previous_job: str | None = None
    same_bytes_as: str | None = None
    replaces: tuple[str, ...] = ()
    released: Release | None = None
    version: str = __version__

    @property
    def titles(self) -> dict[str, str]:
        """The titles of the rule set's rules, by id."""
        return {applied.rule.id: applied.rule.title for applied in self.rule_set.rules}


def failure_report(
    file: FileFacts,
    rule_set: RuleSet,
    reason: str,
    made_at: datetime,
    job: str | None = None,
    remedy: str | None = None,
) -> Report:
    """The report on a file that could not be measured at all; it needs fixing, and says why.

    `reason` is a sentence without its full stop: `measuring it took longer than 120 s, twice`. `remedy`
    says what to do about it; None where nothing better is known than to save the file again.
    """
    artwork = Artwork(
        file, Unmeasured("pages", reason), problems=(Problem("pages", reason, ProblemKind.LIMIT),)
    )
    finding = Finding(
        rule="measuring",
        code="stopped",
        severity=Severity.MUST_FIX,
        message=f"This file could not be measured: {reason}. Nobody can say how it would print.",
        remedy=remedy
        or "Open the file in the program that made it, save or export it again, and drop the new file. "
        "If that does not help, show this page to whoever looks after the studio's computers.",
    )
    unjudged = tuple(
        Unjudged(applied.rule.id, applied.settings.gravest, "the file could not be measured")
        for applied in rule_set.rules
    )
    return Report(artwork, rule_set, Judgement((finding,), unjudged, ()), made_at, job=job)
