"""Requirements on annotations: where they may lie, printer's marks, and trapping."""

from collections.abc import Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import Breach, NotJudged, Requirement, Subject
from hotfolder.checks.pdf.pdfx.sources import SERIES
from hotfolder.checks.shared.pdfx_levels import ALL, ON_PDF_13, X1A, X4, Level
from hotfolder.model.geometry import Box
from hotfolder.model.inventory.pages import PageAnnotation, TrapNetwork
from hotfolder.model.pages import Page
from hotfolder.wording.shown import shown_name

_TRAPS: Final = "ISO 32000-1, 14.11.6.2"
_TRAP_AGAIN: Final = "Export again without trapping: printers trap with their own settings."

_MARK: Final = "PrinterMark"  # PDF 1.4
_TRAP: Final = "TrapNet"


def _annotations(subject: Subject) -> Iterator[tuple[Page, PageAnnotation]]:
    for page, entries in zip(subject.pages, subject.inventory.pages, strict=False):
        for annotation in entries.annotations:
            yield page, annotation


def _outside_bleed(subject: Subject, level: Level) -> Iterator[Breach | NotJudged]:
    allowed = {_TRAP} if level in ON_PDF_13 else {_TRAP, _MARK}
    for page, annotation in _annotations(subject):
        area = page.boxes.bleed or page.boxes.trim or page.boxes.art
        if annotation.subtype in allowed or annotation.box is None or area is None:
            continue
        if _lies_in(annotation.box, area):
            called = shown_name(annotation.subtype or "no kind named")
            place = "the bleed box" if page.boxes.bleed is not None else "the cut line"
            yield Breach(f"an annotation ({called}) lies within {place}", page, (annotation.box,))
    for page, entries in zip(subject.pages, subject.inventory.pages, strict=False):
        if entries.unread_annotations:
            yield NotJudged("the page has more annotations than are read", page)


def _marks_outside_trim(subject: Subject, _level: Level) -> Iterator[Breach]:
    for page, annotation in _annotations(subject):
        area = page.boxes.trim or page.boxes.art
        if annotation.subtype != _MARK or annotation.box is None or area is None:
            continue
        if _lies_in(annotation.box, area):
            yield Breach("a printer's mark reaches into the cut line", page, (annotation.box,))


def _lies_in(box: Box, area: Box) -> bool:
    """Whether any of a box lies in an area; what only touches its edge lies outside."""
    return box.x0 < area.x1 and box.x1 > area.x0 and box.y0 < area.y1 and box.y1 > area.y0


def _networks(subject: Subject) -> Iterator[tuple[Page, PageAnnotation, TrapNetwork]]:
    for page, annotation in _annotations(subject):
        if annotation.trap_network is not None:
            yield page, annotation, annotation.trap_network


def _trapped_says_so(subject: Subject, _level: Level) -> Iterator[Breach]:
    trapped = subject.artwork.pdf.trapped if subject.artwork.pdf is not None else None
    for page, _, _ in _networks(subject):
        if trapped != "True":
            yield Breach(f"the page has traps, and the file says '{trapped}' of its trapping", page)


def _trap_model(subject: Subject, level: Level) -> Iterator[Breach | NotJudged]:
    for page, annotation, network in _networks(subject):
        wanted = {"DeviceCMYK"} if level in X1A else _models_of_intent(subject)
        if not wanted:
            yield NotJudged("the output condition's colour model is not known", page)
        elif network.model not in wanted:
            model = shown_name(network.model or "no colour model")
            boxes = (annotation.box,) if annotation.box is not None else ()
            yield Breach(f"traps are made for {model}", page, boxes)


def _models_of_intent(subject: Subject) -> set[str]:
    names = {"CMYK": "DeviceCMYK", "RGB": "DeviceRGB", "GRAY": "DeviceGray"}
    intents = subject.artwork.pdf.output_intents if subject.artwork.pdf is not None else ()
    return {names[intent.profile_space] for intent in intents if intent.profile_space in names}


def _trap_fonts(subject: Subject, _level: Level) -> Iterator[Breach]:
    for page, _, network in _networks(subject):
        if network.substituted:
            yield Breach("fonts were replaced while traps were made (FontFauxing)", page)


ANNOTATIONS: Final = (
    Requirement(
        id="annotation-on-page",
        wants="wants annotations (links, form fields, comments) to lie outside the bleed",
        levels=ALL,
        why="Whether they print, and how, depends on the program that prints the page.",
        remedy="Delete links, comments and form fields, or export again for print and not for the screen.",
        source=f"{SERIES}; Ghostscript's gdevpdfm.c; Apache FOP's PDFProfile.java, which lets none into the"
        " area that prints in PDF/X-3:2003 and PDF/X-4; Qt's qpdf.cpp, which names the clause, for"
        " PDF/X-4",
        clause="ISO 15930-7, 6.17",
        judge=_outside_bleed,
        told_by=frozenset({"annotations.prints", "annotations.inside"}),
    ),
    Requirement(
        id="printers-mark-on-page",
        wants="wants printer's marks to lie outside the cut line",
        levels=ALL - ON_PDF_13,
        unconfirmed=ALL - ON_PDF_13,
        why="A mark within the cut line is printed on the finished piece.",
        remedy="Set the distance of marks from the cut line to more than the bleed, and export again.",
        source=f"{SERIES}; Arlington PDF model of the PDF Association (PrinterMark is of PDF 1.4); no second"
        " source; for PDF/X-4 from memory",
        judge=_marks_outside_trim,
    ),
    Requirement(
        id="traps-untold",
        wants="wants a file with traps to say that it is trapped",
        levels=ALL,
        unconfirmed=X4,
        why="The printer would trap it a second time.",
        remedy=_TRAP_AGAIN,
        source=f"{SERIES}; {_TRAPS} and table 317: what False says is that nothing was trapped; for PDF/X-4"
        " from memory",
        judge=_trapped_says_so,
    ),
    Requirement(
        id="trap-colour-model",
        wants="wants traps to be made for the inks of the output condition",
        levels=ALL - {Level.X4P},
        unconfirmed=ALL - {Level.X4P},
        why="Traps for another set of inks print as coloured lines along edges.",
        remedy=_TRAP_AGAIN,
        source=f"{SERIES}; {_TRAPS}, for what PCM is, but not for what it has to be; for PDF/X-4 from memory",
        judge=_trap_model,
    ),
    Requirement(
        id="trap-fonts",
        wants="takes no traps that were made with other fonts in place of the artwork's",
        levels=ALL,
        unconfirmed=ALL,
        why="Traps would not follow the letters that are printed.",
        remedy=_TRAP_AGAIN,
        source=f"from memory; {_TRAPS} (FontFauxing)",
        judge=_trap_fonts,
    ),
)
