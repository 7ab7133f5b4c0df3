"""Decodes JPEG and JPEG 2000 pictures as PDF means them (ISO 32000-2, 7.4.8, 7.4.9), smaller if wanted."""

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from typing import Final

import numpy as np
import pikepdf
from PIL import Image

from hotfolder.drawing.images.deep_jpx import decode_deep, wraps
from hotfolder.drawing.images.entries import ImageEntries, parameters_of_filters
from hotfolder.errors import NotDrawnError
from hotfolder.model.plates import Bytes
from hotfolder.pdf.images.coded_images import JPEG_FILTER, jpeg_start
from hotfolder.pdf.images.jpx import component_depths
from hotfolder.pdf.objects.reading import READING_ERRORS, entry, keys, whole
from hotfolder.raster.jpeg_segments import frame_in, segments
from hotfolder.raster.pillow import PILLOW_ERRORS, without_pixel_limit

_ERRORS: Final = (*PILLOW_ERRORS, MemoryError)

# Memory for one decoded picture: a page's budget is some 600 MB, and what is made of it needs room too.
_MOST_BYTES: Final = 420 * 1024 * 1024

_START_OF_IMAGE: Final = b"\xff\xd8"
_END_OF_IMAGE: Final = b"\xff\xd9"
_ADOBE: Final = b"Adobe"
_ADOBE_SEGMENT: Final = b"\xff\xee\x00\x0eAdobe\x00\x64\x00\x00\x00\x00"  # and a byte for the transform
_APP0, _APP14 = 0xE0, 0xEE
_PROGRESSIVE: Final = 0xC2  # SOF2


@dataclass(frozen=True, slots=True)
class Decoded:
    """Samples of shape (rows, columns, components), 0 to 255; alpha: 255 opaque, where the data have it.

    smaller: by how much the picture was made smaller in decoding.
    width, height: its size in the data.
    """

    samples: Bytes
    width: int
    height: int
    smaller: int = 1
    alpha: Bytes | None = None


def data_before(entries: ImageEntries) -> bytes:
    """The data of a picture's own codec, with the filters around it undone; JPEG from its first marker."""
    data = _undone(entries)
    start = jpeg_start(data) if entries.filters[-1:] == (JPEG_FILTER,) else None
    return data[start:] if start else data


def _undone(entries: ImageEntries) -> bytes:
    stream = entries.stream
    try:
        if len(entries.filters) <= 1:
            return stream.read_raw_bytes()
        with pikepdf.new() as shelf:
            around = shelf.make_stream(stream.read_raw_bytes())
            around["/Filter"] = pikepdf.Array([pikepdf.Name(f"/{each}") for each in entries.filters[:-1]])
            predictors = [_numbers_only(each) for each in parameters_of_filters(entries)[:-1]]
            around["/DecodeParms"] = pikepdf.Array(predictors)
            return around.read_bytes(decode_level=pikepdf.StreamDecodeLevel.specialized)
    except READING_ERRORS:
        raise NotDrawnError("the data of a picture cannot be read") from None


def jpeg_components(data: bytes) -> int | None:
    """How many components the frame of JPEG data has; None where they are no JPEG."""
    frames = (frame_in(marker, body) for marker, body in segments(data))
    return next((frame.components for frame in frames if frame is not None), None)


def jpx_profile(data: bytes) -> bytes | None:
    """The ICC profile in JPEG 2000 data; None where they have none."""
    with _opened(data, "JPEG2000") as image:
        profile = image.info.get("icc_profile")
        return profile if isinstance(profile, bytes) and profile else None


def _numbers_only(parameters: object) -> pikepdf.Dictionary | None:
    """Parameters of a filter that unpacks bytes: all of them are numbers (7.4.4.4, table 8)."""
    values = {key: whole(entry(parameters, key)) for key in keys(parameters, 16)}
    kept = {key: value for key, value in values.items() if value is not None}
    return pikepdf.Dictionary(kept) if kept else None


def decode_jpeg(entries: ImageEntries, smaller: int) -> Decoded:
    """A JPEG picture at 1, 1/2, 1/4 or 1/8 of its size, the smallest that is not below 1/`smaller`.

    Its samples are those of the data, whatever Pillow does to inks: Adobe's inverted ones stay inverted.
    """
    data = _with_transform(data_before(entries), whole(entry(entries.parameters, "/ColorTransform")))
    if _END_OF_IMAGE not in data[-64:]:
        data += _END_OF_IMAGE  # what is there is drawn; the decoder wants to see an end
    with _opened(data, "JPEG") as image:
        scale = next(each for each in (8, 4, 2, 1) if each <= max(smaller, 1))
        width, height = image.size
        image.draft(None, (max(1, image.width // scale), max(1, image.height // scale)))
        channels = len(image.getbands())
        decoded = image.width * image.height * (1 if channels == 1 else 4)
        _keep_within(max(decoded + _kept_by_decoder(data, entries.width * entries.height), 2 * decoded))
        try:
            image.load()
        except _ERRORS:
            raise NotDrawnError("the data of a picture cannot be decoded as JPEG") from None
        samples = np.asarray(image)
        if image.mode == "CMYK":
            samples = 255 - samples  # Pillow takes every JPEG of four inks for Adobe's inverted kind
        elif image.mode not in {"L", "RGB"}:
            raise NotDrawnError("a JPEG picture has colours of an unknown kind")
        return Decoded(_three_axes(samples), width, height, max(1, round(width / image.width)))


def decode_jpx(entries: ImageEntries, smaller: int, components: int | None) -> Decoded:
    """A JPEG 2000 picture; components: how many of its channels are colour, None where the data say so."""
    data = data_before(entries)
    with _opened(data, "JPEG2000") as image:
        if wraps(data):
            _keep_within(image.width * image.height * 8 * 3)
            return Decoded(decode_deep(data, image.width, image.height), image.width, image.height)
        halvings = max(0, max(smaller, 1).bit_length() - 1)
        scale = 1
        if halvings:
            # Data have five halvings unless they say otherwise; asked for more the decoder refuses.
            halvings = min(halvings, 3)
            scale = 2**halvings
            image.reduce = halvings  # type: ignore[method-assign,assignment] # Pillow's way to ask for it
        _keep_within(image.width * image.height * 8 * max(3, len(image.getbands())) // scale**2)
        width, height = image.size
        try:
            image.load()
            samples, alpha = _jpx_samples(image, component_depths(data), components)
            return Decoded(samples, width, height, scale, alpha)
        except _ERRORS:
            if scale > 1:
                return decode_jpx(entries, 1, components)
            raise NotDrawnError("the data of a picture cannot be decoded as JPEG 2000") from None


def _jpx_samples(
    image: Image.Image, depths: tuple[int, ...], components: int | None
) -> tuple[Bytes, Bytes | None]:
    if image.mode.startswith("I;16"):
        wide = np.asarray(image).astype(np.uint32)
        samples = ((wide + 128) // 257).astype(np.uint8)
    else:
        if image.mode in {"P", "PA"}:
            image = image.convert("RGB")
        samples = np.asarray(image)
    samples = _spread(_three_axes(samples), depths)
    alpha = None
    count = samples.shape[2] - (image.mode in {"LA", "RGBA"}) if components is None else components
    if samples.shape[2] < count:
        raise NotDrawnError("a JPEG 2000 picture has fewer channels than its colours")
    if samples.shape[2] > count:
        alpha = samples[..., count]
    return samples[..., :count], alpha


def _spread(samples: Bytes, depths: tuple[int, ...]) -> Bytes:
    """Samples of less than 8 bits over 0 to 255: Pillow only shifts them up, and white would be a grey."""
    if len(depths) != samples.shape[2] or min(depths) >= 8:
        return samples
    tables = [
        (np.arange(256) >> (8 - depth)) * 255 // ((1 << depth) - 1) if depth < 8 else np.arange(256)
        for depth in depths
    ]
    return np.stack(
        [table.astype(np.uint8)[samples[..., place]] for place, table in enumerate(tables)], axis=2
    )


def _three_axes(samples: Bytes) -> Bytes:
    return samples[..., None] if samples.ndim == 2 else samples


def _keep_within(needed: int) -> None:
    if needed > _MOST_BYTES:
        raise NotDrawnError(f"a picture would take {needed // 1_000_000} MB of memory to decode")


def _kept_by_decoder(data: bytes, pixels: int) -> int:
    """Bytes that decoding keeps: of a progressive frame all coefficients, two bytes each (T.81, annex G)."""
    for marker, body in segments(data):
        if marker == _PROGRESSIVE and len(body) > 6:
            sides = body[7::3]  # of each component's samples, across and down, four bits each
            areas = [(each >> 4) * (each & 15) for each in sides]
            return 2 * pixels * sum(areas) // max(1, *areas)
    return 0


def _with_transform(data: bytes, transform: int | None) -> bytes:
    """`data` with a marker that says what the file's ColorTransform says.

    Adobe's marker in the data goes before the entry (7.4.8, table 13), and so does JFIF's, which means
    YCbCr. Without an entry the decoder goes by the data alone.
    """
    if transform is None or not data.startswith(_START_OF_IMAGE):
        return data
    bodies = dict(segments(data))
    if bodies.get(_APP14, b"").startswith(_ADOBE) or _APP0 in bodies:
        return data
    code = 0 if not transform else 2 if jpeg_components(data) == 4 else 1
    return data[:2] + _ADOBE_SEGMENT + bytes([code]) + data[2:]


@contextmanager
def _opened(data: bytes, kind: str) -> Iterator[Image.Image]:
    """Pillow's picture of `data`, without its limit, which refuses large posters by their header."""
    with without_pixel_limit(), warnings.catch_warnings():
        # Pillow warns of oddities in metadata; measuring has its own eye on those.
        warnings.simplefilter("ignore")
        try:
            image = Image.open(BytesIO(data), formats=(kind,))
        except _ERRORS:
            raise NotDrawnError("the data of a picture are not of the kind that they should be") from None
        with image:
            yield image
