"""Colours that look wrong and are not."""

import struct

from pikepdf import Array, Dictionary, Name

from tests.seeded.colours import icc_based, separation, several_inks
from tests.seeded.images import screen_slope
from tests.seeded.kinds import look_alike
from tests.seeded.planting import Sheet

_AREA = (30.0, 40.0, 70.0, 60.0)
_BLUE = "0.6 0.2 0 0 k"


@look_alike("colour-spaces")
def screen_colour_that_is_set_and_not_used(sheet: Sheet) -> None:
    sheet.area(*_AREA, f"1 0 0 rg 0 1 0 RG {_BLUE}")


@look_alike("colour-spaces")
def a_screen_colour_space_that_is_named_and_not_used(sheet: Sheet) -> None:
    sheet.resource("ColorSpace", sheet.pdf.make_indirect(Array([Name.Lab, Dictionary(WhitePoint=[1, 1, 1])])))


@look_alike("colour-spaces")
def a_path_in_screen_colour_that_is_not_painted(sheet: Sheet) -> None:
    sheet.draw("1 0 0 rg 1 0 0 RG 0 w 30 40 40 20 re n")


@look_alike("colour-spaces", rules="seed-later.toml")
def screen_colour_beneath_an_area(sheet: Sheet) -> None:
    """PDF/X minds the object itself, whether it shows or not."""
    sheet.area(*_AREA, "1 0 0 rg")
    sheet.area(25, 35, 75, 65, _BLUE)


@look_alike("colour-spaces", rules="seed-later.toml")
def screen_colour_outside_the_bleed(sheet: Sheet) -> None:
    sheet.with_margin(15)
    sheet.area(30, -12, 40, -6, "1 0 0 rg")


@look_alike("colour-spaces", rules="seed-later.toml")
def the_white_of_a_screen(sheet: Sheet) -> None:
    """It prints nothing; PDF/X minds the colour itself."""
    sheet.area(*_AREA, "1 1 1 rg")


@look_alike("colour-spaces")
def a_form_in_screen_colours_that_nothing_shows(sheet: Sheet) -> None:
    sheet.resource("XObject", sheet.form("1 0 0 rg 0 w 30 40 20 20 re B"))


@look_alike("colour-spaces", rules="seed-later.toml")
def a_grey_by_profile(sheet: Sheet) -> None:
    """PDF/X-3 takes it, PDF/X-1a does not."""
    head = bytearray(132)
    head[12:16], head[16:20], head[36:40] = b"mntr", b"GRAY", b"acsp"
    sheet.area(*_AREA, f"{icc_based(sheet, bytes(head) + struct.pack('>I', 0), 1)} cs 0.4 sc")


@look_alike("colour-spaces")
def a_picture_in_screen_colours_that_is_clipped_away(sheet: Sheet) -> None:
    named = sheet.resource("XObject", screen_slope(sheet.pdf, 20, 20))
    sheet.draw(f"100 100 20 20 re W n 25.4 0 0 25.4 30 30 cm {named} Do")


@look_alike("spot-colours")
def several_process_inks_by_name(sheet: Sheet) -> None:
    sheet.area(*_AREA, f"{several_inks(sheet, 'Cyan', 'Black')} cs 0.4 0.2 scn")


@look_alike("spot-colours")
def black_ink_by_name(sheet: Sheet) -> None:
    sheet.area(*_AREA, f"{separation(sheet, 'Black', 0, 0, 0, 1)} cs 0.4 scn")


@look_alike("spot-colours")
def paint_on_no_plate(sheet: Sheet) -> None:
    sheet.area(*_AREA, f"{separation(sheet, 'None', 0, 0, 0, 0)} cs 1 scn")


@look_alike("spot-colours")
def a_spot_ink_that_is_named_and_not_used(sheet: Sheet) -> None:
    separation(sheet, "Lantern Red", 0, 1, 1, 0)


@look_alike("spot-colours", rules="seed-other.toml")
def the_ink_that_was_agreed_in_other_letters(sheet: Sheet) -> None:
    sheet.area(*_AREA, f"{separation(sheet, 'LANTERN red', 0, 0.9, 0.8, 0)} cs 1 scn")


@look_alike("white-overprint")
def white_that_knocks_out(sheet: Sheet) -> None:
    sheet.area(25, 35, 120, 65, _BLUE)
    sheet.text(30, 45, "Open", 24, "0 0 0 0 k")


@look_alike("white-overprint")
def white_that_overprints_bare_paper(sheet: Sheet) -> None:
    sheet.paper(25, 35, 75, 65)
    sheet.area(*_AREA, f"{sheet.state(op=True, OPM=1)} 0 0 0 0 k")


@look_alike("white-overprint")
def white_that_overprints_in_mode_0(sheet: Sheet) -> None:
    """Without overprint mode 1 it clears all process inks (ISO 32000-2, 8.6.7)."""
    sheet.area(25, 35, 75, 65, _BLUE)
    sheet.area(*_AREA, f"{sheet.state(op=True, OPM=0)} 0 0 0 0 k")


@look_alike("white-overprint")
def overprint_that_is_switched_off_again(sheet: Sheet) -> None:
    sheet.area(25, 35, 75, 65, _BLUE)
    on, off = sheet.state(op=True, OPM=1), sheet.state(op=False, OP=False)
    sheet.area(*_AREA, f"{on} {off} 0 0 0 0 k")


@look_alike("white-overprint")
def overprint_of_strokes_on_a_white_area(sheet: Sheet) -> None:
    sheet.area(25, 35, 75, 65, _BLUE)
    sheet.area(*_AREA, f"{sheet.state(OP=True, op=False, OPM=1)} 0 0 0 0 k")


@look_alike("white-overprint")
def black_that_overprints_a_colour(sheet: Sheet) -> None:
    sheet.area(25, 35, 75, 65, _BLUE)
    sheet.area(*_AREA, f"{sheet.state(op=True, OPM=1)} 0 0 0 1 k")


@look_alike("white-overprint")
def a_pale_colour_that_overprints_bare_paper(sheet: Sheet) -> None:
    sheet.paper(25, 35, 75, 65)
    sheet.area(*_AREA, f"{sheet.state(op=True, OPM=1)} 0.1 0 0 0 k")


@look_alike("registration-colour")
def three_full_inks(sheet: Sheet) -> None:
    sheet.area(*_AREA, "1 1 1 0 k")


@look_alike("registration-colour")
def rich_black_over_a_large_area(sheet: Sheet) -> None:
    sheet.area(*_AREA, "0.6 0.4 0.4 1 k")


@look_alike("transparency")
def opacity_of_1_written_out(sheet: Sheet) -> None:
    state = sheet.state(
        Type=Name.ExtGState, ca=1.0, CA=1, BM=Name.Normal, SMask=Name("/None"), AIS=False, TK=True
    )
    sheet.area(*_AREA, f"{state} {_BLUE}")


@look_alike("transparency")
def the_blend_mode_compatible(sheet: Sheet) -> None:
    sheet.area(*_AREA, f"{sheet.state(BM=Name.Compatible)} {_BLUE}")


@look_alike("transparency", rules="seed-later.toml")  # PDF/X forbids to set it at all
def opacity_that_is_set_and_taken_back(sheet: Sheet) -> None:
    half = sheet.state(ca=0.5)
    sheet.draw(f"q {half} Q {_BLUE} 30 40 40 20 re f")


@look_alike("transparency", rules="seed-later.toml")  # PDF/X forbids to set it at all
def half_opacity_of_what_is_clipped_away(sheet: Sheet) -> None:
    """PDF/X minds marks on the page only."""
    sheet.draw(f"{sheet.state(ca=0.5)} 100 100 10 10 re W n {_BLUE} 30 40 10 10 re f")


@look_alike("transparency", rules="seed-later.toml")  # PDF/X forbids to set it at all
def opacity_of_strokes_on_an_area(sheet: Sheet) -> None:
    sheet.area(*_AREA, f"{sheet.state(CA=0.5)} {_BLUE}")


@look_alike("transparency")
def a_form_with_a_group_that_is_no_transparency(sheet: Sheet) -> None:
    form = sheet.form(f"{_BLUE} 30 40 40 20 re f", Group=Dictionary(Type=Name.Group))
    sheet.draw(f"{sheet.resource('XObject', form)} Do")
