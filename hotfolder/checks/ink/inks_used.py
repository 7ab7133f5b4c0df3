"""Inks used: the inks that reach the paper are those that were ordered.

Why: each ink is a plate, a pass and a price; what counts is what the plates carry, after everything that
    overprints, covers or is converted, and not what a file could have used.
On paper: a job in black alone that needs four plates because of one grey picture in colour, or a plate
    that is made and paid for and prints nothing.
Not flagged: technical inks, by the names in the rule set or by their layers; traces of less than about 1 % of
    a square millimetre; marks and colour bars outside trim and bleed; inks that are allowed and not used.
    Spot inks are left to the rule about spot colours unless the rule set names some here, or how many there
    may be; one that is used and then wholly covered by others is told there. Where plates can only be drawn
    roughly, inks that lie nowhere else are left open, with the reason.
Source: common practice.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.on_product import on_product
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.plates.cells import TRACE, Area, areas, inks_on_paper, on_product_cells
from hotfolder.checks.shared.plates.doubtful import in_doubt, note_doubt, without_doubtful
from hotfolder.checks.shared.plates.technical import among, comparable_ink, spot_inks, technical_inks
from hotfolder.checks.shared.settings import NamedFigures
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import Rule
from hotfolder.wording.lists import counted, listed
from hotfolder.wording.shown import shown_name

ID: Final = "inks-used"

_MORE: Final = bytes(tint >= TRACE for tint in range(256))
_PROCESS: Final = "process"
_MOST_AREAS: Final = 20


class InksUsedSettings(NamedFigures):
    """allowed: names of inks; `process` stands for cyan, magenta, yellow and black.

    spots: how many spot inks there may be beside those named; where it is not named and `allowed` names none,
    spot inks are not judged. technical: names of inks that never count.
    """

    needs: ClassVar[tuple[str, ...]] = ("allowed",)
    codes: ClassVar[Mapping[str, Severity]] = {
        "not-ordered": Severity.MUST_FIX,
        "too-many-spots": Severity.MUST_FIX,
        "carries-nothing": Severity.ADVICE,
    }

    allowed: tuple[str, ...] = ()
    spots: int | None = None
    technical: tuple[str, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """The names of all inks that are allowed by name."""
        every = [PROCESS_INKS if comparable_ink(name) == _PROCESS else (name,) for name in self.allowed]
        return tuple(name for names in every for name in names)

    @property
    def judges_spots(self) -> bool:
        """Whether the rule set says which spot inks there may be, or how many."""
        return self.spots is not None or any(not among(name, PROCESS_INKS) for name in self.names)


class _Used:
    """An ink that comes on paper: where."""

    def __init__(self) -> None:
        self.places = Occurrences()

    def add(self, page: Page, areas_with_ink: list[Area]) -> None:
        self.places.add(page, *(area.box for area in areas_with_ink[:_MOST_AREAS]))


def check(artwork: Artwork, settings: InksUsedSettings) -> Iterator[Finding | Unjudged]:
    """Inks on paper that are not part of the order, and plates that carry nothing."""
    facts = NeededFacts(ID, settings)
    technical = technical_inks(artwork, settings.technical)
    used: dict[str, _Used] = {}
    for page, ink in facts.inked(artwork):
        carrying = inks_on_paper(page, ink)
        for doubt in ink.doubts:
            # What is left out has its colour in grey, RGB or CMYK (ISO 32000-2, 12.5.2), never in a spot ink.
            if doubt.undrawn and not all(among(name, settings.names) for name in PROCESS_INKS):
                note_doubt(facts, page, doubt)
        for plate in ink.plates:
            if plate.ink in carrying - technical and not among(plate.ink, settings.names):
                there = areas(ink.cells, plate.coverage.translate(_MORE), on_product_cells(page, ink), 1)
                sure = without_doubtful(facts, page, ink, there, lambda area: area.box)
                if sure or not there:
                    used.setdefault(plate.ink, _Used()).add(page, sure)
    process = {name: where for name, where in used.items() if name in PROCESS_INKS}
    spots = {name: where for name, where in used.items() if name not in PROCESS_INKS}
    too_many = settings.spots is not None and len(spots) > settings.spots
    # Named inks alone are allowed where no number of further ones is.
    unnamed = spots if settings.judges_spots and settings.spots is None else {}
    if process or unnamed:
        yield _together({**process, **unnamed}).located(_not_ordered([*process, *unnamed], settings))
    if too_many:
        yield _together(spots).located(_too_many(list(spots), settings))
    yield from _carrying_nothing(artwork, technical, settings)
    yield from facts.unjudged()


def _carrying_nothing(
    artwork: Artwork, technical: frozenset[str], settings: InksUsedSettings
) -> Iterator[Finding]:
    """Spot inks that things on the page are painted in and whose plates are bare all the same."""
    named: dict[str, Occurrences] = {}
    carried: set[str] = set()
    for page in artwork.known_pages:
        spots = [
            (ink, box)
            for mark, box in on_product(page, page.known_marks)
            for ink in spot_inks(mark) - technical
        ]
        if isinstance(page.ink, Unmeasured):
            carried.update(ink for ink, _ in spots)  # nobody knows
            continue
        carried.update(inks_on_paper(page, page.ink))
        carried.update(ink for ink, box in spots if in_doubt(page.ink, box) is not None)
        for ink, box in spots:
            named.setdefault(ink, Occurrences()).add(page, box)
    for ink, places in named.items():
        if ink not in carried:
            yield places.located(_nothing(ink, settings))


def _together(used: Mapping[str, _Used]) -> Occurrences:
    return Occurrences.of(where.places for where in used.values())


def _not_ordered(inks: Iterable[str], settings: InksUsedSettings) -> Finding:
    names = [ink if ink in PROCESS_INKS else f"'{shown_name(ink)}'" for ink in inks]
    named = ["the process inks" if comparable_ink(name) == _PROCESS else name for name in settings.allowed]
    wanted = listed(named) or "none"
    return Finding(
        rule=ID,
        code="not-ordered",
        severity=settings.severity_of("not-ordered"),
        message=f"{listed(names)} {'is' if len(names) == 1 else 'are'} printed there; the order is "
        f"for {wanted}. Each extra ink needs a plate of its own.",
        remedy="Convert what is painted in other inks (pictures too) to those of the order, or order them.",
        measured=listed(names),
        required=wanted,
    )


def _too_many(inks: list[str], settings: InksUsedSettings) -> Finding:
    wanted = settings.spots or 0
    return Finding(
        rule=ID,
        code="too-many-spots",
        severity=settings.severity_of("too-many-spots"),
        message=f"{counted(len(inks), 'spot ink')} on paper ({listed(map(shown_name, inks))}); the order "
        f"is for {wanted}. Each needs a plate of its own.",
        remedy="Convert spot colours that should not print as such to process colours (CMYK), or order them.",
        measured=Quantity.of(len(inks), unit="spot inks"),
        required=Quantity.of(wanted, unit="spot inks"),
    )


def _nothing(ink: str, settings: InksUsedSettings) -> Finding:
    return Finding(
        rule=ID,
        code="carries-nothing",
        severity=settings.severity_of("carries-nothing"),
        message=f"something uses '{shown_name(ink)}', yet its plate is empty: its tint is 0 %, or "
        "something else takes its place. The plate would be made for nothing.",
        remedy="If the ink is to be printed, look at what lies over it, and let it overprint; else change"
        " what uses it to another colour.",
        measured="nothing",
        required="some ink",
    )


RULE = Rule(
    id=ID,
    title="Inks used",
    settings=InksUsedSettings,
    check=check,
    question="Which inks are part of the order?",
    since="0.1",
)
