"""A flyer by the demonstration's own writer: a gradient and a picture of a few kilobytes."""

import io
import math
from typing import Final

from PIL import Image

from hotfolder.demo.artwork.publication import Export, pdf_of
from hotfolder.demo.artwork.sheet import Gradient, JpegPicture, Sheet, TypeStyle
from hotfolder.demo.artwork.typeface import typeface
from hotfolder.units import MM_PER_INCH

_PPI: Final = 300


def demo_flyer() -> bytes:
    """An A5 flyer as PDF/X-1a:2003; places in mm from the lower left corner of the trim."""
    text, heading = typeface("Kestrel-Text", 74), typeface("Kestrel-Heading", 124)
    sheet = Sheet(148, 210)
    sheet.gradient(-3, 120, 154, 93, Gradient((0, 120), (0, 210), ((0.9, 0.5, 0, 0.3), (0.4, 0.1, 0, 0))))
    sheet.picture(15, 137, 40, 30, _slope(40, 30))
    sheet.text((15, 195), "Kestrel + Reed", TypeStyle(heading, 24, (0, 0, 0, 0)))
    sheet.text((15, 109), "Open on weekdays", TypeStyle(text, 10, (0, 0, 0, 1)))
    sheet.rule((15, 105), (133, 105), 0.18, (0, 0, 0, 1))
    return pdf_of((sheet,), Export("Flyer"))


def _slope(width_mm: float, height_mm: float) -> JpegPicture:
    width, height = (math.ceil(length / MM_PER_INCH * _PPI) for length in (width_mm, height_mm))
    picture = Image.new("CMYK", (width, height))
    picture.putdata(
        [(x * 255 // width, y * 255 // height, 128, 0) for y in range(height) for x in range(width)]
    )
    file = io.BytesIO()
    picture.save(file, "JPEG", quality=85)
    return JpegPicture(file.getvalue(), width, height, is_cmyk=True)
