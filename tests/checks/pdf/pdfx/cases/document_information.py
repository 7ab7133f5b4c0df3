"""Files that do not say of themselves what a level wants to know."""

from collections.abc import Callable
from typing import Final

import pikepdf
from pikepdf import Array, Name, String

from hotfolder.checks.shared.pdfx_levels import ALL, X4
from tests.checks.pdf.pdfx.cases.case import Case

Edit = Callable[[pikepdf.Pdf], None]


def entry_as(key: str, value: object) -> Edit:
    """Gives an entry of the document information another value; takes it out for None."""

    def edit(pdf: pikepdf.Pdf) -> None:
        if value is None:
            del pdf.docinfo[f"/{key}"]
        else:
            pdf.docinfo[f"/{key}"] = value

    return edit


def in_xmp(old: bytes, new: bytes) -> Edit:
    """Changes the words of the metadata."""

    def edit(pdf: pikepdf.Pdf) -> None:
        data = pdf.Root.Metadata.read_bytes()
        assert old in data
        pdf.Root.Metadata.write(data.replace(old, new))

    return edit


def _both(*edits: Edit) -> Edit:
    def edit(pdf: pikepdf.Pdf) -> None:
        for each in edits:
            each(pdf)

    return edit


def _no_metadata(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.Metadata


def _metadata_that_are_none(pdf: pikepdf.Pdf) -> None:
    pdf.Root.Metadata.write(b"<x:xmpmeta> with no end")


def _metadata_of_another_type(pdf: pikepdf.Pdf) -> None:
    pdf.Root.Metadata.Type = Name.XObject


def _metadata_without_subtype(pdf: pikepdf.Pdf) -> None:
    del pdf.Root.Metadata.Subtype


_BEFORE_X4: Final = ALL - X4
# the level stands in the metadata, and the file does not say whether it is trapped but there
_LABEL: Final = frozenset({"wrong-identifier"})

CASES: Final = (
    Case("no-title", "none", entry_as("Title", None), levels=_BEFORE_X4),
    Case("no-title", "an empty one", entry_as("Title", String("")), levels=_BEFORE_X4),
    Case("no-title", "spaces", entry_as("Title", String("  ")), levels=_BEFORE_X4),
    Case("no-title", "a name, not text", entry_as("Title", Name.Lantern), levels=_BEFORE_X4),
    Case("no-dates", "no date of making", entry_as("CreationDate", None), levels=_BEFORE_X4),
    Case("no-dates", "no date of change", entry_as("ModDate", None), levels=_BEFORE_X4),
    Case("no-dates", "a number, no text", entry_as("ModDate", 20260301), levels=_BEFORE_X4),
    Case("date-syntax", "as people write it", entry_as("ModDate", String("2 March 2026"))),
    Case("date-syntax", "the thirteenth month", entry_as("CreationDate", String("D:20261301100000Z"))),
    Case(
        "date-syntax",
        "as PDF writes it, in XMP",
        in_xmp(b"Date>2026-03-01T10:00:00+00:00", b"Date>D:20260301100000Z"),
        levels=X4,
    ),
    Case("trapped", "nothing", entry_as("Trapped", None), levels=_BEFORE_X4),
    Case("trapped", "unknown", entry_as("Trapped", Name.Unknown), levels=_BEFORE_X4),
    Case("trapped", "a string", entry_as("Trapped", String("False")), levels=_BEFORE_X4),
    Case("trapped", "a boolean", entry_as("Trapped", value=False), levels=_BEFORE_X4),
    Case("trapped", "a list", entry_as("Trapped", Array([Name("/False")])), levels=_BEFORE_X4),
    Case(
        "trapped",
        "nothing in either place",
        _both(entry_as("Trapped", None), in_xmp(b"<pdf:Trapped>False</pdf:Trapped>", b"")),
        levels=X4,
    ),
    Case(
        "trapped",
        "unknown in both places",
        _both(entry_as("Trapped", Name.Unknown), in_xmp(b"Trapped>False", b"Trapped>Unknown")),
        levels=X4,
    ),
    Case("no-metadata", "none", _no_metadata, levels=X4, also=_LABEL),
    Case("metadata-unreadable", "no XML", _metadata_that_are_none, levels=X4, also=_LABEL),
    Case("metadata-type", "another type", _metadata_of_another_type, levels=X4),
    Case("metadata-type", "no subtype", _metadata_without_subtype, levels=X4),
    Case("xmp-title", "none", in_xmp(b"dc:title>", b"dc:subject>"), levels=X4),
    Case("xmp-title", "an empty one", in_xmp(b"Lantern walk", b""), levels=X4),
    Case("xmp-dates", "no date of making", in_xmp(b"xmp:CreateDate>", b"xmp:Made>"), levels=X4),
    Case("xmp-dates", "no date of change", in_xmp(b"xmp:ModifyDate>", b"xmp:Changed>"), levels=X4),
    Case("xmp-dates", "no date of its own", in_xmp(b"xmp:MetadataDate>", b"xmp:Described>"), levels=X4),
    Case("xmp-identifiers", "no document", in_xmp(b"xmpMM:DocumentID>", b"xmpMM:Other>"), levels=X4),
    Case("xmp-identifiers", "no version", in_xmp(b"xmpMM:VersionID>", b"xmpMM:Other>"), levels=X4),
    Case("xmp-identifiers", "no rendition", in_xmp(b"xmpMM:RenditionClass>", b"xmpMM:Other>"), levels=X4),
    Case("info-against-metadata", "another title", entry_as("Title", String("River walk")), levels=X4),
    Case("info-against-metadata", "another producer", entry_as("Producer", String("a hand")), levels=X4),
    Case("info-against-metadata", "another program", entry_as("Creator", String("a hand")), levels=X4),
    Case("info-against-metadata", "other trapping", entry_as("Trapped", Name("/True")), levels=X4),
    Case(
        "info-against-metadata",
        "an hour later",
        entry_as("CreationDate", String("D:20260301100000-01'00'")),
        levels=X4,
    ),
    Case("info-against-metadata", "a day later", entry_as("ModDate", String("D:20260303100000Z")), levels=X4),
)
