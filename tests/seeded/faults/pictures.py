"""Faults of pictures: too few pixels, too many, too much compression."""

from pikepdf import Array

from tests.seeded.images import grey_slope, jpeg, line_art, slope
from tests.seeded.kinds import Told, fault
from tests.seeded.planting import Sheet

# 25.4 mm are an inch, so that pixels over an inch are pixels per inch.
_INCH = (30.0, 30.0, 55.4, 55.4)


@fault("image-resolution", "below-floor")
def a_picture_that_was_enlarged(sheet: Sheet) -> Told:
    box = sheet.picture((30, 30, 80.8, 80.8), slope(sheet.pdf, 200, 200))
    return Told((100,), "ppi", boxes=(box,))


@fault("image-resolution", "below-wanted")
def a_picture_of_250_ppi(sheet: Sheet) -> Told:
    return Told((250,), "ppi", boxes=(sheet.picture(_INCH, slope(sheet.pdf, 250, 250)),))


@fault("image-resolution", "below-floor")
def a_picture_that_is_turned_and_enlarged_by_three_matrices(sheet: Sheet) -> Told:
    """An inch of 300 pixels, doubled by its form; turned by 45 degrees about its corner."""
    image = sheet.resource("XObject", slope(sheet.pdf, 300, 300))
    form = sheet.form(f"q 25.4 0 0 25.4 0 0 cm {image} Do Q", Matrix=Array([2, 0, 0, 2, 0, 0]))
    shown = sheet.resource("XObject", form)
    half = 0.70710678
    sheet.draw(f"{half} {half} {-half} {half} 74 10 cm {shown} Do")
    reach = 50.8 * half
    return Told((150,), "ppi", boxes=(sheet.box(74 - reach, 10, 74 + reach, 10 + 2 * reach),))


@fault("image-resolution", "below-floor")
def a_picture_stretched_one_way(sheet: Sheet) -> Told:
    box = sheet.picture((30, 30, 55.4, 106.2), slope(sheet.pdf, 300, 300))
    return Told((100,), "ppi", boxes=(box,))


@fault("image-resolution", "below-floor")
def an_inline_picture(sheet: Sheet) -> Told:
    data = bytes((x * 5 + y * 3) % 256 for y in range(50) for x in range(50))
    coded = data.hex()
    sheet.draw(f"25.4 0 0 25.4 30 30 cm BI /W 50 /H 50 /BPC 8 /CS /G /F /AHx ID {coded}> EI")
    return Told((50,), "ppi", boxes=(sheet.box(*_INCH),))


@fault("image-resolution", "below-floor")
def a_picture_cut_into_strips(sheet: Sheet) -> Told:
    strips = [
        sheet.picture((30, 30 + 12.7 * strip, 80.8, 42.7 + 12.7 * strip), slope(sheet.pdf, 200, 50))
        for strip in range(4)
    ]
    return Told((100,), "ppi", boxes=tuple(strips))


@fault("image-resolution", "below-floor")
def a_picture_of_which_a_frame_shows_a_part(sheet: Sheet) -> Told:
    image = sheet.resource("XObject", slope(sheet.pdf, 200, 200))
    sheet.draw(f"40 40 20 10 re W n 50.8 0 0 50.8 30 30 cm {image} Do")
    return Told((100,), "ppi", boxes=(sheet.box(40, 40, 60, 50),))


@fault("image-resolution", "below-floor")
def a_picture_in_a_pattern(sheet: Sheet) -> Told:
    image = sheet.resource("XObject", slope(sheet.pdf, 100, 100))
    pattern = sheet.cell(f"q 25.4 0 0 25.4 0 0 cm {image} Do Q", 25.4)
    sheet.draw(f"/Pattern cs {pattern} scn 30 30 40 40 re f")
    return Told((100,), "ppi", inside=sheet.box(30, 30, 70, 70))


@fault("image-resolution", "below-floor", "annotations.prints", "pdfx-claim.annotation-on-page")
def a_coarse_picture_in_a_stamp(sheet: Sheet) -> Told:
    image = sheet.resource("XObject", slope(sheet.pdf, 100, 100))
    box = sheet.annotate("Stamp", _INCH, F=4, AP=sheet.looks(f"10 0 0 10 0 0 cm {image} Do"))
    return Told((100,), "ppi", within=1, boxes=(box,))


@fault("image-resolution", "below-floor")
def a_coarse_picture_on_the_back(sheet: Sheet) -> Told:
    back = sheet.copy()
    return Told((100,), "ppi", page=2, boxes=(back.picture(_INCH, slope(sheet.pdf, 100, 100)),))


@fault("image-resolution", "below-floor")
def a_picture_used_once_fine_and_once_coarse(sheet: Sheet) -> Told:
    image = slope(sheet.pdf, 300, 300)
    sheet.picture(_INCH, image)
    return Told((100,), "ppi", boxes=(sheet.picture((60, 20, 136.2, 96.2), image),))


@fault("image-resolution", "below-floor", "transparency.image-soft-mask", "pdfx-claim.image-soft-mask")
def a_picture_with_a_coarse_soft_mask(sheet: Sheet) -> Told:
    mask = grey_slope(sheet.pdf, 50, 50)
    return Told((100,), "ppi", boxes=(sheet.picture(_INCH, slope(sheet.pdf, 100, 100, SMask=mask)),))


@fault("image-resolution", "line-art-below-floor")
def line_art_of_400_ppi(sheet: Sheet) -> Told:
    return Told((400,), "ppi", boxes=(sheet.picture(_INCH, line_art(sheet.pdf, 400, 400)),))


@fault("image-resolution", "line-art-below-wanted")
def line_art_of_800_ppi(sheet: Sheet) -> Told:
    return Told((800,), "ppi", boxes=(sheet.picture(_INCH, line_art(sheet.pdf, 800, 800)),))


@fault("image-resolution", "line-art-below-floor")
def a_stencil_of_300_ppi(sheet: Sheet) -> Told:
    stencil = line_art(sheet.pdf, 300, 300, ImageMask=True)
    del stencil["/ColorSpace"]
    named = sheet.resource("XObject", stencil)
    sheet.draw(f"0 0 0 1 k 25.4 0 0 25.4 30 30 cm {named} Do")
    return Told((300,), "ppi", boxes=(sheet.box(*_INCH),))


@fault("image-weight", "heavy")
def a_picture_of_1200_ppi(sheet: Sheet) -> Told:
    return Told((1200,), "ppi", boxes=(sheet.picture(_INCH, grey_slope(sheet.pdf, 1200, 1200)),))


@fault("image-weight", "line-art-heavy")
def line_art_of_5000_ppi(sheet: Sheet) -> Told:
    box = sheet.picture((30, 30, 42.7, 42.7), line_art(sheet.pdf, 2500, 2500))
    return Told((5000,), "ppi", boxes=(box,))


@fault("jpeg-quality", "low")
def a_picture_compressed_too_hard(sheet: Sheet) -> Told:
    return Told((20,), "of 100", within=2, boxes=(sheet.picture(_INCH, jpeg(sheet.pdf, 300, 300, 20)),))
