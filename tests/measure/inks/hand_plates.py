"""Plates put together by hand: boxes laid on a frame by the exact share of each pixel that they cover."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from hotfolder.drawing.plates.frames import Laid, lay_frame
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT
from hotfolder.model.pages import Page, PageBoxes, Trim, TrimOrigin
from hotfolder.model.plates import Bytes, PagePlates, PlateFrame

Share = NDArray[np.float64]


def mm_box(x0: float, y0: float, x1: float, y1: float) -> Box:
    """A box in millimetres."""
    return Box(*(side * CELL_PT for side in (x0, y0, x1, y1)))


def page_of(sheet: Box, trim: Box | None) -> Page:
    """A page of which only the boxes matter."""
    known = Unmeasured("trim", "it declares none") if trim is None else Trim(trim, TrimOrigin.TRIM_BOX)
    return Page(1, 0, 1.0, PageBoxes(media=sheet), known, ())


def laid(page: Page) -> Laid:
    """The page's sheet and frame."""
    laid_frame = lay_frame(page)
    assert isinstance(laid_frame, Laid)
    return laid_frame


def share(frame: PlateFrame, box: Box) -> Share:
    """The share of each pixel that `box` covers."""
    columns = _overlap(
        frame.width_px, (box.x0 - frame.left) / frame.pixel_pt, (box.x1 - frame.left) / frame.pixel_pt
    )
    rows = _overlap(
        frame.height_px, (frame.top - box.y1) / frame.pixel_pt, (frame.top - box.y0) / frame.pixel_pt
    )
    covered: Share = rows[:, None] * columns[None, :]
    return covered


def _overlap(count: int, start: float, stop: float) -> Share:
    numbers = np.arange(count)
    overlap: Share = np.clip(np.minimum(stop, numbers + 1) - np.maximum(start, numbers), 0, 1)
    return overlap


def painted(frame: PlateFrame, *boxes: tuple[Box, float]) -> Bytes:
    """A plate: boxes laid over one another, each with its percentage of ink, edges smoothed."""
    plate = np.zeros((frame.height_px, frame.width_px))
    for box, percent in boxes:
        part = share(frame, box)
        plate = plate * (1 - part) + percent / 100 * part
    inked: Bytes = np.rint(plate * 255).astype(np.uint8)
    return inked


def plates_of(
    page: Page,
    inks: Mapping[str, Bytes],
    *,
    screen: Bytes | None = None,
    looks: Mapping[str, tuple[float, float, float]] | None = None,
) -> PagePlates:
    """The plates of `page`."""
    laid_frame = laid(page)
    return PagePlates(page.number, laid_frame.sheet, laid_frame.frame, inks, looks or {}, screen)
