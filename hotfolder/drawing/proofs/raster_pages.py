"""Raster files as pictures: opened, shrunk, turned upright, shown in screen colours."""

import warnings
from pathlib import Path
from typing import Final

from PIL import Image, ImageCms
from PIL.TiffImagePlugin import TiffImageFile

from hotfolder.colour.screen_colour import on_screen
from hotfolder.drawing.proofs.encoding import encoded
from hotfolder.errors import CutShortError
from hotfolder.model.facts import Unmeasured
from hotfolder.model.pages import Page
from hotfolder.model.pictures import PagePicture, picture_fact
from hotfolder.raster.headers.source import ByteSource
from hotfolder.raster.headers.tiff_picture import picture_directory
from hotfolder.raster.pillow import PILLOW_ERRORS, without_pixel_limit

# Also of the conversion to screen colours.
_ERRORS: Final = (*PILLOW_ERRORS, MemoryError, ImageCms.PyCMSError)

# Memory for one decoded picture. A 70 x 100 cm poster of 300 ppi in CMYK needs 390 MB.
_MOST_BYTES: Final = 512 * 1024 * 1024

# Bytes that Pillow needs for a pixel, by mode, at the widest point of our way through it.
_BYTES_PER_PX: Final = {"1": 1, "L": 1, "LA": 4, "I;16": 4, "I;16B": 4, "I;16L": 4}
_BYTES_PER_PX_ELSE: Final = 4

# Exif orientation (CIPA DC-008, tag 0x0112): what turns the stored picture upright.
_TURNS: Final = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}


def draw_raster_page(path: Path, page: Page, max_px: int) -> PagePicture | Unmeasured:
    """A picture of the raster file at `path`, its longer side at most `max_px` pixels."""
    if page.raster is not None and not page.raster.flat_picture_valid:
        return _no_picture(page, "the file was saved without a flat picture of its layers")
    try:
        with without_pixel_limit(), warnings.catch_warnings():
            # Pillow warns of oddities in metadata; measuring has its own eye on those.
            warnings.simplefilter("ignore")
            with Image.open(path) as image:
                if isinstance(image, TiffImageFile):
                    image.seek(_directory_of(path, page.number))
                return _draw(image, page, max_px)
    except CutShortError:
        return _no_picture(page, "the file has no such page")
    except _ERRORS as trouble:
        return _no_picture(page, f"it could not be decoded ({trouble})")


def _directory_of(path: Path, page_number: int) -> int:
    """Which directory of a TIFF file, from 0, holds a page, from 1. Raises CutShortError."""
    with path.open("rb") as stream:
        return picture_directory(ByteSource(stream), page_number)[0]


def _draw(image: Image.Image, page: Page, max_px: int) -> PagePicture | Unmeasured:
    if image.format == "JPEG":
        image.draft(image.mode, (max_px, max_px))
    needed = _decoding_bytes(image, page)
    if needed > _MOST_BYTES:
        return _no_picture(page, f"decoding it would take {needed // 1_000_000} MB of memory")
    small = _shrunk(image, max_px)
    # Pillow turns TIFF files upright itself when it loads them.
    if page.raster is not None and image.format != "TIFF" and page.raster.orientation in _TURNS:
        small = small.transpose(_TURNS[page.raster.orientation])
    shown = on_screen(small)
    media_type, data = encoded(shown)
    return PagePicture(
        page.number, data, media_type, shown.width, shown.height, page.boxes.media, page.rotate
    )


def _decoding_bytes(image: Image.Image, page: Page) -> int:
    per_px = _BYTES_PER_PX.get(image.mode, _BYTES_PER_PX_ELSE)
    decoded = image.width * image.height * per_px
    if page.raster is not None and page.raster.progressive and image.format == "JPEG":
        # A progressive file keeps two bytes for each coefficient, whatever size it is asked for.
        decoded += page.raster.width_px * page.raster.height_px * len(image.getbands()) * 2
    return decoded


def _shrunk(image: Image.Image, max_px: int) -> Image.Image:
    """`image` in a mode that can be averaged, not larger than `max_px` either way."""
    averaged = _averageable(image)
    averaged.thumbnail((max_px, max_px), reducing_gap=2.0)
    return averaged


def _averageable(image: Image.Image) -> Image.Image:
    if image.mode.startswith("I;16"):
        return image.convert("I").point(lambda value: value * (1 / 256)).convert("L")
    if image.mode in {"I", "F"}:
        return _scaled_to_bytes(image)
    if image.mode == "1":
        return image.convert("L")
    if image.has_transparency_data and image.mode not in {"LA", "RGBA", "La", "RGBa"}:
        return image.convert("RGBA")
    if image.mode in {"P", "PA"}:
        return image.convert("RGB")
    return image


def _scaled_to_bytes(image: Image.Image) -> Image.Image:
    """A picture of 32-bit numbers as 8-bit grey: 16 bits where they suffice, else by its own extent."""
    low, high = (float(value) for value in image.getextrema()[:2])  # type: ignore[arg-type] # one band
    if image.mode == "I" and low >= 0 and high <= 65535:
        low, high = 0.0, 65535.0
    scale = 255 / (high - low) if high > low else 0.0
    offset = -low * scale
    return image.point(lambda value: value * scale + offset).convert("L")


def _no_picture(page: Page, reason: str) -> Unmeasured:
    return Unmeasured(picture_fact(page.number), reason)
