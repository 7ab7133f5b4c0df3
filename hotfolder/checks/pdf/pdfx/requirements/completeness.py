"""Requirements on what belongs in the file and what does not: all data of its own, and no other files."""

from collections.abc import Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import Breach, JudgedExtent, NotJudged, Requirement, Subject
from hotfolder.checks.pdf.pdfx.requirements.filters import breaches_of_streams
from hotfolder.checks.pdf.pdfx.sources import SERIES
from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level
from hotfolder.model.inventory.whole_file import FileReference
from hotfolder.wording.lists import listed
from hotfolder.wording.shown import quoted


def _all_inside(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    yield from breaches_of_streams(
        subject,
        lambda stream: f"has its data in another file ({listed(stream.outside)})" if stream.outside else "",
    )


def _no_references(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    whole = subject.inventory.whole_file
    for reference in whole.file_references:
        yield Breach(f"the file {'holds' if reference.embedded else 'refers to'} {_named(reference)}")
    if whole.unread:
        yield NotJudged(whole.unread)


def _none_attached(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    whole = subject.inventory.whole_file
    for reference in whole.file_references:
        if reference.embedded:
            yield Breach(f"the file holds {_named(reference)}")
    if whole.unread:
        yield NotJudged(whole.unread)


def _named(reference: FileReference) -> str:
    where = f" (object {reference.object.split()[0]})" if reference.object else ""
    return f"another file{f', {quoted(reference.name, 60)}' if reference.name else ''}{where}"


def _no_collection(subject: Subject, _level: Level) -> Iterator[Breach]:
    if subject.inventory.whole_file.collection:
        yield Breach("the file is a folder of attached files (Collection)")


COMPLETENESS: Final = (
    Requirement(
        id="data-outside",
        wants="wants all data in the file itself",
        levels=ALL,
        why="The other file does not come with this one, and what lies there is missing on paper.",
        remedy="Embed all pictures and fonts in the design program, and export again.",
        source=f"{SERIES}; ISO 32000-1, table 5, for the entries; the title of ISO 15930-7: complete"
        " exchange, where only the output profile of PDF/X-4p may lie outside; the manual of LaTeX's package"
        " pdfx 1.6, by which it takes levels with a g in their name for graphics to come from outside",
        judge=_all_inside,
    ),
    Requirement(
        id="file-reference",
        wants="takes no references to other files, and none attached",
        levels=ALL - X4,
        why="The printer's programs do not follow it, and what lies there is not printed.",
        remedy="Remove attached files and links to files, and send each file on its own.",
        source=f"{SERIES}; Apache FOP's PDFProfile.java, by which PDF/X-3:2003 forbids file specifications;"
        " of attached files ConTeXt's lpdf-fmt.lua, which lets none into any level",
        judge=_no_references,
        extent=JudgedExtent.PART,
        limits="A file that is named by a bare string, as some actions do, is left to the requirements on"
        " actions and annotations.",
        told_by=frozenset({"annotations.attachments"}),
    ),
    Requirement(
        id="embedded-file",
        wants="is for what is printed, and may take no attached files",
        levels=X4,
        unconfirmed=X4,
        why="Attached files are not printed, and may be lost on the way.",
        remedy="Remove attached files, and send each file on its own.",
        source="Apache FOP's PDFProfile.java and ConTeXt's lpdf-fmt.lua let none into PDF/X-4, as into all"
        " levels; from memory, unsure: they may be tolerated where nothing printed needs them",
        judge=_none_attached,
        told_by=frozenset({"annotations.attachments"}),
    ),
    Requirement(
        id="collection",
        wants="builds on a version of PDF that knows no folders of attached files",
        levels=ALL,
        unconfirmed=ALL,
        why="Of such a file only the cover sheet is printed.",
        remedy="Send each file on its own.",
        source="ISO 32000-1, table 28: Collection came with PDF 1.7; that PDF/X minds it is from memory",
        judge=_no_collection,
    ),
)
