"""Areas on a page's plates: which cells of one millimetre hang together, and what inks lie there.

Coverage is counted as the plates have it: a byte for each cell and ink, 255 for full ink, so that a total
of four inks is 1020 at most. A sheet of A2 has a quarter of a million cells: loops here run over rows and
runs of cells, never over single cells.
"""

import re
from array import array
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from operator import add
from typing import Final, TypeAlias

from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT, Cells, PageInk
from hotfolder.model.pages import Page

FULL: Final = 255

# Of 255, as the mean of a square millimetre: conversions and blends leave such traces (own choice).
TRACE: Final = 3

Totals: TypeAlias = "array[int]"

_RUN: Final = re.compile(b"\x01+")


def percent(total: float) -> float:
    """A sum of bytes as percent of ink: 255 is 100 %."""
    return total * 100 / FULL


def from_percent(value: float) -> float:
    """Percent of ink as a sum of bytes."""
    return value * FULL / 100


@dataclass(frozen=True, slots=True)
class CellRun:
    """Neighbouring cells of one row, from `start` up to and without `stop`."""

    row: int
    start: int
    stop: int


@dataclass(frozen=True, slots=True)
class Area:
    """Cells that hang together, corners included."""

    grid: Cells
    runs: tuple[CellRun, ...]

    @property
    def mm2(self) -> int:
        """How large it is: a cell is a square millimetre."""
        return sum(run.stop - run.start for run in self.runs)

    @property
    def box(self) -> Box:
        """The smallest box that holds it, in points."""
        left, right = min(run.start for run in self.runs), max(run.stop for run in self.runs)
        top, bottom = self.runs[0].row, self.runs[-1].row
        return self.grid.box(left, top, right - left, bottom - top + 1)

    def values(self, of: Sequence[int]) -> Iterator[int]:
        """What `of`, a value for each cell of the grid, has in its cells."""
        for run in self.runs:
            at = run.row * self.grid.columns
            yield from of[at + run.start : at + run.stop]


@dataclass(frozen=True, slots=True)
class CellWindow:
    """The rows and columns of a page's cells that count."""

    rows: range
    columns: range

    def lines(self, of: bytes, grid: Cells) -> Iterator[bytes]:
        """What `of` has in the cells that count, row by row."""
        for row in self.rows:
            at = row * grid.columns
            yield of[at + self.columns.start : at + self.columns.stop]


def window(grid: Cells, box: Box | None) -> CellWindow:
    """The cells whose middle lies in `box`; all of them where there is no box."""
    if box is None:
        return CellWindow(range(grid.rows), range(grid.columns))
    return CellWindow(
        _between((grid.top - box.y1) / CELL_PT, (grid.top - box.y0) / CELL_PT, grid.rows),
        _between((box.x0 - grid.left) / CELL_PT, (box.x1 - grid.left) / CELL_PT, grid.columns),
    )


def on_product_cells(page: Page, ink: PageInk) -> CellWindow:
    """The cells of trim and declared bleed; all of the sheet where the trim is not known."""
    return window(ink.cells, page.product_area)


def inks_on_paper(page: Page, ink: PageInk) -> frozenset[str]:
    """The inks that lie anywhere on the finished page and its bleed."""
    cells = on_product_cells(page, ink)
    return frozenset(
        plate.ink
        for plate in ink.plates
        if any(max(line, default=0) >= TRACE for line in cells.lines(plate.coverage, ink.cells))
    )


def totals(ink: PageInk, without: frozenset[str] = frozenset()) -> Totals:
    """The total of all plates in each cell, but for those of the inks `without`."""
    plates = [plate.coverage for plate in ink.plates if plate.ink not in without]
    if not plates:
        return array("H", bytes(2 * ink.cells.rows * ink.cells.columns))
    summed: Iterable[int] = iter(plates[0])
    for plate in plates[1:]:
        summed = map(add, summed, plate)
    return array("H", summed)


def areas(grid: Cells, flags: bytes, within: CellWindow, least_mm2: float) -> list[Area]:
    """The areas of at least `least_mm2` of cells whose flag is 1, those that hold the most cells first."""
    joined = _Joined()
    above: list[int] = []
    for row in within.rows:
        at = row * grid.columns
        line = flags[at + within.columns.start : at + within.columns.stop]
        here = [
            joined.take(
                CellRun(row, match.start() + within.columns.start, match.end() + within.columns.start)
            )
            for match in _RUN.finditer(line)
        ]
        joined.join(above, here)
        above = here
    of_any_size = [Area(grid, tuple(runs)) for runs in joined.groups()]
    return sorted((area for area in of_any_size if area.mm2 >= least_mm2), key=lambda area: -area.mm2)


def rimless(flags: bytes, grid: Cells) -> bytes:
    """`flags` of the cells alone whose four neighbours are flagged too: lines and rims vanish.

    The cells along the rim of a shape carry a part of its ink, and look like a paler one.
    """
    bits = int.from_bytes(flags, "big")
    row = 8 * grid.columns
    inner = bits & bits >> 8 & bits << 8 & bits >> row & bits << row
    return inner.to_bytes(len(flags), "big")


def is_more_than_rim(area: Area, inner: bytes) -> bool:
    """Whether half of an area or more is left without its rim. inner: from `rimless`."""
    return 2 * sum(area.values(inner)) >= area.mm2


def without_boxes(flags: bytes, grid: Cells, boxes: Iterable[Box]) -> bytes:
    """`flags` with every cell that one of `boxes` touches set to 0."""
    left = bytearray(flags)
    for box in boxes:
        inside = window(grid, box.grown(CELL_PT / 2))
        nothing = bytes(len(inside.columns))
        for row in inside.rows:
            at = row * grid.columns
            left[at + inside.columns.start : at + inside.columns.stop] = nothing
    return bytes(left)


def _between(low: float, high: float, count: int) -> range:
    """The numbers of the cells whose middle lies from `low` to `high`, both in cells."""
    first = min(max(round(low), 0), count)
    return range(first, max(first, min(round(high), count)))


class _Joined:
    """Runs of cells, put together where they touch: a forest in which each run points towards its root."""

    def __init__(self) -> None:
        self._runs: list[CellRun] = []
        self._towards: list[int] = []

    def take(self, run: CellRun) -> int:
        """One more run; its number."""
        self._runs.append(run)
        self._towards.append(len(self._towards))
        return len(self._towards) - 1

    def join(self, above: Sequence[int], here: Sequence[int]) -> None:
        """Puts the runs of two neighbouring rows together where they touch, at a corner too."""
        first = 0
        for number in here:
            run = self._runs[number]
            while first < len(above) and self._runs[above[first]].stop < run.start:
                first += 1
            place = first
            while place < len(above) and self._runs[above[place]].start <= run.stop:
                self._towards[self._root(number)] = self._root(above[place])
                place += 1

    def groups(self) -> Iterable[list[CellRun]]:
        """The runs that hang together, each group in the order of its rows."""
        by_root: dict[int, list[CellRun]] = {}
        for number, run in enumerate(self._runs):
            by_root.setdefault(self._root(number), []).append(run)
        return by_root.values()

    def _root(self, number: int) -> int:
        while self._towards[number] != number:
            self._towards[number] = self._towards[self._towards[number]]
            number = self._towards[number]
        return number
