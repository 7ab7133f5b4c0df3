"""Fax and JBIG2 pictures (ISO 32000-2, 7.4.6 and 7.4.7), decoded by the renderer, which knows both."""

from typing import Any, Final

import numpy as np
import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium
from pikepdf import Array, Dictionary, Name

from hotfolder.drawing.grid.reducing import Smaller, reduced
from hotfolder.drawing.images.entries import ImageEntries, parameters_of_filters
from hotfolder.drawing.pdfium import PDFIUM_ERRORS, with_one_picture
from hotfolder.errors import NotDrawnError
from hotfolder.model.plates import Bytes
from hotfolder.pdf.objects.reading import READING_ERRORS

_STRIP_PIXELS: Final = 1 << 23
_MOST_SIDE_PX: Final = 1 << 16


def decode_bilevel(entries: ImageEntries, smaller: Smaller) -> Bytes:
    """Samples of shape (rows, columns, 1): 255 for a 1 in the data, means over blocks.

    Its Decode array is left aside. NotDrawnError where the renderer cannot open it.
    """
    if entries.width > _MOST_SIDE_PX or entries.height > _MOST_SIDE_PX:
        raise NotDrawnError("a picture of 1 bit is too large to be decoded")
    try:
        document = pypdfium2.PdfDocument(_alone(entries))
    except (*PDFIUM_ERRORS, *READING_ERRORS):
        raise NotDrawnError("a picture of 1 bit cannot be decoded") from None
    try:
        return _drawn(document, entries, smaller)
    except PDFIUM_ERRORS:
        raise NotDrawnError("a picture of 1 bit cannot be decoded") from None
    finally:
        document.close()


def _alone(entries: ImageEntries) -> bytes:
    """A document with the picture alone, a point for each pixel, in plain grey."""
    with pikepdf.new() as pdf:
        made = pdf.make_stream(entries.stream.read_raw_bytes())
        made["/Filter"] = Array([Name(f"/{each}") for each in entries.filters])
        given = parameters_of_filters(entries)
        made["/DecodeParms"] = Array([_copied(pdf, each) for each in given])
        made["/ColorSpace"], made["/BitsPerComponent"] = Name.DeviceGray, 1
        return with_one_picture(pdf, made, entries.width, entries.height)


def _copied(pdf: pikepdf.Pdf, value: Any) -> Any:  # noqa: ANN401 - what a file holds
    """A filter's parameters in another document: numbers as they are, streams (JBIG2Globals) copied."""
    if isinstance(value, pikepdf.Stream):
        return pdf.make_stream(value.read_bytes())
    if isinstance(value, pikepdf.Dictionary):
        return Dictionary({key: _copied(pdf, each) for key, each in value.items()})
    return value


def _drawn(document: pypdfium2.PdfDocument, entries: ImageEntries, smaller: Smaller) -> Bytes:
    page = document[0]
    width, height = entries.width, entries.height
    step = max(1, _STRIP_PIXELS // width // smaller.down) * smaller.down
    parts = []
    for top in range(0, height, step):
        rows = min(step, height - top)
        bitmap = pypdfium2.PdfBitmap.new_native(width, rows, pdfium.FPDFBitmap_Gray)
        bitmap.fill_rect((0, 0, 0, 255), 0, 0, width, rows)
        pdfium.FPDF_RenderPageBitmap(
            bitmap, page, 0, -top, width, height, 0, pdfium.FPDF_RENDER_NO_SMOOTHIMAGE
        )
        strip = bitmap.to_numpy().reshape(rows, width, 1)
        parts.append(reduced(np.ascontiguousarray(strip), smaller).copy())
        bitmap.close()
    page.close()
    return np.concatenate(parts)
