"""Lines that are drawn as filled areas (ISO 32000-2, 8.5.3.3): how wide they are, and the holes of frames.

A program that turns a stroke into an area writes both of its edges: a ribbon is one path along one edge and
back along the other, a frame two paths, one within the other, of which the fill rule makes a ring.
"""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, TypeAlias

import numpy as np
import numpy.typing as npt

from hotfolder.model.geometry import Box
from hotfolder.pdf.content.ledger import Ledger
from hotfolder.pdf.objects.matrix import Point
from hotfolder.pdf.objects.outline import Subpath, bounds, upright

# No printer asks for lines to be wider than this: rule sets have 0.25 to 1 pt.
WIDEST_SLIVER_PT: Final = 1.5
# A line is some times longer than wide; and it is evenly wide, up to its joins: the widest circle within it
# is that much wider than it is in the mean. A swash that runs out to a point has 1.5, a triangle 2.
LEAST_SHARE: Final = 4.0
MOST_UNEVEN: Final = 1.4
# Paths of more segments are drawings, and not measured.
MOST_SEGMENTS: Final = 200
_MOST_SUBPATHS: Final = 24
# Pieces of a curve, and places where a width is measured (own choices).
_CURVE_STEPS: Final = 8
_PLACES: Final = 24
_FEW_PLACES: Final = 6
_ROUNDS: Final = 6
# A width that is estimated by the control points of curves may be off by this factor.
_ROUGHLY: Final = 3.0


_Numbers: TypeAlias = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Shape:
    """The width of a filled path that is a line, and its largest hole: `Mark.sliver_pt` and `Mark.hollow`."""

    sliver_pt: float | None = None
    hollow: Box | None = None


@dataclass(frozen=True, slots=True)
class _ClosedEdge:
    """A closed edge of the painted area.

    area: that within it; positive where the paint lies on its left. length: of the edge. outer: the paint is
    inside of it.
    """

    points: list[Point]
    area: float
    length: float
    outer: bool

    @classmethod
    def of(cls, points: list[Point]) -> "_ClosedEdge":
        return cls(points, _area(points), _length(points), outer=True)


def shape_of(drawn: list[Subpath], ledger: Ledger, *, even_odd: bool) -> Shape:
    """The width of a filled path that is a line, and the box that it goes around if it is a frame."""
    segments = sum(len(subpath.segments) for subpath in drawn)
    if len(drawn) > _MOST_SUBPATHS or not 2 <= segments <= MOST_SEGMENTS:
        return Shape()
    if len(drawn) == 1 and (drawn[0].box is not None or _is_plain(drawn[0])):
        return Shape(_slanting_width(drawn[0]))
    roughly = _painted_edges([_ClosedEdge.of(_controls(subpath)) for subpath in drawn], even_odd=even_odd)
    hollow = _hollow(drawn, roughly) if len(drawn) > 1 else None
    lines = _lines(roughly)
    if not lines or not all(_may_be_line(line, _ROUGHLY) for line in lines) or not ledger.widths_left:
        return Shape(hollow=hollow)
    ledger.widths_left -= 1
    lines = _lines(
        _painted_edges([_ClosedEdge.of(_flattened(subpath)) for subpath in drawn], even_odd=even_odd)
    )
    widths = [_even_width(line) if _may_be_line(line) else None for line in lines]
    known = [width for width in widths if width is not None]
    return Shape(max(known) if known and len(known) == len(widths) else None, hollow)


# Straight shapes of three or four sides


def _is_plain(subpath: Subpath) -> bool:
    straight = all(len(segment) == 1 for segment in subpath.segments)
    return straight and len(subpath.segments) <= 4 and len(_corners(subpath)) <= 4


def _corners(subpath: Subpath) -> list[Point]:
    points = [subpath.start, *(segment[-1] for segment in subpath.segments)]
    if points[-1] == points[0]:
        points.pop()
    return points


def _slanting_width(subpath: Subpath) -> float | None:
    """The least distance between two parallel lines with the shape between them; None for upright ones."""
    if subpath.box is not None:
        return None
    points = _corners(subpath)
    if len(points) < 3 or (len(points) == 4 and upright(points) is not None):
        return None
    return min(_spread(points, one, two) for one, two in pairwise([*points, points[0]]))


def _spread(points: list[Point], one: Point, two: Point) -> float:
    """The extent of `points` across the line through two of them."""
    across, up = two[0] - one[0], two[1] - one[1]
    length = math.hypot(across, up)
    if not length:
        return math.inf
    heights = [((x - one[0]) * up - (y - one[1]) * across) / length for x, y in points]
    return max(heights) - min(heights)


# The edges of what is painted


def _controls(subpath: Subpath) -> list[Point]:
    """The corners and the control points of a subpath, which approximate its shape."""
    return [subpath.start, *(point for segment in subpath.segments for point in segment)]


def _flattened(subpath: Subpath) -> list[Point]:
    """The subpath with short straight pieces for curves."""
    points = [subpath.start]
    for segment in subpath.segments:
        if len(segment) == 3:
            here, (first, second, end) = points[-1], segment
            for step in range(1, _CURVE_STEPS):
                t = step / _CURVE_STEPS
                s = 1 - t
                a, b, c, d = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
                points.append(
                    (
                        a * here[0] + b * first[0] + c * second[0] + d * end[0],
                        a * here[1] + b * first[1] + c * second[1] + d * end[1],
                    )
                )
        points.append(segment[-1])
    return points


def _area(points: list[Point]) -> float:
    x0, y0 = points[0]
    rest = pairwise(points[1:])
    return sum((ax - x0) * (by - y0) - (bx - x0) * (ay - y0) for (ax, ay), (bx, by) in rest) / 2


def _length(points: list[Point]) -> float:
    return sum(math.dist(one, two) for one, two in pairwise([*points, points[0]]))


def _painted_edges(edges: list[_ClosedEdge], *, even_odd: bool) -> list[_ClosedEdge | None]:
    """Each edge with the paint on its left; None for one that has paint on both of its sides, or on none."""
    boxes = [Box.around(edge.points) for edge in edges]
    turned_edges: list[_ClosedEdge | None] = []
    for place, edge in enumerate(edges):
        around = sum(
            _winding(other.points, edge.points[0])
            for number, other in enumerate(edges)
            if number != place and boxes[number].holds(boxes[place])
        )
        within = around + (1 if edge.area > 0 else -1)
        outside, inside = (bool(each % 2) if even_odd else bool(each) for each in (around, within))
        if outside is inside:
            turned_edges.append(None)
            continue
        turned = (edge.area > 0) is not inside
        points = edge.points[::-1] if turned else edge.points
        turned_edges.append(
            _ClosedEdge(points, -edge.area if turned else edge.area, edge.length, outer=inside)
        )
    return turned_edges


def _winding(points: list[Point], at: Point) -> int:
    """How many times a closed path goes around a point, counted against the clock (8.5.3.3.2)."""
    x, y = at
    times = 0
    for (ax, ay), (bx, by) in pairwise([*points, points[0]]):
        if (ay <= y) is not (by <= y):
            side = (bx - ax) * (y - ay) - (x - ax) * (by - ay)
            if (side > 0) is (by > ay):
                times += 1 if by > ay else -1
    return times


def _hollow(drawn: list[Subpath], edges: list[_ClosedEdge | None]) -> Box | None:
    """The box of the largest hole, where what is painted is one shape with holes."""
    outer = [place for place, edge in enumerate(edges) if edge is not None and edge.outer]
    holes = [(-edge.area, place) for place, edge in enumerate(edges) if edge is not None and not edge.outer]
    return bounds([drawn[max(holes)[1]]]) if len(outer) == 1 and holes else None


# The width of a line


def _lines(edges: list[_ClosedEdge | None]) -> list[list[_ClosedEdge]]:
    """The single shapes: each an outer edge with the holes in it."""
    shapes = [[edge] for edge in edges if edge is not None and edge.outer]
    around = [Box.around(shape[0].points) for shape in shapes]
    for edge in edges:
        if edge is not None and not edge.outer:
            holding = [place for place, box in enumerate(around) if box.holds(Box.around(edge.points))]
            if holding:
                shapes[min(holding, key=lambda place: around[place].width)].append(edge)
    return shapes


def _may_be_line(shape: list[_ClosedEdge], roughly: float = 1.0) -> bool:
    """Whether a shape is thin and long enough, by its area and the length of its edges."""
    area, length = sum(edge.area for edge in shape), sum(edge.length for edge in shape)
    width = 2 * area / length if length else math.inf
    return width <= WIDEST_SLIVER_PT * roughly and length / 2 * roughly >= LEAST_SHARE * width


def _even_width(shape: list[_ClosedEdge]) -> float | None:
    """The width of the widest circle within a shape, where its edges lie about as far apart all along."""
    mean = 2 * sum(edge.area for edge in shape) / sum(edge.length for edge in shape)
    if mean <= 0:
        return None
    starts = np.array([point for edge in shape for point in edge.points]).T
    ends = np.array([point for edge in shape for point in (*edge.points[1:], edge.points[0])]).T
    along = ends - starts
    lengths = np.hypot(*along)
    there = lengths > 0
    pieces = _OutlinePieces(starts[:, there], along[:, there], lengths[there])
    most = min(MOST_UNEVEN * mean, WIDEST_SLIVER_PT)
    # Nearly all shapes that are no lines are known by a few places.
    return pieces.widest(most, _PLACES) if pieces.widest(most, _FEW_PLACES, rounds=1) is not None else None


@dataclass(frozen=True, slots=True)
class _OutlinePieces:
    """The straight pieces of edges: where they start, their vectors and lengths; paint lies on their left.

    Points and vectors are arrays of two rows, x and y, with a column for each piece or place.
    """

    starts: _Numbers
    along: _Numbers
    lengths: _Numbers

    def widest(self, most: float, places: int, rounds: int = _ROUNDS) -> float | None:
        """The widest circle between the edges that touches them from inside at one of some places.

        A circle that touches such a place is made smaller until no piece crosses it. None where one is wider
        than `most`.
        """
        reached = np.cumsum(self.lengths)
        measured = (np.arange(places) + 0.5) * reached[-1] / places
        which = np.minimum(np.searchsorted(reached, measured), len(self.lengths) - 1)
        share = (measured - reached[which]) / self.lengths[which] + 1.0
        place = self.starts[:, which] + self.along[:, which] * share
        direction = self.along[:, which] / self.lengths[which]
        inward = np.stack([-direction[1], direction[0]])
        radius = np.full(places, most / 2)
        for times in range(rounds):
            centre = place + inward * radius
            away, distance = self._nearest(centre)
            crossed = distance < radius * (1 - 1e-6)
            if not times and not crossed.all():
                return None
            if not crossed.any():
                break
            touch = centre + away - place
            depth = (touch * inward).sum(axis=0)
            smaller = (touch**2).sum(axis=0) / (2 * np.where(depth > 0, depth, np.inf))
            radius = np.where(crossed, np.minimum(smaller, radius), radius)
        return float(2 * radius.max())

    def _nearest(self, centres: _Numbers) -> tuple[_Numbers, _Numbers]:
        """For each centre the way to the nearest point of any piece, and its length."""
        (ax, ay), (bx, by) = self.starts, self.along
        x, y = centres[0][:, None] - ax, centres[1][:, None] - ay
        share = np.clip((x * bx + y * by) / self.lengths**2, 0.0, 1.0)
        x, y = bx * share - x, by * share - y
        squares = x * x + y * y
        rows, nearest = np.arange(len(x)), squares.argmin(axis=1)
        return np.stack([x[rows, nearest], y[rows, nearest]]), np.sqrt(squares[rows, nearest])
