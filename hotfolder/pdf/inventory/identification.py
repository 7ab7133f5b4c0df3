"""Reads what a file says of itself, as it is written: each place on its own, where facts join them."""

from typing import Final

import pikepdf

from hotfolder.errors import UnreadableXmpError
from hotfolder.model.inventory.identification import (
    IdentificationFacts,
    InfoFacts,
    MetadataFacts,
    MetadataState,
)
from hotfolder.pdf.document.xmp import Xmp, read_xmp
from hotfolder.pdf.objects.document_limits import XMP_BYTES
from hotfolder.pdf.objects.reading import READING_ERRORS, entry, name, text
from hotfolder.pdf.objects.streams import survey

# More than the name of any level has.
_LEVEL_CHARACTERS: Final = 200

_TEXTS: Final = ("Title", "Producer", "Creator", "CreationDate", "ModDate")


def read_identification_facts(pdf: pikepdf.Pdf) -> IdentificationFacts:
    """Info and XMP as they are written; nothing is raised for what a file says."""
    return IdentificationFacts(_info(entry(pdf.trailer, "/Info")), _metadata(entry(pdf.Root, "/Metadata")))


def _info(info: object) -> InfoFacts:
    texts = {key: text(entry(info, f"/{key}")) or None for key in _TEXTS}
    return InfoFacts(
        title=texts["Title"],
        producer=texts["Producer"],
        creator=texts["Creator"],
        created=texts["CreationDate"],
        modified=texts["ModDate"],
        trapped=_trapped(entry(info, "/Trapped")),
        odd=tuple(
            key
            for key in _TEXTS
            if (value := entry(info, f"/{key}")) is not None and not isinstance(value, pikepdf.String)
        ),
        level=_untrimmed(entry(info, "/GTS_PDFXVersion")),
    )


def _untrimmed(value: object) -> str | None:
    """A text string with the white space at its ends, which `text` leaves out; None for anything else."""
    if text(value) is None:
        return None
    return str(value)[:_LEVEL_CHARACTERS]


def _trapped(value: object) -> str:
    if value is None:
        return ""
    word = name(value)
    if word is not None:
        return word
    if isinstance(value, bool):
        return "true" if value else "false"
    words = text(value)
    return f"({words})" if words is not None else "something else"


def _metadata(stream: object) -> MetadataFacts:
    if stream is None:
        return MetadataFacts()
    type_, subtype = name(entry(stream, "/Type")), name(entry(stream, "/Subtype"))
    state, xmp = _read(stream)
    return MetadataFacts(
        state=state,
        type=type_ or "",
        subtype=subtype or "",
        level=xmp.pdfx_version,
        copied_level=xmp.copied_version,
        title=xmp.title,
        producer=xmp.producer,
        creator=xmp.creator_tool,
        created=xmp.created,
        modified=xmp.modified,
        described=xmp.described,
        trapped=xmp.trapped,
        document_id=xmp.document_id,
        version_id=xmp.version_id,
        rendition_class=xmp.rendition_class,
    )


def _read(stream: object) -> tuple[MetadataState, Xmp]:
    if not isinstance(stream, pikepdf.Stream):
        return MetadataState.UNREADABLE, Xmp()
    try:
        if survey(stream, XMP_BYTES).length is None:
            return MetadataState.TOO_LARGE, Xmp()
        return MetadataState.READ, read_xmp(stream.read_bytes())
    except (*READING_ERRORS, UnreadableXmpError):
        return MetadataState.UNREADABLE, Xmp()
