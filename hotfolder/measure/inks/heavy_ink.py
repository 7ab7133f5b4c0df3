"""Where plates carry more ink than a figure, to the pixel: square millimetres that slide over the sheet.

A place is heavy where the mean over a square millimetre is, wherever that square is laid: a bar across two
cells of a fixed grid is as heavy as one within a row of them. It is laid by whole pixels, a third or a sixth
of a millimetre: on shapes smaller than itself, such as type, a square laid more finely would find up to some
15 points more. Where the most ink may lie, pixels are the means of a closer drawing (`PagePlates.most_1mm2`).
"""

from collections.abc import Iterator, Sequence
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from hotfolder.model.plates import Bytes

Sums: TypeAlias = NDArray[np.uint16] | NDArray[np.uint32]
Flags: TypeAlias = NDArray[np.bool_]

_STRIP_PX: Final = 96  # rows that are added up at a time, so that the totals of a large sheet are never held


def most_ink(plates: Sequence[Bytes], side: int) -> tuple[int, float]:
    """The highest total of all plates in a pixel, and as the mean of `side` x `side` pixels anywhere.

    255 is one full ink. The plates have one shape, of `side` pixels at least each way.
    """
    highest, most = 0, 0
    for total in strips(plates, side - 1):
        peak = int(total.max(initial=0))
        highest = max(highest, peak)
        if peak * side**2 > most:  # else no square of the strip can have more
            most = max(most, int(window_sums(total, side).max(initial=0)))
    return highest, most / side**2


def heavy_pixels(plates: Sequence[Bytes], side: int, over: float) -> tuple[Flags, NDArray[np.uint32]]:
    """Which pixels lie in areas with more ink than `over` (255 is one full ink), and how much is there.

    In them lie squares of `side` x `side` pixels whose mean is higher. Of such a square count the pixels that
    are heavy themselves, those at the edge of a shape where it fills half of them or more, and those around
    which the mean is higher: the light ones within a heavy, uneven area. The sums, of shape (height, width),
    are those of the square around each pixel, 0 where it is not over.
    """
    shape = plates[0].shape
    heavy = np.zeros(shape, np.bool_)
    sums = np.zeros(shape, np.uint32)
    halo = side + 1
    top = 0
    for total in strips(plates, halo, halo):
        rows = min(_STRIP_PX, shape[0] - top)
        first = min(top, halo)  # of the strip's own rows in `total`
        if int(total.max(initial=0)) > over:
            own = slice(first, first + rows)
            flags, around = _heavy(total, side, over)
            heavy[top : top + rows], sums[top : top + rows] = flags[own], around[own]
        top += rows
    return heavy, sums


def window_sums(values: Sums, side: int) -> Sums:
    """The sums of all squares of `side` x `side` values; the first one is that of the top left corner."""
    if int(values.max(initial=0)) * side**2 > np.iinfo(values.dtype).max:
        values = values.astype(np.uint32)
    height, width = (max(0, length - side + 1) for length in values.shape)
    rows = values[:height].copy()
    for row in range(1, side):  # adding whole rows is several times faster than a sum over an axis
        rows += values[row : row + height]
    sums = rows[:, :width].copy()
    for column in range(1, side):
        sums += rows[:, column : column + width]
    return sums


def strips(
    plates: Sequence[Bytes], below: int, above: int = 0, rows: int = _STRIP_PX
) -> Iterator[NDArray[np.uint16]]:
    """The total of all plates, some rows at a time, with further rows above and below where there are any."""
    height = plates[0].shape[0]
    for top in range(0, height, rows):
        part = slice(max(0, top - above), min(height, top + rows + below))
        total = plates[0][part].astype(np.uint16)
        for plate in plates[1:]:
            total += plate[part]
        yield total


def _heavy(total: NDArray[np.uint16], side: int, over: float) -> tuple[Flags, NDArray[np.uint32]]:
    sums = window_sums(total, side)
    is_over = sums > over * side**2
    before = side // 2
    around = np.zeros(total.shape, np.uint32)
    here = around[before : before + sums.shape[0], before : before + sums.shape[1]]
    here[...] = np.where(is_over, sums, 0)
    touched = np.zeros(total.shape, np.bool_)
    if is_over.any():
        rows = np.zeros((total.shape[0], is_over.shape[1]), np.bool_)
        for row in range(side):
            rows[row : row + is_over.shape[0]] |= is_over
        for column in range(side):
            touched[:, column : column + is_over.shape[1]] |= rows
        touched &= (around > 0) | _shaped(total, over)
    return touched, around


def _shaped(total: NDArray[np.uint16], over: float) -> Flags:
    """The pixels over a figure, and those at their edges that are nearer to them than to what lies around."""
    highest, lowest = total, total
    for axis in (0, 1):
        padded = np.pad(highest, [(1, 1) if axis == each else (0, 0) for each in (0, 1)], mode="edge")
        highest = _of_three(padded, axis, np.maximum)
        padded = np.pad(lowest, [(1, 1) if axis == each else (0, 0) for each in (0, 1)], mode="edge")
        lowest = _of_three(padded, axis, np.minimum)
    at_edge = (highest > over) & (2 * total.astype(np.uint32) >= highest.astype(np.uint32) + lowest)
    return np.asarray((total > over) | at_edge)


def _of_three(padded: NDArray[np.uint16], axis: int, choose: np.ufunc) -> NDArray[np.uint16]:
    """Of three neighbours along an axis the one that `choose` takes."""
    one, two, three = (
        padded[tuple(slice(first, padded.shape[each] - 2 + first) if each == axis else slice(None)
                     for each in (0, 1))]
        for first in range(3)
    )  # fmt: skip
    chosen: NDArray[np.uint16] = choose(choose(one, two), three)
    return chosen
