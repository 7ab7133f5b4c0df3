# Lines of type in outlines, told from other rows of shapes; letters are boxes in millimetres.
import time
from collections.abc import Callable, Sequence
from dataclasses import replace

import pytest

from hotfolder.checks.shared.marks.outlined_type import TypeLine, type_lines
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind, Source
from tests.artwork.colours import BLUE, RICH_BLACK
from tests.measure.inks.hand_plates import mm_box

NOWHERE = Box(0, 0, 0, 0)
# Widths and heights of the letters of "Oxygen at noon" in a typeface whose small letters are 1.5 mm high, and
# how far they hang below the line.
LETTERS = (
    (2.1, 2.2, 0.03), (1.4, 1.5, 0), (1.5, 2.1, 0.6), (1.6, 2.1, 0.6), (1.5, 1.55, 0.03), (1.5, 1.5, 0),
    None, (1.4, 1.55, 0.03), (0.8, 2, 0.02), None, (1.5, 1.5, 0), (1.6, 1.56, 0.03), (1.6, 1.56, 0.03),
    (1.5, 1.5, 0),
)  # fmt: skip


def line(x: float = 20, y: float = 5) -> list[Box]:
    letters: list[Box] = []
    for letter in LETTERS:
        if letter is None:
            x += 1.1
            continue
        width, height, below = letter
        letters.append(mm_box(x, y - below, x + width, y - below + height))
        x += width + 0.25
    return letters


def many(boxes: Sequence[Box]) -> list[Mark]:
    return [Mark(MarkKind.PATH, box, box, Source("f"), fill=RICH_BLACK) for box in boxes]


def one(boxes: Sequence[Box]) -> list[Mark]:
    around = Box.around([corner for box in boxes for corner in box.corners])
    return [Mark(MarkKind.PATH, around, around, Source("f"), fill=RICH_BLACK, pieces=tuple(boxes))]


def only(marks: Sequence[Mark]) -> TypeLine:
    (only_line,) = type_lines(marks, NOWHERE)
    return only_line


@pytest.mark.parametrize("drawn", [many, one])
def test_a_line_of_letters_is_one_line(drawn: Callable[[Sequence[Box]], list[Mark]]) -> None:
    type_line = only(drawn(line()))
    assert type_line.box == Box.around([corner for box in line() for corner in box.corners])
    assert type_line.size_pt == pytest.approx(2.1 / 0.7 * 72 / 25.4, abs=0.2)


@pytest.mark.parametrize("turn", [(0, -1), (-1, 0), (0, 1)])
def test_whichever_way_it_is_turned(turn: tuple[int, int]) -> None:
    cos, sin = turn
    turned = [Box.around([(x * cos - y * sin, x * sin + y * cos) for x, y in box.corners]) for box in line()]
    assert only(many(turned)).box == Box.around([corner for box in turned for corner in box.corners])


def test_what_lies_clear_of_the_edges_is_left_out() -> None:
    assert type_lines(many(line()), mm_box(0, 0, 148, 210)) == []
    assert type_lines(many(line()), mm_box(0, 6, 148, 210)) != []


def test_counters_are_no_letters() -> None:
    counters = [box.grown(-0.6) for box in line()]
    assert only(one([*line(), *counters])).box == only(one(line())).box


def test_each_line_of_a_paragraph_is_found() -> None:
    shapes = [box for y in (5, 20) for box in line(y=y)]
    assert len(type_lines(many(shapes), NOWHERE)) == 2


@pytest.mark.parametrize(
    "shapes",
    [
        [mm_box(x, 5, x + 1.5, 6.5) for x in range(0, 140, 3)],
        [mm_box(x, 5, x + (1.5 if x % 6 else 3), 6.5) for x in range(0, 140, 3)],
        [mm_box(x, 5, x + 0.3, 25) for x in range(140)],
        [mm_box(x, 5 + x % 7 * 1.3, x + 1 + x % 3, 7 + x % 11 * 0.9) for x in range(0, 140, 3)],
        line()[:5],
        [],
    ],
    ids=["dots", "two shapes in turn", "hatching", "a texture", "a logo of five letters", "nothing"],
)
@pytest.mark.parametrize("drawn", [many, one])
def test_other_shapes_are_no_type(
    drawn: Callable[[Sequence[Box]], list[Mark]], shapes: Sequence[Box]
) -> None:
    assert type_lines(drawn(shapes) if shapes else [], NOWHERE) == []


def test_shapes_of_many_colours_are_an_illustration() -> None:
    marks = [replace(mark, fill=BLUE) if at % 2 else mark for at, mark in enumerate(many(line()[:10]))]
    assert type_lines(marks, NOWHERE) == []


def test_what_does_not_show_is_no_type() -> None:
    assert type_lines([replace(mark, printed=False) for mark in many(line())], NOWHERE) == []


def test_a_map_is_not_looked_through() -> None:
    assert type_lines(many(line() * 2_000), NOWHERE) == []


def test_thousands_of_shapes_at_one_place_take_a_moment() -> None:
    started = time.process_time()
    assert type_lines(many(line() * 400), NOWHERE) == []
    assert time.process_time() - started < 2  # a fifth of that on a machine at rest


def test_many_short_rows_of_shapes_take_no_time() -> None:
    sizes = ((2, 4), (2.5, 5.5), (3, 4), (3.4, 4))
    rows = [
        Box(column * 40 + place * 4, row * 9, column * 40 + place * 4 + width, row * 9 + height)
        for column in range(70)
        for row in range(70)
        for place, (width, height) in enumerate(sizes)
    ]
    began = time.process_time()
    assert type_lines(many(rows), NOWHERE) == []
    assert time.process_time() - began < 10
