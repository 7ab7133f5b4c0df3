"""The colours at the corners of meshes (ISO 32000-2, 8.7.4.5.5 to 8.7.4.5.8), exchanged for others.

The records of a mesh are read, the components turned into other ones, and written again in 16 bits a
component; the rest stays bit for bit.
"""

from collections.abc import Callable
from itertools import islice
from typing import Final

import numpy as np
import pikepdf
from numpy.typing import NDArray

from hotfolder.errors import NotDrawnError
from hotfolder.pdf.meshes.records import MeshLayout, MeshRecord, mesh_layout
from hotfolder.pdf.objects.reading import entry, numbers
from hotfolder.pdf.objects.streams import bounded_bytes

Floats = NDArray[np.float64]

_MOST_BYTES: Final = 32 * 1024 * 1024
_MOST_RECORDS: Final = 1_000_000


def with_colours(
    shading: pikepdf.Object, kind: int, components: int, shown: Callable[[Floats], Floats]
) -> tuple[list[float], bytes]:
    """A Decode array and the data of a mesh, its corners in the three components that `shown` gives them.

    shown: takes colours of shape (count, components) and gives (count, 3), from 0 to 1.
    """
    decode = numbers(entry(shading, "/Decode"), 4 + 2 * components)
    layout = mesh_layout(shading, kind, components)
    data = bounded_bytes(shading, _MOST_BYTES)
    if decode is None or data is None or layout is None:
        raise NotDrawnError("a mesh of colours cannot be read")
    records = list(islice(layout.records(data), _MOST_RECORDS + 1))
    if not 0 < len(records) <= _MOST_RECORDS:
        raise NotDrawnError("a mesh has no corners, or more than are read")
    low, high = np.array(decode[4:]).reshape(-1, 2).T
    raw = np.array([layout.parts(colour) for each in records for colour in each.colours], np.float64)
    channels = shown(raw / (2.0**layout.component - 1) * (high - low) + low)
    codes = np.rint(np.clip(channels, 0, 1) * 65535).astype(np.int64).tolist()
    return [*decode[:4], 0, 1, 0, 1, 0, 1], _written(records, layout, codes)


def _written(records: list[MeshRecord], layout: MeshLayout, codes: list[list[int]]) -> bytes:
    """The records with other colours, a code of 16 bits for each component, in their order."""
    out = _Writer()
    left = iter(codes)
    for record in records:
        out.write(record.flag, layout.flag)
        for place in record.places:
            out.write(place, layout.place)
        for code in islice(left, len(record.colours)):
            for part in code:
                out.write(part, 16)
        out.fill()
    return out.data()


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
