# Conversions against littleCMS's own transicc, on grids of colours, with every intent and both ways.
import itertools
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray

from hotfolder.colour.conversions import Conversions, Intent
from hotfolder.errors import UnusableProfileError
from hotfolder.model.press import Press
from hotfolder.presses.loading import load_press
from tests.colour.transicc import ICC_FREE, needs_file, needs_transicc, transicc

GHOSTSCRIPT = Path("/usr/share/color/icc/ghostscript/default_cmyk.icc")
WIDE_RGB = ICC_FREE / "compatibleWithAdobeRGB1998.icc"
GREY = ICC_FREE / "Gray.icc"

SHIPPED = ("coated", "uncoated", "newsprint-us")
OF_GHOSTSCRIPT = pytest.param("ghostscript", marks=needs_file(GHOSTSCRIPT, "libgs-common"))

# What was measured: bytes are transicc's figures rounded; floats are all of the four decimals that it prints,
# but where versions of littleCMS find a press's black a little apart (0.023 % of ink on uncoated paper).
ROUNDED = 0.6  # of 255
IN_16_BITS = 0.005  # units of CIELAB
EXACT = 0.05  # percent of ink, units of CIELAB, or of 255


def grid(channels: int, levels: tuple[int, ...]) -> NDArray[np.uint8]:
    return np.array(list(itertools.product(levels, repeat=channels)), np.uint8)


RGB = grid(3, (0, 1, 30, 64, 100, 128, 160, 200, 254, 255))
INKS = grid(4, (0, 20, 90, 128, 200, 255))
LAB = np.array(
    list(itertools.product((0, 8, 25, 50, 63.7, 90, 100), (-90, -30, 0, 12.5, 80), (-90, 0, 7, 85)))
)


def press_of(name: str) -> Press:
    return Press(name, name, GHOSTSCRIPT) if name == "ghostscript" else load_press(name)


@cache
def conversions(name: str, *, paper_white: bool = False) -> Conversions:
    return Conversions(press_of(name), paper_white=paper_white)


def path_of(name: str) -> str:
    return str(press_of(name).profile)


COATED = Path(path_of("coated")).read_bytes()


def worst(converted: NDArray[np.generic], wanted: NDArray[np.float64]) -> float:
    return float(np.abs(converted.astype(np.float64) - wanted).max())


@needs_transicc
@pytest.mark.parametrize("intent", list(Intent))
@pytest.mark.parametrize("press", [*SHIPPED, OF_GHOSTSCRIPT])
def test_screen_colours_get_the_inks_that_transicc_gives(press: str, intent: Intent) -> None:
    wanted = transicc(
        RGB.astype(float), "*sRGB", path_of(press), intent, black_point=intent != Intent.ABSOLUTE
    )
    converted = conversions(press).to_press(RGB, intent=intent)
    assert converted.dtype == np.uint8
    assert worst(converted, wanted * 2.55) <= ROUNDED
    exact = conversions(press).to_press(RGB / 255, intent=intent)
    assert worst(exact * 100, wanted) <= EXACT


@needs_transicc
@needs_file(WIDE_RGB, "icc-profiles-free")
@pytest.mark.parametrize("intent", list(Intent))
def test_a_files_own_rgb_profile_is_followed(intent: Intent) -> None:
    profile, black_point = WIDE_RGB.read_bytes(), intent != Intent.ABSOLUTE
    inks = transicc(RGB.astype(float), str(WIDE_RGB), path_of("coated"), intent, black_point=black_point)
    assert worst(conversions("coated").to_press(RGB, profile, intent), inks * 2.55) <= ROUNDED
    screen = transicc(RGB.astype(float), str(WIDE_RGB), "*sRGB", intent, black_point=black_point)
    shown = conversions("coated").to_screen(RGB, profile, intent)
    assert worst(shown, screen.clip(0, 255)) <= ROUNDED
    assert worst(shown, RGB.astype(float)) > 20  # the profile does matter


@needs_transicc
@needs_file(GREY, "icc-profiles-free")
def test_a_grey_profile_is_followed() -> None:
    greys = np.arange(256, dtype=np.uint8)[:, None]
    wanted = transicc(greys.astype(float), str(GREY), path_of("coated"), Intent.RELATIVE, black_point=True)
    assert worst(conversions("coated").to_press(greys, GREY.read_bytes()), wanted * 2.55) <= ROUNDED


@needs_transicc
@needs_file(GHOSTSCRIPT, "libgs-common")
def test_inks_of_another_press_are_converted_to_ours() -> None:
    wanted = transicc(INKS / 2.55, str(GHOSTSCRIPT), path_of("coated"), Intent.RELATIVE, black_point=True)
    converted = conversions("coated").to_press(INKS, GHOSTSCRIPT.read_bytes())
    assert worst(converted, wanted * 2.55) <= ROUNDED


@needs_transicc
@pytest.mark.parametrize("press", [*SHIPPED, OF_GHOSTSCRIPT])
@pytest.mark.parametrize("paper", [False, True])
def test_the_soft_proof_is_what_transicc_shows(press: str, *, paper: bool) -> None:
    intent = Intent.ABSOLUTE if paper else Intent.RELATIVE
    wanted = transicc(INKS / 2.55, path_of(press), "*sRGB", intent, black_point=not paper).clip(0, 255)
    converted = conversions(press).press_to_screen(INKS, paper=paper)
    assert worst(converted, wanted) <= ROUNDED
    assert np.array_equal(conversions(press, paper_white=paper).press_to_screen(INKS), converted)
    assert worst(conversions(press).press_to_screen(INKS / 255, paper=paper) * 255, wanted) <= EXACT


@needs_transicc
@pytest.mark.parametrize("press", [*SHIPPED, OF_GHOSTSCRIPT])
@pytest.mark.parametrize("paper", [False, True])
def test_inks_on_paper_have_the_lab_that_transicc_gives(press: str, *, paper: bool) -> None:
    intent = Intent.ABSOLUTE if paper else Intent.RELATIVE
    wanted = transicc(INKS / 2.55, path_of(press), "*Lab", intent, black_point=False)
    converted = conversions(press, paper_white=paper).press_to_lab(INKS)
    assert converted.dtype == np.float32
    assert worst(converted, wanted) <= IN_16_BITS
    assert worst(conversions(press, paper_white=paper).press_to_lab(INKS / 255), wanted) <= EXACT


@needs_transicc
@pytest.mark.parametrize("intent", list(Intent))
@pytest.mark.parametrize("press", [*SHIPPED, OF_GHOSTSCRIPT])
def test_lab_colours_get_the_inks_that_transicc_gives(press: str, intent: Intent) -> None:
    wanted = transicc(LAB, "*Lab", path_of(press), intent, black_point=intent != Intent.ABSOLUTE)
    assert worst(conversions(press).lab_to_press(LAB, intent), wanted * 2.55) <= ROUNDED
    assert worst(conversions(press).lab_to_press_exactly(LAB, intent) * 100, wanted) <= EXACT


@needs_transicc
def test_screen_colours_and_lab_lead_to_each_other_as_in_transicc() -> None:
    ways = conversions("coated")
    lab = transicc(RGB.astype(float), "*sRGB", "*Lab", Intent.RELATIVE, black_point=False)
    assert worst(ways.screen_to_lab(RGB), lab) <= IN_16_BITS
    assert worst(ways.screen_to_lab(RGB / 255), lab) <= EXACT
    assert worst(ways.lab_to_screen(lab) * 255, RGB.astype(float)) <= 0.05  # `lab` has four decimals


def test_without_a_profile_greys_are_those_of_srgb_and_a_screen_shows_what_it_gets() -> None:
    greys = np.arange(256, dtype=np.uint8)[:, None]
    threefold = np.repeat(greys, 3, axis=1)
    ways = conversions("coated")
    assert np.array_equal(ways.to_press(greys), ways.to_press(threefold))
    assert np.array_equal(ways.to_screen(greys), threefold)
    assert np.array_equal(ways.to_screen(RGB), RGB)


def test_pictures_keep_their_shape() -> None:
    picture = np.zeros((4, 7, 3), np.uint8)
    ways = conversions("coated")
    inks = ways.to_press(picture)
    assert inks.shape == (4, 7, 4)
    assert ways.press_to_lab(inks).shape == ways.press_to_screen(inks).shape == (4, 7, 3)
    # A view that is no block of memory of its own: every second column, upside down.
    odd = RGB.reshape(10, 100, 3)[::-1, ::2]
    assert np.array_equal(ways.to_press(odd), ways.to_press(odd.copy()))


def test_white_gets_no_ink_and_shows_the_papers_tint_only_where_asked() -> None:
    ways = conversions("newsprint-us")
    bare = ways.to_press(np.array([[255, 255, 255]], np.uint8))
    assert bare.tolist() == [[0, 0, 0, 0]]
    assert ways.press_to_screen(bare, paper=False).min() >= 254
    # The paper of TR 002 measures L* 80 over black: about 200 of 255 on a screen.
    assert 185 <= ways.press_to_screen(bare, paper=True).mean() <= 210


@pytest.mark.parametrize(
    ("data", "colours"),
    [
        (b"", RGB),
        (b"no profile" * 100, RGB),
        (COATED[:4000], INKS),
        (COATED, RGB),
    ],
    ids=["empty", "nonsense", "cut short", "for four inks, not RGB"],
)
def test_a_profile_that_does_not_do_is_told(data: bytes, colours: NDArray[np.uint8]) -> None:
    with pytest.raises(UnusableProfileError):
        conversions("coated").to_press(colours, data)


def test_a_damaged_profile_converts_or_is_told_and_nothing_else_happens() -> None:
    damage, refused = np.random.default_rng(4), 0
    ways = conversions("uncoated")
    for _ in range(200):
        data = bytearray(COATED)
        for at in damage.integers(0, 700, 4):  # header, table of tags, the first elements
            data[at] = damage.integers(0, 256)
        try:
            assert ways.to_press(INKS[:5], bytes(data)).shape == (5, 4)
        except UnusableProfileError:
            refused += 1
    assert 0 < refused < 200


def test_nothing_is_converted_for_a_condition_without_profile() -> None:
    with pytest.raises(ValueError, match="FOGRA51 has no profile"):
        Conversions(load_press("FOGRA51"))


@needs_file(WIDE_RGB, "icc-profiles-free")
def test_a_profile_of_a_screen_is_no_press() -> None:
    with pytest.raises(UnusableProfileError, match="RGB, not CMYK"):
        Conversions(Press("screen", "screen", WIDE_RGB))
