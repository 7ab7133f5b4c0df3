"""Pictures of PDFs, and what is drawn of them on plates."""

import base64
import zlib
from collections.abc import Callable
from io import BytesIO
from typing import Any

import numpy as np
import pikepdf
from numpy.typing import NDArray
from pikepdf import Array, Dictionary, Name, String
from PIL import Image

from hotfolder.colour.conversions import Conversions
from hotfolder.drawing.spaces.view import View
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.resources import Resources
from tests.drawing.spaces.view_sheets import (
    SIDE,
    Sheet,
    for_any_document,
    grid_frame,
    image,
    tint,
)

Pixels = NDArray[np.uint8]


Make = Callable[[pikepdf.Pdf], pikepdf.Stream]


NOTHING = Resources()


RGB = (51, 128, 204)


INKS = (30, 90, 140, 60)


def flat(*colour: int, side: int = SIDE) -> Pixels:
    return np.tile(np.array(colour, np.uint8), (side, side, 1))


def spot(pdf: pikepdf.Pdf) -> pikepdf.Object:
    return Array([Name.Separation, Name.Spot, Name.DeviceCMYK, tint(pdf, [0, 1, 1, 0])])


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


def predicted(pixels: Pixels) -> bytes:
    """Deflated, each row differenced from the one above, as in PNG (filter type 2)."""
    rows = pixels.reshape(len(pixels), -1)
    above = np.vstack([np.zeros_like(rows[:1]), rows[:-1]])
    marked = np.hstack([np.full((len(rows), 1), 2, np.uint8), rows - above])
    return zlib.compress(marked.tobytes())


def plates(conversions: Conversions | None, make: Make, *, laid: bool = False) -> dict[str, Pixels]:
    """Each plate of the picture over the whole sheet, drawn by the renderer."""
    sheet = Sheet(conversions)
    space = sheet.images.space_of(make(sheet.pdf), NOTHING)
    assert space is not None
    return {ink: drawn(conversions, make, View.of_inks((ink,)), laid=laid) for ink in space.touches}


def drawn(conversions: Conversions | None, make: Make, view: View, *, laid: bool = False) -> Pixels:
    frame = grid_frame() if laid else None
    sheet = Sheet(conversions, frame)
    found = make(sheet.pdf)
    side = SIDE * frame.pixel_pt if frame is not None else SIDE
    whole = Matrix(side, 0, 0, side, 0, 0)
    if frame is None:
        made = sheet.images.drawn(found, NOTHING, SIDE, SIDE, view)
    else:
        placed = sheet.images.resampled(found, NOTHING, whole, frame, view)
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


NUMBERS = ((SPREAD * 7919) % 251).astype(np.uint8)


FOUR = np.repeat(NUMBERS, 4, axis=2) ^ np.array([0, 31, 62, 93], np.uint8)


# Pictures of named inks: what each pixel of each plate is follows from the data.
EXACT: list[tuple[str, Make, dict[str, Pixels]]] = [
    ("plain CMYK", picture(FOUR, ColorSpace=Name.DeviceCMYK),
     {ink: FOUR[..., at] for at, ink in enumerate(PROCESS_INKS)}),
    ("deflated", picture(FOUR, ColorSpace=Name.DeviceCMYK, Filter=Name.FlateDecode,
                         data=zlib.compress(FOUR.tobytes())),
     {ink: FOUR[..., at] for at, ink in enumerate(PROCESS_INKS)}),
    ("differenced", picture(FOUR, ColorSpace=Name.DeviceCMYK, Filter=Name.FlateDecode, data=predicted(FOUR),
                            DecodeParms=Dictionary(Predictor=15, Colors=4, Columns=SIDE)),
     {ink: FOUR[..., at] for at, ink in enumerate(PROCESS_INKS)}),
    ("two filters", picture(FOUR, ColorSpace=Name.DeviceCMYK, Filter=Array([Name.A85, Name.Fl]),
                            data=base64.a85encode(zlib.compress(FOUR.tobytes())) + b"~>"),
     {ink: FOUR[..., at] for at, ink in enumerate(PROCESS_INKS)}),
    ("run lengths", picture(NUMBERS, ColorSpace=Name.DeviceGray, Filter=Array([Name.RL]),
                            data=b"".join(b"\x00" + bytes([each]) for each in NUMBERS.ravel()) + b"\x80"),
     {"Black": 255 - NUMBERS[..., 0]}),
    ("decoded round", picture(FOUR, ColorSpace=Name.DeviceCMYK, Decode=[1, 0] * 4),
     {ink: 255 - FOUR[..., at] for at, ink in enumerate(PROCESS_INKS)}),
    ("16 bits", picture(NUMBERS, ColorSpace=Name.DeviceGray, BitsPerComponent=16,
                        data=(NUMBERS.astype(">u2") * 257).tobytes()), {"Black": 255 - NUMBERS[..., 0]}),
    ("4 bits", picture(NUMBERS, ColorSpace=Name.DeviceGray, BitsPerComponent=4,
                       data=packed(NUMBERS // 16, 4)),
     {"Black": 255 - NUMBERS[..., 0] // 16 * 17}),
    ("2 bits", picture(NUMBERS, ColorSpace=spot, BitsPerComponent=2, data=packed(NUMBERS // 64, 2)),
     {"Spot": NUMBERS[..., 0] // 64 * 85}),
    ("1 bit", picture(BITS, ColorSpace=Name.DeviceGray, BitsPerComponent=1, data=packed(BITS, 1)),
     {"Black": (1 - BITS[..., 0]) * 255}),
    ("1 bit, decoded", picture(BITS, ColorSpace=Name.DeviceGray, BitsPerComponent=1, data=packed(BITS, 1),
                               Decode=[1, 0]), {"Black": BITS[..., 0] * 255}),
    ("1 bit, indexed", picture(BITS, BitsPerComponent=1, data=packed(BITS, 1), ColorSpace=lambda pdf: Array(
        [Name.Indexed, spot(pdf), 1, String(b"\x20\xe0")])),
     {"Spot": 0x20 + BITS[..., 0] * 0xC0}),
    ("indexed", picture(NUMBERS, ColorSpace=lambda pdf: Array(
        [Name.Indexed, spot(pdf), 255, String(bytes(range(255, -1, -1)))])), {"Spot": 255 - NUMBERS[..., 0]}),
    ("indexed, beyond its end", picture(NUMBERS, ColorSpace=lambda pdf: Array(
        [Name.Indexed, spot(pdf), 1, String(b"\x00\x80")])),
     {"Spot": np.where(NUMBERS[..., 0] > 0, 0x80, 0).astype(np.uint8)}),
    ("spot", picture(NUMBERS, ColorSpace=spot), {"Spot": NUMBERS[..., 0]}),
    ("JPEG 2000, spot", picture(NUMBERS, ColorSpace=spot, Filter=Name.JPXDecode,
                                data=jpeg_2000(NUMBERS, "L")), {"Spot": NUMBERS[..., 0]}),
]  # fmt: skip


def ramp() -> Pixels:
    return np.tile(np.linspace(0, 255, SIDE).astype(np.uint8), (SIDE, 1))[..., None]


def masked(**entries: object) -> Make:
    return picture(flat(*INKS), ColorSpace=Name.DeviceCMYK, **entries)


def soft_mask(pixels: Pixels, **entries: object) -> Callable[[pikepdf.Pdf], pikepdf.Stream]:
    return picture(pixels, ColorSpace=Name.DeviceGray, **entries)


STRIPES = np.where((np.arange(SIDE) % 4 < 2)[None, :, None], flat(*INKS), 0).astype(np.uint8)
