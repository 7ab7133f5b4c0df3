"""Asks PDFium which fonts the text of a PDF is set in, which poppler's list of resources does not tell."""

import ctypes
import re
from pathlib import Path
from typing import Final

import pypdfium2 as pdfium
import pypdfium2.raw as pdfium_c

_MOST_NAME_BYTES: Final = 256
_SUBSET_PREFIX: Final = re.compile(r"[A-Z]{6}\+")  # ISO 32000-2, 9.9.2


def used_font_names(path: Path) -> frozenset[str] | None:
    """The names of the fonts of all characters that PDFium finds on the pages, without subset prefix.

    None where it does not get the file open.
    """
    names: set[str] = set()
    try:
        document = pdfium.PdfDocument(path)
    except pdfium.PdfiumError:
        return None
    try:
        for number in range(len(document)):
            page = document[number]
            text = page.get_textpage()
            names.update(
                _font_name(text, index) for index in range(text.count_chars()) if _shows(text, index)
            )
            text.close()
            page.close()
    finally:
        document.close()
    return frozenset(plain_name(name) for name in names)


def plain_name(name: str) -> str:
    """A font's name without its subset prefix."""
    return _SUBSET_PREFIX.sub("", name, count=1)


def _shows(text: pdfium.PdfTextPage, index: int) -> bool:
    """Whether a character is no space."""
    return not chr(pdfium_c.FPDFText_GetUnicode(text, index)).isspace()


def _font_name(text: pdfium.PdfTextPage, index: int) -> str:
    buffer = ctypes.create_string_buffer(_MOST_NAME_BYTES)
    pdfium_c.FPDFText_GetFontInfo(text, index, buffer, _MOST_NAME_BYTES, None)
    return buffer.value.decode("utf-8", "replace")
