"""JPEG 2000 pictures of more than 8 bits a component, decoded by the renderer.

Pillow rounds such samples up past the greatest of 8 bits, and white becomes black; the renderer stops there.
"""

from typing import Final

import numpy as np
import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium
from pikepdf import Name

from hotfolder.drawing.pdfium import PDFIUM_ERRORS, with_one_picture
from hotfolder.errors import NotDrawnError
from hotfolder.model.plates import Bytes
from hotfolder.pdf.images.jpx import component_depths

_RGB: Final = 3
_MOST_SIDE_PX: Final = 1 << 16


def wraps(data: bytes) -> bool:
    """Whether Pillow would turn the brightest of these JPEG 2000 samples over."""
    depths = component_depths(data)
    return len(depths) > 1 and max(depths) > 8


def decode_deep(data: bytes, width: int, height: int) -> Bytes:
    """Samples of shape (rows, columns, 3) of data with red, green and blue. NotDrawnError for others."""
    if len(component_depths(data)) != _RGB or max(width, height) > _MOST_SIDE_PX:
        raise NotDrawnError("a JPEG 2000 picture of more than 8 bits has colours that cannot be decoded")
    try:
        document = pypdfium2.PdfDocument(_alone(data, width, height))
        page = document[0]
        bitmap = pypdfium2.PdfBitmap.new_native(width, height, pdfium.FPDFBitmap_BGRx)
        pdfium.FPDF_RenderPageBitmap(bitmap, page, 0, 0, width, height, 0, pdfium.FPDF_RENDER_NO_SMOOTHIMAGE)
        samples: Bytes = np.ascontiguousarray(bitmap.to_numpy()[..., 2::-1])
        bitmap.close()
        page.close()
        document.close()
    except PDFIUM_ERRORS:
        raise NotDrawnError("the data of a picture cannot be decoded as JPEG 2000") from None
    return samples


def _alone(data: bytes, width: int, height: int) -> bytes:
    """A document with the picture alone, a point for each pixel."""
    with pikepdf.new() as pdf:
        made = pdf.make_stream(data)
        made["/Filter"] = Name.JPXDecode
        made["/ColorSpace"], made["/BitsPerComponent"] = Name.DeviceRGB, 8
        return with_one_picture(pdf, made, width, height)
