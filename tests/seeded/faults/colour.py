"""Faults of colour: what a press cannot print as it is, inks too many, and inks in the wrong places."""

from pikepdf import Array, Dictionary, Name, String

from tests.seeded.colours import lab, separation, several_inks, srgb
from tests.seeded.images import grey_slope, screen_slope
from tests.seeded.kinds import Told, fault
from tests.seeded.planting import Sheet

_AREA = (30.0, 40.0, 70.0, 60.0)
_INCH = (30.0, 30.0, 55.4, 55.4)
_BLUE = "0.6 0.2 0 0 k"
# On pages that claim PDF/X-1a, and on those that claim PDF/X-3.
_FORBIDDEN_RGB, _UNPROFILED = "pdfx-claim.rgb-colour", "pdfx-claim.device-colour"
_RGB = (_FORBIDDEN_RGB, _UNPROFILED)
_INDEPENDENT, _NO_OUTPUT = "pdfx-claim.device-independent-colour", "pdfx-claim.output-profile-for-colours"
_PROFILED = (_INDEPENDENT, _NO_OUTPUT)
_NEW_PROFILE = "pdfx-claim.profile-version"  # that of the screen is of version 4


@fault("colour-spaces", "forbidden", *_RGB)
def an_area_in_screen_colours(sheet: Sheet) -> Told:
    return Told("RGB", boxes=(sheet.area(*_AREA, "1 0.2 0 rg"),))


@fault("colour-spaces", "forbidden", *_RGB)
def a_line_in_screen_colours(sheet: Sheet) -> Told:
    sheet.draw("1 0.2 0 RG 1 w 30 40 m 70 40 l S")
    return Told("RGB", boxes=(sheet.box(30, 39.5, 70, 40.5),))


@fault("colour-spaces", "forbidden", *_PROFILED)
def an_area_in_lab(sheet: Sheet) -> Told:
    return Told("Lab", boxes=(sheet.area(*_AREA, f"{lab(sheet)} cs 60 40 20 sc"),))


@fault("colour-spaces", "forbidden", *_PROFILED, _NEW_PROFILE)
def a_picture_with_a_screen_profile(sheet: Sheet) -> Told:
    space = sheet.known("ColorSpace", srgb(sheet))
    return Told("RGB", boxes=(sheet.picture(_INCH, screen_slope(sheet.pdf, 300, 300, ColorSpace=space)),))


@fault("colour-spaces", "forbidden", *_RGB)
def an_indexed_picture_of_screen_colours(sheet: Sheet) -> Told:
    table = bytes(part for index in range(256) for part in (index, 255 - index, 40))
    space = Array([Name.Indexed, Name.DeviceRGB, 255, String(table)])
    return Told("RGB", boxes=(sheet.picture(_INCH, grey_slope(sheet.pdf, 300, 300, ColorSpace=space)),))


@fault("colour-spaces", "forbidden", *_RGB)
def a_gradient_in_screen_colours(sheet: Sheet) -> Told:
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([1, 0, 0]), C1=Array([0, 0, 1]), N=1)
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceRGB, Coords=Array([30, 0, 70, 0]), Function=function,
        Extend=Array([True, True]),
    )  # fmt: skip
    named = sheet.resource("Shading", shading)
    sheet.draw(f"30 40 40 20 re W n {named} sh")
    return Told("RGB", boxes=(sheet.box(*_AREA),))


@fault("colour-spaces", "forbidden", _FORBIDDEN_RGB, _NO_OUTPUT, _NEW_PROFILE)
def an_area_in_screen_colours_with_a_default_profile(sheet: Sheet) -> Told:
    """The form's default space gives its RGB a profile, which makes it no ink."""
    space = sheet.known("ColorSpace", srgb(sheet))
    form = sheet.form("1 0.2 0 rg 30 40 40 20 re f", Dictionary(ColorSpace=Dictionary(DefaultRGB=space)))
    sheet.draw(f"{sheet.resource('XObject', form)} Do")
    return Told("RGB", boxes=(sheet.box(*_AREA),))


@fault("colour-spaces", "forbidden", *_PROFILED)
def calibrated_screen_colour(sheet: Sheet) -> Told:
    space = sheet.space(Name.CalRGB, Dictionary(WhitePoint=Array([0.9505, 1, 1.089])))
    return Told("RGB", boxes=(sheet.area(*_AREA, f"{space} cs 1 0 0 sc"),))


@fault("colour-spaces", "forbidden", *_RGB, "fonts.drawn")
def screen_colour_in_a_drawn_letter(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    font = sheet.drawn_font("Seed-Coloured", "30 0 d0 1 0 0 rg 0 0 30 30 re f")
    sheet.draw(f"BT 0 0 0 1 k {font} 10 Tf 30 45 Td (A) Tj ET")
    return Told("RGB", boxes=(sheet.box(30, 45, 40, 55),))


@fault("spot-colours", "too-many")
def an_ink_more(sheet: Sheet) -> Told:
    space = separation(sheet, "Lantern Red", 0, 0.9, 0.8, 0)
    return Told((1,), "spot colours", boxes=(sheet.area(*_AREA, f"{space} cs 0.8 scn"),))


@fault("spot-colours", "too-many")
def an_ink_more_among_several(sheet: Sheet) -> Told:
    space = several_inks(sheet, "Black", "Lantern Red")
    return Told((1,), "spot colours", boxes=(sheet.area(*_AREA, f"{space} cs 0.2 0.8 scn"),))


@fault("spot-colours", "too-many")
def a_gradient_in_an_ink_more(sheet: Sheet) -> Told:
    space = sheet.known("ColorSpace", separation(sheet, "Lantern Red", 0, 0.9, 0.8, 0))
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([0]), C1=Array([1]), N=1)
    shading = Dictionary(ShadingType=2, ColorSpace=space, Coords=Array([30, 0, 70, 0]), Function=function)
    sheet.draw(f"30 40 40 20 re W n {sheet.resource('Shading', shading)} sh")
    return Told((1,), "spot colours", boxes=(sheet.box(*_AREA),))


@fault("spot-colours", "too-many")
def a_pattern_laid_down_in_an_ink_more(sheet: Sheet) -> Told:
    ink = sheet.known("ColorSpace", separation(sheet, "Lantern Red", 0, 0.9, 0.8, 0))
    space, pattern = sheet.space(Name.Pattern, ink), sheet.cell("0 0 5 5 re f", 10, coloured=False)
    sheet.draw(f"{space} cs 0.8 {pattern} scn 30 40 40 20 re f")
    return Told((1,), "spot colours", inside=sheet.box(*_AREA))


@fault("spot-colours", "too-many")
def a_picture_in_an_ink_more(sheet: Sheet) -> Told:
    space = sheet.known("ColorSpace", separation(sheet, "Lantern Red", 0, 0.9, 0.8, 0))
    return Told(
        (1,), "spot colours", boxes=(sheet.picture(_INCH, grey_slope(sheet.pdf, 300, 300, ColorSpace=space)),)
    )


@fault("spot-colours", "not-agreed", rules="seed-other.toml")
def another_ink_than_the_one_agreed(sheet: Sheet) -> Told:
    agreed, other = (separation(sheet, ink, 0, 0.9, 0.8, 0) for ink in ("Lantern Red", "Lamp Green"))
    sheet.area(80, 40, 120, 60, f"{agreed} cs 1 scn")
    return Told("Lamp Green", boxes=(sheet.area(*_AREA, f"{other} cs 1 scn"),))


@fault("spot-colours", "alike", "spot-colours.too-many")
def one_ink_under_two_names(sheet: Sheet) -> Told:
    one, other = (separation(sheet, ink, 0, 0.9, 0.8, 0) for ink in ("Lantern Red", "LANTERN RED C"))
    boxes = sheet.area(*_AREA, f"{one} cs 1 scn"), sheet.area(80, 40, 120, 60, f"{other} cs 1 scn")
    return Told("'Lantern Red' and 'LANTERN RED C'", boxes=boxes)


@fault("spot-colours", "process-ink")
def a_process_ink_as_a_spot_ink(sheet: Sheet) -> Told:
    space = separation(sheet, "Process Magenta", 0, 1, 0, 0)
    return Told("'Process Magenta'", boxes=(sheet.area(*_AREA, f"{space} cs 1 scn"),))


@fault("spot-colours", "two-looks", "spot-colours.too-many", "pdfx-claim.spot-alternate")
def one_ink_with_two_looks(sheet: Sheet) -> Told:
    one, other = separation(sheet, "Lantern", 0, 0.9, 0.8, 0), separation(sheet, "Lantern", 0.9, 0.2, 0.1)
    boxes = sheet.area(*_AREA, f"{one} cs 1 scn"), sheet.area(80, 40, 120, 60, f"{other} cs 1 scn")
    return Told("CMYK and RGB", boxes=boxes)


@fault("registration-colour", "all-plates", "total-ink.over-limit")
def an_area_on_every_plate(sheet: Sheet) -> Told:
    space = separation(sheet, "All", 1, 1, 1, 1)
    return Told("every plate", boxes=(sheet.area(*_AREA, f"{space} cs 1 scn"),))


@fault("registration-colour", "all-plates")
def text_on_every_plate(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    space = separation(sheet, "All", 1, 1, 1, 1)
    box = sheet.text(30, 45, "Doors", 14, f"{space} cs 1 scn")
    return Told("every plate", boxes=(box,), close_pt=4)


@fault("registration-colour", "four-full-inks", "total-ink.over-limit")
def an_area_in_four_full_inks(sheet: Sheet) -> Told:
    return Told("400 % of ink", boxes=(sheet.area(*_AREA, "1 1 1 1 k"),))
