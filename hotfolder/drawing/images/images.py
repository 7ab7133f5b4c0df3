"""Pictures of a PDF (ISO 32000-2, 8.9) made ready for a drawing of plates.

Each picture is decoded once, made smaller where it is much finer than the drawing, turned into inks once, and
then handed out as a plain picture for each view.
"""

from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

import numpy as np
import pikepdf

from hotfolder.colour.conversions import Intent
from hotfolder.drawing.grid.grid_laying import GridPlace, coverage, laid, place_on_grid
from hotfolder.drawing.grid.reducing import smaller_for
from hotfolder.drawing.images.decoding import image_space, read_picture
from hotfolder.drawing.images.entries import ImageEntries, inline_stream, read_entries
from hotfolder.drawing.images.in_views import DecodedPicture, changed_picture
from hotfolder.drawing.images.masks import Alpha, mask_alpha, stencil_alpha
from hotfolder.drawing.images.plain import plain_image, plain_mask
from hotfolder.drawing.spaces.changed import SpaceChange
from hotfolder.drawing.spaces.reader import PaintSpaces
from hotfolder.drawing.spaces.space import PaintSpace
from hotfolder.drawing.spaces.view import View
from hotfolder.errors import NotDrawnError
from hotfolder.model.plates import Bytes, PlateFrame
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.reading import fingerprint
from hotfolder.pdf.objects.resources import Resources

__all__ = ["PlacedImage", "PlateImages"]

_KEPT_BYTES: Final = 160 * 1024 * 1024  # of pictures between views

Fill = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class PlacedImage:
    """A picture, and where its unit square lies in the page's user space (before any `cm`)."""

    image: pikepdf.Stream
    matrix: Matrix


@dataclass(slots=True)
class _HeldPicture:
    """A decoded picture, kept for further views. mask: its mask's alpha. soft_mask: its images, by place."""

    picture: DecodedPicture
    mask: Alpha | None
    soft_masks: dict[object, pikepdf.Stream | None] = field(default_factory=dict)

    def alpha(self) -> Alpha | None:
        """What masks leave of it."""
        return self.mask if self.mask is not None else self.picture.shown_alpha()

    @property
    def bytes_held(self) -> int:
        """About how much memory it takes."""
        return self.picture.bytes_held + (self.mask.pixels.nbytes if self.mask is not None else 0)


class PlateImages:
    """The pictures of a document. spaces: its colour spaces, in whose document pictures are made."""

    def __init__(self, spaces: PaintSpaces) -> None:
        self.spaces = spaces
        self._entries: dict[str, ImageEntries] = {}
        self._spaces: dict[tuple[str, str], PaintSpace] = {}
        self._held: OrderedDict[tuple[object, ...], _HeldPicture] = OrderedDict()
        self._made: list[pikepdf.Stream] = []
        self.forgotten = 0  # how often

    def space_of(self, image: pikepdf.Stream, resources: Resources) -> PaintSpace | None:
        """The colour space of an image; None for a stencil, which is painted with the colour for filling."""
        entries = self._read(image)
        return None if entries.stencil else self._space(entries, resources)

    def drawn(  # noqa: PLR0913, PLR0917 - a picture, how large, and how
        self,
        image: pikepdf.Stream,
        resources: Resources,
        across_px: float,
        down_px: float,
        view: View,
        intent: Intent = Intent.RELATIVE,
        change: SpaceChange | None = None,
    ) -> pikepdf.Stream | None:
        """The image XObject to draw instead of `image` in a view; None for a stencil: draw that as it is.

        across_px, down_px: how many pixels of the drawing the image's width and height take. intent: that of
        the graphics state (`ri`); the image's own goes before it. change: what happens to
        its colours. Soft and explicit masks and colour keys come with it. NotDrawnError where the image
        cannot be decoded. For a picture whose place on the page is known, and that is drawn there once,
        `resampled` is exact and smaller.
        """
        entries = self._read(image)
        if entries.stencil:
            return None
        held = self._hold(entries, resources, across_px, down_px, entries.intent_in(intent), change)
        if "as it is" not in held.soft_masks:
            alpha = held.alpha()
            held.soft_masks["as it is"] = self._mask(None if alpha is None else alpha.pixels)
        made = plain_image(self.spaces.pdf, held.picture.shown(view), held.soft_masks["as it is"])
        return self._remembered(made)

    def resampled(  # noqa: PLR0913, PLR0917 - a picture, where, and how
        self,
        image: pikepdf.Stream,
        resources: Resources,
        matrix: Matrix,
        frame: PlateFrame,
        view: View,
        intent: Intent = Intent.RELATIVE,
        fill: Fill | None = None,
        change: SpaceChange | None = None,
    ) -> PlacedImage | None:
        """An image laid on the grid of `frame`, upright, its place in whole pixels; exact at any angle.

        matrix: from the image's unit square to the page's user space. fill: the colour for filling in the
        view's channels, for a stencil; a stencil without one is `NotDrawnError`. change: as in `drawn`. None
        where nothing of it falls within the frame. The renderer darkens turned images by more than 1 % of
        ink, widens upright ones to whole pixels, and rounds down: all images whose place is known should go
        this way, but for upright stencils, which it draws well.
        """
        entries = self._read(image)
        place = place_on_grid(matrix, frame)
        if place is None:
            return None
        across, down = matrix.x_length / frame.pixel_pt, matrix.y_length / frame.pixel_pt
        if entries.stencil:
            made = self._stencil(entries, place, (across, down), fill)
            return PlacedImage(made, place.in_page(frame))
        held = self._hold(entries, resources, across, down, entries.intent_in(intent), change)
        if place not in held.soft_masks:
            held.soft_masks[place] = self._mask(_laid_alpha(held.alpha(), place))
        made = plain_image(
            self.spaces.pdf,
            laid(held.picture.shown(view), held.picture.extent, place),
            held.soft_masks[place],
        )
        return PlacedImage(self._remembered(made), place.in_page(frame))

    def forget(self) -> None:
        """Frees the memory of all pictures that were handed out; they cannot be drawn again after that.

        Call it when a page has been drawn: the document that they are made in keeps them otherwise. What
        was decoded stays at hand, within a bound, for pages that show the same.
        """
        for made in self._made:
            made.write(b"")
        self._made.clear()
        self.forgotten += 1
        for held in self._held.values():
            held.soft_masks.clear()

    def inline(self, entries: Mapping[str, object], data: bytes) -> pikepdf.Stream:
        """An inline image as an image XObject. entries: its dictionary, keys with slash, short or long."""
        return inline_stream(self.spaces.pdf, entries, data)

    def _stencil(
        self, entries: ImageEntries, place: GridPlace, size: tuple[float, float], fill: Fill | None
    ) -> pikepdf.Stream:
        if fill is None:
            raise NotDrawnError("a turned stencil is painted with a pattern")
        alpha = _laid_alpha(stencil_alpha(entries, *size), place)
        colour = np.rint(np.array(fill).reshape(1, 1, 3) * 255).astype(np.uint8)
        made = plain_image(self.spaces.pdf, colour, self._mask(alpha))
        return self._remembered(made)

    def _mask(self, alpha: Bytes | None) -> pikepdf.Stream | None:
        return None if alpha is None else self._remembered(plain_mask(self.spaces.pdf, alpha))

    def _remembered(self, made: pikepdf.Stream) -> pikepdf.Stream:
        self._made.append(made)
        return made

    def _read(self, image: pikepdf.Stream) -> ImageEntries:
        key = fingerprint(image)
        if key not in self._entries:
            self._entries[key] = read_entries(image)
        return self._entries[key]

    def _space(self, entries: ImageEntries, resources: Resources) -> PaintSpace:
        # Where the dictionary names no space, that of the data counts (JPX).
        meant = "" if entries.space is None else self.spaces.meaning(entries.space, resources)
        key = fingerprint(entries.stream), meant
        if key not in self._spaces:
            self._spaces[key] = image_space(entries, self.spaces, resources)
        return self._spaces[key]

    def _hold(
        self,
        entries: ImageEntries,
        resources: Resources,
        across_px: float,
        down_px: float,
        intent: Intent,
        change: SpaceChange | None,
    ) -> _HeldPicture:
        """The picture at the size for a drawing; decoded anew only if it had to make room for others."""
        space = self._space(entries, resources)
        smaller = smaller_for(entries.width, entries.height, across_px, down_px)
        if entries.matte is None:
            mask_px = (across_px, down_px)
        else:
            mask_px = (entries.width / smaller.across, entries.height / smaller.down)
        key = fingerprint(entries.stream), space, smaller, intent, mask_px, change
        held = self._held.get(key)
        if held is None:
            picture = changed_picture(read_picture(entries, space, intent, smaller), change)
            held = self._held[key] = _HeldPicture(picture, mask_alpha(entries, *mask_px))
        self._held.move_to_end(key)
        self._make_room()
        return held

    def _make_room(self) -> None:
        """Lets go of the pictures that were used longest ago; the newest stays."""
        total = sum(each.bytes_held for each in self._held.values())
        while total > _KEPT_BYTES and len(self._held) > 1:
            _, oldest = self._held.popitem(last=False)
            total -= oldest.bytes_held


def _laid_alpha(alpha: Alpha | None, place: GridPlace) -> Bytes | None:
    """Alpha on the grid, with the edges of a turned picture; None where all is painted."""
    on_grid = laid(alpha.pixels[..., None], alpha.extent, place)[..., 0] if alpha is not None else None
    if place.upright:
        return on_grid
    covered = coverage(place)
    return covered if on_grid is None else _times(on_grid, covered)


def _times(first: Bytes, second: Bytes) -> Bytes:
    product = first.astype(np.uint16) * second
    return ((product + 127) // 255).astype(np.uint8)
