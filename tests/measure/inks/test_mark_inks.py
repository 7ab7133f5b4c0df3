# Inks of small text and thin lines, on plates painted by hand.

import time
from dataclasses import replace

import numpy as np
import pytest

from hotfolder.measure.inks.mark_inks import MOST_PIXELS_AT_ONCE, marks_with_inks
from hotfolder.model.colour import Colour, ColourKind, ColourSpace
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT
from hotfolder.model.marks import Mark, MarkKind, MarkState, Source, TextFacts
from hotfolder.model.pages import Page
from hotfolder.model.plates import Bytes
from tests.artwork.colours import BLACK, CMYK_WHITE
from tests.measure.inks.hand_plates import laid, mm_box, page_of, painted, plates_of

SHEET = mm_box(0, 0, 200, 300)
BARE = page_of(SHEET, SHEET)


def inks(inks: dict[str, Bytes], *marks: Mark, page: Page = BARE) -> list[tuple[str, ...] | None]:
    """What the plates tell of each mark."""
    with_inks = marks_with_inks(replace(page, marks=marks), plates_of(page, inks))
    assert not isinstance(with_inks, Unmeasured)
    return [mark.inks for mark in with_inks]


FRAME = laid(BARE).frame
HALF = MarkState(fill_opacity=0.5, stroke_opacity=0.5)
LETTERS = mm_box(20, 30, 40, 32)


def text(box: Box = LETTERS, state: MarkState = HALF, size_pt: float = 6, colour: Colour = BLACK) -> Mark:
    facts = TextFacts(size_pt, "Plain", ink=box, visible_ink=box)
    return Mark(MarkKind.TEXT, box.grown(1), box.grown(1), Source("Tj"), colour, state=state, text=facts)


def line(box: Box, width_pt: float = 0.5, state: MarkState = HALF) -> Mark:
    return Mark(MarkKind.PATH, box, box, Source("S"), stroke=BLACK, state=state, line_width_pt=width_pt)


def strip(box: Box, state: MarkState = HALF) -> Mark:
    return Mark(MarkKind.PATH, box, box, Source("f"), BLACK, state=state)


def bars(box: Box, percent: float) -> list[tuple[Box, float]]:
    """Upright strokes of 0.3 mm every millimetre, which fill no pixel of a third of a millimetre."""
    places = np.arange(box.x0, box.x1 - 0.3 * CELL_PT, CELL_PT)
    return [(Box(x, box.y0, x + 0.3 * CELL_PT, box.y1), percent) for x in places]


def cyan_and_black(*boxes: Box, cyan: float, black: float, ground: float = 60) -> dict[str, Bytes]:
    """Letters in these percentages on cyan ground."""
    strokes = [bars(box, 1) for box in boxes]
    return {
        "Cyan": painted(FRAME, (SHEET, ground), *((bar, cyan) for each in strokes for bar, _ in each)),
        "Black": painted(FRAME, *((bar, black) for each in strokes for bar, _ in each)),
    }


HALF_BLACK = cyan_and_black(LETTERS, cyan=30, black=50)


def test_the_inks_that_differ_inside_the_letters_are_theirs() -> None:
    assert inks(HALF_BLACK, text()) == [("Cyan", "Black")]
    assert inks(cyan_and_black(LETTERS, cyan=60, black=100), text()) == [("Black",)]
    assert inks(cyan_and_black(LETTERS, cyan=30, black=0), text(colour=CMYK_WHITE)) == [("Cyan",)]
    assert inks(cyan_and_black(LETTERS, cyan=60, black=0), text(colour=CMYK_WHITE)) == [()]


@pytest.mark.parametrize(
    ("state", "told"),
    [
        (MarkState(), False), (MarkState(blend_mode="Compatible"), False),
        (MarkState(overprint_stroke=True, stroke_opacity=0.5), False),  # and nothing is stroked
        (MarkState(fill_opacity=0.99), True), (MarkState(blend_mode="Multiply"), True),
        (MarkState(soft_mask=True), True),
    ],
)  # fmt: skip
def test_only_marks_that_mix_with_what_lies_beneath_are_looked_at(state: MarkState, *, told: bool) -> None:
    assert inks(HALF_BLACK, text(state=state)) == [("Cyan", "Black") if told else None]


def test_an_opaque_mark_that_takes_ink_away_knocks_out_and_has_the_inks_of_its_colour() -> None:
    overprint = text(state=MarkState(overprint_fill=True))
    assert inks(HALF_BLACK, overprint) == [None]
    assert inks(cyan_and_black(LETTERS, cyan=60, black=100), overprint) == [("Black",)]


def test_text_of_any_size_is_told_and_wide_lines_are_left_to_their_colour() -> None:
    for size_pt in (6, 14, 14.1, 100):
        assert inks(HALF_BLACK, text(size_pt=size_pt)) == [("Cyan", "Black")]
    plates = cyan_and_black(mm_box(20, 30, 20.5, 60), cyan=30, black=50)
    stroke = mm_box(20, 30, 20.3, 60)
    assert inks(plates, line(stroke, 2.8)) == [("Cyan", "Black")]
    assert inks(plates, line(stroke, 2.9)) == [None]
    assert inks(plates, strip(stroke)) == [("Cyan", "Black")]
    assert inks(HALF_BLACK, strip(LETTERS)) == [None]


@pytest.mark.parametrize(
    "changes", [{"printed": False}, {"visible": None}, {"covered": True}, {"repeated": True}]
)
def test_what_does_not_show_or_stands_for_many_is_not_looked_at(changes: dict[str, object]) -> None:
    hidden = replace(text(), **changes)  # type: ignore[arg-type] # a mark's own fields
    assert inks(HALF_BLACK, hidden) == [None]


def test_a_line_that_leaves_no_trace_may_be_too_thin_for_these_plates() -> None:
    stroke = mm_box(20, 30, 60, 30.02)
    assert inks({"Cyan": painted(FRAME, (SHEET, 60))}, line(stroke, 0.05)) == [None]
    drawn = {"Cyan": painted(FRAME, (SHEET, 60)), "Black": painted(FRAME, (stroke, 100))}
    assert inks(drawn, line(stroke, 0.05)) == [("Black",)]


def test_words_and_lines_of_a_paragraph_are_told_together() -> None:
    """Lines 2.8 mm apart whose letters leave 0.4 mm between them: no ground around each one alone."""
    boxes = [mm_box(x, 30 + 2.4 * row, x + 18.5, 32 + 2.4 * row) for row in range(4) for x in (20, 39, 58)]
    marks = [text(box) for box in boxes]
    plates = cyan_and_black(*boxes, cyan=30, black=50)
    assert inks(plates, *marks) == [("Cyan", "Black")] * 12
    assert (
        inks(plates, *(replace(mark, printed=number == 4) for number, mark in enumerate(marks)))
        == [None] * 12
    )


def test_each_piece_is_told_alone_where_not_all_stand_on_the_same_ground() -> None:
    one, two = mm_box(20, 30, 40, 32), mm_box(44, 30, 64, 32)
    plates = cyan_and_black(one, cyan=30, black=50)
    plates["Cyan"] = painted(FRAME, (mm_box(0, 0, 42, 300), 60), *((bar, 30) for bar, _ in bars(one, 1)))
    plates["Black"] = painted(FRAME, *((bar, 50) for box in (one, two) for bar, _ in bars(box, 1)))
    assert inks(plates, text(one), text(two)) == [("Cyan", "Black"), ("Black",)]
    touching = mm_box(41, 30, 64, 32)
    assert inks(plates, text(one), text(touching)) == [("Cyan", "Black"), None]


def test_nothing_is_told_on_a_photo_or_beside_other_things() -> None:
    photo = HALF_BLACK | {"Magenta": _slope()}
    assert inks(photo, text()) == [None]
    ruled = dict(HALF_BLACK)
    ruled["Black"] = np.maximum(ruled["Black"], painted(FRAME, (mm_box(0, 30.8, 200, 31.1), 80)))
    assert inks(ruled, text()) == [None]


def _slope() -> Bytes:
    columns = np.linspace(0, 255, FRAME.width_px).astype(np.uint8)
    return np.broadcast_to(columns, (FRAME.height_px, FRAME.width_px)).copy()


def test_at_the_edge_of_the_sheet_the_ground_on_the_other_sides_counts() -> None:
    at_edge = mm_box(0, 0, 20, 2)
    assert inks(cyan_and_black(at_edge, cyan=30, black=50), text(at_edge)) == [("Cyan", "Black")]
    for beside in (mm_box(200, 20, 200, 22), mm_box(20, 300, 40, 300), mm_box(-9, 20, -5, 22)):
        assert inks(HALF_BLACK, text(beside)) == [None]


def test_on_a_page_blended_in_screen_colours_only_opaque_gradients_are_told() -> None:
    screen = ColourSpace("DeviceRGB", ColourKind.RGB, 3)
    assert inks(HALF_BLACK, text(), page=replace(BARE, blend_space=screen)) == [None]
    process = ColourSpace("DeviceCMYK", ColourKind.CMYK, 4)
    gradient = replace(text(), fill=Colour(process))
    assert inks(HALF_BLACK, gradient, page=replace(BARE, blend_space=screen)) == inks(HALF_BLACK, gradient)
    assert inks(HALF_BLACK, text(), page=replace(BARE, blend_space=process)) == [("Cyan", "Black")]


def test_pages_without_marks_or_plates_stay_as_they_are() -> None:
    unread = Unmeasured("marks", "it ends too early")
    assert marks_with_inks(replace(BARE, marks=unread), plates_of(BARE, HALF_BLACK)) == unread
    assert inks({}, text()) == [None]
    assert inks(HALF_BLACK) == []


def test_a_line_across_the_whole_sheet_is_not_searched_for_in_it() -> None:
    diagonal = line(mm_box(10, 10, 190, 290))
    pixels = 180 * 280 * FRAME.px_per_mm**2
    assert pixels > MOST_PIXELS_AT_ONCE
    assert inks(HALF_BLACK, diagonal) == [None]


def test_thousands_of_pieces_are_told_in_a_moment() -> None:
    boxes = [
        mm_box(4 + 9.5 * (n % 20), 4 + 2.8 * (n // 20), 10 + 9.5 * (n % 20), 6 + 2.8 * (n // 20))
        for n in range(2002)
    ]
    plates = {
        "Cyan": painted(FRAME, (SHEET, 60)),
        "Black": np.zeros((FRAME.height_px, FRAME.width_px), np.uint8),
    }
    # Two kinds in turn, so that none can be told together with its neighbour.
    marks = [text(box, HALF if n % 2 else MarkState(blend_mode="Multiply")) for n, box in enumerate(boxes)]
    page = replace(BARE, marks=tuple(marks))
    started = time.process_time()
    with_inks = marks_with_inks(page, plates_of(BARE, plates))
    took = time.process_time() - started
    assert not isinstance(with_inks, Unmeasured)
    assert [mark.inks for mark in with_inks] == [()] * len(boxes)
    assert took < 1  # a tenth of a second, on a machine at rest
