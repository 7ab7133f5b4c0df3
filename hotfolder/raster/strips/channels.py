"""Which channels of a raster file's picture are colours, inks and opacity, and what their numbers mean."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from hotfolder.colour.conversions import Conversions
from hotfolder.errors import NotDrawnError
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.raster import RasterFacts
from hotfolder.raster.headers.photoshop import ImageResources, read_resources
from hotfolder.raster.headers.source import ByteSource
from hotfolder.raster.headers.tiff import Directory
from hotfolder.raster.headers.tiff_picture import first_opacity
from hotfolder.raster.strips.spots import SpotChannel, spot_channels
from hotfolder.raster.strips.strips import ToConvert

# Channels that make a colour once palettes are followed.
_COLOUR_CHANNELS: Final = {
    "bitmap": 1, "grey": 1, "duotone": 1, "indexed": 3, "RGB": 3, "CMYK": 4, "Lab": 3,
}  # fmt: skip
_TO_CONVERT: Final = {"indexed": ToConvert.RGB, "RGB": ToConvert.RGB, "Lab": ToConvert.LAB}
_IMAGE_RESOURCES: Final = 34377  # the TIFF tag that holds a layered file's resources

_DUOTONE: Final = "The inks of a duotone are not told by the file in a known way: it is drawn as black alone."
_ASSUMED: Final = "The spot channels of a TIFF file are read as light: white is no ink."


@dataclass(frozen=True, slots=True)
class Channels:
    """The channels of a picture that are used: a colour to convert, or inks; then spot inks; then opacity.

    falling: for each ink, whether its numbers fall where there is more of it, as light does.
    """

    colour: ToConvert | None
    inks: tuple[str, ...]
    falling: tuple[bool, ...]
    taken: tuple[int, ...]
    alpha: bool = False
    spots: tuple[SpotChannel, ...] = ()
    left_out: int = 0
    approximate: tuple[str, ...] = ()


def jpeg_channels(facts: RasterFacts) -> Channels:
    """The channels of a JPEG file."""
    return _channels(facts, falling_inks=False)


def png_channels(facts: RasterFacts, bands: int) -> Channels:
    """The channels of a PNG file; opacity is the last, a palette's too (W3C PNG, third edition, 6.1)."""
    return _channels(facts, falling_inks=False, alpha=bands - 1 if bands in {2, 4} else None)


def tiff_channels(facts: RasterFacts, directory: Directory, conversions: Conversions | None) -> Channels:
    """The channels of a picture of a TIFF file."""
    base = _colour_channels(facts)
    opacity = first_opacity(directory)
    block = directory.block(_IMAGE_RESOURCES) or b""
    resources = read_resources(ByteSource.of(block), 0, len(block))
    return _channels(
        facts,
        falling_inks=False,
        alpha=None if opacity is None else base + opacity,
        spots=spot_channels(resources, facts.extra_channels, conversions),
        assumed=True,
    )


def psd_channels(facts: RasterFacts, resources: ImageResources, conversions: Conversions | None) -> Channels:
    """The channels of a layered file's flat picture, which keeps inks as light."""
    alpha = _colour_channels(facts) if facts.alpha else None
    spots = spot_channels(resources, facts.extra_channels, conversions)
    return _channels(facts, falling_inks=True, alpha=alpha, spots=spots)


def _colour_channels(facts: RasterFacts) -> int:
    family = facts.colour.family
    if family == "multichannel":
        return len(facts.colour.inks)
    if family not in _COLOUR_CHANNELS:
        raise NotDrawnError("its colours are of a kind that this version does not know")
    return _COLOUR_CHANNELS[family]


def _channels(
    facts: RasterFacts,
    *,
    falling_inks: bool,
    alpha: int | None = None,
    spots: Sequence[SpotChannel] = (),
    assumed: bool = False,
) -> Channels:
    family, base = facts.colour.family, _colour_channels(facts)
    colour = _TO_CONVERT.get(family)
    if family == "multichannel":
        names = facts.colour.inks
        if not names:
            raise NotDrawnError("its channels are inks, and the file does not name them")
    else:
        names = () if colour else PROCESS_INKS if family == "CMYK" else ("Black",)
    falling = (falling_inks if family in {"CMYK", "multichannel"} else True,) * len(names)
    taken = [*range(base), *(base + spot.place for spot in spots)]
    left_out = facts.extra_channels - len(spots) - (alpha is not None and facts.extra_channels > 0)
    approximate = (_DUOTONE,) if family == "duotone" else ()
    return Channels(
        colour=colour,
        inks=(*names, *(spot.name for spot in spots)),
        falling=(*falling, *(True for _ in spots)),
        taken=(*taken, alpha) if alpha is not None else tuple(taken),
        alpha=alpha is not None,
        spots=tuple(spots),
        left_out=max(0, left_out),
        approximate=(*approximate, _ASSUMED) if assumed and spots else approximate,
    )
