"""A picture brought to a coarser or finer grid, each new pixel the mean of exactly what it covers.

Works row by row as a picture comes by, so that neither the picture nor its sums are ever held whole.
A place that lies between pixels counts by the share that it has of each.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from hotfolder.model.plates import Bytes

Floats: TypeAlias = NDArray[np.float64]
Sums: TypeAlias = NDArray[np.float32]

# Rows that are added up at a time: few enough to stay in a processor's cache.
_STEP = 16


@dataclass(frozen=True, slots=True)
class GridSpan:
    """Where a row of `count` pixels lies on a row of `cells` grid cells, in cells: from `start` to `stop`.

    count: may be a fraction, where the last pixel was cut.
    """

    start: float
    stop: float
    count: float
    cells: int

    def places(self) -> Floats:
        """Where each border between two cells lies, in pixels; held within the picture."""
        borders = np.arange(self.cells + 1)
        return np.clip((borders - self.start) * self.count / (self.stop - self.start), 0.0, self.count)

    @property
    def cells_a_pixel(self) -> float:
        """How many cells a pixel covers."""
        return (self.stop - self.start) / self.count


def area_mean(strips: Iterable[Bytes], across: GridSpan, down: GridSpan, channels: int) -> Bytes:
    """The picture whose rows come in `strips`, of shape (rows, columns, channels), on the grid.

    Cells that the picture covers in part have the mean of it and of nothing (0).
    """
    grid = np.zeros((down.cells, across.cells, channels), np.uint8)
    places = down.places()
    first, row = 0, 0
    sums: Sums | None = None  # of the grid's rows from `first` on, which are not complete
    for rows in _steps(strips):
        next_first, next_sums = _summed(rows, row, places, down.cells_a_pixel)
        row += len(rows)
        if sums is not None:
            next_first, next_sums = _joined(first, sums, next_first, next_sums)
        whole = int(np.searchsorted(places[1:], row, side="right")) - next_first
        whole = max(0, min(whole, len(next_sums)))
        grid[next_first : next_first + whole] = _narrowed(next_sums[:whole], across)
        first, sums = next_first + whole, next_sums[whole:]
    if sums is not None:
        grid[first : first + len(sums)] = _narrowed(sums, across)
    return grid


def _steps(strips: Iterable[Bytes]) -> Iterator[Bytes]:
    for strip in strips:
        for row in range(0, len(strip), _STEP):
            yield strip[row : row + _STEP]


def _summed(rows: Bytes, row: int, places: Floats, cells_a_pixel: float) -> tuple[int, Sums]:
    """The rows from number `row` on, added up into the grid's rows; the first of these."""
    last = row + len(rows)
    first = max(0, int(np.searchsorted(places, row, side="right")) - 1)
    stop = max(first, min(len(places) - 1, int(np.searchsorted(places, last, side="left"))))
    sums = np.zeros((stop - first, *rows.shape[1:]), np.float32)
    # Not as a product of matrices: nearly all weights are 0, and that would start threads.
    for cell in range(first, stop):
        low, high = float(places[cell]), float(places[cell + 1])
        for number in range(max(row, int(low)), min(last, math.ceil(high))):
            weight = min(high, number + 1) - max(low, number)
            sums[cell - first] += rows[number - row] * np.float32(weight * cells_a_pixel)
    return first, sums


def _joined(first: int, sums: Sums, next_first: int, next_sums: Sums) -> tuple[int, Sums]:
    """Both sums in one, from the first row of either."""
    start = min(first, next_first) if len(sums) else next_first
    stop = max(first + len(sums), next_first + len(next_sums))
    joined = np.zeros((stop - start, *next_sums.shape[1:]), np.float32)
    joined[first - start : first - start + len(sums)] += sums
    joined[next_first - start : next_first - start + len(next_sums)] += next_sums
    return start, joined


def _narrowed(rows: Sums, across: GridSpan) -> Bytes:
    """The grid's columns out of rows that have a picture's columns."""
    places = across.places()
    height, columns, channels = rows.shape
    total = np.zeros((height, columns + 1, channels))
    np.cumsum(rows, axis=1, out=total[:, 1:])
    whole = np.minimum(places.astype(np.intp), columns - 1)
    share = (places - whole)[None, :, None]
    at = total[:, whole] + share * rows[:, whole]
    means = np.diff(at, axis=1) * across.cells_a_pixel
    cells: Bytes = np.clip(np.rint(means), 0, 255).astype(np.uint8)
    return cells
