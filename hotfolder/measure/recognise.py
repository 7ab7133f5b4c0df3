"""Recognises a file's format by its content, whatever its name and its ending are."""

from pathlib import Path
from typing import Final

from hotfolder.model.facts import Format

# Readers accept a PDF header anywhere in the first 1024 bytes (ISO 32000-1, Annex H, note 13
# to 3.4.1 of the PDF 1.7 reference): mail gateways and printer drivers put bytes before it.
_PDF_HEADER_WITHIN: Final = 1024
_PDF_HEADER: Final = b"%PDF-"

_SIGNATURES: Final = (
    (b"\xff\xd8\xff", Format.JPEG),  # ISO/IEC 10918-1, B.1.1.3: SOI and the next marker
    (b"II*\0", Format.TIFF),  # TIFF 6.0, section 2
    (b"MM\0*", Format.TIFF),
    (b"II+\0\x08\0\0\0", Format.TIFF),  # BigTIFF: version 43, offsets of 8 bytes
    (b"MM\0+\0\x08\0\0", Format.TIFF),
    (b"\x89PNG\r\n\x1a\n", Format.PNG),  # ISO/IEC 15948, 5.2
    (b"8BPS\0\x01", Format.PSD),  # Photoshop file format, file header: version 1 is PSD, 2 is PSB
    (b"8BPS\0\x02", Format.PSD),
)


def recognise(path: Path) -> Format | None:
    """The format of the file at `path`; None where it is none of those we read.

    OSError from opening or reading propagates.
    """
    with path.open("rb") as file:
        head = file.read(_PDF_HEADER_WITHIN + len(_PDF_HEADER))
    for signature, file_format in _SIGNATURES:
        if head.startswith(signature):
            return file_format
    return Format.PDF if _PDF_HEADER in head else None
