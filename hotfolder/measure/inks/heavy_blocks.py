"""Which parts of a sheet may hold the square millimetre with the most ink.

A block is a square of three millimetres; it stands for all square millimetres whose top left corner lies in
it. Those of all blocks together are all that there are.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hotfolder.measure.inks.heavy_ink import Sums, strips, window_sums
from hotfolder.model.plates import Bytes

BLOCK_MM: Final = 3
_STRIP_BLOCKS: Final = 12  # rows of blocks that are added up at a time


@dataclass(frozen=True, slots=True)
class HeavyBlocks:
    """The blocks of a sheet, in rows from its top left corner.

    most: the highest mean of a square millimetre of each; highest: of all pixels that these squares touch, or
    of some around them; 255 is one full ink. 0 in both where neither can come within what was asked for.
    """

    most: NDArray[np.float32]
    highest: NDArray[np.float32]

    @property
    def even(self) -> NDArray[np.bool_]:
        """Those whose heaviest square is filled evenly by what is heaviest there."""
        return (self.most > 0) & (self.most >= self.highest)


def heavy_blocks(plates: Sequence[Bytes], side: int, within: float) -> HeavyBlocks:
    """The blocks whose heaviest square is `within` of the heaviest of all, and perhaps some more.

    The plates have one shape, of multiples of `side` pixels each way, which are a millimetre.
    """
    block = BLOCK_MM * side
    height, width = plates[0].shape
    rows, columns = -(-height // block), -(-width // block)
    most = np.zeros((rows, columns), np.float32)
    highest = np.zeros((rows, columns), np.float32)
    known = 0.0
    for number, total in enumerate(strips(plates, block, rows=_STRIP_BLOCKS * block)):
        if int(total.max(initial=0)) < known - within:
            continue  # no square of the strip can have so much
        top = number * _STRIP_BLOCKS
        own = slice(top, min(top + _STRIP_BLOCKS, rows))
        count = own.stop - top
        highest[own] = _with_next(_highest(total, block))[:count]
        means = _highest(window_sums(total, side), block)[:count] / np.float32(side**2)
        most[top : top + means.shape[0], : means.shape[1]] = means
        known = max(known, float(means.max(initial=0)))
    return HeavyBlocks(most, highest)


def _highest(values: Sums, block: int) -> NDArray[np.uint32]:
    """The highest value of each square of `block` x `block` values; at the far edges of a part of one."""
    height, width = values.shape
    if not values.size:
        return np.zeros((0, 0), np.uint32)
    whole = height // block * block
    # Over whole rows first: several times as fast as over both at once, or than what takes any edges.
    lines = values[:whole].reshape(-1, block, width).max(axis=1)
    if whole < height:
        lines = np.concatenate((lines, values[whole:].max(axis=0)[None]))
    columns = np.arange(0, width, block)
    return np.asarray(np.maximum.reduceat(lines, columns, axis=1), np.uint32)


def _with_next(peaks: NDArray[np.uint32]) -> NDArray[np.uint32]:
    """The highest of each and its neighbours to the right and below, into which its squares reach."""
    padded = np.pad(peaks, ((0, 1), (0, 1)))
    down = np.maximum(padded[:-1], padded[1:])
    return np.asarray(np.maximum(down[:, :-1], down[:, 1:]))
