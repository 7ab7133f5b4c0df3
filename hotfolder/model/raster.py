"""What the header of a picture file declared; such a file is a page with one image."""

from dataclasses import dataclass
from enum import StrEnum

from hotfolder.model.colour import Colour, ColourSpace
from hotfolder.model.geometry import Box
from hotfolder.model.marks import ImageFacts, Mark, MarkKind, Masking, Source, effective_ppi


class ResolutionOrigin(StrEnum):
    """Which part of a raster file's header declared its resolution."""

    JFIF = "JFIF"
    EXIF = "Exif"
    PHOTOSHOP = "image resource"
    TIFF = "TIFF"
    PHYS = "pHYs"


@dataclass(frozen=True, slots=True)
class RasterFacts:
    """What the header of a raster file declares.

    width_px, height_px: as stored; `orientation` (Exif, 1 to 8) is not applied.
    bits: per channel. colour.family is the mode: bitmap, grey, indexed, RGB, CMYK, Lab,
        multichannel, duotone.
    x_ppi, y_ppi: declared resolution; None where none is declared.
    extra_channels: channels beyond those of the colour (alpha, saved selections, spot inks).
    alpha_opaque: the alpha channel is known to be opaque in every pixel.
    layers: number of layers kept beside the flat picture.
    flat_picture_valid: False where a layered file was saved without a usable flat picture.
    icc_space: colour space signature in the embedded profile (`CMYK`, `RGB`, `GRAY`).
    jpeg_quality: as in `ImageFacts`.
    """

    width_px: int
    height_px: int
    bits: int
    colour: ColourSpace
    x_ppi: float | None
    y_ppi: float | None
    resolution_origin: ResolutionOrigin | None
    compression: str
    orientation: int = 1
    icc_profile: str | None = None
    icc_space: str | None = None
    alpha: bool = False
    extra_channels: int = 0
    layers: int = 0
    flat_picture_valid: bool = True
    pictures: int = 1
    progressive: bool = False
    jpeg_quality: int | None = None
    alpha_opaque: bool = False

    @property
    def turned_px(self) -> tuple[int, int]:
        """Width and height in pixels as the picture is meant to be seen."""
        if self.orientation in {5, 6, 7, 8}:
            return self.height_px, self.width_px
        return self.width_px, self.height_px


def raster_mark(raster: RasterFacts, box: Box) -> Mark:
    """The mark that a raster file's picture makes when it is laid over `box`, the page as it is seen.

    Its resolution is along the picture's own axes, as stored; orientations 5 to 8 turn these.
    """
    turned = raster.orientation in {5, 6, 7, 8}
    across, down = (box.height, box.width) if turned else (box.width, box.height)
    image = ImageFacts(
        object=None,
        width_px=raster.width_px,
        height_px=raster.height_px,
        bits=raster.bits,
        colour=raster.colour,
        filters=(raster.compression,),
        x_ppi=effective_ppi(raster.width_px, across),
        y_ppi=effective_ppi(raster.height_px, down),
        masking=Masking.SOFT if raster.alpha else Masking.NONE,
    )
    return Mark(MarkKind.IMAGE, box, box, Source("picture file"), fill=Colour(raster.colour), image=image)
