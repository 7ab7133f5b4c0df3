"""Reads an image XObject into a picture whose pixels are colours of its space."""

import numpy as np
import pikepdf

from hotfolder.colour.conversions import Intent
from hotfolder.drawing.grid.reducing import WHOLE, Smaller
from hotfolder.drawing.images.codecs import data_before, jpeg_components, jpx_profile
from hotfolder.drawing.images.entries import ImageEntries, read_entries
from hotfolder.drawing.images.in_views import DecodedPicture, Palette
from hotfolder.drawing.images.masks import grey_samples
from hotfolder.drawing.images.samples import by_tables, decode_tables, place_table, read_samples
from hotfolder.drawing.spaces.indexed import Indexed
from hotfolder.drawing.spaces.reader import PaintSpaces
from hotfolder.drawing.spaces.space import PaintSpace
from hotfolder.errors import NotDrawnError
from hotfolder.model.colour import ColourKind
from hotfolder.model.plates import Bytes
from hotfolder.pdf.colour.written_spaces import DEVICE_OF_COUNT
from hotfolder.pdf.images.jpx import read_jpx
from hotfolder.pdf.objects.resources import Resources

_DEVICE_OF_KIND = {
    ColourKind.GREY: "DeviceGray", ColourKind.RGB: "DeviceRGB", ColourKind.CMYK: "DeviceCMYK",
}  # fmt: skip


def image_space(entries: ImageEntries, spaces: PaintSpaces, resources: Resources) -> PaintSpace:
    """The colour space of an image's samples; that of its data where the dictionary names none (JPX)."""
    if entries.space is None:
        if entries.codec == "JPXDecode":
            return _space_of_jpx(entries, spaces)
        raise NotDrawnError("a picture does not say what its colours are")
    space = spaces.read(entries.space, resources)
    if space.family == "Pattern":
        raise NotDrawnError("a picture's colours are said to be patterns")
    if entries.codec == "DCTDecode" and not isinstance(space, Indexed):
        # Readers go by the data where these have other components than the dictionary says.
        held = jpeg_components(data_before(entries))
        if held is not None and held in DEVICE_OF_COUNT and held != space.components:
            return spaces.device(DEVICE_OF_COUNT[held])
    return space


def _space_of_jpx(entries: ImageEntries, spaces: PaintSpaces) -> PaintSpace:
    data = data_before(entries)
    facts = read_jpx(data)
    kind = facts.colour.kind if facts.colour is not None else ColourKind.UNKNOWN
    if kind is ColourKind.RGB:
        return spaces.profiled(jpx_profile(data), 3)
    family = _DEVICE_OF_KIND.get(kind) or DEVICE_OF_COUNT.get(facts.channels or 0)
    if family is None:
        raise NotDrawnError("a JPEG 2000 picture does not say what its colours are")
    return spaces.device(family)


def read_picture(
    entries: ImageEntries, space: PaintSpace, intent: Intent, smaller: Smaller
) -> DecodedPicture:
    """The picture, made smaller. NotDrawnError where it cannot be decoded."""
    if entries.bits == 1 and space.components == 1 and entries.codec not in {"DCTDecode", "JPXDecode"}:
        return _of_two_colours(entries, space, intent, smaller)
    if isinstance(space, Indexed):
        return _of_palette(entries, space, intent, smaller)
    samples = read_samples(entries, space.components, smaller)
    if samples.pixels.shape[2] != space.components:
        raise NotDrawnError("a picture has other components than its colour space")
    pixels = by_tables(samples.pixels, decode_tables(entries.decode, space.traits.ranges))
    if entries.matte is not None and entries.soft_mask is not None:
        pixels = _without_matte(pixels, entries, entries.matte, space, smaller)
    return DecodedPicture(space, intent, pixels, samples.extent, samples.alpha)


def _of_two_colours(
    entries: ImageEntries, space: PaintSpace, intent: Intent, smaller: Smaller
) -> DecodedPicture:
    """A picture of 1 bit: its means say how much of the second colour is there."""
    samples = read_samples(entries, 1, smaller)
    if isinstance(space, Indexed):
        places = place_table(entries, len(space.palette) - 1)[[0, 255]]
        palette = Palette(space.base, space.palette[places], mixed=True)
    else:
        low, high = space.traits.ranges[0]
        first, last = (entries.decode or (low, high))[:2]
        values = np.clip(np.array([[first], [last]], np.float64), low, high)
        palette = Palette(space, values, mixed=True)
    return DecodedPicture(space, intent, samples.pixels, samples.extent, samples.alpha, palette)


def _of_palette(entries: ImageEntries, space: Indexed, intent: Intent, smaller: Smaller) -> DecodedPicture:
    """A picture of places in a palette, which have no mean: it is made smaller when they are colours."""
    samples = read_samples(entries, 1, WHOLE)
    if samples.pixels.shape[2] != 1:
        raise NotDrawnError("a picture has other components than its colour space")
    values = space.palette[place_table(entries, len(space.palette) - 1)]
    columns, rows = samples.extent
    extent = columns / smaller.across, rows / smaller.down
    return DecodedPicture(
        space, intent, samples.pixels, extent, samples.alpha, Palette(space.base, values), smaller
    )


def _without_matte(
    pixels: Bytes, entries: ImageEntries, matte: tuple[float, ...], space: PaintSpace, smaller: Smaller
) -> Bytes:
    """The colours before they were blended with the matte (11.6.5.2): m + (c - m) / alpha."""
    mask = read_entries(_stream(entries.soft_mask))
    if (mask.width, mask.height) != (entries.width, entries.height) or len(matte) != space.components:
        return pixels  # the standard wants equal sizes: without them nothing was blended pixel by pixel
    alpha = grey_samples(mask, smaller).pixels[..., None]
    if alpha.shape[:2] != pixels.shape[:2]:
        return pixels
    low, high = np.array(space.traits.ranges).T
    ground = (np.array(matte) - low) / (high - low) * 255
    restored = np.empty_like(pixels)
    for rows in space.strips(pixels):
        share = np.maximum(alpha[rows], 1) / 255
        restored[rows] = np.rint(np.clip(ground + (pixels[rows] - ground) / share, 0, 255))
    return restored


def _stream(value: pikepdf.Stream | None) -> pikepdf.Stream:
    if value is None:
        raise NotDrawnError("a soft mask is missing")
    return value
