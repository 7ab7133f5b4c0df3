"""Total ink: no area carries more ink than the press can lay down and dry.

Why: the inks of all plates lie on one another; beyond a certain total the paper takes no more, and the
    sheet does not dry in time.
On paper: dark areas that stick to the back of the next sheet, smear when they are folded or cut, and
    close up so that nothing can be told apart in them.
Not flagged: areas smaller than the rule set names, such as crossings of thin lines and the rims of
    shapes; technical inks (cut, crease, varnish, white), by the names in the rule set or by their layers;
    marks and colour bars outside trim and bleed; one percent more than the limit, which rounding makes.
    An area counts with the whole square millimetres that are over the limit.
Source: the limits are those of the printing condition: 220 % recommended by ISO 12647-3:2013 for
    newspapers, 300 % an advertisement specification's for magazines, 330 % ISO 12647-2:2013's for
    sheetfed offset (from memory). Areas under 15 mm2 are left out by an industry recommendation for print
    files (from memory).
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.artwork import Artwork, Page, PageInk
from hotfolder.checks.cells import Area, Totals, areas, from_percent, on_product_cells, percent, totals
from hotfolder.checks.painted_there import painted_there
from hotfolder.checks.settings import AreaSetting, NamedFigures
from hotfolder.checks.sightings import Sightings
from hotfolder.checks.technical import technical_inks
from hotfolder.checks.telling import counted
from hotfolder.checks.unknown import Unknowns
from hotfolder.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.ruleset import PercentSetting, Rule
from hotfolder.units import plain

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


class _Heavy:
    """Areas over one figure, of all pages."""

    def __init__(self, over: float) -> None:
        self.over = over
        self.seen = Sightings()
        self.highest = 0.0
        self.largest = 0
        self.what = ""

    def add(self, page: Page, found: list[Area], total: Totals) -> None:
        """Keeps account of the areas of a page, the largest first."""
        for area in found:
            self.seen.add(page, area.box)
        self.largest = max(self.largest, found[0].mm2)
        highest = percent(max(max(area.values(total)) for area in found))
        if highest > self.highest:
            self.highest = highest
            self.what = painted_there(page.known_marks, [area.box for area in found])


def check(artwork: Artwork, settings: TotalInkSettings) -> Iterator[Finding | Unjudged]:
    """Areas over the limit in one finding, and those over what is wanted in another."""
    unknowns = Unknowns(ID, settings)
    limit = _Heavy(settings.limit)
    wanted = _Heavy(settings.limit if settings.wanted is None else settings.wanted)
    technical = technical_inks(artwork, settings.technical)
    for page, ink in unknowns.inked(artwork):
        # Technical inks count here, so that this is the most that any cell can have.
        if ink.max_1mm2_percent <= min(limit.over, wanted.over):
            continue
        total = totals(ink, technical)
        heavy = _areas_over(limit.over, page, ink, total, settings)
        if heavy:
            limit.add(page, heavy, total)
        if wanted.over < limit.over:
            heavier = [area.box for area in heavy]
            less = [
                area
                for area in _areas_over(wanted.over, page, ink, total, settings)
                if not any(area.box.holds(box) for box in heavier)
            ]
            if less:
                wanted.add(page, less, total)
    for code, found in (("over-limit", limit), ("over-wanted", wanted)):
        if found.seen:
            yield found.seen.told(_finding(code, found, settings))
    yield from unknowns.told()


def _areas_over(
    figure: float, page: Page, ink: PageInk, total: Totals, settings: TotalInkSettings
) -> list[Area]:
    """The areas of trim and bleed with more ink than `figure` percent."""
    most = int(from_percent(figure + _ROUNDING_PERCENT))
    return areas(ink.cells, bytes(map(most.__lt__, total)), on_product_cells(page, ink), settings.area)


_WISHED: Final = {"over-limit": "will do", "over-wanted": "is better"}
_ON_PAPER: Final = {
    "over-limit": "So much ink does not dry in time: it sticks to the next sheet and smears.",
    "over-wanted": "It may dry slowly and close up in the dark parts.",
}


def _finding(code: str, found: _Heavy, settings: TotalInkSettings) -> Finding:
    many = found.seen.count > 1
    where = f"{counted(found.seen.count, 'area')}, the largest of {found.largest} mm2," if many else "an area"
    size = "" if many else f" of {found.largest} mm2"
    what = f" ({found.what})" if found.what else ""
    wish = "at most" if code == "over-limit" else "not more than"
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=f"up to {plain(found.highest, 0)} % of ink, all inks together (total area coverage), on"
        f" {where}{size}{what}; {wish} {plain(found.over, 0)} % {_WISHED[code]}. {_ON_PAPER[code]}",
        remedy=_remedy(found.what),
        measured=Quantity.of(round(found.highest, 1), unit="%"),
        required=Quantity.of(found.over, unit="%"),
    )


def _remedy(what: str) -> str:
    """How to put it right, by what lies there."""
    ways = "Choose a colour with less ink, such as black over less of the other inks."
    if "picture" in what:
        ways = (
            "Convert the picture again for the printing condition, with its total ink as the limit; or"
            " lighten its darkest parts, cyan, magenta and yellow most."
        )
    return f"{ways} Look also for things that overprint others or are multiplied with them."


RULE = Rule(
    id=ID,
    title="Total ink",
    settings=TotalInkSettings,
    check=check,
    question="How much ink may lie on one spot, all inks together (total area coverage)?",
    since="0.1",
)
