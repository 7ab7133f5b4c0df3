"""Whether an alpha channel lets anything through: programs write one that is opaque everywhere.

Looked at are the pixels of TIFF and PNG files, decoded strip by strip; nothing of them is held.
"""

from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from hotfolder.artwork import Format, RasterFacts
from hotfolder.measure.headers.source import ByteSource, CutShort
from hotfolder.measure.headers.tiff_picture import picture_directory
from hotfolder.measure.raster_limits import MOST_DECODED_BYTES, MOST_STREAMED_BYTES

if TYPE_CHECKING:
    pass

_FULL: Final = {"uchar": 255, "ushort": 65535}


def with_opacity(
    path: Path, source: ByteSource, form: Format | None, page: int, facts: RasterFacts
) -> RasterFacts:
    """`facts`, and whether the alpha channel of the file's picture `page` (from 1) is opaque everywhere.

    What cannot be decoded, or is more than is looked at, stays as its header has it.
    """
    if not facts.alpha or form not in {Format.TIFF, Format.PNG}:
        return facts
    channels = facts.colour.components + max(1, facts.extra_channels)
    size = facts.width_px * facts.height_px * channels * max(1, facts.bits // 8)
    if size > (MOST_DECODED_BYTES if facts.progressive else MOST_STREAMED_BYTES):
        return facts
    number = 0
    if form is Format.TIFF:
        with suppress(CutShort):
            number, _ = picture_directory(source, page)
    place = facts.colour.components if form is Format.TIFF else None
    return replace(facts, alpha_opaque=_is_opaque(path, form, number, place))


def decodes_whole(path: Path, number: int) -> bool:
    """Whether the picture in directory `number` (from 0) of a TIFF file is decoded without errors."""
    import pyvips  # noqa: PLC0415 - takes a fifth of a second, and few files need it

    pyvips.cache_set_max(0)
    try:
        pyvips.Image.tiffload(str(path), page=number, access="sequential", fail_on="truncated").avg()
    except pyvips.Error:
        return False
    return True


def _is_opaque(path: Path, form: Format, number: int, place: int | None) -> bool:
    """place: which band is the alpha channel; None for the last."""
    import pyvips  # noqa: PLC0415 - see above

    pyvips.cache_set_max(0)  # its cache knows a file by its name alone
    try:
        image: pyvips.Image = (
            pyvips.Image.tiffload(str(path), page=number, access="sequential", fail_on="truncated")
            if form is Format.TIFF
            else pyvips.Image.pngload(str(path), access="sequential", unlimited=True, fail_on="truncated")
        )
        band = image.bands - 1 if place is None else place
        full = _FULL.get(image.format)
        return full is not None and band < image.bands and bool(image.extract_band(band).min() == full)
    except pyvips.Error:
        return False
