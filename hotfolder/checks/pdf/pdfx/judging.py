"""Judges a file against a level of PDF/X: every requirement that the level has."""

from collections.abc import Iterator
from dataclasses import dataclass

from hotfolder.checks.pdf.pdfx.places import unread_pages
from hotfolder.checks.pdf.pdfx.register import REQUIREMENTS
from hotfolder.checks.pdf.pdfx.requirement import Breach, NotJudged, Requirement, Subject
from hotfolder.checks.shared.pdfx_levels import Level


@dataclass(frozen=True, slots=True)
class BrokenRequirement:
    """A requirement that the file breaks, with all that breaks it."""

    requirement: Requirement
    breaches: tuple[Breach, ...]


@dataclass(frozen=True, slots=True)
class OpenRequirement:
    """A requirement that could not be judged in the file, or not everywhere."""

    requirement: Requirement
    reason: NotJudged


@dataclass(frozen=True, slots=True)
class Conformance:
    """What judging a file against a level came to; requirements are kept where neither names them."""

    level: Level
    broken: tuple[BrokenRequirement, ...]
    left_open: tuple[OpenRequirement, ...]


def requirements_of(level: Level) -> tuple[Requirement, ...]:
    """The requirements of a level, those that are not judged at all included."""
    return tuple(each for each in REQUIREMENTS if level in each.levels)


def judge_level(subject: Subject, level: Level) -> Conformance:
    """Whether the file keeps `level`."""
    broken, left_open = [], []
    for requirement in requirements_of(level):
        results = list(_results(requirement, subject, level))
        breaches = tuple(each for each in results if isinstance(each, Breach))
        if breaches:
            broken.append(BrokenRequirement(requirement, breaches))
        left_open += [OpenRequirement(requirement, each) for each in results if isinstance(each, NotJudged)]
    return Conformance(level, tuple(broken), tuple(left_open))


def judge_locked(level: Level) -> Conformance:
    """What is known of a file that opens only with a password: it is encrypted, which no level takes."""
    (encrypted,) = (each for each in requirements_of(level) if each.id == "encrypted")
    broken = BrokenRequirement(encrypted, (Breach("the file opens only with a password"),))
    return Conformance(level, (broken,), ())


def _results(requirement: Requirement, subject: Subject, level: Level) -> Iterator[Breach | NotJudged]:
    if requirement.judge is None:
        return
    yield from requirement.judge(subject, level)
    if requirement.of_content:
        yield from unread_pages(subject)
