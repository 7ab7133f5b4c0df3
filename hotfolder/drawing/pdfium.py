"""What PDFium, the renderer, raises through pypdfium2 for files that are not as they should be."""

import ctypes
from typing import Final

import pypdfium2

# For a document, page or bitmap that it cannot open or make.
PDFIUM_ERRORS: Final = (
    pypdfium2.PdfiumError, OSError, ValueError, ArithmeticError, MemoryError, ctypes.ArgumentError,
)  # fmt: skip
