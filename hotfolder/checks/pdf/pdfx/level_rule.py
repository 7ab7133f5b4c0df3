"""A rule that holds a file against one level of PDF/X, whatever it says of itself."""

from collections.abc import Iterator, Mapping
from typing import Any, ClassVar, Final

from hotfolder.checks.pdf.pdfx.findings import default_severity, findings_of
from hotfolder.checks.pdf.pdfx.judging import judge_level, judge_locked
from hotfolder.checks.pdf.pdfx.register import JUDGED
from hotfolder.checks.pdf.pdfx.requirement import Subject
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.pdfx_levels import Level
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Format, ProblemKind, Unmeasured
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.ruleset import AppliedRule, Rule, RuleSettings

ID: Final = "pdfx-level"


class PdfxLevelSettings(RuleSettings):
    """level: that which the file has to keep."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "no-pdf": Severity.MUST_FIX,
        **{requirement.id: default_severity(requirement) for requirement in JUDGED},
    }

    level: Level


def check(artwork: Artwork, settings: PdfxLevelSettings) -> Iterator[Finding | Unjudged]:
    """All that `settings.level` asks of the file and that it does not keep."""
    facts = NeededFacts(ID, settings)
    pdf = facts.pdf(artwork)
    yield from facts.unjudged()
    if artwork.file.format not in {Format.PDF, None}:
        yield Finding(
            rule=ID,
            code="no-pdf",
            severity=settings.severity_of("no-pdf"),
            message=f"The file is no PDF, and {settings.level} is a kind of PDF.",
            remedy=f"Export the artwork as {settings.level}.",
            measured=str(artwork.file.format),
            required=str(settings.level),
            standard=settings.level.standard,
        )
    elif pdf is None:
        if any(problem.kind is ProblemKind.ENCRYPTED for problem in artwork.problems):
            yield from findings_of(judge_locked(settings.level), ID, settings)
    elif isinstance(pdf.inventory, Unmeasured):
        reason = f"whether the file keeps {settings.level} is not known: {pdf.inventory.reason}"
        yield Unjudged(ID, settings.gravest, reason)
    else:
        yield from findings_of(judge_level(Subject(artwork, pdf.inventory), settings.level), ID, settings)


LEVEL_RULE: Final = Rule(
    id=ID,
    title="PDF/X level",
    settings=PdfxLevelSettings,
    check=check,
    question="Which PDF/X levels do you take?",
    since="0.1",
)


def applied(level: Level) -> AppliedRule[Any]:
    """The rule with the settings for `level`."""
    return AppliedRule(LEVEL_RULE, PdfxLevelSettings(level=level))
