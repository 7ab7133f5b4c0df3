"""What every use of PDFium, the renderer, needs: the errors that it raises, and a page of one picture."""

import ctypes
from io import BytesIO
from typing import Final

import pikepdf
import pypdfium2
from pikepdf import Array, Dictionary, Name

# Through pypdfium2, for a document, page or bitmap that it cannot open or make.
PDFIUM_ERRORS: Final = (
    pypdfium2.PdfiumError, OSError, ValueError, ArithmeticError, MemoryError, ctypes.ArgumentError,
)  # fmt: skip


def with_one_picture(pdf: pikepdf.Pdf, image: pikepdf.Stream, width: int, height: int) -> bytes:
    """The file of `pdf`, which is empty, with one page: an image of `width` by `height`, a point a pixel.

    image: its stream, made in `pdf`, with colour space, bits and filter; its type and size are set here.
    """
    image["/Type"], image["/Subtype"] = Name.XObject, Name.Image
    image["/Width"], image["/Height"] = width, height
    page = pdf.add_blank_page()
    page.obj.Resources = Dictionary(XObject=Dictionary(Picture=image))
    page.obj.Contents = pdf.make_stream(f"q {width} 0 0 {height} 0 0 cm /Picture Do Q".encode("ascii"))
    page.obj.MediaBox = Array([0, 0, width, height])
    file = BytesIO()
    pdf.save(file, compress_streams=False)
    return file.getvalue()
