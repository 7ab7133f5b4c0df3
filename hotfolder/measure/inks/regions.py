"""Where most of something lies: the largest connected region of a map."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray


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

    Works on runs of marked cells in a row, and joins those that touch a run of the row above.
    """
    runs = _runs(marked)
    if not runs:
        return None
    root = list(range(len(runs)))

    def find(run: int) -> int:
        while root[run] != run:
            root[run] = root[root[run]]
            run = root[run]
        return run

    for above, below in _touching(runs):
        root[find(below)] = find(above)
    members: dict[int, list[tuple[int, int, int]]] = {}
    for number, run in enumerate(runs):
        members.setdefault(find(number), []).append(run)
    return max((_around(group) for group in members.values()), key=lambda region: region.cells)


def _runs(marked: NDArray[np.bool_]) -> list[tuple[int, int, int]]:
    """Row, first column and the column behind the last of each run, in reading order."""
    padded = np.pad(marked, ((0, 0), (1, 1))).astype(np.int8)
    change = np.diff(padded, axis=1)
    rows, starts = np.nonzero(change == 1)
    stops = np.nonzero(change == -1)[1]
    return list(zip(rows.tolist(), starts.tolist(), stops.tolist(), strict=True))


def _touching(runs: list[tuple[int, int, int]]) -> list[tuple[int, int]]:
    """Pairs of runs in neighbouring rows that share a column."""
    firsts = [0] + [place + 1 for place, (one, two) in enumerate(pairwise(runs)) if one[0] != two[0]]
    lines = [range(first, stop) for first, stop in pairwise([*firsts, len(runs)])]
    pairs: list[tuple[int, int]] = []
    for upper, lower in pairwise(lines):
        if runs[upper[0]][0] + 1 != runs[lower[0]][0]:
            continue
        above, below = upper[0], lower[0]
        while above < upper.stop and below < lower.stop:
            if runs[above][1] < runs[below][2] and runs[below][1] < runs[above][2]:
                pairs.append((above, below))
            if runs[above][2] <= runs[below][2]:
                above += 1
            else:
                below += 1
    return pairs


def _around(runs: list[tuple[int, int, int]]) -> Region:
    left, right = min(run[1] for run in runs), max(run[2] for run in runs)
    top, bottom = min(run[0] for run in runs), max(run[0] for run in runs) + 1
    return Region(left, top, right - left, bottom - top, sum(stop - start for _, start, stop in runs))
