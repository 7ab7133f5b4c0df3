"""A layered file's flat picture as strips of pixels: its planes read side by side, never held whole.

Layout: Adobe Photoshop File Formats Specification, "Image Data Section": plane after plane, raw or in
PackBits rows behind a table of their lengths.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import BinaryIO, Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from hotfolder.colour.conversions import Conversions
from hotfolder.errors import CutShortError, NotDrawnError
from hotfolder.model.plates import Bytes
from hotfolder.model.raster import RasterFacts
from hotfolder.raster.headers.photoshop import ICC_PROFILE, ImageResources, read_resources
from hotfolder.raster.headers.picture import PackedRows, Pieces
from hotfolder.raster.headers.psd import read_psd
from hotfolder.raster.headers.source import ByteSource
from hotfolder.raster.strips.channels import Channels, psd_channels
from hotfolder.raster.strips.strips import (
    STRIP_PIXELS,
    RasterSource,
    ToConvert,
    left_out_sentence,
    rgb_profile,
)

_HEADER_BYTES: Final = 26
_PALETTE_BYTES: Final = 768  # reds, then greens, then blues


@dataclass(frozen=True, slots=True)
class _Flat:
    """The flat picture: how it is stored, and what is to be made of it."""

    path: Path
    facts: RasterFacts
    pixels: Pieces | PackedRows
    channels: Channels
    palette: Bytes | None


def psd_source(path: Path, facts: RasterFacts, factor: int, conversions: Conversions | None) -> RasterSource:
    """The flat picture, each `factor` x `factor` pixels of it made one.

    NotDrawnError where there is none, or it cannot be read; while strips are taken as well.
    """
    if not facts.flat_picture_valid:
        raise NotDrawnError("the file was saved without a flat picture of its layers")
    if facts.bits not in {1, 8, 16}:
        raise NotDrawnError(f"its samples are of {facts.bits} bits")
    try:
        with path.open("rb") as stream:
            source = ByteSource(stream)
            (picture,) = read_psd(source).pictures
            resources = _resources(source)
            palette = _palette(source) if facts.colour.family == "indexed" else None
    except (CutShortError, OSError, ValueError) as trouble:
        raise NotDrawnError("it could not be decoded") from trouble
    if picture.facts != replace(facts, alpha_opaque=False):  # our limits were asked about another picture
        raise NotDrawnError("its pixels are not those that its header declares")
    if not isinstance(picture.pixels, Pieces | PackedRows):
        raise NotDrawnError("its flat picture is packed in a way that this version does not read")
    channels = psd_channels(facts, resources, conversions)
    return RasterSource(
        width_px=facts.width_px / factor,
        height_px=facts.height_px / factor,
        colour=channels.colour,
        inks=channels.inks,
        alpha=channels.alpha,
        strips=_strips(_Flat(path, facts, picture.pixels, channels, palette), factor),
        profile=rgb_profile(resources.blocks.get(ICC_PROFILE)),
        looks={spot.name: spot.look for spot in channels.spots if spot.look is not None},
        approximate=channels.approximate + left_out_sentence(channels.left_out),
    )


def _resources(source: ByteSource) -> ImageResources:
    start = _HEADER_BYTES + 4 + source.number(_HEADER_BYTES, 4)
    return read_resources(source, start + 4, min(source.size, start + 4 + source.number(start, 4)))


def _palette(source: ByteSource) -> Bytes:
    if source.number(_HEADER_BYTES, 4) < _PALETTE_BYTES:
        raise CutShortError
    return np.frombuffer(source.read(_HEADER_BYTES + 4, _PALETTE_BYTES), np.uint8).reshape(3, 256).T


def _strips(flat: _Flat, factor: int) -> Iterator[Bytes]:
    height, width = flat.facts.height_px, flat.facts.width_px
    rows = factor * max(1, STRIP_PIXELS // (width * factor))
    try:
        with flat.path.open("rb") as stream:
            planes = _Planes(stream, flat)
            for top in range(0, height, rows):
                strip = planes.read(top, min(rows, height - top))
                yield _reduced(strip, factor, flat.channels)
    except (OSError, ValueError) as trouble:
        raise NotDrawnError("it could not be decoded") from trouble


class _Planes:
    """The planes of an open file. ValueError where they are not all there."""

    def __init__(self, stream: BinaryIO, flat: _Flat) -> None:
        self._stream, self._flat = stream, flat
        facts = flat.facts
        self._row_bytes = (facts.width_px * facts.bits + 7) // 8
        if isinstance(flat.pixels, PackedRows):
            self._offsets = _row_offsets(stream, flat.pixels)

    def read(self, top: int, rows: int) -> Bytes:
        """The channels that are taken, of `rows` rows: shape (rows, columns, channels)."""
        flat = self._flat
        if flat.palette is not None:
            colours = flat.palette[self._plane(0, top, rows)]
            # Behind a palette channels count as if its colours were stored as three.
            others = [self._plane(place - 2, top, rows)[..., None] for place in flat.channels.taken[3:]]
            strip: Bytes = np.concatenate([colours, *others], axis=2)
        else:
            strip = np.stack([self._plane(place, top, rows) for place in flat.channels.taken], axis=-1)
        first = 3 if flat.channels.colour else 0
        for place, falls in enumerate(flat.channels.falling):
            if falls:
                strip[..., first + place] = 255 - strip[..., first + place]
        return strip

    def _plane(self, channel: int, top: int, rows: int) -> Bytes:
        first = channel * self._flat.facts.height_px + top
        packed = isinstance(self._flat.pixels, PackedRows)
        data = self._unpacked(first, rows) if packed else self._raw(first, rows)
        signed = self._flat.channels.colour is ToConvert.LAB and channel in {1, 2}
        return _samples(data, rows, self._flat.facts, around_zero=signed)

    def _raw(self, first: int, rows: int) -> bytes:
        pixels = self._flat.pixels
        place = pixels.offsets[0] if isinstance(pixels, Pieces) else 0
        self._stream.seek(place + first * self._row_bytes)
        return _whole(self._stream.read(rows * self._row_bytes), rows * self._row_bytes)

    def _unpacked(self, first: int, rows: int) -> bytes:
        start, stop = int(self._offsets[first]), int(self._offsets[first + rows])
        self._stream.seek(start)
        data = _whole(self._stream.read(stop - start), stop - start)
        # Pillow's decoder begins anew with each row, as rows are packed each by itself.
        return Image.frombytes("L", (self._row_bytes, rows), data, "packbits", "L").tobytes()


def _samples(data: bytes, rows: int, facts: RasterFacts, *, around_zero: bool) -> Bytes:
    """Rows of one plane as bytes. around_zero: a* or b*, whose 16 bits have their zero at 0x8000."""
    if facts.bits == 8:
        return np.frombuffer(data, np.uint8).reshape(rows, facts.width_px)
    if facts.bits == 1:  # a bit that is set is black
        bits = np.unpackbits(np.frombuffer(data, np.uint8).reshape(rows, -1), axis=1)
        light: Bytes = (1 - bits[:, : facts.width_px]) * np.uint8(255)
        return light
    deep = np.frombuffer(data, ">u2").reshape(rows, facts.width_px).astype(np.uint32)
    if around_zero:
        deep = np.minimum((deep + 128) >> 8, 255) * 257
    return ((deep * 255 + 32767) // 65535).astype(np.uint8)


def _row_offsets(stream: BinaryIO, rows: PackedRows) -> NDArray[np.int64]:
    """Where each row begins, and where the last one ends."""
    stream.seek(rows.table)
    size = rows.rows * rows.entry_bytes
    lengths = np.frombuffer(_whole(stream.read(size), size), f">u{rows.entry_bytes}")
    ends = np.cumsum(lengths, dtype=np.int64)
    return rows.table + size + np.concatenate([np.zeros(1, np.int64), ends])


def _whole(data: bytes, size: int) -> bytes:
    if len(data) < size:
        raise ValueError("the file ends before its last pixels")
    return data


def _reduced(strip: Bytes, factor: int, channels: Channels) -> Bytes:
    """Each `factor` x `factor` pixels made one; colours and inks averaged by the weight of their opacity."""
    if factor == 1:
        return strip
    if not channels.alpha:
        return np.rint(_means(strip.astype(np.float32), factor)).astype(np.uint8)
    opacity = strip[..., -1:].astype(np.float32)
    weights = _means(opacity, factor)
    sums = _means(strip[..., :-1] * opacity, factor)
    colours = np.divide(sums, weights, out=np.zeros_like(sums), where=weights > 0)
    reduced: Bytes = np.rint(np.concatenate([colours, weights], axis=2)).astype(np.uint8)
    return reduced


def _means(values: NDArray[np.float32], factor: int) -> NDArray[np.float32]:
    """Means of blocks; the last ones are of what is there."""
    height, width = values.shape[:2]
    rows, columns = np.arange(0, height, factor), np.arange(0, width, factor)
    sums = np.add.reduceat(np.add.reduceat(values, rows, axis=0), columns, axis=1)
    down, across = np.diff([*rows, height]), np.diff([*columns, width])
    means = np.empty_like(sums)
    np.divide(sums, (down[:, None] * across[None, :])[..., None], out=means, casting="same_kind")
    return means
