"""Which marks end up on the product, and where they are, told in a bounded number of boxes."""

from collections.abc import Iterable, Iterator
from typing import Final

from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark
from hotfolder.model.pages import Page

# A finding shows places to a person. Beyond this many, neighbours are drawn together: a traced
# illustration may have a hundred thousand paths.
MOST_BOXES: Final = 40
_GRID: Final = 6


def overlaps(one: Box, other: Box) -> bool:
    """Whether two boxes share more than an edge."""
    return one.x0 < other.x1 and one.x1 > other.x0 and one.y0 < other.y1 and one.y1 > other.y0


def on_product(page: Page, marks: Iterable[Mark]) -> Iterator[tuple[Mark, Box]]:
    """The marks that can show on the finished product, each with the part of its box that shows.

    Left out are marks that do not print, are clipped away or wholly covered by others, and those
    wholly outside trim and bleed (crop marks, slug lines, colour bars). Without a trim every printing
    mark counts.
    """
    for _, mark, visible in in_painting_order(page, marks):
        yield mark, visible


def in_painting_order(
    page: Page, marks: Iterable[Mark], *, inkless: bool = False
) -> Iterator[tuple[int, Mark, Box]]:
    """As `on_product`, each mark with its number among all marks of the page, in painting order.

    inkless: with those that leave no ink where they lie.
    """
    area = page.product_area
    for order, mark in enumerate(marks):
        shows = mark.lies_open if inkless else mark.shows
        if shows and mark.visible is not None and (area is None or overlaps(mark.visible, area)):
            yield order, mark, mark.visible


def gathered(boxes: Iterable[Box]) -> tuple[Box, ...]:
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
