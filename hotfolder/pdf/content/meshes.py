"""Where the meshes of shadings lie (ISO 32000-2, 8.7.4.5.5 to 8.7.4.5.8): types 4 to 7.

The vertices are read where they are written in whole bytes, as programs do. Otherwise, or where there
are too many of them, the mesh lies somewhere in the range that its Decode array gives.
"""

import struct
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from hotfolder.model.geometry import Box
from hotfolder.pdf.objects.limits import MESH_BYTES, MESH_PATCHES
from hotfolder.pdf.objects.matrix import Point
from hotfolder.pdf.objects.reading import entry, numbers, whole
from hotfolder.pdf.objects.streams import bounded_bytes

_TRIANGLES, _LATTICE, _COONS, _TENSOR = 4, 5, 6, 7

# By bits of a coordinate: how struct reads one, and a patch's worth of them.
_COORDINATES: Final = {8: "B", 16: "H", 32: "I"}

# Points on a patch's rim in the order of the file, 12 of them, then the inner four of a tensor patch
# (figures 45 and 46). By edge flag: which four of the patch before the next one begins with.
_SHARED: Final = {1: (3, 4, 5, 6), 2: (6, 7, 8, 9), 3: (9, 10, 11, 0)}


@dataclass(frozen=True, slots=True)
class _Layout:
    """How a mesh is written. flag, colour: bytes that an edge flag and a colour take."""

    coordinate: str
    flag: int
    colour: int
    decode: tuple[float, ...]
    greatest: int

    def placed(self, x: float, y: float) -> Point:
        """A stored coordinate pair in the shading's space."""
        x0, x1, y0, y1 = self.decode
        return x0 + x * (x1 - x0) / self.greatest, y0 + y * (y1 - y0) / self.greatest


def mesh_box(shading: object, kind: int, components: int) -> Box | None:
    """The box around a mesh in its own space; None where it does not say where it is."""
    decode = numbers(entry(shading, "/Decode"), 4)
    if decode is None:
        return None
    layout = _layout(shading, kind, components, decode)
    data = bounded_bytes(shading, MESH_BYTES) if layout is not None else None
    points: Iterable[Point] = ()
    if layout is not None and data is not None:
        points = _patches(data, layout, kind) if kind in {_COONS, _TENSOR} else _vertices(data, layout)
        found = list(points)
        if found:
            return Box.around(found)
    x0, x1, y0, y1 = decode
    return Box.around([(x0, y0), (x1, y1)])


def _layout(shading: object, kind: int, components: int, decode: tuple[float, ...]) -> _Layout | None:
    """How the mesh is written; None where it is not in whole bytes."""
    bits = whole(entry(shading, "/BitsPerCoordinate")) or 0
    colour_bits = whole(entry(shading, "/BitsPerComponent")) or 0
    flag_bits = 0 if kind == _LATTICE else whole(entry(shading, "/BitsPerFlag")) or 0
    if bits not in _COORDINATES or colour_bits % 8 or flag_bits not in ({0} if kind == _LATTICE else {8}):
        return None
    values = 1 if entry(shading, "/Function") is not None else components
    if values <= 0 or colour_bits <= 0:
        return None
    return _Layout(_COORDINATES[bits], flag_bits // 8, values * colour_bits // 8, decode, 2**bits - 1)


def _vertices(data: bytes, layout: _Layout) -> Iterator[Point]:
    """The outermost coordinates of free-form triangles or of a lattice."""
    vertex = struct.Struct(f">{layout.flag}x2{layout.coordinate}{layout.colour}x")
    found = list(vertex.iter_unpack(data[: len(data) // vertex.size * vertex.size]))
    if found:
        xs, ys = zip(*found, strict=True)
        yield layout.placed(min(xs), min(ys))
        yield layout.placed(max(xs), max(ys))


def _patches(data: bytes, layout: _Layout, kind: int) -> Iterator[Point]:
    """The control points of all patches, which lie within their hull; those that types leave out too."""
    full = 12 if kind == _COONS else 16
    first = struct.Struct(f">{full * 2}{layout.coordinate}")
    other = struct.Struct(f">{(full - 4) * 2}{layout.coordinate}")
    at, before = 0, list[Point]()
    for _ in range(MESH_PATCHES):
        if at >= len(data):
            return
        shared = _SHARED.get(data[at] & 3) if before else None
        points, colours = (first, 4) if shared is None else (other, 2)
        if at + 1 + points.size > len(data):
            return
        values = points.unpack_from(data, at + 1)
        at += 1 + points.size + colours * layout.colour
        own = [layout.placed(x, y) for x, y in zip(values[::2], values[1::2], strict=True)]
        patch = own if shared is None else [*(before[index] for index in shared), *own]
        yield from patch
        if kind == _COONS:
            yield from _inner_points(patch)
        before = patch
    # Too many: all of the range counts.
    yield layout.placed(0, 0)
    yield layout.placed(layout.greatest, layout.greatest)


def _inner_points(rim: list[Point]) -> Iterator[Point]:
    """The inner points that make a tensor patch of a Coons patch (8.7.4.5.8)."""
    # Around the rim: corners at 0, 3, 6 and 9. Each inner point is near one of them.
    for corner in (0, 3, 6, 9):
        here, opposite = rim[corner], rim[(corner + 6) % 12]
        beside = rim[(corner + 1) % 12], rim[(corner - 1) % 12]
        corners = rim[(corner + 3) % 12], rim[(corner - 3) % 12]
        facing = rim[(corner + 4) % 12], rim[(corner - 4) % 12]
        x, y = (
            (
                -4 * here[axis]
                + 6 * (beside[0][axis] + beside[1][axis])
                - 2 * (corners[0][axis] + corners[1][axis])
                + 3 * (facing[0][axis] + facing[1][axis])
                - opposite[axis]
            )
            / 9
            for axis in (0, 1)
        )
        yield x, y
