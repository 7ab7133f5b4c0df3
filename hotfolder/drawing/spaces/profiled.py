"""Colour spaces whose colours a profile makes into inks: RGB of every kind, CalGray and Lab (8.6.5)."""

from collections.abc import Callable
from typing import Final

import numpy as np
import pikepdf

from hotfolder.colour.colour_tables import tabled
from hotfolder.colour.conversions import Intent
from hotfolder.colour.press_colours import D50, Floats, PressColours
from hotfolder.drawing.spaces.by_table import sampled_view
from hotfolder.drawing.spaces.calibrated import lab_under_d50
from hotfolder.drawing.spaces.space import PaintSpace, Ranges, SpaceTraits, unit_ranges
from hotfolder.drawing.spaces.view import View
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.plates import Bytes

# From so many pixels on a table is made for a picture's colours: that takes as long as converting these.
_MANY_PIXELS: Final = 350_000

_TOUCHES: Final = frozenset(PROCESS_INKS)


class Converted(PaintSpace):
    """A colour space whose components are no inks: a conversion makes inks of its colours."""

    _tables: dict[tuple[str, Intent], Callable[[Bytes], Bytes]]

    def __init__(
        self,
        pdf: pikepdf.Pdf,
        colours: PressColours,
        family: str,
        ranges: Ranges,
    ) -> None:
        initial = tuple(min(max(0.0, low), high) for low, high in ranges)
        super().__init__(pdf, colours, SpaceTraits(family, ranges, initial, _TOUCHES, own=False))
        self._tables = {}

    def plates(self, samples: Bytes, intent: Intent = Intent.RELATIVE) -> dict[str, Bytes]:
        """The process inks that the press's profile gives."""
        if not self._worth_a_table(samples):
            return super().plates(samples, intent)
        convert = self._table("plates", intent, self._inks_of_shares)
        made = {ink: np.empty(samples.shape[:2], np.uint8) for ink in PROCESS_INKS}
        for rows in self.strips(samples):
            inks = convert(samples[rows])
            for place, ink in enumerate(PROCESS_INKS):
                made[ink][rows] = inks[..., place]
        return made

    def screen_picture(self, samples: Bytes, intent: Intent = Intent.RELATIVE) -> Bytes:
        """A picture in sRGB."""
        if not self._worth_a_table(samples):
            return super().screen_picture(samples, intent)
        convert = self._table("screen", intent, self._screen_of_shares)
        shown = np.empty_like(samples)
        for rows in self.strips(samples):
            shown[rows] = convert(samples[rows])
        return shown

    def make_view(self, view: View, intent: Intent) -> pikepdf.Object:
        """By a table of its own."""
        return sampled_view(self, view, intent)

    def _worth_a_table(self, samples: Bytes) -> bool:
        height, width, components = samples.shape
        return bool(components == 3 and height * width > _MANY_PIXELS)

    def _table(
        self, what: str, intent: Intent, exact: Callable[[Floats, Intent], Floats]
    ) -> Callable[[Bytes], Bytes]:
        if (what, intent) not in self._tables:
            self._tables[what, intent] = tabled(lambda shares: exact(shares, intent))
        return self._tables[what, intent]

    def _inks_of_shares(self, shares: Floats, intent: Intent) -> Floats:
        """Inks for colours given as shares of their components' ranges (on the last axis)."""
        inks = self.ink_values(self._of_shares(shares), intent)
        return np.stack([inks[ink] for ink in PROCESS_INKS], axis=-1).reshape(*shares.shape[:-1], 4)

    def _screen_of_shares(self, shares: Floats, intent: Intent) -> Floats:
        return self.screen_values(self._of_shares(shares), intent).reshape(*shares.shape[:-1], 3)

    def _of_shares(self, shares: Floats) -> Floats:
        low, high = np.array(self.traits.ranges).T
        components: Floats = shares.reshape(-1, self.components) * (high - low) + low
        return components


class Profiled(Converted):
    """Colours with an ICC profile. source: its data; None for DeviceRGB, which counts as sRGB."""

    def __init__(
        self, pdf: pikepdf.Pdf, colours: PressColours, family: str, source: bytes | None, components: int = 3
    ) -> None:
        super().__init__(pdf, colours, family, unit_ranges(components))
        self._source = source

    def ink_values(self, values: Floats, intent: Intent) -> dict[str, Floats]:
        """The process inks that the press's profile gives."""
        inks = self.colours.conversions.to_press(values, self._source, intent)
        return {ink: inks[:, place] for place, ink in enumerate(PROCESS_INKS)}

    def screen_values(self, values: Floats, intent: Intent) -> Floats:
        """By the profile."""
        return self.colours.on_screen(values, self._source, intent)

    def luminosity_values(self, values: Floats) -> Floats:
        """RGB by its weights, whatever its profile; grey is its own."""
        return values[:, 0] if self.components == 1 else self.weighted(values)

    def screen_picture(self, samples: Bytes, intent: Intent = Intent.RELATIVE) -> Bytes:
        """SRGB as it is; else by the profile."""
        return samples if self._source is None else super().screen_picture(samples, intent)

    def make_view(self, view: View, intent: Intent) -> pikepdf.Object:
        """DeviceRGB as it is on the screen; else by a table."""
        if self._source is None and view in {View.screen(), View.blended()}:
            return pikepdf.Name.DeviceRGB
        return super().make_view(view, intent)


class LabSpace(Converted):
    """CIELAB under a white of its own; what `white` is given is XYZ."""

    def __init__(
        self,
        pdf: pikepdf.Pdf,
        colours: PressColours,
        ranges: Ranges,
        white: Floats = D50,
        family: str = "Lab",
    ) -> None:
        super().__init__(pdf, colours, family, ranges)
        self._white = white

    def ink_values(self, values: Floats, intent: Intent) -> dict[str, Floats]:
        """The process inks that the press's profile gives."""
        inks = self.colours.conversions.lab_to_press_exactly(lab_under_d50(values, self._white), intent)
        return {ink: inks[:, place] for place, ink in enumerate(PROCESS_INKS)}

    def screen_values(self, values: Floats, intent: Intent) -> Floats:  # noqa: ARG002 - colorimetric by nature
        """As sRGB shows it."""
        return self.colours.lab_on_screen(lab_under_d50(values, self._white))

    def lab_values(self, values: Floats, intent: Intent) -> Floats:  # noqa: ARG002 - colorimetric by nature
        """The colours themselves, under D50."""
        return lab_under_d50(values, self._white)
