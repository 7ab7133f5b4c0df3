"""Faults of size and edges that are easily taken for something else, or for nothing."""

from pikepdf import Array, Dictionary, Name

from tests.seeded.images import image, slope
from tests.seeded.kinds import Told, fault
from tests.seeded.planting import HEIGHT_MM, UNIT, WIDTH_MM, Sheet, corners

_UNCUT = ("page-boxes.no-trim-box", "pdfx-claim.trim-box")


@fault("trim-size", "wrong", *_UNCUT, breaks=True)
def a_page_of_letter_size_that_does_not_say_where_it_is_cut(sheet: Sheet) -> Told:
    """8.5 x 11 in (ASME Y14.1), as an office program writes it: a page and no other box."""
    page = sheet.page.obj
    del page.TrimBox, page.BleedBox
    low = sheet.trim
    page.MediaBox = Array([low.x0, low.y0, low.x0 + 612, low.y0 + 792])
    if "/CropBox" in page:
        del page.CropBox
    return Told(sheet.as_seen(215.9, 279.4), "mm", within=0.02, inside=low.grown(500))


@fault("trim-size", "unknown", *_UNCUT, breaks=True)
def a_page_of_one_size_that_shows_another_and_has_no_trim(sheet: Sheet) -> Told:
    """A sheet of A4 cropped to A5: both are taken here, and nothing says which is meant."""
    page = sheet.page.obj
    del page.TrimBox, page.BleedBox
    page.MediaBox = corners(sheet.box(-10, -10, 200, 287))
    page.CropBox = corners(sheet.trim)
    return Told("not known")


@fault("trim-size", "inferred", *_UNCUT)
def a_page_with_more_bleed_than_wanted_that_does_not_say_where_it_is_cut(sheet: Sheet) -> Told:
    """5 mm on every side, where 3 mm are wanted."""
    page = sheet.page.obj
    del page.TrimBox, page.BleedBox
    if "/CropBox" in page:
        del page.CropBox
    page.MediaBox = corners(sheet.trim.grown(5 * UNIT))
    return Told(sheet.as_seen(148, 210), "mm", within=0.02, boxes=(sheet.trim,))


@fault("bleed", "not-drawn")
def a_photo_that_ends_a_hair_inside_the_cut_with_ink_along_its_lower_half(sheet: Sheet) -> Told:
    """Its upper half is white there, and nothing is wrong with that."""
    sheet.clip(20, 20, 128, 190)
    inked, half = bytes([0, 80, 120, 0] * 700), bytes([0, 80, 120, 0] * 600 + [0, 0, 0, 0] * 100)
    picture = image(sheet.pdf, 700, 600, half * 300 + inked * 300, ColorSpace=Name.DeviceCMYK)
    sheet.picture((88.8, 60, 147.8, 110.8), picture)
    return Told((0,), "mm", boxes=(sheet.box(WIDTH_MM, 60, WIDTH_MM + 3, 85.4),), close_pt=4)


@fault("bleed", "not-drawn")
def a_gradient_that_ends_two_millimetres_beyond_the_cut(sheet: Sheet) -> Told:
    """It does not extend, and is long: a 255th of it is most of a millimetre."""
    sheet.clip(20, 20, 128, 190)
    sheet.draw(f"{gradient(sheet, 50, -2, 50, 213)} sh")
    return Told((2,), "mm", within=0.05, boxes=(sheet.box(0, -3, WIDTH_MM, 0),))


@fault("bleed", "not-drawn")
def a_gradient_in_an_area_that_ends_at_the_cut_where_the_area_does_not(sheet: Sheet) -> Told:
    sheet.clip(20, 20, 128, 190)
    sheet.draw(f"/Pattern cs {gradient(sheet, 0, 50, 151, 50, area=True)} scn -3 -3 154 216 re f")
    return Told((0,), "mm", within=0.05, boxes=(sheet.box(-3, 0, 0, HEIGHT_MM),))


@fault("bleed", "not-drawn")
def a_large_disc_that_ends_two_millimetres_beyond_the_cut(sheet: Sheet) -> Told:
    """Of a circle of 20 cm; at the ends of its arc it has no bleed at all, and need not have any."""
    sheet.clip(20, 20, 128, 190)
    x, y, radius = 74, 98, 100
    bend = radius * 0.5522848  # a quarter of a circle as a Bézier curve
    sheet.draw(
        f"0.1 0.6 0 0 k {x - radius} {y} m"
        f" {x - radius} {y - bend} {x - bend} {y - radius} {x} {y - radius} c"
        f" {x + bend} {y - radius} {x + radius} {y - bend} {x + radius} {y} c"
        f" {x + radius} {y + bend} {x + bend} {y + radius} {x} {y + radius} c"
        f" {x - bend} {y + radius} {x - radius} {y + bend} {x - radius} {y} c f"
    )
    return Told((2,), "mm", within=0.05, inside=sheet.box(0, -3, WIDTH_MM, 0))


@fault("bleed", "not-drawn")
def a_pattern_of_squares_with_one_millimetre_of_bleed(sheet: Sheet) -> Told:
    """Between its squares it is bare, at the cut too; the area that it fills ends 1 mm beyond."""
    sheet.clip(20, 20, 128, 190)
    cell = sheet.cell("0.1 0.6 0 0 k 0.5 0.5 4 4 re f 0.4 0 0 0 k 0 0 2 5 re f", 5)
    sheet.draw(f"/Pattern cs {cell} scn -1 20 60 100 re f")
    return Told((1,), "mm", within=0.02, inside=sheet.box(-3, 20, 0, 120))


@fault("bleed", "not-drawn")
def a_ground_that_a_white_frame_leaves_a_millimetre_inside_the_cut(sheet: Sheet) -> Told:
    """The ground runs on through the bleed; the frame, one path with a hole, lies over all of that."""
    sheet.area(-3, -3, WIDTH_MM + 3, HEIGHT_MM + 3, "0.6 0.2 0 0 k")
    sheet.draw(white_frame(1))
    return Told((-1,), "mm", inside=sheet.bleed)


@fault("bleed", "not-drawn")
def a_ground_that_four_white_bars_leave_a_millimetre_inside_the_cut(sheet: Sheet) -> Told:
    sheet.area(-3, -3, WIDTH_MM + 3, HEIGHT_MM + 3, "0.6 0.2 0 0 k")
    sheet.paper(-4, -4, 1, HEIGHT_MM + 4)
    sheet.paper(WIDTH_MM - 1, -4, WIDTH_MM + 4, HEIGHT_MM + 4)
    sheet.paper(-4, -4, WIDTH_MM + 4, 1)
    sheet.paper(-4, HEIGHT_MM - 1, WIDTH_MM + 4, HEIGHT_MM + 4)
    return Told((-1,), "mm", inside=sheet.bleed)


def white_frame(inner_mm: float) -> str:
    """Draws white over all that is nearer to the cut than this, and over the bleed."""
    hole = f"{inner_mm} {inner_mm} {WIDTH_MM - 2 * inner_mm} {HEIGHT_MM - 2 * inner_mm} re"
    return f"0 0 0 0 k -4 -4 {WIDTH_MM + 8} {HEIGHT_MM + 8} re {hole} f*"


def gradient(sheet: Sheet, x0: float, y0: float, x1: float, y1: float, *, area: bool = False) -> str:
    """The name of a gradient that does not extend, to be painted as it is or to fill an area."""
    colours = Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=[0.6, 0.2, 0, 0], C1=[0.1, 0.7, 0, 0])
    made = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([x0, y0, x1, y1]), Function=colours
    )
    if not area:
        return sheet.resource("Shading", made)
    matrix = Array([UNIT, 0, 0, UNIT, sheet.trim.x0, sheet.trim.y0])
    pattern = Dictionary(Type=Name.Pattern, PatternType=2, Shading=made, Matrix=matrix)
    return sheet.resource("Pattern", sheet.pdf.make_indirect(pattern))


@fault("bleed", "not-drawn", rules="seed-ink.toml")
def an_area_through_a_soft_mask_with_two_millimetres_of_bleed(sheet: Sheet) -> Told:
    """All four edges alike, wherever they fall on the pixels of the plates."""
    sheet.clip(20, 20, 128, 190)
    _through_a_mask(sheet, 2, "0.1 0.6 0 0 k -3 -3 154 216 re f")
    return Told((2,), "mm", inside=sheet.bleed)


@fault("bleed", "not-drawn", rules="seed-ink.toml")
def a_picture_through_a_soft_mask_with_eleven_tenths_of_a_millimetre_of_bleed(sheet: Sheet) -> Told:
    sheet.clip(20, 20, 128, 190)
    picture = sheet.resource("XObject", slope(sheet.pdf, 1819, 2551))
    _through_a_mask(sheet, 1.1, f"154 0 0 216 -3 -3 cm {picture} Do")
    return Told((1.1,), "mm", inside=sheet.bleed)


def _through_a_mask(sheet: Sheet, bleed_mm: float, content: str) -> None:
    """Draws what a mask lets through up to so far beyond the cut."""
    group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    box = f"{-bleed_mm} {-bleed_mm} {WIDTH_MM + 2 * bleed_mm} {HEIGHT_MM + 2 * bleed_mm}"
    mask = Dictionary(S=Name.Luminosity, G=sheet.form(f"1 g {box} re f", Group=group))
    sheet.draw(f"{sheet.state(SMask=mask)} {content}")
