"""Faults of size: pages, page boxes, how many and how they lie."""

from pikepdf import Array

from tests.seeded.kinds import Told, fault
from tests.seeded.planting import HEIGHT_MM, UNIT, WIDTH_MM, Sheet, corners


@fault("trim-size", "wrong")
def a_page_five_millimetres_short(sheet: Sheet) -> Told:
    trim = sheet.box(5, 0, WIDTH_MM, HEIGHT_MM)
    sheet.page.obj.TrimBox = corners(trim)
    return Told(sheet.as_seen(143, 210), "mm", within=0.02, boxes=(trim,))


@fault("trim-size", "wrong", "bleed.not-drawn")
def a_page_with_its_bleed_counted_in(sheet: Sheet) -> Told:
    sheet.page.obj.TrimBox = sheet.page.obj.MediaBox = corners(sheet.bleed)
    sheet.page.obj.BleedBox = corners(sheet.bleed)
    return Told(sheet.as_seen(154, 216), "mm", within=0.02, boxes=(sheet.bleed,))


@fault("trim-size", "spread")
def two_pages_side_by_side(sheet: Sheet) -> Told:
    """Twice DL (99 x 210 mm), which is no size of the rule set as a whole."""
    sheet.page.obj.Rotate = 0  # on a turned page they would be one above the other
    trim = sheet.box(0, 0, 198, HEIGHT_MM)
    sheet.page.obj.TrimBox = corners(trim)
    sheet.page.obj.MediaBox = sheet.page.obj.BleedBox = corners(trim.grown(3 * UNIT))
    return Told((198, 210), "mm", within=0.02, boxes=(trim,))


@fault("trim-size", "off")
def a_page_a_hair_too_high(sheet: Sheet) -> Told:
    trim = sheet.box(0, -0.4, WIDTH_MM, HEIGHT_MM)
    sheet.page.obj.TrimBox = corners(trim)
    return Told(sheet.as_seen(148, 210.4), "mm", within=0.02, boxes=(trim,))


@fault("trim-size", "mixed")
def a_back_of_another_size(sheet: Sheet) -> Told:
    """The back is A6 (105 x 148 mm)."""
    back = sheet.copy()
    trim = sheet.box(0, 62, 105, HEIGHT_MM)
    back.page.obj.TrimBox = corners(trim)
    return Told(sheet.as_seen(105, 148), "mm", within=0.02, page=2, boxes=(trim,))


@fault("trim-size", "turned")
def a_back_that_lies_on_its_side(sheet: Sheet) -> Told:
    back = sheet.copy()
    rotate = int(sheet.page.obj.get("/Rotate", 0))
    back.page.obj.Rotate = (rotate + 90) % 360
    is_upright = rotate == 0
    return Told("landscape" if is_upright else "portrait", page=2, boxes=(sheet.trim,))


@fault("page-count", "wrong")
def a_page_too_many(sheet: Sheet) -> Told:
    sheet.copy()
    sheet.copy()
    return Told((3,), "pages", page=None)


@fault("page-boxes", "no-trim-box", "trim-size.inferred", "pdfx-claim.trim-box")
def a_page_without_a_trim_box(sheet: Sheet) -> Told:
    del sheet.page.obj.TrimBox
    return Told("no trim box", boxes=(sheet.trim,))


@fault("page-boxes", "no-trim-box", "trim-size.inferred", "readable.damaged", "pdfx-claim.trim-box")
def a_trim_box_without_extent(sheet: Sheet) -> Told:
    sheet.page.obj.TrimBox = Array([0, 0, 0, 0])
    return Told("no trim box", boxes=(sheet.trim,))


@fault("trim-size", "inferred", "page-boxes.no-trim-box", "pdfx-claim.trim-box")
def a_page_whose_cut_had_to_be_concluded(sheet: Sheet) -> Told:
    del sheet.page.obj.TrimBox
    del sheet.page.obj.BleedBox
    return Told(sheet.as_seen(148, 210), "mm", within=0.02, boxes=(sheet.trim,))


@fault("page-boxes", "two-boxes", "pdfx-claim.trim-and-art-box")
def a_trim_box_and_an_art_box(sheet: Sheet) -> Told:
    art = sheet.box(10, 10, 138, 200)
    sheet.page.obj.ArtBox = corners(art)
    return Told("trim box and art box", boxes=(sheet.trim, art))


@fault("page-boxes", "not-nested", "bleed.box-short", "pdfx-claim.trim-in-bleed")
def a_trim_box_that_reaches_out_of_the_bleed_box(sheet: Sheet) -> Told:
    # Some programs round the sheet to less than the bleed.
    bleed = sheet.box(2, -3, 151, 213).cut_by(sheet.media) or sheet.media
    sheet.page.obj.BleedBox = corners(bleed)
    return Told((2,), "mm", boxes=(sheet.trim, bleed))


@fault("page-boxes", "not-nested", "pdfx-claim.boxes-in-page")
def a_bleed_box_that_reaches_out_of_the_page(sheet: Sheet) -> Told:
    bleed = sheet.trim.grown(8 * UNIT)
    sheet.page.obj.BleedBox = corners(bleed)
    return Told((5,), "mm", within=0.06, boxes=(bleed, sheet.media))


@fault("page-boxes", "crop-in-trim", "pdfx-claim.crop-box", "pdfx-claim.boxes-in-page")
def a_page_cropped_into_its_trim(sheet: Sheet) -> Told:
    crop = sheet.box(-3, -3, 130, 213)
    sheet.page.obj.CropBox = corners(crop)
    return Told((18,), "mm", boxes=(crop,))


@fault("page-boxes", "crop-in-bleed", "pdfx-claim.crop-box")
def a_page_cropped_into_its_bleed(sheet: Sheet) -> Told:
    sheet.page.obj.CropBox = corners(sheet.trim)
    return Told((3,), "mm", within=0.1, boxes=(sheet.trim,))


@fault("page-boxes", "no-bleed-box")
def a_page_without_a_bleed_box(sheet: Sheet) -> Told:
    del sheet.page.obj.BleedBox
    return Told("no bleed box", boxes=(sheet.trim,))


@fault(
    "page-boxes", "user-unit", "pdfx-claim.user-unit", "pdfx-claim.pdf-version", save={"force_version": "1.6"}
)
def a_page_scaled_by_a_factor(sheet: Sheet) -> Told:
    """Everything is halved, and the user unit doubles it again."""
    halve(sheet)
    return Told("2")


@fault("page-boxes", "no-page-size", "readable.damaged", breaks=True)
def a_page_without_a_size(sheet: Sheet) -> Told:
    del sheet.page.obj.MediaBox
    return Told("no page size")


def halve(sheet: Sheet) -> None:
    """Halves boxes and content, and doubles the user unit."""
    page = sheet.page
    page.contents_add(b"q 0.5 0 0 0.5 0 0 cm\n", prepend=True)
    page.contents_add(b"\nQ\n")
    for name in ("/MediaBox", "/BleedBox", "/TrimBox", "/CropBox"):
        if name in page.obj:
            page.obj[name] = Array([round(float(side) / 2, 5) for side in page.obj[name]])
    page.obj.UserUnit = 2
