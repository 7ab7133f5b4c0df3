# Colours and their changes in words.

import pytest

from hotfolder.wording.colours import change_words, colour_words, lab_words


# CIELAB of sRGB colours that people agree on, by littleCMS (transicc) to whole units.
@pytest.mark.parametrize(
    ("lab", "words"),
    [
        ((54, 81, 70), "vivid red"),
        ((70, 40, 76), "vivid orange"),
        ((91, -4, 89), "vivid yellow"),
        ((46, -48, 49), "vivid green"),
        ((48, -30, -9), "turquoise"),
        ((67, -7, -51), "blue"),
        ((30, 68, -112), "vivid blue"),
        ((60, 94, -61), "vivid magenta"),
        ((35, 19, 37), "brown"),
        ((88, 0, 16), "light yellow"),
        ((20, 5, -20), "dark blue"),
        ((54, 0, 0), "grey"),
        ((10, 1, 1), "black"),
        ((98, 0, 1), "white"),
    ],
)
def test_colours_have_plain_names(lab: tuple[float, float, float], words: str) -> None:
    assert colour_words(lab) == words


@pytest.mark.parametrize(
    ("after", "words"),
    [
        ((50.0, 10.0, -50.0), "slightly different"),
        ((42.0, 8.0, -48.0), "darker"),
        ((58.0, 5.0, -30.0), "duller and lighter"),
        ((50.0, 14.0, -60.0), "stronger"),
        ((42.0, 45.0, -45.0), "stronger, darker and more violet"),
        ((50.0, 0.0, 0.0), "duller"),
    ],
)
def test_the_greatest_change_is_told_first(after: tuple[float, float, float], words: str) -> None:
    assert change_words((50.0, 10.0, -50.0), after) == words


def test_figures_have_no_minus_before_nought() -> None:
    assert lab_words((61.6, -0.2, -37.5)) == "L 62, a 0, b -38"
