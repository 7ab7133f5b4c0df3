"""Puts the sheet of cells into a file, and reads what a set of plates shows in a cell's windows."""

from collections.abc import Iterable, Mapping
from pathlib import Path

import numpy as np
import pikepdf
from numpy.typing import NDArray

from tests.plates.cells.sheet import SIDE_MM, Kind, Page, Sample, Window


def write_cells(kinds: Iterable[Kind], path: Path) -> list[tuple[Sample, ...]]:
    """Writes one page for each cell; gives what is expected on each."""
    with pikepdf.new() as pdf:
        expected = []
        for kind in kinds:
            page = Page(pdf)
            expected.append(kind.build(page))
            page.finish()
        pdf.save(path, deterministic_id=True)
    return expected


def mean_in(picture: NDArray[np.uint8], window: Window, px_per_mm: float) -> float:
    """The mean of a plate in a window, 0 to 1; whole pixels, the window's edges rounded inwards."""
    x0, y0, x1, y1 = window
    height = SIDE_MM - np.array([y1, y0])
    rows = slice(int(np.ceil(height[0] * px_per_mm)), int(np.floor(height[1] * px_per_mm)))
    columns = slice(int(np.ceil(x0 * px_per_mm)), int(np.floor(x1 * px_per_mm)))
    return float(picture[rows, columns].mean()) / 255


def worst(
    sample: Sample, plates: Mapping[str, NDArray[np.uint8]], px_per_mm: float
) -> tuple[float, dict[str, float]]:
    """How far the ink that is furthest off is off, in points of percent, and all that is there."""
    found = {ink: 100 * mean_in(picture, sample.window, px_per_mm) for ink, picture in plates.items()}
    names = found.keys() | sample.inks.keys()
    off = max((abs(found.get(ink, 0) - 100 * sample.inks.get(ink, 0)) for ink in names), default=0.0)
    return off, {ink: round(value, 1) for ink, value in found.items() if value}
