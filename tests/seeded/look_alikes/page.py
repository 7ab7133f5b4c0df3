"""Pages that look wrong and are not: boxes, bleed, margins, marks outside."""

from pikepdf import Array

from tests.seeded.colours import separation
from tests.seeded.faults.size import halve
from tests.seeded.images import slope
from tests.seeded.kinds import look_alike
from tests.seeded.planting import HEIGHT_MM, UNIT, WIDTH_MM, Sheet, corners
from tests.seeded.type_by_hand import latin

_AREA = "0.1 0.6 0 0 k"


@look_alike("page-boxes")
def a_trim_box_with_its_corners_swapped(sheet: Sheet) -> None:
    trim = sheet.trim
    sheet.page.obj.TrimBox = Array([trim.x1, trim.y1, trim.x0, trim.y0])


@look_alike("page-boxes")
def a_media_box_that_is_inherited(sheet: Sheet) -> None:
    sheet.page.obj.Parent.MediaBox = sheet.page.obj.MediaBox
    del sheet.page.obj.MediaBox


@look_alike("page-boxes")
def a_crop_box_as_large_as_the_page(sheet: Sheet) -> None:
    sheet.page.obj.CropBox = sheet.page.obj.MediaBox


@look_alike("page-boxes", rules="seed-later.toml", save={"force_version": "1.6"})
def everything_halved_and_a_user_unit_of_2(sheet: Sheet) -> None:
    halve(sheet)


@look_alike("page-boxes")
def boxes_that_are_numbers_of_other_objects(sheet: Sheet) -> None:
    """Each side is an object of its own, as some programs write them."""
    sheet.page.obj.TrimBox = sheet.pdf.make_indirect(
        Array([sheet.pdf.make_indirect(side) for side in corners(sheet.trim)])
    )


@look_alike("trim-size")
def a4_in_whole_points(sheet: Sheet) -> None:
    """595 x 842 pt, as many programs write 210 x 297 mm."""
    low = sheet.trim
    trim = Array([low.x0, low.y0, low.x0 + 595, low.y0 + 842])
    sheet.clip(5, 5, 143, 205)
    sheet.page.obj.TrimBox = trim
    room = 3 * UNIT
    sheet.page.obj.MediaBox = sheet.page.obj.BleedBox = Array(
        [low.x0 - room, low.y0 - room, low.x0 + 595 + room, low.y0 + 842 + room]
    )


@look_alike("trim-size")
def a_page_a_tenth_of_a_millimetre_off(sheet: Sheet) -> None:
    sheet.page.obj.TrimBox = corners(sheet.box(0, -0.1, WIDTH_MM, HEIGHT_MM))


@look_alike("trim-size")
def a_page_that_is_turned(sheet: Sheet) -> None:
    sheet.page.obj.Rotate = 270


@look_alike("trim-size")
def a_page_turned_backwards(sheet: Sheet) -> None:
    """-90 is 270 (ISO 32000-2, 7.7.3.3 asks for a multiple of 90 only)."""
    sheet.page.obj.Rotate = -90


@look_alike("page-count")
def a_back_like_the_front(sheet: Sheet) -> None:
    sheet.copy()


@look_alike("blank-pages")
def a_back_with_one_small_dot(sheet: Sheet) -> None:
    back = sheet.copy()
    back.page.obj.Contents = sheet.pdf.make_stream(b"")
    back.draw("0 0 0 1 k 70 100 1 1 re f")


@look_alike("bleed")
def paper_white_that_ends_at_the_cut(sheet: Sheet) -> None:
    sheet.clip(-3, 20, 151, 213)
    sheet.paper(0, 0, WIDTH_MM, 15)


@look_alike("bleed")
def a_bleed_three_tenths_short(sheet: Sheet) -> None:
    sheet.clip(-2.7, -3, 151, 213)


@look_alike("bleed")
def an_area_that_ends_well_inside_the_cut(sheet: Sheet) -> None:
    sheet.clip(-3, 20, 151, 213)
    sheet.area(20, 4, 100, 15, _AREA)


@look_alike("bleed")
def a_triangle_that_runs_off_the_page(sheet: Sheet) -> None:
    sheet.clip(-3, 40, 151, 213)
    sheet.draw(f"{_AREA} 74 -3 m 90 30 l 58 30 l h f")


@look_alike("bleed")
def tiles_of_which_the_last_lies_beyond_the_cut(sheet: Sheet) -> None:
    """An area drawn as two, side by side at the cut, as flattening does."""
    sheet.clip(-3, 20, 151, 213)
    sheet.area(-3, 0, 151, 10, _AREA)
    sheet.area(-3, -3, 151, 0, _AREA)


@look_alike("bleed")
def a_hidden_part_of_an_area_that_ends_at_the_cut(sheet: Sheet) -> None:
    """Over the whole foot of the page, bleed included, another area lies on top."""
    sheet.area(-3, 0, 151, 10, _AREA)
    sheet.area(-3, -3, 151, 20, "0 0.3 0.3 0 k")


@look_alike("safe-margin")
def display_type_that_runs_off_the_page(sheet: Sheet) -> None:
    """Its letters reach from inside the page to the end of the bleed and beyond."""
    words = "Every night"
    wide = sheet.text_box(0, 0, words, 40).width / UNIT
    sheet.text(WIDTH_MM + 8 - wide, 60, words, 40, "1 0.8 0 0 k")


@look_alike("safe-margin")
def a_line_of_text_outside_the_page(sheet: Sheet) -> None:
    sheet.with_margin(15)
    sheet.text(10, -8, "Flyer, second state", 8)


@look_alike("safe-margin")
def text_in_mode_3_at_the_cut(sheet: Sheet) -> None:
    sheet.text(-2, 50, "Seven", 10, "3 Tr")


@look_alike("safe-margin")
def text_at_the_cut_that_is_clipped_away(sheet: Sheet) -> None:
    sheet.draw(f"20 20 10 10 re W n BT {sheet.font()} 4 Tf -1 50 Td {latin('Seven')} Tj ET")


@look_alike("safe-margin")
def text_at_the_cut_beneath_an_area(sheet: Sheet) -> None:
    sheet.text(-1, 50, "Seven", 10)
    sheet.area(-3, 40, 60, 70, _AREA)


@look_alike("marks-near-trim")
def a_shape_that_runs_off_the_page(sheet: Sheet) -> None:
    sheet.draw(f"{_AREA} -4 40 m 8 40 l 2 50 l h f")


@look_alike("marks-near-trim")
def a_logo_near_the_cut_beneath_an_area(sheet: Sheet) -> None:
    sheet.draw("0 1 0 0 k 1.5 40 m 11.5 40 l 6.5 50 l h f")
    sheet.area(-3, 30, 60, 60, _AREA)


@look_alike("marks-near-trim")
def a_line_from_edge_to_edge(sheet: Sheet) -> None:
    sheet.draw("0 0 0 1 K 0.4 w -3 2 m 151 2 l S")


@look_alike("marks-near-trim")
def a_frame_that_keeps_the_margin(sheet: Sheet) -> None:
    sheet.draw(f"0 0 0 1 K 0.4 w 4 4 {WIDTH_MM - 8} {HEIGHT_MM - 8} re S")


@look_alike("printers-marks")
def crop_marks_outside_the_bleed(sheet: Sheet) -> None:
    sheet.with_margin(12)
    for x in (0, WIDTH_MM):
        sheet.draw(f"0 0 0 1 K 0.1 w {x} -10 m {x} -4 l S {x} {HEIGHT_MM + 4} m {x} {HEIGHT_MM + 10} l S")
    for y in (0, HEIGHT_MM):
        sheet.draw(f"0 0 0 1 K 0.1 w -10 {y} m -4 {y} l S {WIDTH_MM + 4} {y} m {WIDTH_MM + 10} {y} l S")


@look_alike("registration-colour")
def marks_in_registration_colour_outside_the_bleed(sheet: Sheet) -> None:
    sheet.with_margin(12)
    space = separation(sheet, "All", 1, 1, 1, 1)
    sheet.draw(f"{space} CS 1 SCN 0.1 w 74 -10 m 74 -4 l S 71 -7 m 77 -7 l S")


@look_alike("registration-colour")
def a_tint_of_nothing_on_every_plate(sheet: Sheet) -> None:
    sheet.area(30, 40, 70, 60, f"{separation(sheet, 'All', 1, 1, 1, 1)} cs 0 scn")


@look_alike("outside-bleed")
def a_colour_bar_outside_the_bleed(sheet: Sheet) -> None:
    sheet.with_margin(15)
    for step in range(8):
        sheet.area(20 + 6 * step, -12, 26 + 6 * step, -6, f"{step / 8} 0 0 0 k")
    sheet.area(80, -12, 86, -6, "1 1 1 1 k")


@look_alike("outside-bleed")
def a_small_picture_outside_the_bleed(sheet: Sheet) -> None:
    sheet.with_margin(15)
    sheet.picture((20, -12, 28, -5), slope(sheet.pdf, 20, 20))


@look_alike("outside-bleed")
def a_picture_that_reaches_from_outside_into_the_page(sheet: Sheet) -> None:
    sheet.with_margin(40)
    sheet.clip(-3, 60, 151, 213)
    sheet.picture((-30, 20, 20, 50), slope(sheet.pdf, 600, 360))
