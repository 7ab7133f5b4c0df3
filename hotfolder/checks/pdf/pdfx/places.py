"""Where on the pages the objects of a file show."""

from collections.abc import Iterator
from typing import TypeAlias

from hotfolder.checks.pdf.pdfx.requirement import Breach, Subject
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page

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
