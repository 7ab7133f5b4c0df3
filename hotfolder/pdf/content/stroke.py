"""The box around a stroked path, and its width (ISO 32000-2, 8.4.3): with caps, joins, a transformed pen.

A wide line is often a painted area: a bar that ends at the trim with a butt cap must not count as
running on by half its width. Dashes are left out; they only shorten what is painted.
"""

import math
from typing import NamedTuple

from hotfolder.model.geometry import Box
from hotfolder.pdf.content.graphics_state import LineStyle
from hotfolder.pdf.objects.matrix import Matrix, Point
from hotfolder.pdf.objects.outline import Outline, Segment, Subpath, curve_extremes

_BUTT, _ROUND = 0, 1
_MITER = 0

# The cosine below which two unit vectors count as opposite or the same: nothing is mitred there.
_STRAIGHT = 1e-9


def stroke_bounds(outline: Outline, line: LineStyle, ctm: Matrix) -> Box | None:
    """The box around the stroked `outline`; None where nothing is painted.

    The outline is in the page's space; `ctm` transforms the pen, a circle in user space.
    """
    pen = _Pen(line, ctm)
    for subpath in outline.drawn():
        pen.draw(subpath)
    return Box(min(pen.xs), min(pen.ys), max(pen.xs), max(pen.ys)) if pen.xs else None


def stroke_width(outline: Outline, line: LineStyle, ctm: Matrix) -> float:
    """How wide the stroked `outline` is on the page at its narrowest, in points; 0 is the thinnest line.

    Under a matrix that stretches one way more than the other, a line is as wide as its direction makes it:
    a figure squeezed flat keeps its upright lines. Curves count with their control polygon.
    """
    if _keeps_shape(ctm):
        return line.width * ctm.x_length
    inverse = ctm.inverted()
    if inverse is None:
        return line.width * ctm.least_stretch
    area, narrowest = abs(ctm.determinant), math.inf
    for subpath in outline.drawn():
        here = subpath.start
        closing: list[Segment] = [(subpath.start,)] if subpath.closed else []
        for point in (point for segment in (*subpath.segments, *closing) for point in segment):
            across, up = point[0] - here[0], point[1] - here[1]
            here = point
            length = math.hypot(across, up)
            if length:
                # An area of the pen's width along the line grows by the determinant, its length by the rest.
                narrowest = min(narrowest, area * math.hypot(*inverse.direction(across, up)) / length)
    return line.width * (narrowest if narrowest < math.inf else ctm.least_stretch)


class _Segment(NamedTuple):
    """A segment: its ends, and the directions in which it leaves the one and arrives at the other.

    Directions are unit vectors of user space; None where the matrix flattens everything to a line.
    """

    start: Point
    end: Point
    leaving: Point | None
    arriving: Point | None


class _Pen:
    """The pen under a matrix, an ellipse in general, and the outermost points that it has painted."""

    def __init__(self, line: LineStyle, ctm: Matrix) -> None:
        self.xs: list[float] = []
        self.ys: list[float] = []
        self._line = line
        half = line.width / 2
        # Where nothing is skewed the pen stays round, and directions on the page do as well as others.
        self._round = _keeps_shape(ctm)
        self._radius = half * ctm.x_length
        # How far it reaches along the page's axes.
        self._reach = self._radius, self._radius
        if not self._round:
            self._inverse = ctm.inverted()
            self._pen = Matrix(ctm.a * half, ctm.b * half, ctm.c * half, ctm.d * half, 0.0, 0.0)
            self._reach = half * math.hypot(ctm.a, ctm.c), half * math.hypot(ctm.b, ctm.d)

    def draw(self, subpath: Subpath) -> None:
        """Follows a subpath."""
        pieces = self._pieces(subpath)
        if not pieces:
            # A point: round caps paint a dot, square ones a square; butt caps nothing (8.5.3.2).
            if self._line.cap != _BUTT:
                self._around(subpath.start)
            return
        join = self._line.join
        if join in {_MITER, _ROUND}:
            before = pieces[-1] if subpath.closed else None
            for piece in pieces:
                if before is not None:
                    self._join(before, piece)
                before = piece
        if not subpath.closed and self._line.cap != _BUTT:
            self._cap(pieces[0].start, pieces[0].leaving, -1.0)
            self._cap(pieces[-1].end, pieces[-1].arriving, 1.0)

    def _pieces(self, subpath: Subpath) -> list[_Segment]:
        """The segments that have an extent, the closing one among them; paints their sides."""
        here, segments = subpath.start, []
        for segment in subpath.segments:
            end = segment[-1]
            if len(segment) == 1:
                if end != here:
                    segments.append(self._straight(here, end))
            elif segment != (here, here, here):
                segments.append(self._curved(here, *segment))
            here = end
        if subpath.closed and here != subpath.start:
            segments.append(self._straight(here, subpath.start))
        return segments

    def _straight(self, start: Point, end: Point) -> _Segment:
        unit = self._unit(end[0] - start[0], end[1] - start[1])
        if unit is None:
            self._around(start)
            self._around(end)
        else:
            across, up = self._laid(-unit[1], unit[0])
            self.xs += (start[0] + across, start[0] - across, end[0] + across, end[0] - across)
            self.ys += (start[1] + up, start[1] - up, end[1] + up, end[1] - up)
        return _Segment(start, end, unit, unit)

    def _curved(self, start: Point, first: Point, second: Point, end: Point) -> _Segment:
        ahead = next(point for point in (first, second, end) if point != start)
        behind = next(point for point in (second, first, start) if point != end)
        leaving = self._unit(ahead[0] - start[0], ahead[1] - start[1])
        arriving = self._unit(end[0] - behind[0], end[1] - behind[1])
        for point, unit in ((start, leaving), (end, arriving)):
            if unit is None:
                self._around(point)
            else:
                across, up = self._laid(-unit[1], unit[0])
                self.xs += (point[0] + across, point[0] - across)
                self.ys += (point[1] + up, point[1] - up)
        # Where a curve turns back along an axis, the pen's reach along it.
        turning_across, turning_up = curve_extremes(start, first, second, end)
        across, up = self._reach
        self.xs += [x + side for x, _ in turning_across for side in (-across, across)]
        self.ys += [y + side for _, y in turning_up for side in (-up, up)]
        return _Segment(start, end, leaving, arriving)

    def _unit(self, across: float, up: float) -> Point | None:
        """The unit vector of user space for a direction on the page; None where there is none."""
        if not self._round:
            if self._inverse is None:
                return None
            across, up = self._inverse.direction(across, up)
        length = math.hypot(across, up)
        return (across / length, up / length) if length else None

    def _laid(self, x: float, y: float) -> Point:
        """Half the pen's width in a direction of user space, as it lies on the page."""
        return (x * self._radius, y * self._radius) if self._round else self._pen.direction(x, y)

    def _around(self, point: Point) -> None:
        across, up = self._reach
        self.xs += (point[0] - across, point[0] + across)
        self.ys += (point[1] - up, point[1] + up)

    def _cap(self, point: Point, direction: Point | None, sign: float) -> None:
        if direction is None:
            return
        if self._line.cap == _ROUND:
            self._around(point)
            return
        x, y = direction
        for side in (1.0, -1.0):
            across, up = self._laid(sign * x - side * y, sign * y + side * x)
            self.xs.append(point[0] + across)
            self.ys.append(point[1] + up)

    def _join(self, before: _Segment, after: _Segment) -> None:
        if self._line.join == _ROUND:
            self._around(before.end)
            return
        if before.arriving is None or after.leaving is None:
            return
        # The tip lies where both outer edges meet: along arriving - leaving, at half / sin(phi / 2) from
        # the corner, with phi the angle between the segments; that difference is 2 cos(phi / 2) long.
        x, y = before.arriving[0] - after.leaving[0], before.arriving[1] - after.leaving[1]
        length = math.hypot(x, y)
        sine = math.sqrt(max(1.0 - length * length / 4, 0.0))
        # The limit cuts off what is longer (8.4.3.5).
        if length > _STRAIGHT and sine > _STRAIGHT and self._line.miter_limit * sine >= 1.0:
            across, up = self._laid(x / (length * sine), y / (length * sine))
            self.xs.append(before.end[0] + across)
            self.ys.append(before.end[1] + up)


def _keeps_shape(ctm: Matrix) -> bool:
    """Whether circles stay circles: nothing but turning, mirroring and scaling alike in both directions."""
    a, b, c, d, _, _ = ctm
    noise = 1e-12 * (abs(a) + abs(b))
    turned = abs(a - d) <= noise and abs(b + c) <= noise
    return (turned or (abs(a + d) <= noise and abs(b - c) <= noise)) and bool(noise)
