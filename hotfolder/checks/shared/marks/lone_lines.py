"""Tells lines drawn as filled shapes from the strips of which gradients and cut-up areas are made."""

import math
from collections.abc import Sequence
from typing import Final

from hotfolder.model.geometry import Box

# A line is some times longer than wide, and longer than a full stop (own choice).
_LEAST_SHARE: Final = 4.0
_LEAST_LENGTH_PT: Final = 2.0
# Strips side by side overlap, touch, or leave a gap that rounding makes.
_GAP_PT: Final = 0.1
_ALIKE: Final = 0.25  # strips of one gradient that a shape clips differ in length
# Neighbours looked at on either side: a row of ten thousand dashes is no gradient.
_MOST_LOOKED_AT: Final = 50


def lone_lines(boxes: Sequence[Box]) -> list[bool]:
    """For each of the thin `boxes` whether it is a line: long, and with no other one laid along it."""
    lines = [False] * len(boxes)
    for flat in (True, False):
        chosen = [place for place, box in enumerate(boxes) if (box.width >= box.height) is flat]
        # Neighbours are near in the order of where they lie across their length.
        chosen.sort(
            key=lambda place: (_across(boxes[place], flat=flat), _across(boxes[place], flat=not flat))
        )
        for index, place in enumerate(chosen):
            box = boxes[place]
            length, thickness = (box.width, box.height) if flat else (box.height, box.width)
            long = length >= max(_LEAST_SHARE * thickness, _LEAST_LENGTH_PT)
            lines[place] = long and not _has_neighbour(boxes, chosen, index, flat=flat)
    return lines


def lone_slivers(slivers: Sequence[tuple[Box, float]]) -> list[bool]:
    """For each thin slanting or bent shape, its box and its width, whether it is a line as `lone_lines` says.

    Frames laid one within the other without a gap are the steps of a gradient too.
    """
    # Frames around one middle are neighbours by their width.
    order = sorted(range(len(slivers)), key=lambda place: _middle_and_width(slivers[place][0]))
    lines = [False] * len(slivers)
    for index, place in enumerate(order):
        box, width = slivers[place]
        long = math.hypot(box.width, box.height) >= max(_LEAST_SHARE * width, _LEAST_LENGTH_PT)
        near = order[max(0, index - _MOST_LOOKED_AT) : index] + order[index + 1 : index + 1 + _MOST_LOOKED_AT]
        lines[place] = long and not any(
            _along(box, width, slivers[other][0]) or _nested(box, width, slivers[other][0]) for other in near
        )
    return lines


def _middle_and_width(box: Box) -> tuple[float, float]:
    return round((box.x0 + box.x1) / 2, 1), box.width


def _along(box: Box, width: float, other: Box) -> bool:
    """Whether two slanting strips of one size lie side by side: moved against one another by their width."""
    alike = all(
        abs(a - b) <= _ALIKE * max(a, b) + _GAP_PT
        for a, b in ((box.width, other.width), (box.height, other.height))
    )
    moved = math.hypot(box.x0 + box.x1 - other.x0 - other.x1, box.y0 + box.y1 - other.y0 - other.y1) / 2
    return alike and width / 4 < moved <= 2 * width + _GAP_PT


def _nested(box: Box, width: float, other: Box) -> bool:
    """Whether of two frames one lies within the other, their sides about as far apart as they are wide."""
    sides = (other.x0 - box.x0, other.y0 - box.y0, box.x1 - other.x1, box.y1 - other.y1)
    within = min(sides) > 0 or max(sides) < 0
    return within and max(map(abs, sides)) <= 1.5 * width + _GAP_PT


def _has_neighbour(boxes: Sequence[Box], chosen: Sequence[int], index: int, *, flat: bool) -> bool:
    box = boxes[chosen[index]]
    low, high = _across(box, flat=flat)
    before = chosen[max(0, index - _MOST_LOOKED_AT) : index]
    behind = chosen[index + 1 : index + 1 + _MOST_LOOKED_AT]
    for others in (reversed(before), behind):
        for place in others:
            other = boxes[place]
            start, end = _across(other, flat=flat)
            if start > high + _GAP_PT or end < low - _GAP_PT:
                break
            if other != box and _side_by_side(box, other, flat=flat):
                return True
    return False


def _across(box: Box, *, flat: bool) -> tuple[float, float]:
    return (box.y0, box.y1) if flat else (box.x0, box.x1)


def _side_by_side(one: Box, other: Box, *, flat: bool) -> bool:
    """Whether they share more than half of the shorter one's length."""
    (a0, a1), (b0, b1) = (_across(one, flat=not flat), _across(other, flat=not flat))
    return min(a1, b1) - max(a0, b0) > min(a1 - a0, b1 - b0) / 2
