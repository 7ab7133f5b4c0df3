"""How far paint that touches the trim runs on beyond it, by the plates, along all four edges.

Paint touches the trim where it fills the last millimetre before it: keylines along the cut and hairlines
that end there are no area that a shifted cut would uncover. A gap of one pixel is forgiven, within that
millimetre, at the trim and beyond it: seams of neighbouring shapes and rounded page sizes make such gaps,
and they are a third of a millimetre at most. Paint that stops within one pixel of the trim was meant to
meet it.
"""

import math
from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hotfolder.model.geometry import Box, Edge
from hotfolder.model.inks import EdgePaint
from hotfolder.model.plates import Bytes, PlateFrame

# 3 % of one ink at least, of 255. Presses are not bound to hold a paler tint (ISO 12647-2 lets tones begin
# at 3 %; from memory), and beside bare paper it is hardly seen: on coated paper 3 % black are 1 unit of
# CIEDE2000 away from it, 3 % cyan 2. A gradient that fades out before the trim, a scan's almost white
# ground and the noise of a JPEG file stay below.
SEEN: Final = 8

# Figures are in floating point: a sheet's edge that lies this little inside a pixel is not in it.
_ROUNDING_PX: Final = 1e-3


def edge_paint(inks: Sequence[Bytes], frame: PlateFrame, sheet: Box, trim: Box) -> tuple[EdgePaint, ...]:
    """The paint along the left, bottom, right and top edge of `trim`.

    inks: the plates. Where paint ends inside a pixel, its tone there tells where; paint that reaches the
    sheet's last pixel reaches its edge.
    """
    return tuple(_along(edge, inks, frame, sheet, trim) for edge in Edge)


def _along(edge: Edge, inks: Sequence[Bytes], frame: PlateFrame, sheet: Box, trim: Box) -> EdgePaint:
    pixel, box = frame.pixel_pt, frame.box
    origin, low, high = (
        (box.y0, trim.y0, trim.y1) if edge in {Edge.LEFT, Edge.RIGHT} else (box.x0, trim.x0, trim.x1)
    )
    first, last = round((low - origin) / pixel), round((high - origin) / pixel)
    cut, end = trim.across(edge, box) / pixel, sheet.across(edge, box) / pixel
    deep, nearest = frame.px_per_mm, round(cut)
    # Pixels from one more than a millimetre inside the trim to the end of the sheet; one more on each
    # side, so that gaps there have neighbours.
    start, stop = nearest - deep - 2, max(nearest, math.ceil(end)) + 1
    tones = _band(edge, inks, (first, last), (start, stop))
    reach_px = _reach(tones, nearest - start, deep, math.ceil(end - _ROUNDING_PX) - 1 - start)
    reach: list[float | None] = []
    for column in reach_px.tolist():
        if math.isnan(column):
            reach.append(None)
        else:
            place = end if math.isinf(column) else min(column + start, end)
            reach.append(max(0.0, (place - cut) * pixel))
    return EdgePaint(edge, origin + first * pixel, pixel, tuple(reach), sheet.beyond(edge, trim))


def _band(edge: Edge, inks: Sequence[Bytes], along: tuple[int, int], across: tuple[int, int]) -> Bytes:
    """The strongest ink in a band along `edge`: steps from low to high, pixels going outward.

    What lies outside of the plates is bare.
    """
    tones = np.zeros((max(0, along[1] - along[0]), across[1] - across[0]), np.uint8)
    for ink in inks:
        plate = _turned(edge, ink)
        rows, columns = _inside(along, plate.shape[0]), _inside(across, plate.shape[1])
        here = tones[rows[0] - along[0] : rows[1] - along[0], columns[0] - across[0] : columns[1] - across[0]]
        np.maximum(here, plate[slice(*rows), slice(*columns)], out=here)
    return tones


def _inside(span: tuple[int, int], size: int) -> tuple[int, int]:
    """The part of a span of pixels that a plate of `size` has, empty where that is nothing."""
    start = min(max(span[0], 0), size)
    return start, min(max(span[1], start), size)


def _turned(edge: Edge, plate: Bytes) -> Bytes:
    """The plate seen so that its rows run from low to high along `edge`, and its columns outward."""
    match edge:
        case Edge.LEFT:
            return plate[::-1, ::-1]
        case Edge.RIGHT:
            return plate[::-1]
        case Edge.BOTTOM:
            return plate.T
        case Edge.TOP:
            return plate.T[:, ::-1]


def _reach(tones: Bytes, trim: int, deep: int, last: int) -> NDArray[np.float64]:
    """For each row of `tones` the column up to which paint that touches the trim runs on.

    trim: the first column beyond the trim. deep: how many columns before it paint fills to touch it.
    last: the last column that lies on the sheet. NaN where no paint touches the trim, infinity where it
    fills the sheet to its end.
    """
    paint = tones >= SEEN
    closed = paint.copy()
    closed[:, 1:-1] |= paint[:, :-2] & paint[:, 2:]
    touches = closed[:, trim - deep : trim].all(axis=1) | closed[:, trim - deep - 1 : trim - 1].all(axis=1)
    beyond = closed[:, trim:]
    ended = ~np.pad(beyond, ((0, 0), (0, 1)))
    meets = closed[:, trim - 1]
    run = np.where(meets, ended.argmax(axis=1), 0)
    rows = np.arange(len(tones))
    tip = trim + run - 1  # the last painted column
    before = np.maximum(tones[rows, tip - 1], 1)
    share = np.minimum(1.0, tones[rows, tip] / before)  # how much of that pixel is painted
    reach = np.where(meets, tip + share, float(trim))
    reach[meets & (tip >= last)] = math.inf
    reach[~touches] = math.nan
    return reach
