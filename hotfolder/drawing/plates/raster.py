"""Raster files as plates: a picture's colours made into inks and laid where it lies on the page.

Colours are converted first and averaged then, in ink, as a press does it. Only pictures of very many
pixels are reduced a little before that, to twice the plates' resolution at the least: that is what keeps a
large poster quick, and moves the mean of a plate by less than a point in the sharpest photo. Nothing is
ever held whole but the plates. Inks are as delivered in CMYK and grey pictures; a profile counts for colours
that are none.
"""

import math
import time
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Final

import numpy as np

from hotfolder.colour.conversions import conversions_for
from hotfolder.drawing.grid.area_mean import GridSpan, area_mean
from hotfolder.drawing.plates.frames import Laid, lay_frame
from hotfolder.drawing.plates.raster_inks import RasterInks
from hotfolder.errors import NotDrawnError, TimeIsUpError
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Format, ProblemKind, Unmeasured
from hotfolder.model.pages import Page
from hotfolder.model.plates import Bytes, PagePlates
from hotfolder.model.press import Press
from hotfolder.model.raster import RasterFacts
from hotfolder.raster.strips.psd import psd_source
from hotfolder.raster.strips.strips import RasterSource
from hotfolder.raster.strips.vips import vips_source

# How many pixels are converted, where a picture can spare some, and how much finer than plates it then
# stays at the least.
_MANY_PIXELS: Final = 16_000_000
_FINER: Final = 2

# What is missing of a picture would look like bare paper or grey, and be no fact.
_DAMAGE: Final = frozenset({ProblemKind.UNREADABLE, ProblemKind.DAMAGED})

# Exif orientation (CIPA DC-008, tag 0x0112): whether rows and columns are exchanged, and then whether the
# picture is seen mirrored from left to right, and from top to bottom.
_TURNS: Final = {
    1: (False, False, False), 2: (False, True, False), 3: (False, True, True), 4: (False, False, True),
    5: (True, False, False), 6: (True, True, False), 7: (True, True, True), 8: (True, False, True),
}  # fmt: skip


class RasterPlates:
    """The plates of a raster file's pages, for each of which the file is opened anew.

    until: the processor time of this process at which the picture in hand is given up.
    """

    def __init__(self, path: Path, artwork: Artwork, press: Press | None, until: float = math.inf) -> None:
        self._path, self._until = path, until
        self._form = artwork.file.format
        self._pages = {page.number: page for page in artwork.known_pages}
        self._damaged = {
            problem.where: problem.what for problem in artwork.problems if problem.kind in _DAMAGE
        }
        self._conversions = conversions_for(press)

    def draw(self, page_number: int) -> PagePlates | Unmeasured:
        """The plates of a page, or why there are none. KeyError for a page that the artwork lacks."""
        page = self._pages[page_number]
        if isinstance(page.marks, Unmeasured):
            return Unmeasured("ink", page.marks.reason)
        damage = self._damaged.get(f"pages[{page_number}].images[1]")
        if damage is not None:
            return Unmeasured("ink", damage)
        laid = lay_frame(page)
        if isinstance(laid, Unmeasured):
            return laid
        if page.raster is None or self._form is None:
            return Unmeasured("ink", "the page is not a picture")
        try:
            return self._plates(page, page.raster, self._form, laid)
        except NotDrawnError as trouble:
            return Unmeasured("ink", f"the plates of the picture could not be drawn: {trouble.reason}")

    def _plates(self, page: Page, raster: RasterFacts, form: Format, laid: Laid) -> PagePlates:
        factor = _factor(raster, laid)
        if form is Format.PSD:
            source = psd_source(self._path, raster, factor, self._conversions)
        else:
            source = vips_source(self._path, form, raster, page.number, factor, self._conversions)
        inks = RasterInks(source, self._conversions)
        grid = _on_frame(inks, source, raster.orientation, laid, self._until)
        plates: dict[str, Bytes] = {}
        for place, name in enumerate(inks.names):
            plate = np.ascontiguousarray(grid[..., place])
            plates[name] = np.maximum(plates[name], plate) if name in plates else plate
        screen = np.ascontiguousarray(255 - grid[..., -3:]) if inks.shown else None
        return PagePlates(
            page=page.number,
            sheet=laid.sheet,
            frame=laid.frame,
            inks=plates,
            looks=source.looks or {},
            screen=screen,
            approximate=laid.approximate + source.approximate,
        )


def _factor(raster: RasterFacts, laid: Laid) -> int:
    """By how much the picture is reduced before its colours are converted, in whole pixels each way."""
    across, down = raster.turned_px
    pixel = laid.frame.pixel_pt
    finer = min(across * pixel / laid.sheet.width, down * pixel / laid.sheet.height)
    wanted = math.ceil(math.sqrt(across * down / _MANY_PIXELS))
    return max(1, min(wanted, int(finer / _FINER)))


def _in_time(strips: Iterable[Bytes], until: float) -> Iterator[Bytes]:
    """The strips, up to the processor time at which the picture is given up."""
    for strip in strips:
        if time.process_time() > until:
            raise TimeIsUpError
        yield strip


def _on_frame(inks: RasterInks, source: RasterSource, orientation: int, laid: Laid, until: float) -> Bytes:
    """The converted picture on the page's frame, upright: shape (height_px, width_px, channels)."""
    frame, sheet = laid.frame, laid.sheet
    x = ((sheet.x0 - frame.left) / frame.pixel_pt, (sheet.x1 - frame.left) / frame.pixel_pt)
    y = ((frame.top - sheet.y1) / frame.pixel_pt, (frame.top - sheet.y0) / frame.pixel_pt)
    swapped, mirrored, upturned = _TURNS.get(orientation, _TURNS[1])
    if mirrored:
        x = (frame.width_px - x[1], frame.width_px - x[0])
    if upturned:
        y = (frame.height_px - y[1], frame.height_px - y[0])
    if swapped:
        across = GridSpan(*y, source.width_px, frame.height_px)
        down = GridSpan(*x, source.height_px, frame.width_px)
    else:
        across = GridSpan(*x, source.width_px, frame.width_px)
        down = GridSpan(*y, source.height_px, frame.height_px)
    grid = area_mean(_in_time(inks.strips(), until), across, down, inks.channels)
    if swapped:
        grid = grid.swapaxes(0, 1)
    return grid[:: -1 if upturned else 1, :: -1 if mirrored else 1]
