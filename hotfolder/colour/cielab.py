"""Single colours in CIELAB (D50) as screens show them."""

from typing import Final

# The white that colours of profiles are under, D50, as XYZ (ICC.1:2022, 7.2.16 and annex D).
WHITE: Final = (0.9642, 1.0, 0.8249)

# XYZ (D50) to linear sRGB: IEC 61966-2-1 primaries, adapted from D65 by the Bradford transform of ICC.1
# annex E; the inverse of the colorant tags of the registry's own sRGB profiles.
_TO_RED: Final = (3.13386, -1.61687, -0.49061)
_TO_GREEN: Final = (-0.97877, 1.91614, 0.03345)
_TO_BLUE: Final = (0.07195, -0.22899, 1.40524)

# CIE 15:2018, 8.2.1.1: where the cube root gives way to a straight line.
_KAPPA: Final = 24389 / 27
_EDGE: Final = 6 / 29


def linear_srgb(lab: tuple[float, float, float]) -> tuple[float, float, float]:
    """Light in sRGB's primaries, 0 to 1; what lies outside of sRGB is cut off at its surface."""
    middle = (lab[0] + 16) / 116
    x, y, z = (
        white * _cubed(side)
        for white, side in zip(WHITE, (middle + lab[1] / 500, middle, middle - lab[2] / 200), strict=True)
    )
    red, green, blue = (
        min(1.0, max(0.0, row[0] * x + row[1] * y + row[2] * z)) for row in (_TO_RED, _TO_GREEN, _TO_BLUE)
    )
    return red, green, blue


def srgb(lab: tuple[float, float, float]) -> tuple[int, int, int]:
    """The colour as a screen's values, 0 to 255 each."""
    red, green, blue = (round(255 * _encoded(light)) for light in linear_srgb(lab))
    return red, green, blue


def _cubed(side: float) -> float:
    return side**3 if side > _EDGE else (116 * side - 16) / _KAPPA


def _encoded(light: float) -> float:
    """IEC 61966-2-1: light to the value that a screen is sent."""
    return 12.92 * light if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
