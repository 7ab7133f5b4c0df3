"""The alpha that soft masks, explicit masks and stencils give a picture (ISO 32000-2, 8.9.6, 11.6.5.2)."""

from dataclasses import dataclass

import numpy as np
import pikepdf

from hotfolder.drawing.grid.reducing import Smaller, smaller_for
from hotfolder.drawing.images.entries import ImageEntries, read_entries
from hotfolder.drawing.images.samples import by_tables, decode_tables, read_samples
from hotfolder.errors import NotDrawnError
from hotfolder.model.plates import Bytes


@dataclass(frozen=True, slots=True)
class Alpha:
    """What a mask leaves: shape (rows, columns), 255 painted. extent: as that of samples."""

    pixels: Bytes
    extent: tuple[float, float]


def mask_alpha(entries: ImageEntries, across_px: float, down_px: float) -> Alpha | None:
    """The alpha of an image's soft or explicit mask; None where it has neither.

    It has a size of its own, at least what a drawing of `across_px` times `down_px` needs.
    """
    if entries.soft_mask is not None:
        return soft_alpha(entries.soft_mask, across_px, down_px)
    if entries.mask is not None:
        return stencil_alpha(read_entries(entries.mask), across_px, down_px)
    return None


def soft_alpha(mask: pikepdf.Stream, across_px: float, down_px: float) -> Alpha:
    """A soft mask's greys: its samples after Decode."""
    entries = read_entries(mask)
    return grey_samples(entries, smaller_for(entries.width, entries.height, across_px, down_px))


def grey_samples(entries: ImageEntries, smaller: Smaller) -> Alpha:
    """The samples of an image of one component, after Decode."""
    samples = read_samples(entries, 1, smaller)
    if samples.pixels.shape[2] != 1:
        raise NotDrawnError("a soft mask is not a picture in grey")
    greys = by_tables(samples.pixels, decode_tables(entries.decode, ((0.0, 1.0),)))[..., 0]
    return Alpha(greys, samples.extent)


def stencil_alpha(entries: ImageEntries, across_px: float, down_px: float) -> Alpha:
    """A stencil's painted parts: where samples are 0, or 1 if Decode says so (8.9.6.2)."""
    smaller = smaller_for(entries.width, entries.height, across_px, down_px)
    samples = read_samples(entries, 1, smaller)
    ones = samples.pixels[..., 0]
    painted = ones if entries.decode is not None and entries.decode[0] >= 1 else 255 - ones
    if samples.alpha is not None:
        painted = np.minimum(painted, samples.alpha)
    return Alpha(painted, samples.extent)
