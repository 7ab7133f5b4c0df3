"""The pixels of a picture file as strips of bytes, whose channels mean the same for every format.

Every format and every kind of colour arrives as strips of bytes with the same meaning: first the three
values of a colour that is still to be converted (RGB or CIELAB), where there is one; then inks, 255 being
full ink, whatever the file means by its numbers; then opacity, where the picture has any.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from typing import Final

from hotfolder.colour.icc import read_profile
from hotfolder.model.plates import Bytes

# Memory for what a decoder must hold whole: the coefficients of a progressive JPEG file, an interlaced
# PNG file, a TIFF file in CIELAB.
MOST_HELD_BYTES: Final = 400_000_000

# Pixels of a strip: a few megabytes with all their channels.
STRIP_PIXELS: Final = 500_000


class ToConvert(Enum):
    """A colour that the press does not have: what its three values mean, and where they come from."""

    RGB = "RGB"
    LAB = "Lab"  # L* of 100 is 255; a* and b* count from 128


@dataclass(frozen=True, slots=True)
class RasterSource:
    """A picture that is read strip by strip.

    width_px, height_px: pixels of the strips; the last ones may count in part, where a picture's size is
        no multiple of what it was reduced by.
    profile: the ICC profile of colours to convert, where one is embedded and fits them.
    looks: how the spot inks look, as far as the file says.
    approximate: what plates made of it show only nearly.
    """

    width_px: float
    height_px: float
    colour: ToConvert | None
    inks: tuple[str, ...]
    alpha: bool
    strips: Iterator[Bytes]
    profile: bytes | None = None
    looks: Mapping[str, tuple[float, float, float]] | None = None
    approximate: tuple[str, ...] = ()

    @property
    def channels(self) -> int:
        """The channels of a strip."""
        return (3 if self.colour else 0) + len(self.inks) + self.alpha


def left_out_sentence(count: int) -> tuple[str, ...]:
    """What is said of channels beside the colours whose use the file does not tell."""
    if not count:
        return ()
    what = "A channel" if count == 1 else f"{count} channels"
    return (f"{what} beside the colours (a saved selection, or a spot ink) did not come into the plates.",)


def rgb_profile(data: object) -> bytes | None:
    """`data` where it is a profile for RGB colours; what does not fit the picture is left aside."""
    if not isinstance(data, bytes):
        return None
    profile = read_profile(data)
    return data if profile is not None and profile.space == "RGB" else None
