"""Technical inks: cutting lines, varnish and white lie over and under the picture without touching it.

Why: a technical ink is no colour; where it knocks out, the picture beneath is left blank along it, and
    where the picture knocks it out, varnish and white are missing under all that was painted later.
On paper: a white line along the cut or the crease; varnish with holes; colours without white beneath them
    on clear film.
Not flagged: technical inks on bare paper; those that overprint; a technical ink that is mixed with process
    inks in one colour; what is blended or see-through; what technical inks leave open on purpose in their own
    colour; holes that come to less than the area of the rule set, such as those of small letters; files
    without technical inks. They are known by the names in the rule set, or by their layers.
    Where plates can only be drawn roughly, holes that may or may not be there are left open, with the reason.
Source: ISO 19593-1 for layers that say what they are for (from memory); ISO 32000-2, 8.6.7 for overprint;
    common practice of cutting, creasing and varnishing.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.ground import Ground
from hotfolder.checks.shared.marks.on_product import in_painting_order, overlaps
from hotfolder.checks.shared.marks.overprint import lies_plainly, overprints
from hotfolder.checks.shared.marks.tints import tints
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.plates.cells import FULL, areas, window
from hotfolder.checks.shared.plates.doubtful import note_doubt, without_doubtful
from hotfolder.checks.shared.plates.technical import technical_inks
from hotfolder.checks.shared.settings import AreaSetting
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import Colour
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT, Doubt, PageInk
from hotfolder.model.marks import Mark
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import Rule, RuleSettings
from hotfolder.wording.lists import counted, listed
from hotfolder.wording.shown import shown_name

ID: Final = "technical-inks"

# A plate is bare where it has less than this share of the tint that was asked for, and whole where it has
# more than the other; in between lie the rims of holes, and holes finer than a millimetre (own choices).
_BARE_SHARE: Final = 0.05
_WHOLE_SHARE: Final = 0.9
_LEAST_TINT: Final = 0.2


class TechnicalInksSettings(RuleSettings):
    """technical: names of technical inks, beside those that layers tell. area: how large a hole counts."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "knocks-out": Severity.MUST_FIX,
        "knocked-out": Severity.ADVICE,
    }

    technical: tuple[str, ...] = ()
    area: AreaSetting = 15.0


class _InkFaults:
    """Places of one kind, and the inks that they are about."""

    def __init__(self) -> None:
        self.places = Occurrences()
        self.inks: dict[str, None] = {}

    def add(self, page: Page, box: Box, inks: frozenset[str]) -> None:
        self.places.add(page, box)
        self.inks.update(dict.fromkeys(sorted(inks)))


def check(artwork: Artwork, settings: TechnicalInksSettings) -> Iterator[Finding | Unjudged]:
    """Technical inks that knock out, and those that are knocked out."""
    facts, holes = NeededFacts(ID, settings), NeededFacts(ID, settings)
    technical = technical_inks(artwork, settings.technical)
    by_code = {code: _InkFaults() for code in settings.codes}
    for page, marks in facts.drawn(artwork):
        ground: Ground | None = None
        for order, mark, box, inks, stroke in _technical_marks(page, marks, technical):
            if lies_plainly(mark.state) and not overprints(mark.state, stroke=stroke):
                ground = ground or Ground(marks)
                if ground.inks(order, box) - technical:
                    by_code["knocks-out"].add(page, box, inks)
        for hole, inks in _knocked_out(holes, page, marks, technical, settings):
            by_code["knocked-out"].add(page, hole, inks)
        if _fills(marks, technical):
            holes.ink(page)
    for code, faults in by_code.items():
        if faults.places:
            yield faults.places.located(_finding(code, faults, settings))
    yield from facts.unjudged()
    yield from holes.unjudged(Severity.ADVICE)


def _technical_marks(
    page: Page, marks: tuple[Mark, ...], technical: frozenset[str]
) -> Iterator[tuple[int, Mark, Box, frozenset[str], bool]]:
    """What shows in technical inks: number, mark, place, its inks, and whether they stroke."""
    for order, mark, box in in_painting_order(page, marks) if technical else ():
        for colour, stroke in ((mark.fill, False), (mark.stroke, True)):
            inks = frozenset[str]() if colour is None else _laid(colour, technical)
            if inks:
                yield order, mark, box, inks, stroke


def _laid(colour: Colour, technical: frozenset[str]) -> frozenset[str]:
    """The technical inks that a colour lays; none where it lays others as well."""
    laid = tints(colour)
    inks = frozenset() if laid is None else frozenset(name for name, tint in laid.items() if tint > 0)
    return inks if inks <= technical else frozenset()


def _fills(marks: tuple[Mark, ...], technical: frozenset[str]) -> bool:
    return any(
        _filled(mark) is not None and mark.fill is not None and _laid(mark.fill, technical) for mark in marks
    )


def _knocked_out(
    facts: NeededFacts,
    page: Page,
    marks: tuple[Mark, ...],
    technical: frozenset[str],
    settings: TechnicalInksSettings,
) -> Iterator[tuple[Box, frozenset[str]]]:
    """The holes in what is filled with technical inks, each with these; notes the doubts about others."""
    if isinstance(page.ink, Unmeasured):
        return
    for order, mark, _, inks, stroke in _technical_marks(page, marks, technical):
        if stroke:
            continue
        bare = _holes(page.ink, mark, marks[order + 1 :], technical, settings)
        for hole in without_doubtful(facts, page, page.ink, bare, lambda box: box):
            yield hole, inks
        for doubt in _that_may_be_holes(page.ink, marks[order + 1 :], mark, settings):
            note_doubt(facts, page, doubt)


def _filled(mark: Mark) -> Box | None:
    """The place that a mark's ink is known to fill; technical inks overprint, and fill it all the same."""
    return mark.visible if mark.even else mark.solid


def _holes(
    ink: PageInk,
    mark: Mark,
    later: tuple[Mark, ...],
    technical: frozenset[str],
    settings: TechnicalInksSettings,
) -> Iterator[Box]:
    """Where ink is missing from the plates that `mark` fills."""
    filled = _filled(mark)
    if filled is None or mark.fill is None:
        return
    # Only cells that lie wholly in it.
    inside = window(ink.cells, filled.grown(-CELL_PT / 2))
    for name, tint in (tints(mark.fill) or {}).items():
        if tint < _LEAST_TINT:
            continue
        full, coverage = tint * FULL, _coverage(ink, name)
        flags = coverage.translate(bytes(value <= full * _WHOLE_SHARE for value in range(256)))
        for hole in areas(ink.cells, flags, inside, settings.area):
            values = tuple(hole.values(coverage))
            bare = sum(value <= full * _BARE_SHARE for value in values)
            missing = hole.mm2 - sum(values) / full
            fine = missing >= settings.area and any(_cuts(each, hole.box, technical) for each in later)
            if bare >= settings.area or fine:
                yield hole.box


def _cuts(mark: Mark, place: Box, technical: frozenset[str]) -> bool:
    """Whether a mark knocks out what lies beneath it in a place: holes finer than cells have its shape."""
    if not mark.shows or mark.visible is None or not overlaps(mark.visible, place):
        return False
    return lies_plainly(mark.state) and any(
        colour is not None and not _laid(colour, technical) and not overprints(mark.state, stroke=stroke)
        for colour, stroke in ((mark.fill, False), (mark.stroke, True))
    )


def _that_may_be_holes(
    ink: PageInk, later: tuple[Mark, ...], mark: Mark, settings: TechnicalInksSettings
) -> Iterator[Doubt]:
    """The doubts in whose place something painted later may knock out what `mark` fills."""
    for doubt in ink.doubts if mark.fill is not None else ():
        filled = _filled(mark)
        place = None if filled is None else doubt.box.cut_by(filled)
        if place is not None and any(_covers(each, place, settings) for each in later):
            yield doubt


def _covers(mark: Mark, place: Box, settings: TechnicalInksSettings) -> bool:
    """Whether a mark lies over enough of a place to leave a hole that counts."""
    shared = place.cut_by(mark.visible) if mark.shows and mark.visible is not None else None
    return shared is not None and shared.width * shared.height >= settings.area * CELL_PT**2


def _coverage(ink: PageInk, name: str) -> bytes:
    """How much of an ink each cell carries; nothing where it has no plate."""
    coverage = next((plate.coverage for plate in ink.plates if plate.ink == name), None)
    return bytes(ink.cells.rows * ink.cells.columns) if coverage is None else coverage


_MESSAGE: Final = {
    "knocks-out": "knocks out what lies beneath ({inks}). It is not a colour: the picture is left blank"
    " there, and a white line or area shows when it is cut, creased or varnished.",
    "knocked-out": "is missing from its plate ({inks}): what was painted later knocks it out. Varnish, white"
    " or foil will have a hole there.",
}
_REMEDY: Final = {
    "knocks-out": "Switch overprint on for everything in this ink, fills and lines.",
    "knocked-out": "Lay this ink on top of everything else and let it overprint. If the hole is meant,"
    " leave it.",
}


def _finding(code: str, faults: _InkFaults, settings: TechnicalInksSettings) -> Finding:
    inks = listed(f"'{shown_name(ink)}'" for ink in faults.inks)
    noun = "thing" if code == "knocks-out" else "place"
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=f"{counted(faults.places.count, noun)} in a technical ink {_MESSAGE[code].format(inks=inks)}",
        remedy=_REMEDY[code],
        measured="knocks out" if code == "knocks-out" else "a hole in the plate",
        required="overprints",
        standard="ISO 32000-2, 8.6.7",
    )


RULE = Rule(
    id=ID,
    title="Technical inks",
    settings=TechnicalInksSettings,
    check=check,
    question="Which inks say where to cut, crease, varnish or lay white, and do they overprint?",
    since="0.1",
)
