"""Built black and grey: large greys and blacks are not mixed of all four inks without need.

Why: a grey of four inks keeps its colour only while all four stay in balance, which they never quite do
    over a run; a black over much of the other three lies thick and dries slowly.
On paper: greys with a pink or green cast, different from sheet to sheet; blacks that set off on the next
    sheet.
Not flagged: greys and blacks of black ink alone, or with up to two others; black with the other inks beneath
    it up to the sum that the rule set names, which makes it deeper (rich black); text, lines and small areas;
    pictures, and whatever lies where a picture is; colours other than the press's own inks, which are
    converted later; coloured areas; all four inks at full strength, which the rule about registration colour
    judges.
Source: common practice; a usual rich black has 140 % beneath it (60, 40 and 40 %; from memory), a book
    printer's guide lets it have 120 %, and 150 % is this program's own choice.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.marks_at import is_photo, marks_at
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.plates.cells import (
    Area,
    areas,
    from_percent,
    is_more_than_rim,
    on_product_cells,
    percent,
    rimless,
    without_boxes,
)
from hotfolder.checks.shared.plates.doubtful import note_undrawn, without_doubtful
from hotfolder.checks.shared.settings import AreaSetting
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import PROCESS_INKS, ColourKind
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.geometry import Box
from hotfolder.model.inks import PageInk
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import PercentSetting, Rule, RuleSettings
from hotfolder.units import plain
from hotfolder.wording.lists import counted, listed

ID: Final = "built-black"

_LEAST_PERCENT: Final = 10.0  # from here on an ink is part of the mixture (own choice)
_MOST_AREAS: Final = 40  # looked at on a page, the largest first
_FULL_PERCENT: Final = 97.0  # what prints as the full ink (own choice)
_BLACK_PERCENT: Final = 85.0  # paler than this is a grey

# What looks grey: magenta and yellow nearly alike, cyan the same or somewhat more (grey balance, common
# practice; the figures are from memory).
_MAGENTA_YELLOW: Final = from_percent(10)
_CYAN_LESS: Final = from_percent(5)
_CYAN_MORE: Final = from_percent(20)

_OWN: Final = frozenset({ColourKind.CMYK, ColourKind.GREY, ColourKind.SPOT, ColourKind.NONE})


class BuiltBlackSettings(RuleSettings):
    """area: how large a grey or black has to be to count.

    beneath: what cyan, magenta and yellow together may have beneath a black.
    """

    codes: ClassVar[Mapping[str, Severity]] = {
        "grey-of-four": Severity.ADVICE,
        "black-of-four": Severity.ADVICE,
    }

    area: AreaSetting = 400.0
    beneath: PercentSetting = 150.0


class _Built:
    """Areas of one kind."""

    def __init__(self) -> None:
        self.places = Occurrences()
        self.largest = 0
        self.inks: tuple[float, ...] = ()

    def add(self, page: Page, area: Area, plates: Iterable[bytes]) -> None:
        self.places.add(page, area.box)
        if area.mm2 > self.largest:
            self.largest = area.mm2
            self.inks = tuple(percent(sum(area.values(plate)) / area.mm2) for plate in plates)


def check(artwork: Artwork, settings: BuiltBlackSettings) -> Iterator[Finding | Unjudged]:
    """Large greys, and large blacks, of four inks, in one finding each."""
    facts = NeededFacts(ID, settings)
    by_code = {code: _Built() for code in settings.codes}
    for page, ink in facts.inked(artwork):
        plates = _four(ink)
        note_undrawn(facts, page, ink, settings.area)
        if plates is None:
            continue
        for code, flags in _flags(page, ink, plates, settings):
            large = areas(ink.cells, flags, on_product_cells(page, ink), settings.area)[:_MOST_AREAS]
            inner = rimless(flags, ink.cells)
            mixed = [
                area
                for area in large
                if is_more_than_rim(area, inner) and _is_flat_and_own(page.known_marks, area.box)
            ]
            for area in without_doubtful(facts, page, ink, mixed, lambda area: area.box):
                by_code[code].add(page, area, plates)
    for code, built in by_code.items():
        if built.places:
            yield built.places.located(_finding(code, built, settings))
    yield from facts.unjudged()


def _four(ink: PageInk) -> tuple[bytes, ...] | None:
    """The plates of cyan, magenta, yellow and black; None where one of them carries nothing."""
    by_name = {plate.ink: plate.coverage for plate in ink.plates}
    if not by_name.keys() >= set(PROCESS_INKS):
        return None
    return tuple(by_name[name] for name in PROCESS_INKS)


def _flags(
    page: Page, ink: PageInk, plates: tuple[bytes, ...], settings: BuiltBlackSettings
) -> Iterator[tuple[str, bytes]]:
    """For greys and for blacks the cells that are such, a flag each."""
    least = from_percent(_LEAST_PERCENT)
    table = bytes(tint >= least for tint in range(256))
    four = int.from_bytes(plates[0].translate(table), "big")
    for plate in plates[1:]:
        four &= int.from_bytes(plate.translate(table), "big")
    if not four:
        return
    kept = [
        mark.visible
        for mark in page.known_marks
        if mark.shows and mark.visible is not None and (mark.kind is MarkKind.TEXT or is_photo(mark))
    ]
    flags = without_boxes(four.to_bytes(len(plates[0]), "big"), ink.cells, kept)
    if not any(flags):
        return
    full, black, beneath = map(from_percent, (_FULL_PERCENT, _BLACK_PERCENT, settings.beneath))
    grey_flags, black_flags = bytearray(len(flags)), bytearray(len(flags))
    at = flags.find(1)
    while at >= 0:
        cyan, magenta, yellow, key = (plate[at] for plate in plates)
        if min(cyan, magenta, yellow, key) >= full:
            pass
        elif key >= black:
            black_flags[at] = cyan + magenta + yellow > beneath + 3  # each is rounded
        elif abs(magenta - yellow) <= _MAGENTA_YELLOW and -_CYAN_LESS <= cyan - magenta <= _CYAN_MORE:
            grey_flags[at] = 1
        at = flags.find(1, at + 1)
    yield "grey-of-four", bytes(grey_flags)
    yield "black-of-four", bytes(black_flags)


def _is_flat_and_own(marks: Iterable[Mark], box: Box) -> bool:
    """Whether what lies there is painted in the press's own colours, and by no picture."""
    there = marks_at(marks, [box])
    return not any(is_photo(mark) for mark in there) and all(
        colour.space.kind in _OWN for mark in there for colour in mark.colours()
    )


_WHAT: Final = {
    "grey-of-four": "of grey mixed from all four inks",
    "black-of-four": "of black with a lot of other ink beneath it",
}
_ON_PAPER: Final = {
    "grey-of-four": "Such greys easily take on a colour cast, and drift during the run.",
    "black-of-four": "That much ink lies thick and dries slowly.",
}
_REMEDY: Final = {
    "grey-of-four": "Print greys in black ink alone, or mostly of it; keep four inks for pictures.",
    "black-of-four": "Use black with some of one or two other inks beneath it, such as 100 % black over 50 %"
    " cyan, or as your printer recommends.",
}


def _finding(code: str, built: _Built, settings: BuiltBlackSettings) -> Finding:
    many = built.places.count > 1
    size = f"{built.largest} mm2"
    where = f"{counted(built.places.count, 'area')}, the largest of {size}," if many else f"an area of {size}"
    mixture = listed(
        f"{plain(tint, 0)} % {name.lower()}" for name, tint in zip(PROCESS_INKS, built.inks, strict=True)
    )
    is_black = code == "black-of-four"
    beneath = round(sum(built.inks[:3]), 1)
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=f"{where} {_WHAT[code]} ({mixture}). {_ON_PAPER[code]}",
        remedy=_REMEDY[code],
        measured=Quantity.of(beneath, unit="%") if is_black else mixture,
        required=Quantity.of(settings.beneath, unit="%") if is_black else "black ink alone",
    )


RULE = Rule(
    id=ID,
    title="Built black and grey",
    settings=BuiltBlackSettings,
    check=check,
    question="May large greys and blacks be mixed from all four inks, and how much may lie beneath a black?",
    since="0.1",
)
