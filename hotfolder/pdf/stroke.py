"""The box around a stroked path (ISO 32000-2, 8.4.3): caps, joins and the transformed pen included.

A wide line is often a painted area: a bar that ends at the trim with a butt cap must not count as
running on by half its width. Dashes are left out; they only shorten what is painted.
"""

import math
from collections.abc import Iterator
from itertools import pairwise

from hotfolder.artwork import Box
from hotfolder.pdf.graphics_state import LineStyle
from hotfolder.pdf.matrix import Matrix, Point
from hotfolder.pdf.outline import Outline, Segment, Subpath, curve_extremes

_BUTT, _ROUND, _SQUARE = 0, 1, 2
_MITER = 0


def stroke_bounds(outline: Outline, line: LineStyle, ctm: Matrix) -> Box | None:
    """The box around the stroked `outline`; None where nothing is painted.

    The outline is in the page's space; `ctm` transforms the pen, a circle in user space.
    """
    pen = _Pen(line, ctm)
    points: list[Point] = []
    for subpath in outline.drawn():
        points.extend(pen.subpath(subpath))
    return Box.around(points) if points else None


class _Pen:
    """The pen under a matrix: an ellipse in general."""

    def __init__(self, line: LineStyle, ctm: Matrix) -> None:
        self._line = line
        self._half = abs(line.width) / 2
        self._matrix = ctm
        self._inverse = ctm.inverted()
        # How far the ellipse reaches along the page's axes.
        self._reach = self._half * math.hypot(ctm.a, ctm.c), self._half * math.hypot(ctm.b, ctm.d)

    def subpath(self, subpath: Subpath) -> Iterator[Point]:
        pieces = list(_pieces(subpath))
        if not pieces:
            # A point: round caps paint a dot, square ones a square; butt caps nothing (8.5.3.2).
            if self._line.cap != _BUTT:
                yield from self._around(subpath.start)
            return
        for piece in pieces:
            yield from self._piece(piece)
        for before, after in pairwise(pieces):
            yield from self._join(before, after)
        if subpath.closed:
            yield from self._join(pieces[-1], pieces[0])
        else:
            yield from self._cap(pieces[0].start, pieces[0].leaving, -1)
            yield from self._cap(pieces[-1].end, pieces[-1].arriving, 1)

    def _around(self, point: Point) -> Iterator[Point]:
        across, up = self._reach
        yield point[0] - across, point[1] - up
        yield point[0] + across, point[1] + up

    def _normal(self, direction: Point) -> Point | None:
        """Half the pen's width square to a direction on the page: square in user space, that is."""
        if self._inverse is None:
            return None
        x, y = self._inverse.direction(*direction)
        length = math.hypot(x, y)
        if not length:
            return None
        return self._matrix.direction(-y / length * self._half, x / length * self._half)

    def _piece(self, piece: "_Piece") -> Iterator[Point]:
        """The corners of a straight piece; where a curve turns back, the pen's reach around it."""
        for point, direction in ((piece.start, piece.leaving), (piece.end, piece.arriving)):
            normal = self._normal(direction)
            if normal is None:
                yield from self._around(point)
            else:
                yield point[0] + normal[0], point[1] + normal[1]
                yield point[0] - normal[0], point[1] - normal[1]
        for point in piece.extremes:
            yield from self._around(point)

    def _cap(self, point: Point, direction: Point, sign: int) -> Iterator[Point]:
        normal = self._normal(direction)
        if self._line.cap == _BUTT or normal is None:
            return
        if self._line.cap == _ROUND:
            yield from self._around(point)
            return
        ahead = self._ahead(direction)
        for side in (1, -1):
            yield (
                point[0] + sign * ahead[0] + side * normal[0],
                point[1] + sign * ahead[1] + side * normal[1],
            )

    def _ahead(self, direction: Point) -> Point:
        """Half the pen's width on in a direction, both seen in user space."""
        x, y = self._inverse.direction(*direction) if self._inverse is not None else (0.0, 0.0)
        length = math.hypot(x, y)
        return self._matrix.direction(x / length * self._half, y / length * self._half) if length else (0, 0)

    def _join(self, before: "_Piece", after: "_Piece") -> Iterator[Point]:
        if self._line.join == _ROUND:
            yield from self._around(before.end)
        elif self._line.join == _MITER and self._inverse is not None:
            tip = self._miter(before.arriving, after.leaving)
            if tip is not None:
                yield before.end[0] + tip[0], before.end[1] + tip[1]

    def _miter(self, arriving: Point, leaving: Point) -> Point | None:
        """From the corner to the tip of its miter; None where the miter limit cuts it off (8.4.3.5)."""
        if self._inverse is None:
            return None
        ax, ay = self._inverse.direction(*arriving)
        bx, by = self._inverse.direction(*leaving)
        lengths = math.hypot(ax, ay), math.hypot(bx, by)
        if not all(lengths):
            return None
        ax, ay, bx, by = ax / lengths[0], ay / lengths[0], bx / lengths[1], by / lengths[1]
        # The tip lies where both outer edges meet: along a - b, at half / sin(phi / 2) from the
        # corner, with phi the angle between the segments; |a - b| is 2 cos(phi / 2) turned about.
        x, y = ax - bx, ay - by
        length = math.hypot(x, y)
        sine = math.sqrt(max(1 - (length / 2) ** 2, 0.0))
        if length < 1e-9 or sine < 1e-9 or 1 / sine > self._line.miter_limit:
            return None
        reach = self._half / sine
        return self._matrix.direction(x / length * reach, y / length * reach)


class _Piece:
    """A segment with the directions in which it leaves its start and arrives at its end."""

    def __init__(self, start: Point, segment: Segment) -> None:
        self.start, self.end = start, segment[-1]
        points = [start, *segment]
        self.leaving = _direction(points)
        self.arriving = _reversed(_direction(points[::-1]))
        self.extremes = curve_extremes(start, *segment) if len(segment) == 3 else []


def _pieces(subpath: Subpath) -> Iterator[_Piece]:
    """The segments that have an extent; the closing one among them."""
    here = subpath.start
    for segment in subpath.segments:
        if any(point != here for point in segment):
            yield _Piece(here, segment)
        here = segment[-1]
    if subpath.closed and here != subpath.start:
        yield _Piece(here, (subpath.start,))


def _direction(points: list[Point]) -> Point:
    """From the first point towards the next one that lies elsewhere."""
    first = points[0]
    other = next((point for point in points if point != first), first)
    return other[0] - first[0], other[1] - first[1]


def _reversed(direction: Point) -> Point:
    return -direction[0], -direction[1]
