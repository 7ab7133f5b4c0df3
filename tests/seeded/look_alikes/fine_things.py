"""Lines, text and fonts that look wrong and are not."""

from pikepdf import Array, Dictionary, Name

from tests.seeded.areas_as_lines import circle, ribbon, ring
from tests.seeded.faults.black_and_white import in_a_group
from tests.seeded.faults.lines_and_type import across
from tests.seeded.kinds import look_alike
from tests.seeded.outlines import outlined
from tests.seeded.planting import UNIT, Sheet
from tests.seeded.type_by_hand import latin, made_typeface, plain_font

_BLUE = "0.6 0.2 0 0 k"


@look_alike("line-width")
def a_line_of_a_twentieth_of_a_unit_scaled_up_20_times(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    sheet.draw("0 0 0 1 K 20 0 0 20 30 40 cm 0.05 w 0 0 m 3 0 l S")


@look_alike("line-width")
def a_line_of_width_0_that_is_clipped_away(sheet: Sheet) -> None:
    sheet.draw("100 100 10 10 re W n 0 0 0 1 K 0 w 30 40 m 70 40 l S")


@look_alike("line-width")
def a_line_of_width_0_outside_the_bleed(sheet: Sheet) -> None:
    sheet.with_margin(15)
    sheet.draw("0 0 0 1 K 0 w 30 -8 m 70 -8 l S")


@look_alike("line-width")
def a_line_of_width_0_beneath_an_area(sheet: Sheet) -> None:
    sheet.draw("0 0 0 1 K 0 w 30 40 m 70 40 l S")
    sheet.area(25, 35, 75, 45, _BLUE)


@look_alike("line-width")
def thin_white_lines_on_bare_paper(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    sheet.draw("0 0 0 0 K 0.05 w 30 40 m 70 40 l S")


@look_alike("line-width")
def a_thin_outline_of_a_coloured_area(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    sheet.draw(f"{_BLUE} 0.6 0.2 0 0 K 0.05 w 30 40 40 20 re B")


@look_alike("line-width")
def a_gradient_of_thin_strips(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    strips = " ".join(
        f"{step / 200:.3f} 0.2 0 0 k {30 + step * 0.08:.2f} 40 0.08 20 re f" for step in range(200)
    )
    sheet.draw(strips)


@look_alike("line-width")
def a_gradient_of_thin_rings(sheet: Sheet) -> None:
    """Steps of a blend, each a ring around the next."""
    sheet.paper(20, 30, 120, 90)
    rings = " ".join(
        f"{0.6 - step / 400:.3f} 0.2 0 0 k {circle(60, 60, 20 - step * 0.08)}"
        f" {circle(60, 60, 20 - (step + 1) * 0.08, backwards=True)} f"
        for step in range(200)
    )
    sheet.draw(rings)


@look_alike("line-width")
def a_gradient_of_thin_frames(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 90)
    frames = (
        f"{0.6 - step / 400:.3f} 0.2 0 0 k "
        + ring(30 + step * 0.08, 40 + step * 0.08, 90 - step * 0.08, 80 - step * 0.08, 0.08)
        for step in range(200)
    )
    sheet.draw(" ".join(frames))


@look_alike("line-width")
def a_gradient_of_rectangles_on_one_another_with_a_white_middle(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 90)
    steps = " ".join(
        f"{0.5 - step / 200:.3f} 0 0 0 k {30 + step * 0.08:.2f} {40 + step * 0.08:.2f}"
        f" {60 - step * 0.16:.2f} {40 - step * 0.16:.2f} re f"
        for step in range(101)
    )
    sheet.draw(steps)


@look_alike("line-width")
def a_frame_filled_as_a_ring_of_half_a_point(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 90)
    sheet.draw(f"0 0 0 1 k {ring(30, 40, 90, 80, 0.18)} {ribbon(30, 32, 0.18)}")


@look_alike("line-width")
def two_rectangles_in_one_path_that_fill_one_another(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 90)
    sheet.draw("0 0 0 1 k 30 40 60 40 re 30.05 40.05 59.9 39.9 re f")


@look_alike("line-width")
def a_frame_of_which_one_side_is_thin(sheet: Sheet) -> None:
    """It is the edge of a shape that is thick, and no line by itself."""
    sheet.paper(20, 30, 120, 90)
    sheet.draw("0 0 0 1 k 30 40 60 40 re 30.05 45 55 30 re f*")


@look_alike("line-width")
def letters_in_outlines_whose_strokes_are_thin_as_lines_left_blank(sheet: Sheet) -> None:
    """Capitals of 6 pt with strokes of 0.44 pt, white in a colour: type is judged by its size."""
    sheet.area(20, 30, 120, 90, _BLUE)
    sheet.draw("0 0 0 0 k " + " f ".join(outlined(sheet.face(), 30, 60, "Open on weekdays", 6)) + " f")


@look_alike("line-width")
def a_swash_that_runs_out_to_a_point(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 90)
    sheet.draw("0 0 0 1 k 30 50 m 50 58 70 58 90 50 c 70 58.12 50 58.12 30 50 c f")


@look_alike("line-width")
def a_thin_line_in_black_by_three_names(sheet: Sheet) -> None:
    """Half a point in one ink is wide enough; a trace of another ink makes it no line in two."""
    sheet.paper(20, 30, 120, 70)
    sheet.draw(f"0.02 0 0 1 K {0.3 / UNIT} w 30 40 m 70 40 l S 0 G 30 45 m 70 45 l S")


@look_alike("line-width")
def a_row_of_fine_dots(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    sheet.draw("0 0 0 1 k " + " ".join(f"{30 + 5 * dot} 40 0.08 0.08 re f" for dot in range(5)))


@look_alike("line-width")
def a_line_of_dashes(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    sheet.draw("0 0 0 1 K 0.3 w [1 1] 0 d 30 40 m 100 40 l S")


@look_alike("small-text")
def small_text_beneath_an_area(sheet: Sheet) -> None:
    sheet.text(30, 45, "Seven", 3)
    sheet.area(25, 35, 75, 65, _BLUE)


@look_alike("small-text")
def text_of_5_points_of_another_measure(sheet: Sheet) -> None:
    """5 pt at 72.27 to an inch."""
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 45, "Doors open at seven", 5 * 72 / 72.27)


@look_alike("small-text")
def text_set_small_and_scaled_up(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    size = 10 / UNIT
    sheet.draw(f"BT 0 0 0 1 k {sheet.font()} 1 Tf {size} 0 0 {size} 30 45 Tm {latin('Seven')} Tj ET")


@look_alike("small-text")
def text_of_6_pt_in_the_grey_of_one_ink(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 45, "Doors open at seven", 6, "0.3 g")


@look_alike("small-text")
def text_of_6_pt_in_a_gradient_of_one_ink(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 45, "Doors open at seven", 6, across(sheet, [0, 0, 0, 0.5], [0, 0, 0, 1]))


@look_alike("small-text")
def text_of_6_pt_in_a_gradient_of_greys_over_colours(sheet: Sheet) -> None:
    """DeviceGray is black ink alone on a press, whatever lies beneath."""
    sheet.paper(20, 30, 120, 70)
    sheet.area(20, 40, 50, 50, "0.3 0 0 0 k")
    sheet.text(30, 45, "Doors open at seven", 6, across(sheet, [0.4], [0], Name.DeviceGray))


@look_alike("small-text")
def text_of_14_pt_in_a_gradient_of_two_inks(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 45, "Doors open at seven", 14, across(sheet, [1, 0.2, 0, 0], [0.2, 1, 0, 0]))


@look_alike("small-text")
def text_of_6_pt_in_a_pattern_of_one_ink(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    tiles = sheet.cell("0 0 0 0.5 k 0 0 0.5 1 re f 0 0 0 1 k 0.5 0 0.5 1 re f", 1)
    sheet.text(30, 45, "Doors open at seven", 6, f"/Pattern cs {tiles} scn")


@look_alike("small-text")
def white_text_of_4_pt_on_bare_paper(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 45, "Doors open at seven", 4, "0 0 0 0 k")


@look_alike("small-text")
def text_of_3_pt_outside_the_bleed(sheet: Sheet) -> None:
    sheet.with_margin(15)
    sheet.text(30, -10, "Flyer, second state", 3)


@look_alike("black-text")
def small_black_text_that_overprints(sheet: Sheet) -> None:
    sheet.area(20, 30, 120, 70, _BLUE)
    sheet.text(30, 45, "Doors open at seven", 9, f"{sheet.state(op=True, OPM=1)} 0 0 0 1 k")


@look_alike("black-text")
def small_black_text_on_a_tint_of_black(sheet: Sheet) -> None:
    sheet.area(20, 30, 120, 70, "0 0 0 0.3 k")
    sheet.text(30, 45, "Doors open at seven", 9)


@look_alike("black-text")
def small_black_text_on_paper_left_blank_in_a_colour(sheet: Sheet) -> None:
    sheet.area(20, 30, 120, 70, _BLUE)
    sheet.paper(25, 35, 115, 65)
    sheet.text(30, 45, "Seven", 9)


@look_alike("black-text")
def large_text_in_rich_black(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 45, "Doors", 18, "0.5 0.3 0.3 1 k")


@look_alike("black-text")
def large_black_text_on_a_colour(sheet: Sheet) -> None:
    sheet.area(20, 30, 120, 70, _BLUE)
    sheet.text(30, 45, "Doors", 18)


@look_alike("black-text")
def black_with_a_trace_of_another_ink(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 45, "Doors open at seven", 9, "0.02 0.01 0 1 k")


@look_alike("black-text", rules="seed-ink.toml")
def small_black_text_in_a_group_of_inks(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    in_a_group(sheet, Name.DeviceCMYK)


@look_alike("black-text", rules="seed-ink.toml")
def small_black_text_on_a_page_of_screen_colours_with_nothing_transparent(sheet: Sheet) -> None:
    sheet.page.obj.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)
    sheet.paper(20, 30, 120, 70)
    sheet.text(30, 45, "Doors open at seven", 9)


@look_alike("fonts-embedded")
def a_font_that_is_named_and_not_used(sheet: Sheet) -> None:
    font = Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica)
    sheet.resource("Font", font)


@look_alike("fonts-embedded")
def a_font_that_is_chosen_and_shows_nothing(sheet: Sheet) -> None:
    font = sheet.resource("Font", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    sheet.draw(f"BT {font} 10 Tf 30 45 Td () Tj ET")


@look_alike("fonts-embedded", rules="seed-later.toml")  # PDF/X may want the font all the same
def spaces_in_a_font_that_is_not_in_the_file(sheet: Sheet) -> None:
    font = sheet.resource("Font", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    sheet.draw(f"BT {font} 10 Tf 30 45 Td (   ) Tj ET")


@look_alike("fonts-embedded", rules="seed-later.toml")  # PDF/X may want the font all the same
def text_in_mode_3_behind_a_scan(sheet: Sheet) -> None:
    font = sheet.resource("Font", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Courier))
    sheet.draw(f"BT 3 Tr {font} 4 Tf 30 45 Td (seven) Tj ET")


@look_alike("fonts-embedded")
def a_font_cut_down_to_its_used_letters(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    font = plain_font(sheet.pdf, made_typeface("ABCDEF+Seed-Text", 74))
    sheet.text(30, 45, "Seven", 12, font=sheet.resource("Font", font))


@look_alike("fonts")
def signs_that_the_font_lacks_in_text_that_is_not_shown(sheet: Sheet) -> None:
    font = plain_font(sheet.pdf, made_typeface("Seed-Text", 74))
    sheet.draw(f"BT 3 Tr {sheet.resource('Font', font)} 5 Tf 30 45 Td <4025> Tj ET")


@look_alike("fonts")
def spaces_that_the_font_lacks(sheet: Sheet) -> None:
    """A space that does not break a line is set as any other, and is as wide as what stands for it."""
    sheet.paper(20, 30, 120, 70)
    font = plain_font(sheet.pdf, made_typeface("Seed-Text", 74))
    font.Widths[160 - 32] = 260
    sheet.draw(f"BT 0 0 0 1 k {sheet.resource('Font', font)} 5 Tf 30 45 Td <4fa0454e> Tj ET")


@look_alike("fonts")
def letters_set_apart_and_condensed(sheet: Sheet) -> None:
    """What Tc, Tw, Tz and TJ do to the setting is no fault of the widths."""
    sheet.paper(20, 30, 120, 70)
    font = sheet.font()
    sheet.draw(f"BT 0 0 0 1 k {font} 5 Tf 1 Tc 2 Tw 80 Tz 30 45 Td [<4f50> -300 <454e>] TJ ET")


@look_alike("fonts")
def widths_rounded_to_whole_units(sheet: Sheet) -> None:
    sheet.paper(20, 30, 120, 70)
    font = plain_font(sheet.pdf, made_typeface("Seed-Text", 74))
    font.Widths = Array([float(width) + 0.4 for width in font.Widths])
    sheet.text(30, 45, "Seven", 12, font=sheet.resource("Font", font))
