"""Where the meshes of shadings lie (ISO 32000-2, 8.7.4.5.5 to 8.7.4.5.8): types 4 to 7.

The vertices are read where they are written in whole bytes, as programs do. Otherwise, or where there
are too many of them, the mesh lies somewhere in the range that its Decode array gives.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from hotfolder.model.geometry import Box
from hotfolder.pdf.meshes.records import COONS, PATCHES, MeshLayout, mesh_layout
from hotfolder.pdf.objects.limits import MESH_BYTES, MESH_PATCHES
from hotfolder.pdf.objects.matrix import Point
from hotfolder.pdf.objects.reading import entry, numbers
from hotfolder.pdf.objects.streams import bounded_bytes

# Points on a patch's rim in the order of the file, 12 of them, then the inner four of a tensor patch
# (figures 45 and 46). By edge flag: which four of the patch before the next one begins with.
_SHARED: Final = {1: (3, 4, 5, 6), 2: (6, 7, 8, 9), 3: (9, 10, 11, 0)}
_RIM: Final = 12


@dataclass(frozen=True, slots=True)
class _Range:
    """What coordinates lie between: a Decode array. greatest: the stored number that means its upper end."""

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
    layout = mesh_layout(shading, kind, components)
    if layout is not None and layout.in_whole_bytes:
        data = bounded_bytes(shading, MESH_BYTES) or b""
        within = _Range(decode, (1 << layout.place) - 1)
        read = _patches if kind in PATCHES else _vertices
        points = list(read(data, layout, within))
        if points:
            return Box.around(points)
    x0, x1, y0, y1 = decode
    return Box.around([(x0, y0), (x1, y1)])


def _vertices(data: bytes, layout: MeshLayout, within: _Range) -> Iterator[Point]:
    """The outermost coordinates of free-form triangles or of a lattice."""
    places = [record.places for record in layout.records(data)]
    if places:
        xs, ys = zip(*places, strict=True)
        yield within.placed(min(xs), min(ys))
        yield within.placed(max(xs), max(ys))


def _patches(data: bytes, layout: MeshLayout, within: _Range) -> Iterator[Point]:
    """The control points of all patches, which lie within their hull; those that types leave out too."""
    before = list[Point]()
    for number, record in enumerate(layout.records(data)):
        if number == MESH_PATCHES:
            # Too many: all of the range counts.
            yield within.placed(0, 0)
            yield within.placed(within.greatest, within.greatest)
            return
        pairs = zip(record.places[::2], record.places[1::2], strict=True)
        own = [within.placed(x, y) for x, y in pairs]
        if record.edge:
            # At the edge of no patch: what it brings itself is all that is known of it.
            own = [*(before[index] for index in _SHARED[record.edge]), *own] if before else own
        yield from own
        if len(own) < _RIM:
            continue
        if layout.kind == COONS:
            yield from _inner_points(own)
        before = own


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
