"""How much ink lies in strips along an edge, by the cells of a page: boxes do not tell white from paint."""

from collections.abc import Iterator
from typing import Final

from hotfolder.artwork import CELL_PT, Box, Edge, PageInk
from hotfolder.checks.cells import percent, window
from hotfolder.checks.edges import Stretch, band

# All inks together, on average, in percent: less beside bare paper is no edge that anybody sees (own choice).
NEXT_TO_NOTHING: Final = 5.0


def mean_ink(ink: PageInk, box: Box) -> float:
    """How much ink lies in a box on average, all plates together, in percent."""
    upright = Box(min(box.x0, box.x1), min(box.y0, box.y1), max(box.x0, box.x1), max(box.y0, box.y1))
    cells = window(ink.cells, upright)
    count = len(cells.rows) * len(cells.columns)
    summed = sum(sum(line) for plate in ink.plates for line in cells.lines(plate.coverage, ink.cells))
    return percent(summed / count) if count else 0.0


def inked_along(ink: PageInk, edge: Edge, box: Box, stretch: Stretch, depth: float) -> Iterator[Stretch]:
    """The parts of `stretch` that have ink in the strip beyond `edge` of `box`, `depth` deep.

    depth: in points; negative inside. Parts are as long as a cell is wide.
    """
    start, end = stretch
    steps = max(1, round((end - start) / CELL_PT))
    for at in range(steps):
        part = (start + (end - start) * at / steps, start + (end - start) * (at + 1) / steps)
        if mean_ink(ink, band(edge, box, part, depth)) >= NEXT_TO_NOTHING:
            yield part
