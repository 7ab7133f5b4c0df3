"""Colour spaces whose colours change on their way to the plates.

Within a group of screen colours on a page of inks, every colour becomes one of the screen before it becomes
ink (ISO 32000-2, 11.4.7); under a transfer function a plate's values are replaced by others (10.5).
"""

from dataclasses import dataclass, replace

import numpy as np
import pikepdf

from hotfolder.colour.conversions import Intent
from hotfolder.colour.press_colours import Floats
from hotfolder.drawing.spaces.by_table import sampled_view
from hotfolder.drawing.spaces.space import PaintSpace
from hotfolder.drawing.spaces.view import View
from hotfolder.errors import NotDrawnError
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.pdf.colour.functions import read_function
from hotfolder.pdf.objects.reading import items, name

_PLACES = 1025  # along a transfer function
_TO_A_HAIR = 1 / 510  # what changes nothing in 8 bits

Tones = tuple[bytes, ...]  # as `read_tones` gives them


@dataclass(frozen=True, slots=True)
class SpaceChange:
    """A change of colours before they become inks.

    on_screen: they become sRGB first. tones: the transfer functions that their inks then go through (10.5):
    none; one for all inks; or four, for the process inks in their order.
    """

    on_screen: bool = False
    tones: Tones = ()

    def toned(self, inks: dict[str, Floats]) -> dict[str, Floats]:
        """Inks, 0 to 1, after the curves, which take and give light: 1 - ink (10.5)."""
        if not self.tones:
            return inks
        return {ink: self._after(ink, values) for ink, values in inks.items()}

    def _after(self, ink: str, values: Floats) -> Floats:
        if len(self.tones) == 1:
            curve = self.tones[0]
        elif ink in PROCESS_INKS:
            curve = self.tones[PROCESS_INKS.index(ink)]
        else:
            return values
        changed: Floats = 1 - np.interp(1 - values, np.linspace(0, 1, _PLACES), np.frombuffer(curve))
        return changed


class ChangedSpace(PaintSpace):
    """A colour space whose colours are changed before they become inks. base: the unchanged one."""

    def __init__(self, base: PaintSpace, change: SpaceChange) -> None:
        traits = base.traits
        if change.on_screen:
            process = frozenset(PROCESS_INKS)
            traits = replace(traits, family="DeviceRGB", touches=process, own=False)
        super().__init__(base.pdf, base.colours, traits)
        self.base = base
        self.change = change

    def ink_values(self, values: Floats, intent: Intent) -> dict[str, Floats]:
        """The inks after the change."""
        if not self.change.on_screen:
            return self.change.toned(self.base.ink_values(values, intent))
        colours = np.clip(self.base.blended_values(values, intent), 0, 1)
        inks = self.colours.conversions.to_press(colours)
        return self.change.toned({ink: inks[:, place] for place, ink in enumerate(PROCESS_INKS)})

    def screen_values(self, values: Floats, intent: Intent) -> Floats:
        """The look that the file gives them."""
        return self.base.screen_values(values, intent)

    def blended_values(self, values: Floats, intent: Intent) -> Floats:
        """Those of the base."""
        return self.base.blended_values(values, intent)

    def luminosity_values(self, values: Floats) -> Floats:
        """Those of the base."""
        return self.base.luminosity_values(values)

    def make_view(self, view: View, intent: Intent) -> pikepdf.Object:
        """By a table."""
        return sampled_view(self, view, intent)


def read_tones(value: object) -> Tones:
    """The curves of a transfer function's entry (`TR`, `TR2`); none where it changes nothing.

    NotDrawnError where it cannot be read.
    """
    if isinstance(value, pikepdf.Array):
        curves = [_curve(each) for each in items(value, 4)]
        if len(curves) != len(PROCESS_INKS):
            raise NotDrawnError("a transfer function is not of one or of four curves")
    else:
        curves = [_curve(value)]
    places = np.linspace(0, 1, _PLACES)
    if all(np.abs(curve - places).max() < _TO_A_HAIR for curve in curves):
        return ()
    return tuple(curve.tobytes() for curve in curves)


def _curve(value: object) -> Floats:
    places = np.linspace(0, 1, _PLACES)
    if name(value) in {"Identity", "Default"}:
        return places
    values = read_function(value)(places[:, None])
    if values.shape[1] != 1:
        raise NotDrawnError("a transfer function gives more than one value")
    return np.clip(values[:, 0], 0, 1)
