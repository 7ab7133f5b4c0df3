"""Whether an alpha channel lets anything through: programs write one that is opaque everywhere.

Looked at are the pixels of TIFF, PNG and layered files, decoded strip by strip; nothing of them is held.
"""

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import Final

from hotfolder.errors import CutShortError
from hotfolder.model.facts import Format
from hotfolder.model.raster import RasterFacts
from hotfolder.raster.headers.picture import PackedRows, PictureHeader, Pieces
from hotfolder.raster.headers.source import ByteSource
from hotfolder.raster.headers.tiff_picture import first_opacity, picture_directory
from hotfolder.raster.limits import MOST_DECODED_BYTES, MOST_STREAMED_BYTES, STEP_BYTES

_FULL: Final = {"uchar": 255, "ushort": 65535}
_FULL_BYTE: Final = b"\xff"
_NO_RUN: Final = (
    128  # PackBits: below are literal bytes, above one that is repeated; this itself says nothing
)


def with_opacity(
    path: Path, source: ByteSource, form: Format | None, page: int, picture: PictureHeader
) -> RasterFacts:
    """The facts of the file's picture `page` (from 1), and whether its alpha channel is opaque everywhere.

    What cannot be decoded, or is more than is looked at, stays as its header has it.
    """
    facts = picture.facts
    if not facts.alpha or form not in {Format.TIFF, Format.PNG, Format.PSD}:
        return facts
    channels = facts.colour.components + max(1, facts.extra_channels)
    size = facts.width_px * facts.height_px * channels * max(1, facts.bits // 8)
    if size > (MOST_DECODED_BYTES if facts.progressive else MOST_STREAMED_BYTES):
        return facts
    if form is Format.PSD:
        with suppress(CutShortError):
            return replace(facts, alpha_opaque=_is_opaque_plane(source, picture))
        return facts
    number, place = 0, None
    if form is Format.TIFF:
        try:
            number, directory = picture_directory(source, page)
        except CutShortError:
            return facts
        place = facts.colour.components + (first_opacity(directory) or 0)
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


def _is_opaque_plane(source: ByteSource, picture: PictureHeader) -> bool:
    """Whether all samples of a layered file's first extra channel are full; False where they are not read.

    Planes lie one after the other; this one holds what the flat picture lets through (Adobe Photoshop File
    Formats Specification, "Layer Info" and "Image Data Section"). Raises CutShortError.
    """
    facts, pixels = picture.facts, picture.pixels
    if facts.bits not in {8, 16}:  # full bytes are full samples
        return False
    row_bytes, height = facts.width_px * facts.bits // 8, facts.height_px
    match pixels:
        case Pieces():
            first = pixels.unpacked_bytes[0] // row_bytes - facts.extra_channels * height
            start, size = pixels.offsets[0] + first * row_bytes, height * row_bytes
            parts = (source.read(start + at, min(STEP_BYTES, size - at)) for at in range(0, size, STEP_BYTES))
            return all(part.count(_FULL_BYTE) == len(part) for part in parts)
        case PackedRows():
            first = pixels.rows - facts.extra_channels * height
            return all(
                _is_full(source.read(*place)) for place in _packed_places(source, pixels, first, height)
            )
        case _:
            return False


def _packed_places(source: ByteSource, rows: PackedRows, first: int, count: int) -> Iterator[tuple[int, int]]:
    """Where each of `count` rows lies, and how many bytes it takes; `first` is counted from 0."""
    place = rows.table + rows.rows * rows.entry_bytes
    for row in range(first + count):
        size = source.number(rows.table + row * rows.entry_bytes, rows.entry_bytes)
        if row >= first:
            yield place, size
        place += size


def _is_full(packed: bytes) -> bool:
    """Whether a row in PackBits holds nothing but full bytes."""
    place = 0
    while place < len(packed):
        run = packed[place]
        length = run + 1 if run < _NO_RUN else 1 if run > _NO_RUN else 0
        data = packed[place + 1 : place + 1 + length]
        if data.count(_FULL_BYTE) != length:
            return False
        place += 1 + length
    return True
