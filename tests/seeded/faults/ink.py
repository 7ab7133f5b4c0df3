"""Faults that only the inks on paper show: too much, none where the cut comes, or others than are meant."""

from functools import partial

from pikepdf import Array, Dictionary, Name

from tests.seeded.colours import separation
from tests.seeded.images import image
from tests.seeded.kinds import Told
from tests.seeded.kinds import fault as any_fault
from tests.seeded.planting import HEIGHT_MM, UNIT, WIDTH_MM, Sheet

fault = partial(any_fault, rules="seed-ink.toml")

_AREA = (30.0, 40.0, 70.0, 60.0)
_LARGE = (30.0, 30.0, 70.0, 70.0)
_BLUE = "0.6 0.2 0 0 k"
_ROUNDING = 1.6  # percent: four plates of 256 steps, twice blended


def _over(percent: float, sheet: Sheet, *areas: tuple[float, float, float, float]) -> Told:
    boxes = tuple(sheet.box(*area) for area in areas or (_AREA,))
    return Told((percent,), "%", within=_ROUNDING, boxes=boxes, close_pt=3)


@fault("total-ink", "over-limit")
def ink_built_up_only_by_multiply(sheet: Sheet) -> Told:
    """1 - (1 - a)(1 - b) of each ink: 98 + 91 + 80 + 58."""
    sheet.area(*_AREA, "0.9 0.7 0.5 0.4 k")
    sheet.area(*_AREA, f"{sheet.state(BM=Name.Multiply)} 0.8 0.7 0.6 0.3 k")
    return _over(327, sheet)


@fault("total-ink", "over-limit")
def ink_built_up_by_spot_inks_that_overprint(sheet: Sheet) -> Told:
    """160 + 90 + 90."""
    sheet.area(*_AREA, "0.6 0.2 0.6 0.2 k")
    red, moss = separation(sheet, "Lantern Red", 0, 0.9, 0.8, 0), separation(sheet, "Moss", 0.8, 0, 0.9, 0)
    state = sheet.state(op=True, OPM=0)
    sheet.area(*_AREA, f"{state} {red} cs 0.9 scn")
    sheet.area(*_AREA, f"{state} {moss} cs 0.9 scn")
    return _over(340, sheet)


@fault("total-ink", "over-limit", "built-black.black-of-four")
def ink_built_up_by_black_that_overprints(sheet: Sheet) -> Told:
    sheet.area(*_AREA, "0.9 0.8 0.7 0 k")
    sheet.area(*_AREA, f"{sheet.state(op=True, OPM=1)} 0 0 0 1 k")
    return _over(340, sheet)


@fault("total-ink", "over-limit")
def ink_in_the_shadow_of_a_photo(sheet: Sheet) -> Told:
    """A photo of 12 pixels a millimetre: 150 % but for a shadow of 8 x 8 mm."""
    light, dark = bytes([102, 102, 102, 76]), bytes([242, 217, 217, 217])  # 95 + 85 + 85 + 85
    rows = [light * 480] * 72 + [light * 120 + dark * 96 + light * 264] * 96 + [light * 480] * 72
    photo = image(sheet.pdf, 480, 240, b"".join(rows), ColorSpace=Name.DeviceCMYK)
    sheet.picture(_AREA, photo)
    return _over(350, sheet, (40, 46, 48, 54))


@fault("total-ink", "over-limit")
def ink_that_opacity_leaves(sheet: Sheet) -> Told:
    """Nine tenths of 370 %."""
    sheet.paper(*_AREA)
    sheet.area(*_AREA, f"{sheet.state(ca=0.9)} 1 0.8 1 0.9 k")
    return _over(333, sheet)


@fault("total-ink", "over-limit")
def ink_of_a_group_that_multiplies_as_a_whole(sheet: Sheet) -> Told:
    sheet.area(*_AREA, "0.9 0.7 0.5 0.4 k")
    form = sheet.form("0.8 0.7 0.6 0.3 k 30 40 40 20 re f", Group=Dictionary(S=Name.Transparency, I=True))
    sheet.draw(f"{sheet.state(BM=Name.Multiply)} {sheet.resource('XObject', form)} Do")
    return _over(327, sheet)


@fault("total-ink", "over-limit")
def ink_at_the_dark_end_of_a_gradient(sheet: Sheet) -> Told:
    """From 100 to 380 % over 40 mm: 7 % a millimetre; more than 301 % from 28.7 mm on."""
    function = Dictionary(
        FunctionType=2, Domain=Array([0, 1]), C0=Array([0.4, 0.1, 0.4, 0.1]), C1=Array([1, 0.8, 1, 1]), N=1
    )
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([30, 0, 70, 0]), Function=function
    )
    sheet.draw(f"30 40 40 20 re W n {sheet.resource('Shading', shading)} sh")
    # The last cell has 376.5 % at its middle; a hair of it may lie beyond the gradient's end.
    return Told((376.5,), "%", within=4, boxes=(sheet.box(59, 40, 70, 60),), close_pt=4)


@fault("total-ink", "over-limit")
def ink_of_two_halves_that_meet_in_a_pattern(sheet: Sheet) -> Told:
    """Tiles that fill their cell wholly, multiplied on an area."""
    sheet.area(*_AREA, "0.9 0.7 0.5 0.4 k")
    tiles = sheet.cell("0.8 0.7 0.6 0.3 k 0 0 5 5 re f", 5)
    sheet.area(*_AREA, f"{sheet.state(BM=Name.Multiply)} /Pattern cs {tiles} scn")
    # Some 18 mm apart the renderer's pictures of tiles overlap by a pixel, which counts twice there.
    return Told((327,), "%", within=6, boxes=(sheet.box(*_AREA),), close_pt=3)


@any_fault("total-ink", "over-wanted")
def ink_above_what_is_wanted_and_below_the_limit(sheet: Sheet) -> Told:
    """A printer who takes 330 % and would rather have 300."""
    sheet.area(*_AREA, "0.9 0.9 0.5 0.8 k")
    return _over(310, sheet)


@fault("bleed", "not-drawn")
def white_that_covers_the_bleed_at_one_side(sheet: Sheet) -> Told:
    """The ground runs on; a white strip laid along the cut takes it away again."""
    sheet.area(-3, -3, 151, 100, _BLUE)
    sheet.paper(-3, 20, 0, 90)
    return Told((0,), "mm", boxes=(sheet.box(-3, 20, 0, 90),), close_pt=3)


@fault("bleed", "not-drawn")
def a_corner_without_bleed(sheet: Sheet) -> Told:
    """The ground is one shape; 8 mm before the lower right corner its lower edge jumps back to the cut."""
    sheet.clip(-3, 20, 151, 213)
    sheet.draw(f"{_BLUE} -3 -3 m 140 -3 l 140 0 l 151 0 l 151 20 l -3 20 l h f")
    return Told((0,), "mm", boxes=(sheet.box(140, -3, WIDTH_MM, 0),), close_pt=3)


@fault("bleed", "not-drawn")
def bleed_short_by_one_millimetre_along_a_curve(sheet: Sheet) -> Told:
    """A wave as ground: its lower edge lies 2 mm beyond the cut and is no rectangle's."""
    sheet.clip(-3, 30, 151, 213)
    sheet.draw(f"{_BLUE} -3 -2 m 151 -2 l 151 20 l 100 30 50 10 -3 20 c h f")
    return Told((2,), "mm", within=0.35, boxes=(sheet.box(0, -3, WIDTH_MM, 0),), close_pt=3)


@fault("bleed", "not-drawn")
def a_photo_with_a_white_border_of_its_own(sheet: Sheet) -> Told:
    """Large enough by its box: the outermost 3 mm of its pixels are white, as scanners leave them."""
    sheet.clip(-3, 40, 151, 213)
    dark, white = bytes([153, 51, 0, 0]), bytes(4)
    rows = [dark * 816] * 420 + [white * 816] * 36
    photo = image(sheet.pdf, 816, 456, b"".join(rows), ColorSpace=Name.DeviceCMYK)
    sheet.picture((40, -3, 108, 35), photo)
    return Told((0,), "mm", within=0.35, boxes=(sheet.box(40, -3, 108, 0),), close_pt=3)


@fault("inks-used", "carries-nothing")
def a_spot_plate_that_is_blank(sheet: Sheet) -> Told:
    """All that is painted in the ink is knocked out by a larger shape over it, a diamond."""
    space = separation(sheet, "Lantern Red", 0, 0.9, 0.8, 0)
    box = sheet.area(*_AREA, f"{space} cs 0.8 scn")
    sheet.draw(f"{_BLUE} 50 10 m 125 50 l 50 90 l 5 50 l h f")
    return Told("nothing", boxes=(box,))


@fault("inks-used", "not-ordered")
def an_ink_that_was_not_ordered(sheet: Sheet) -> Told:
    box = sheet.area(*_AREA, f"{separation(sheet, 'Copper', 0, 0.5, 0.7, 0.3)} cs 0.8 scn")
    return Told("'Copper'", boxes=(box,), close_pt=3)


@fault("built-black", "grey-of-four")
def a_large_grey_of_four_inks(sheet: Sheet) -> Told:
    sheet.clip(-3, 110, 151, 213)  # where a picture is, a grey is the picture's
    box = sheet.area(*_LARGE, "0.4 0.3 0.3 0.2 k")
    mixture = "40 % cyan, 30 % magenta, 30 % yellow and 20 % black"
    return Told(mixture, boxes=(box,), close_pt=3)


@fault("built-black", "black-of-four")
def a_large_black_with_too_much_beneath(sheet: Sheet) -> Told:
    sheet.clip(-3, 110, 151, 213)
    box = sheet.area(*_LARGE, "0.6 0.5 0.5 1 k")
    return Told((160,), "%", within=_ROUNDING, boxes=(box,), close_pt=3)


@fault("veil", "nearly-white")
def a_veil_of_two_percent(sheet: Sheet) -> Told:
    sheet.paper(25, 25, 75, 75)
    box = sheet.area(*_LARGE, "0 0 0.02 0 k")
    return Told((2,), "%", within=0.3, boxes=(box,), close_pt=3)


@fault("colour-shift", "moves")
def a_photo_in_screen_colours_that_print_dull(sheet: Sheet) -> Told:
    """Two fifths of the page in the greens and blues that no press has."""
    green, blue = bytes([0, 255, 0]), bytes([0, 0, 255])
    photo = image(sheet.pdf, 1680, 1200, (green * 840 + blue * 840) * 1200, ColorSpace=Name.DeviceRGB)
    box = sheet.picture((4, 4, 144, 104), photo)
    share = 100 * 140 * 100 / ((WIDTH_MM + 6) * (HEIGHT_MM + 6))
    return Told((share,), "%", within=2, inside=box, close_pt=6)


@fault("black-and-white", "no-colour")
def a_page_in_black_alone(sheet: Sheet) -> Told:
    sheet.paper(-4, -4, 152, 214)
    sheet.area(-3, -3, 151, 40, "0 0 0 1 k")
    sheet.text(30, 60, "Black and white", 14)
    return Told("black alone")


@fault("technical-inks", "knocks-out")
def a_cutting_line_that_knocks_out(sheet: Sheet) -> Told:
    sheet.area(25, 35, 75, 65, _BLUE)
    space = separation(sheet, "Knife", 0, 1, 0, 0)
    sheet.draw(f"{space} CS 1 SCN 1 w 30 40 40 20 re S")
    return Told("knocks out", boxes=(sheet.box(29.5, 39.5, 70.5, 60.5),), close_pt=1)


@fault("technical-inks", "knocked-out")
def varnish_with_a_hole(sheet: Sheet) -> Told:
    """A picture laid over the varnish later takes its place."""
    space = separation(sheet, "Gloss", 0.1, 0, 0, 0)
    sheet.paper(*_LARGE)
    sheet.area(*_LARGE, f"{space} cs 1 scn")
    box = sheet.area(40, 40, 60, 60, _BLUE)
    return Told("a hole in the plate", boxes=(box,), close_pt=3)


@fault("technical-inks", "knocked-out")
def varnish_with_holes_in_the_shape_of_letters(sheet: Sheet) -> Told:
    """Their strokes are narrower than 2 mm: hardly a square millimetre is wholly bare."""
    space = separation(sheet, "Gloss", 0.1, 0, 0, 0)
    sheet.paper(*_LARGE)
    sheet.area(*_LARGE, f"{space} cs 1 scn")
    box = sheet.text(34, 44, "EIGHT", 36, "0 0 0 1 k")
    return Told("a hole in the plate", inside=box.grown(4))


@fault("technical-inks", "knocked-out")
def varnish_that_overprints_with_a_hole(sheet: Sheet) -> Told:
    """As varnish should; a picture that is laid over it later knocks it out all the same."""
    space = separation(sheet, "Gloss", 0.1, 0, 0, 0)
    sheet.paper(*_LARGE)
    sheet.area(*_LARGE, f"{sheet.state(op=True, OP=True, OPM=1)} {space} cs 1 scn")
    box = sheet.area(40, 40, 60, 60, _BLUE)
    return Told("a hole in the plate", boxes=(box,), close_pt=3)


@fault("small-text", "small-in-inks")
def black_text_that_lets_two_inks_through(sheet: Sheet) -> Told:
    """Half black, and half of what lies beneath: three plates have the letters."""
    sheet.area(20, 30, 120, 70, _BLUE)
    box = sheet.text(30, 45, "Doors open at seven", 6, f"{sheet.state(ca=0.5)} 0 0 0 1 k")
    return Told((6,), "pt", boxes=(box,), close_pt=2)


@fault("line-width", "thin-in-inks")
def a_yellow_line_that_lets_two_inks_through(sheet: Sheet) -> Told:
    """Wide enough for one ink, and too thin for the three that have it."""
    sheet.area(20, 30, 120, 70, _BLUE)
    sheet.draw(f"{sheet.state(CA=0.6)} 0 0 1 0 K {0.3 / UNIT} w 30 40 m 100 40 l S")
    return Told((0.3,), "pt", boxes=(sheet.box(30, 40, 100, 40),))
