"""Colour spaces that name their inks: grey, CMYK, Separation and DeviceN (ISO 32000-2, 8.6.4, 8.6.6).

Their numbers are taken as delivered: a component is the share of its ink, whatever a profile may say.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np
import pikepdf

from hotfolder.colour.conversions import Intent
from hotfolder.colour.press_colours import Floats, Lab, PressColours
from hotfolder.drawing.spaces.by_formula import calculator, device_n, selector
from hotfolder.drawing.spaces.by_table import sampled_view
from hotfolder.drawing.spaces.space import PaintSpace, SpaceTraits, to_bytes, unit_ranges
from hotfolder.drawing.spaces.view import ALL_INKS, NO_INK, Showing, View
from hotfolder.errors import NotDrawnError
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.plates import Bytes

# What a soft mask takes of inks: light by 10.4.2.2 (CMYK to grey).
_INK_LUMA: Final = np.array([0.30, 0.59, 0.11, 1.0])
_GREY_OF_INKS: Final = (
    "{4 1 roll 0.11 mul exch 0.59 mul add exch 0.3 mul add add 1 exch sub dup 0 lt {pop 0} if dup dup}"
)


class Grey(PaintSpace):
    """Grey as the black plate: DeviceGray and profiled greys."""

    def __init__(self, pdf: pikepdf.Pdf, colours: PressColours, family: str = "DeviceGray") -> None:
        super().__init__(
            pdf, colours, SpaceTraits(family, unit_ranges(1), (0.0,), frozenset({"Black"}), own=True)
        )

    def ink_values(self, values: Floats, intent: Intent) -> dict[str, Floats]:  # noqa: ARG002 - nothing is converted
        """The black plate."""
        return {"Black": 1 - values[:, 0]}

    def screen_values(self, values: Floats, intent: Intent) -> Floats:  # noqa: ARG002 - nothing is converted
        """The black ink on the press's paper."""
        inks = np.zeros((len(values), 4))
        inks[:, 3] = 1 - values[:, 0]
        return self.colours.inks_on_screen(inks)

    def blended_values(self, values: Floats, intent: Intent) -> Floats:  # noqa: ARG002 - nothing is converted
        """As light as it says (10.4.2.2)."""
        return np.repeat(values, 3, axis=1)

    def luminosity_values(self, values: Floats) -> Floats:
        """Grey is its own luminosity."""
        return values[:, 0]

    def plates(self, samples: Bytes, intent: Intent = Intent.RELATIVE) -> dict[str, Bytes]:  # noqa: ARG002
        """The black plate."""
        return {"Black": 255 - samples[..., 0]}

    def screen_picture(self, samples: Bytes, intent: Intent = Intent.RELATIVE) -> Bytes:
        """By a table of the 256 greys."""
        return by_table(self, samples, intent)

    def blended_picture(self, samples: Bytes, intent: Intent = Intent.RELATIVE) -> Bytes:  # noqa: ARG002
        """As light as it says."""
        return np.repeat(samples, 3, axis=2)

    def luminosity_picture(self, samples: Bytes) -> Bytes:
        """Grey is its own luminosity."""
        return samples[..., 0]

    def make_view(self, view: View, intent: Intent) -> pikepdf.Object:
        """The black plate in its channels; greys as they are for luminosity."""
        match view.showing:
            case Showing.PLATES:
                return selector(self.pdf, ("Black",), view, light=True)
            case Showing.LUMINOSITY | Showing.BLENDED:
                return pikepdf.Name.DeviceGray
            case Showing.SCREEN:
                return sampled_view(self, view, intent)


class Cmyk(PaintSpace):
    """The four process inks: DeviceCMYK and profiled CMYK."""

    def __init__(self, pdf: pikepdf.Pdf, colours: PressColours, family: str = "DeviceCMYK") -> None:
        black = (0.0, 0.0, 0.0, 1.0) if family == "DeviceCMYK" else (0.0,) * 4
        super().__init__(
            pdf, colours, SpaceTraits(family, unit_ranges(4), black, frozenset(PROCESS_INKS), own=True)
        )

    def ink_values(self, values: Floats, intent: Intent) -> dict[str, Floats]:  # noqa: ARG002 - nothing is converted
        """Each component is its plate."""
        return {ink: values[:, place] for place, ink in enumerate(PROCESS_INKS)}

    def screen_values(self, values: Floats, intent: Intent) -> Floats:  # noqa: ARG002 - inks have one look
        """The inks on the press's paper."""
        return self.colours.inks_on_screen(values)

    def lab_values(self, values: Floats, intent: Intent) -> Floats:  # noqa: ARG002 - inks have one look
        """The inks as they measure on the press's paper."""
        return self.colours.inks_as_lab(values)

    def luminosity_values(self, values: Floats) -> Floats:
        """The standard's grey of inks."""
        grey: Floats = 1 - np.minimum(values @ _INK_LUMA, 1)
        return grey

    def plates(self, samples: Bytes, intent: Intent = Intent.RELATIVE) -> dict[str, Bytes]:  # noqa: ARG002
        """Each component is its plate."""
        return {ink: samples[..., place] for place, ink in enumerate(PROCESS_INKS)}

    def screen_picture(self, samples: Bytes, intent: Intent = Intent.RELATIVE) -> Bytes:  # noqa: ARG002
        """The inks on the press's paper."""
        return self.colours.picture_on_screen(samples)

    def make_view(self, view: View, intent: Intent) -> pikepdf.Object:
        """The view's plates of the four."""
        match view.showing:
            case Showing.PLATES:
                return selector(self.pdf, PROCESS_INKS, view)
            case Showing.LUMINOSITY:
                return device_n(self.pdf, 4, calculator(self.pdf, _GREY_OF_INKS, 4))
            case Showing.SCREEN | Showing.BLENDED:
                return sampled_view(self, view, intent)


class NamedInks(PaintSpace):
    """Separation and DeviceN: each component is an ink of its own, process or spot.

    tint: what turns components into the alternate space's; for the look only. process: names by which an
    NChannel space calls process inks.
    """

    def __init__(
        self,
        inks: Sequence[str],
        alternate: PaintSpace,
        tint: Callable[[Floats], Floats],
        *,
        process: Mapping[str, str],
        family: str = "DeviceN",
    ) -> None:
        self.inks_of_components = tuple(process.get(ink, ink) for ink in inks)
        self._alternate, self._tint = alternate, tint
        laid = frozenset(self.inks_of_components) - {NO_INK}
        touches = laid | frozenset(PROCESS_INKS) if ALL_INKS in laid else laid
        count = len(self.inks_of_components)
        traits = SpaceTraits(family, unit_ranges(count), (1.0,) * count, touches, own=True)
        super().__init__(alternate.pdf, alternate.colours, traits)
        self.traits = replace(traits, looks=self._looks_of_spots(), approximate=alternate.approximate)

    def _looks_of_spots(self) -> dict[str, Lab]:
        """Each spot alone at full strength, through the alternate space."""
        looks: dict[str, Lab] = {}
        for place, ink in enumerate(self.inks_of_components):
            if ink in PROCESS_INKS or ink in {ALL_INKS, NO_INK}:
                continue
            alone = np.zeros((1, self.components))
            alone[0, place] = 1
            try:
                lightness, a, b = self._alternate.lab_values(self._tint(alone), Intent.RELATIVE)[0]
            except NotDrawnError:
                continue  # its plate is known all the same
            looks[ink] = (float(lightness), float(a), float(b))
        return looks

    def ink_values(self, values: Floats, intent: Intent) -> dict[str, Floats]:  # noqa: ARG002 - nothing is converted
        """Each component on the plate of its name; the fuller where a name stands there twice."""
        inks: dict[str, Floats] = {}
        for place, ink in enumerate(self.inks_of_components):
            if ink != NO_INK:
                plate = values[:, place]
                inks[ink] = np.maximum(inks[ink], plate) if ink in inks else plate
        return _everywhere(inks)

    def plates(self, samples: Bytes, intent: Intent = Intent.RELATIVE) -> dict[str, Bytes]:  # noqa: ARG002
        """Each component on the plate of its name."""
        inks: dict[str, Bytes] = {}
        for place, ink in enumerate(self.inks_of_components):
            if ink != NO_INK:
                plate = samples[..., place]
                inks[ink] = np.maximum(inks[ink], plate) if ink in inks else plate
        return _everywhere(inks)

    def screen_values(self, values: Floats, intent: Intent) -> Floats:
        """By the alternate space: what the file says the inks look like."""
        if not self.touches:
            return np.ones((len(values), 3))
        return self._alternate.screen_values(self._tint(values), intent)

    def blended_values(self, values: Floats, intent: Intent) -> Floats:
        """By the alternate space."""
        if not self.touches:
            return np.ones((len(values), 3))
        return self._alternate.blended_values(self._tint(values), intent)

    def lab_values(self, values: Floats, intent: Intent) -> Floats:
        """By the alternate space."""
        return self._alternate.lab_values(self._tint(values), intent)

    def luminosity_values(self, values: Floats) -> Floats:
        """By the alternate space."""
        if not self.touches:
            return np.ones(len(values))
        return self._alternate.luminosity_values(self._tint(values))

    def screen_picture(self, samples: Bytes, intent: Intent = Intent.RELATIVE) -> Bytes:
        """By a table of 256 tints where there is one ink."""
        return (
            by_table(self, samples, intent)
            if self.components == 1
            else super().screen_picture(samples, intent)
        )

    def make_view(self, view: View, intent: Intent) -> pikepdf.Object:
        """The view's plates of those that it has."""
        if view.showing is Showing.PLATES:
            return selector(self.pdf, self.inks_of_components, view)
        return sampled_view(self, view, intent)


def by_table(space: PaintSpace, samples: Bytes, intent: Intent) -> Bytes:
    """A picture of one component in sRGB, by a table of its 256 values."""
    every = np.arange(256, dtype=np.uint8).reshape(256, 1, 1)
    table = to_bytes(space.screen_values(space.from_bytes(every), intent))
    return table[samples[..., 0]]


def _everywhere(inks: dict[str, "np.ndarray"]) -> dict[str, "np.ndarray"]:
    """With what goes on all plates on the process plates too, where it is the fuller."""
    if ALL_INKS in inks:
        for ink in (*PROCESS_INKS, *inks):
            inks[ink] = np.maximum(inks.get(ink, inks[ALL_INKS]), inks[ALL_INKS])
    return inks
