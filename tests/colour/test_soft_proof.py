# Plates put together: process inks by the press's profile, spot inks laid over them.

import numpy as np
import pytest

from hotfolder.colour.colour_difference import ciede2000
from hotfolder.colour.conversions import Conversions
from hotfolder.colour.soft_proof import InkColours
from hotfolder.model.plates import Bytes
from hotfolder.presses.loading import load_press

GREY_LOOK = (50.0, 0.0, 0.0)
BLACK_LOOK = (0.0, 0.0, 0.0)


@pytest.fixture(scope="module")
def conversions() -> Conversions:
    return Conversions(load_press("coated"))


def flat(percent: float, height: int = 4, width: int = 5) -> Bytes:
    return np.full((height, width), round(percent * 2.55), np.uint8)


def one(colours: Bytes) -> tuple[int, ...]:
    """The colour of a picture that has only one."""
    assert len(np.unique(colours.reshape(-1, 3), axis=0)) == 1
    return tuple(int(value) for value in colours[0, 0])


def test_process_inks_are_what_the_profile_says(conversions: Conversions) -> None:
    noise = np.random.default_rng(5).integers(0, 256, (30, 40, 4), dtype=np.uint8)
    inks = {name: noise[..., place] for place, name in enumerate(("Cyan", "Magenta", "Yellow", "Black"))}
    shown = InkColours(conversions, {}).printed(inks)
    assert np.array_equal(shown, conversions.press_to_screen(noise))


def test_flat_areas_are_what_the_profile_says_too(conversions: Conversions) -> None:
    inks = np.zeros((30, 40, 4), np.uint8)
    inks[10:20, 5:30] = (200, 30, 0, 10)
    shown = InkColours(conversions, {}).printed(
        {"Cyan": inks[..., 0], "Magenta": inks[..., 1], "Black": inks[..., 3]}
    )
    assert np.array_equal(shown, conversions.press_to_screen(inks))


def test_a_plate_that_is_missing_carries_nothing(conversions: Conversions) -> None:
    with_none = InkColours(conversions, {}).printed({"Black": flat(40), "Cyan": flat(0)})
    assert np.array_equal(InkColours(conversions, {}).printed({"Black": flat(40)}), with_none)


def test_a_page_without_any_plate_is_bare_paper(conversions: Conversions) -> None:
    assert one(InkColours(conversions, {}).printed({}, (6, 3))) == (255, 255, 255)


def test_the_paper_shows_its_own_tint_where_asked(conversions: Conversions) -> None:
    tinted = InkColours(conversions, {}, paper=True).bare_paper()
    assert InkColours(conversions, {}).bare_paper() == (255, 255, 255)
    assert tinted != (255, 255, 255)
    assert min(tinted) > 220
    assert one(InkColours(conversions, {}, paper=True).printed({"Cyan": flat(0)})) == tinted


def test_without_a_profile_the_usual_solids_are_mixed() -> None:
    """FOGRA39 cyan, L*a*b* 55, -37, -50 (ISO 12647-2:2004/Amd 1), is near 0, 160, 228 in sRGB."""
    shown = one(InkColours(None, {}).printed({"Cyan": flat(100)}))
    assert shown == pytest.approx((0, 160, 228), abs=5)


def test_a_solid_spot_ink_looks_as_it_says() -> None:
    """CIELAB 50, 0, 0 is 119, 119, 119 in sRGB (CIE 15 and IEC 61966-2-1)."""
    shown = one(InkColours(None, {"Stone": GREY_LOOK}).printed({"Stone": flat(100)}))
    assert shown == pytest.approx((119, 119, 119), abs=1)


def test_a_spot_ink_lies_over_the_process_inks(conversions: Conversions) -> None:
    colours = InkColours(conversions, {"Stone": GREY_LOOK, "Ink Black": BLACK_LOOK})
    beneath = one(colours.printed({"Cyan": flat(60)}))
    grey = one(colours.printed({"Cyan": flat(60), "Stone": flat(100)}))
    black = one(colours.printed({"Cyan": flat(60), "Ink Black": flat(100)}))
    assert black == (0, 0, 0)
    assert all(0 < over < under for over, under in zip(grey, beneath, strict=True))
    assert one(colours.printed({"Cyan": flat(60), "Stone": flat(0)})) == beneath


def test_two_spot_inks_look_the_same_in_either_order() -> None:
    looks = {"Stone": GREY_LOOK, "Sand": (80.0, 5.0, 40.0)}
    one_way = InkColours(None, looks).printed({"Stone": flat(30), "Sand": flat(80)})
    assert np.array_equal(one_way, InkColours(None, looks).printed({"Sand": flat(80), "Stone": flat(30)}))


@pytest.mark.parametrize(("place", "name"), list(enumerate(("cyan", "magenta", "yellow", "black"))))
def test_tints_of_a_spot_ink_look_as_measured_tints_do(
    conversions: Conversions, place: int, name: str
) -> None:
    """A process ink taken for a spot ink: its tints are known, from the measurements in FOGRA39L.

    The measured tints have the dot gain of ISO 12647-2 besides the light that spreads in the paper, so
    that a difference of a few units remains; adding up dots and bare paper alone gives 17 for black.
    """
    solid = np.zeros((1, 4), np.uint8)
    solid[0, place] = 255
    lightness, a, b = (float(value) for value in conversions.press_to_lab(solid)[0])
    tints = InkColours(conversions, {name: (lightness, a, b)}).tints(name)
    for percent in (10, 25, 40, 50, 75, 90):
        step = round(percent * 2.55)
        measured = conversions.press_to_screen((solid.astype(int) * step // 255).astype(np.uint8))
        pair = (conversions.screen_to_lab(colour) for colour in (measured, tints[step : step + 1]))
        assert float(ciede2000(*pair)[0]) < 4.0, percent


def test_an_ink_of_unknown_look_is_shown_in_grey() -> None:
    red, green, blue = one(InkColours(None, {}).printed({"Nameless": flat(100)}))
    assert red == green == blue
    assert 0 < red < 200
