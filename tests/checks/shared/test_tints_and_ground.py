# What colours put on which plate, what lies beneath a mark, and what overprinting leaves of it.
from dataclasses import replace

import pytest

from hotfolder.checks.shared.marks.ground import Ground
from hotfolder.checks.shared.marks.lone_lines import lone_lines
from hotfolder.checks.shared.marks.overprint import kept_process_inks
from hotfolder.checks.shared.marks.tints import (
    inks_at_most,
    inks_laid,
    is_black,
    is_black_alone,
    is_four_full,
    is_paper,
    is_screen_black,
    several_inks,
    tints,
)
from hotfolder.model.colour import Colour, ColourKind, ColourSpace
from hotfolder.model.marks import Mark, MarkState
from tests.artwork.colours import (
    ALL_PLATES,
    BLACK,
    CMYK_BLACK,
    CMYK_WHITE,
    DEVICE_CMYK,
    DEVICE_RGB,
    FOUR_FULL,
    GREY_WHITE,
    ICC_CMYK,
    LAB,
    NO_PLATE,
    RICH_BLACK,
    SCREEN_BLACK,
    SCREEN_RED,
    cmyk,
    spot,
)
from tests.artwork.flyer import Flyer, flyer, mm_box

PALETTE = Colour(ColourSpace("Indexed", ColourKind.RGB, 1, base=DEVICE_RGB), (3.0,))
TILES = Colour(ColourSpace("Pattern", ColourKind.PATTERN, 4, base=DEVICE_CMYK), (1.0, 0.0, 0.0, 0.0))


def test_tints_are_known_where_the_file_decides_them() -> None:
    assert tints(cmyk(10, 0, 0, 40)) == {"Cyan": 0.1, "Magenta": 0.0, "Yellow": 0.0, "Black": 0.4}
    assert tints(BLACK) == {"Black": 1.0}
    assert tints(spot("Leaf Green", tint=0.5)) == {"Leaf Green": 0.5}
    assert tints(TILES) == tints(cmyk(100, 0, 0, 0))  # laid down in a colour given beside the pattern
    assert tints(Colour(NO_PLATE, (1.0,))) == {}
    for unknown in (SCREEN_RED, Colour(LAB, (50.0, 0.0, 0.0)), PALETTE, Colour(DEVICE_CMYK)):
        assert tints(unknown) is None


def test_traces_of_ink_do_not_count() -> None:
    assert inks_laid(cmyk(4, 0, 0, 90)) == frozenset({"Black"})
    assert inks_laid(cmyk(5, 0, 0, 90)) == frozenset({"Cyan", "Black"})
    assert is_black_alone(cmyk(4, 0, 0, 90))
    assert not is_black_alone(cmyk(5, 0, 0, 90))


def test_what_a_picture_may_put_on_paper_follows_from_its_space() -> None:
    assert inks_at_most(Colour(DEVICE_CMYK)) == {"Cyan", "Magenta", "Yellow", "Black"}
    assert len(inks_at_most(PALETTE)) == 4
    assert len(inks_at_most(SCREEN_RED)) == 4
    assert inks_at_most(Colour(DEVICE_RGB, (1.0, 1.0, 1.0))) == frozenset()


@pytest.mark.parametrize(
    ("colour", "several"),
    [
        (CMYK_BLACK, False), (RICH_BLACK, True), (cmyk(0, 100, 0, 0), False), (cmyk(0, 100, 50, 0), True),
        (SCREEN_RED, True), (SCREEN_BLACK, False), (Colour(DEVICE_RGB, (0.5, 0.5, 0.5)), False),
        (spot("Leaf Green"), False), (spot("Leaf Green", "Sky Blue"), True), (ALL_PLATES, False),
    ],
)  # fmt: skip
def test_several_inks(colour: Colour, *, several: bool) -> None:
    assert several_inks(colour) is several


@pytest.mark.parametrize(
    ("colour", "paper"),
    [
        (CMYK_WHITE, True), (GREY_WHITE, True), (Colour(DEVICE_RGB, (1.0, 1.0, 1.0)), True),
        (Colour(LAB, (100.0, 0.0, 0.0)), True), (spot("Leaf Green", tint=0), True),
        (Colour(NO_PLATE, (1.0,)), True), (cmyk(1, 0, 0, 0), False), (PALETTE, False),
        (Colour(DEVICE_CMYK), False), (SCREEN_BLACK, False), (Colour(LAB, (99.0, 0.0, 0.0)), False),
    ],
)  # fmt: skip
def test_paper_white(colour: Colour, *, paper: bool) -> None:
    assert is_paper(colour) is paper


def test_blacks_are_told_apart() -> None:
    assert is_black(RICH_BLACK)
    assert not is_black_alone(RICH_BLACK)
    assert is_black_alone(BLACK)
    assert is_screen_black(SCREEN_BLACK)
    assert not is_screen_black(SCREEN_RED)
    assert not is_black(cmyk(0, 0, 0, 50))
    assert is_four_full(FOUR_FULL)
    assert not is_four_full(RICH_BLACK)


# What lies beneath


def ground(piece: Flyer) -> Ground:
    return Ground(piece.marks)


def test_the_inks_beneath_are_those_of_what_was_painted_before() -> None:
    piece = flyer().with_background(colour=cmyk(100, 0, 0, 0)).with_text((20, 20))
    assert ground(piece).inks(1, piece.marks[1].box) == {"Cyan"}
    assert ground(piece).inks(0, piece.marks[1].box) == frozenset()
    painted_after = flyer().with_text((20, 20)).with_background()
    assert ground(painted_after).inks(0, painted_after.marks[0].box) == frozenset()


def test_an_opaque_cover_hides_what_lies_deeper() -> None:
    piece = (
        flyer()
        .with_background(colour=cmyk(100, 0, 0, 0))
        .with_area(10, 10, 90, 90, colour=cmyk(0, 0, 100, 0))
    )
    inside, across = mm_box(20, 20, 30, 30), mm_box(80, 80, 100, 100)
    assert ground(piece).inks(2, inside) == {"Yellow"}
    assert ground(piece).inks(2, across) == {"Cyan", "Yellow"}
    white = flyer().with_background().with_area(10, 10, 90, 90, colour=CMYK_WHITE, white=True)
    assert ground(white).inks(2, inside) == frozenset()
    glass = flyer().with_background(colour=cmyk(100, 0, 0, 0))
    glass = glass.with_area(10, 10, 90, 90, colour=cmyk(0, 0, 100, 0), state=MarkState(blend_mode="Multiply"))
    assert ground(glass).inks(2, inside) == {"Cyan", "Yellow"}


def test_text_thin_lines_neighbours_and_hidden_things_are_no_ground() -> None:
    place = mm_box(20, 20, 60, 25)
    for piece in (
        flyer().with_text((20, 20), size_pt=40),
        flyer().with_outline(10, 10, 70, 70, 0.3),
        flyer().with_area(60, 20, 90, 25),
        flyer().with_area(10, 10, 90, 90, printed=False),
        flyer().with_area(10, 10, 90, 90, state=MarkState(fill_opacity=0)),
    ):
        assert list(ground(piece).beneath(9, place)) == []


def test_what_stands_within_a_frame_does_not_stand_on_it() -> None:
    within, on_it = mm_box(20, 20, 60, 25), mm_box(12, 20, 20, 25)
    hole = mm_box(15, 15, 85, 85)
    filled = replace(flyer().with_area(10, 10, 90, 90, colour=cmyk(0, 100, 0, 0)).marks[-1], hollow=hole)
    stroked = flyer().with_outline(12.5, 12.5, 87.5, 87.5, 5, cmyk(0, 100, 0, 0), sides=4).marks[-1]
    for frame in (filled, stroked):
        piece = flyer().with_background(colour=cmyk(100, 0, 0, 0)).with_mark(frame)
        assert ground(piece).inks(2, within) == {"Cyan"}
        assert "Magenta" in ground(piece).inks(2, on_it)
    bar = flyer().with_outline(10, 22, 90, 22, 20, cmyk(0, 100, 0, 0), sides=2)
    assert ground(bar).inks(1, within) == {"Magenta"}


def test_small_marks_and_large_ones_are_found_alike() -> None:
    piece = flyer("A3").with_background()
    marks: list[Mark] = [*piece.marks]
    for step in range(50):
        piece = piece.with_area(step * 5, 10, step * 5 + 4, 14, colour=cmyk(0, 0, 0, 100))
        marks.append(piece.marks[-1])
    found = [next(ground(piece).beneath(99, mark.box)) for mark in marks[1:]]
    assert found == marks[1:]


# Overprint (ISO 32000-2, 8.6.7)

ON = MarkState(overprint_fill=True)
MODE_1 = MarkState(overprint_fill=True, overprint_mode=1)
ALL_FOUR = {"Cyan", "Magenta", "Yellow", "Black"}


@pytest.mark.parametrize(
    ("state", "colour", "spared"),
    [
        (MarkState(overprint_mode=1), CMYK_BLACK, set()),
        (ON, CMYK_BLACK, set()),
        (MODE_1, CMYK_BLACK, ALL_FOUR - {"Black"}),
        (MODE_1, CMYK_WHITE, ALL_FOUR),
        (MODE_1, BLACK, set()),  # a grey erases the other process inks in every mode
        (MODE_1, Colour(ICC_CMYK, (0.0, 0.0, 0.0, 1.0)), set()),  # not given directly in DeviceCMYK
        (MODE_1, SCREEN_RED, set()),
        (ON, spot("Leaf Green"), ALL_FOUR),
        (ON, Colour(ColourSpace("Separation", ColourKind.CMYK, 1, ("Black",)), (1.0,)), ALL_FOUR - {"Black"}),
    ],
)
def test_what_overprinting_leaves_of_the_process_inks(
    state: MarkState, colour: Colour, spared: set[str]
) -> None:
    assert kept_process_inks(state, colour, stroke=False) == spared
    assert kept_process_inks(state, colour, stroke=True) == frozenset()


# Lines and strips


def test_a_long_thin_shape_is_a_line_and_a_dot_is_none() -> None:
    line, dot, short = mm_box(10, 10, 60, 10.05), mm_box(80, 10, 80.05, 10.05), mm_box(90, 10, 90.5, 10.2)
    assert lone_lines([line, dot, short]) == [True, False, False]


def test_strips_laid_side_by_side_are_no_lines() -> None:
    gradient = [mm_box(10, 10 + step * 0.05, 60, 10 + (step + 1) * 0.05) for step in range(100)]
    assert lone_lines(gradient) == [False] * 100
    assert lone_lines([mm_box(10, 10 + step, 60, 10.05 + step) for step in range(5)]) == [True] * 5
    upright = [mm_box(10 + step * 0.05, 10, 10 + (step + 1) * 0.05, 60) for step in range(10)]
    assert lone_lines(upright) == [False] * 10


def test_lines_one_after_the_other_and_lines_drawn_twice_are_lines() -> None:
    assert lone_lines([mm_box(10, 10, 30, 10.05), mm_box(30, 10, 60, 10.05)]) == [True, True]
    assert lone_lines([mm_box(10, 10, 30, 10.05)] * 2) == [True, True]
