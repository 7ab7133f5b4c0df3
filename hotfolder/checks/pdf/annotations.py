"""Annotations and forms: nothing lies on the page that is not part of the artwork.

Why: comments, stamps, form fields and links are drawn by the program that shows the page, each in its
    own way; whether they print depends on that program.
On paper: a comment or an empty form field in the middle of the artwork, or one that should print and does
    not.
Not flagged: annotations outside the bleed (without a bleed box: outside the trim); annotations that only
    touch the edge of that area; printer's marks outside the trim and trapping made for the press; pop-up
    windows, which belong to their comment; annotations of no size, such as hidden signatures. A link or field
    with no appearance of its own is advice only: it has nothing to print.
Source: ISO 15930 (PDF/X) keeps annotations out of the bleed and forbids scripts; ISO 32000-2, 12.5.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.on_product import overlaps
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.model.artwork import Artwork
from hotfolder.model.document import PdfFacts
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Annotation, Page
from hotfolder.model.ruleset import Rule, RuleSettings
from hotfolder.wording.lists import counted, listed
from hotfolder.wording.shown import shown_name

ID: Final = "annotations"
_STANDARD: Final = "ISO 15930 (PDF/X)"

_CALLED: Final = {
    "Text": "note", "FreeText": "typed comment", "Link": "link", "Widget": "form field", "Stamp": "stamp",
    "Highlight": "highlight", "Underline": "underline", "StrikeOut": "strike-out", "Squiggly": "underline",
    "Ink": "pen drawing", "Line": "drawn line", "Square": "drawn box", "Circle": "drawn circle",
    "FileAttachment": "attached file", "Sound": "sound", "Movie": "film", "Screen": "film",
    "RichMedia": "film", "3D": "3D model", "Watermark": "watermark", "Redact": "redaction",
}  # fmt: skip


_BARE: Final = frozenset({"Link", "Widget"})


class AnnotationsSettings(RuleSettings):
    """No figures. inside: links and the like, which do not print but which PDF/X keeps out of the bleed."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "prints": Severity.MUST_FIX,
        "inside": Severity.ADVICE,
        "form-fields": Severity.ADVICE,
        "living-form": Severity.MUST_FIX,
        "scripts": Severity.ADVICE,
        "attachments": Severity.ADVICE,
    }


def check(artwork: Artwork, settings: AnnotationsSettings) -> Iterator[Finding | Unjudged]:
    """Annotations in the bleed, by page, and forms, scripts and attached files of the document."""
    facts = NeededFacts(ID, settings)
    pdf = facts.pdf(artwork)
    if pdf is not None:
        for code, shows in (("prints", True), ("inside", False)):
            places, unwanted = Occurrences(), list[Annotation]()
            for page in artwork.known_pages:
                here = [each for each in page.annotations if _counts(each, page) and _shows(each) is shows]
                unwanted += here
                if here:
                    places.add(page, *(annotation.box for annotation in here))
            if unwanted:
                yield places.located(_on_pages(code, unwanted, settings))
        yield from _in_document(pdf, settings)
    yield from facts.unjudged()


_MESSAGE: Final = {
    "prints": "on the artwork would print. Every program draws such things in its own way, and they are "
    "seldom wanted.",
    "inside": "on the artwork. That should not print, but a file for the press is better off without it.",
}
_REMEDY: Final = {
    "prints": "Delete comments, stamps and form fields, or place what should print in the artwork itself; "
    "then export again.",
    "inside": "Export without links, comments and other things that only a screen needs.",
}


def _on_pages(code: str, unwanted: list[Annotation], settings: AnnotationsSettings) -> Finding:
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=f"{_counted_kinds(unwanted)} {_MESSAGE[code]}",
        remedy=_REMEDY[code],
        measured=Quantity.of(len(unwanted), unit="annotations"),
        required=Quantity.of(0, unit="annotations"),
        standard=_STANDARD,
    )


def _shows(annotation: Annotation) -> bool:
    """Whether an annotation would put something on paper.

    A link or an empty field may be allowed to print, and without looks of its own has nothing to print.
    """
    return annotation.prints and (annotation.has_appearance or annotation.subtype not in _BARE)


def _counts(annotation: Annotation, page: Page) -> bool:
    """Whether an annotation lies where it may not."""
    if annotation.subtype in {"Popup", "TrapNet"} or not (annotation.box.width and annotation.box.height):
        return False
    trim = None if isinstance(page.trim, Unmeasured) else page.trim.box
    area: Box | None = trim if annotation.subtype == "PrinterMark" else page.boxes.bleed or trim
    area = area or page.boxes.media
    return area is None or overlaps(annotation.box, area)


def _counted_kinds(annotations: list[Annotation]) -> str:
    names = [_CALLED.get(each.subtype, shown_name(each.subtype)) for each in annotations]
    return listed(counted(names.count(name), name) for name in dict.fromkeys(names))


def _in_document(pdf: PdfFacts, settings: AnnotationsSettings) -> Iterator[Finding]:
    if pdf.xfa:
        yield _finding(
            "living-form", "The file is a form whose pages are built only when a program opens it (an XFA "
            "form); most programs print just a notice instead.",
            "Print or export the filled form into a plain PDF.", "an XFA form", settings,
        )  # fmt: skip
    if pdf.form_fields:
        yield _finding(
            "form-fields", f"The file has {counted(pdf.form_fields, 'form field')}. Every program draws "
            "them in its own way, or leaves them out.",
            "Flatten the form, so that what is filled in becomes part of the page.",
            counted(pdf.form_fields, "form field"), settings,
        )  # fmt: skip
    if pdf.scripts:
        yield _finding(
            "scripts", f"The file has {counted(pdf.scripts, 'script')}. They do nothing in print, and "
            "files with scripts may be refused.",
            "Export without buttons, actions and scripts.", counted(pdf.scripts, "script"), settings,
        )  # fmt: skip
    if pdf.attachments:
        yield _finding(
            "attachments", f"The file carries {counted(pdf.attachments, 'attached file')}. Attachments do "
            "not print: what is in them will be missing on paper.",
            "Send each file on its own.", counted(pdf.attachments, "attached file"), settings,
        )  # fmt: skip


def _finding(code: str, message: str, remedy: str, measured: str, settings: AnnotationsSettings) -> Finding:
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=message,
        remedy=remedy,
        measured=measured,
        required="none",
    )


RULE = Rule(
    id=ID,
    title="Annotations and forms",
    settings=AnnotationsSettings,
    check=check,
    question="Do you take files with form fields, links or comments on the page?",
    since="0.1",
)
