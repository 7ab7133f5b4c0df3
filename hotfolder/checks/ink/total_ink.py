"""Total ink: no area carries more ink than the press can lay down and dry.

Why: the inks of all plates lie on top of one another; beyond a certain total the paper takes no more, and the
    sheet does not dry in time.
On paper: dark areas that stick to the back of the next sheet, smear when they are folded or cut, and
    close up so that nothing can be told apart in them.
Not flagged: areas smaller than the rule set names, such as crossings of thin lines and the rims of
    shapes; technical inks (cut, crease, varnish, white), by the names in the rule set or by their layers;
    marks and colour bars outside trim and bleed; one percent more than the limit, which rounding makes.
    Ink is averaged over each square millimetre, which slides in steps of a third of a millimetre (a sixth
    on sheets up to A5 with bleed), so that the place of a bar or a square makes no difference; only the
    part with so much ink counts, without paler parts around it. Type and lines are drawn closely where the
    most ink may lie, and count with what that shows. Where plates can only be drawn roughly,
    and the limit may be passed there, that is left open, with the reason.
Source: the limits are those of the printing condition: 220 % recommended by ISO 12647-3:2013 for
    newspapers, 300 % an advertisement specification's for magazines, 330 % ISO 12647-2:2013's for
    sheetfed offset (from memory). Areas under 15 mm2 are left out by an industry recommendation for print
    files (from memory).
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.marks_at import kinds_at
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.plates.doubtful import most_percent, note_doubt, without_doubtful
from hotfolder.checks.shared.plates.technical import technical_inks
from hotfolder.checks.shared.settings import AreaSetting, NamedFigures
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.inks import CELL_PT, Doubt, HeavyArea, PageInk
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import PercentSetting, Rule
from hotfolder.units import plain
from hotfolder.wording.lists import counted

ID: Final = "total-ink"

# Four plates rounded to 256 steps each are off by up to 0.8 %.
_ROUNDING_PERCENT: Final = 1.0


class TotalInkSettings(NamedFigures):
    """limit: the most ink on one spot. wanted: what is better kept, as advice; nothing where none is named.

    area: how large a spot has to be to count. technical: names of inks that never count.
    """

    needs: ClassVar[tuple[str, ...]] = ("limit",)
    codes: ClassVar[Mapping[str, Severity]] = {
        "over-limit": Severity.MUST_FIX,
        "over-wanted": Severity.ADVICE,
    }

    limit: PercentSetting = 400.0
    wanted: PercentSetting | None = None
    area: AreaSetting = 15.0
    technical: tuple[str, ...] = ()

    @property
    def figures(self) -> tuple[float, ...]:
        """What areas have to be looked for: those with more ink than each of these, in percent."""
        limits = {self.limit, self.limit if self.wanted is None else self.wanted}
        return tuple(sorted(figure + _ROUNDING_PERCENT for figure in limits))


class _Heavy:
    """Areas over one figure, of all pages."""

    def __init__(self, over: float) -> None:
        self.over = over
        self.places = Occurrences()
        self.highest = 0.0
        self.largest = 0.0
        self.what = ""

    def add(self, page: Page, areas: list[HeavyArea]) -> None:
        """Keeps account of the areas of a page, the largest first."""
        for area in areas:
            self.places.add(page, area.box)
        self.largest = max(self.largest, areas[0].mm2)
        highest = max(area.highest_percent for area in areas)
        if highest > self.highest:
            self.highest = highest
            self.what = kinds_at(page.known_marks, [area.box for area in areas])


def check(artwork: Artwork, settings: TotalInkSettings) -> Iterator[Finding | Unjudged]:
    """Areas over the limit in one finding, and those over what is wanted in another."""
    facts = NeededFacts(ID, settings)
    limit = _Heavy(settings.limit)
    wanted = _Heavy(settings.limit if settings.wanted is None else settings.wanted)
    technical = technical_inks(artwork, settings.technical)
    for page, ink in facts.inked(artwork):
        over = ink_areas(ink, limit.over, technical)
        less = ink_areas(ink, wanted.over, technical) if wanted.over < limit.over else ()
        for unknown in (over, less):
            if isinstance(unknown, Unmeasured):
                facts.note("areas with much ink are not known", unknown.reason, page)
        heavy = without_doubtful(facts, page, ink, _counting(over, settings), lambda area: area.box)
        for doubt in _that_may_be_heavy(page, ink, settings, technical):
            note_doubt(facts, page, doubt)
        if heavy:
            limit.add(page, heavy)
        heavier = [area.box for area in heavy]
        lighter = [
            area
            for area in without_doubtful(facts, page, ink, _counting(less, settings), lambda area: area.box)
            if not any(area.box.holds(box) for box in heavier)
        ]
        if lighter:
            wanted.add(page, lighter)
    for code, heavy_areas in (("over-limit", limit), ("over-wanted", wanted)):
        if heavy_areas.places:
            yield heavy_areas.places.located(_finding(code, heavy_areas, settings))
    yield from facts.unjudged()


def _that_may_be_heavy(
    page: Page, ink: PageInk, settings: TotalInkSettings, technical: frozenset[str]
) -> Iterator[Doubt]:
    """The doubts in whose place an area could be over the limit."""
    over = settings.limit + _ROUNDING_PERCENT
    for doubt in ink.doubts:
        mm2 = doubt.box.width * doubt.box.height / CELL_PT**2
        if mm2 >= settings.area and most_percent(page, ink, doubt, technical) > over:
            yield doubt


def ink_areas(ink: PageInk, over: float, technical: frozenset[str]) -> tuple[HeavyArea, ...] | Unmeasured:
    """The areas of a page with more ink than `over` percent and what rounding makes."""
    return ink.areas_over(over + _ROUNDING_PERCENT, technical & {plate.ink for plate in ink.plates})


def _counting(areas: tuple[HeavyArea, ...] | Unmeasured, settings: TotalInkSettings) -> list[HeavyArea]:
    """Those large enough to count."""
    return [] if isinstance(areas, Unmeasured) else [area for area in areas if area.mm2 >= settings.area]


_ON_PAPER: Final = {
    "over-limit": "That much ink does not dry in time: it sticks to the next sheet and smears.",
    "over-wanted": "It may dry slowly, and dark parts may fill in.",
}


def _finding(code: str, heavy_areas: _Heavy, settings: TotalInkSettings) -> Finding:
    many = heavy_areas.places.count > 1
    where = (
        f"{counted(heavy_areas.places.count, 'area')}, the largest of {plain(heavy_areas.largest, 0)} mm2,"
        if many
        else "an area"
    )
    size = "" if many else f" of {plain(heavy_areas.largest, 0)} mm2"
    what = f" ({heavy_areas.what})" if heavy_areas.what else ""
    most = f"{plain(heavy_areas.over, 0)} %"
    wish = f"the limit is {most}" if code == "over-limit" else f"{most} or less is better"
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=f"up to {plain(heavy_areas.highest, 0)} % of ink, all inks together (total area coverage), on"
        f" {where}{size}{what}; {wish}. {_ON_PAPER[code]}",
        remedy=_remedy(heavy_areas.what),
        measured=Quantity.of(round(heavy_areas.highest, 1), unit="%"),
        required=Quantity.of(heavy_areas.over, unit="%"),
    )


def _remedy(what: str) -> str:
    """How to put it right, by what lies there."""
    ways = "Choose a colour with less ink, such as black over less of the other inks."
    if "picture" in what:
        ways = (
            "Convert the picture again with the printer's colour profile, which keeps to the limit; or"
            " lighten its darkest parts, in cyan, magenta and yellow most."
        )
    return f"{ways} Also look for objects that overprint others or are blended with them (multiply)."


RULE = Rule(
    id=ID,
    title="Total ink",
    settings=TotalInkSettings,
    check=check,
    question="How much ink may lie on one spot, all inks together (total area coverage)?",
    since="0.1",
)
