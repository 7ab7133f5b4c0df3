"""Faults of size and edges that are easily taken for something else, or for nothing."""

from pikepdf import Array

from tests.seeded.kinds import Told, fault
from tests.seeded.planting import UNIT, Sheet, corners

_UNCUT = ("page-boxes.no-trim-box", "pdfx-claim.untrue")


@fault("trim-size", "wrong", *_UNCUT, breaks=True)
def a_page_of_letter_size_that_does_not_say_where_it_is_cut(sheet: Sheet) -> Told:
    """8.5 x 11 in (ASME Y14.1), as an office program writes it: a page and no other box."""
    page = sheet.page.obj
    del page.TrimBox, page.BleedBox
    low = sheet.trim
    page.MediaBox = Array([low.x0, low.y0, low.x0 + 612, low.y0 + 792])
    if "/CropBox" in page:
        del page.CropBox
    return Told((215.9, 279.4), "mm", within=0.02, inside=low.grown(500))


@fault("trim-size", "unknown", *_UNCUT, "page-boxes.crop-in-trim", breaks=True)
def a_page_of_one_size_that_shows_another_and_has_no_trim(sheet: Sheet) -> Told:
    """A sheet of A4 cropped to A5: both are taken here, and nothing says which is meant."""
    page = sheet.page.obj
    del page.TrimBox, page.BleedBox
    page.MediaBox = corners(sheet.box(-10, -10, 200, 287))
    page.CropBox = corners(sheet.trim)
    return Told("not known")


@fault("trim-size", "inferred", *_UNCUT)
def a_page_with_more_bleed_than_wanted_that_does_not_say_where_it_is_cut(sheet: Sheet) -> Told:
    """5 mm on every side, where 3 mm are wanted."""
    page = sheet.page.obj
    del page.TrimBox, page.BleedBox
    if "/CropBox" in page:
        del page.CropBox
    page.MediaBox = corners(sheet.trim.grown(5 * UNIT))
    return Told((148, 210), "mm", within=0.02, boxes=(sheet.trim,))
