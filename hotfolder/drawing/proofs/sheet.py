"""Plates cut to the sheet, made smaller and turned, for pictures that people look at."""

from dataclasses import dataclass

import numpy as np
from PIL import Image

from hotfolder.drawing.proofs.encoding import encoded
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page
from hotfolder.model.pictures import EncodedPicture
from hotfolder.model.plates import Bytes, PagePlates, PlateFrame


@dataclass(frozen=True, slots=True)
class Cut:
    """A part of a frame in whole pixels: its first column and row, and those after its last."""

    left: int
    top: int
    right: int
    bottom: int

    @classmethod
    def of(cls, frame: PlateFrame, box: Box) -> "Cut | None":
        """What of `frame` shows `box`, to the nearest pixel; None where that is nothing."""
        left, right = ((x - frame.left) / frame.pixel_pt for x in (box.x0, box.x1))
        top, bottom = ((frame.top - y) / frame.pixel_pt for y in (box.y1, box.y0))
        cut = cls(
            max(0, round(left)),
            max(0, round(top)),
            min(frame.width_px, round(right)),
            min(frame.height_px, round(bottom)),
        )
        return cut if cut.left < cut.right and cut.top < cut.bottom else None

    @property
    def size(self) -> tuple[int, int]:
        """Width and height in pixels."""
        return self.right - self.left, self.bottom - self.top

    def of_picture(self, picture: Bytes) -> Bytes:
        """The part of a picture of the whole frame."""
        return picture[self.top : self.bottom, self.left : self.right]

    def box(self, frame: PlateFrame) -> Box:
        """What the part shows, in points."""
        x0, x1 = (frame.left + x * frame.pixel_pt for x in (self.left, self.right))
        y1, y0 = (frame.top - y * frame.pixel_pt for y in (self.top, self.bottom))
        return Box(x0, y0, x1, y1)


@dataclass(frozen=True, slots=True)
class SheetPlates:
    """The plates of `page`. left_out: names of inks that are no ink to look at (cutting, varnish)."""

    page: Page
    plates: PagePlates
    left_out: frozenset[str] = frozenset()

    @property
    def frame(self) -> PlateFrame:
        """The grid that the plates are drawn on."""
        return self.plates.frame

    @property
    def sheet(self) -> Cut:
        """The sheet in its frame, to the nearest pixel."""
        return Cut.of(self.frame, self.plates.sheet) or Cut(0, 0, self.frame.width_px, self.frame.height_px)

    def inks(self, cut: Cut, size: tuple[int, int], *, technical: bool = False) -> dict[str, Bytes]:
        """The `cut` of each ink at width and height `size`; those `left_out` only if `technical`."""
        return {
            name: smaller(cut.of_picture(plate), size)
            for name, plate in self.plates.inks.items()
            if technical or name not in self.left_out
        }

    def upright(self, shown: Bytes) -> Image.Image:
        """A picture of the page turned as the page is meant to be seen."""
        return Image.fromarray(turned(shown, self.page.rotate))


def fitting(size: tuple[int, int], longest_px: int) -> tuple[int, int]:
    """A size of the same shape whose longer side is at most `longest_px`; nothing is blown up."""
    scale = min(1.0, longest_px / max(size))
    return max(1, round(size[0] * scale)), max(1, round(size[1] * scale))


def smaller(picture: Bytes, size: tuple[int, int]) -> Bytes:
    """`picture` at width and height `size`: each pixel the mean of what it stands for."""
    if picture.shape[1::-1] == size:
        return picture
    image = Image.fromarray(np.ascontiguousarray(picture))
    return np.asarray(image.resize(size, Image.Resampling.BOX, reducing_gap=3.0))


def turned(picture: Bytes, rotate: int) -> Bytes:
    """`picture` turned clockwise by `rotate` degrees, a multiple of 90."""
    return np.ascontiguousarray(np.rot90(picture, -(rotate // 90)))


def as_picture(image: Image.Image, alt: str, most_bytes: int) -> EncodedPicture:
    """`image` encoded. It may come out with fewer pixels, where it would be too heavy otherwise."""
    media_type, data = encoded(image, most_bytes)
    return EncodedPicture(data, media_type, image.width, image.height, alt)
