# Areas with much ink, on plates painted by hand: where they lie between the pixels makes no difference.

import numpy as np
import pytest

from hotfolder.measure.inks.ink import page_ink
from hotfolder.measure.inks.ink_areas import InkLimits
from hotfolder.model.inks import CELL_PT, HeavyArea, HeavyInk
from hotfolder.model.pages import Page
from tests.measure.inks.hand_plates import laid, mm_box, page_of, painted, plates_of

SHEET, TRIM = mm_box(0, 0, 100, 50), mm_box(3, 3, 97, 47)
PAGE = page_of(SHEET, TRIM)
FRAME = laid(PAGE).frame
LARGE = page_of(mm_box(0, 0, 310, 220), mm_box(3, 3, 307, 217))
INKS = ("Cyan", "Magenta", "Yellow", "Black")
Place = tuple[float, float, float, float]


def areas(*heavy: tuple[Place, float], over: float = 300, page: Page = PAGE) -> tuple[HeavyArea, ...]:
    """The areas over a figure where boxes (mm) are laid in so much of each of the four inks."""
    plate = painted(laid(page).frame, *((mm_box(*place), percent) for place, percent in heavy))
    plates = plates_of(page, dict.fromkeys(INKS, plate))
    (over_limit,) = page_ink(plates, page, None, InkLimits((over,), lambda _: True)).heavy
    return over_limit.areas


@pytest.mark.parametrize("shift", [0, 0.1, 0.25, 1 / 3, 0.5, 0.8])
@pytest.mark.parametrize("page", [PAGE, LARGE])  # six and three pixels a millimetre
def test_a_square_is_as_large_wherever_it_lies(shift: float, page: Page) -> None:
    side = 4
    (area,) = areas(((20 + shift, 20 + shift, 20 + side + shift, 20 + side + shift), 90), page=page)
    assert area.mm2 == pytest.approx(16, abs=2.7)  # a pixel in each direction, at three a millimetre
    assert area.highest_percent == pytest.approx(360, abs=1.6)


@pytest.mark.parametrize("shift", [0, 1 / 6, 1 / 3, 0.5])
def test_a_bar_across_cells_is_found(shift: float) -> None:
    """1.2 mm are more than a square millimetre and a pixel, wherever they lie."""
    (area,) = areas(((20, 20 + shift, 40, 21.2 + shift), 90))
    assert area.mm2 == pytest.approx(24, abs=4)
    assert area.highest_percent == pytest.approx(360, abs=1.6)
    box = mm_box(20, 20 + shift, 40, 21.2 + shift)
    assert (area.box.x0, area.box.y0) == pytest.approx((box.x0, box.y0), abs=CELL_PT / 6)
    assert (area.box.x1, area.box.y1) == pytest.approx((box.x1, box.y1), abs=CELL_PT / 6)


def test_a_line_of_half_a_millimetre_is_none() -> None:
    """400 % on half of the square millimetre are 200 %."""
    assert areas(((20, 20, 60, 20.5), 100)) == ()


def test_what_lies_around_does_not_count() -> None:
    """A square of 4 mm in 360 % on a ground of 240 %: squares across its edge are over 300 % too."""
    (area,) = areas(((3, 3, 97, 47), 60), ((20, 20, 24, 24), 90))
    assert area.mm2 == pytest.approx(16, abs=1.4)  # a sixth of a millimetre on two of its sides


def test_an_uneven_area_is_one() -> None:
    """Pixels of 255 and 400 % in turn, 327 % in the mean: the light ones within are part of it."""
    noise = np.full((FRAME.height_px, FRAME.width_px), 0, np.uint8)
    noise[60:120, 60:180] = np.where(np.indices((60, 120)).sum(axis=0) % 2, 255, 163)
    plates = plates_of(PAGE, dict.fromkeys(INKS, noise))
    (asked,) = page_ink(plates, PAGE, None, InkLimits((300,), lambda _: True)).heavy
    (area,) = asked.areas
    assert area.mm2 == pytest.approx(200, rel=0.1)


def test_areas_are_told_apart_and_corners_join_them() -> None:
    heavy_areas = areas(((20, 20, 24, 24), 90), ((24, 24, 27, 27), 90), ((40, 20, 43, 23), 90))
    assert [each.mm2 for each in heavy_areas] == pytest.approx([25, 9])


def test_what_lies_outside_the_product_does_not_count() -> None:
    (area,) = areas(((0, 10, 10, 20), 90))
    assert area.mm2 == pytest.approx(70)  # the trim begins at 3 mm, and no bleed is declared


def test_inks_that_are_none_to_look_at_are_left_out() -> None:
    plate = painted(FRAME, (mm_box(20, 20, 30, 30), 80))
    plates = plates_of(PAGE, {**dict.fromkeys(INKS, plate), "Varnish": plate})
    limits = InkLimits((330.0, 350.0), lambda ink: ink != "Varnish")
    ink = page_ink(plates, PAGE, None, limits)
    assert ink.heavy == tuple(HeavyInk(each, frozenset({"Varnish"}), ()) for each in (330.0, 350.0))


def test_the_most_on_a_square_millimetre_is_that_of_any_place() -> None:
    """A square of 1 mm that lies in four cells: a quarter in each, and all of it in one square."""
    plate = painted(FRAME, (mm_box(20.5, 20.5, 21.5, 21.5), 90))
    ink = page_ink(plates_of(PAGE, dict.fromkeys(INKS, plate)), PAGE, None)
    assert ink.max_1mm2_percent == pytest.approx(360, abs=1.6)


def test_a_winding_area_is_one() -> None:
    """A spiral whose ends are joined after hundreds of rows only."""
    boxes: list[tuple[Place, float]] = []
    for turn in range(5):
        low, high = 5 + 4 * turn, 45 - 4 * turn
        boxes += [
            ((low, low, high, low + 2), 90), ((high - 2, low, high, high), 90),
            ((low, high - 2, high, high), 90), ((low, low + 4, low + 2, high), 90),
            ((low, low + 4, low + 6, low + 6), 90),
        ]  # fmt: skip
    assert len(areas(*boxes[:25])) == 1
