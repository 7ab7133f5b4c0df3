"""Pictures of PDFs, and what is drawn of them on plates."""

from collections.abc import Callable
from io import BytesIO
from typing import Any

import numpy as np
import pikepdf
from numpy.typing import NDArray
from pikepdf import Name
from PIL import Image

from hotfolder.colour.conversions import Conversions
from hotfolder.drawing.spaces.view import View
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.resources import Resources
from tests.drawing.spaces.view_sheets import (
    SIDE,
    Sheet,
    for_any_document,
    grid_frame,
    image,
)

Pixels = NDArray[np.uint8]
Make = Callable[[pikepdf.Pdf], pikepdf.Stream]
NOTHING = Resources()
RGB = (51, 128, 204)
INKS = (30, 90, 140, 60)


def flat(*colour: int, side: int = SIDE) -> Pixels:
    return np.tile(np.array(colour, np.uint8), (side, side, 1))


def picture(pixels: Pixels, **entries: object) -> Make:
    """A picture of plain bytes; entries that are functions are given the document."""
    height, width = pixels.shape[:2]

    def make(pdf: pikepdf.Pdf) -> pikepdf.Stream:
        found: dict[str, Any] = {
            key: value(pdf) if callable(value) else for_any_document(value) for key, value in entries.items()
        }
        data = found.pop("data", None) or pixels.tobytes()
        return image(pdf, data, width, height, **found)

    return make


def jpeg(pixels: Pixels, mode: str) -> bytes:
    shelf = BytesIO()
    Image.frombytes(mode, pixels.shape[1::-1], pixels.tobytes()).save(
        shelf, "JPEG", quality=100, subsampling=0
    )
    return shelf.getvalue()


def jpeg_2000(pixels: Pixels, mode: str) -> bytes:
    shelf = BytesIO()
    Image.frombytes(mode, pixels.shape[1::-1], pixels.tobytes()).save(shelf, "JPEG2000")
    return shelf.getvalue()


def plates(conversions: Conversions | None, make: Make, *, laid: bool = False) -> dict[str, Pixels]:
    """Each plate of the picture over the whole sheet, drawn by the renderer."""
    sheet = Sheet(conversions)
    space = sheet.images.space_of(make(sheet.pdf), NOTHING)
    assert space is not None
    return {ink: drawn(conversions, make, View.of_inks((ink,)), laid=laid) for ink in space.touches}


def drawn(conversions: Conversions | None, make: Make, view: View, *, laid: bool = False) -> Pixels:
    frame = grid_frame() if laid else None
    sheet = Sheet(conversions, frame)
    stored = make(sheet.pdf)
    side = SIDE * frame.pixel_pt if frame is not None else SIDE
    whole = Matrix(side, 0, 0, side, 0, 0)
    if frame is None:
        made = sheet.images.drawn(stored, NOTHING, SIDE, SIDE, view)
    else:
        placed = sheet.images.resampled(stored, NOTHING, whole, frame, view)
        assert placed is not None
        made, whole = placed.image, placed.matrix
    assert made is not None
    sheet.place(made, whole)
    shown: Pixels = 255 - sheet.drawn()[..., 0]
    return shown


SPREAD = np.arange(SIDE * SIDE, dtype=np.uint32).reshape(SIDE, SIDE, 1)
BITS = ((SPREAD * 7919) % 251 % 2).astype(np.uint8)


def packed(values: Pixels, bits: int) -> bytes:
    """Samples of 1, 2 or 4 bits, rows on whole bytes."""
    apart = (values.reshape(len(values), -1, 1) >> np.arange(bits - 1, -1, -1)) & 1
    return np.packbits(apart.reshape(len(values), -1).astype(np.uint8), axis=1).tobytes()


def ramp() -> Pixels:
    return np.tile(np.linspace(0, 255, SIDE).astype(np.uint8), (SIDE, 1))[..., None]


def masked(**entries: object) -> Make:
    return picture(flat(*INKS), ColorSpace=Name.DeviceCMYK, **entries)


def soft_mask(pixels: Pixels, **entries: object) -> Callable[[pikepdf.Pdf], pikepdf.Stream]:
    return picture(pixels, ColorSpace=Name.DeviceGray, **entries)


STRIPES = np.where((np.arange(SIDE) % 4 < 2)[None, :, None], flat(*INKS), 0).astype(np.uint8)
