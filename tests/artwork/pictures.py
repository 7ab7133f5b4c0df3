"""Raster files that were placed at a product's size, or could not be."""

from dataclasses import replace

from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import ColourKind, ColourSpace
from hotfolder.model.facts import FileFacts, Format, Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page, PageBoxes, Trim, TrimOrigin
from hotfolder.model.raster import RasterFacts, raster_mark
from hotfolder.units import Size, mm_to_pt

CMYK = ColourSpace("CMYK", ColourKind.CMYK, 4)
RGB = ColourSpace("RGB", ColourKind.RGB, 3)

_FILE = FileFacts(name="poster.tif", bytes=40_000_000, sha256="1" * 64, format=Format.TIFF)


def raster(
    px: tuple[int, int], *, declared_ppi: float | None = None, colour: ColourSpace = CMYK
) -> RasterFacts:
    """The header of a picture."""
    return RasterFacts(
        width_px=px[0],
        height_px=px[1],
        bits=8,
        colour=colour,
        x_ppi=declared_ppi,
        y_ppi=declared_ppi,
        resolution_origin=None,
        compression="LZW",
    )


def placed(facts: RasterFacts, size: Size, bleed_mm: float, note: str = "") -> Artwork:
    """The picture laid over `size` and its bleed."""
    canvas = size.grown(mm_to_pt(bleed_mm))
    media = Box(0, 0, canvas.width, canvas.height)
    trim = Trim(media.grown(-mm_to_pt(bleed_mm)), TrimOrigin.CANVAS, note)
    page = Page(1, 0, 1.0, PageBoxes(media), trim, (raster_mark(facts, media),), raster=facts)
    return Artwork(_FILE, (page,))


def unplaced(facts: RasterFacts, reason: str) -> Artwork:
    """The picture where nobody can tell how large it will be printed."""
    page = Page(
        1, 0, 1.0, PageBoxes(None), Unmeasured("trim", reason), Unmeasured("marks", reason), raster=facts
    )
    return Artwork(_FILE, (page,))


def with_format(piece: Artwork, file_format: Format, name: str) -> Artwork:
    """The same facts as another kind of file."""
    return replace(piece, file=replace(piece.file, format=file_format, name=name))
