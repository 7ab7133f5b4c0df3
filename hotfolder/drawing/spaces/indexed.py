"""Colour spaces made of another: Indexed, and Pattern over a space (ISO 32000-2, 8.6.6.2, 8.6.6.3)."""

import numpy as np
import pikepdf
from pikepdf import Array, Name, String

from hotfolder.colour.conversions import Intent
from hotfolder.colour.press_colours import Floats, PressColours
from hotfolder.drawing.spaces.space import PaintSpace, SpaceTraits, to_bytes
from hotfolder.drawing.spaces.view import View
from hotfolder.errors import NotDrawnError
from hotfolder.model.plates import Bytes


class Indexed(PaintSpace):
    """A palette. colours: its entries as the base's components, shape (count, components)."""

    def __init__(self, base: PaintSpace, palette: Floats) -> None:
        top = float(len(palette) - 1)
        traits = SpaceTraits(
            "Indexed", ((0.0, top),), (0.0,), base.touches, base.own, base.looks, base.approximate
        )
        super().__init__(base.pdf, base.colours, traits)
        self.base = base
        self.palette = palette

    def _found(self, values: Floats) -> Floats:
        return self.palette[np.rint(np.clip(values[:, 0], 0, len(self.palette) - 1)).astype(np.intp)]

    def ink_values(self, values: Floats, intent: Intent) -> dict[str, Floats]:
        """The inks of the entries."""
        return self.base.ink_values(self._found(values), intent)

    def screen_values(self, values: Floats, intent: Intent) -> Floats:
        """The look of the entries."""
        return self.base.screen_values(self._found(values), intent)

    def blended_values(self, values: Floats, intent: Intent) -> Floats:
        """Those of the entries."""
        return self.base.blended_values(self._found(values), intent)

    def luminosity_values(self, values: Floats) -> Floats:
        """That of the entries."""
        return self.base.luminosity_values(self._found(values))

    def from_bytes(self, samples: Bytes) -> Floats:
        """The samples of an indexed picture are the places of its entries."""
        return samples.reshape(-1, 1).astype(np.float64)

    def make_view(self, view: View, intent: Intent) -> pikepdf.Object:
        """The palette in the view's channels."""
        shown = to_bytes(self.base.shown_values(self.palette, view, intent))
        made = Array([Name.Indexed, Name.DeviceRGB, len(self.palette) - 1, String(shown.tobytes())])
        return self.pdf.make_indirect(made)


class Pattern(PaintSpace):
    """What is painted with patterns. base: the space of uncoloured patterns; None where there is none."""

    def __init__(self, pdf: pikepdf.Pdf, colours: PressColours, base: PaintSpace | None) -> None:
        if base is None:
            traits = SpaceTraits("Pattern", (), (), frozenset(), own=True)
        else:
            traits = SpaceTraits(
                "Pattern",
                base.traits.ranges,
                base.initial,
                base.touches,
                base.own,
                base.looks,
                base.approximate,
            )
        super().__init__(pdf, colours, traits)
        self.base = base

    def _colour(self) -> PaintSpace:
        if self.base is None:
            raise NotDrawnError("an uncoloured pattern is used without a colour")
        return self.base

    def ink_values(self, values: Floats, intent: Intent) -> dict[str, Floats]:
        """The inks that an uncoloured pattern is painted with."""
        return self._colour().ink_values(values, intent)

    def screen_values(self, values: Floats, intent: Intent) -> Floats:
        """The look of an uncoloured pattern's paint."""
        return self._colour().screen_values(values, intent)

    def blended_values(self, values: Floats, intent: Intent) -> Floats:
        """Those of an uncoloured pattern's paint."""
        return self._colour().blended_values(values, intent)

    def make_view(self, view: View, intent: Intent) -> pikepdf.Object:
        """A pattern space over the base in that view."""
        if self.base is None:
            return Name.Pattern
        return self.pdf.make_indirect(Array([Name.Pattern, self.base.view(view, intent)]))
