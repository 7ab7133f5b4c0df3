"""Inks that look like too much, too little or the wrong ones, and are none of it."""

from functools import partial

from pikepdf import Array, Dictionary, Name

from tests.seeded.colours import separation
from tests.seeded.kinds import look_alike as any_look_alike
from tests.seeded.planting import UNIT, Sheet

look_alike = partial(any_look_alike, rules="seed-ink.toml")

_AREA = (30.0, 40.0, 70.0, 60.0)
_LARGE = (30.0, 30.0, 70.0, 70.0)
_BLUE = "0.6 0.2 0 0 k"


def _group(**entries: bool) -> Dictionary:
    return Dictionary({"/S": Name.Transparency, **{f"/{key}": value for key, value in entries.items()}})


@look_alike("total-ink")
def thin_dark_lines_that_cross(sheet: Sheet) -> None:
    """390 % where they cross: a fifth of a square millimetre each."""
    sheet.paper(25, 35, 75, 65)
    multiply = sheet.state(BM=Name.Multiply)
    sheet.draw(f"{multiply} 0.9 0.8 0 0.8 K 0.4 w 30 50 m 70 50 l S 0 0.5 0.9 0.8 K 50 40 m 50 60 l S")


@look_alike("total-ink")
def an_area_at_the_limit(sheet: Sheet) -> None:
    sheet.area(*_AREA, "0.9 0.5 0.8 0.8 k")


@look_alike("total-ink")
def a_dark_area_beneath_a_pale_one(sheet: Sheet) -> None:
    sheet.area(*_AREA, "0.9 0.9 0.9 0.9 k")
    sheet.area(29, 39, 71, 61, _BLUE)


@look_alike("total-ink")
def two_dark_areas_that_screen_each_other(sheet: Sheet) -> None:
    """Screen takes ink away: 0.9 x 0.8 of each."""
    sheet.area(*_AREA, "0.9 0.6 0.9 0.7 k")
    sheet.area(*_AREA, f"{sheet.state(BM=Name.Screen)} 0.8 0.8 0.8 0.8 k")


@look_alike("total-ink")
def spot_ink_that_knocks_out_what_is_dark(sheet: Sheet) -> None:
    sheet.area(*_AREA, "0.8 0.7 0.7 0.7 k")
    sheet.area(*_AREA, f"{separation(sheet, 'Lantern Red', 0, 0.9, 0.8, 0)} cs 1 scn")


@look_alike("total-ink")
def a_pale_knockout_group(sheet: Sheet) -> None:
    """The renderer does not draw these exactly; all that is painted there is not too much ink together."""
    sheet.area(25, 35, 75, 65, "0.1 0 0.2 0 k")
    parts = "0.4 0.1 0 0 k 30 40 30 20 re f 0 0.5 0.2 0.3 k 40 40 30 20 re f"
    group = sheet.form(f"{sheet.state(ca=0.7)} {parts}", Group=_group(K=True, I=True))
    sheet.draw(f"{sheet.resource('XObject', group)} Do")


@look_alike("total-ink")
def soft_light_in_a_knockout_group(sheet: Sheet) -> None:
    sheet.area(25, 35, 75, 65, "0.1 0 0.2 0 k")
    parts = "0.4 0.1 0 0 k 30 40 30 20 re f 0 0.5 0.2 0 k 40 40 30 20 re f"
    for entries in ({"I": True}, {"I": False}):
        how = sheet.state(BM=Name.SoftLight, ca=0.7)
        group = sheet.form(f"{how} {parts}", Group=_group(K=True, **entries))
        sheet.draw(f"{sheet.resource('XObject', group)} Do")


@look_alike("total-ink")
def soft_light_in_groups(sheet: Sheet) -> None:
    sheet.area(25, 35, 75, 65, "0.1 0 0.2 0 k")
    parts = "0.4 0.1 0 0 k 30 40 30 20 re f 0 0.5 0.2 0 k 40 40 30 20 re f"
    for entries in ({"I": True}, {"I": False}):
        group = sheet.form(f"{sheet.state(BM=Name.SoftLight)} {parts}", Group=_group(**entries))
        sheet.draw(f"{sheet.resource('XObject', group)} Do")


@look_alike("total-ink")
def a_knockout_group_of_dark_parts_that_lie_apart(sheet: Sheet) -> None:
    """Nothing of the group lies beneath any part, so that there is nothing to knock out."""
    sheet.paper(25, 35, 75, 65)
    parts = "0.8 0.8 0.8 0.8 k 30 40 15 20 re f 0.8 0.8 0.7 0.9 k 50 40 15 20 re f"
    group = sheet.form(f"{sheet.state(ca=0.9)} {parts}", Group=_group(K=True, I=True))
    sheet.draw(f"{sheet.resource('XObject', group)} Do")


@look_alike("total-ink")
def varnish_over_a_dark_area(sheet: Sheet) -> None:
    sheet.area(*_AREA, "0.9 0.5 0.7 0.6 k")
    sheet.area(*_AREA, f"{sheet.state(op=True, OPM=0)} {separation(sheet, 'Gloss', 0.1, 0, 0, 0)} cs 1 scn")


@look_alike("total-ink")
def a_dark_screen_of_fine_lines(sheet: Sheet) -> None:
    """Lines of 0.25 mm every half millimetre: half of 370 % to the paper."""
    sheet.paper(*_AREA)
    lines = "".join(f"30 {40.25 + place / 2:.2f} m 70 {40.25 + place / 2:.2f} l S " for place in range(39))
    sheet.draw(f"1 0.7 1 1 K 0.25 w {lines}")


@look_alike("bleed")
def a_pale_gradient_that_fades_out_before_the_cut(sheet: Sheet) -> None:
    sheet.clip(-3, 40, 151, 213)
    function = Dictionary(
        FunctionType=2, Domain=Array([0, 1]), C0=Array([0, 0, 0, 0]), C1=Array([0.3, 0.1, 0, 0]), N=1
    )
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([0, 1, 0, 35]), Function=function
    )
    sheet.draw(f"-3 0 154 35 re W n {sheet.resource('Shading', shading)} sh")


@look_alike("bleed")
def a_white_ellipse_that_crosses_the_cut(sheet: Sheet) -> None:
    """White on a ground that runs on: the ground stops where the ellipse begins, and is meant to."""
    sheet.area(-3, -3, 151, 60, _BLUE)
    sheet.draw(
        "0 0 0 0 k 50 -6 m 70 -6 80 4 80 10 c 80 20 70 28 50 28 c 30 28 20 20 20 10 c 20 4 30 -6 50 -6 c f"
    )


@look_alike("bleed")
def a_ground_that_ends_well_inside_the_page(sheet: Sheet) -> None:
    sheet.clip(-3, 60, 151, 213)
    sheet.area(6, 6, 142, 50, _BLUE)


@look_alike("built-black")
def a_large_rich_black(sheet: Sheet) -> None:
    sheet.area(*_LARGE, "0.5 0.3 0.3 1 k")


@look_alike("built-black")
def a_large_grey_of_black_ink(sheet: Sheet) -> None:
    sheet.area(*_LARGE, "0 0 0 0.5 k")


@look_alike("veil")
def a_pale_tint_of_five_percent(sheet: Sheet) -> None:
    sheet.paper(25, 25, 75, 75)
    sheet.area(*_LARGE, "0 0 0.05 0 k")


@look_alike("colour-shift")
def screen_colours_that_a_press_can_print(sheet: Sheet) -> None:
    sheet.area(4, 4, 144, 104, "0.72 0.6 0.5 rg")


@look_alike("inks-used")
def a_spot_ink_partly_covered(sheet: Sheet) -> None:
    space = separation(sheet, "Lantern Red", 0, 0.9, 0.8, 0)
    sheet.area(*_AREA, f"{space} cs 0.8 scn")
    sheet.area(30, 40, 60, 60, _BLUE)


@look_alike("technical-inks")
def a_cutting_line_that_overprints(sheet: Sheet) -> None:
    sheet.area(25, 35, 75, 65, _BLUE)
    space = separation(sheet, "Knife", 0, 1, 0, 0)
    sheet.draw(f"{sheet.state(OP=True, OPM=1)} {space} CS 1 SCN 1 w 30 40 40 20 re S")


@look_alike("technical-inks")
def a_cutting_line_on_bare_paper(sheet: Sheet) -> None:
    sheet.paper(25, 35, 75, 65)
    sheet.draw(f"{separation(sheet, 'Knife', 0, 1, 0, 0)} CS 1 SCN 1 w 30 40 40 20 re S")


@look_alike("technical-inks")
def letters_that_overprint_varnish(sheet: Sheet) -> None:
    sheet.paper(25, 35, 75, 65)
    sheet.area(25, 35, 75, 65, f"{separation(sheet, 'Gloss', 0.1, 0, 0, 0)} cs 1 scn")
    sheet.text(34, 44, "EIGHT", 36, f"{sheet.state(op=True, OPM=1)} 0 0 0 1 k")


@look_alike("technical-inks")
def varnish_that_overprints_and_is_whole(sheet: Sheet) -> None:
    sheet.area(25, 35, 75, 65, _BLUE)
    over = sheet.state(op=True, OP=True, OPM=1)
    sheet.area(25, 35, 75, 65, f"{over} {separation(sheet, 'Gloss', 0.1, 0, 0, 0)} cs 1 scn")


@look_alike("black-and-white")
def a_page_with_one_spot_of_colour(sheet: Sheet) -> None:
    sheet.paper(-4, -4, 152, 214)
    sheet.area(-3, -3, 151, 40, "0 0 0 1 k")
    sheet.area(60, 100, 64, 104, _BLUE)


@look_alike("small-text")
def small_text_in_two_inks_of_which_one_is_the_grounds(sheet: Sheet) -> None:
    """Magenta lies evenly beneath it, and only cyan has the letters."""
    sheet.area(20, 30, 120, 70, "0 0.6 0 0 k")
    state = sheet.state(op=True, OPM=1)
    sheet.text(30, 45, "Doors open at seven", 6, f"{state} 1 0.6 0 0 k")


@look_alike("line-width")
def a_thin_line_in_two_inks_of_which_one_is_the_grounds(sheet: Sheet) -> None:
    sheet.area(20, 30, 120, 70, "0 0.6 0 0 k")
    state = sheet.state(BM=Name.Darken)
    sheet.draw(f"{state} 1 0.4 0 0 K {0.3 / UNIT} w 30 40 m 100 40 l S")
