"""The list of requirements for people, made from the register: `python -m hotfolder.checks.pdf.pdfx.docs`."""

import sys
from collections.abc import Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.judging import requirements_of
from hotfolder.checks.pdf.pdfx.register import TOPICS
from hotfolder.checks.pdf.pdfx.requirement import JudgedExtent, Requirement
from hotfolder.checks.shared.pdfx_levels import ALL, OTHERS, X1A, X3, X4, Level
from hotfolder.wording.lists import counted, listed

INTRODUCTION: Final = (
    "What each level of PDF/X asks of a file, as far as public sources tell, and how far it is judged here.",
    (
        "Must fix holds a file back; what is known from memory only, or could not be confirmed by a second"
        " source, is advice. Clauses are named only where they were verified. The standards themselves (ISO"
        " 15930) have the last word on what conforms, and the printer's own specification on what is printed:"
        " what passes here is no certificate."
    ),
    f"Recognised, and not judged: {listed(OTHERS)}.",
)

_OPENING: Final = """\
# PDF/X, requirement by requirement

Made from the requirements themselves by `python -m hotfolder.checks.pdf.pdfx.docs`; a test holds this page
against them.
"""


def counts_words(level: Level) -> str:
    """How many requirements of a level are judged, and how far."""
    extents = [requirement.extent for requirement in requirements_of(level)]
    full, part, none = (extents.count(extent) for extent in JudgedExtent)
    return (
        f"{counted(len(extents), 'requirement')} of {level}: {full} judged in full, {part} in part,"
        f" {none} not at all"
    )


def requirements_page() -> str:
    """All requirements as one page of Markdown, topic by topic."""
    parts = [_OPENING, "\n\n".join(INTRODUCTION), "\n".join(f"- {counts_words(level)}" for level in Level)]
    parts.append("\n".join(_table()))
    for topic, requirements in TOPICS:
        parts.append(f"## {topic}")
        parts += ["\n".join(_section(requirement)) for requirement in requirements]
    return "\n\n".join(part.strip() for part in parts) + "\n"


def requirements_explained() -> Iterator[str]:
    """All requirements as lines for a terminal, topic by topic."""
    yield "PDF/X, requirement by requirement"
    for paragraph in INTRODUCTION:
        yield from ("", paragraph)
    yield ""
    yield from (f"  {counts_words(level)}" for level in Level)
    for topic, requirements in TOPICS:
        yield from ("", f"{topic}:")
        for requirement in requirements:
            yield from ("", f"  {requirement.id} ({_levels(requirement)}): it {requirement.wants}.")
            yield from (f"    {name}: {text}" for name, text in _details(requirement))


def _table() -> Iterator[str]:
    names = [level.removeprefix("PDF/") for level in Level]
    yield f"| requirement | {' | '.join(names)} | judged |"
    yield f"| --- |{' --- |' * len(names)} --- |"
    for _, requirements in TOPICS:
        for each in requirements:
            cells = " | ".join(_weight(each, level) for level in Level)
            yield f"| [{each.id}](#{each.id}) | {cells} | {each.extent} |"


def _weight(requirement: Requirement, level: Level) -> str:
    if level not in requirement.levels:
        return "-"
    if requirement.judge is None:
        return "not judged"
    return "advice" if level in requirement.unconfirmed else "must fix"


def _section(requirement: Requirement) -> Iterator[str]:
    yield f"### {requirement.id}\n"
    yield f"{_levels(requirement)}: it {requirement.wants}.\n"
    yield from (f"- {name}: {text}" for name, text in _details(requirement))


def _levels(requirement: Requirement) -> str:
    """The levels that have a requirement, those that differ only by their year together."""
    if requirement.levels == ALL:
        return "all levels"
    return _named(requirement.levels)


def _named(levels: frozenset[Level]) -> str:
    names: list[str] = []
    left = set(levels)
    for family, name in ((X1A, "PDF/X-1a"), (X3, "PDF/X-3"), (X4, "PDF/X-4 and X-4p")):
        if family <= left:
            names.append(name)
            left -= family
    return listed([*names, *(str(level) for level in Level if level in left)])


def _details(requirement: Requirement) -> Iterator[tuple[str, str]]:
    yield "Why", requirement.why
    yield "Remedy", requirement.remedy
    yield "Clause", requirement.clause or "not verified"
    yield "Source", requirement.source
    if requirement.unconfirmed:
        yield "Advice only", f"for {_named(requirement.unconfirmed)}"
    yield "Judged", f"{requirement.extent}{': ' if requirement.limits else ''}{requirement.limits}"


if __name__ == "__main__":
    sys.stdout.write(requirements_page())
