"""Reads how a file is put together as a whole."""

import pikepdf

from hotfolder.model.inventory.structure import StructureFacts
from hotfolder.pdf.objects.reading import entry, items, name


def read_structure(pdf: pikepdf.Pdf) -> StructureFacts:
    """Versions, identifier, encryption and packed objects (ISO 32000-2, 7.5)."""
    parts = [each for each in items(entry(pdf.trailer, "/ID"), 2) if isinstance(each, pikepdf.String)]
    return StructureFacts(
        header_version=pdf.pdf_version,
        catalog_version=name(entry(pdf.Root, "/Version")) or "",
        id_parts=len([part for part in parts if bytes(part)]),
        encrypted=entry(pdf.trailer, "/Encrypt") is not None,
        object_streams=name(entry(pdf.trailer, "/Type")) == "XRef"
        or entry(pdf.trailer, "/XRefStm") is not None,
    )
