"""Paint between grids, behind masks, in slices and in gradients that is no fault."""

from functools import partial

from pikepdf import Array, Dictionary, Name, Stream

from tests.seeded.colours import separation, separation_definition
from tests.seeded.images import grey_slope, image, line_art, slope
from tests.seeded.kinds import look_alike
from tests.seeded.planting import UNIT, Sheet

ink_look_alike = partial(look_alike, rules="seed-ink.toml")

_INCH = (30.0, 30.0, 55.4, 55.4)
_DARK = "0.9 0.85 0.85 0.9 k"  # 350 %


@ink_look_alike("total-ink")
def a_dark_bar_of_half_a_millimetre(sheet: Sheet) -> None:
    sheet.paper(25, 35, 75, 65)
    sheet.area(30, 49.5, 70, 50, _DARK)


@ink_look_alike("total-ink")
def a_dark_square_of_less_than_15_mm2(sheet: Sheet) -> None:
    """3.6 mm each way: 13 mm2, which touch 25 millimetres of the page's own."""
    sheet.paper(25, 35, 75, 65)
    sheet.area(40.2, 45.2, 43.8, 48.8, _DARK)


@ink_look_alike("total-ink")
def a_dark_square_of_less_than_15_mm2_on_a_dark_ground(sheet: Sheet) -> None:
    sheet.area(30, 40, 70, 60, "0.9 0.8 0.9 0 k")
    sheet.area(40.2, 45.2, 43.7, 48.7, _DARK)


@ink_look_alike("total-ink")
def dark_squares_that_lie_apart(sheet: Sheet) -> None:
    sheet.paper(25, 35, 75, 65)
    for place in range(5):
        sheet.area(30 + 7 * place, 45.5, 33.4 + 7 * place, 48.9, _DARK)


@ink_look_alike("total-ink")
def a_dark_square_without_opacity(sheet: Sheet) -> None:
    sheet.area(30, 40, 60, 60, f"{sheet.state(ca=0)} {_DARK}")


@look_alike("image-resolution")
def flat_colours_in_a_fine_mask(sheet: Sheet) -> None:
    """As programs write shadows and outlines: the shape is all in the mask."""
    flat = image(sheet.pdf, 20, 20, b"\x40\x00\x20\x00" * 400, ColorSpace=Name.DeviceCMYK)
    flat.Mask = _stencil(sheet, 1200)
    sheet.picture(_INCH, flat)


@look_alike("image-resolution", rules="seed-ink.toml")
def a_photo_with_a_coarse_soft_mask(sheet: Sheet) -> None:
    sheet.picture(_INCH, slope(sheet.pdf, 300, 300, SMask=grey_slope(sheet.pdf, 20, 20)))


@look_alike("image-resolution")
def a_photo_with_a_mask_of_its_own_resolution(sheet: Sheet) -> None:
    sheet.picture(_INCH, slope(sheet.pdf, 300, 300, Mask=_stencil(sheet, 300)))


@look_alike("image-resolution")
def a_fine_photo_in_slices(sheet: Sheet) -> None:
    tall = 25.4 / 60
    for number in range(60):
        low = 30 + number * tall
        sheet.picture((30, low, 55.4, low + tall), slope(sheet.pdf, 300, 5))


@look_alike("image-resolution")
def a_gradient_made_of_a_slice_of_pixels(sheet: Sheet) -> None:
    sheet.picture(_INCH, slope(sheet.pdf, 64, 2))


@look_alike("image-resolution")
def a_picture_that_lacks_a_row(sheet: Sheet) -> None:
    """2550 of the 2551 pixels that 216 mm have at 300 ppi."""
    sheet.picture((40, -3, 43, 213), slope(sheet.pdf, 36, 2550))


@look_alike("image-resolution", rules="seed-ink.toml")
def a_coarse_photo_without_opacity(sheet: Sheet) -> None:
    named = sheet.resource("XObject", slope(sheet.pdf, 20, 20))
    sheet.draw(f"{sheet.state(ca=0)} 25.4 0 0 25.4 30 30 cm {named} Do")


@look_alike("image-resolution", rules="seed-ink.toml")
def a_coarse_photo_that_is_masked_away(sheet: Sheet) -> None:
    mask = image(sheet.pdf, 300, 300, bytes(90_000), ColorSpace=Name.DeviceGray)
    sheet.picture(_INCH, slope(sheet.pdf, 20, 20, SMask=mask))


@look_alike("image-resolution")
def a_coarse_photo_that_a_mask_takes_away(sheet: Sheet) -> None:
    """A 1 in a mask without tones is what is not painted (ISO 32000-2, 8.9.6.3)."""
    mask = image(sheet.pdf, 64, 64, b"\xff" * 512, ImageMask=True, BitsPerComponent=1)
    sheet.picture(_INCH, slope(sheet.pdf, 20, 20, Mask=mask))


@look_alike("registration-colour", rules="seed-ink.toml")
def registration_colour_without_opacity(sheet: Sheet) -> None:
    space = separation(sheet, "All", 0, 0, 0, 1)
    sheet.draw(f"{sheet.state(ca=0)} {space} cs 1 scn 30 40 40 3 re f")


@look_alike("registration-colour")
def registration_colour_that_is_clipped_away(sheet: Sheet) -> None:
    space = Array([*separation_definition("All", 0, 0, 0, 1)])
    named = sheet.resource("XObject", grey_slope(sheet.pdf, 300, 300, ColorSpace=space))
    sheet.draw(f"100 100 10 10 re W n 25.4 0 0 25.4 30 30 cm {named} Do")


@look_alike("registration-colour")
def a_gradient_in_registration_colour_outside_the_bleed(sheet: Sheet) -> None:
    sheet.with_margin(10)
    space = Array([*separation_definition("All", 0, 0, 0, 1)])
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([0]), C1=Array([0.9]), N=1)
    shading = Dictionary(ShadingType=2, ColorSpace=space, Coords=Array([30, 0, 70, 0]), Function=function)
    named = sheet.resource("Shading", sheet.pdf.make_indirect(shading))
    sheet.draw(f"30 -8 40 3 re W n {named} sh")


@look_alike("line-width")
def a_turned_bar_that_is_wide_enough(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 90)
    sheet.draw("0 0 0 1 k q 0.8 0.6 -0.6 0.8 40 40 cm 0 0 50 0.12 re f Q")


@look_alike("line-width")
def slanting_strips_of_which_a_gradient_is_made(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 90)
    strips = "".join(f"{place / 400:.3f} 0 0 0 k 0 {place * 0.05:.3f} 30 0.05 re f " for place in range(200))
    sheet.draw(f"q 0.8 0.6 -0.6 0.8 50 40 cm {strips} Q")


@look_alike("line-width")
def letters_that_are_filled_and_drawn_by_a_thin_line(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 45, "Emboldened", 30, f"2 Tr {0.1 / UNIT} w 0 0 0 1 k 0 0 0 1 K")


@look_alike("line-width")
def letters_that_are_drawn_by_a_line(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 45, "Outlined", 36, f"1 Tr {0.5 / UNIT} w 0 0 0 1 K")


@look_alike("line-width")
def small_slanting_shapes_that_are_no_lines(sheet: Sheet) -> None:
    """Arrow heads and ticks of half a millimetre."""
    sheet.paper(20, 30, 120, 90)
    sheet.draw("0 0 0 1 k 40 40 m 40.5 40.2 l 40.3 40.6 l f 50 40 m 50.6 40.3 l 50.3 40.7 l 49.9 40.3 l f")


@look_alike("line-width", rules="seed-ink.toml")
def a_thin_line_without_opacity(sheet: Sheet) -> None:
    sheet.draw(f"{sheet.state(CA=0)} 0 0 0 1 K 0 w 30 40 m 100 40 l S")


def _stencil(sheet: Sheet, side: int) -> Stream:
    """A mask of one bit: stripes."""
    mask = line_art(sheet.pdf, side, side, ImageMask=True)
    del mask["/ColorSpace"]
    return mask
