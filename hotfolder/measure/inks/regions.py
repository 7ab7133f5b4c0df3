"""Connected regions of a grid of marked cells: how large each is, and where it lies.

A sheet of pixels may have hundreds of thousands of runs of marked cells: all steps work on whole arrays.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Numbers = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Region:
    """The smallest rectangle of cells around a region, and how many of its cells belong to it."""

    column: int
    row: int
    columns: int
    rows: int
    cells: int


def largest_region(marked: NDArray[np.bool_]) -> Region | None:
    """The largest region of marked cells that touch along a side; None where none is marked.

    Of several of one size, that which comes first row by row.
    """
    regions = Regions.of(marked, corners=False)
    if not len(regions.cells):
        return None
    most = int(regions.cells.argmax())
    left, top = int(regions.left[most]), int(regions.top[most])
    columns, rows = int(regions.right[most]) - left, int(regions.bottom[most]) - top
    return Region(left, top, columns, rows, int(regions.cells[most]))


@dataclass(frozen=True, slots=True)
class Regions:
    """All regions of a grid, numbered in the order in which they begin, row by row.

    cells: how many each has. left, right, top, bottom: the box of cells around it; right and bottom are not
    included. row, start, stop, region: the runs of marked cells in one row, from `start` up to but without
    `stop`, and the number of the region that each belongs to.
    """

    cells: Numbers
    left: Numbers
    right: Numbers
    top: Numbers
    bottom: Numbers
    row: Numbers
    start: Numbers
    stop: Numbers
    region: Numbers

    @classmethod
    def of(cls, marked: NDArray[np.bool_], *, corners: bool) -> "Regions":
        """The regions of the marked cells; `corners`: cells that touch at a corner only are joined too."""
        height, width = marked.shape
        padded = np.zeros((height, width + 2), np.int8)
        padded[:, 1:-1] = marked
        steps = np.diff(padded, axis=1)
        row, start = np.nonzero(steps == 1)
        stop = np.nonzero(steps == -1)[1]
        region = _region_of_runs(row, start, stop, width + 2, corners=corners)
        count = int(region.max(initial=-1)) + 1
        left, top = np.full(count, width), np.full(count, height)
        right, bottom = np.zeros(count, np.intp), np.zeros(count, np.intp)
        np.minimum.at(left, region, start)
        np.maximum.at(right, region, stop)
        np.minimum.at(top, region, row)
        np.maximum.at(bottom, region, row + 1)
        cells = np.bincount(region, weights=stop - start, minlength=count).astype(np.intp)
        return cls(cells, left, right, top, bottom, row, start, stop, region)

    def highest(self, values: NDArray[np.uint32]) -> NDArray[np.uint32]:
        """The highest of `values`, one for each cell of the grid, in each region."""
        most = np.zeros(len(self.cells), np.uint32)
        if len(self.region):
            flat = np.append(values.ravel(), np.uint32(0))
            at = self.row * values.shape[1]
            ends = np.column_stack((at + self.start, at + self.stop)).ravel()
            np.maximum.at(most, self.region, np.maximum.reduceat(flat, ends)[::2])
        return most


def _region_of_runs(row: Numbers, start: Numbers, stop: Numbers, width: int, *, corners: bool) -> Numbers:
    """The number of each run's region; runs are in the order of their rows, and of their places there."""
    root = np.arange(len(row))
    # Runs of the next row that a run touches follow one another: from the first that ends beyond its start
    # to the last that starts before its end. At a corner, end and start are the same.
    first = np.searchsorted(row * width + stop, (row + 1) * width + start, "left" if corners else "right")
    last = np.searchsorted(row * width + start, (row + 1) * width + stop, "right" if corners else "left")
    count = np.maximum(last - first, 0)
    one = np.repeat(root, count)
    two = np.arange(count.sum()) + np.repeat(first - np.cumsum(count) + count, count)
    while True:
        ends = np.stack((root[one], root[two]))
        apart = ends[0] != ends[1]
        if not apart.any():
            break
        one, two, ends = one[apart], two[apart], ends[:, apart]
        np.minimum.at(root, ends.max(axis=0), ends.min(axis=0))
        while (further := root[root] != root).any():
            root[further] = root[root[further]]
    return np.unique(root, return_inverse=True)[1].astype(np.intp)
