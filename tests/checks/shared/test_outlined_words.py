# Short words in outlines, told from ornaments, bars, dots and the parts of logos; boxes are in millimetres.
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import pytest

from hotfolder.checks.shared.marks.outlined_type import TypeLine, type_lines
from hotfolder.checks.shared.marks.outlined_words import short_words
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind, Source
from tests.artwork.colours import BLUE, RICH_BLACK
from tests.measure.inks.hand_plates import mm_box

NOWHERE = Box(0, 0, 0, 0)


@dataclass(frozen=True)
class Part:
    """A shape: its sides, how wide and high it is, how far it hangs below the line, the room behind it."""

    sides: int
    width: float
    height: float
    below: float = 0.0
    room: float = 0.25


# Letters of a plain typeface whose capitals are 2.2 mm high. An L has six sides, a T eight, an E twelve.
B, A, R = Part(20, 1.5, 2.2), Part(11, 2.1, 2.2, room=0.05), Part(17, 1.6, 2.2)
T, E, L, STROKE = Part(8, 1.8, 2.2), Part(12, 1.4, 2.2), Part(6, 1.3, 2.2), Part(4, 0.3, 2.2)
ROUND, K = Part(8, 2.1, 2.26, 0.03), Part(11, 1.7, 2.2)
SMALL_P, SMALL_E, SMALL_N = Part(14, 1.3, 2.1, 0.6), Part(14, 1.4, 1.64, 0.03), Part(12, 1.2, 1.6)
G, E_ACUTE = Part(16, 1.3, 2.2, 0.6), Part(24, 1.2, 2.3, 0.03)

BOX, CIRCLE, TRIANGLE = Part(4, 2.2, 2.2), Part(4, 2.2, 2.2), Part(3, 2.5, 2.2)
STAR, PLUS = Part(10, 2.2, 2.1), Part(12, 2.2, 2.2)


def laid(*parts: Part, x: float = 20, y: float = 5) -> list[tuple[Box, int]]:
    found = []
    for part in parts:
        found.append((mm_box(x, y - part.below, x + part.width, y - part.below + part.height), part.sides))
        x += part.width + part.room
    return found


def many(shapes: Sequence[tuple[Box, int]]) -> list[Mark]:
    return [Mark(MarkKind.PATH, box, box, Source("f"), fill=RICH_BLACK, sides=sides) for box, sides in shapes]


def one(shapes: Sequence[tuple[Box, int]]) -> list[Mark]:
    boxes = tuple(box for box, _ in shapes)
    around = Box.around([corner for box in boxes for corner in box.corners])
    sides = sum(sides for _, sides in shapes)
    return [Mark(MarkKind.PATH, around, around, Source("f"), fill=RICH_BLACK, pieces=boxes, sides=sides)]


def found(marks: Sequence[Mark], clear: Box = NOWHERE) -> list[TypeLine]:
    return short_words(marks, clear, type_lines(marks, clear))


WORDS = {
    "BAR": (B, A, R), "OK": (ROUND, K), "TEL": (T, E, L), "LIBRE": (L, STROKE, B, R, E),
    "Open": (ROUND, SMALL_P, SMALL_E, SMALL_N),
    "Reg": (R, SMALL_E, G), "Bé": (B, E_ACUTE), "LATTE": (L, A, T, T, E),
}  # fmt: skip


@pytest.mark.parametrize("word", WORDS)
@pytest.mark.parametrize("drawn", [many, one])
def test_a_short_word_is_one(drawn: Callable[[Sequence[tuple[Box, int]]], list[Mark]], word: str) -> None:
    shapes = laid(*WORDS[word])
    if drawn is one and len(shapes) == 2:
        return  # of two shapes in one path nothing but their places is known
    (line,) = found(drawn(shapes))
    assert line.box == Box.around([corner for box, _ in shapes for corner in box.corners])
    assert line.size_pt == pytest.approx(2.2 / 0.7 * 72 / 25.4, rel=0.4)


@pytest.mark.parametrize("turn", [(0, -1), (-1, 0), (0, 1)])
def test_whichever_way_it_is_turned(turn: tuple[int, int]) -> None:
    cos, sin = turn
    shapes = [
        (Box.around([(x * cos - y * sin, x * sin + y * cos) for x, y in box.corners]), sides)
        for box, sides in laid(B, A, R)
    ]
    (line,) = found(many(shapes))
    assert line.box == Box.around([corner for box, _ in shapes for corner in box.corners])


OTHERS = {
    "dots": (CIRCLE,) * 4,
    "stars, all the same": (STAR,) * 5,
    "bars of several widths": (Part(4, 0.4, 2.2), Part(4, 0.8, 2.2), Part(4, 0.4, 2.2), Part(4, 1.2, 2.2)),
    "a chart of bars": (Part(4, 1, 1), Part(4, 1, 2.2), Part(4, 1, 1.6)),
    "a flag": (Part(4, 1.0, 2.2, room=0), Part(4, 1.3, 2.2, room=0), Part(4, 1.0, 2.2)),
    "a logo of a box, a circle and a triangle": (BOX, CIRCLE, TRIANGLE),
    "a logo whose parts rise to three heights": (B, Part(12, 1.2, 1.5), Part(16, 1.4, 1.0), Part(9, 2, 2.2)),
    "a logo on no line": (B, replace(A, below=0.8), replace(R, below=-0.5), replace(E, below=0.4)),
    "leaves far apart": (replace(B, room=4), replace(A, room=4), R),
    "stars and plus signs in turn": (STAR, PLUS) * 4,
    "three stars and another shape": (STAR, STAR, STAR, PLUS),
    "a crop mark": (Part(4, 5, 0.1), Part(4, 0.1, 5)),
    "two buttons with round corners": (Part(8, 5, 2.2, room=1), Part(8, 4, 2.2)),
    "three buttons with round corners": (
        Part(8, 3, 2.2, room=1),
        Part(8, 2.5, 2.2, room=1),
        Part(8, 3.2, 2.2),
    ),
    "one letter": (B,),
    "nothing": (),
}


@pytest.mark.parametrize("shapes", OTHERS)
@pytest.mark.parametrize("drawn", [many, one])
def test_other_shapes_are_no_word(
    drawn: Callable[[Sequence[tuple[Box, int]]], list[Mark]], shapes: str
) -> None:
    parts = OTHERS[shapes]
    assert found(drawn(laid(*parts)) if parts else []) == []


def test_letters_of_an_illustration_are_none() -> None:
    """Something else in their colour stands among them."""
    shapes = laid(B, A, R)
    assert found(many([*shapes, (mm_box(18, 4, 40, 5.5), 30)])) == []
    assert found(many([*shapes, (mm_box(18, 20, 40, 30), 30)])) != []
    white_page = (mm_box(0, 0, 148, 210), 4)
    assert found(many([white_page, *shapes])) != []


def test_shapes_of_several_colours_are_none() -> None:
    first, *others = many(laid(B, A, R))
    second, third = others
    assert found([first, replace(second, fill=BLUE), third]) == []


def test_what_does_not_show_or_lies_clear_of_the_edges_is_left_out() -> None:
    word = many(laid(B, A, R))
    assert found([replace(mark, printed=False) for mark in word]) == []
    assert found(word, mm_box(0, 0, 148, 210)) == []
    assert found(word, mm_box(0, 6, 148, 210)) != []


def test_a_line_of_type_is_told_once() -> None:
    marks = many(laid(ROUND, SMALL_P, SMALL_E, SMALL_N, B, A, R, T, E, L))
    assert type_lines(marks, NOWHERE) != []
    assert found(marks) == []


def test_a_map_is_not_looked_through() -> None:
    assert short_words(many(laid(B, A, R) * 3_000), NOWHERE, []) == []


def test_thousands_of_words_take_a_moment() -> None:
    shapes = [
        each for at in range(900) for each in laid(B, A, R, x=20 + 30 * (at % 40), y=5 + 9 * (at // 40))
    ]
    started = time.process_time()
    words = found(many(shapes))
    assert len(words) >= 100
    assert time.process_time() - started < 2  # a fifth of that on a machine at rest
