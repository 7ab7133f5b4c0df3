"""Colours and how they change in words, for whoever cannot tell them apart on a screen."""

import math
from typing import Final, TypeAlias

from hotfolder.wording.lists import listed

Lab: TypeAlias = tuple[float, float, float]

# Names by hue angle in CIELAB, each up to the angle in degrees; with the boundaries between plain colour
# names that people agree on roughly (own choice, by eye on sRGB colours).
_HUES: Final = (
    (12, "pink"), (48, "red"), (75, "orange"), (108, "yellow"), (165, "green"), (215, "turquoise"),
    (303, "blue"), (322, "violet"), (345, "magenta"), (360, "pink"),
)  # fmt: skip

# Below this chroma nobody names a hue; above the other a colour is called vivid (own choice).
_GREY_CHROMA: Final = 8.0
_VIVID_CHROMA: Final = 55.0

# The least change in lightness, chroma and hue angle that is worth a word (own choice).
_LEAST_STEP: Final = 4.0
_LEAST_TURN_DEG: Final = 12.0


def colour_words(lab: Lab) -> str:
    """`vivid green`, `dark grey`: a colour by lightness, strength and hue."""
    lightness, chroma = lab[0], math.hypot(lab[1], lab[2])
    if chroma < _GREY_CHROMA:
        return _grey(lightness)
    if _hue(lab) == "orange" and lightness < 45:
        return "brown"
    if chroma >= _VIVID_CHROMA:
        return f"vivid {_hue(lab)}"
    depth = "dark " if lightness < 40 else "light " if lightness > 75 else ""
    return f"{depth}{_hue(lab)}"


def change_words(before: Lab, after: Lab) -> str:
    """`duller and darker`: what happens to a colour, the greatest change first."""
    steps = after[0] - before[0], math.hypot(*after[1:]) - math.hypot(*before[1:])
    changes = [
        (abs(steps[0]), "darker" if steps[0] < 0 else "lighter"),
        (abs(steps[1]), "duller" if steps[1] < 0 else "stronger"),
    ]
    words = [word for size, word in sorted(changes, reverse=True) if size >= _LEAST_STEP]
    if _turn(before, after) >= _LEAST_TURN_DEG and _hue(before) != _hue(after):
        words.append(f"more {_hue(after)}")
    if not words:
        return "slightly different"
    return listed(words)


def lab_words(lab: Lab) -> str:
    """`L 62, a -38, b 41`: the figures as measuring instruments show them."""
    lightness, a, b = (round(value) + 0 for value in lab)
    return f"L {lightness}, a {a}, b {b}"


def _grey(lightness: float) -> str:
    if lightness < 15:
        return "black"
    if lightness > 95:
        return "white"
    return "dark grey" if lightness < 40 else "light grey" if lightness > 75 else "grey"


def _hue(lab: Lab) -> str:
    angle = _angle(lab)
    return next(name for end, name in _HUES if angle <= end)


def _angle(lab: Lab) -> float:
    return math.degrees(math.atan2(lab[2], lab[1])) % 360


def _turn(before: Lab, after: Lab) -> float:
    if min(math.hypot(*before[1:]), math.hypot(*after[1:])) < _GREY_CHROMA:
        return 0.0
    apart = abs(_angle(before) - _angle(after))
    return min(apart, 360 - apart)
