# Inks of a shape by the pixels of plates: numbers put down by hand, no page around them.

import numpy as np
import pytest
from numpy.typing import NDArray

from hotfolder.measure.inks.shape_inks import (
    CLEAR,
    EVEN,
    LEAST_CHANGE,
    LEAST_SHARE,
    ShapeOnPlates,
    plates_of_shape,
)

# A cross, smoothed at its ends: how much of each pixel it fills.
FILLED = np.zeros((7, 9))
FILLED[3, 2:7] = FILLED[2:5, 4] = 1
FILLED[3, 1] = FILLED[3, 7] = 0.4
AROUND = np.ones((7, 9), np.bool_)
AROUND[1:6, 1:8] = False


def plate(ground: float, inside: float, filled: NDArray[np.float64] = FILLED) -> NDArray[np.uint8]:
    """A plate with the cross in it, percentages of ink."""
    pixels: NDArray[np.uint8] = np.rint(2.55 * (ground + (inside - ground) * filled)).astype(np.uint8)
    return pixels


def on(*plates: NDArray[np.uint8]) -> ShapeOnPlates | None:
    return plates_of_shape(np.array(plates), AROUND)


@pytest.mark.parametrize(
    ("inside", "plates", "lightens"),
    [
        ((60, 40, 100), (2,), False),  # black on top of a tint
        ((30, 20, 50), (0, 1, 2), True),  # half of it through the tint
        ((30, 20, 0), (0, 1), True),  # half white
        ((0, 40, 0), (0,), True),
        ((100, 80, 20), (0, 1, 2), False),
        ((60, 40, 0), (), False),
    ],
)
def test_an_ink_carries_a_shape_where_it_differs_from_the_ground(
    inside: tuple[float, ...], plates: tuple[int, ...], *, lightens: bool
) -> None:
    found = on(*(plate(*each) for each in zip((60, 40, 0), inside, strict=True)))
    assert found == ShapeOnPlates(plates, lightens)


def test_lightening_is_seen_whichever_ink_is_strongest() -> None:
    assert on(plate(10, 90), plate(50, 30)) == ShapeOnPlates((0, 1), lightens=True)
    assert on(plate(90, 10), plate(30, 50)) == ShapeOnPlates((0, 1), lightens=True)
    assert on(plate(10, 90), plate(30, 50)) == ShapeOnPlates((0, 1), lightens=False)


def test_thin_strokes_that_fill_no_pixel_are_told_in_the_same_way() -> None:
    assert on(plate(60, 30, 0.2 * FILLED), plate(0, 50, 0.2 * FILLED)) == ShapeOnPlates((0, 1), lightens=True)
    # 0.2 x 30 % are 15 of 255; a quarter of that is above what counts as none, a tenth is not.
    assert on(plate(60, 30, 0.1 * FILLED), plate(0, 100, 0.1 * FILLED)) == ShapeOnPlates(
        (0, 1), lightens=True
    )


def test_a_trace_beside_a_strong_ink_is_none() -> None:
    strong = plate(0, 80)
    least = 80 * LEAST_SHARE
    assert on(strong, plate(0, least + 1)) == ShapeOnPlates((0, 1), lightens=False)
    assert on(strong, plate(0, least - 1)) == ShapeOnPlates((0,), lightens=False)
    weak = 100 * (LEAST_CHANGE - 1) / 255
    assert on(plate(0, 4 * weak), plate(0, weak)) == ShapeOnPlates((0,), lightens=False)


def test_ground_that_is_not_even_tells_nothing() -> None:
    slope = np.linspace(100, 100 + EVEN + 1, 9).astype(np.uint8) * np.ones((7, 1), np.uint8)
    assert on(plate(0, 100), slope) is None
    gentle = np.linspace(100, 100 + EVEN - 1, 9).astype(np.uint8) * np.ones((7, 1), np.uint8)
    assert on(plate(0, 100), gentle) == ShapeOnPlates((0,), lightens=False)


def test_something_else_in_the_same_place_tells_nothing() -> None:
    other = plate(0, 0)
    other[4, 2:4] = 60
    assert on(plate(0, 100), other) is None
    assert on(other, plate(0, 100)) is None
    # Another ink in the same strokes is the shape itself.
    assert on(plate(0, 100), plate(0, 60)) == ShapeOnPlates((0, 1), lightens=False)


def test_a_pale_shape_is_not_told_and_none_at_all_is() -> None:
    assert on(plate(0, 100 * CLEAR / 255), plate(0, 0)) is None
    assert on(plate(0, 100 * (CLEAR + 1) / 255), plate(0, 0)) == ShapeOnPlates((0,), lightens=False)
    assert on(plate(60, 60.4), plate(0, 0)) == ShapeOnPlates((), lightens=False)  # 1 of 255
    assert on(plate(60, 61), plate(0, 0)) is None
