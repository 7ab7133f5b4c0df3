# Blocks of three millimetres: what their heaviest square has, held against a slow and obvious search.

from dataclasses import dataclass

import numpy as np
import pytest

from hotfolder.measure.inks.heavy_blocks import BLOCK_MM, heavy_blocks
from hotfolder.measure.inks.heavy_ink import most_ink
from hotfolder.model.plates import Bytes


@dataclass(frozen=True)
class Sheet:
    """Plates of noise. side: pixels a millimetre."""

    plates: list[Bytes]
    side: int

    def most(self, row: int, column: int) -> float:
        """The highest mean of a square that begins in a block."""
        block = BLOCK_MM * self.side
        total = np.sum([plate.astype(np.int64) for plate in self.plates], axis=0)
        top, left = row * block, column * block
        return max(
            (
                float(total[y : y + self.side, x : x + self.side].mean())
                for y in range(top, min(top + block, total.shape[0] - self.side + 1))
                for x in range(left, min(left + block, total.shape[1] - self.side + 1))
            ),
            default=0.0,
        )


@pytest.mark.parametrize("side", [3, 6])
@pytest.mark.parametrize("mm", [(1, 1), (3, 4), (7, 11), (40, 5)])
def test_each_block_has_the_most_of_the_squares_that_begin_in_it(side: int, mm: tuple[int, int]) -> None:
    random = np.random.default_rng(side)
    shape = mm[0] * side, mm[1] * side
    sheet = Sheet([random.integers(0, 256, shape, np.uint8) for _ in range(4)], side)
    blocks = heavy_blocks(sheet.plates, side, within=1020)
    rows, columns = blocks.most.shape
    assert (rows, columns) == (-(-mm[0] // BLOCK_MM), -(-mm[1] // BLOCK_MM))
    for row in range(rows):
        for column in range(columns):
            assert blocks.most[row, column] == pytest.approx(sheet.most(row, column), rel=1e-5)
    assert blocks.most.max() == pytest.approx(most_ink(sheet.plates, side)[1], rel=1e-5)
    assert not blocks.even.any()


def test_strips_that_cannot_have_the_most_are_left_out() -> None:
    black = np.full((120 * 3, 30), 10, np.uint8)
    black[-30:] = 200
    blocks = heavy_blocks([black], 3, within=50)
    assert blocks.most[-2, 0] == 200
    black = black[::-1].copy()
    blocks = heavy_blocks([black], 3, within=50)
    assert blocks.most[0, 0] == 200
    assert blocks.most[-1, 0] == 0


def test_a_block_is_even_where_its_heaviest_square_is_filled_by_its_heaviest_pixels() -> None:
    """A solid of 6 x 6 mm; and one with a speck in it, which may be part of something heavier."""
    black = np.zeros((54, 54), np.uint8)
    black[9:27, 9:27] = 180
    assert heavy_blocks([black], 3, within=1020).even[1, 1]
    black[12, 12] = 190
    blocks = heavy_blocks([black], 3, within=1020)
    assert not blocks.even[1, 1]
    assert blocks.even[2, 2]
