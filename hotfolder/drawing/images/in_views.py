"""A decoded picture, and its pixels in each view."""

from dataclasses import dataclass, field, replace

import numpy as np

from hotfolder.colour.conversions import Intent
from hotfolder.colour.press_colours import Floats
from hotfolder.drawing.grid.reducing import WHOLE, Smaller, reduced
from hotfolder.drawing.images.masks import Alpha
from hotfolder.drawing.spaces.changed import ChangedSpace, SpaceChange
from hotfolder.drawing.spaces.space import PaintSpace, to_bytes
from hotfolder.drawing.spaces.view import Showing, View
from hotfolder.model.plates import Bytes

_STRIP_PIXELS = 1 << 20


@dataclass(frozen=True, slots=True)
class Palette:
    """The colours that a picture's samples stand for, as components of `space`, shape (count, components).

    mixed: there are two of them, and a sample says how much of the second is there.
    """

    space: PaintSpace
    values: Floats
    mixed: bool = False

    def table(self, colours: Floats) -> Bytes:
        """What each sample becomes, shape (256, channels), where the palette has become `colours`."""
        if self.mixed:
            share = np.arange(256)[:, None] / 255
            return to_bytes(colours[0] * (1 - share) + colours[1] * share)
        return to_bytes(colours)


@dataclass(slots=True)
class DecodedPicture:
    """Samples of shape (rows, columns, components) of a colour space, or of a palette.

    extent: how many columns and rows it has in a view; the last ones may count in part only. alpha: shape
    (rows, columns), 255 painted; None where all is. smaller: by how much it is still to be made
    smaller when its colours are known: places in a palette have no mean.
    """

    space: PaintSpace
    intent: Intent
    pixels: Bytes
    extent: tuple[float, float]
    alpha: Bytes | None = None
    palette: Palette | None = None
    smaller: Smaller = WHOLE
    _plates: dict[str, Bytes] | None = field(default=None, init=False)
    _shown: dict[Showing, Bytes] = field(default_factory=dict, init=False)

    @property
    def bytes_held(self) -> int:
        """About how much memory it takes, with what was made of it."""
        made = sum(each.nbytes for each in (*(self._plates or {}).values(), *self._shown.values()))
        return self.pixels.nbytes + (self.alpha.nbytes if self.alpha is not None else 0) + made

    def shown(self, view: View) -> Bytes:
        """Its pixels in the view's channels: shape (rows, columns, 3), or 1 where all three are equal."""
        if view.showing is not Showing.PLATES:
            if view.showing not in self._shown:
                self._shown[view.showing] = self._in_colour(view.showing)
            return self._shown[view.showing]
        if self._plates is None:
            self._plates = self._as_plates()
        height, width = self.pixels.shape[:2]
        size = -(-height // self.smaller.down), -(-width // self.smaller.across)
        return view.picture(self._plates, size)

    def shown_alpha(self) -> Alpha | None:
        """Its alpha at the size of what is shown."""
        if self.alpha is None:
            return None
        return Alpha(reduced(self.alpha[..., None], self.smaller)[..., 0], self.extent)

    def _as_plates(self) -> dict[str, Bytes]:
        if self.palette is None:
            return self.space.plates(self.pixels, self.intent)
        inks = self.palette.space.ink_values(self.palette.values, self.intent)
        tables = {ink: self.palette.table(values[:, None]) for ink, values in inks.items()}
        return {ink: self._by_table(table)[..., 0] for ink, table in tables.items()}

    def _in_colour(self, showing: Showing) -> Bytes:
        if showing is Showing.SCREEN:
            if self.palette is None:
                return self.space.screen_picture(self.pixels, self.intent)
            colours = self.palette.space.screen_values(self.palette.values, self.intent)
            return self._by_table(self.palette.table(colours))
        if showing is Showing.BLENDED:
            if self.palette is None:
                return self.space.blended_picture(self.pixels, self.intent)
            colours = self.palette.space.blended_values(self.palette.values, self.intent)
            return self._by_table(self.palette.table(colours))
        if self.palette is None:
            return self.space.luminosity_picture(self.pixels)[..., None]
        grey = self.palette.space.luminosity_values(self.palette.values)
        return self._by_table(self.palette.table(grey[:, None]))

    def _by_table(self, table: Bytes) -> Bytes:
        """Samples through a table of shape (256, channels), then made smaller."""
        step = max(1, _STRIP_PIXELS // max(self.pixels.shape[1], 1)) * self.smaller.down
        parts = []
        for start in range(0, len(self.pixels), step):
            rows = slice(start, start + step)
            colours = table[self.pixels[rows, :, 0]]
            if self.alpha is not None and self.smaller != WHOLE:
                parts.append(self._painted_mean(colours, self.alpha[rows]))
            else:
                parts.append(reduced(colours, self.smaller))
        return np.concatenate(parts)

    def _painted_mean(self, colours: Bytes, alpha: Bytes) -> Bytes:
        """Means of the painted pixels only, for alpha that is 0 or 255."""
        colours[alpha == 0] = 0
        means = reduced(colours, self.smaller).astype(np.uint32)
        share = reduced(alpha[..., None], self.smaller)
        return np.minimum(means * 255 // np.maximum(share, 1), 255).astype(np.uint8)


def changed_picture(picture: DecodedPicture, change: SpaceChange | None) -> DecodedPicture:
    """A picture whose colours change."""
    if change is None:
        return picture
    palette = picture.palette
    if palette is not None:
        picture.palette = replace(palette, space=ChangedSpace(palette.space, change))
    else:
        picture.space = ChangedSpace(picture.space, change)
    return picture
