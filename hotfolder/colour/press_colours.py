"""Converts single colours and pictures to inks and to sRGB, with a press's ICC profile or without any.

Without a profile nothing is made into inks; on the screen, inks are then told by the standard's own simple
formula (ISO 32000-2, 10.4.2.5), which is good enough for showing where something lies.
"""

import numpy as np
from numpy.typing import NDArray

from hotfolder.colour.cielab import WHITE
from hotfolder.colour.conversions import Conversions, Intent
from hotfolder.colour.quick_proof import ProofColours
from hotfolder.colour.srgb import light_of, values_of
from hotfolder.errors import NotDrawnError
from hotfolder.model.plates import Bytes

Floats = NDArray[np.float64]
Lab = tuple[float, float, float]

# sRGB to XYZ under D50, the white that profiles connect through (IEC 61966-2-1, adapted as ISO 15076-1,
# annex E, does; columns of the usual sRGB profiles).
_SRGB_TO_XYZ = np.array(
    [[0.4360747, 0.3850649, 0.1430804], [0.2225045, 0.7168786, 0.0606169], [0.0139322, 0.0971045, 0.7141733]]
)
D50 = np.array(WHITE)


class PressColours:
    """Conversions for a press, or for none; colours are floats from 0 to 1 of shape (..., components)."""

    def __init__(self, conversions: Conversions | None) -> None:
        self._conversions = conversions
        self._pictures = None if conversions is None else ProofColours(conversions)

    @property
    def conversions(self) -> Conversions:
        """The press's conversions; NotDrawnError without a press."""
        if self._conversions is None:
            raise NotDrawnError("it has colours that become inks only by a press's profile")
        return self._conversions

    @property
    def at_hand(self) -> bool:
        """Whether there is a press with a profile."""
        return self._conversions is not None

    def inks_on_screen(self, inks: Floats) -> Floats:
        """SRGB for process inks of shape (..., 4)."""
        if self._conversions is None:
            return np.clip(1 - inks[..., :3] - inks[..., 3:], 0, 1)
        return self._conversions.press_to_screen(inks)

    def picture_on_screen(self, inks: Bytes) -> Bytes:
        """The same for pictures; large ones by littleCMS's own table, within a few of 255."""
        if self._pictures is None:
            sums = inks[..., :3].astype(np.uint16) + inks[..., 3:]
            simple: Bytes = 255 - np.minimum(sums, 255).astype(np.uint8)
            return simple
        return self._pictures.press_to_screen(inks)

    def on_screen(self, colours: Floats, source: bytes | None, intent: Intent) -> Floats:
        """SRGB for colours with the profile `source`; None is sRGB."""
        if source is None or self._conversions is None:
            return colours if colours.shape[-1] == 3 else np.repeat(colours, 3, axis=-1)
        return self._conversions.to_screen(colours, source, intent)

    def lab_on_screen(self, lab: Floats) -> Floats:
        """SRGB for CIELAB colours (D50)."""
        if self._conversions is None:
            return _lab_to_srgb(lab)
        return self._conversions.lab_to_screen(lab)

    def inks_as_lab(self, inks: Floats) -> Floats:
        """CIELAB (D50) of process inks as they measure on paper."""
        if self._conversions is None:
            return self.screen_as_lab(self.inks_on_screen(inks))
        return np.asarray(self._conversions.press_to_lab(inks), np.float64)

    def screen_as_lab(self, colours: Floats) -> Floats:
        """CIELAB (D50) of sRGB, by its formulas."""
        return xyz_to_lab(light_of(colours) @ _SRGB_TO_XYZ.T)


def xyz_to_lab(xyz: Floats) -> Floats:
    """CIELAB of XYZ under D50 (CIE 15, 8.2.1.1)."""
    share = np.maximum(xyz, 0) / D50
    root = np.where(share > (6 / 29) ** 3, np.cbrt(share), share * (29 / 6) ** 2 / 3 + 4 / 29)
    x, y, z = root[..., 0], root[..., 1], root[..., 2]
    return np.stack([116 * y - 16, 500 * (x - y), 200 * (y - z)], axis=-1)


def lab_to_xyz(lab: Floats) -> Floats:
    """XYZ of CIELAB, both under a white of 1, 1, 1: to be multiplied by the white that the colours are under.

    CIE 15, 8.2.1.1, turned round.
    """
    y = (lab[..., 0] + 16) / 116
    root = np.stack([y + lab[..., 1] / 500, y, y - lab[..., 2] / 200], axis=-1)
    return np.where(root > 6 / 29, root**3, 3 * (6 / 29) ** 2 * (root - 4 / 29))


def _lab_to_srgb(lab: Floats) -> Floats:
    linear = np.clip((lab_to_xyz(lab) * D50) @ np.linalg.inv(_SRGB_TO_XYZ).T, 0, 1)
    return values_of(linear)
