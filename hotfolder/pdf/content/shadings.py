"""Where shadings paint (ISO 32000-2, 8.7.4): which part of an area, and whether all of it.

A shading without Extend ends somewhere, and so does a mesh; beyond that nothing is painted. The seven types
come down to three shapes: everything, the strip between two parallel lines, and the convex hull of circles
(a point is a circle of radius 0).
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import NamedTuple

from hotfolder.model.geometry import Box
from hotfolder.pdf.meshes.mesh_box import mesh_box
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix, Point
from hotfolder.pdf.objects.reading import entry, item, numbers, whole


class Circle(NamedTuple):
    """A circle in the shading's space."""

    x: float
    y: float
    radius: float = 0.0


class HalfPlane(NamedTuple):
    """The points on one side of a line: those with x * across + y * up >= least."""

    across: float
    up: float
    least: float


@dataclass(frozen=True, slots=True)
class Shading:
    """The shape that a shading paints, in its own space.

    hull: it paints only within the convex hull of these circles; None where it is not bounded by one.
    half_planes: it paints only within all of these. dense: it paints every point within them. box: its BBox.
    background: it has a Background, with which a shading pattern fills the rest (`sh` does not).
    """

    hull: tuple[Circle, ...] | None = None
    half_planes: tuple[HalfPlane, ...] = ()
    dense: bool = False
    box: tuple[float, ...] | None = None
    background: bool = False

    def bounds(self, matrix: Matrix, place: Box) -> Box | None:
        """The box around what is painted within `place`; `matrix`: from the shading's space to the page."""
        painted: Box | None = place
        if self.box is not None:
            painted = place.cut_by(matrix.bounds(*self.box))
        if painted is not None and self.hull is not None:
            hull = _around(self.hull, matrix)
            painted = painted.cut_by(hull) if hull is not None else None
        if painted is not None and self.half_planes:
            painted = _within(self.half_planes, matrix, painted)
        return painted

    def fills(self, matrix: Matrix) -> bool:
        """Whether every point of `bounds` is painted, whatever the place."""
        upright = self.box is None or matrix.keeps_upright
        return self.dense and self.hull is None and not self.half_planes and upright


@dataclass(frozen=True, slots=True)
class LaidShading:
    """A shading pattern: a shading, and the matrix from its space to the page (8.7.4.3)."""

    shading: Shading
    matrix: Matrix

    def bounds(self, place: Box) -> Box | None:
        """The box around what is painted within `place`."""
        return place if self.shading.background else self.shading.bounds(self.matrix, place)

    @property
    def everywhere(self) -> bool:
        """Whether it paints every point of the page."""
        shading = self.shading
        return shading.background or (shading.box is None and shading.fills(self.matrix))


def read_shading(shading: object, components: int) -> Shading:
    """The shape that a shading dictionary describes; `components` are those of its colour space.

    A malformed one is taken to paint anywhere, but nothing for certain.
    """
    kind = whole(entry(shading, "/ShadingType"))
    match kind:
        case 1:
            shape = _function_based(shading)
        case 2:
            shape = _axial(shading)
        case 3:
            shape = _radial(shading)
        case 4 | 5 | 6 | 7:
            around = mesh_box(shading, kind, components)
            shape = Shading(_corners(around, IDENTITY)) if around is not None else Shading()
        case _:
            shape = Shading()
    background = entry(shading, "/Background") is not None
    return replace(shape, box=numbers(entry(shading, "/BBox"), 4), background=background)


def _function_based(shading: object) -> Shading:
    """A domain, laid down by a matrix (8.7.4.5.2)."""
    domain = numbers(entry(shading, "/Domain"), 4) or (0.0, 1.0, 0.0, 1.0)
    given = numbers(entry(shading, "/Matrix"), 6)
    box = Box(domain[0], domain[2], domain[1], domain[3])
    return Shading(_corners(box, Matrix(*given) if given is not None else IDENTITY))


def _axial(shading: object) -> Shading:
    """Colours change from one line to another (8.7.4.5.3)."""
    axis = numbers(entry(shading, "/Coords"), 4)
    if axis is None:
        return Shading()
    x0, y0, x1, y1 = axis
    across, up = x1 - x0, y1 - y0
    if not across and not up:
        return Shading(hull=())  # start and end coincide: nothing is painted
    before, after = _extend(shading)
    half_planes = []
    if not before:
        half_planes.append(HalfPlane(across, up, x0 * across + y0 * up))
    if not after:
        half_planes.append(HalfPlane(-across, -up, -(x1 * across + y1 * up)))
    return Shading(half_planes=tuple(half_planes), dense=True)


def _radial(shading: object) -> Shading:
    """Colours change from one circle to another (8.7.4.5.4)."""
    coordinates = numbers(entry(shading, "/Coords"), 6)
    if coordinates is None or min(coordinates[2], coordinates[5]) < 0:
        return Shading()
    start, end = Circle(*coordinates[:3]), Circle(*coordinates[3:])
    before, after = _extend(shading)
    if start.radius > end.radius:
        start, end, before, after = end, start, after, before
    growth = end.radius - start.radius
    if after and (growth or start[:2] != end[:2]):
        # The greater circle goes on growing or moving without end. Where the smaller one lies inside it,
        # and closes to a point, nothing is left bare.
        apart = math.hypot(end.x - start.x, end.y - start.y)
        return Shading(dense=apart < growth and (before or not start.radius))
    circles = [start, end]
    if before and growth:
        back = start.radius / growth  # where the circles have shrunk to a point
        circles.append(Circle(start.x - (end.x - start.x) * back, start.y - (end.y - start.y) * back))
    elif before and start[:2] != end[:2]:
        return Shading()  # circles of one size, moved without end
    return Shading(hull=tuple(circles))


def _extend(shading: object) -> tuple[bool, bool]:
    given = entry(shading, "/Extend")
    return item(given, 0) is True, item(given, 1) is True


def _corners(box: Box, matrix: Matrix) -> tuple[Circle, ...]:
    points = ((box.x0, box.y0), (box.x1, box.y0), (box.x0, box.y1), (box.x1, box.y1))
    return tuple(Circle(*matrix.point(*point)) for point in points)


def _around(circles: Iterable[Circle], matrix: Matrix) -> Box | None:
    """The box around circles that `matrix` makes ellipses of; None where there are none."""
    across, up = math.hypot(matrix.a, matrix.c), math.hypot(matrix.b, matrix.d)
    corners: list[Point] = []
    for x, y, radius in circles:
        at = matrix.point(x, y)
        corners.append((at[0] - radius * across, at[1] - radius * up))
        corners.append((at[0] + radius * across, at[1] + radius * up))
    return Box.around(corners) if corners else None


def _within(half_planes: Iterable[HalfPlane], matrix: Matrix, place: Box) -> Box | None:
    """The box around the part of `place` that lies within all half-planes."""
    back = matrix.inverted()
    if back is None:
        return place
    outline = [(place.x0, place.y0), (place.x1, place.y0), (place.x1, place.y1), (place.x0, place.y1)]
    for half_plane in half_planes:
        outline = _clipped_to(outline, half_plane, back)
        if not outline:
            return None
    return Box.around(outline)


def _clipped_to(outline: list[Point], half_plane: HalfPlane, back: Matrix) -> list[Point]:
    """The part of a convex polygon that lies within a half-plane; `back` leads from the page to its space."""
    heights = []
    for point in outline:
        x, y = back.point(*point)
        heights.append(half_plane.across * x + half_plane.up * y - half_plane.least)
    inside: list[Point] = []
    for place, (point, height) in enumerate(zip(outline, heights, strict=True)):
        if height >= 0:
            inside.append(point)
        following, next_height = outline[(place + 1) % len(outline)], heights[(place + 1) % len(outline)]
        if (height < 0) != (next_height < 0):
            share = height / (height - next_height)
            inside.append(
                (point[0] + share * (following[0] - point[0]), point[1] + share * (following[1] - point[1]))
            )
    return inside
