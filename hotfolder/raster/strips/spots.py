"""Channels beside a picture's colours that are spot inks, as a layered file's resources tell them.

DisplayInfo (resource 1077) says for each channel what it is for and how it looks; its layout follows the
Adobe Photoshop File Formats Specification (colour structure: space and four 16-bit values) from memory.
"""

import struct
from dataclasses import dataclass
from typing import Final

import numpy as np

from hotfolder.colour.conversions import Conversions
from hotfolder.raster.headers.photoshop import DISPLAY_INFO, ImageResources

_ENTRY: Final = struct.Struct(">H4HHB")  # colour space, colour, opacity in percent, kind
_RGB, _LAB, _GREY = 0, 7, 8


@dataclass(frozen=True, slots=True)
class SpotChannel:
    """A spot ink among the channels beside the colours. look: CIELAB, where the file tells it."""

    place: int
    name: str
    look: tuple[float, float, float] | None


def spot_channels(
    resources: ImageResources, extra: int, conversions: Conversions | None
) -> tuple[SpotChannel, ...]:
    """The spot inks among `extra` channels; `place` counts these from 0."""
    spots = set(resources.spot_channels())
    names = resources.channel_names
    # A flat picture with transparency keeps that in a channel before the named ones.
    unnamed = extra - len(names)
    if not spots or unnamed < 0:
        return ()
    block = resources.blocks[DISPLAY_INFO][4:]
    channels = []
    for number, name in enumerate(names):
        if name in spots:
            space, *colour, _, _ = _ENTRY.unpack_from(block, number * _ENTRY.size)
            channels.append(SpotChannel(unnamed + number, name, _look(space, colour, conversions)))
    return tuple(channels)


def _look(
    space: int, colour: list[int], conversions: Conversions | None
) -> tuple[float, float, float] | None:
    if space == _LAB:
        a, b = (value - 65536 if value > 32767 else value for value in colour[1:3])
        return colour[0] / 100, a / 100, b / 100
    if conversions is None or space not in {_RGB, _GREY}:
        return None
    values = [value / 65535 for value in colour[:3]] if space == _RGB else [1 - colour[0] / 10000] * 3
    lightness, a_star, b_star = (float(part) for part in conversions.screen_to_lab(np.array(values)))
    return lightness, a_star, b_star
