"""Pictures as people see them: the slices that a program cut one into lie edge to edge, and are one again.

Programs that flatten transparency, and drivers, write a picture in strips of a few pixels. Each by itself
tells little of the picture; together they are as large, and as coarse, as it is.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from hotfolder.model.geometry import Box
from hotfolder.model.marks import ImageFacts

# A picture of fewer pixels one way is a slice, where it has more the other way (own choice).
SLICE_PX: Final = 16
# What slices of one picture may differ by in scale, by the rounding of their places.
_SCALE: Final = 0.03
# Slices meet, overlap by a pixel, or leave a gap that rounding makes.
_GAP_PX: Final = 1.1
_GAP_PT: Final = 0.05


@dataclass(frozen=True, slots=True)
class WholePicture:
    """A picture, or several slices of one. image: the first of them.

    box: what is seen of it, in points. pixels, lengths: along its own axes; lengths in points.
    """

    image: ImageFacts
    box: Box
    pixels: tuple[int, int]
    lengths: tuple[float, float]

    @property
    def scale(self) -> tuple[float, float]:
        """How long a pixel is along each axis."""
        return self.lengths[0] / self.pixels[0], self.lengths[1] / self.pixels[1]


def whole_pictures(placed: Iterable[tuple[ImageFacts, Box]]) -> list[WholePicture]:
    """The pictures, each with what is seen of it; slices of one that lie edge to edge are one."""
    pieces: list[WholePicture] = []
    slices: list[WholePicture] = []
    for image, box in placed:
        lengths = _length(image.width_px, image.x_ppi), _length(image.height_px, image.y_ppi)
        piece = WholePicture(image, box, image.coarsest_px, lengths)
        (slices if _is_slice(piece) else pieces).append(piece)
    return pieces + _stacked(_stacked(slices, upright=True), upright=False)


def _length(pixels: int, ppi: float) -> float:
    """The printed length, in points, of `pixels` at `ppi`."""
    return pixels * 72 / ppi if ppi > 0 else math.inf


def _is_slice(piece: WholePicture) -> bool:
    """Whether a picture of few pixels one way stands upright, and is seen whole."""
    low, high = sorted(piece.lengths)
    narrow, wide = sorted((piece.box.width, piece.box.height))
    square = math.isclose(low, narrow, rel_tol=_SCALE, abs_tol=_GAP_PT) and math.isclose(
        high, wide, rel_tol=_SCALE, abs_tol=_GAP_PT
    )
    return square and min(piece.pixels) < SLICE_PX and max(piece.pixels) > 1


def _stacked(pieces: Sequence[WholePicture], *, upright: bool) -> list[WholePicture]:
    """The pieces, those put together that lie on one another (upright) or beside one another."""
    stacks: list[WholePicture] = []
    for piece in sorted(pieces, key=lambda each: _sides(each.box, upright=upright)):
        last = stacks[-1] if stacks else None
        together = _together(last, piece, upright=upright) if last is not None else None
        if together is None:
            stacks.append(piece)
        else:
            stacks[-1] = together
    return stacks


def _sides(box: Box, *, upright: bool) -> tuple[float, ...]:
    """Its sides across, rounded so that those of one stack are alike; and where it begins along the stack."""
    across = (box.x0, box.x1) if upright else (box.y0, box.y1)
    return (*(round(side / 0.5) for side in across), box.y0 if upright else box.x0)


def _together(one: WholePicture, two: WholePicture, *, upright: bool) -> WholePicture | None:
    """Both as one; None where they do not meet, or have another scale or other colours."""
    if one.image.colour != two.image.colour or one.image.bits != two.image.bits:
        return None
    scale = one.scale
    if not all(math.isclose(a, b, rel_tol=_SCALE) for a, b in zip(scale, two.scale, strict=True)):
        return None
    gap = _GAP_PX * max(scale) + _GAP_PT
    low, high = one.box, two.box
    if upright:
        meets = abs(low.y1 - high.y0) <= gap and abs(low.x0 - high.x0) <= gap and abs(low.x1 - high.x1) <= gap
    else:
        meets = abs(low.x1 - high.x0) <= gap and abs(low.y0 - high.y0) <= gap and abs(low.y1 - high.y1) <= gap
    if not meets:
        return None
    box = Box(min(low.x0, high.x0), min(low.y0, high.y0), max(low.x1, high.x1), max(low.y1, high.y1))
    # The picture's own axes may be turned by a quarter.
    first = math.isclose(one.lengths[0], low.width, rel_tol=_SCALE, abs_tol=_GAP_PT)
    lengths = (box.width, box.height) if first else (box.height, box.width)
    pixels = tuple(max(1, round(length / scale)) for length, scale in zip(lengths, scale, strict=True))
    return WholePicture(one.image, box, (pixels[0], pixels[1]), lengths)
