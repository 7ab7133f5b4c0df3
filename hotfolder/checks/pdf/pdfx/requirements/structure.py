"""Requirements on how the file is put together."""

import re
from collections.abc import Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import Breach, Requirement, Subject
from hotfolder.checks.pdf.pdfx.sources import SERIES
from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level

_VERSION: Final = re.compile(r"(\d{1,3})\.(\d{1,3})")

# Sides of a page in units of user space, in readers of the time of PDF 1.3 to 1.7.
_SMALLEST: Final = 3
_LARGEST: Final = 14_400
# Producers write 14,400 with a rounding error of their own.
_ROUNDING: Final = 0.01


def _version(subject: Subject, level: Level) -> Iterator[Breach]:
    structure = subject.inventory.structure
    written = max(structure.header_version, structure.catalog_version, key=_version_key)
    if _version_key(written) > level.base:
        yield Breach(f"the file says that it is PDF {written}")


def _version_key(version: str) -> tuple[int, int]:
    match = _VERSION.fullmatch(version)
    return (int(match[1]), int(match[2])) if match is not None else (0, 0)


def _not_packed(subject: Subject, _level: Level) -> Iterator[Breach]:
    if subject.inventory.structure.object_streams:
        yield Breach("the file's objects or its table of contents are packed in streams")


def _not_encrypted(subject: Subject, _level: Level) -> Iterator[Breach]:
    if subject.inventory.structure.encrypted:
        yield Breach("the file is encrypted")


def _has_identifier(subject: Subject, _level: Level) -> Iterator[Breach]:
    parts = subject.inventory.structure.id_parts
    if parts < 2:
        missing = "the file has no identifier" if not parts else "the file's identifier has one part of two"
        yield Breach(f"{missing} (ID in its trailer)")


def _page_size(subject: Subject, _level: Level) -> Iterator[Breach]:
    for page in subject.pages:
        media = page.boxes.media
        if media is None:
            continue
        sides = [side / page.user_unit for side in (media.width, media.height)]
        if min(sides) < _SMALLEST - _ROUNDING or max(sides) > _LARGEST + _ROUNDING:
            yield Breach(f"the page measures {sides[0]:,.5g} by {sides[1]:,.5g} units", page, (media,))


def _user_unit(subject: Subject, _level: Level) -> Iterator[Breach]:
    for page in subject.pages:
        if page.user_unit != 1:
            yield Breach(f"the page is to be magnified {page.user_unit:g} times (UserUnit)", page)


STRUCTURE: Final = (
    Requirement(
        id="pdf-version",
        wants="builds on an earlier version of PDF, which a file of it should name",
        levels=ALL,
        unconfirmed=ALL,
        why="Older programs at the printer's may refuse a version that they do not know.",
        remedy="Export as PDF/X, and leave the choice of the PDF version to that.",
        source=f"{SERIES}: what counts is what a file makes use of; that the number should follow is"
        " common practice",
        judge=_version,
    ),
    Requirement(
        id="packed-objects",
        wants="builds on a version of PDF in which nothing is packed in object streams",
        levels=ALL - X4,
        why="A program that keeps to that version cannot open the file.",
        remedy="Export as PDF/X again, from the original; or save for compatibility with PDF 1.4 or older.",
        source="ISO 32000-1, 7.5.7 and 7.5.8: object streams and cross-reference streams came with PDF 1.5;"
        " the titles of ISO 15930-1, -3, -4 and -6 name PDF 1.3 and 1.4; Ghostscript's gdevpdfp.c",
        judge=_not_packed,
    ),
    Requirement(
        id="encrypted",
        wants="wants a file that is not encrypted",
        levels=ALL,
        why="The printer's programs may refuse to open it, or to print it.",
        remedy="Export again without a password and without restrictions on printing or editing.",
        source=f"{SERIES}; a developer's notes on PDF/X (aznote.jakou.com); for PDF/X-4 Apache FOP's"
        " PDFProfile.java, and Ghostscript's gdevpdf.c",
        judge=_not_encrypted,
        told_by=frozenset({"encryption.encrypted", "encryption.locked"}),
    ),
    Requirement(
        id="file-identifier",
        wants="wants an identifier of two parts (ID) at the end of the file",
        levels=ALL,
        why="By it the printer's programs tell one version of a file from the next.",
        remedy="Export again with a program that writes a file identifier; most do by themselves.",
        source=f"{SERIES}; WeasyPrint's pdfx.py, Apache FOP's PDFProfile.java and Ghostscript's gdevpdfp.c,"
        " which ask for it at each level; two parts by ISO 32000-1, 14.4",
        judge=_has_identifier,
    ),
    Requirement(
        id="page-size",
        wants="builds on a PDF whose pages are 3 to 14,400 units wide and high",
        levels=ALL,
        unconfirmed=ALL,
        why="Programs may refuse to open such a page, or cut it off.",
        remedy="Build the artwork at a scale of 1:10, and tell the printer so.",
        source="ISO 32000-1, annex C.2, and the PDF Reference, appendix C, for the limits of readers; that"
        " PDF/X asks for them is not known",
        judge=_page_size,
    ),
    Requirement(
        id="user-unit",
        wants="builds on a version of PDF in which a unit is 1/72 inch on each page",
        levels=ALL - X4,
        why="A program that keeps to that version prints the page at another size.",
        remedy="Export the page at its real size, or agree with the printer on a scale such as 1:10.",
        source="ISO 32000-1, table 30: UserUnit came with PDF 1.6; the titles of ISO 15930-1, -3, -4 and -6"
        " name PDF 1.3 and 1.4",
        judge=_user_unit,
        told_by=frozenset({"page-boxes.user-unit"}),
    ),
)
