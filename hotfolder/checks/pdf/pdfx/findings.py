"""What people are told of a level of PDF/X that a file breaks: one finding for each requirement."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from hotfolder.checks.pdf.pdfx.judging import BrokenRequirement, Conformance, OpenRequirement
from hotfolder.checks.pdf.pdfx.requirement import Breach, Requirement
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.pdfx_levels import Level
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.ruleset import RuleSettings
from hotfolder.wording.pages import pages_words

# More different things that break one requirement are counted and not named.
_NAMED: Final = 4


def default_severity(requirement: Requirement) -> Severity:
    """How much breaking it weighs: advice where no level that has it is certain to."""
    return Severity.ADVICE if requirement.levels <= requirement.unconfirmed else Severity.MUST_FIX


def findings_of(
    conformance: Conformance, rule: str, settings: RuleSettings, most: Severity = Severity.MUST_FIX
) -> Iterator[Finding | Unjudged]:
    """The findings of a judgement, and what it left open. most: the gravest that any of it may be."""
    for broken in conformance.broken:
        severity = _severity(broken.requirement, conformance.level, settings, most)
        yield _finding(broken, conformance.level, rule, severity)
    yield from _unjudged(conformance, rule, settings, most)


def _severity(requirement: Requirement, level: Level, settings: RuleSettings, most: Severity) -> Severity:
    severity = settings.severity_of(requirement.id)
    own_choice = requirement.id in settings.severity
    uncertain = level in requirement.unconfirmed and not own_choice
    weaker = severity is Severity.MUST_FIX and (uncertain or most is Severity.ADVICE)
    return Severity.ADVICE if weaker else severity


def _finding(broken: BrokenRequirement, level: Level, rule: str, severity: Severity) -> Finding:
    requirement = broken.requirement
    what = _all_of(broken.breaches)
    finding = Finding(
        rule=rule,
        code=requirement.id,
        severity=severity,
        message=f"{what}; {level} {requirement.wants}. {requirement.why}",
        remedy=requirement.remedy,
        measured=what,
        required=str(level),
        standard=requirement.standard_of(level),
        told_by=(requirement.told_by,) if requirement.told_by else (),
    )
    places = Occurrences()
    for breach in broken.breaches:
        if breach.page is not None:
            places.add(breach.page, *breach.boxes)
    if places:
        return places.located(finding)
    return replace(finding, message=finding.message[:1].upper() + finding.message[1:])


def _all_of(breaches: Sequence[Breach]) -> str:
    """Each different thing once; where there are many, the first of them and how many more."""
    different = list(dict.fromkeys(breach.what for breach in breaches))
    named = "; ".join(different[:_NAMED])
    more = len(different) - _NAMED
    return named if more <= 0 else f"{named}; and {more} more like these"


def _unjudged(
    conformance: Conformance, rule: str, settings: RuleSettings, most: Severity
) -> Iterator[Unjudged]:
    """What could not be judged: each reason once, with the requirements that it leaves open."""
    reasons: dict[str, list[OpenRequirement]] = {}
    for each in conformance.left_open:
        reasons.setdefault(each.reason.reason, []).append(each)
    for reason, group in reasons.items():
        pages = sorted({each.reason.page.number for each in group if each.reason.page is not None})
        names = ", ".join(dict.fromkeys(each.requirement.id for each in group))
        severities = {_severity(each.requirement, conformance.level, settings, most) for each in group}
        yield Unjudged(
            rule,
            Severity.MUST_FIX if Severity.MUST_FIX in severities else Severity.ADVICE,
            f"{pages_words(pages) + ': ' if len(pages) > 1 else ''}{reason} (requirements of"
            f" {conformance.level} left open: {names})",
            page=pages[0] if len(pages) == 1 else None,
            cause=reason,
        )
