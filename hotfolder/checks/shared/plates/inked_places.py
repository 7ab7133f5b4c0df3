"""Where ink lies near an edge, by the cells of a page: boxes do not tell white, or nothing, from paint."""

from collections.abc import Iterator
from typing import Final

from hotfolder.checks.shared.marks.edges import Stretch, band
from hotfolder.checks.shared.plates.cells import from_percent, percent, window
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.inks import CELL_PT, PageInk

# All inks together, on average, in percent: less beside bare paper is no edge that anybody sees (own choice).
NEXT_TO_NOTHING: Final = 5.0
# Of one ink, in a cell: a tenth of that is a line of a tenth of a millimetre through it (own choice).
_LEAST_SEEN: Final = 2.0


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


def inked_part(ink: PageInk, box: Box) -> Box | None:
    """What of a box has ink in it, whoever laid it, to the cell; None where none of it has."""
    cells = window(ink.cells, box.grown(CELL_PT / 2))
    table = bytes(value >= from_percent(_LEAST_SEEN) for value in range(256))
    columns, rows = 0, set[int]()
    for plate in ink.plates:
        for row, line in zip(cells.rows, cells.lines(plate.coverage, ink.cells), strict=True):
            inked_columns = int.from_bytes(line.translate(table), "big")
            if inked_columns:
                columns |= inked_columns
                rows.add(row)
    if not rows:
        return None
    # The first column is the highest byte.
    flags = columns.to_bytes(len(cells.columns), "big")
    first, last = flags.find(1), flags.rfind(1)
    top, bottom = min(rows), max(rows)
    left = cells.columns.start + first
    return box.cut_by(ink.cells.box(left, top, last - first + 1, bottom - top + 1))
