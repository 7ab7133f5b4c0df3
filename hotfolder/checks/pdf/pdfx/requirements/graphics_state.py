"""Requirements on graphics state parameters, halftones, and operators in content."""

from collections.abc import Callable, Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import Breach, JudgedExtent, Requirement, Subject
from hotfolder.checks.pdf.pdfx.sources import SERIES
from hotfolder.checks.pdf.pdfx.used_places import on_pages
from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level
from hotfolder.model.inventory.states import HalftoneFacts
from hotfolder.wording.lists import listed
from hotfolder.wording.shown import shown_name

_GHOSTSCRIPT: Final = "Ghostscript's documentation of pdfwrite, which leaves them out to keep PDF/X-3"
_X4_FROM_MEMORY: Final = "for PDF/X-4 from memory"
_SCREEN_REMEDY: Final = (
    "Export again without the document's own halftone screens; where a program has no such choice, place the"
    " object anew."
)

# For these a halftone of type 5 needs no transfer function (ISO 32000-2, 10.6.5.6): the inks of presses and
# screens that the standard calls primary. Default stands for all that are not named.
_PRIMARY: Final = frozenset({"Cyan", "Magenta", "Yellow", "Black", "Gray", "Red", "Green", "Blue"})

_LONGEST_NAME: Final = 20

# The instruction that hands on code to a PostScript device, of PDF's first days: told with other such code.
POSTSCRIPT_OPERATOR: Final = "PS"


def _transfer(subject: Subject, _level: Level) -> Iterator[Breach]:
    things = [
        (f"a transfer function ({listed(each.transfer_keys)})", each.pages)
        for each in subject.inventory.states
        if each.transfer_keys
    ]
    yield from on_pages(subject, things)


def _halftone_phase(subject: Subject, _level: Level) -> Iterator[Breach]:
    moved = [
        ("a halftone that is moved (HTP)", each.pages)
        for each in subject.inventory.states
        if each.halftone_phase
    ]
    yield from on_pages(subject, moved)


def _halftone_type(subject: Subject, _level: Level) -> Iterator[Breach]:
    yield from _halftones(subject, lambda each: each.type not in {1, 5}, _type_words)


def _type_words(halftone: HalftoneFacts) -> str:
    return f"a halftone of type {halftone.type}" if halftone.type is not None else "a halftone of no type"


def _halftone_name(subject: Subject, _level: Level) -> Iterator[Breach]:
    yield from _halftones(subject, lambda each: each.named, lambda _: "a halftone by name")


def _halftone_transfer(subject: Subject, _level: Level) -> Iterator[Breach]:
    yield from _halftones(
        subject,
        lambda each: each.transfer and (not each.colorant or each.colorant in _PRIMARY),
        lambda _: "a halftone with a transfer function",
    )


def _halftones(
    subject: Subject, guilty: Callable[[HalftoneFacts], bool], words: Callable[[HalftoneFacts], str]
) -> Iterator[Breach]:
    things = [
        (words(each) + (f" for {shown_name(each.colorant)}" if each.colorant else ""), state.pages)
        for state in subject.inventory.states
        for each in state.halftones
        if guilty(each)
    ]
    yield from on_pages(subject, things)


def _overprint_mode(subject: Subject, _level: Level) -> Iterator[Breach]:
    things = [
        (f"an overprint mode of {each.overprint_mode}", each.pages)
        for each in subject.inventory.states
        if each.overprint_mode not in {"", "0", "1"}
    ]
    yield from on_pages(subject, things)


def _operators(subject: Subject, _level: Level) -> Iterator[Breach]:
    things = [
        (
            f"an instruction that no version of PDF has ('{shown_name(each.spelling[:_LONGEST_NAME])}')",
            each.pages,
        )
        for each in subject.inventory.stray_operators
        if each.spelling != POSTSCRIPT_OPERATOR
    ]
    yield from on_pages(subject, things)


GRAPHICS_STATE: Final = (
    Requirement(
        id="transfer-function",
        wants="takes no transfer functions (TR, or TR2 other than Default)",
        levels=ALL,
        unconfirmed=X4,
        why="They bend the tones a second time at the press, so pictures print too light or too dark.",
        remedy="Export again without transfer functions; put such a correction into the picture itself.",
        source=f"{SERIES}; {_GHOSTSCRIPT}; {_X4_FROM_MEMORY}",
        judge=_transfer,
        extent=JudgedExtent.PART,
        limits="TR2 with the value Default, which changes nothing, is taken at every level; a source of 2006"
        " reads as if the levels on PDF 1.3 took no TR2 at all.",
        of_content=True,
    ),
    Requirement(
        id="halftone-phase",
        wants="takes no moved halftones (HTP)",
        levels=ALL,
        unconfirmed=X4,
        why="It is an instruction to one device of the past, and what others make of it is not known.",
        remedy=_SCREEN_REMEDY,
        source=f"{SERIES}; {_GHOSTSCRIPT}; {_X4_FROM_MEMORY}",
        judge=_halftone_phase,
        of_content=True,
    ),
    Requirement(
        id="halftone-type",
        wants="takes halftones of type 1 and 5 alone",
        levels=ALL,
        unconfirmed=ALL,
        why="Others are made for one device; another one prints patterns that show, or refuses the file.",
        remedy=_SCREEN_REMEDY,
        source=f"{SERIES}; no second source; {_X4_FROM_MEMORY}",
        judge=_halftone_type,
        of_content=True,
    ),
    Requirement(
        id="halftone-name",
        wants="takes no halftones that a device is to know by name (HalftoneName)",
        levels=ALL,
        unconfirmed=ALL,
        why="The printer's device does not have the one that is meant, or has another by that name.",
        remedy=_SCREEN_REMEDY,
        source=f"{SERIES}; no second source; {_X4_FROM_MEMORY}",
        judge=_halftone_name,
        of_content=True,
    ),
    Requirement(
        id="halftone-transfer",
        wants="takes transfer functions in halftones for spot inks alone (TransferFunction)",
        levels=ALL,
        unconfirmed=ALL,
        why="They bend the tones a second time at the press, so pictures print too light or too dark.",
        remedy=_SCREEN_REMEDY,
        source="implementers' notes on PDF/X-1a and X-3 (Antenna House, 2006), which allow what PDF demands;"
        " ISO 32000-2, 10.6.5, demands them in a halftone of type 5 for colorants that are not primary",
        judge=_halftone_transfer,
        of_content=True,
    ),
    Requirement(
        id="overprint-mode",
        wants="takes 0 or 1 as overprint mode (OPM)",
        levels=ALL,
        why="Which inks are left out where colours overprint then depends on the program.",
        remedy="Export again; if it stays, copy the objects that overprint into a new document.",
        source="ISO 32000-2, 8.4.5, table 57, and 8.6.7",
        judge=_overprint_mode,
        of_content=True,
    ),
    Requirement(
        id="unknown-operator",
        wants="takes only the instructions that its version of PDF has, between BX and EX too",
        levels=ALL,
        unconfirmed=X4,
        why="Programs leave out what they do not know, so something may be missing on paper.",
        remedy="Export the page again from the original; a program wrote instructions of its own into it.",
        source=f"{SERIES}; ISO 32000-2, annex A, for the instructions; {_X4_FROM_MEMORY}",
        judge=_operators,
        of_content=True,
    ),
)
