"""Edges that look wrong and are not."""

from pikepdf import Dictionary, Name

from tests.seeded.faults.edges import gradient, white_frame
from tests.seeded.images import image
from tests.seeded.kinds import look_alike
from tests.seeded.planting import Sheet


@look_alike("bleed")
def a_gradient_that_ends_with_the_bleed(sheet: Sheet) -> None:
    """It does not extend, and need not."""
    sheet.draw(f"{gradient(sheet, -3, 50, 151, 50)} sh")


@look_alike("bleed")
def a_gradient_that_ends_well_inside_the_cut(sheet: Sheet) -> None:
    sheet.clip(20, 20, 128, 190)
    sheet.draw(f"{gradient(sheet, 20, 50, 128, 50)} sh")


@look_alike("bleed")
def a_pattern_of_squares_that_runs_on(sheet: Sheet) -> None:
    """Its squares end at the cut here and there, as its tiles fall."""
    sheet.clip(20, 20, 128, 190)
    cell = sheet.cell("0.1 0.6 0 0 k 0.5 0.5 4 4 re f 0.4 0 0 0 k 0 0 2 5 re f", 5)
    sheet.draw(f"/Pattern cs {cell} scn -3 20 60 100 re f")


@look_alike("bleed", rules="seed-ink.toml")
def an_area_through_a_soft_mask_that_ends_four_tenths_short(sheet: Sheet) -> None:
    """0.5 mm less than wanted will do."""
    sheet.clip(20, 20, 128, 190)
    group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    mask = Dictionary(S=Name.Luminosity, G=sheet.form("1 g -2.6 20 60 100 re f", Group=group))
    sheet.draw(f"{sheet.state(SMask=mask)} 0.1 0.6 0 0 k -3 -3 154 216 re f")


@look_alike("bleed")
def a_photo_of_something_on_white_that_ends_at_the_cut(sheet: Sheet) -> None:
    """Its last 8 mm are white, and it stops a hundredth of a millimetre inside the cut: no ink ends there."""
    sheet.clip(20, 20, 128, 190)
    row = bytes([0, 80, 120, 0] * 600 + [0, 0, 0, 0] * 100)
    sheet.picture(
        (88.8, 60, 147.99, 110.8), image(sheet.pdf, 700, 600, row * 600, ColorSpace=Name.DeviceCMYK)
    )


@look_alike("bleed")
def a_photo_with_a_white_rim_that_ends_a_millimetre_inside_the_cut(sheet: Sheet) -> None:
    """It fills the page as far as boxes tell; its own rim of 10 mm is white."""
    sheet.paper(-4, -4, 152, 214)
    bare, inked = b"\xff" * 1730, b"\xff" * 120 + b"\x60\x80" * 745 + b"\xff" * 120
    rows = bare * 120 + inked * 2220 + bare * 120
    sheet.picture((1, 1, 147, 209), image(sheet.pdf, 1730, 2460, rows, ColorSpace=Name.DeviceGray))


@look_alike("bleed")
def a_ground_that_a_white_frame_leaves_as_a_border_of_five_millimetres(sheet: Sheet) -> None:
    """A border that is meant, wide enough to be cut evenly."""
    sheet.area(-3, -3, 151, 213, "0.6 0.2 0 0 k")
    sheet.draw(white_frame(5))


@look_alike("bleed")
def a_white_line_a_millimetre_inside_the_cut_on_a_ground_that_runs_on(sheet: Sheet) -> None:
    sheet.area(-3, -3, 151, 213, "0.6 0.2 0 0 k")
    sheet.draw("0 0 0 0 K 0.6 w 1 1 146 208 re S")
