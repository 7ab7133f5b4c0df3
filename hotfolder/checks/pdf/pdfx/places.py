"""Where on the pages the objects of a file show, and which pages could not be read."""

from collections.abc import Iterator
from typing import Final, TypeAlias

from hotfolder.checks.pdf.pdfx.requirement import Breach, NotJudged, Subject
from hotfolder.model.facts import ProblemKind, Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page

# What leaves something unread that paints.
_HIDES: Final = frozenset({ProblemKind.UNREADABLE, ProblemKind.LIMIT})

# Pages, each with the places on it; without boxes it is the page as a whole.
Places: TypeAlias = list[tuple[Page, tuple[Box, ...]]]


def places_of(subject: Subject, objects: frozenset[str]) -> dict[str, Places]:
    """For each of `objects` (`12 0`), the pages that paint it or what it paints, each with the boxes."""
    places: dict[str, dict[int, tuple[Page, list[Box]]]] = {}
    if not objects:
        return {}
    for page in subject.pages:
        for mark in page.known_marks:
            painted = mark.image.object if mark.image is not None else None
            for key in {painted, mark.source.object} & objects:
                if key is not None and mark.on_paper and mark.visible is not None:
                    place = places.setdefault(key, {}).setdefault(page.number, (page, []))
                    place[1].append(mark.visible)
    return {
        key: [(page, tuple(boxes)) for page, boxes in by_page.values()] for key, by_page in places.items()
    }


def breaches_at(what: str, places: Places) -> Iterator[Breach]:
    """A breach for each place; one of the whole file where there is none."""
    if not places:
        yield Breach(what)
    for page, boxes in places:
        yield Breach(what, page, boxes)


def unread_pages(subject: Subject) -> Iterator[NotJudged]:
    """The pages whose content, or a part of it, could not be read."""
    parts = {problem.where: problem for problem in subject.artwork.problems if problem.kind in _HIDES}
    for page in subject.pages:
        if isinstance(page.marks, Unmeasured):
            yield NotJudged(f"what is painted is not known: {page.marks.reason}", page)
        elif (problem := parts.get(f"pages[{page.number}].marks")) is not None:
            yield NotJudged(f"a part of what is painted is not known: {problem.what}", page)
