"""Faults of paint that lies between grids, behind masks, in slices and in gradients."""

from functools import partial

from pikepdf import Array, Dictionary, Name, Stream

from tests.seeded.colours import separation, separation_definition
from tests.seeded.images import grey_slope, line_art, slope
from tests.seeded.kinds import Told, fault
from tests.seeded.planting import UNIT, Sheet

ink_fault = partial(fault, rules="seed-ink.toml")

registration_fault = partial(fault, "registration-colour", "all-plates")

_INCH = (30.0, 30.0, 55.4, 55.4)
_DARK = "0.9 0.85 0.85 0.9 k"  # 350 %
_ROUNDING = 1.6  # percent: four plates of 256 steps, twice blended


@ink_fault("total-ink", "over-limit")
def ink_in_a_narrow_bar_across_the_millimetres(sheet: Sheet) -> Told:
    """1.3 mm wide, begun at half a millimetre: no whole millimetre of the page's own holds it."""
    sheet.paper(25, 35, 75, 65)
    box = sheet.area(30, 49.5, 70, 50.8, _DARK)
    return Told((350,), "%", within=_ROUNDING, boxes=(box,), close_pt=1)


@ink_fault("total-ink", "over-limit")
def ink_in_a_small_square_across_the_millimetres(sheet: Sheet) -> Told:
    """4.2 mm each way: 17.6 mm2, of which nine whole millimetres of the page's own."""
    sheet.paper(25, 35, 75, 65)
    box = sheet.area(40.5, 45.5, 44.7, 49.7, _DARK)
    return Told((350,), "%", within=_ROUNDING, boxes=(box,), close_pt=1)


@ink_fault("total-ink", "over-limit")
def ink_in_a_slanting_bar(sheet: Sheet) -> Told:
    """2 mm wide and 30 mm long, at thirty degrees."""
    sheet.paper(25, 35, 75, 75)
    sheet.draw(f"{_DARK} q 0.8660254 0.5 -0.5 0.8660254 40 45 cm 0 0 30 2 re f Q")
    return Told((350,), "%", within=_ROUNDING, inside=sheet.box(38.5, 44.5, 66.5, 62.5))


@ink_fault("total-ink", "over-limit")
def ink_in_the_heavy_letters_of_a_headline(sheet: Sheet) -> Told:
    """A rule of four inks beside which letters stand, touching it: one area."""
    sheet.paper(25, 35, 95, 75)
    sheet.area(30.25, 45.25, 80.25, 46.75, _DARK)
    for place in range(5):
        sheet.area(32 + 9 * place, 46.5, 34.5 + 9 * place, 52, _DARK)
    return Told((350,), "%", within=_ROUNDING, inside=sheet.box(30, 45, 80.5, 52.2))


@ink_fault("total-ink", "over-limit")
def ink_in_a_frame_of_more_than_a_millimetre(sheet: Sheet) -> Told:
    sheet.paper(25, 35, 75, 75)
    sheet.draw("0.9 0.85 0.85 0.9 K 1.4 w 35.3 45.3 20 15 re S")
    box = sheet.box(34.6, 44.6, 56, 61)
    return Told((350,), "%", within=_ROUNDING, boxes=(box,), close_pt=1.2)


@fault("image-resolution", "below-floor", "transparency.image-soft-mask", "pdfx-claim.image-soft-mask")
def a_coarse_photo_under_a_fine_soft_mask(sheet: Sheet) -> Told:
    photo = slope(sheet.pdf, 60, 60, SMask=grey_slope(sheet.pdf, 600, 600))
    return Told((60,), "ppi", boxes=(sheet.picture(_INCH, photo),))


@fault("image-resolution", "below-floor")
def a_coarse_photo_cut_out_by_a_fine_mask(sheet: Sheet) -> Told:
    photo = slope(sheet.pdf, 60, 60, Mask=_stencil(sheet, 1200))
    return Told((60,), "ppi", boxes=(sheet.picture(_INCH, photo),))


@fault("image-resolution", "below-floor")
def a_photo_cut_out_by_a_coarse_mask(sheet: Sheet) -> Told:
    """300 ppi, and steps of 50 ppi around it."""
    photo = slope(sheet.pdf, 300, 300, Mask=_stencil(sheet, 50))
    return Told((50,), "ppi", boxes=(sheet.picture(_INCH, photo),))


@fault("image-resolution", "below-floor")
def a_tiny_photo_cut_out_by_a_fine_mask(sheet: Sheet) -> Told:
    photo = slope(sheet.pdf, 12, 12, Mask=_stencil(sheet, 600))
    return Told((12,), "ppi", boxes=(sheet.picture(_INCH, photo),))


@fault("image-resolution", "below-floor")
def a_coarse_photo_in_slices(sheet: Sheet) -> Told:
    """Twenty strips of five rows each, as flattening leaves them: 100 ppi."""
    tall = 25.4 / 20
    for number in range(20):
        low = 30 + number * tall
        sheet.picture((30, low, 55.4, low + tall), slope(sheet.pdf, 100, 5))
    return Told((100,), "ppi", boxes=(sheet.box(*_INCH),))


@fault("image-resolution", "below-floor")
def a_coarse_photo_in_tiles(sheet: Sheet) -> Told:
    """Ten by ten tiles of ten pixels each way."""
    side = 2.54
    for number in range(100):
        left, low = 30 + number % 10 * side, 30 + number // 10 * side
        sheet.picture((left, low, left + side, low + side), slope(sheet.pdf, 10, 10))
    return Told((100,), "ppi", boxes=(sheet.box(*_INCH),))


@fault("image-resolution", "below-floor")
def a_coarse_photo_in_upright_slices(sheet: Sheet) -> Told:
    wide = 25.4 / 20
    for number in range(20):
        left = 30 + number * wide
        sheet.picture((left, 30, left + wide, 55.4), slope(sheet.pdf, 5, 100))
    return Told((100,), "ppi", boxes=(sheet.box(*_INCH),))


@registration_fault("total-ink.over-wanted")  # tiffsep: 22 mm2 over 300 %, 11 over 330 %, too little to count
def a_gradient_in_registration_colour(sheet: Sheet) -> Told:
    space = Array([*separation_definition("All", 0, 0, 0, 1)])
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([0]), C1=Array([0.9]), N=1)
    shading = Dictionary(
        ShadingType=2, ColorSpace=space, Coords=Array([30, 0, 70, 0]), Function=function,
    )  # fmt: skip
    named = sheet.resource("Shading", sheet.pdf.make_indirect(shading))
    sheet.draw(f"30 40 40 3 re W n {named} sh")
    return Told("every plate", boxes=(sheet.box(30, 40, 70, 43),))


@registration_fault("total-ink.over-wanted")  # tiffsep: 22 mm2 over 300 %, 11 over 330 %, too little to count
def a_shape_filled_with_a_gradient_in_registration_colour(sheet: Sheet) -> Told:
    space = Array([*separation_definition("All", 0, 0, 0, 1)])
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([0]), C1=Array([0.9]), N=1)
    shading = Dictionary(
        ShadingType=2, ColorSpace=space, Coords=Array([30, 0, 70, 0]), Function=function,
        Extend=Array([True, True]),
    )  # fmt: skip
    pattern = Dictionary(
        Type=Name.Pattern, PatternType=2, Shading=shading,
        Matrix=Array([UNIT, 0, 0, UNIT, sheet.trim.x0, sheet.trim.y0]),
    )  # fmt: skip
    named = sheet.resource("Pattern", sheet.pdf.make_indirect(pattern))
    sheet.draw(f"/Pattern cs {named} scn 30 40 40 3 re f")
    return Told("every plate", boxes=(sheet.box(30, 40, 70, 43),))


@registration_fault("total-ink.over-limit")  # tiffsep: 125 mm2 over 330 %
def a_grey_photo_in_registration_colour(sheet: Sheet) -> Told:
    space = Array([*separation_definition("All", 0, 0, 0, 1)])
    photo = grey_slope(sheet.pdf, 300, 300, ColorSpace=space)
    return Told("every plate", boxes=(sheet.picture(_INCH, photo),))


@registration_fault()  # its stripes leave 252 % on a square millimetre at the most (tiffsep)
def a_stencil_in_registration_colour(sheet: Sheet) -> Told:
    named = sheet.resource("XObject", _stencil(sheet, 1200))
    space = separation(sheet, "All", 0, 0, 0, 1)
    sheet.draw(f"{space} cs 1 scn 25.4 0 0 25.4 30 30 cm {named} Do")
    return Told("every plate", boxes=(sheet.box(*_INCH),))


@fault("line-width", "thin")
def a_thin_slanting_line_drawn_as_an_area(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 90)
    sheet.draw("0 0 0 1 k 30 40 m 90 80 l 90.028 79.958 l 30.028 39.958 l h f")
    return Told((0.05048 * UNIT,), "pt", within=0.02, boxes=(sheet.box(30, 39.96, 90.03, 80),))


@fault("line-width", "thin")
def a_thin_wedge(sheet: Sheet) -> Told:
    """A triangle of 60 mm whose wide end has 0.06 mm."""
    sheet.paper(20, 30, 120, 90)
    sheet.draw("0 0 0 1 k 30 40 m 90 60 l 89.98 60.0569 l f")
    return Told((0.0603 * UNIT,), "pt", within=0.02, boxes=(sheet.box(30, 40, 90, 60.06),))


@fault("line-width", "thin-in-inks")
def a_turned_strip_in_two_inks(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 90)
    sheet.draw("1 0.8 0 0 k q 0.8 0.6 -0.6 0.8 40 40 cm 0 0 50 0.12 re f Q")
    return Told((0.12 * UNIT,), "pt", boxes=(sheet.box(39.93, 40, 80, 70.1),))


@fault("line-width", "hairline")
def letters_drawn_by_a_hairline(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 45, "Outlined", 36, "1 Tr 0 w 0 0 0 1 K")
    return Told((0,), "pt", inside=sheet.box(25, 35, 120, 65))


@fault("line-width", "thin")
def letters_drawn_by_a_thin_line(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 45, "Outlined", 36, f"1 Tr {0.1 / UNIT} w 0 0 0 1 K")
    return Told((0.1,), "pt", inside=sheet.box(25, 35, 120, 65))


@fault("line-width", "thin")
def white_letters_with_a_thin_outline_on_paper(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 45, "Outlined", 36, f"2 Tr {0.1 / UNIT} w 0 0 0 0 k 0 0 0 1 K")
    return Told((0.1,), "pt", inside=sheet.box(25, 35, 120, 65))


def _stencil(sheet: Sheet, side: int) -> Stream:
    """A mask of one bit: stripes."""
    mask = line_art(sheet.pdf, side, side, ImageMask=True)
    del mask["/ColorSpace"]
    return mask
