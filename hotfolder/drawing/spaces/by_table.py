"""Tables that show a colour space in a view, where no formula does: type 0 functions (ISO 32000-2, 7.10.2).

The renderer reads tables of several inputs only nearly (it adds up the differences along each input instead
of weighting all corners of a cell), so colours come out a point or so off. Solid colours, pictures and
shadings do not need them: they are converted one by one.
"""

from typing import Final

import numpy as np
import pikepdf
from pikepdf import Array

from hotfolder.colour.conversions import Intent
from hotfolder.colour.press_colours import Floats
from hotfolder.drawing.spaces.by_formula import device_n
from hotfolder.drawing.spaces.space import PaintSpace
from hotfolder.drawing.spaces.view import CHANNELS, View
from hotfolder.errors import NotDrawnError

# Points along each input, by the number of inputs: some 100,000 of them at the utmost.
_POINTS: Final = {1: 256, 2: 129, 3: 45, 4: 17, 5: 10, 6: 7, 7: 5, 8: 4}


def sampled_view(space: PaintSpace, view: View, intent: Intent) -> pikepdf.Object:
    """A DeviceN space that shows `space` in `view` by a table.

    NotDrawnError where it has too many components.
    """
    points = _POINTS.get(space.components)
    if points is None:
        raise NotDrawnError(f"a colour of {space.components} inks is used where only a table could show it")
    ranges = space.traits.ranges
    # The first input varies fastest (7.10.2).
    axes = [np.linspace(low, high, points) for low, high in reversed(ranges)]
    grid = np.stack([axis.ravel() for axis in np.meshgrid(*axes, indexing="ij")][::-1], axis=1)
    table = table_function(space.pdf, space.shown_values(grid, view, intent), (points,) * len(ranges), ranges)
    return device_n(space.pdf, space.components, table)


def table_function(
    pdf: pikepdf.Pdf, values: Floats, size: tuple[int, ...], domain: tuple[tuple[float, float], ...]
) -> pikepdf.Stream:
    """A type 0 function that gives `values` of shape (count, 3), 0 to 1, the first input varying fastest."""
    samples = np.rint(np.clip(values, 0, 1) * 65535).astype(">u2")
    return pdf.make_stream(
        samples.tobytes(),
        FunctionType=0,
        Domain=Array([edge for pair in domain for edge in pair]),
        Range=Array([0, 1] * CHANNELS),
        Size=Array(list(size)),
        BitsPerSample=16,
    )
