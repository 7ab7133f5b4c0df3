"""The records that a mesh of a shading is written in (ISO 32000-2, 8.7.4.5.5 to 8.7.4.5.8): types 4 to 7.

A mesh is a row of vertices or patches: an edge flag, coordinates, colours, each of some bits. Each record
begins on a whole byte. What stands after the last whole one is no record.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, NamedTuple

from hotfolder.pdf.objects.reading import entry, whole

TRIANGLES, LATTICE, COONS, TENSOR = 4, 5, 6, 7
MESHES: Final = frozenset({TRIANGLES, LATTICE, COONS, TENSOR})
PATCHES: Final = frozenset({COONS, TENSOR})

# Points on a patch's rim, and with the inner four of a tensor patch; and the colours of its corners. One that
# begins at an edge of the patch before takes four points and two colours from there.
_POINTS: Final = {COONS: 12, TENSOR: 16}
_COLOURS: Final = 4
_SHARED_POINTS: Final = 4
_SHARED_COLOURS: Final = 2

_MOST_BITS: Final = 32  # of one number (tables 81 to 84)


class MeshRecord(NamedTuple):
    """A vertex or a patch as it is written, its numbers not decoded.

    flag: 0 in a lattice. places: x and y of each point, one after the other. colours: each as one number of
    all the bits of its components.
    """

    flag: int
    places: tuple[int, ...]
    colours: tuple[int, ...]

    @property
    def edge(self) -> int:
        """The edge of what stands before at which this begins, 1 to 3; 0 where it begins anew."""
        return self.flag & 3


@dataclass(frozen=True, slots=True)
class MeshLayout:
    """How a mesh is written: bits of a flag, a coordinate, a component, and how many components there are."""

    kind: int
    flag: int
    place: int
    component: int
    components: int

    @property
    def colour(self) -> int:
        """Bits of a whole colour."""
        return self.component * self.components

    @property
    def in_whole_bytes(self) -> bool:
        """Whether each number is written in whole bytes, as programs do."""
        flags = {0} if self.kind == LATTICE else {8}
        return self.place in {8, 16, 32} and not self.component % 8 and self.flag in flags

    def parts(self, colour: int) -> list[int]:
        """The components of a colour, as whole numbers."""
        shifts = range(self.colour - self.component, -1, -self.component)
        return [colour >> shift & (1 << self.component) - 1 for shift in shifts]

    def records(self, data: bytes) -> Iterator[MeshRecord]:
        """The records of a mesh, in order."""
        at, patches = 0, self.kind in PATCHES
        points, colours = 1, 1
        while at < len(data):
            if patches:
                points, colours = self._size(data, at)
            bits = self.flag + 2 * points * self.place + colours * self.colour
            end = at + -(-bits // 8)
            if end > len(data):
                return
            number = int.from_bytes(data[at:end], "big") >> -bits % 8
            yield self._record(number, bits, 2 * points, colours)
            at = end

    def _size(self, data: bytes, at: int) -> tuple[int, int]:
        """How many points and colours the patch has that is written at a byte of the data."""
        flag = int.from_bytes(data[at : at + 4].ljust(4, b"\0"), "big") >> 32 - self.flag
        if flag & 3:
            return _POINTS[self.kind] - _SHARED_POINTS, _COLOURS - _SHARED_COLOURS
        return _POINTS[self.kind], _COLOURS

    def _record(self, number: int, bits: int, coordinates: int, colours: int) -> MeshRecord:
        left = bits - self.flag
        flag = number >> left
        place, colour = (1 << self.place) - 1, (1 << self.colour) - 1
        places = []
        for _ in range(coordinates):
            left -= self.place
            places.append(number >> left & place)
        shades = []
        for _ in range(colours):
            left -= self.colour
            shades.append(number >> left & colour)
        return MeshRecord(flag, tuple(places), tuple(shades))


def mesh_layout(shading: object, kind: int, components: int) -> MeshLayout | None:
    """How the mesh of a shading is written; None where it does not say so in a way that makes sense.

    components: of its colour space; with a function, each corner has the one value that goes into it.
    """
    flag, place, component = (
        whole(entry(shading, f"/BitsPer{what}")) or 0 for what in ("Flag", "Coordinate", "Component")
    )
    values = 1 if entry(shading, "/Function") is not None else components
    if kind == LATTICE:
        flag = 0
    if kind not in MESHES or min(place, component, values) <= 0 or flag < 0:
        return None
    if max(flag, place, component) > _MOST_BITS:
        return None
    return MeshLayout(kind, flag, place, component, values)
