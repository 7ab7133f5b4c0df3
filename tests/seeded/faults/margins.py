"""Text near the cut that is no text to the file any more, and what nearly reaches the cut."""

from hotfolder.model.geometry import Box
from tests.seeded.areas_as_lines import ring
from tests.seeded.images import slope
from tests.seeded.kinds import Told, fault
from tests.seeded.outlines import outlined
from tests.seeded.planting import HEIGHT_MM, UNIT, WIDTH_MM, Sheet
from tests.seeded.type_by_hand import latin

_WORDS = "Open on weekdays"


@fault("safe-margin", "near-trim")
def a_line_of_type_in_outlines_near_the_cut_as_many_paths(sheet: Sheet) -> Told:
    """Capitals of 10 pt: their feet stand 2.5 mm from the cut."""
    sheet.paper(20, -3, 128, 20)
    paths = outlined(sheet.face(), 30, 2.5, _WORDS, 10)
    sheet.draw("0 0 0 1 k " + " f ".join(paths) + " f")
    return Told((2.5,), "mm", within=0.2, inside=sheet.box(28, 1, 90, 8))


@fault("safe-margin", "near-trim")
def a_line_of_type_in_outlines_near_the_cut_as_one_path(sheet: Sheet) -> Told:
    """As wide as half of the page."""
    sheet.paper(10, HEIGHT_MM - 20, 138, HEIGHT_MM + 3)
    paths = outlined(sheet.face(), 20, HEIGHT_MM - 6, "Every night at seven, except on Mondays", 9)
    sheet.draw("0 0 0 1 k " + " ".join(paths) + " f")
    # A cap height of 0.7 em, and half of a stroke above it.
    return Told((3.6,), "mm", within=0.4, inside=sheet.box(18, HEIGHT_MM - 8, 138, HEIGHT_MM))


@fault("safe-margin", "cut-by-trim")
def a_line_of_type_in_outlines_upright_at_the_cut(sheet: Sheet) -> Told:
    """Turned by 90 degrees: the tops of the letters point to the left edge and lie 0.6 mm from it."""
    sheet.paper(0.2, 30, 60, 150)
    paths = outlined(sheet.face(), 0, 0, _WORDS, 10)
    sheet.draw(f"0 1 -1 0 3.2 40 cm 0 0 0 1 k {' f '.join(paths)} f")
    return Told((0.6,), "mm", within=0.4, inside=sheet.box(0, 38, 5, 110))


@fault("safe-margin", "cut-by-trim")
def a_line_of_white_type_in_outlines_that_runs_over_the_cut(sheet: Sheet) -> Told:
    """The page ends with the bleed, and so does what is seen of it."""
    sheet.area(80, -3, WIDTH_MM + 3, 40, "0.8 0.5 0 0.2 k")
    paths = outlined(sheet.face(), WIDTH_MM - 25, 20, _WORDS, 10)
    sheet.draw("0 0 0 0 k " + " ".join(paths) + " f")
    return Told((-3,), "mm", within=0.2, inside=sheet.box(100, 18, WIDTH_MM + 25, 26))


@fault("safe-margin", "near-trim")
def a_short_word_in_outlines_near_the_cut_as_many_paths(sheet: Sheet) -> Told:
    """Capitals of 10 pt: their feet stand 2.5 mm from the cut."""
    sheet.paper(20, -3, 128, 20)
    paths = outlined(sheet.face(), 30, 2.5, "Tapas", 10)
    sheet.draw("0 0 0 1 k " + " f ".join(paths) + " f")
    return Told((2.5,), "mm", within=0.2, inside=sheet.box(28, 1, 60, 8))


@fault("safe-margin", "cut-by-trim")
def a_short_word_in_outlines_over_the_cut_as_one_path(sheet: Sheet) -> Told:
    """White on a ground, and half of the letters beyond the cut."""
    sheet.area(20, -3, 128, 20, "0.8 0.5 0 0.2 k")
    paths = outlined(sheet.face(), 30, -1, "Cider", 10)
    sheet.draw("0 0 0 0 k " + " ".join(paths) + " f")
    return Told((-1.2,), "mm", within=0.2, inside=sheet.box(28, -3, 60, 8))


@fault("safe-margin", "cut-by-trim")
def a_short_word_in_outlines_upright_at_the_cut(sheet: Sheet) -> Told:
    sheet.paper(0.2, 30, 60, 150)
    paths = outlined(sheet.face(), 0, 0, "Tapas", 10)
    sheet.draw(f"0 1 -1 0 3.2 40 cm 0 0 0 1 k {' f '.join(paths)} f")
    return Told((0.6,), "mm", within=0.4, inside=sheet.box(0, 38, 5, 110))


@fault("marks-near-trim", "isolated")
def a_box_a_diamond_and_a_triangle_near_the_cut(sheet: Sheet) -> Told:
    """The parts of a sign that has nothing of letters."""
    sheet.area(20, -3, 128, 12, "0 0.1 0.3 0 k")
    sheet.draw(
        "0.1 0.6 0 0 k 40 2 3 3 re f 45 2 m 46.5 3.5 l 45 5 l 43.5 3.5 l h f 47 2 m 50.6 2 l 48.8 5 l h f"
    )
    return Told((2,), "mm", inside=sheet.box(39, 1, 52, 6))


@fault("bleed", "not-drawn")
def a_photo_that_fills_the_page_and_ends_before_the_cut(sheet: Sheet) -> Told:
    """0.8 mm all round: somebody meant it to bleed."""
    sheet.clip(20, 20, 128, 190)
    sheet.picture((0.8, 0.8, WIDTH_MM - 0.8, HEIGHT_MM - 0.8), slope(sheet.pdf, 1748, 2480))
    return Told((-0.8,), "mm", inside=sheet.bleed)


@fault("bleed", "not-drawn")
def hatching_as_a_ground_that_ends_at_the_cut(sheet: Sheet) -> Told:
    """Lines of 0.3 mm, each a millimetre from the next."""
    sheet.clip(20, 20, 128, 190)
    lines = " ".join(f"{x} 0 m {x} {HEIGHT_MM / 2} l" for x in range(4, 145))
    sheet.draw(f"0.1 0.6 0 0 K 0.3 w {lines} S")
    return Told((0,), "mm", inside=sheet.box(0, -3, WIDTH_MM, 0))


@fault("marks-near-trim", "frame")
def a_thin_frame_on_the_cut(sheet: Sheet) -> Told:
    """Half of its line lies beyond the cut."""
    sheet.draw(f"0 0 0 1 K 0.4 w 0 0 {WIDTH_MM} {HEIGHT_MM} re S")
    return Told((0,), "mm", within=0.01, boxes=(sheet.box(-0.2, -0.2, WIDTH_MM + 0.2, HEIGHT_MM + 0.2),))


@fault("marks-near-trim", "frame")
def a_thin_frame_on_the_cut_filled_as_a_ring(sheet: Sheet) -> Told:
    right, top = WIDTH_MM + 0.2, HEIGHT_MM + 0.2
    sheet.draw(f"0 0 0 1 k {ring(-0.2, -0.2, right, top, 0.4)}")
    return Told((0,), "mm", boxes=(sheet.box(-0.2, -0.2, right, top),))


@fault("marks-near-trim", "frame")
def a_frame_near_the_cut_filled_as_a_ring(sheet: Sheet) -> Told:
    sheet.draw(f"0 0 0 1 k {ring(1.5, 1.5, WIDTH_MM - 1.5, HEIGHT_MM - 1.5, 2, how='direction')}")
    return Told((1.5,), "mm", boxes=(sheet.box(1.5, 1.5, WIDTH_MM - 1.5, HEIGHT_MM - 1.5),))


@fault("marks-near-trim", "frame")
def a_frame_near_the_cut_of_a_rectangle_and_a_white_one(sheet: Sheet) -> Told:
    """The rectangle is no ground that stops short of the cut: hardly anything of it is left."""
    sheet.paper(-3, -3, WIDTH_MM + 3, HEIGHT_MM + 3)
    sheet.draw(f"0 0 0 1 k {ring(1.5, 1.5, WIDTH_MM - 1.5, HEIGHT_MM - 1.5, 0.4, how='white')}")
    return Told((1.5,), "mm", boxes=(sheet.box(1.5, 1.5, WIDTH_MM - 1.5, HEIGHT_MM - 1.5),))


@fault("marks-near-trim", "frame")
def a_frame_of_four_lines_along_the_cut(sheet: Sheet) -> Told:
    right, top = WIDTH_MM - 1.5, HEIGHT_MM - 1.5
    sides = (f"1.5 1.5 m {right} 1.5 l", f"{right} 1.5 m {right} {top} l", f"{right} {top} m 1.5 {top} l",
             f"1.5 {top} m 1.5 1.5 l")  # fmt: skip
    sheet.draw("0 0 0 1 K 0.4 w " + " S ".join(sides) + " S")
    return Told((1.3,), "mm", within=0.01, inside=sheet.trim)


@fault("safe-margin", "cut-by-trim")
def a_picture_seen_through_letters_that_run_over_the_cut(sheet: Sheet) -> Told:
    """Text in rendering mode 7 clips, and the picture is its colour; it ends in the bleed."""
    sheet.clip(20, 90, 128, 190)
    box = through_letters(sheet, -1.5, 40, 10)
    return Told((-1.5,), "mm", within=0.3, boxes=(box,), close_pt=4)


@fault("safe-margin", "near-trim")
def a_picture_seen_through_letters_near_the_cut(sheet: Sheet) -> Told:
    sheet.clip(20, 90, 128, 190)
    box = through_letters(sheet, 2, 40, 10)
    return Told((2,), "mm", within=0.4, boxes=(box,), close_pt=4)


def through_letters(sheet: Sheet, x: float, y: float, size_pt: float) -> Box:
    """A picture over the foot of the page, seen through a line of text; the text's box."""
    words = "Every night"
    picture = sheet.resource("XObject", slope(sheet.pdf, 1182, 709))
    sheet.draw(
        f"BT 7 Tr {sheet.font()} {size_pt / UNIT:.5f} Tf {x} {y} Td {latin(words)} Tj ET"
        f" 100 0 0 60 -5 20 cm {picture} Do"
    )
    return sheet.text_box(x, y, words, size_pt)
