"""Readable: the whole file can be read, without repairs and without gaps.

Why: what one reader repairs, the next repairs otherwise or refuses; what could not be read was
    not checked either.
On paper: a missing picture or page, or a job that stops at the printer's door.
Not flagged: oddities without consequence for what is painted.
Source: ISO 32000-2, 7.5 (file structure) for PDF; common practice for the weight.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import ClassVar, Final

from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Problem, ProblemKind, Unmeasured
from hotfolder.model.findings import Finding, Place, Severity, Unjudged
from hotfolder.model.ruleset import Rule, RuleSettings
from hotfolder.wording.lists import counted, shortened
from hotfolder.wording.pages import pages_words

ID: Final = "readable"

# What other rules say of parts that are damaged.
_TOLD_BY_OTHER_RULES: Final = (
    (re.compile(r"pdf\.output_intents\[\d+\]\.profile"), frozenset({"output-intent.no-profile"})),
)
_ON_PAGE: Final = re.compile(r"pages\[(\d+)\]")  # how facts name the page on which reading met trouble


class ReadableSettings(RuleSettings):
    """No figures: a file is readable or it is not.

    The code limits is for what could not be read to its end, at a limit of hotfolder's or because it is
    not understood: that part is left unjudged, rather than called faulty.
    """

    codes: ClassVar[Mapping[str, Severity]] = {
        "unreadable": Severity.MUST_FIX,
        "damaged": Severity.MUST_FIX,
        "no-pages": Severity.MUST_FIX,
        "limits": Severity.MUST_FIX,
    }


def check(artwork: Artwork, settings: ReadableSettings) -> Iterator[Finding | Unjudged]:
    """What could not be read, what was repaired, and what reading gave up on."""
    unreadable = _of_kind(artwork, ProblemKind.UNREADABLE)
    locked = _of_kind(artwork, ProblemKind.ENCRYPTED)
    given_up = [*_of_kind(artwork, ProblemKind.LIMIT), *_of_kind(artwork, ProblemKind.UNSUPPORTED)]
    if unreadable:
        whole = isinstance(artwork.pages, Unmeasured)
        yield _placed(
            Finding(
                rule=ID,
                code="unreadable",
                severity=settings.severity_of("unreadable"),
                message=f"{'The file' if whole else 'A part of the file'}{_on_pages(unreadable)} cannot be"
                f" read: {_troubles(unreadable)}. What cannot be read cannot be printed.",
                remedy="Export the artwork again, and copy it here again in case it was cut off on the way.",
                measured="nothing can be read" if whole else _parts(unreadable, "that cannot be read"),
                required="everything readable",
                # A file of no known kind cannot be read: that rule's finding says as much.
                told_by=(frozenset({"file-type.unknown"}),) if whole else (),
            ),
            unreadable,
        )
    damaged = _of_kind(artwork, ProblemKind.DAMAGED)
    if damaged:
        yield _placed(
            Finding(
                rule=ID,
                code="damaged",
                severity=settings.severity_of("damaged"),
                message=f"The file is damaged{_on_pages(damaged)} and was read only after repairs or with"
                f" parts left out: {_troubles(damaged)}. Another program may repair it differently,"
                " and print something else.",
                remedy="Export the artwork again, and copy it here again in case it was cut off on the way.",
                measured=_parts(damaged, "damaged"),
                required="nothing damaged",
                told_by=_told_by(damaged),
            ),
            damaged,
        )
    if artwork.pages == ():
        yield Finding(
            rule=ID,
            code="no-pages",
            severity=settings.severity_of("no-pages"),
            message="The file holds no page at all, so there is nothing to print.",
            remedy="Export the artwork again, with its pages.",
            measured="no pages",
            required="at least one page",
        )
    for what in dict.fromkeys(problem.what for problem in given_up):
        pages = _pages_of([problem for problem in given_up if problem.what == what])
        page = pages[0] if len(pages) == 1 else None
        where = f"{pages_words(pages)}: " if len(pages) > 1 else ""
        yield Unjudged(ID, settings.severity_of("limits"), where + what, page)
    if locked:
        cause = artwork.pages.reason if isinstance(artwork.pages, Unmeasured) else ""
        yield Unjudged(ID, settings.severity_of("unreadable"), locked[0].what, cause=cause)
    elif isinstance(artwork.pages, Unmeasured) and not unreadable and not given_up:
        yield Unjudged(ID, settings.severity_of("unreadable"), artwork.pages.reason)


def _of_kind(artwork: Artwork, kind: ProblemKind) -> list[Problem]:
    return [problem for problem in artwork.problems if problem.kind is kind]


def _page_of(problem: Problem) -> int | None:
    """The page on which reading met the problem; None for the file as a whole."""
    match = _ON_PAGE.match(problem.where)
    return int(match[1]) if match is not None else None


def _pages_of(problems: list[Problem]) -> list[int]:
    """The pages on which reading met the problems, in order."""
    return sorted({page for problem in problems if (page := _page_of(problem)) is not None})


def _on_pages(problems: list[Problem]) -> str:
    """Words for these pages, to stand behind a noun; none where no page is known."""
    pages = _pages_of(problems)
    return f" ({pages_words(pages)})" if pages else ""


def _placed(finding: Finding, problems: list[Problem]) -> Finding:
    """`finding` on the pages that it concerns; on none where a part of it concerns the file as a whole."""
    pages = _pages_of(problems)
    if not pages or any(_page_of(problem) is None for problem in problems):
        return finding
    return replace(finding, page=pages[0], further=tuple(Place(page) for page in pages[1:]))


def _told_by(problems: list[Problem]) -> tuple[frozenset[str], ...]:
    """The findings that tell of all that is damaged; none where a part is told nowhere else."""
    names_by_problem = [
        next((names for where, names in _TOLD_BY_OTHER_RULES if where.fullmatch(problem.where)), frozenset())
        for problem in problems
    ]
    return tuple(names_by_problem) if all(names_by_problem) else ()


def _parts(problems: list[Problem], state: str) -> str:
    """How many things are not as they should be: 1 part damaged, 3 parts that cannot be read."""
    return f"{counted(len(problems), 'part')} {state}"


def _troubles(problems: list[Problem]) -> str:
    different = list(dict.fromkeys(problem.what.rstrip(".") for problem in problems))
    return shortened(different)


RULE = Rule(
    id=ID,
    title="Readable",
    settings=ReadableSettings,
    check=check,
    question="Do you take files that had to be repaired before they could be read?",
    since="0.1",
)
