"""How far the ink of a glyph reaches, in em.

An upright box is all that most text needs. Text at an angle does not fill the corners of a box, so for that
the convex hull of the glyph is worked out, which bounds it under any transformation.
"""

from collections.abc import Iterable, Iterator
from typing import Final

from hotfolder.model.geometry import Box
from hotfolder.pdf.objects.matrix import Point
from hotfolder.pdf.objects.outline import Outline

# A quarter of a circle cut into eight differs from it by half a percent of its radius.
_PIECES_OF_A_CURVE: Final = 8


# The upright box around a glyph's ink, in em: x0, y0, x1, y1; empty for a glyph that inks nothing.
Shape = tuple[float, float, float, float] | tuple[()]

BLANK: Final[Shape] = ()


def shape_of(outline: Outline) -> Shape:
    """The shape of a glyph that is filled."""
    box = outline.bounds()
    return BLANK if box is None else (box.x0, box.y0, box.x1, box.y1)


def shape_around(boxes: Iterable[Box]) -> Shape:
    """The shape of a Type 3 glyph that paints within these boxes."""
    corners = [corner for box in boxes for corner in ((box.x0, box.y0), (box.x1, box.y1))]
    if not corners:
        return BLANK
    around = Box.around(corners)
    return around.x0, around.y0, around.x1, around.y1


def hull_around(outline: Outline) -> tuple[Point, ...]:
    """The corners of the convex hull of an outline."""
    return hull(_points(outline))


def _points(outline: Outline) -> Iterator[Point]:
    for subpath in outline.drawn():
        here = subpath.start
        yield here
        for segment in subpath.segments:
            if len(segment) == 3:
                yield from _along(here, *segment)
            here = segment[-1]
            yield here


def _along(start: Point, first: Point, second: Point, end: Point) -> Iterator[Point]:
    for piece in range(1, _PIECES_OF_A_CURVE):
        t = piece / _PIECES_OF_A_CURVE
        s = 1 - t
        p, q, r, u = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        yield (
            p * start[0] + q * first[0] + r * second[0] + u * end[0],
            p * start[1] + q * first[1] + r * second[1] + u * end[1],
        )


def hull(points: Iterable[Point]) -> tuple[Point, ...]:
    """The corners of the convex hull of `points`, counted against the clock."""
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return tuple(ordered)
    return (*_chain(ordered)[:-1], *_chain(ordered[::-1])[:-1])


def _chain(ordered: list[Point]) -> list[Point]:
    corners: list[Point] = []
    for point in ordered:
        while len(corners) > 1 and _turn(corners[-2], corners[-1], point) <= 0:
            corners.pop()
        corners.append(point)
    return corners


def _turn(one: Point, other: Point, third: Point) -> float:
    """Positive where the way from `one` over `other` to `third` turns left."""
    return (other[0] - one[0]) * (third[1] - one[1]) - (other[1] - one[1]) * (third[0] - one[0])
