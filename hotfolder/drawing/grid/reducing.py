"""Pictures made smaller by whole numbers: each new pixel is the mean of a block.

At the far edges it is that of a part of one.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from PIL import Image

from hotfolder.model.plates import Bytes

# Pillow averages pictures of these numbers of channels at once; the name of inks keeps it from weighting
# by the fourth as if it were alpha.
_MODES: Final = {1: "L", 3: "RGB", 4: "CMYK"}

_MANY_PIXELS: Final = 12_000_000


@dataclass(frozen=True, slots=True)
class Smaller:
    """By how much a picture is made smaller, along each side."""

    across: int = 1
    down: int = 1

    def extent(self, width: int, height: int) -> tuple[float, float]:
        """How many columns and rows a picture has afterwards, the last ones' missing parts left out."""
        return width / self.across, height / self.down


WHOLE: Final = Smaller()


def reduced(samples: Bytes, smaller: Smaller) -> Bytes:
    """`samples` of shape (rows, columns, channels), averaged over blocks."""
    if smaller == WHOLE:
        return samples
    channels = samples.shape[2]
    mode = _MODES.get(channels)
    if mode is None:
        return np.concatenate([reduced(samples[..., [each]], smaller) for each in range(channels)], axis=2)
    height, width = samples.shape[:2]
    picture = Image.frombuffer(mode, (width, height), np.ascontiguousarray(samples), "raw", mode, 0, 1)
    means: Bytes = np.asarray(picture.reduce((smaller.across, smaller.down)))
    return means.reshape(*means.shape[:2], channels)


def block_means(samples: Bytes, side: int) -> Bytes:
    """The means of blocks of `side` x `side` pixels of a small picture, whose sides are multiples of that.

    samples: shape (rows, columns, channels).
    """
    height, width, channels = samples.shape
    blocks = samples.reshape(height // side, side, width // side, side, channels)
    sums = blocks.sum(axis=1, dtype=np.uint32).sum(axis=2)
    return np.asarray((sums + side**2 // 2) // side**2, np.uint8)


def smaller_for(width: int, height: int, across_px: float, down_px: float) -> Smaller:
    """By how much a picture of `width` times `height` can be made smaller for a drawing of so many pixels.

    At least 1.6 of its pixels are left for each of the drawing's, 3.2 at most: means then fall where they
    belong. Where that are very many, one is enough: the drawing is large then too.
    """
    fine = Smaller(_steps(width, 1.6 * across_px), _steps(height, 1.6 * down_px))
    if width * height <= _MANY_PIXELS * fine.across * fine.down:
        return fine
    return Smaller(_steps(width, across_px), _steps(height, down_px))


def _steps(pixels: int, wanted: float) -> int:
    return max(1, int(pixels / max(wanted, 1.0)))
