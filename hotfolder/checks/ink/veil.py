"""Veils: what looks white but carries a little ink is there on purpose.

Why: a screen shows no difference between white and 2 % of ink; paper does, most of all where such a
    ground ends in a straight line on bare paper.
On paper: a faint grey or yellowish box around a picture that was cut out on 'white', or a page that is a
    little darker than the paper.
Not flagged: bare paper; even grounds of 3 % and more; areas smaller than the rule set names; gradients and
    soft shadows on their way to nothing, and the rims of paler areas, since they are not even; the light
    parts of a photo, where they take up less than half of it; what lies outside the trim. Where plates can
    only be drawn roughly, areas with up to twice that ink are left open, with the reason.
Source: common practice: presses need not hold tones under 3 % (ISO 12647-2, from memory).
"""

from collections.abc import Iterator, Mapping
from math import ceil
from statistics import median
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.marks_at import is_photo, kinds_at, marks_at
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.plates.cells import (
    Area,
    Totals,
    areas,
    from_percent,
    is_more_than_rim,
    percent,
    rimless,
    totals,
    window,
)
from hotfolder.checks.shared.plates.doubtful import in_doubt, note_doubt, note_undrawn, without_doubtful
from hotfolder.checks.shared.plates.technical import technical_inks
from hotfolder.checks.shared.settings import AreaSetting
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.inks import PageInk
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import PercentSetting, Rule, RuleSettings
from hotfolder.units import mm_to_pt, plain
from hotfolder.wording.lists import counted

ID: Final = "veil"

# Even: four fifths of an area within one step of 255 of its middle value (own choice).
_EVEN_SHARE: Final = 0.8
_EVEN_WITHIN: Final = 1.5
# The light part of a photo is a veil where it is this much of it (own choice).
_PHOTO_SHARE: Final = 0.5
# Where plates are doubtful, two veils may be drawn over one another of which one alone lies there.
_IN_DOUBT: Final = 2.0
_MOST_AREAS: Final = 40  # looked at on a page, the largest first
_MM2: Final = mm_to_pt(1) ** 2


class VeilSettings(RuleSettings):
    """below: less ink than this, all inks together, looks white on a screen. area: how large a veil counts.

    technical: names of inks that never count.
    """

    codes: ClassVar[Mapping[str, Severity]] = {"nearly-white": Severity.ADVICE}

    below: PercentSetting = 3.0
    area: AreaSetting = 400.0
    technical: tuple[str, ...] = ()


class _Veils:
    """Veils of all pages."""

    def __init__(self) -> None:
        self.places = Occurrences()
        self.strongest = 0.0
        self.largest = 0
        self.what = ""

    def add(self, page: Page, area: Area, total: Totals) -> None:
        self.places.add(page, area.box)
        self.strongest = max(self.strongest, percent(median(area.values(total))))
        if area.mm2 > self.largest:
            self.largest = area.mm2
            self.what = kinds_at(page.known_marks, [area.box])


def check(artwork: Artwork, settings: VeilSettings) -> Iterator[Finding | Unjudged]:
    """Large even areas with hardly any ink, in one finding."""
    facts = NeededFacts(ID, settings)
    technical = technical_inks(artwork, settings.technical)
    veils = _Veils()
    for page, ink in facts.inked(artwork):
        for area, total in without_doubtful(
            facts, page, ink, _veils(page, ink, technical, settings), lambda veil: veil[0].box
        ):
            veils.add(page, area, total)
        note_undrawn(facts, page, ink, settings.area)
        if ink.doubts:
            doubled = settings.model_copy(update={"below": settings.below * _IN_DOUBT})
            for area, _ in _veils(page, ink, technical, doubled):
                doubt = in_doubt(ink, area.box)
                if doubt is not None:
                    note_doubt(facts, page, doubt)
    if veils.places:
        yield veils.places.located(_finding(veils, settings))
    yield from facts.unjudged()


def _veils(
    page: Page, ink: PageInk, technical: frozenset[str], settings: VeilSettings
) -> Iterator[tuple[Area, Totals]]:
    """The veils of a page, each with the totals of its plates."""
    pale = range(1, ceil(from_percent(settings.below)))
    trim = None if isinstance(page.trim, Unmeasured) else page.trim.box
    within = window(ink.cells, trim)
    if not areas(ink.cells, _may_be_pale(ink, technical, pale), within, settings.area):
        return
    total = totals(ink, technical)
    flags = bytes(map(pale.__contains__, total))
    inner = rimless(flags, ink.cells)
    for area in areas(ink.cells, flags, within, settings.area)[:_MOST_AREAS]:
        is_veil = is_more_than_rim(area, inner) and _is_even(area, total)
        if is_veil and not _is_part_of_a_photo(page, area):
            yield area, total


def _may_be_pale(ink: PageInk, technical: frozenset[str], pale: range) -> bytes:
    """A flag for each cell that has ink, and on no plate more than a veil: most pages have none to add up."""
    little = bytes(value < pale.stop for value in range(256))
    nothing = bytes(value == 0 for value in range(256))
    count = ink.cells.rows * ink.cells.columns
    pale_cells, bare_cells = (int.from_bytes(b"\x01" * count, "big"),) * 2
    for plate in ink.plates:
        if plate.ink not in technical:
            pale_cells &= int.from_bytes(plate.coverage.translate(little), "big")
            bare_cells &= int.from_bytes(plate.coverage.translate(nothing), "big")
    return (pale_cells & ~bare_cells).to_bytes(count, "big")


def _is_even(area: Area, total: Totals) -> bool:
    middle = median(area.values(total))
    near = sum(1 for each in area.values(total) if abs(each - middle) <= _EVEN_WITHIN)
    return near >= _EVEN_SHARE * area.mm2


def _is_part_of_a_photo(page: Page, area: Area) -> bool:
    """Whether it is the lighter, smaller part of the topmost picture there."""
    marks = marks_at(page.known_marks, [area.box])
    if not marks or not is_photo(marks[-1]) or marks[-1].visible is None:
        return False
    photo = marks[-1].visible
    return area.mm2 < _PHOTO_SHARE * photo.width * photo.height / _MM2


def _finding(veils: _Veils, settings: VeilSettings) -> Finding:
    many = veils.places.count > 1
    size = f"{veils.largest} mm2"
    where = f"{counted(veils.places.count, 'area')}, the largest of {size}," if many else f"an area of {size}"
    what = f" ({veils.what})" if veils.what else ""
    strongest = plain(veils.strongest, 1)
    return Finding(
        rule=ID,
        code="nearly-white",
        severity=settings.severity_of("nearly-white"),
        message=f"{where}{what} with {strongest} % of ink, which a screen shows as white. On paper it may "
        "stand out as a faint box or tint.",
        remedy="If white is meant, take the ink out: brighten the picture's ground to pure white, or give"
        " the area no fill. If a tint is meant, make it 5 % or more.",
        measured=Quantity.of(round(veils.strongest, 1), unit="%"),
        required=Quantity.of(settings.below, unit="%"),
    )


RULE = Rule(
    id=ID,
    title="Veils",
    settings=VeilSettings,
    check=check,
    question="What is the palest tint that you print as a background?",
    since="0.1",
)
