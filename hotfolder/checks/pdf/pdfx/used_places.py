"""Breaches of what pages use, with where on the page the marks lie that show it."""

from collections.abc import Callable, Iterable, Iterator

from hotfolder.checks.pdf.pdfx.requirement import Breach, Subject
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark
from hotfolder.model.pages import Page


def boxes_where(page: Page, wanted: Callable[[Mark], bool]) -> tuple[Box, ...]:
    """What is visible on paper of the marks of a page that are `wanted`."""
    return tuple(
        mark.visible
        for mark in page.known_marks
        if mark.printed and mark.visible is not None and wanted(mark)
    )


def on_pages(
    subject: Subject,
    things: Iterable[tuple[str, Iterable[int]]],
    wanted: Callable[[Mark], bool] | None = None,
) -> Iterator[Breach]:
    """A breach for each thing on each of its pages. things: what each is, and the numbers of its pages.

    wanted: which marks show a thing of this kind; their boxes go with the first thing of each page, as
    it cannot be told which of the marks belongs to which. None where no mark tells.
    """
    placed: set[int] = set()
    for what, numbers in things:
        for page in pages_of(subject, numbers):
            is_first = page.number not in placed
            placed.add(page.number)
            yield Breach(what, page, boxes_where(page, wanted) if wanted is not None and is_first else ())


def by_object(
    subject: Subject,
    things: Iterable[tuple[str, str | None, Iterable[int]]],
    object_of: Callable[[Mark], str | None],
) -> Iterator[Breach]:
    """A breach for each thing on each of its pages, with the boxes of the marks that come from its object.

    things: what each is, its object number, and the numbers of its pages. object_of: the object of a mark.
    """
    places: dict[int, dict[str, list[Box]]] = {}
    for what, key, numbers in things:
        for page in pages_of(subject, numbers):
            if page.number not in places:
                places[page.number] = _boxes_by_object(page, object_of)
            yield Breach(what, page, tuple(places[page.number].get(key or "", ())))


def image_object(mark: Mark) -> str | None:
    """The object number of the image that a mark is."""
    return mark.image.object if mark.image is not None else None


def source_object(mark: Mark) -> str | None:
    """The object number of the stream whose operators paint a mark."""
    return mark.source.object


def in_object(key: str | None) -> str:
    """` (object 12)`, to go on after what a thing is; empty for a thing without a number of its own."""
    return f" (object {key.split()[0]})" if key is not None else ""


def pages_of(subject: Subject, numbers: Iterable[int]) -> Iterator[Page]:
    """The pages of these numbers; none for a number that no page has."""
    pages = subject.pages
    yield from (pages[number - 1] for number in numbers if 0 < number <= len(pages))


def _boxes_by_object(page: Page, object_of: Callable[[Mark], str | None]) -> dict[str, list[Box]]:
    boxes: dict[str, list[Box]] = {}
    for mark in page.known_marks:
        key = object_of(mark)
        if key is not None and mark.printed and mark.visible is not None:
            boxes.setdefault(key, []).append(mark.visible)
    return boxes
