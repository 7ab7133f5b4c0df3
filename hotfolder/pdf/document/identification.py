"""Reads what a document says about itself: title, programs, trapping, PDF/X level.

Sources: ISO 32000-2, 14.3 (metadata); ISO 15930-1, -3, -4 and -6 keep the PDF/X level in the
Info dictionary, ISO 15930-7 and later ones in XMP.
"""

from dataclasses import dataclass
from typing import Final

import pikepdf

from hotfolder.errors import UnreadableXmpError
from hotfolder.model.document import PdfxClaim
from hotfolder.model.facts import Problem, ProblemKind
from hotfolder.pdf.document.xmp import Xmp, read_xmp
from hotfolder.pdf.objects.document_limits import XMP_BYTES
from hotfolder.pdf.objects.reading import entry, name, text
from hotfolder.pdf.objects.streams import bounded_bytes

_TRAPPED: Final = frozenset({"True", "False", "Unknown"})


@dataclass(frozen=True, slots=True)
class Identification:
    """A document's own words about itself; None for what it does not say."""

    pdfx: PdfxClaim | None
    title: str | None
    producer: str | None
    creator: str | None
    trapped: str | None
    created: str | None
    modified: str | None


def read_identification(pdf: pikepdf.Pdf, problems: list[Problem]) -> Identification:
    """What Info and XMP say; Info goes before XMP, but for the PDF/X level."""
    info = entry(pdf.trailer, "/Info")
    xmp = _xmp(pdf, problems)
    return Identification(
        pdfx=_pdfx(info, xmp),
        title=text(entry(info, "/Title")) or xmp.title,
        producer=text(entry(info, "/Producer")) or xmp.producer,
        creator=text(entry(info, "/Creator")) or xmp.creator_tool,
        trapped=_trapped(info, xmp, problems),
        created=text(entry(info, "/CreationDate")) or xmp.created,
        modified=text(entry(info, "/ModDate")) or xmp.modified,
    )


def _xmp(pdf: pikepdf.Pdf, problems: list[Problem]) -> Xmp:
    stream = entry(pdf.Root, "/Metadata")
    if stream is None:
        return Xmp()
    data = bounded_bytes(stream, XMP_BYTES)
    if data is None:
        what = "the file's description of itself (XMP metadata) could not be read, or is too large"
        problems.append(Problem("pdf.pdfx", what, ProblemKind.NOTE))
        return Xmp()
    try:
        return read_xmp(data)
    except UnreadableXmpError:
        what = "the file's description of itself (XMP metadata) is written in a way that cannot be read"
        problems.append(Problem("pdf.pdfx", what, ProblemKind.NOTE))
        return Xmp()


def _pdfx(info: object, xmp: Xmp) -> PdfxClaim | None:
    """The PDF/X level that the file claims: that in XMP, else that in Info.

    Where XMP has one, Info's is kept beside it, so that the two can be compared.
    """
    level = text(entry(info, "/GTS_PDFXVersion")) or name(entry(info, "/GTS_PDFXVersion")) or None
    conformance = text(entry(info, "/GTS_PDFXConformance")) or name(entry(info, "/GTS_PDFXConformance"))
    if xmp.pdfx_version is not None:
        if level != xmp.pdfx_version:
            conformance = None  # it belongs to another level than the one that counts
        return PdfxClaim(xmp.pdfx_version, xmp.pdfx_conformance or conformance or None, "XMP", level)
    return PdfxClaim(level, conformance or None, "Info") if level is not None else None


def _trapped(info: object, xmp: Xmp, problems: list[Problem]) -> str | None:
    """`True`, `False` or `Unknown`; any other value is a problem, and counts as missing."""
    value = entry(info, "/Trapped")
    word = name(value)
    if value is not None and word not in _TRAPPED:
        what = "whether the file is trapped is written in a way that counts as not said"
        problems.append(Problem("pdf.trapped", what, ProblemKind.NOTE))
    if word in _TRAPPED:
        return word
    return xmp.trapped if xmp.trapped in _TRAPPED else None
