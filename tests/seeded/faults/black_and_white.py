"""Faults of black and white: white that overprints and vanishes, small black text in more than black ink."""

import pikepdf
from pikepdf import Dictionary, Name

from hotfolder.model.geometry import Box
from tests.seeded.colours import separation, several_inks
from tests.seeded.kinds import Told, fault
from tests.seeded.planting import UNIT, Sheet
from tests.seeded.type_by_hand import latin

_AREA = (30.0, 40.0, 70.0, 60.0)
_BLUE = "0.6 0.2 0 0 k"
# On pages that claim PDF/X-1a, and on those that claim PDF/X-3.
_RGB = ("pdfx-claim.rgb-colour", "pdfx-claim.device-colour")


@fault("white-overprint", "vanishes")
def white_that_overprints(sheet: Sheet) -> Told:
    sheet.area(25, 35, 75, 65, _BLUE)
    state = sheet.state(op=True, OP=True, OPM=1)
    return Told("overprints", boxes=(sheet.area(*_AREA, f"{state} 0 0 0 0 k"),))


@fault("white-overprint", "vanishes")
def white_text_that_overprints(sheet: Sheet) -> Told:
    sheet.area(25, 35, 75, 65, _BLUE)
    state = sheet.state(op=True, OP=True, OPM=1)
    box = sheet.text(30, 45, "Open", 20, f"{state} 0 0 0 0 k")
    return Told("overprints", boxes=(box,), close_pt=5)


@fault("white-overprint", "vanishes")
def no_black_that_overprints(sheet: Sheet) -> Told:
    sheet.area(25, 35, 75, 65, _BLUE)
    space = separation(sheet, "Black", 0, 0, 0, 1)
    state = sheet.state(op=True)
    return Told("overprints", boxes=(sheet.area(*_AREA, f"{state} {space} cs 0 scn"),))


@fault("white-overprint", "vanishes")
def no_ink_of_two_by_name_that_overprints(sheet: Sheet) -> Told:
    """The ground's magenta is neither of them."""
    sheet.area(25, 35, 75, 65, _BLUE)
    space = several_inks(sheet, "Black", "Cyan")
    return Told("overprints", boxes=(sheet.area(*_AREA, f"{sheet.state(op=True)} {space} cs 0 0 scn"),))


@fault("white-overprint", "vanishes")
def white_in_a_form_that_inherits_overprint(sheet: Sheet) -> Told:
    sheet.area(25, 35, 75, 65, _BLUE)
    form = sheet.resource("XObject", sheet.form("0 0 0 0 k 30 40 40 20 re f"))
    sheet.draw(f"{sheet.state(op=True, OPM=1)} {form} Do")
    return Told("overprints", boxes=(sheet.box(*_AREA),))


@fault("white-overprint", "pale-mixes")
def a_pale_colour_that_overprints(sheet: Sheet) -> Told:
    sheet.area(25, 35, 75, 65, _BLUE)
    state = sheet.state(op=True, OPM=1)
    return Told("overprints", boxes=(sheet.area(*_AREA, f"{state} 0 0 0.4 0 k"),))


@fault("white-overprint", "spot-stays", "spot-colours.too-many")
def white_that_overprints_a_spot_ink(sheet: Sheet) -> Told:
    space = separation(sheet, "Lantern", 0, 0.9, 0.8, 0)
    sheet.area(25, 35, 75, 65, f"{space} cs 1 scn")
    state = sheet.state(op=True, OPM=0)
    return Told("overprints", boxes=(sheet.area(*_AREA, f"{state} 0 0 0 0 k"),))


@fault("black-text", "rich-black")
def small_text_in_rich_black(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    box = sheet.text(30, 45, "Doors open at seven", 9, "0.4 0.3 0.3 1 k")
    return Told("black with other inks", boxes=(box,), close_pt=3)


@fault("black-text", "knocks-out")
def small_black_text_left_out_of_a_colour(sheet: Sheet) -> Told:
    sheet.area(20, 30, 120, 70, _BLUE)
    box = sheet.text(30, 45, "Doors open at seven", 9)
    return Told("knocks out", boxes=(box,), close_pt=3)


@fault("black-text", "knocks-out")
def small_text_in_black_by_its_name_left_out_of_a_colour(sheet: Sheet) -> Told:
    sheet.area(20, 30, 120, 70, _BLUE)
    space = separation(sheet, "Black", 0, 0, 0, 1)
    box = sheet.text(30, 45, "Doors open at seven", 9, f"{space} cs 1 scn")
    return Told("knocks out", boxes=(box,), close_pt=3)


@fault("black-text", "knocks-out")
def grey_black_that_overprints_in_vain(sheet: Sheet) -> Told:
    """A grey clears the other inks whatever the overprint mode (ISO 32000-2, 8.6.7)."""
    sheet.area(20, 30, 120, 70, _BLUE)
    box = sheet.text(30, 45, "Doors open at seven", 9, f"{sheet.state(op=True, OPM=1)} 0 g")
    return Told("knocks out", boxes=(box,), close_pt=3)


@fault("black-text", "screen-black", "colour-spaces.forbidden", *_RGB)
def small_text_in_the_black_of_a_screen(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    box = sheet.text(30, 45, "Doors open at seven", 9, "0 0 0 rg")
    return Told("RGB black", boxes=(box,), close_pt=3)


@fault("black-text", "blended-on-screen", rules="seed-ink.toml")
def small_black_text_in_a_group_of_screen_colours(sheet: Sheet) -> Told:
    """Worked out in ISO 32000-2, 11.6.6; tests/plates has its four inks, with Ghostscript bearing witness."""
    sheet.paper(20, 30, 120, 70)
    box = in_a_group(sheet, Name.DeviceRGB)
    return Told("black blended in RGB", boxes=(box,), close_pt=3)


def in_a_group(sheet: Sheet, space: pikepdf.Object) -> Box:
    """Small black text in an isolated group that is blended in `space`; its box."""
    size_pt, words = 9, "Doors open at seven"
    text = f"BT 0 0 0 1 k {sheet.font()} {size_pt / UNIT:.5f} Tf 30 45 Td {latin(words)} Tj ET"
    form = sheet.form(text, Group=Dictionary(S=Name.Transparency, CS=space, I=True))
    sheet.draw(f"{sheet.resource('XObject', form)} Do")
    return sheet.text_box(30, 45, words, size_pt)
