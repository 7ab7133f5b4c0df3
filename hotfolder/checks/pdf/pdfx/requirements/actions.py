"""Requirements on what a file does by itself or when somebody touches it."""

from collections import Counter
from collections.abc import Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import Breach, NotJudged, Requirement, Subject
from hotfolder.checks.pdf.pdfx.sources import SERIES
from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level
from hotfolder.model.inventory.interactive import Action
from hotfolder.wording.lists import counted
from hotfolder.wording.shown import shown_name

_WRITERS: Final = (
    "the manual of LaTeX's package pdfx 1.6, by which PDF/X forbids links and other actions, also of"
    " bookmarks; Apache FOP's PDFProfile.java, which lets no action into PDF/X-3:2003 and PDF/X-4"
)
_SCRIPT: Final = "JavaScript"


def _no_scripts(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    yield from _told(
        subject, [each for each in subject.inventory.interactive.actions if each.kind == _SCRIPT]
    )


def _no_actions(subject: Subject, _level: Level) -> Iterator[Breach | NotJudged]:
    yield from _told(
        subject, [each for each in subject.inventory.interactive.actions if each.kind != _SCRIPT]
    )


def _told(subject: Subject, actions: list[Action]) -> Iterator[Breach | NotJudged]:
    pages = {page.number: page for page in subject.pages}
    for action, times in Counter(actions).items():
        kind = shown_name(action.kind or "without a kind")
        often = f" ({counted(times, 'time')})" if times > 1 else ""
        page = pages.get(action.page) if action.page is not None else None
        yield Breach(f"there is an action ({kind}) in {action.where}{often}", page)
    if subject.inventory.interactive.unread:
        yield NotJudged("the file has more form fields, bookmarks or scripts than are looked at")


def _no_xfa(subject: Subject, _level: Level) -> Iterator[Breach]:
    if subject.inventory.interactive.xfa:
        yield Breach("the file holds a form that is described in XML (XFA)")


ACTIONS: Final = (
    Requirement(
        id="script",
        wants="takes no scripts",
        levels=ALL,
        why="A script may change what is printed after the file was checked.",
        remedy="Export the artwork again as a plain print PDF, without scripts and form fields.",
        source=f"{SERIES}; {_WRITERS}",
        judge=_no_scripts,
        told_by=frozenset({"annotations.scripts"}),
    ),
    Requirement(
        id="action",
        wants="takes no actions, not even those of links and bookmarks",
        levels=ALL,
        why="What a file does when it is opened or touched has no place in a file for print.",
        remedy="Export the artwork again for print and not for the screen, without links and bookmarks.",
        source=f"{SERIES}; {_WRITERS}",
        judge=_no_actions,
    ),
    Requirement(
        id="xml-form",
        wants="takes no forms that are described in XML (XFA)",
        levels=ALL,
        unconfirmed=X4,
        why="Each program that shows such a form lays it out anew; many print a notice in its place.",
        remedy="Print the form to a PDF, or export the artwork again from the original.",
        source="Arlington PDF model of the PDF Association (XFA is of PDF 1.5); for PDF/X-4 from memory",
        judge=_no_xfa,
        told_by=frozenset({"annotations.living-form"}),
    ),
)
