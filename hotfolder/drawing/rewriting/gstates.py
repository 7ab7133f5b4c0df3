"""Graphics state dictionaries (ISO 32000-2, 8.4.5) as they stand in rewritten content.

Overprint is gone from them, since it has been carried out; what belongs to one device (transfer functions,
black generation, halftones) too, carried out in the colours as far as it
can be. The blend mode is the one that the plates of a pass take.
"""

from dataclasses import dataclass
from typing import Final

import pikepdf
from pikepdf import Dictionary, Name

from hotfolder.drawing.rewriting.names import Entries, Making, PassResource
from hotfolder.pdf.objects.reading import entry

_KEPT: Final = ("/LW", "/LC", "/LJ", "/ML", "/D", "/FL", "/SM", "/SA", "/CA", "/ca", "/AIS", "/TK")
_TRANSFER: Final = ("/TR2", "/TR")


class GState(PassResource):
    """A graphics state dictionary. blend_mode: the one asked for; None where it sets none.

    mask: the soft mask that it sets; None where it sets none. entries: what else it sets, with `/SMask /None`
    where it takes one away.
    """

    def __init__(
        self, entries: Entries, blend_mode: str | None = None, mask: PassResource | None = None
    ) -> None:
        self._entries = entries
        self._blend_mode = blend_mode
        self._mask = mask
        self._shared: pikepdf.Object | None = None

    def made(self, making: Making) -> pikepdf.Object:
        """The dictionary in a pass; the same one in all where nothing differs."""
        if self._shared is not None:
            return self._shared
        made = making.pdf.make_indirect(Dictionary(self._entries))
        if self._mask is not None:
            made.SMask = self._mask.made(making)
        if self._blend_mode is None and self._mask is None:
            self._shared = made
        elif self._blend_mode is not None:
            made.BM = Name(f"/{making.into.blend_mode(self._blend_mode)}")
        return made


@dataclass(frozen=True, slots=True)
class LineOpacity:
    """What lines are drawn with: the renderer draws none thinner than a pixel, so thin ones go pale.

    opacity: as the file asks, 0 to 1. width_px: how wide a line is in pixels of the usual drawing; 1 for all
    that are wider.
    """

    opacity: float = 1.0
    width_px: float = 1.0

    def in_drawing(self, finer: int = 1) -> float:
        """The opacity in a drawing that is so many times finer than usual."""
        return self.opacity * min(1.0, self.width_px * finer)


class LineState(PassResource):
    """The graphics state with the opacity for lines, which is another one in finer drawings."""

    def __init__(self, opacity: LineOpacity) -> None:
        self._opacity = opacity

    def made(self, making: Making) -> pikepdf.Object:
        """The dictionary in a pass."""
        return making.pdf.make_indirect(Dictionary({"/CA": self._opacity.in_drawing(making.into.finer)}))


def kept_entries(dictionary: object) -> Entries:
    """The entries of a graphics state dictionary that mean the same in rewritten content."""
    entries = ((key, entry(dictionary, key)) for key in _KEPT)
    return {key: value for key, value in entries if value is not None}


def transfer_function(dictionary: object) -> object:
    """The transfer function that is asked for (10.5); None where none is. `TR2` goes before `TR`."""
    values = (entry(dictionary, key) for key in _TRANSFER)
    return next((value for value in values if value is not None), None)
