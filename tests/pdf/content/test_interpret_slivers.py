# Lines that are drawn as areas: how wide they are, and what they go around.

import math

import pytest

from hotfolder.model.geometry import Box
from tests.pdf.drawn_page import only, read

# A ring of one path, and how it is filled.
_FRAME = "20 20 40 40 re {0} f*"
_INNER = "20.04 20.04 39.92 39.92 re"
_BACKWARDS = "20.04 20.04 m 20.04 59.96 l 59.96 59.96 l 59.96 20.04 l h"
_FORWARDS = "20.04 20.04 m 59.96 20.04 l 59.96 59.96 l 20.04 59.96 l h"


def sliver(content: str) -> float | None:
    return only(read(content.encode())).sliver_pt


def hollow(content: str) -> Box | None:
    return only(read(content.encode())).hollow


def circle(radius: float, *, backwards: bool = False) -> str:
    """A circle of four curves around 100, 100."""
    k = radius * 0.5522847498
    up = -1 if backwards else 1
    quarter = [(radius, 0), (radius, k), (k, radius)]
    points = [*quarter, *((-y, x) for x, y in quarter), *((-x, -y) for x, y in quarter)]
    points += [*((y, -x) for x, y in quarter), (radius, 0)]
    at = [f"{100 + x} {100 + up * y}" for x, y in points]
    return f"{at[0]} m " + " ".join(f"{' '.join(at[n : n + 3])} c" for n in range(1, 13, 3)) + " h"


@pytest.mark.parametrize(
    "content",
    [
        f"20 20 40 40 re {_INNER} f*",
        f"20 20 40 40 re {_BACKWARDS} f*",
        f"20 20 40 40 re {_BACKWARDS} f",
        f"{_BACKWARDS} 20 20 40 40 re f",
        f"0.6 0.8 -0.8 0.6 50 0 cm 20 20 40 40 re {_INNER} f*",
    ],
)
def test_a_frame_filled_as_a_ring_is_as_wide_as_its_sides(content: str) -> None:
    # A circle that touches both outer sides of a corner and the inner corner is 1.17 of them.
    assert sliver(content) == pytest.approx(0.04, rel=0.2)
    assert hollow(content) is not None


def test_two_rectangles_of_one_direction_fill_one_another() -> None:
    content = f"20 20 40 40 re {_FORWARDS} f"
    assert sliver(content) is None
    assert hollow(content) is None


def test_a_frame_with_one_thick_side_is_no_line() -> None:
    content = "20 20 40 40 re 20.04 20.04 39.92 30 re f*"
    assert sliver(content) is None
    assert hollow(content) == Box(20.04, 20.04, 59.96, 50.04)


def test_a_thick_ring_is_no_line_and_goes_around_something() -> None:
    content = "20 20 240 240 re 30 30 220 220 re f*"
    assert sliver(content) is None
    assert hollow(content) == Box(30, 30, 250, 250)


@pytest.mark.parametrize("how", ["f*", "f"])
def test_a_circular_ring_is_as_wide_as_its_radii_differ(how: str) -> None:
    content = f"{circle(30)} {circle(29.8, backwards=True)} {how}"
    assert sliver(content) == pytest.approx(0.2, rel=0.05)
    box = hollow(content)
    assert box is not None
    assert (box.x0, box.y1) == pytest.approx((70.2, 129.8))


def test_a_curved_ribbon_is_as_wide_as_its_edges_lie_apart() -> None:
    # A low arch, and back along the same one 0.1 lower.
    content = "50 50 m 80 70 120 70 150 50 c 150 49.9 l 120 69.9 80 69.9 50 49.9 c h f"
    assert sliver(content) == pytest.approx(0.1, rel=0.05)


def test_a_ribbon_of_many_straight_pieces_is_as_wide_as_the_ribbon() -> None:
    upper = [(50 + 10 * step, 100 + 4 * math.sin(step)) for step in range(12)]
    there = " ".join(f"{x} {y} {'l' if place else 'm'}" for place, (x, y) in enumerate(upper))
    back = " ".join(f"{x} {y - 0.3} l" for x, y in reversed(upper))
    assert sliver(f"{there} {back} h f") == pytest.approx(0.3, rel=0.2)


@pytest.mark.parametrize(
    "content",
    [
        circle(20) + " f",
        circle(0.1) + " f",  # a dot
        # A swash: 0.6 wide in the middle, and running out to nothing.
        "50 50 m 80 51 120 51 150 50 c 120 50.2 80 50.2 50 50 c f",
        # A letter o of common weight, ten points high.
        f"0.1 0 0 0.1 0 0 cm {circle(50)} {circle(32, backwards=True)} f",
        # A star, and a zigzag that is filled.
        "100 100 m 110 140 l 120 100 l 80 125 l 140 125 l f*",
    ],
)
def test_what_is_no_line_is_not_told_as_one(content: str) -> None:
    assert sliver(content) is None


def test_several_lines_of_one_path_are_as_wide_as_the_widest() -> None:
    ribbon = "50 {0} m 80 {1} 120 {1} 150 {0} c 150 {2} l 120 {3} 80 {3} 50 {2} c h"
    lines = [ribbon.format(y, y + 20, y - width, y + 20 - width) for y, width in ((50, 0.1), (80, 0.3))]
    assert sliver(" ".join(lines) + " f") == pytest.approx(0.3, rel=0.05)


def test_a_line_beside_a_thick_shape_in_one_path_is_not_told() -> None:
    assert (
        sliver("50 50 m 80 70 120 70 150 50 c 150 49.9 l 120 69.9 80 69.9 50 49.9 c h 9 9 30 30 re f") is None
    )


def test_shapes_apart_are_no_ring() -> None:
    assert hollow("20 20 40 40 re 100 100 40 40 re f*") is None


def test_a_line_around_the_ring_makes_it_no_sliver() -> None:
    assert sliver(f"20 20 40 40 re {_INNER} B*") is None
