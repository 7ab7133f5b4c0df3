"""Pictures for planting: a slope of colour, so that no pixel is like its neighbours."""

import io
from functools import cache
from typing import Any

import pikepdf
from pikepdf import Name
from PIL import Image


def slope(pdf: pikepdf.Pdf, width: int, height: int, **entries: Any) -> pikepdf.Stream:  # noqa: ANN401 - PDF
    """A CMYK picture of eight bits; `entries` go to its dictionary."""
    return image(pdf, width, height, _slope(width, height, 4), **{"ColorSpace": Name.DeviceCMYK, **entries})


def screen_slope(pdf: pikepdf.Pdf, width: int, height: int, **entries: Any) -> pikepdf.Stream:  # noqa: ANN401 - PDF
    """The same with three components."""
    return image(pdf, width, height, _slope(width, height, 3), **{"ColorSpace": Name.DeviceRGB, **entries})


def grey_slope(pdf: pikepdf.Pdf, width: int, height: int, **entries: Any) -> pikepdf.Stream:  # noqa: ANN401 - PDF
    """The same with one component: what is also a mask, or an index."""
    row = bytes(x * 255 // width for x in range(width))
    return image(pdf, width, height, row * height, **{"ColorSpace": Name.DeviceGray, **entries})


def line_art(pdf: pikepdf.Pdf, width: int, height: int, **entries: Any) -> pikepdf.Stream:  # noqa: ANN401 - PDF
    """A picture of one bit: stripes."""
    row = b"\x0f" * ((width + 7) // 8)
    entries = {"ColorSpace": Name.DeviceGray, "BitsPerComponent": 1, **entries}
    return image(pdf, width, height, row * height, **entries)


def jpeg(pdf: pikepdf.Pdf, width: int, height: int, quality: int) -> pikepdf.Stream:
    """A grey JPEG picture."""
    picture = Image.linear_gradient("L").resize((width, height))
    file = io.BytesIO()
    picture.save(file, "JPEG", quality=quality)
    made = image(pdf, width, height, b"", ColorSpace=Name.DeviceGray)
    made.write(file.getvalue(), filter=Name.DCTDecode)
    return made


def image(pdf: pikepdf.Pdf, width: int, height: int, data: bytes, **entries: Any) -> pikepdf.Stream:  # noqa: ANN401 - PDF
    """An image of `data`, of eight bits where `entries` do not say otherwise."""
    made = pdf.make_stream(data)
    made.Type, made.Subtype, made.Width, made.Height = Name.XObject, Name.Image, width, height
    made.BitsPerComponent = 8
    for key, value in entries.items():
        made[f"/{key}"] = value
    return made


@cache
def _slope(width: int, height: int, components: int) -> bytes:
    """Pixels that rise in the first component across and in the second down."""
    rest = (128, 0)[: components - 2]
    rows = (
        bytes(part for x in range(width) for part in (x * 255 // width, y * 255 // height, *rest))
        for y in range(height)
    )
    return b"".join(rows)
