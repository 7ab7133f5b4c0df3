"""Requirements on what the file says of itself beside its level: title, dates, trapping, and that in XMP."""

from collections.abc import Iterator
from typing import Final, TypeAlias

from hotfolder.checks.pdf.pdfx.dates import WrittenDate, pdf_date, xmp_date
from hotfolder.checks.pdf.pdfx.requirement import Breach, NotJudged, Requirement, Subject
from hotfolder.checks.pdf.pdfx.sources import SERIES
from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level
from hotfolder.model.inventory.identification import InfoFacts, MetadataFacts, MetadataState
from hotfolder.wording.lists import listed
from hotfolder.wording.shown import quoted

_PRODUCERS: Final = "LaTeX's pdfx.xmp 1.6, ConTeXt's lpdf-fmt and lpdf-pdx.xml, LaTeX's novel-xmppacket.sty"
_FOP: Final = "Apache FOP's PDFProfile.java"
_EXPORT: Final = "Export the artwork again with a program that writes PDF/X"
_TOO_LARGE: Final = "the metadata (XMP) are too large to be read"

# Properties by name, None where they are missing.
_Properties: TypeAlias = tuple[tuple[str, str | None], ...]


def _info(subject: Subject) -> InfoFacts:
    return subject.inventory.identification.info


def _metadata(subject: Subject) -> MetadataFacts:
    return subject.inventory.identification.metadata


def _title(subject: Subject, _level: Level) -> Iterator[Breach]:
    info = _info(subject)
    if info.title is None:
        yield Breach("the file's title is no text" if "Title" in info.odd else "the file has no title")


def _dates(subject: Subject, _level: Level) -> Iterator[Breach]:
    info = _info(subject)
    for key, value, what in (
        ("CreationDate", info.created, "made"),
        ("ModDate", info.modified, "last changed"),
    ):
        if value is None:
            no_text = "in text " if key in info.odd else ""
            yield Breach(f"the file does not say {no_text}when it was {what} ({key})")


def _date_syntax(subject: Subject, level: Level) -> Iterator[Breach]:
    info, metadata = _info(subject), _metadata(subject)
    for key, value in (("CreationDate", info.created), ("ModDate", info.modified)):
        if value is not None and pdf_date(value) is None:
            yield Breach(f"{key} is {quoted(value)}, which is no date as PDF writes it")
    if level in X4:
        for key, value in _xmp_dates(metadata):
            if value is not None and xmp_date(value) is None:
                yield Breach(f"{key} in the metadata is {quoted(value)}, which is no date as XMP writes it")


def _xmp_dates(metadata: MetadataFacts) -> _Properties:
    return (
        ("CreateDate", metadata.created),
        ("ModifyDate", metadata.modified),
        ("MetadataDate", metadata.described),
    )


def _trapped(subject: Subject, level: Level) -> Iterator[Breach | NotJudged]:
    written, metadata = _info(subject).trapped, _metadata(subject)
    in_xmp = metadata.trapped if level in X4 else None
    if not written and in_xmp is None:
        if level in X4 and metadata.state is MetadataState.TOO_LARGE:
            yield NotJudged(_TOO_LARGE)
        else:
            yield Breach("the file does not say whether it is trapped (Trapped)")
    if written not in {"True", "False", ""}:
        yield Breach(f"whether the file is trapped is written as {quoted(written)}")
    if in_xmp not in {"True", "False", None}:
        yield Breach(f"whether the file is trapped is written as {quoted(in_xmp or '')} in the metadata")


def _has_metadata(subject: Subject, _level: Level) -> Iterator[Breach]:
    if _metadata(subject).state is MetadataState.ABSENT:
        yield Breach("the file has no metadata (XMP)")


def _metadata_readable(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    state = _metadata(subject).state
    if state is MetadataState.UNREADABLE:
        yield Breach("the metadata (XMP) cannot be read")
    elif state is MetadataState.TOO_LARGE:
        yield NotJudged(_TOO_LARGE)


def _metadata_type(subject: Subject, _level: Level) -> Iterator[Breach]:
    metadata = _metadata(subject)
    if metadata.state is not MetadataState.ABSENT and (metadata.type, metadata.subtype) != (
        "Metadata",
        "XML",
    ):
        said = f"{metadata.type or 'nothing'} and {metadata.subtype or 'nothing'}"
        yield Breach(f"the stream of the metadata says that it is {said} (Type and Subtype)")


def _xmp_says(
    subject: Subject, properties: tuple[tuple[str, str | None], ...]
) -> Iterator[Breach | NotJudged]:
    state = _metadata(subject).state
    if state is MetadataState.TOO_LARGE:
        yield NotJudged(_TOO_LARGE)
    elif state is MetadataState.READ:
        missing = [key for key, value in properties if value is None]
        if missing:
            yield Breach(f"the metadata (XMP) lack {listed(missing)}")


def _xmp_title(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    yield from _xmp_says(subject, (("a title (dc:title)", _metadata(subject).title),))


def _xmp_has_dates(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    dates = _xmp_dates(_metadata(subject))
    yield from _xmp_says(subject, tuple((f"xmp:{key}", value) for key, value in dates))


def _xmp_identifiers(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    metadata = _metadata(subject)
    identifiers = (
        ("xmpMM:DocumentID", metadata.document_id),
        ("xmpMM:VersionID", metadata.version_id),
        ("xmpMM:RenditionClass", metadata.rendition_class),
    )
    yield from _xmp_says(subject, identifiers)


def _agree(subject: Subject, _level: Level) -> Iterator[Breach]:
    info, metadata = _info(subject), _metadata(subject)
    for what, in_info, in_xmp in (
        ("title", info.title, metadata.title),
        ("producer", info.producer, metadata.producer),
        ("creator program", info.creator, metadata.creator),
        ("trapping", info.trapped or None, metadata.trapped),
    ):
        if in_info is not None and in_xmp is not None and in_info.split() != in_xmp.split():
            yield Breach(_differ(what, in_info, in_xmp))
    for what, in_info, in_xmp in (
        ("date of making", info.created, metadata.created),
        ("date of the last change", info.modified, metadata.modified),
    ):
        by_info, by_xmp = _date(in_info), _xmp(in_xmp)
        if by_info is not None and by_xmp is not None and not by_info.agrees_with(by_xmp):
            yield Breach(_differ(what, in_info or "", in_xmp or ""))


def _date(words: str | None) -> WrittenDate | None:
    return pdf_date(words) if words is not None else None


def _xmp(words: str | None) -> WrittenDate | None:
    return xmp_date(words) if words is not None else None


def _differ(what: str, in_info: str, in_xmp: str) -> str:
    return f"the {what} is {quoted(in_info)} in the document information and {quoted(in_xmp)} in the metadata"


DOCUMENT_INFORMATION: Final = (
    Requirement(
        id="no-title",
        wants="wants a title in the document information",
        levels=ALL - X4,
        why="People at the printer's know the file by it, whatever its name has become.",
        remedy="Give the document a title in the design program's file information, and export again.",
        source=f"{SERIES}; PDFlib's tutorial on PDF/X; {_FOP}; LaTeX's novel-pdfx.sty",
        judge=_title,
    ),
    Requirement(
        id="no-dates",
        wants="wants the dates on which the file was made and last changed",
        levels=ALL - X4,
        why="Nobody can tell which of two versions is the later one.",
        remedy=f"{_EXPORT}; it does so by itself.",
        source=f"{SERIES}; Ghostscript's documentation of pdfwrite: CreationDate and ModDate are required in"
        f" PDF/X; {_FOP} (ModDate)",
        judge=_dates,
    ),
    Requirement(
        id="date-syntax",
        wants="wants dates to be written as PDF and XMP have them",
        levels=ALL,
        why="Programs cannot tell which of two versions is the later one.",
        remedy=f"{_EXPORT}; it does so by itself.",
        source=f"ISO 32000-1, 7.9.4, and ISO 16684-1, 8.2.1.2; {SERIES}",
        judge=_date_syntax,
    ),
    Requirement(
        id="trapped",
        wants="wants the file to say whether it is trapped: True or False, as a name, nothing else",
        levels=ALL,
        why="Trapping may be done twice, or not at all: white or dark lines appear where colours meet.",
        remedy=f"{_EXPORT}, with 'Trapped' set to no, unless you trapped it yourself.",
        source=f"{SERIES}; {_FOP}, where the entry is required in PDF/X-3:2003 and PDF/X-4; for PDF/X-4"
        f" WeasyPrint's pdfx.py, which writes it for PDF/X alone; as {_PRODUCERS} do",
        judge=_trapped,
    ),
    Requirement(
        id="no-metadata",
        wants="wants metadata (XMP)",
        levels=X4,
        why="What kind of file it is stands there; programs that go by the standard do not see it.",
        remedy=f"{_EXPORT}-4.",
        source="Ghostscript's gdevpdfe.c and the manual of LaTeX's package hyperxmp: from PDF/X-4 on, the"
        " level is named in the metadata, by pdfxid",
        judge=_has_metadata,
    ),
    Requirement(
        id="metadata-unreadable",
        wants="wants metadata (XMP) that can be read",
        levels=X4,
        why="What kind of file it is stands there; programs that go by the standard do not see it.",
        remedy=f"{_EXPORT}-4.",
        source="ISO 16684-1; that the level is named there: Ghostscript's gdevpdfe.c and the manual of"
        " LaTeX's package hyperxmp",
        judge=_metadata_readable,
    ),
    Requirement(
        id="metadata-type",
        wants="wants the stream of the metadata to be of the type Metadata and the subtype XML",
        levels=X4,
        why="Programs do not see that these are metadata.",
        remedy=f"{_EXPORT}-4.",
        source="ISO 32000-1, table 315",
        judge=_metadata_type,
    ),
    Requirement(
        id="xmp-title",
        wants="wants a title in the metadata (XMP)",
        levels=X4,
        why="People at the printer's know the file by it, whatever its name has become.",
        remedy="Give the document a title in the design program's file information, and export again.",
        source=f"PDFlib's tutorial on PDF/X; {_FOP}, for PDF/X-4; as {_PRODUCERS} write it",
        judge=_xmp_title,
    ),
    Requirement(
        id="xmp-dates",
        wants="wants xmp:CreateDate, xmp:ModifyDate and xmp:MetadataDate",
        levels=X4,
        unconfirmed=X4,
        why="Nobody can tell which of two versions is the later one.",
        remedy=f"{_EXPORT}-4; it does so by itself.",
        source=f"from memory; {_PRODUCERS} write them, and Qt's qpdf.cpp, but no public source says that they"
        " have to be there",
        judge=_xmp_has_dates,
    ),
    Requirement(
        id="xmp-identifiers",
        wants="wants xmpMM:DocumentID, xmpMM:VersionID and xmpMM:RenditionClass",
        levels=X4,
        unconfirmed=X4,
        why="By them the printer's programs tell one version of a file from the next.",
        remedy=f"{_EXPORT}-4; it does so by itself.",
        source=f"from memory; {_PRODUCERS} write them, the first two VersionID and RenditionClass for PDF/X-4"
        " and later alone, and Apache FOP's PDFMetadata.java for PDF/X alone, but no public source says"
        " that they have to be there, and WeasyPrint does without",
        judge=_xmp_identifiers,
    ),
    Requirement(
        id="info-against-metadata",
        wants="wants the document information and the metadata to agree",
        levels=X4,
        unconfirmed=X4,
        why="Which of them is believed depends on the program.",
        remedy=f"{_EXPORT}-4, from the original.",
        source="LaTeX's novel-pdfx.sty, by which both must be the same, of earlier levels; for PDF/X-4 from"
        " memory",
        judge=_agree,
    ),
)
