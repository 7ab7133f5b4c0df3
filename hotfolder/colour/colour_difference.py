"""How different two colours look: CIEDE2000 (ISO/CIE 11664-6, first CIE 142:2001), on whole pictures."""

from typing import Any, Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

Lab: TypeAlias = NDArray[np.floating[Any]]

_25_TO_7: Final = 25.0**7


def ciede2000(first: Lab, second: Lab) -> Lab:
    """The difference of CIELAB colours (their last axis is L*, a*, b*), with all weights 1.

    The shapes are broadcast; the answer lacks the last axis. Computed in double precision whatever comes in:
    in single precision some processors are 0.06 off, which is more than the pairs at a hue's jump differ by.
    """
    first, second = np.asarray(first, np.float64), np.asarray(second, np.float64)
    lightness1, lightness2 = first[..., 0], second[..., 0]
    (chroma1, hue1), (chroma2, hue2) = _chroma_and_hue(first, second)

    # A colour without chroma has no hue: it takes the other's, as the standard's sum for it does.
    hueless = chroma1 * chroma2 == 0
    apart = hue2 - hue1
    turn = np.where(hueless, 0, apart - 360 * np.round(apart / 360))  # the short way round
    total = hue1 + hue2
    across_red = np.where(total < 360, total + 360, total - 360)
    mean_hue = np.where(hueless, total, np.where(np.abs(apart) > 180, across_red, total) / 2)

    mean_lightness = (lightness1 + lightness2) / 2 - 50
    mean_chroma = (chroma1 + chroma2) / 2
    squared = mean_lightness * mean_lightness
    lightness = (lightness2 - lightness1) / (1 + 0.015 * squared / np.sqrt(20 + squared))
    chroma = (chroma2 - chroma1) / (1 + 0.045 * mean_chroma)
    hue = 2 * np.sqrt(chroma1 * chroma2) * np.sin(np.radians(turn / 2))
    hue /= 1 + 0.015 * mean_chroma * _hue_weight(mean_hue)
    # In blue, chroma and hue trade against each other: the rotation term.
    away_from_blue = (mean_hue - 275) / 25
    rotation = -2 * _chroma_share(mean_chroma) * np.sin(np.radians(60 * np.exp(-(away_from_blue**2))))
    difference: Lab = np.sqrt(
        np.maximum(lightness * lightness + chroma * chroma + hue * hue + rotation * chroma * hue, 0)
    )
    return difference


def _chroma_and_hue(first: Lab, second: Lab) -> tuple[tuple[Lab, Lab], tuple[Lab, Lab]]:
    """Chroma, and hue in degrees from 0 to 360, after a* was stretched for colours that are nearly grey."""
    mean = (np.hypot(first[..., 1], first[..., 2]) + np.hypot(second[..., 1], second[..., 2])) / 2
    stretch = 1 + 0.5 * (1 - _chroma_share(mean))

    def of(colours: Lab) -> tuple[Lab, Lab]:
        a, b = stretch * colours[..., 1], colours[..., 2]
        hue = np.degrees(np.arctan2(b, a))
        return np.hypot(a, b), np.where(hue < 0, hue + 360, hue)

    return of(first), of(second)


def _chroma_share(chroma: Lab) -> Lab:
    seventh = chroma**7
    share: Lab = np.sqrt(seventh / (seventh + _25_TO_7))
    return share


def _hue_weight(hue: Lab) -> Lab:
    weight: Lab = (
        1
        - 0.17 * np.cos(np.radians(hue - 30))
        + 0.24 * np.cos(np.radians(2 * hue))
        + 0.32 * np.cos(np.radians(3 * hue + 6))
        - 0.20 * np.cos(np.radians(4 * hue - 63))
    )
    return weight
