# Means of exactly what each cell covers, against a slow search pixel by pixel.

import math

import numpy as np
import pytest
from numpy.typing import NDArray

from hotfolder.drawing.grid.area_mean import GridSpan, area_mean
from hotfolder.model.plates import Bytes


def noise(rows: int, columns: int, channels: int) -> Bytes:
    return np.random.default_rng(3).integers(0, 256, (rows, columns, channels), dtype=np.uint8)


def slowly(picture: Bytes, across: GridSpan, down: GridSpan) -> NDArray[np.float64]:
    """Each pixel laid on the cells that it touches, by the area that it has of them."""
    grid = np.zeros((down.cells, across.cells, picture.shape[2]))
    for row, line in enumerate(picture):
        for cell_row, height in touched(row, down):
            for column, pixel in enumerate(line):
                for cell_column, width in touched(column, across):
                    grid[cell_row, cell_column] += pixel * height * width
    return grid


def touched(pixel: int, span: GridSpan) -> list[tuple[int, float]]:
    size = (span.stop - span.start) / span.count
    low, high = span.start + pixel * size, min(span.start + (pixel + 1) * size, span.stop)
    cells = range(max(0, math.floor(low)), min(span.cells, math.ceil(high)))
    return [(cell, max(0.0, min(high, cell + 1) - max(low, cell))) for cell in cells]


@pytest.mark.parametrize("rows_a_strip", [1, 7, 1000])
@pytest.mark.parametrize(
    ("across", "down"),
    [
        (GridSpan(0, 29, 58, 29), GridSpan(0, 20, 40, 20)),  # whole pixels to a cell
        (GridSpan(1.3, 27.7, 58, 30), GridSpan(0.4, 19.1, 40, 20)),  # at odd places
        (
            GridSpan(-2.5, 31, 57.4, 28),
            GridSpan(2.5, 12, 39.3, 14),
        ),  # beyond the grid, and with last pixels cut
        (GridSpan(0.2, 130, 58, 131), GridSpan(0, 101, 40, 101)),  # coarser than the grid
        (GridSpan(0.3, 0.6, 58, 2), GridSpan(0.2, 1.1, 40, 2)),  # smaller than a cell
    ],
)
def test_each_cell_is_the_mean_of_what_it_covers(across: GridSpan, down: GridSpan, rows_a_strip: int) -> None:
    picture = noise(40, 58, 3)
    strips = [picture[row : row + rows_a_strip] for row in range(0, 40, rows_a_strip)]
    means = area_mean(iter(strips), across, down, 3)
    assert means.shape == (down.cells, across.cells, 3)
    assert np.abs(means - slowly(picture, across, down)).max() <= 0.51  # rounded to bytes


def test_a_grid_as_fine_as_the_picture_leaves_it_as_it_is() -> None:
    picture = noise(40, 58, 4)
    means = area_mean([picture], GridSpan(2, 60, 58, 65), GridSpan(1, 41, 40, 44), 4)
    assert np.array_equal(means[1:41, 2:60], picture)
    assert not means[0].any()
    assert not means[:, 60:].any()
