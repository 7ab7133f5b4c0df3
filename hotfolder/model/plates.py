"""The plates of a page as pictures, on their way from the drawing to facts and to the report's pictures."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT, Doubt

Bytes: TypeAlias = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class PlateFrame:
    """The grid of pixels that a page's plates are drawn on, in unrotated user space.

    left, top: the place of the picture's top left corner, in points. px_per_mm: 3 or more (76.2 ppi),
    a whole number, so that cells of one millimetre are whole pixels. width_px, height_px: multiples
    of it. A corner of the trim, where it is known, is a corner of a cell. The frame holds the
    sheet (the media box), and up to a cell of bare margin around it.
    """

    left: float
    top: float
    px_per_mm: int
    width_px: int
    height_px: int

    def finer(self, times: int) -> "PlateFrame":
        """The same place with so many times as many pixels each way."""
        return PlateFrame(
            self.left, self.top, self.px_per_mm * times, self.width_px * times, self.height_px * times
        )

    @property
    def pixel_pt(self) -> float:
        """The side of a pixel in points."""
        return CELL_PT / self.px_per_mm

    @property
    def box(self) -> Box:
        """What the picture shows, in points."""
        width, height = self.width_px * self.pixel_pt, self.height_px * self.pixel_pt
        return Box(self.left, self.top - height, self.left + width, self.top)


@dataclass(frozen=True, slots=True, eq=False)
class PagePlates:
    """One page drawn as the inks that it lays down.

    inks: a picture of shape (height_px, width_px) for each ink that anything touches, process inks
        first; row 0 is the top; 0 bare paper, 255 full ink.
    looks: the colour of each spot ink at full strength on the press's paper, CIELAB (D50), by its name.
    screen: shape (height_px, width_px, 3), sRGB: the page as its file means it to look; None where all
        of its colours are the press's own, so that nothing can move.
    approximate: what is drawn only nearly, a sentence each.
    doubts: where that may be more or less ink than is drawn.
    most_1mm2: the highest total of all inks on a square millimetre, as their mean, 255 one full ink, where
        places were drawn closely to find it; the pixels of other places may seem to have more. None where
        all that the plates show is as exact as they are.
    """

    page: int
    sheet: Box
    frame: PlateFrame
    inks: Mapping[str, Bytes]
    looks: Mapping[str, tuple[float, float, float]]
    screen: Bytes | None
    approximate: tuple[str, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    most_1mm2: float | None = None
