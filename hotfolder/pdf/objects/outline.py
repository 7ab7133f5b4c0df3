"""Paths (ISO 32000-2, 8.5.2), and the boxes around them."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final

from hotfolder.model.geometry import Box
from hotfolder.pdf.objects.limits import PARTS_OF_A_RECTANGLE
from hotfolder.pdf.objects.matrix import Matrix, Point

# A straight segment is its end point; a curve its two control points and its end point.
Segment = tuple[Point] | tuple[Point, Point, Point]


# Corners of a rectangle that are out of square by less are taken for square: a fraction of what rounding
# in a file does.
_SQUARE_PT: Final = 0.001


@dataclass(slots=True)
class Subpath:
    """A subpath: connected segments. box: set where it was built as this upright rectangle (`re`)."""

    start: Point
    segments: list[Segment] = field(default_factory=list)
    closed: bool = False
    box: Box | None = None

    @property
    def end(self) -> Point:
        """Where the next segment begins."""
        return self.segments[-1][-1] if self.segments and not self.closed else self.start


class Outline:
    """A path, while it is built and after. Its points are in whatever space the caller gives them."""

    def __init__(self) -> None:
        self.subpaths: list[Subpath] = []
        self.parts = 0  # its points, as `limits.PATH_PARTS` counts them
        self.clips = False  # W or W* came: the painting operator to come clips with this path

    def move(self, point: Point) -> None:
        """Begins a subpath."""
        self.subpaths.append(Subpath(point))
        self.parts += 1

    def draw(self, segment: Segment) -> bool:
        """Appends a segment; False where there is no current point to begin from."""
        if not self.subpaths:
            return False
        last = self.subpaths[-1]
        if last.closed:
            # What follows a closed subpath begins a new one at the same point (8.5.2.1).
            last = Subpath(last.start)
            self.subpaths.append(last)
        last.segments.append(segment)
        self.parts += len(segment)
        return True

    def close(self) -> None:
        """Closes the current subpath."""
        if self.subpaths:
            self.subpaths[-1].closed = True

    def rectangle(self, ctm: Matrix, x: float, y: float, width: float, height: float) -> None:
        """Appends a rectangle as a closed subpath, its corners transformed by `ctm`."""
        self.parts += PARTS_OF_A_RECTANGLE
        far_x, far_y = x + width, y + height
        if not ctm.b and not ctm.c:
            # By far the most: neither turned nor skewed.
            x0, x1 = ctm.a * x + ctm.e, ctm.a * far_x + ctm.e
            y0, y1 = ctm.d * y + ctm.f, ctm.d * far_y + ctm.f
            box = Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
            turns: list[Segment] = [((x1, y0),), ((x1, y1),), ((x0, y1),)]
            self.subpaths.append(Subpath((x0, y0), turns, closed=True, box=box))
            return
        corners: list[Segment] = [
            (ctm.point(far_x, y),),
            (ctm.point(far_x, far_y),),
            (ctm.point(x, far_y),),
        ]
        self.subpaths.append(Subpath(ctm.point(x, y), corners, closed=True))

    def drawn(self) -> list[Subpath]:
        """The subpaths that can paint: single points that are not closed paint nothing (8.5.3.1)."""
        subpaths = self.subpaths
        if len(subpaths) == 1 and subpaths[0].segments:
            return subpaths  # by far the most
        return [each for each in subpaths if each.segments or each.closed]

    @property
    def empty(self) -> bool:
        """Whether it has no subpath, not even a single point."""
        return not self.subpaths

    def upright(self) -> Box | None:
        """The area inside the path, where it is one upright rectangle; None where it is anything else."""
        drawn = self.drawn()
        if len(drawn) == 1 and drawn[0].box is not None:
            box = drawn[0].box
            return box if box.width > _SQUARE_PT and box.height > _SQUARE_PT else None
        if len(drawn) != 1 or not 3 <= len(drawn[0].segments) <= 4:
            return None
        if any(len(segment) != 1 for segment in drawn[0].segments):
            return None
        points = [drawn[0].start, *(segment[-1] for segment in drawn[0].segments)]
        if len(points) == 5 and points.pop() != points[0]:
            return None
        return upright(points) if len(points) == 4 else None

    def pieces(self) -> Iterator[Box]:
        """The boxes around the single subpaths, without any line width."""
        for subpath in self.drawn():
            box = subpath.box or bounds([subpath])
            if box is not None:
                yield box

    def sides(self) -> int:
        """How many straight or curved sides the areas within the subpaths have."""
        return sum(
            len(each.segments) + (each.segments[-1][-1] != each.start)
            for each in self.subpaths
            if each.segments
        )

    def bounds(self) -> Box | None:
        """The box around the path itself, without any line width; None where nothing was drawn."""
        drawn = self.drawn()
        if len(drawn) == 1 and drawn[0].box is not None:
            return drawn[0].box
        return bounds(drawn)


def bounds(drawn: list[Subpath]) -> Box | None:
    """The box around subpaths, without any line width; None where nothing was drawn."""
    points: list[Point] = []
    for subpath in drawn:
        points.append(subpath.start)
        here = subpath.start
        for segment in subpath.segments:
            if len(segment) == 3:
                across, up = curve_extremes(here, *segment)
                points += across + up
            here = segment[-1]
            points.append(here)
    return Box.around(points) if points else None


def upright(corners: list[Point]) -> Box | None:
    """The rectangle that four points go around, if its sides are upright and it has an area."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = corners
    across_first = max(abs(ay - by), abs(bx - cx), abs(cy - dy), abs(dx - ax)) < _SQUARE_PT
    up_first = max(abs(ax - bx), abs(by - cy), abs(cx - dx), abs(dy - ay)) < _SQUARE_PT
    if not (across_first or up_first):
        return None
    box = Box(min(ax, cx), min(ay, cy), max(ax, cx), max(ay, cy))
    return box if box.width > _SQUARE_PT and box.height > _SQUARE_PT else None


def curve_extremes(start: Point, first: Point, second: Point, end: Point) -> tuple[list[Point], list[Point]]:
    """The points of a Bezier curve, its ends left out, where it turns back along x, and along y."""
    if _inside(start, first, second, end):
        return [], []
    points = (start, first, second, end)
    across, up = ([_along(points, t) for t in _turns(*(point[axis] for point in points))] for axis in (0, 1))
    return across, up


def _along(points: tuple[Point, Point, Point, Point], t: float) -> Point:
    """The point of a Bezier curve at `t`, from 0 at its start to 1 at its end."""
    s = 1 - t
    weights = (s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t)
    return (
        sum(weight * point[0] for weight, point in zip(weights, points, strict=True)),
        sum(weight * point[1] for weight, point in zip(weights, points, strict=True)),
    )


def _inside(start: Point, first: Point, second: Point, end: Point) -> bool:
    """Whether the control points lie in the box of the ends, and so the whole curve does."""
    x0, x1 = (start[0], end[0]) if start[0] <= end[0] else (end[0], start[0])
    y0, y1 = (start[1], end[1]) if start[1] <= end[1] else (end[1], start[1])
    return x0 <= first[0] <= x1 and x0 <= second[0] <= x1 and y0 <= first[1] <= y1 and y0 <= second[1] <= y1


def _turns(p0: float, p1: float, p2: float, p3: float) -> list[float]:
    """Where between 0 and 1 the derivative of a cubic Bezier polynomial is zero."""
    # Its derivative is 3 (a t^2 + 2 b t + c).
    a = p3 - 3 * p2 + 3 * p1 - p0
    b = p2 - 2 * p1 + p0
    c = p1 - p0
    discriminant = b * b - a * c
    if discriminant < 0:
        return []
    # The form that does not subtract nearly equal numbers; where a is 0, q / a is no root.
    q = -(b + math.copysign(math.sqrt(discriminant), b))
    roots = [numerator / below for numerator, below in ((q, a), (c, q)) if below]
    return [root for root in roots if 0 < root < 1]
