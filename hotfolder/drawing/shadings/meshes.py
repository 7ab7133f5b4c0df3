"""The colours at the corners of meshes (ISO 32000-2, 8.7.4.5.5 to 8.7.4.5.8), exchanged for others.

A mesh is a row of records: an edge flag, coordinates, components, each of some bits. They are read, the
components turned into other ones, and written again in 16 bits a component; the rest stays bit for bit.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import islice
from typing import Final

import numpy as np
import pikepdf
from numpy.typing import NDArray

from hotfolder.errors import NotDrawnError
from hotfolder.pdf.objects.reading import entry, numbers, whole
from hotfolder.pdf.objects.streams import bounded_bytes

Floats = NDArray[np.float64]

TRIANGLES, LATTICE, COONS, TENSOR = 4, 5, 6, 7
MESHES: Final = frozenset({TRIANGLES, LATTICE, COONS, TENSOR})

_MOST_BYTES: Final = 32 * 1024 * 1024
_MOST_RECORDS: Final = 1_000_000

# Points and colours of a patch that begins anew, and of one that shares an edge with the patch before.
_POINTS: Final = {COONS: (12, 8), TENSOR: (16, 12)}
_COLOURS: Final = (4, 2)


Field = tuple[int, int]  # a number, and its bits
Record = tuple[list[Field], list[int]]  # fields that stay, and the colours as numbers of all their bits


@dataclass(frozen=True, slots=True)
class _ShadingLayout:
    """How a mesh is written: bits of a flag, a coordinate, a component, and how many components there are."""

    flag: int
    place: int
    component: int
    components: int

    @property
    def colour(self) -> int:
        """Bits of a whole colour."""
        return self.component * self.components

    def parts(self, colour: int) -> list[int]:
        """The components of a colour, as whole numbers."""
        shifts = range(self.colour - self.component, -1, -self.component)
        return [colour >> shift & (1 << self.component) - 1 for shift in shifts]


def with_colours(
    shading: pikepdf.Object, kind: int | None, components: int, shown: Callable[[Floats], Floats]
) -> tuple[list[float], bytes]:
    """A Decode array and the data of a mesh, its corners in the three components that `shown` gives them.

    shown: takes colours of shape (count, components) and gives (count, 3), from 0 to 1.
    """
    decode = numbers(entry(shading, "/Decode"), 4 + 2 * components)
    layout = _layout(shading, kind, components)
    data = bounded_bytes(shading, _MOST_BYTES)
    if decode is None or data is None or layout is None:
        raise NotDrawnError("a mesh of colours cannot be read")
    read = _patches(_Reader(data), kind, layout) if kind in _POINTS else _vertices(_Reader(data), layout)
    records = list(islice(read, _MOST_RECORDS + 1))
    if not 0 < len(records) <= _MOST_RECORDS:
        raise NotDrawnError("a mesh has no corners, or more than are read")
    low, high = np.array(decode[4:]).reshape(-1, 2).T
    raw = np.array([layout.parts(colour) for _, colours in records for colour in colours], np.float64)
    channels = shown(raw / (2.0**layout.component - 1) * (high - low) + low)
    codes = np.rint(np.clip(channels, 0, 1) * 65535).astype(np.int64).tolist()
    return [*decode[:4], 0, 1, 0, 1, 0, 1], _written(records, codes)


def _layout(shading: pikepdf.Object, kind: int | None, components: int) -> _ShadingLayout | None:
    flag, place, component = (
        whole(entry(shading, f"/BitsPer{what}")) or 0 for what in ("Flag", "Coordinate", "Component")
    )
    if kind not in MESHES or min(place, component) <= 0 or max(flag, place, component) > 32:
        return None
    return _ShadingLayout(0 if kind == LATTICE else flag, place, component, components)


def _written(records: list[Record], codes: list[list[int]]) -> bytes:
    """The records with other colours, a code of 16 bits for each component, in their order."""
    out = _Writer()
    left = iter(codes)
    for fields, colours in records:
        for value, size in fields:
            out.write(value, size)
        for code in islice(left, len(colours)):
            for part in code:
                out.write(part, 16)
        out.fill()
    return out.data()


def _vertices(data: "_Reader", layout: _ShadingLayout) -> Iterator[Record]:
    """Vertices, each with its colour; each begins on a whole byte."""
    while data.left >= layout.flag + 2 * layout.place + layout.colour:
        fields = [(data.read(layout.flag), layout.flag)] if layout.flag else []
        fields.append((data.read(2 * layout.place), 2 * layout.place))
        yield fields, [data.read(layout.colour)]
        data.align()


def _patches(data: "_Reader", kind: int, layout: _ShadingLayout) -> Iterator[Record]:
    """Patches, whose flag says how many points and colours they bring."""
    while data.left >= layout.flag:
        flag = data.read(layout.flag)
        shares = int(flag & 3 != 0)
        coordinates, colours = 2 * _POINTS[kind][shares], _COLOURS[shares]
        if data.left < coordinates * layout.place + colours * layout.colour:
            return
        fields = [(flag, layout.flag)]
        fields.extend((data.read(layout.place), layout.place) for _ in range(coordinates))
        yield fields, [data.read(layout.colour) for _ in range(colours)]
        data.align()


class _Reader:
    """Bits out of bytes, the highest first."""

    def __init__(self, data: bytes) -> None:
        self._data = data
        self._at = 0

    @property
    def left(self) -> int:
        """How many bits are left."""
        return 8 * len(self._data) - self._at

    def read(self, count: int) -> int:
        """The next bits as a number."""
        end = self._at + count
        part = int.from_bytes(self._data[self._at // 8 : (end + 7) // 8], "big")
        bits = part >> -end % 8 & (1 << count) - 1
        self._at = end
        return bits

    def align(self) -> None:
        """Goes on to the next whole byte."""
        self._at = -(-self._at // 8) * 8


class _Writer:
    """Bits into bytes."""

    def __init__(self) -> None:
        self._done = bytearray()
        self._held, self._count = 0, 0

    def write(self, value: int, count: int) -> None:
        """Adds a number of `count` bits."""
        self._held = self._held << count | value
        self._count += count
        whole_bytes, rest = divmod(self._count, 8)
        if whole_bytes:
            self._done += (self._held >> rest).to_bytes(whole_bytes, "big")
            self._held &= (1 << rest) - 1
            self._count = rest

    def fill(self) -> None:
        """Fills up the byte with 0."""
        self.write(0, -self._count % 8)

    def data(self) -> bytes:
        """What was written."""
        return bytes(self._done)
