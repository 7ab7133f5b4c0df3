"""Tells the inks of a shape on even ground by the pixels of the plates, whatever the shape is.

Where a letter fills half a pixel, each of its inks is changed there by half of what it is changed by in
whole. So all plates that carry a shape show the same picture, each in its own strength; what shows another
picture is another thing, and then the shape's inks are not known.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

# Ground that moves by no more than 3 % is even: no press repeats a tint better than that (own choice).
EVEN: Final = 8
# 5 %, what checks call a trace of an ink: the inks of paler shapes are not known.
CLEAR: Final = 13
# An ink that changes by a tenth of what the strongest one does, or by 2 % of full ink, is hardly seen
# where its plate shifts (own choice; less than a trace, for thin strokes fill no pixel wholly).
LEAST_SHARE: Final = 0.1
LEAST_CHANGE: Final = 5
_SEVERAL: Final = 2
_ROUNDING: Final = 1  # of 255, by a conversion or a blend


@dataclass(frozen=True, slots=True)
class ShapeOnPlates:
    """How a shape appears on the plates.

    plates: the numbers of those that show it; empty where it leaves no trace. lightens: at least one of
    them has less ink there than around it.
    """

    plates: tuple[int, ...]
    lightens: bool


def plates_darker_inside(
    pixels: NDArray[np.uint8], around: NDArray[np.bool_], inside: NDArray[np.bool_]
) -> tuple[int, ...] | None:
    """Which plates have more ink in an opaque shape of several colours than around it.

    None where that cannot be told: on ground that is not even, and where the ground has ink of a plate that
    shows no more of it, since the shape may have some of it too. pixels, around: as for `plates_of_shape`.
    inside: which of the pixels the shape lies in.
    """
    ground = pixels[:, around]
    lowest, highest = ground.min(axis=1).astype(np.int16), ground.max(axis=1).astype(np.int16)
    if (highest - lowest).max() > EVEN or not inside.any():
        return None
    more = pixels[:, inside].max(axis=1) - highest
    most = int(more.max())
    if most <= CLEAR:
        return None
    carrying = more >= max(LEAST_SHARE * most, LEAST_CHANGE)
    if np.count_nonzero(carrying) < _SEVERAL and (highest[~carrying] > EVEN).any():
        return None
    return tuple(int(plate) for plate in np.flatnonzero(carrying))


def plates_of_shape(pixels: NDArray[np.uint8], around: NDArray[np.bool_]) -> ShapeOnPlates | None:
    """Which plates carry the shape that stands on the ground; None where that cannot be told.

    pixels: the same place on all plates, (plates, height, width). around: which of the pixels
    are ground and certainly no part of the shape, (height, width); at least one.
    """
    ground = pixels[:, around]
    lowest, highest = ground.min(axis=1).astype(np.float32), ground.max(axis=1).astype(np.float32)
    if (highest - lowest).max() > EVEN:
        return None
    change = pixels.reshape(len(pixels), -1) - ((lowest + highest) / 2)[:, None]
    strongest = int(np.einsum("ij,ij->i", change, change).argmax())
    shape = change[strongest]
    most = float(np.abs(shape).max())
    if most <= CLEAR:
        return ShapeOnPlates((), lightens=False) if np.abs(change).max() <= _ROUNDING else None
    strengths = change @ shape / (shape @ shape)
    if np.abs(change - np.outer(strengths, shape)).max() > EVEN:
        return None
    if -float(shape.min()) > float(shape.max()):
        strengths = -strengths  # more than 0 is now what is darker than the ground
    least = max(LEAST_SHARE, LEAST_CHANGE / most)
    plates = np.flatnonzero(np.abs(strengths) >= least)
    return ShapeOnPlates(tuple(int(plate) for plate in plates), lightens=bool((strengths[plates] < 0).any()))
