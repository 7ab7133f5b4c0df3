"""JPEG, TIFF and PNG files as strips of pixels: decoded and reduced as they come by, never held whole.

libvips does that, and is imported only when it is needed: no operation of it may run before a child is
forked, for it starts threads.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from hotfolder.colour.conversions import Conversions
from hotfolder.errors import CutShortError, NotDrawnError
from hotfolder.model.facts import Format
from hotfolder.model.plates import Bytes
from hotfolder.model.raster import RasterFacts
from hotfolder.raster.headers.source import ByteSource
from hotfolder.raster.headers.tiff_picture import picture_directory
from hotfolder.raster.pillow import PILLOW_ERRORS, without_pixel_limit
from hotfolder.raster.strips.channels import Channels, jpeg_channels, png_channels, tiff_channels
from hotfolder.raster.strips.strips import (
    MOST_HELD_BYTES,
    STRIP_PIXELS,
    RasterSource,
    ToConvert,
    left_out_sentence,
    rgb_profile,
)

if TYPE_CHECKING:
    import pyvips

_SAMPLES: Final = {"uchar": "u1", "ushort": "u2"}


@dataclass(frozen=True, slots=True)
class _Loaded:
    """A picture that libvips will decode when its pixels are asked for.

    factor: how much smaller than the file's picture it is already.
    """

    image: "pyvips.Image"
    channels: Channels
    factor: int = 1


def vips_source(
    path: Path, form: Format, facts: RasterFacts, page: int, factor: int, conversions: Conversions | None
) -> RasterSource:
    """The picture of page `page`, each `factor` x `factor` pixels of it made one.

    NotDrawnError where it cannot be decoded, or holds what this version does not know; while strips are taken
    as well.
    """
    import pyvips  # noqa: PLC0415 - see above

    _refuse_what_must_be_held(form, facts)
    # Its cache would hold decoded pictures, and knows a file by its name alone.
    pyvips.cache_set_max(0)
    try:
        loaded = _loaded(path, form, facts, page, factor, conversions)
        image, channels = loaded.image, loaded.channels
        if not _is_as_declared(image, facts, loaded.factor) or image.bands <= max(channels.taken):
            raise NotDrawnError("its pixels are not those that its header declares")
        if channels.colour is ToConvert.LAB:
            image = _lab_bytes(image)
        if image.format not in _SAMPLES:
            raise NotDrawnError(f"its samples are of a kind that this version does not know ({image.format})")
        profile = None
        if image.get_typeof("icc-profile-data"):
            profile = rgb_profile(image.get("icc-profile-data"))
        rest = max(1, factor // loaded.factor)
        shrunk = _shrunk(image, channels, rest)
    except (pyvips.Error, CutShortError, OSError) as trouble:
        raise NotDrawnError("it could not be decoded") from trouble
    total = loaded.factor * rest
    return RasterSource(
        # A last pixel that is not whole is kept or left out, as the decoder likes.
        width_px=min(facts.width_px / total, shrunk.width),
        height_px=min(facts.height_px / total, shrunk.height),
        colour=channels.colour,
        inks=channels.inks,
        alpha=channels.alpha,
        strips=_strips(shrunk, channels),
        profile=profile,
        looks={spot.name: spot.look for spot in channels.spots if spot.look is not None},
        approximate=channels.approximate + left_out_sentence(channels.left_out),
    )


def _is_as_declared(image: "pyvips.Image", facts: RasterFacts, factor: int) -> bool:
    """Whether it is the picture that our limits were asked about, as far as its size tells."""
    width, height = int(image.width), int(image.height)
    return abs(width - facts.width_px / factor) < 1 and abs(height - facts.height_px / factor) < 1


def _refuse_what_must_be_held(form: Format, facts: RasterFacts) -> None:
    """Progressive and interlaced pictures are in memory as a whole before their first row is known."""
    if not facts.progressive:
        return
    channels = facts.colour.components + facts.alpha
    held = (
        facts.width_px * facts.height_px * channels * (2 if form is Format.JPEG else max(1, facts.bits // 8))
    )
    if held > MOST_HELD_BYTES:
        raise NotDrawnError(
            f"decoding it would take {held // 1_000_000} MB of memory, for it is stored progressively"
        )


def _loaded(
    path: Path, form: Format, facts: RasterFacts, page: int, factor: int, conversions: Conversions | None
) -> _Loaded:
    import pyvips  # noqa: PLC0415 - see above

    match form:
        case Format.JPEG:
            smaller = max(size for size in (1, 2, 4, 8) if size <= factor)
            image = pyvips.Image.jpegload(str(path), shrink=smaller, access="sequential")
            return _Loaded(image, jpeg_channels(facts), smaller)
        case Format.PNG:
            image = pyvips.Image.pngload(str(path), access="sequential", unlimited=True)
            return _Loaded(image, png_channels(facts, image.bands))
        case _:
            with path.open("rb") as stream:
                number, directory = picture_directory(ByteSource(stream), page)
                channels = tiff_channels(facts, directory, conversions)
            if channels.colour is ToConvert.LAB and facts.bits == 8:
                return _Loaded(
                    _pillow_lab(path, facts, number), replace(channels, taken=(0, 1, 2), alpha=False)
                )
            image = pyvips.Image.tiffload(str(path), page=number, access="sequential")
            return _Loaded(image, channels)


def _pillow_lab(path: Path, facts: RasterFacts, number: int) -> "pyvips.Image":
    """A TIFF picture in CIELAB of 8 bits, which this libvips refuses, held whole."""
    import pyvips  # noqa: PLC0415 - see above

    held = facts.width_px * facts.height_px * 6
    if held > MOST_HELD_BYTES:
        raise NotDrawnError(f"decoding it would take {held // 1_000_000} MB of memory")
    try:
        with without_pixel_limit(), Image.open(path, formats=["TIFF"]) as opened:
            opened.seek(number)
            if opened.mode != "LAB":
                raise NotDrawnError("its colours are of a kind that this version does not know")
            # The file's a* and b* are signed, and Pillow gives them as the file has them (TIFF 6.0, 23).
            return pyvips.Image.new_from_array(np.asarray(opened) ^ np.array([0, 128, 128], np.uint8))
    except PILLOW_ERRORS as trouble:
        raise NotDrawnError("it could not be decoded") from trouble


def _lab_bytes(image: "pyvips.Image") -> "pyvips.Image":
    """CIELAB as bytes: L* of 100 is 255, a* and b* count from 128."""
    if image.format == "uchar":
        return image
    three = image.extract_band(0, n=3).copy(interpretation=image.interpretation).colourspace("lab")
    scaled: pyvips.Image = three.linear([2.55, 1, 1], [0, 128, 128]).rint().cast("uchar")
    rest = image.bands - 3
    if not rest:
        return scaled
    others: pyvips.Image = (image.extract_band(3, n=rest) / 257).rint().cast("uchar")
    return scaled.bandjoin(others)


def _shrunk(image: "pyvips.Image", channels: Channels, factor: int) -> "pyvips.Image":
    """The channels that are taken, reduced; colours are averaged by the weight of their opacity.

    Colours that a TIFF file has multiplied with their opacity were divided by it in loading.
    """
    parts = [image.extract_band(place) for place in channels.taken]
    picture = parts[0].bandjoin(parts[1:]) if len(parts) > 1 else parts[0]
    if factor == 1:
        return picture
    form = picture.format
    full = 65535 if form == "ushort" else 255
    if channels.alpha:
        picture = picture.premultiply(max_alpha=full)
    picture = picture.shrink(factor, factor, ceil=True)
    if channels.alpha:
        picture = picture.unpremultiply(max_alpha=full)
    return picture.rint().cast(form) if picture.format != form else picture


def _strips(image: "pyvips.Image", channels: Channels) -> Iterator[Bytes]:
    import pyvips  # noqa: PLC0415 - see above

    width, height, bands = image.width, image.height, image.bands
    kind = _SAMPLES[image.format]
    first = 3 if channels.colour else 0
    falling = [first + place for place, falls in enumerate(channels.falling) if falls]
    rows = max(16, STRIP_PIXELS // width)
    try:
        region = pyvips.Region.new(image)
        for top in range(0, height, rows):
            count = min(rows, height - top)
            fetched = region.fetch(0, top, width, count)
            data = np.frombuffer(fetched, np.dtype(kind)).reshape(count, width, bands)
            strip = _eight_bits(data)
            if falling:
                strip = strip.copy()
                strip[..., falling] = 255 - strip[..., falling]
            yield strip
    except pyvips.Error as trouble:
        raise NotDrawnError("it could not be decoded") from trouble


def _eight_bits(data: NDArray[Any]) -> Bytes:
    if data.dtype == np.uint8:
        return data.astype(np.uint8, copy=False)
    return ((data.astype(np.uint32) * 255 + 32767) // 65535).astype(np.uint8)
