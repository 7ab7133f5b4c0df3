# The grid that plates are drawn on: cells of a millimetre that begin at a corner of the trim.

import math

import pytest

from hotfolder.drawing.plates.frames import Laid, lay_frame
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT
from hotfolder.model.pages import Page, PageBoxes, Trim, TrimOrigin


def mm_box(x0: float, y0: float, x1: float, y1: float) -> Box:
    return Box(*(side * CELL_PT for side in (x0, y0, x1, y1)))


def page_of(sheet: Box | None, trim: Box | None = None) -> Page:
    known = Unmeasured("trim", "none") if trim is None else Trim(trim, TrimOrigin.TRIM_BOX)
    return Page(1, 0, 1.0, PageBoxes(media=sheet), known, ())


def laid(sheet: Box, trim: Box | None = None) -> Laid:
    laid_frame = lay_frame(page_of(sheet, trim))
    assert isinstance(laid_frame, Laid)
    return laid_frame


SHEETS = [
    (mm_box(0, 0, 154, 216), mm_box(3, 3, 151, 213)),
    (mm_box(-10.2, 7.7, 95.4, 71.68), mm_box(-0.2, 17.7, 85.4, 61.68)),
    (Box(0, 0, 612, 792), Box(9, 9, 603, 783)),
    (mm_box(0, 0, 100, 100), mm_box(-5, -5, 105.5, 105.5)),  # a trim larger than its sheet
]


@pytest.mark.parametrize(("sheet", "trim"), SHEETS)
def test_the_top_left_corner_of_the_trim_is_one_of_a_cell(sheet: Box, trim: Box) -> None:
    frame = laid(sheet, trim).frame
    for cells in ((trim.x0 - frame.left) / CELL_PT, (frame.top - trim.y1) / CELL_PT):
        assert cells == pytest.approx(round(cells), abs=1e-6)


@pytest.mark.parametrize(("sheet", "trim"), [*SHEETS, *((sheet, None) for sheet, _ in SHEETS)])
def test_the_frame_holds_the_sheet_and_less_than_a_cell_around_it(sheet: Box, trim: Box | None) -> None:
    frame = laid(sheet, trim).frame
    assert frame.box.holds(sheet, tolerance=1e-6)
    assert sheet.grown(CELL_PT).holds(frame.box, tolerance=1e-6)
    assert frame.width_px % frame.px_per_mm == frame.height_px % frame.px_per_mm == 0


@pytest.mark.parametrize(
    ("width_mm", "height_mm", "px_per_mm", "nearly"),
    [
        (91, 61, 6, False),  # a card
        (154, 216, 6, False),  # A5 with bleed
        (216, 303, 3, False),  # A4 with bleed
        (1000, 1400, 3, False),
        (2400, 3000, 2, True),
        (4000, 6000, 1, True),
    ],
)
def test_large_sheets_are_drawn_less_finely_and_say_so(
    width_mm: float, height_mm: float, px_per_mm: int, *, nearly: bool
) -> None:
    laid_frame = laid(mm_box(0, 0, width_mm, height_mm))
    assert laid_frame.frame.px_per_mm == px_per_mm
    assert (laid_frame.approximate != ()) is nearly
    assert laid_frame.frame.width_px * laid_frame.frame.height_px <= 40_000_000


def test_what_has_no_size_or_no_end_has_no_frame() -> None:
    endless = Box(0, 0, math.inf, math.inf)
    for sheet in (None, Box(0, 0, 0, 100), mm_box(0, 0, 10_000, 10_000), endless):
        assert isinstance(lay_frame(page_of(sheet)), Unmeasured)
