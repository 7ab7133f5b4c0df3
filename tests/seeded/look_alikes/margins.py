"""Shapes near the cut that are no type, and borders that are meant."""

from pikepdf import Name

from tests.seeded.areas_as_lines import ring
from tests.seeded.colours import separation
from tests.seeded.faults.margins import through_letters
from tests.seeded.images import image, slope
from tests.seeded.kinds import look_alike
from tests.seeded.outlines import outlined
from tests.seeded.planting import HEIGHT_MM, WIDTH_MM, Sheet
from tests.seeded.type_by_hand import latin


@look_alike("safe-margin")
def a_row_of_dots_that_runs_off_the_page(sheet: Sheet) -> None:
    sheet.paper(0, 60, WIDTH_MM + 3, 68)
    dots = " ".join(f"{x} 63 1.5 1.5 re" for x in range(20, 160, 3))
    sheet.draw(f"0.1 0.6 0 0 k {dots} f")


@look_alike("safe-margin")
def a_border_of_two_shapes_that_alternate_along_the_cut(sheet: Sheet) -> None:
    tiles = " ".join(f"{x} -3 {2 if x % 6 else 1} 4.5 re" for x in range(-3, 150, 3))
    sheet.area(-3, -3, WIDTH_MM + 3, 12, "0 0.1 0.3 0 k")
    sheet.draw(f"0.1 0.6 0 0 k {tiles} f")


@look_alike("safe-margin")
def hatching_that_runs_off_the_page(sheet: Sheet) -> None:
    lines = " ".join(f"{x} -3 0.5 9 re" for x in range(-3, 151))
    sheet.area(-3, -3, WIDTH_MM + 3, 12, "0 0.1 0.3 0 k")
    sheet.draw(f"0.1 0.6 0 0 k {lines} f")


@look_alike("safe-margin")
def a_texture_of_specks_that_runs_off_the_page(sheet: Sheet) -> None:
    """Specks of all sizes, strewn by a simple rule that repeats after a long while."""
    sheet.area(-3, -3, WIDTH_MM + 3, 20, "0 0.1 0.3 0 k")
    seed, specks = 1, []
    for _ in range(400):
        figures = []
        for _ in range(4):
            seed = seed * 16807 % 2147483647
            figures.append(seed / 2147483647)
        x, y, width, height = figures
        specks.append(f"{x * 154 - 3:.3f} {y * 20 - 3:.3f} {0.5 + width * 2:.3f} {0.5 + height * 2:.3f} re")
    sheet.draw(f"0.1 0.6 0 0 k {' '.join(specks)} f")


@look_alike("safe-margin")
def large_type_in_outlines_that_runs_off_the_page(sheet: Sheet) -> None:
    """Display type of 40 pt through the full bleed and beyond is meant so."""
    paths = outlined(sheet.face(), 60, 60, "Every night", 44)
    sheet.area(50, 55, WIDTH_MM + 3, 75, "0 0.1 0.3 0 k")
    sheet.draw("1 0.8 0 0 k " + " f ".join(paths) + " f")


@look_alike("safe-margin")
def a_short_word_in_large_outlines_that_runs_off_the_page(sheet: Sheet) -> None:
    """Display type of 44 pt through the full bleed and beyond is meant so."""
    paths = outlined(sheet.face(), WIDTH_MM - 30, 60, "Jazz", 44)
    sheet.area(WIDTH_MM - 40, 55, WIDTH_MM + 3, 80, "0 0.1 0.3 0 k")
    sheet.draw("1 0.8 0 0 k " + " f ".join(paths) + " f")


@look_alike("safe-margin")
def a_short_word_in_outlines_well_inside_the_cut(sheet: Sheet) -> None:
    sheet.paper(20, -3, 128, 20)
    sheet.draw("0 0 0 1 k " + " f ".join(outlined(sheet.face(), 30, 6, "Tapas", 10)) + " f")


@look_alike("safe-margin")
def a_few_stars_that_run_off_the_page(sheet: Sheet) -> None:
    sheet.area(20, -3, 128, 12, "0 0.1 0.3 0 k")
    star = [(0, 0), (0.5, 0.9), (1.5, 1), (0.8, 1.7), (1, 2.7), (0, 2.2), (-1, 2.7), (-0.8, 1.7), (-1.5, 1)]
    for x in (40, 44, 48, 52):
        points = [f"{x + across:.2f} {up - 1:.2f}" for across, up in star]
        sheet.draw(f"0.1 0.6 0 0 k {points[0]} m {' '.join(f'{each} l' for each in points[1:])} h f")


@look_alike("safe-margin")
def a_few_bars_of_several_widths_that_run_off_the_page(sheet: Sheet) -> None:
    sheet.area(20, -3, 128, 12, "0 0.1 0.3 0 k")
    bars = ((40, 2), (43, 0.6), (44.5, 3), (49, 1.2))
    sheet.draw("0.1 0.6 0 0 k " + " ".join(f"{x} -3 {width} 5 re f" for x, width in bars))


@look_alike("safe-margin")
def leaves_of_many_sizes_that_run_off_the_page(sheet: Sheet) -> None:
    sheet.area(20, -3, 128, 12, "0 0.1 0.3 0 k")
    for x, y, size in ((40, -1, 3), (44, -0.2, 2), (47, -1.4, 3.6), (52, -0.6, 1.6), (54, -1.9, 2.8)):
        right, top = x + size, y + size
        one = f"{x} {y} m {x} {top} {x + size / 2} {top} {right} {top} c"
        other = f"{right} {y + size / 2} {right} {y} {x + size / 2} {y} c"
        sheet.draw(f"0.6 0.1 0.9 0 k {one} {other} h f")


@look_alike("safe-margin")
def a_line_of_type_in_outlines_well_inside_the_cut(sheet: Sheet) -> None:
    sheet.paper(20, -3, 128, 20)
    paths = outlined(sheet.face(), 30, 6, "Open on weekdays", 10)
    sheet.draw("0 0 0 1 k " + " ".join(paths) + " f")


@look_alike("bleed")
def a_photo_in_a_white_border_of_five_millimetres(sheet: Sheet) -> None:
    sheet.clip(20, 20, 128, 190)
    sheet.picture((5, 5, WIDTH_MM - 5, HEIGHT_MM - 5), slope(sheet.pdf, 1748, 2480))


@look_alike("bleed")
def a_framed_picture_in_the_upper_half(sheet: Sheet) -> None:
    sheet.clip(20, 20, 128, 90)
    sheet.picture((10, 110, WIDTH_MM - 10, HEIGHT_MM - 10), slope(sheet.pdf, 1748, 1240))
    sheet.draw(f"0 0 0 1 K 0.4 w 8 108 {WIDTH_MM - 16} {HEIGHT_MM - 116} re S")


@look_alike("bleed")
def hatching_as_a_ground_that_runs_on(sheet: Sheet) -> None:
    sheet.clip(20, 20, 128, 190)
    lines = " ".join(f"{x} -3 m {x} {HEIGHT_MM / 2} l" for x in range(4, 145))
    sheet.draw(f"0.1 0.6 0 0 K 0.3 w {lines} S")


@look_alike("marks-near-trim", rules="seed-ink.toml")
def a_cutting_line_on_the_cut(sheet: Sheet) -> None:
    """In an ink of its own: it says where to cut, and is not printed."""
    knife = separation(sheet, "Knife", 0, 1, 1, 0)
    sheet.draw(f"{sheet.state(OP=True, OPM=1)} {knife} CS 1 SCN 0.2 w 0 0 {WIDTH_MM} {HEIGHT_MM} re S")


@look_alike("marks-near-trim")
def a_frame_well_inside_the_cut(sheet: Sheet) -> None:
    sheet.draw(f"0 0 0 1 K 0.4 w 4 4 {WIDTH_MM - 8} {HEIGHT_MM - 8} re S")


@look_alike("marks-near-trim")
def a_frame_well_inside_the_cut_filled_as_a_ring(sheet: Sheet) -> None:
    sheet.draw(f"0 0 0 1 k {ring(8, 8, WIDTH_MM - 8, HEIGHT_MM - 8, 0.5)}")


@look_alike("marks-near-trim")
def a_vignette_of_rings_that_runs_off_the_page(sheet: Sheet) -> None:
    """Steps of a blend from the bleed inwards, to next to nothing; some lie just inside the cut."""
    steps = (
        f"{0.4 - step / 50:.2f} 0.1 0 0 k "
        + ring(step * 0.5 - 3, step * 0.5 - 3, WIDTH_MM + 3 - step * 0.5, HEIGHT_MM + 3 - step * 0.5, 0.51)
        for step in range(18)
    )
    sheet.draw(" ".join(steps))


@look_alike("marks-near-trim")
def a_frame_filled_as_a_ring_through_the_bleed(sheet: Sheet) -> None:
    sheet.draw(f"0.2 0.6 0 0 k {ring(-3, -3, WIDTH_MM + 3, HEIGHT_MM + 3, 8)}")


@look_alike("marks-near-trim")
def a_thick_frame_through_the_bleed(sheet: Sheet) -> None:
    """8 mm, half of it beyond the cut, where the page ends it."""
    sheet.draw(f"0.1 0.6 0 0 K 8 w 0 0 {WIDTH_MM} {HEIGHT_MM} re S")


@look_alike("safe-margin")
def a_picture_seen_through_large_letters_that_run_off_the_page(sheet: Sheet) -> None:
    """Display type of 40 pt, through the whole bleed and beyond."""
    sheet.clip(20, 90, 128, 190)
    through_letters(sheet, -5, 40, 40)


@look_alike("bleed")
def a_picture_seen_through_letters_inside_the_page(sheet: Sheet) -> None:
    sheet.clip(20, 90, 128, 190)
    through_letters(sheet, 10, 40, 20)


@look_alike("safe-margin")
def letters_that_clip_nothing_near_the_cut(sheet: Sheet) -> None:
    sheet.draw(f"BT 7 Tr {sheet.font()} 4 Tf 0.2 50 Td {latin('Seven')} Tj ET")


@look_alike("marks-near-trim", rules="seed-ink.toml")
def a_logo_whose_file_has_a_clear_rim(sheet: Sheet) -> None:
    """The picture begins half a millimetre inside the cut, and what shows of it 9 mm inside."""
    sheet.clip(40, 20, 128, 190)
    rows = [
        b"\x00" * 354 if at < 95 or at >= 259 else b"\x00" * 95 + b"\xff" * 164 + b"\x00" * 95
        for at in range(354)
    ]
    rim = image(sheet.pdf, 354, 354, b"".join(rows), ColorSpace=Name.DeviceGray)
    sheet.picture((0.5, 45, 30.5, 75), slope(sheet.pdf, 354, 354, SMask=sheet.pdf.make_indirect(rim)))


@look_alike("marks-near-trim", rules="seed-ink.toml")
def a_logo_whose_file_has_a_white_rim(sheet: Sheet) -> None:
    sheet.clip(40, 20, 128, 190)
    rows = [
        b"\xff" * 354 if at < 95 or at >= 259 else b"\xff" * 95 + b"\x20\x80" * 82 + b"\xff" * 95
        for at in range(354)
    ]
    sheet.picture((0.5, 45, 30.5, 75), image(sheet.pdf, 354, 354, b"".join(rows), ColorSpace=Name.DeviceGray))
