"""One cause, one finding: collects the places where a fault occurs, and puts them into its finding."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from hotfolder.model.findings import Finding, Place
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page
from hotfolder.wording.pages import pages_words
from hotfolder.wording.places import place_words

# A report shows a dozen pages; of a book with the same fault on every page, the later ones are only named.
_PAGES_WITH_BOXES: Final = 40

# A finding shows places to a person. Beyond this many, neighbours are drawn together: a traced
# illustration may have a hundred thousand paths.
MOST_BOXES: Final = 40
_GRID: Final = 6


class Occurrences:
    """The places where one fault occurs, page by page, for one finding that names them all."""

    def __init__(self) -> None:
        self._seen: dict[int, tuple[Page, list[Box]]] = {}
        self.count = 0

    @classmethod
    def of(cls, others: Iterable["Occurrences"]) -> "Occurrences":
        """All that `others` have met, as one."""
        whole = cls()
        for other in others:
            for page, boxes in other.each():
                whole.add(page, *boxes)
        return whole

    def __bool__(self) -> bool:
        return bool(self._seen)

    def add(self, page: Page, *boxes: Box) -> None:
        """Keep account of a place on `page`; without boxes it is the page as a whole."""
        _, boxes_so_far = self._seen.setdefault(page.number, (page, []))
        boxes_so_far.extend(boxes)
        self.count += 1

    def each(self) -> Iterator[tuple[Page, list[Box]]]:
        """The pages with their boxes, in the order in which they were met."""
        yield from self._seen.values()

    @property
    def pages(self) -> tuple[int, ...]:
        """The numbers of the pages on which the cause shows, in order."""
        return tuple(sorted(self._seen))

    def located(self, finding: Finding, *, words_for_place: bool = True) -> Finding:
        """`finding` with its pages, its boxes, and its message behind the words for where it is.

        The message begins in lower case, as the second half of a sentence: `Page 2, top edge: ...`.
        words_for_place: False where the message itself says where on the page.
        """
        numbers = self.pages
        places = tuple(
            Place(number, drawn_together(self._seen[number][1]) if order < _PAGES_WITH_BOXES else ())
            for order, number in enumerate(numbers)
        )
        page, boxes = self._seen[numbers[0]]
        where = place_words(page, boxes) if words_for_place else ""
        place = pages_words(numbers).capitalize()
        if where:
            place += f", {where}" if len(numbers) == 1 else f" (on page {page.number}: {where})"
        return replace(
            finding,
            message=f"{place}: {finding.message}",
            page=places[0].page,
            boxes=places[0].boxes,
            further=places[1:],
        )


def drawn_together(boxes: Iterable[Box]) -> tuple[Box, ...]:
    """The boxes without repetition; neighbours drawn together where there are more than `MOST_BOXES`."""
    different = list(dict.fromkeys(boxes))
    if len(different) <= MOST_BOXES:
        return tuple(different)
    whole = _around(different)
    cells: dict[tuple[int, int], list[Box]] = {}
    for box in different:
        column = _cell((box.x0 + box.x1) / 2 - whole.x0, whole.width)
        row = _cell((box.y0 + box.y1) / 2 - whole.y0, whole.height)
        cells.setdefault((column, row), []).append(box)
    return tuple(_around(neighbours) for neighbours in cells.values())


def _cell(offset: float, extent: float) -> int:
    return min(int(offset / extent * _GRID), _GRID - 1) if extent > 0 else 0


def _around(boxes: list[Box]) -> Box:
    """The smallest box that holds all `boxes`."""
    return Box.around([corner for box in boxes for corner in ((box.x0, box.y0), (box.x1, box.y1))])
