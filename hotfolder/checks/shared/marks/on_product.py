"""Which marks can show on the finished product, and where on the page they lie."""

from collections.abc import Iterable, Iterator

from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark
from hotfolder.model.pages import Page


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
