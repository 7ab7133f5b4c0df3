"""Faults of fine things: lines and text too thin to print, fonts that print other letters."""

import pikepdf
from pikepdf import Array, Dictionary, Name

from tests.seeded.areas_as_lines import circle, ribbon, ring
from tests.seeded.kinds import Told, fault
from tests.seeded.planting import UNIT, Sheet
from tests.seeded.type_by_hand import composite_font, latin, made_typeface, plain_font

_BLUE = "0.6 0.2 0 0 k"


@fault("line-width", "hairline")
def a_line_of_width_0(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    sheet.draw("0 0 0 1 K 0 w 30 40 m 100 40 l S")
    return Told((0,), "pt", boxes=(sheet.box(30, 40, 100, 40),))


@fault("line-width", "hairline")
def a_line_of_width_0_on_both_sides(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    sheet.draw("0 0 0 1 K 0 w 30 40 m 100 40 l S")
    sheet.copy()
    return Told((0,), "pt", boxes=(sheet.box(30, 40, 100, 40),), further=(2,))


@fault("line-width", "thin")
def a_line_that_is_thin_after_scaling(sheet: Sheet) -> Told:
    """0.4 mm wide, in a form at a tenth of its size."""
    sheet.paper(20, 30, 120, 70)
    form = sheet.form("0 0 0 1 K 0.4 w 300 400 m 1000 400 l S")
    sheet.draw(f"0.1 0 0 0.1 0 0 cm {sheet.resource('XObject', form)} Do")
    return Told((0.04 * UNIT,), "pt", boxes=(sheet.box(30, 40, 100, 40),))


@fault("line-width", "thin")
def a_line_that_is_thin_one_way_only(sheet: Sheet) -> Told:
    """A pen squeezed to a tenth of its width: an upright line keeps 0.05 mm."""
    sheet.paper(20, 30, 120, 90)
    sheet.draw("0 0 0 1 K 0.5 w q 0.1 0 0 1 0 0 cm 500 40 m 500 80 l S Q")
    return Told((0.05 * UNIT,), "pt", boxes=(sheet.box(50, 40, 50, 80),), close_pt=0.8)


@fault("line-width", "thin")
def many_thin_lines(sheet: Sheet) -> Told:
    sheet.paper(20, 20, 120, 100)
    places = range(30, 70, 10)
    sheet.draw(" ".join(f"0 0 0 1 K {0.2 / UNIT} w 30 {y} m 100 {y} l S" for y in places))
    return Told((0.2,), "pt", boxes=tuple(sheet.box(30, y, 100, y) for y in places))


@fault("line-width", "thin")
def a_thin_line_drawn_as_an_area(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    box = sheet.area(30, 40, 100, 40.05, "0 0 0 1 k")
    return Told((0.05 * UNIT,), "pt", boxes=(box,))


@fault("line-width", "thin")
def a_thin_frame_filled_as_a_ring(sheet: Sheet) -> Told:
    """As the stroke is written that was turned into an area."""
    sheet.paper(20, 30, 120, 90)
    sheet.draw(f"0 0 0 1 k {ring(30, 40, 90, 80, 0.05)}")
    return Told((0.05 * UNIT,), "pt", within=0.03, boxes=(sheet.box(30, 40, 90, 80),))


@fault("line-width", "thin")
def a_thin_frame_of_two_directions(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 90)
    sheet.draw(f"0 0 0 1 k {ring(30, 40, 90, 80, 0.05, how='direction')}")
    return Told((0.05 * UNIT,), "pt", within=0.03, boxes=(sheet.box(30, 40, 90, 80),))


@fault("line-width", "thin")
def a_thin_frame_of_a_rectangle_and_a_white_one(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 90)
    sheet.draw(f"0 0 0 1 k {ring(30, 40, 90, 80, 0.05, how='white')}")
    return Told((0.05 * UNIT,), "pt", within=0.01, boxes=(sheet.box(30, 40, 90, 80),))


@fault("line-width", "thin")
def a_thin_circle_filled_as_a_ring(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 90)
    sheet.draw(f"0 0 0 1 k {circle(60, 60, 20)} {circle(60, 60, 19.95, backwards=True)} f")
    return Told((0.05 * UNIT,), "pt", within=0.01, boxes=(sheet.box(40, 40, 80, 80),))


@fault("line-width", "thin-reversed")
def a_thin_white_ring_in_a_colour(sheet: Sheet) -> Told:
    sheet.area(20, 30, 120, 90, _BLUE)
    sheet.draw(f"0 0 0 0 k {circle(60, 60, 20)} {circle(60, 60, 19.9, backwards=True)} f")
    return Told((0.1 * UNIT,), "pt", within=0.02, boxes=(sheet.box(40, 40, 80, 80),))


@fault("line-width", "thin")
def a_thin_curve_filled_as_a_ribbon(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 90)
    sheet.draw(f"0 0 0 1 k {ribbon(30, 50, 0.05)}")
    return Told((0.05 * UNIT,), "pt", within=0.01, boxes=(sheet.box(30, 50, 90, 56.05),))


@fault("line-width", "thin")
def a_pattern_of_thin_lines(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    pattern = sheet.cell("0 0 0 1 K 0.05 w 0 5 m 10 5 l S", 10)
    sheet.draw(f"/Pattern cs {pattern} scn 30 40 40 20 re f")
    return Told((0.05 * UNIT,), "pt", inside=sheet.box(30, 40, 70, 60))


@fault("line-width", "thin-in-inks")
def a_thin_line_in_two_inks(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    sheet.draw(f"0.5 0.5 0 0 K {0.3 / UNIT} w 30 40 m 100 40 l S")
    return Told((0.3,), "pt", boxes=(sheet.box(30, 40, 100, 40),))


@fault("line-width", "thin-reversed")
def a_thin_line_left_blank_in_a_colour(sheet: Sheet) -> Told:
    sheet.area(20, 30, 120, 70, _BLUE)
    sheet.draw(f"0 0 0 0 K {0.3 / UNIT} w 30 40 m 100 40 l S")
    return Told((0.3,), "pt", boxes=(sheet.box(30, 40, 100, 40),))


@fault("small-text", "small")
def text_of_4_pt(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    return Told((4,), "pt", boxes=(sheet.text(30, 45, "Doors open at seven", 4),), close_pt=1.5)


@fault("small-text", "small")
def text_that_is_small_after_scaling(sheet: Sheet) -> Told:
    """Set in 12 units by a text matrix of a third, in a form."""
    sheet.paper(20, 30, 120, 70)
    font = sheet.font()
    form = sheet.form(
        f"BT 0 0 0 1 k {font} {12 / UNIT:.5f} Tf 0.333333 0 0 0.333333 30 45 Tm {latin('Seven')} Tj ET"
    )
    sheet.draw(f"{sheet.resource('XObject', form)} Do")
    return Told((4,), "pt", boxes=(sheet.text_box(30, 45, "Seven", 4),), close_pt=1.5)


@fault("small-text", "small")
def small_text_by_a_font_of_the_graphics_state(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    state = sheet.state(Font=Array([sheet.known("Font", sheet.font()), 4 / UNIT]))
    sheet.draw(f"{state} BT 0 0 0 1 k 30 45 Td {latin('Seven')} Tj ET")
    return Told((4,), "pt", boxes=(sheet.text_box(30, 45, "Seven", 4),), close_pt=1.5)


@fault("small-text", "small", "fonts.drawn")
def small_letters_that_the_file_draws(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    font = sheet.drawn_font("Seed-Small", "30 0 0 0 25 30 d1 0 0 m 25 0 l 12 30 l f")
    sheet.draw(f"BT 0 0 0 1 k {font} {3 / UNIT} Tf 30 45 Td (AAA) Tj ET")
    return Told((3,), "pt", within=0.6, inside=sheet.box(29, 44, 60, 52))


@fault("small-text", "small-in-inks")
def text_of_6_pt_in_two_inks(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    box = sheet.text(30, 45, "Doors open at seven", 6, "1 0.5 0 0 k")
    return Told((6,), "pt", boxes=(box,), close_pt=2)


@fault("small-text", "small-in-inks")
def text_of_6_pt_in_a_gradient_of_two_inks(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    box = sheet.text(30, 45, "Doors open at seven", 6, across(sheet, [1, 0.2, 0, 0], [0.2, 1, 0, 0]))
    return Told((6,), "pt", boxes=(box,), close_pt=2)


@fault("small-text", "small-in-inks")
def text_of_6_pt_in_a_pattern_of_two_inks(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    tiles = sheet.cell("0 0.8 0 0 k 0 0 0.5 1 re f 0 0 0 1 k 0.5 0 0.5 1 re f", 1)
    box = sheet.text(30, 45, "Doors open at seven", 6, f"/Pattern cs {tiles} scn")
    return Told((6,), "pt", boxes=(box,), close_pt=2)


@fault("small-text", "small-in-inks", rules="seed-ink.toml")
def text_of_6_pt_in_a_gradient_of_screen_colours(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    colour = across(sheet, [0.8, 0.1, 0], [0, 0.1, 0.7], Name.DeviceRGB)
    return Told((6,), "pt", boxes=(sheet.text(30, 45, "Doors open at seven", 6, colour),), close_pt=2)


@fault("small-text", "small-in-inks", rules="seed-ink.toml")
def text_of_6_pt_in_a_gradient_of_screen_greys(sheet: Sheet) -> Told:
    """The press's profile makes each of them of four inks."""
    sheet.paper(20, 30, 120, 70)
    colour = across(sheet, [0.6] * 3, [0.1] * 3, Name.DeviceRGB)
    return Told((6,), "pt", boxes=(sheet.text(30, 45, "Doors open at seven", 6, colour),), close_pt=2)


def across(
    sheet: Sheet, first: list[float], last: list[float], space: pikepdf.Object = Name.DeviceCMYK
) -> str:
    """Chooses a gradient between two colours, from 30 mm to 70 mm across the page."""
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array(first), C1=Array(last), N=1)
    shading = Dictionary(
        ShadingType=2, ColorSpace=space, Coords=Array([30, 0, 70, 0]), Function=function,
        Extend=Array([True, True]),
    )  # fmt: skip
    pattern = Dictionary(
        Type=Name.Pattern, PatternType=2, Shading=shading,
        Matrix=Array([UNIT, 0, 0, UNIT, sheet.trim.x0, sheet.trim.y0]),
    )  # fmt: skip
    return f"/Pattern cs {sheet.resource('Pattern', sheet.pdf.make_indirect(pattern))} scn"


@fault("small-text", "small-reversed")
def text_of_6_pt_left_blank_in_a_colour(sheet: Sheet) -> Told:
    sheet.area(20, 30, 120, 70, _BLUE)
    box = sheet.text(30, 45, "Doors open at seven", 6, "0 0 0 0 k")
    return Told((6,), "pt", boxes=(box,), close_pt=2)


@fault("fonts-embedded", "not-embedded", "pdfx-claim.font-not-embedded")
def a_font_that_is_not_in_the_file(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 45, "Open", 12, font=sheet.font("Absent-Book", embedded=False))
    return Told("not embedded: Absent-Book", page=None)


@fault("fonts-embedded", "not-embedded", "pdfx-claim.font-not-embedded")
def a_standard_font_that_is_not_in_the_file(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    font = Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica)
    sheet.text(30, 45, "Open", 12, font=sheet.resource("Font", font))
    return Told("not embedded: Helvetica", page=None)


@fault("fonts", "signs-missing", "pdfx-claim.glyph-missing")
def a_sign_that_the_font_lacks(sheet: Sheet) -> Told:
    """The alphabet has neither @ nor %."""
    sheet.paper(20, 30, 120, 70)
    font = plain_font(sheet.pdf, made_typeface("Seed-Text", 74))
    font.Widths[64 - 32] = font.Widths[37 - 32] = 260  # as wide as the font's own sign for what it lacks
    sheet.draw(f"BT 0 0 0 1 k {sheet.resource('Font', font)} 5 Tf 30 45 Td <4f40452540> Tj ET")
    return Told((2,), "missing characters", inside=sheet.box(29, 40, 60, 52))


@fault("fonts", "signs-missing", "pdfx-claim.glyph-missing")
def a_glyph_number_that_the_font_lacks(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    font = sheet.resource("Font", composite_font(sheet.pdf, "Seed-Wide", 74))
    sheet.draw(f"BT 0 0 0 1 k {font} 5 Tf 30 45 Td <0002000303E8> Tj ET")
    return Told((1,), "missing characters", inside=sheet.box(29, 40, 60, 52))


@fault("fonts", "damaged", "pdfx-claim.font-damaged")
def a_font_whose_data_are_none(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    font = plain_font(sheet.pdf, made_typeface("Seed-Text", 74))
    font.FontDescriptor.FontFile2.write(b"put in its place by mistake " * 50)
    sheet.text(30, 45, "Lost", 12, font=sheet.resource("Font", font))
    return Told("Seed-Text", inside=sheet.box(29, 40, 60, 52))


@fault("fonts", "widths-differ", "pdfx-claim.font-widths")
def letters_of_other_widths_than_the_file_says(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    font = plain_font(sheet.pdf, made_typeface("Seed-Text", 74))
    font.Widths = Array([400 for _ in font.Widths])
    sheet.text(30, 45, "Wide", 12, font=sheet.resource("Font", font))
    return Told("Seed-Text", inside=sheet.box(29, 40, 60, 52))


@fault("fonts", "pixels", "image-resolution.line-art-below-floor")
def letters_made_of_pixels(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    glyph = "30 0 0 0 25 30 d1 25 0 0 30 0 0 cm BI /W 25 /H 30 /IM true /BPC 1 /F /AHx ID "
    glyph += ("ff00ff80" * 30) + "> EI"
    font = sheet.drawn_font("Seed-Pixels", glyph)
    sheet.draw(f"BT 0 0 0 1 k {font} 5 Tf 30 45 Td (AAA) Tj ET")
    return Told("Seed-Pixels", inside=sheet.box(29, 40, 60, 60))


@fault("fonts", "drawn")
def letters_that_the_file_draws_itself(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    font = sheet.drawn_font("Seed-Drawn", "30 0 0 0 25 30 d1 0 0 m 25 0 l 12 30 l f")
    sheet.draw(f"BT 0 0 0 1 k {font} 5 Tf 30 45 Td (AAA) Tj ET")
    return Told("Seed-Drawn", inside=sheet.box(29, 40, 60, 60))


@fault("fonts", "stand-in")
def a_typewriter_face_beside_another(sheet: Sheet) -> Told:
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 60, "Beside", 12)
    box = sheet.text(30, 45, "Lost", 12, font=sheet.font("Courier"))
    return Told("Courier", boxes=(box,), close_pt=4)
