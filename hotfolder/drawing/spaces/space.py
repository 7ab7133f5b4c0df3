"""A colour space as drawing plates needs it: the inks and the look of its colours, and its form in a view.

Colours go in as components as they stand in the file. Of pictures the samples go in as bytes: 0 is the least
of a component's range, 255 the greatest.
"""

from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import pikepdf

from hotfolder.colour.conversions import Intent
from hotfolder.colour.press_colours import Floats, Lab, PressColours
from hotfolder.drawing.spaces.view import Showing, View
from hotfolder.model.plates import Bytes

Ranges = tuple[tuple[float, float], ...]

_UNIT: Final = (0.0, 1.0)

# How many colours of a page are kept with their inks; pages of maps and vignettes have some hundreds.
_KEPT_COLOURS: Final = 4096

# Rows of a picture that are worked on at once where that takes floats.
_STRIP_PIXELS: Final = 1 << 18

# Luminosity as soft masks take it (ISO 32000-2, 11.5.3, and 10.4.2.2 for inks).
_LUMA: Final = np.array([0.30, 0.59, 0.11])


@dataclass(frozen=True, slots=True)
class SpaceTraits:
    """The properties of a colour space that hold for all its colours (ISO 32000-2, 8.6).

    family: its name as in the file, defaults resolved (`DeviceCMYK`, `ICCBased`, ...). ranges: of each
    component. initial: the colour that holds when the space was chosen (8.6.8). touches: the inks that its
    colours may lay; `All` among them for those on every plate. own: it is the press's own (grey, CMYK, named
    inks), so that no profile is needed. looks: the colour of each spot ink at full strength, CIELAB (D50).
    approximate: what it shows only nearly, a sentence each.
    """

    family: str
    ranges: Ranges
    initial: tuple[float, ...]
    touches: frozenset[str]
    own: bool
    looks: Mapping[str, Lab] | None = None
    approximate: tuple[str, ...] = ()


class PaintSpace(ABC):
    """A colour space that turns its colours into inks and screen colours; `PaintSpaces.read` gives them."""

    def __init__(self, pdf: pikepdf.Pdf, colours: PressColours, traits: SpaceTraits) -> None:
        self.pdf = pdf
        self.colours = colours
        self.traits = traits
        self._views: dict[tuple[View, Intent], pikepdf.Object] = {}
        self._inks: dict[tuple[tuple[float, ...], Intent], dict[str, float]] = {}

    @property
    def family(self) -> str:
        """Its name as in the file, a default space's where one stands for it."""
        return self.traits.family

    @property
    def components(self) -> int:
        """How many numbers make a colour."""
        return len(self.traits.ranges)

    @property
    def initial(self) -> tuple[float, ...]:
        """The components that hold when the space was chosen."""
        return self.traits.initial

    @property
    def touches(self) -> frozenset[str]:
        """The inks that its colours may lay; `All` among them stands for every plate."""
        return self.traits.touches

    @property
    def own(self) -> bool:
        """Whether it is the press's own, so that no profile is needed."""
        return self.traits.own

    @property
    def looks(self) -> Mapping[str, Lab]:
        """The colour of each of its spot inks at full strength, CIELAB (D50)."""
        return self.traits.looks or {}

    @property
    def approximate(self) -> tuple[str, ...]:
        """What it shows only nearly, a sentence each."""
        return self.traits.approximate

    # Solid colours

    def inks(self, components: Sequence[float], intent: Intent = Intent.RELATIVE) -> dict[str, float]:
        """The inks of a colour, 0 to 1, unrounded; components out of range count as the nearest in it.

        Inks of `touches` that get nothing are there with 0. NotDrawnError where a press is needed and
        there is none.
        """
        key = (tuple(components), intent)
        if key not in self._inks:
            if len(self._inks) >= _KEPT_COLOURS:
                self._inks.clear()
            plates = self.ink_values(self._one(components), intent)
            self._inks[key] = {ink: float(values[0]) for ink, values in plates.items()}
        return self._inks[key]

    def screen(
        self, components: Sequence[float], intent: Intent = Intent.RELATIVE
    ) -> tuple[float, float, float]:
        """A colour as its master means it, in sRGB from 0 to 1."""
        red, green, blue = self.screen_values(self._one(components), intent)[0]
        return float(red), float(green), float(blue)

    def shown(
        self, components: Sequence[float], view: View, intent: Intent = Intent.RELATIVE
    ) -> tuple[float, float, float]:
        """A colour in a view's channels: operands for `rg`."""
        match view.showing:
            case Showing.PLATES:
                return view.channels(self.inks(components, intent))
            case Showing.SCREEN:
                return self.screen(components, intent)
            case Showing.BLENDED:
                red, green, blue = self.blended_values(self._one(components), intent)[0]
                return float(red), float(green), float(blue)
            case Showing.LUMINOSITY:
                grey = float(self.luminosity_values(self._one(components))[0])
                return grey, grey, grey

    def _one(self, components: Sequence[float]) -> Floats:
        given = [*components, *self.initial[len(components) :]][: self.components]
        low, high = np.array(self.traits.ranges).T if self.traits.ranges else (np.zeros(0), np.zeros(0))
        return np.clip(np.array([given], np.float64), low, high)

    # Many colours at once: arrays of shape (count, components)

    @abstractmethod
    def ink_values(self, values: Floats, intent: Intent) -> dict[str, Floats]:
        """The inks of many colours, an array of shape (count,) for each ink."""

    @abstractmethod
    def screen_values(self, values: Floats, intent: Intent) -> Floats:
        """Many colours in sRGB, shape (count, 3)."""

    def blended_values(self, values: Floats, intent: Intent) -> Floats:
        """Many colours in the sRGB that a group of screen colours makes of them, shape (count, 3)."""
        return self.screen_values(values, intent)

    def luminosity_values(self, values: Floats) -> Floats:
        """How light many colours are to a luminosity soft mask, shape (count,)."""
        return self.weighted(self.screen_values(values, Intent.RELATIVE))

    @staticmethod
    def weighted(rgb: Floats) -> Floats:
        """The luminosity of RGB, shape (count,)."""
        luminosity: Floats = rgb @ _LUMA
        return luminosity

    def lab_values(self, values: Floats, intent: Intent) -> Floats:
        """Many colours as CIELAB (D50), shape (count, 3)."""
        return self.colours.screen_as_lab(self.screen_values(values, intent))

    def shown_values(self, values: Floats, view: View, intent: Intent = Intent.RELATIVE) -> Floats:
        """Many colours in a view's channels, shape (count, 3)."""
        match view.showing:
            case Showing.PLATES:
                return view.light(self.ink_values(values, intent), len(values))
            case Showing.SCREEN:
                return self.screen_values(values, intent)
            case Showing.BLENDED:
                return self.blended_values(values, intent)
            case Showing.LUMINOSITY:
                return np.repeat(self.luminosity_values(values)[:, None], 3, axis=1)

    # Pictures: bytes of shape (height, width, components), over the components' ranges

    def plates(self, samples: Bytes, intent: Intent = Intent.RELATIVE) -> dict[str, Bytes]:
        """A picture's plates, 255 full ink."""
        height, width = samples.shape[:2]
        made: dict[str, Bytes] = {}
        for rows in self.strips(samples):
            for ink, values in self.ink_values(self.from_bytes(samples[rows]), intent).items():
                plate = made.setdefault(ink, np.empty((height, width), np.uint8))
                plate[rows] = to_bytes(values).reshape(-1, width)
        return made

    def screen_picture(self, samples: Bytes, intent: Intent = Intent.RELATIVE) -> Bytes:
        """A picture in sRGB."""
        shown = np.empty((*samples.shape[:2], 3), np.uint8)
        for rows in self.strips(samples):
            values = self.screen_values(self.from_bytes(samples[rows]), intent)
            shown[rows] = to_bytes(values).reshape(shown[rows].shape)
        return shown

    def blended_picture(self, samples: Bytes, intent: Intent = Intent.RELATIVE) -> Bytes:
        """A picture in the sRGB that a group of screen colours makes of it."""
        return self.screen_picture(samples, intent)

    def luminosity_picture(self, samples: Bytes) -> Bytes:
        """A picture's luminosity, as a soft mask takes it, shape (height, width)."""
        grey = np.empty(samples.shape[:2], np.uint8)
        for rows in self.strips(samples):
            values = self.luminosity_values(self.from_bytes(samples[rows]))
            grey[rows] = to_bytes(values).reshape(grey[rows].shape)
        return grey

    def strips(self, samples: Bytes) -> list[slice]:
        """Rows of a picture, so many at once that floats of them take little memory."""
        height, width = samples.shape[:2]
        step = max(1, _STRIP_PIXELS // max(width, 1))
        return [slice(start, start + step) for start in range(0, height, step)]

    def from_bytes(self, samples: Bytes) -> Floats:
        """The components of a picture's pixels, shape (count, components)."""
        low, high = np.array(self.traits.ranges).T
        values: Floats = samples.reshape(-1, self.components) * ((high - low) / 255) + low
        return values

    # In a view

    def view(self, view: View, intent: Intent = Intent.RELATIVE) -> pikepdf.Object:
        """A colour space for the same components that draws for one pass, without a profile."""
        if (view, intent) not in self._views:
            self._views[view, intent] = self.make_view(view, intent)
        return self._views[view, intent]

    @abstractmethod
    def make_view(self, view: View, intent: Intent) -> pikepdf.Object:
        """The space that `view` keeps."""


def to_bytes(values: Floats) -> Bytes:
    """Values from 0 to 1 as bytes."""
    return np.rint(np.clip(values, 0, 1) * 255).astype(np.uint8)


def unit_ranges(components: int) -> Ranges:
    """Components that run from 0 to 1."""
    return (_UNIT,) * components
