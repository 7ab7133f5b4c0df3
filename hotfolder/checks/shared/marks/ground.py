"""What a mark is painted over: the paint that was laid down before it, in the same place.

Marks count with the boxes that hold them, so a round shape is taken for its square; but what stands within
a frame does not stand on it. Only areas are ground: text and thin lines beneath other text are no colour that
one could see around it.
"""

from collections.abc import Iterable, Iterator
from typing import Final

from hotfolder.checks.shared.marks.edges import LINE
from hotfolder.checks.shared.marks.on_product import overlaps
from hotfolder.checks.shared.marks.tints import inks_at_most
from hotfolder.model.colour import Colour
from hotfolder.model.geometry import Box
from hotfolder.model.marks import PLAIN_BLENDS, Mark, MarkKind, Masking

_CELL_PT: Final = 36.0
_MOST_CELLS: Final = 64  # a mark over more of them is kept in a list of its own: it lies nearly everywhere

# What two neighbours on a page share by rounding is no overlap.
_TOUCH_PT: Final = 0.1

_SIDES_OF_A_FRAME: Final = 4


class Ground:
    """The area paint of one page, by place; the marks are numbered in their order."""

    def __init__(self, marks: Iterable[Mark]) -> None:
        self._wide: list[tuple[int, Mark, Box]] = []
        self._cells: dict[tuple[int, int], list[tuple[int, Mark, Box]]] = {}
        for order, mark in enumerate(marks):
            box = mark.visible
            if not mark.printed or box is None or not _is_area(mark):
                continue
            cells = _cells(box)
            if cells is None:
                self._wide.append((order, mark, box))
                continue
            for cell in cells:
                self._cells.setdefault(cell, []).append((order, mark, box))

    def beneath(self, order: int, box: Box) -> Iterator[Mark]:
        """The areas under `box` of the mark numbered `order`, topmost first, down to one that covers all."""
        areas = {
            below: mark
            for below, mark, area in self._near(box)
            if below < order and overlaps(area.grown(-_TOUCH_PT), box) and not _is_around(mark, box)
        }
        for below in sorted(areas, reverse=True):
            yield areas[below]
            if _covers(areas[below], box):
                return

    def inks(self, order: int, box: Box) -> frozenset[str]:
        """The inks that may lie under `box`; none where it stands on bare paper."""
        return frozenset(
            ink
            for mark in self.beneath(order, box)
            if not mark.white
            for colour in _area_colours(mark)
            for ink in inks_at_most(colour)
        )

    def _near(self, box: Box) -> Iterator[tuple[int, Mark, Box]]:
        yield from self._wide
        cells = _cells(box)
        for cell in self._cells if cells is None else cells:
            yield from self._cells.get(cell, ())


def _cells(box: Box) -> list[tuple[int, int]] | None:
    """The cells that a box touches; None where they are very many."""
    x0, x1 = int(box.x0 // _CELL_PT), int(box.x1 // _CELL_PT)
    y0, y1 = int(box.y0 // _CELL_PT), int(box.y1 // _CELL_PT)
    if (x1 - x0 + 1) * (y1 - y0 + 1) > _MOST_CELLS:
        return None
    return [(x, y) for x in range(x0, x1 + 1) for y in range(y0, y1 + 1)]


def _is_area(mark: Mark) -> bool:
    match mark.kind:
        case MarkKind.TEXT:
            return False
        case MarkKind.PATH if mark.fill is None:
            return (mark.line_width_pt or 0) >= LINE and mark.state.stroke_opacity > 0
        case _:
            return mark.state.fill_opacity > 0


def _is_around(mark: Mark, box: Box) -> bool:
    """Whether a mark is a frame within which a box lies: a filled one with a hole, or a stroked rectangle."""
    hole = mark.hollow
    if hole is None and mark.fill is None and mark.sides == _SIDES_OF_A_FRAME:
        hole = mark.box.grown(-(mark.line_width_pt or 0))
    return hole is not None and hole.holds(box, _TOUCH_PT)


def _area_colours(mark: Mark) -> Iterator[Colour]:
    if mark.fill is not None:
        yield mark.fill
    elif mark.stroke is not None:
        yield mark.stroke


def _covers(mark: Mark, box: Box) -> bool:
    """Whether nothing of what lies deeper shows in `box`."""
    state = mark.state
    opaque = (
        state.fill_opacity >= 1
        and state.blend_mode in PLAIN_BLENDS
        and not state.soft_mask
        and not state.overprint_fill
        and (mark.image is None or mark.image.masking is Masking.NONE)
    )
    return opaque and mark.fill is not None and mark.visible is not None and mark.visible.holds(box, 0.5)
