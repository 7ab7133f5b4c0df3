"""The transfer function of sRGB (IEC 61966-2-1, 5.2) on arrays; for one number it is in `cielab`."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def light_of(values: Floats) -> Floats:
    """The light, 0 to 1, that a screen makes of its values, 0 to 1."""
    light: Floats = np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)
    return light


def values_of(light: Floats) -> Floats:
    """The values, 0 to 1, for which a screen makes this light, 0 to 1."""
    values: Floats = np.where(light <= 0.0031308, light * 12.92, 1.055 * light ** (1 / 2.4) - 0.055)
    return values
