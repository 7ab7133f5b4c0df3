"""A soft proof of plates: process inks through the press's profile, spot inks multiplied over them."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Protocol, TypeAlias

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from hotfolder.colour.cielab import linear_srgb
from hotfolder.colour.screen_colour import on_screen
from hotfolder.colour.srgb import light_of, values_of
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.plates import Bytes

Floats: TypeAlias = NDArray[np.float32]

# Tints of an ink look darker than light added up over dots and bare paper, since light spreads in the
# paper: reflectances are mixed as their roots. J. A. C. Yule, W. J. Nielsen, 'The penetration of light
# into paper and its effect on halftone reproduction', TAGA 1951; n = 2 for coated and uncoated stock is
# common practice.
_YULE_NIELSEN: Final = 2.0

# Finding runs costs a twentieth of converting; it pays where they are a little longer than a pixel.
_MOST_RUNS_SHARE: Final = 0.8

# Fine enough for every step of eight bits, in the steep part near black as well.
_LIGHT_STEPS: Final = 4096


class ScreenConversion(Protocol):
    """The part of `Conversions` that a soft proof needs."""

    def press_to_screen(self, inks: Bytes, *, paper: bool | None = None) -> Bytes:
        """SRGB of shape (..., 3) for process inks of shape (..., 4)."""


@dataclass(frozen=True, slots=True)
class InkColours:
    """How inks look on the press's paper.

    press: None where no profile is at hand; then the colours of the usual solids are mixed.
    looks: of each spot ink at full strength, CIELAB (D50).
    """

    press: ScreenConversion | None
    looks: Mapping[str, tuple[float, float, float]]
    paper: bool = False

    def printed(self, inks: Mapping[str, Bytes], size: tuple[int, int] | None = None) -> Bytes:
        """SRGB of the plates laid over one another, shape (height, width, 3).

        size: their width and height in pixels; needed only where there may be no plate at all.
        """
        width, height = next(iter(inks.values())).shape[::-1] if size is None else size
        process = np.zeros((height, width, 4), np.uint8)
        for place, name in enumerate(PROCESS_INKS):
            if name in inks:
                process[..., place] = inks[name]
        spots = [name for name in inks if name not in PROCESS_INKS and inks[name].any()]
        screen = self._process(process)
        if not spots:
            return screen
        light = _TO_LIGHT[screen]
        for name in spots:
            light *= self._passed(name)[inks[name]]
        return np.asarray(_TO_SCREEN[(light * (_LIGHT_STEPS - 1) + 0.5).astype(np.uint16)])

    def bare_paper(self) -> tuple[int, int, int]:
        """The unprinted paper in sRGB, 0 to 255."""
        red, green, blue = (int(value) for value in self._process(np.zeros((1, 1, 4), np.uint8))[0, 0])
        return red, green, blue

    def tints(self, ink: str) -> Bytes:
        """SRGB of the ink alone in 256 steps from bare paper to full, shape (256, 3)."""
        ramp = np.arange(256, dtype=np.uint8).reshape(1, 256)
        return np.asarray(self.printed({ink: ramp})[0])

    def _process(self, inks: Bytes) -> Bytes:
        if self.press is not None:
            return _by_runs(inks, self.press, paper=self.paper)
        image = Image.frombytes("CMYK", (inks.shape[1], inks.shape[0]), inks.tobytes())
        return np.asarray(on_screen(image))

    def _passed(self, ink: str) -> Floats:
        """The share of light that each of 256 steps of a spot ink lets through, shape (256, 3)."""
        solid = np.array(linear_srgb(self.looks.get(ink, _UNKNOWN_LOOK)), np.float32)
        root = solid ** (1 / _YULE_NIELSEN)
        step = np.linspace(0, 1, 256, dtype=np.float32)[:, None]
        return np.asarray((1 - step + step * root) ** _YULE_NIELSEN, np.float32)


def _by_runs(inks: Bytes, press: ScreenConversion, *, paper: bool) -> Bytes:
    """The inks on screen, each run of one colour converted once: most of most pages is flat."""
    colours = np.ascontiguousarray(inks).view(np.uint32).ravel()
    starts = np.flatnonzero(np.append(True, colours[1:] != colours[:-1]))
    if len(starts) > _MOST_RUNS_SHARE * len(colours):
        return press.press_to_screen(inks, paper=paper)
    shown = press.press_to_screen(inks.reshape(-1, 1, 4)[starts], paper=paper)
    lengths = np.diff(np.append(starts, len(colours)))
    return np.repeat(shown.reshape(-1, 3), lengths, axis=0).reshape(*inks.shape[:2], 3)


# A middle grey, for an ink of which the file does not say how it looks.
_UNKNOWN_LOOK: Final = (50.0, 0.0, 0.0)


# The light of each of a screen's 256 values, and the value of each step of light.
_TO_LIGHT: Final[Floats] = light_of(np.arange(256) / 255).astype(np.float32)
_TO_SCREEN: Final[Bytes] = np.rint(values_of(np.arange(_LIGHT_STEPS) / (_LIGHT_STEPS - 1)) * 255).astype(
    np.uint8
)
