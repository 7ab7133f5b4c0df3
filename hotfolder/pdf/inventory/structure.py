"""Reads how a file is put together as a whole."""

import pikepdf

from hotfolder.model.inventory.structure import StructureFacts
from hotfolder.pdf.document.document import read_trailer
from hotfolder.pdf.objects.reading import entry, name


def read_structure(pdf: pikepdf.Pdf) -> StructureFacts:
    """Versions, identifier, encryption and packed objects (ISO 32000-2, 7.5)."""
    trailer = read_trailer(pdf)
    return StructureFacts(
        header_version=pdf.pdf_version,
        catalog_version=name(entry(pdf.Root, "/Version")) or "",
        id_parts=trailer.id_parts,
        encrypted=entry(pdf.trailer, "/Encrypt") is not None,
        object_streams=trailer.object_streams,
    )
