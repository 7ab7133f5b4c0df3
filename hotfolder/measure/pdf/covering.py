"""Finds the marks that nobody will see: hidden as a whole by an opaque area that is painted later.

A photo beneath a colour block, a line of text that was painted over: they are in the file, and not on
paper. Only what is known to hide counts (`Mark.solid`): upright rectangles and pictures, opaque, printed,
that do not overprint. Tiles laid edge to edge count as the one area that they make. Where several areas
hide a mark only together, or a shape of another kind does, the mark counts as seen.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark
from hotfolder.pdf.objects.limits import COVERS_AT_A_PLACE

# What a cover leaves free by less than this is not seen: a fifth of a dot of a plate-setter (2400 to an
# inch).
_NOISE_PT: Final = 0.006
# A line thinner than the device can draw is drawn as thin as it can: a dot of 300 to an inch.
_THINNEST_PT: Final = 0.24
# Letters whose outlines are not known may reach so far beyond the box that their font declares, in em.
_OVERHANG_EM: Final = 0.25
# Lines around letters reach beyond their corners, here by so many widths.
_MITRE_WIDTHS: Final = 2.0


def mark_covered(marks: Sequence[Mark]) -> tuple[Mark, ...]:
    """The marks of a page in painting order, with `covered` set on those that a later one hides."""
    printed = ((order, mark) for order, mark in enumerate(marks) if mark.printed)
    solids = {order: mark.solid for order, mark in printed if mark.solid is not None}
    if not solids:
        return tuple(marks)
    tiled: dict[int, list[Box]] = {}
    for area in _tiled(solids):
        tiled.setdefault(area.order, []).append(area.box)
    covers, updated = _Covers(), list(marks)
    # From the last to the first, so that the covers known are always those painted later.
    for order in range(max(solids), -1, -1):
        mark = marks[order]
        seen = _seen(mark) if covers.known and mark.on_paper and not mark.repeated else None
        if seen is not None and covers.hide(seen):
            updated[order] = replace(mark, covered=True)
        if order in solids:
            for box in (solids[order], *tiled.get(order, ())):
                covers.add(box)
    return tuple(updated)


def _seen(mark: Mark) -> Box | None:
    """The box around what could be seen of a mark, with all that may stick out of it; None for nothing."""
    visible = mark.visible
    if mark.text is not None:
        margin = (mark.line_width_pt or 0.0) * _MITRE_WIDTHS
        box, visible = mark.text.ink or mark.box, mark.text.visible_ink if mark.text.ink else mark.visible
        if mark.text.ink is None:
            margin += mark.text.size_pt * _OVERHANG_EM
        visible = _widened(visible, box, margin) if visible is not None else None
    if visible is None:
        return None
    across = max(0.0, _THINNEST_PT - visible.width) / 2
    up = max(0.0, _THINNEST_PT - visible.height) / 2
    if not across and not up:
        return visible
    return Box(visible.x0 - across, visible.y0 - up, visible.x1 + across, visible.y1 + up)


def _widened(visible: Box, box: Box, margin: float) -> Box:
    """`visible` with `margin` on the sides where it was not clipped."""
    return Box(
        visible.x0 - (margin if visible.x0 <= box.x0 else 0),
        visible.y0 - (margin if visible.y0 <= box.y0 else 0),
        visible.x1 + (margin if visible.x1 >= box.x1 else 0),
        visible.y1 + (margin if visible.y1 >= box.y1 else 0),
    )


@dataclass(frozen=True, slots=True)
class _FilledArea:
    """An area that several marks fill together; order: that of the first of them."""

    order: int
    box: Box
    tiles: int = 1


def _tiled(solids: dict[int, Box]) -> Iterator[_FilledArea]:
    """The areas that tiles fill which are painted one after the other, in rows or in columns."""
    rows: list[_FilledArea] = []
    for order, box in solids.items():
        area = _FilledArea(order, box)
        while rows and (joined := _joined(rows[-1].box, area.box)) is not None:
            before = rows.pop()
            area = _FilledArea(before.order, joined, before.tiles + area.tiles)
        rows.append(area)
    return (area for area in rows if area.tiles > 1)


def _joined(one: Box, other: Box) -> Box | None:
    """The rectangle that two make which share a side; None where they do not."""
    if abs(one.y0 - other.y0) < _NOISE_PT and abs(one.y1 - other.y1) < _NOISE_PT:
        if max(one.x0, other.x0) > min(one.x1, other.x1) + _NOISE_PT:
            return None
        x0, x1 = min(one.x0, other.x0), max(one.x1, other.x1)
        return Box(x0, max(one.y0, other.y0), x1, min(one.y1, other.y1))
    if abs(one.x0 - other.x0) < _NOISE_PT and abs(one.x1 - other.x1) < _NOISE_PT:
        if max(one.y0, other.y0) > min(one.y1, other.y1) + _NOISE_PT:
            return None
        y0, y1 = min(one.y0, other.y0), max(one.y1, other.y1)
        return Box(max(one.x0, other.x0), y0, min(one.x1, other.x1), y1)
    return None


class _Covers:
    """A spatial index of boxes that tells whether one of them holds a given box.

    Boxes of about one size are in one grid, whose cells are as wide as they are: a box then lies in four
    cells at most, and a box that could hold another is looked for in one cell of each grid.
    """

    def __init__(self) -> None:
        self._cells: dict[tuple[float, float, int, int], list[Box]] = {}
        self._grids: dict[tuple[float, float], None] = {}

    @property
    def known(self) -> bool:
        """Whether there are any."""
        return bool(self._grids)

    def add(self, box: Box) -> None:
        """Adds a box, unless another one holds it."""
        if self.hide(box):
            return
        across, up = _cell_size(box.width), _cell_size(box.height)
        self._grids[across, up] = None
        for column in range(math.floor(box.x0 / across), math.floor(box.x1 / across) + 1):
            for row in range(math.floor(box.y0 / up), math.floor(box.y1 / up) + 1):
                cell = self._cells.setdefault((across, up, column, row), [])
                if len(cell) < COVERS_AT_A_PLACE:
                    cell.append(box)

    def hide(self, box: Box) -> bool:
        """Whether one of the boxes holds `box`."""
        width, height = box.width - 2 * _NOISE_PT, box.height - 2 * _NOISE_PT
        x, y = (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2
        for across, up in self._grids:
            if across < width or up < height:
                continue
            cell = self._cells.get((across, up, math.floor(x / across), math.floor(y / up)))
            if cell is not None and any(cover.holds(box, _NOISE_PT) for cover in cell):
                return True
        return False


def _cell_size(extent: float) -> float:
    """The least power of four that is no less than `extent`."""
    return 4.0 ** max(0, math.ceil(math.log(extent, 4))) if extent > 1 else 1.0
