# How colours move in printing: on pages painted by hand, with a shipped press.

from functools import cache
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from hotfolder.colour.colour_difference import ciede2000
from hotfolder.colour.conversions import Conversions, Intent
from hotfolder.measure.inks.colour_shift import colour_shift
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT, ColourShift, MovedColour
from hotfolder.model.plates import Bytes, PagePlates, PlateFrame
from hotfolder.presses.loading import load_press
from tests.colour.transicc import needs_transicc, transicc
from tests.measure.inks.hand_plates import laid, mm_box, page_of, plates_of, share

PAGE = page_of(mm_box(0, 0, 100, 50), None)
FRAME = laid(PAGE).frame
GREEN, AQUA, BLUE, GREY = (0, 255, 0), (0, 255, 255), (0, 0, 255), (128, 128, 128)


@cache
def conversions() -> Conversions:
    return Conversions(load_press("coated"))


def meant(*patches: tuple[Box, tuple[int, int, int]], frame: PlateFrame = FRAME) -> Bytes:
    """The page as a screen shows it: coloured boxes on white, edges smoothed."""
    picture = np.full((frame.height_px, frame.width_px, 3), 255.0)
    for box, colour in patches:
        part = share(frame, box)[..., None]
        picture = picture * (1 - part) + np.array(colour) * part
    shown: Bytes = np.rint(picture).astype(np.uint8)
    return shown


def printed(*patches: tuple[Box, tuple[int, int, int]], frame: PlateFrame = FRAME) -> dict[str, Bytes]:
    """The page's plates: each colour converted, then its edges smoothed, as a renderer of plates does."""
    inks = np.zeros((frame.height_px, frame.width_px, 4))
    for box, colour in patches:
        part = share(frame, box)[..., None]
        inks = inks * (1 - part) + conversions().to_press(np.array([colour], np.uint8)) * part
    plates = np.rint(inks).astype(np.uint8)
    return {name: plates[..., place] for place, name in enumerate(PROCESS_INKS)}


def shift_of(*patches: tuple[Box, tuple[int, int, int]]) -> ColourShift:
    shift = colour_shift(plates_of(PAGE, printed(*patches), screen=meant(*patches)), conversions())
    assert shift is not None
    return shift


def mm(box: Box) -> list[float]:
    return [side / CELL_PT for side in (box.x0, box.y0, box.x1, box.y1)]


def test_a_page_in_the_presss_own_colours_moves_nothing() -> None:
    plates = plates_of(PAGE, {"Cyan": np.full((FRAME.height_px, FRAME.width_px), 255, np.uint8)})
    assert colour_shift(plates, conversions()) is None


def test_colours_that_print_as_they_are_do_not_move() -> None:
    shift = shift_of((mm_box(10, 10, 60, 40), GREY), (mm_box(70, 10, 90, 40), (90, 110, 60)))
    assert shift == ColourShift(0, 0, 0, ())


def test_a_bright_green_moves_by_its_whole_area() -> None:
    """20 x 10 of 100 x 50 mm are 4 %."""
    shift = shift_of((mm_box(10, 20, 30, 30), GREEN))
    assert shift.over_5_percent == shift.over_10_percent == pytest.approx(4)
    (moved,) = shift.moved
    assert moved.share_percent == pytest.approx(4)
    assert mm(moved.place) == pytest.approx([10, 20, 30, 30], abs=1)


@needs_transicc
def test_the_figures_of_a_moved_colour_are_those_of_littlecms() -> None:
    """transicc: sRGB to the press, back to a screen, then to CIELAB; CIEDE2000 has its own tests."""
    press = str(load_press("coated").profile)
    (moved,) = shift_of((mm_box(10, 20, 30, 30), GREEN)).moved
    colour = np.array([GREEN], np.float64)
    inks = transicc(colour, "*sRGB", press, Intent.RELATIVE, black_point=True)
    proof = transicc(np.rint(inks * 2.55) / 2.55, press, "*sRGB", Intent.RELATIVE, black_point=True)
    before, after = (
        transicc(shown, "*sRGB", "*Lab", Intent.RELATIVE, black_point=False)[0] for shown in (colour, proof)
    )
    assert moved.before == pytest.approx(before, abs=0.05)
    assert moved.after == pytest.approx(after, abs=0.5)  # the soft proof is rounded to 8 bits
    assert moved.delta_e == pytest.approx(float(ciede2000(before, after)), abs=0.3)


def test_the_worst_comes_first_and_no_speck_wins() -> None:
    """The dot of pure green is 2 x 2 of 5000 mm2: less than a thousandth."""
    shift = shift_of(
        (mm_box(10, 10, 50, 40), AQUA), (mm_box(60, 10, 80, 20), BLUE), (mm_box(90, 40, 92, 42), GREEN)
    )
    figures = [moved.delta_e for moved in shift.moved]
    assert figures == sorted(figures, reverse=True)
    assert len(shift.moved) == 2
    assert min(figures) > 5
    assert not any(is_of(moved, GREEN) for moved in shift.moved)


def is_of(moved: MovedColour, colour: tuple[int, int, int]) -> bool:
    lab = conversions().screen_to_lab(np.array(colour, np.uint8))
    return float(ciede2000(lab, np.array(moved.before, np.float32))) < 2


def test_the_place_is_where_most_of_the_colour_lies() -> None:
    shift = shift_of((mm_box(5, 5, 15, 15), GREEN), (mm_box(60, 10, 90, 40), GREEN))
    (moved,) = shift.moved
    assert mm(moved.place) == pytest.approx([60, 10, 90, 40], abs=1)
    assert moved.share_percent == pytest.approx(100 * (100 + 900) / 5000)


def test_shades_of_one_colour_are_told_as_one_and_others_apart() -> None:
    shades = [
        (mm_box(10 + 5 * step, 10, 15 + 5 * step, 40), (0, 255 - 3 * step, 4 * step)) for step in range(6)
    ]
    shift = shift_of(*shades, (mm_box(60, 10, 80, 40), BLUE))
    assert len(shift.moved) == 2


def test_at_most_eight_colours_are_told() -> None:
    colours = [
        (0, 255, 0), (0, 0, 255), (255, 0, 255), (0, 255, 255), (255, 100, 0), (120, 255, 0), (0, 255, 140),
        (120, 0, 255), (0, 120, 255), (255, 0, 120), (60, 200, 255), (255, 160, 0),
    ]  # fmt: skip
    shift = shift_of(
        *((mm_box(8 * place, 5, 8 * place + 8, 45), colour) for place, colour in enumerate(colours))
    )
    assert len(shift.moved) == 8


def naive(screen: Bytes, inks: dict[str, Bytes]) -> NDArray[np.floating[Any]]:
    """The difference pixel by pixel, nothing forgiven."""
    after = conversions().press_to_screen(np.stack([inks[name] for name in PROCESS_INKS], -1), paper=False)
    return ciede2000(conversions().screen_to_lab(screen), conversions().screen_to_lab(after))


def test_smoothed_edges_of_lines_are_no_moved_colours() -> None:
    """Dark lines, thin and at odd places: mixed with paper in another way in ink than in light."""
    lines = [
        (mm_box(5.03 + 3 * step, 5, 5.03 + 3 * step + 0.1 + 0.05 * step, 45), colour)
        for step, colour in enumerate([(0, 0, 0), (20, 30, 60), (90, 90, 90)] * 9)
    ]
    screen, inks = meant(*lines), printed(*lines)
    assert (naive(screen, inks) > 5).sum() > 100  # there is something to forgive
    shift = colour_shift(plates_of(PAGE, inks, screen=screen), conversions())
    assert shift == ColourShift(0, 0, 0, ())


def test_a_spot_ink_alone_prints_as_itself_however_a_screen_shows_it() -> None:
    spot = share(FRAME, mm_box(10, 10, 60, 40))
    screen = meant((mm_box(10, 10, 60, 40), AQUA))
    plates = plates_of(
        PAGE, {"Sun": (spot * 255).astype(np.uint8)}, screen=screen, looks={"Sun": (60, 10, 10)}
    )
    assert colour_shift(plates, conversions()) == ColourShift(0, 0, 0, ())


def test_a_spot_ink_over_converted_colours_is_laid_over_them() -> None:
    """A black spot ink over green: the green is seen no more, and the page is meant to be black."""
    box = mm_box(10, 10, 60, 40)
    inks = printed((box, GREEN)) | {"Night": (share(FRAME, box) * 255).astype(np.uint8)}
    plates = plates_of(PAGE, inks, screen=meant((box, (0, 0, 0))), looks={"Night": (0, 0, 0)})
    assert colour_shift(plates, conversions()) == ColourShift(0, 0, 0, ())


def test_inks_that_a_screen_cannot_show_have_not_moved() -> None:
    """Full cyan of a press lies outside of sRGB; shown as a screen can, it is the same before and after."""
    inks = {name: np.zeros((FRAME.height_px, FRAME.width_px), np.uint8) for name in PROCESS_INKS}
    inks["Cyan"][:] = 255
    screen = conversions().press_to_screen(np.stack([inks[name] for name in PROCESS_INKS], -1), paper=False)
    lab = conversions().press_to_lab(np.array([255, 0, 0, 0], np.uint8))
    assert float(ciede2000(lab, conversions().screen_to_lab(screen[0, 0]))) > 2
    assert colour_shift(plates_of(PAGE, inks, screen=screen), conversions()) == ColourShift(0, 0, 0, ())


def test_a_large_sheet_is_looked_at_in_larger_pixels() -> None:
    """An A2 poster has 6.3 million pixels of a third of a millimetre."""
    page = page_of(mm_box(0, 0, 420, 594), None)
    frame = laid(page).frame
    patch = (mm_box(100, 100, 200, 220), GREEN)
    plates = plates_of(page, printed(patch, frame=frame), screen=meant(patch, frame=frame))
    shift = colour_shift(plates, conversions())
    assert shift is not None
    assert shift.over_5_percent == pytest.approx(100 * 100 * 120 / (420 * 594), rel=0.01)
    assert mm(shift.moved[0].place) == pytest.approx([100, 100, 200, 220], abs=5)


def test_a_page_without_any_ink_that_is_meant_to_be_coloured_moves() -> None:
    """Nothing was laid down, as by a white overprint: all of the colour is lost."""
    shift = colour_shift(plates_of(PAGE, {}, screen=meant((mm_box(10, 20, 30, 30), BLUE))), conversions())
    assert shift is not None
    assert shift.over_20_percent == pytest.approx(4)


def test_nothing_is_changed_of_the_plates() -> None:
    patches = ((mm_box(10, 20, 30, 30), GREEN),)
    inks, screen = printed(*patches), meant(*patches)
    before = {name: plate.copy() for name, plate in inks.items()}
    plates: PagePlates = plates_of(PAGE, inks, screen=screen)
    colour_shift(plates, conversions())
    assert all(np.array_equal(before[name], plates.inks[name]) for name in before)
