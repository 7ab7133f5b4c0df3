"""Raster files laid on a page by hand, and their plates."""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hotfolder.drawing.plates.raster import RasterPlates
from hotfolder.measure.raster import measure_raster
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import FileFacts, Format, Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT
from hotfolder.model.pages import PageBoxes
from hotfolder.model.plates import PagePlates
from hotfolder.model.press import Press
from hotfolder.model.raster import raster_mark
from hotfolder.presses.loading import load_press

FORMATS = {
    ".jpg": Format.JPEG, ".jpeg": Format.JPEG, ".tif": Format.TIFF, ".tiff": Format.TIFF,
    ".png": Format.PNG, ".psd": Format.PSD,
}  # fmt: skip


@cache
def coated() -> Press:
    return load_press("coated")


def measured(path: Path) -> Artwork:
    """The facts of a picture file."""
    form = FORMATS[path.suffix.lower()]
    return measure_raster(path, FileFacts(path.name, path.stat().st_size, "", form))


def placed(artwork: Artwork, px_per_mm: float) -> Artwork:
    """Every page laid at a resolution: `px_per_mm` pixels of the picture to a millimetre."""
    pages = []
    for page in artwork.known_pages:
        assert page.raster is not None
        across, down = page.raster.turned_px
        sheet = Box(0, 0, across / px_per_mm * CELL_PT, down / px_per_mm * CELL_PT)
        pages.append(replace(page, boxes=PageBoxes(media=sheet), marks=(raster_mark(page.raster, sheet),)))
    return replace(artwork, pages=tuple(pages))


def drawn(
    path: Path, *, press: Press | None = None, px_per_mm: float = 6, page: int = 1
) -> PagePlates | Unmeasured:
    """What drawing a page of the picture gives; without `press` nothing can be converted."""
    return RasterPlates(path, placed(measured(path), px_per_mm), press).draw(page)


def plates_of(path: Path, *, press: Press | None = None, px_per_mm: float = 6, page: int = 1) -> PagePlates:
    """The plates of a page of the picture."""
    plates = drawn(path, press=press, px_per_mm=px_per_mm, page=page)
    assert isinstance(plates, PagePlates), plates
    return plates


def means(plates: PagePlates) -> dict[str, float]:
    """The mean of each plate over the sheet, in percent."""
    pixels = plates.sheet.width * plates.sheet.height / plates.frame.pixel_pt**2
    return {name: float(plate.sum(dtype=np.uint64)) / pixels / 2.55 for name, plate in plates.inks.items()}


def cell_means(picture: NDArray[np.integer[Any]], side: int) -> NDArray[np.float64]:
    """Means of squares of `side` pixels; what is left over at the end is left out."""
    rows, columns = picture.shape[0] // side, picture.shape[1] // side
    blocks = picture[: rows * side, : columns * side].reshape(rows, side, columns, side)
    means: NDArray[np.float64] = blocks.mean(axis=(1, 3), dtype=np.float64)
    return means


def worst(shares: Mapping[str, float], wanted: Mapping[str, float]) -> float:
    """The largest difference of two sets of means; an ink that one lacks is 0 there."""
    return max(abs(shares.get(ink, 0.0) - wanted.get(ink, 0.0)) for ink in {*shares, *wanted})
