"""What one drawing of a page shows: up to three plates, or the page's colours, in the three channels it has.

The renderer draws red, green and blue only. In a view of plates each channel is one ink, as the light that
it leaves: 1 is bare paper, 0 is full ink. Blending goes channel by channel on that side too (ISO 32000-2,
11.3.5.2), so what comes out of a drawing is the plates.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hotfolder.model.plates import Bytes

# The name of a colorant that goes on every plate (ISO 32000-2, 8.6.6.4), and of one that goes on none.
ALL_INKS: Final = "All"
NO_INK: Final = "None"

CHANNELS: Final = 3

Inks = Mapping[str, float]  # by name, 0 bare paper, 1 full ink; `All` stands for those not named


class Showing(Enum):
    """What the channels of a view are."""

    PLATES = "plates"
    SCREEN = "screen"
    BLENDED = "blended"
    LUMINOSITY = "luminosity"


@dataclass(frozen=True, slots=True)
class View:
    """One drawing of a page. plates: the inks in its channels, one to three; one alone is in all three."""

    showing: Showing
    plates: tuple[str, ...] = ()

    @classmethod
    def of_inks(cls, plates: Sequence[str]) -> "View":
        """A view of one to three inks, named as their colour spaces name them."""
        if not 1 <= len(plates) <= CHANNELS:
            raise ValueError(f"a drawing has room for one to three plates, not for {len(plates)}")
        return cls(Showing.PLATES, tuple(plates))

    @classmethod
    def screen(cls) -> "View":
        """The page as its master means it to look, in sRGB."""
        return cls(Showing.SCREEN)

    @classmethod
    def blended(cls) -> "View":
        """The sRGB in which the page is blended before it becomes ink (11.4.7)."""
        return cls(Showing.BLENDED)

    @classmethod
    def luminosity(cls) -> "View":
        """Greys, as a luminosity soft mask takes them from its group's colours (11.5.3)."""
        return cls(Showing.LUMINOSITY)

    def ink_in(self, channel: int) -> str | None:
        """The ink that one of the three channels shows; None where that stays white."""
        if len(self.plates) == 1:
            return self.plates[0]
        return self.plates[channel] if channel < len(self.plates) else None

    def channels(self, inks: Inks) -> tuple[float, float, float]:
        """What a colour of these inks is in this view of plates: operands for `rg`."""
        red, green, blue = (self._light(self.ink_in(channel), inks) for channel in range(CHANNELS))
        return red, green, blue

    @staticmethod
    def _light(plate: str | None, inks: Inks) -> float:
        if plate is None:
            return 1.0
        return min(max(1.0 - inks.get(plate, inks.get(ALL_INKS, 0.0)), 0.0), 1.0)

    def light(self, inks: Mapping[str, NDArray[np.float64]], count: int) -> NDArray[np.float64]:
        """The same for many colours: an array of shape (count,) for each ink gives one of (count, 3)."""
        shown = np.ones((count, CHANNELS))
        for channel in range(CHANNELS):
            ink = self.ink_in(channel)
            plate = inks.get(ink, inks.get(ALL_INKS)) if ink is not None else None
            if plate is not None:
                shown[:, channel] = 1 - plate
        return np.clip(shown, 0, 1)

    def picture(self, plates: Mapping[str, Bytes], size: tuple[int, int]) -> Bytes:
        """Plates of `size` (rows, columns), 255 full ink, as this view's pixels (rows, columns, channels).

        One channel, where all three are equal.
        """
        count = 1 if len(self.plates) == 1 else CHANNELS
        shown = np.empty((*size, count), np.uint8)
        for channel in range(count):
            ink = self.ink_in(channel)
            plate = plates.get(ink, plates.get(ALL_INKS)) if ink is not None else None
            if plate is None:
                shown[..., channel] = 255
            else:
                np.subtract(255, plate, out=shown[..., channel])
        return shown
