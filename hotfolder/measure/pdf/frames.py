"""Finds frames that are made of two rectangles: one in a colour, and a smaller white one painted over it.

On paper they are a line around bare paper, like one that is drawn in a stroke.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.pdf.content.slivers import LEAST_SHARE, MOST_UNEVEN, WIDEST_SLIVER_PT

# What is left by less than this is not seen, as in `covering`.
_NOISE_PT: Final = 0.006
# Rectangles nest this near in the steps of a gradient (own choice), and are looked for among so many before.
_STEPS: Final = 3.0
_MOST_LOOKED_AT: Final = 50


def mark_frames(marks: Sequence[Mark]) -> tuple[Mark, ...]:
    """The marks of a page in painting order, with `hollow` set on those of which a white one leaves a frame.

    A frame on ground of its own colour is none, nor is the last step of a gradient of nested rectangles.
    """
    updated = list(marks)
    areas: list[int] = []  # those that fill a rectangle, and print
    for order, mark in enumerate(marks):
        if mark.solid is None or not mark.printed or mark.repeated:
            continue
        if mark.white and areas:
            place = _around(updated, areas, mark.solid)
            if place is not None:
                updated[areas[place]] = _hollowed(updated[areas[place]], mark.solid)
        areas.append(order)
    return tuple(updated)


def _around(marks: list[Mark], areas: list[int], white: Box) -> int | None:
    """The place in `areas` of the rectangle that a white one, painted next, makes a frame of."""
    first = max(0, len(areas) - _MOST_LOOKED_AT)
    for place in range(len(areas) - 1, first - 1, -1):
        mark = marks[areas[place]]
        if mark.solid is None or not _holds(mark.solid, white):
            continue
        if mark.white or mark.kind is not MarkKind.PATH or not _same(mark.solid, mark.box):
            return None
        before = [marks[areas[other]] for other in range(first, place)]
        return None if any(_is_step(other, mark, white) for other in before) else place
    return None


def _is_step(before: Mark, mark: Mark, white: Box) -> bool:
    """Whether `before` is ground of the same colour, or a rectangle as close around as a gradient's steps."""
    if before.solid is None or not _holds(before.solid, mark.box):
        return False
    near = _STEPS * _widest(mark.box, white)
    return before.fill == mark.fill or _widest(before.solid, mark.box) <= near


def _hollowed(mark: Mark, white: Box) -> Mark:
    if mark.hollow is not None and mark.hollow.width * mark.hollow.height >= white.width * white.height:
        return mark
    sides = _sides(mark.box, white)
    is_line = max(sides) <= min(WIDEST_SLIVER_PT, MOST_UNEVEN * sum(sides) / 4)
    is_long = min(mark.box.width, mark.box.height) >= LEAST_SHARE * max(sides)
    return replace(mark, hollow=white, sliver_pt=max(sides) if is_line and is_long else None)


def _sides(outer: Box, inner: Box) -> tuple[float, float, float, float]:
    return inner.x0 - outer.x0, inner.y0 - outer.y0, outer.x1 - inner.x1, outer.y1 - inner.y1


def _widest(outer: Box, inner: Box) -> float:
    return max(_sides(outer, inner))


def _holds(outer: Box, inner: Box) -> bool:
    """Whether something of `outer` is left on all four sides of `inner`."""
    return min(_sides(outer, inner)) > _NOISE_PT


def _same(one: Box, other: Box) -> bool:
    return max(abs(side) for side in _sides(one, other)) <= _NOISE_PT
