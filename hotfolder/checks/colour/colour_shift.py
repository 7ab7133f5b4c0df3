"""Colour shift: what screen colours lose when they become inks is known before printing.

Why: a press mixes fewer colours than a screen shows; bright blues, greens and oranges become duller, and
    it is better to see that in the report than on the day of delivery.
On paper: colours that are plainly duller or darker than on the screen.
Not flagged: pages whose colours are all the press's own (CMYK, grey, spot inks): nothing is converted there;
    colours that move by 10 units of CIEDE2000 or less, and shares of the page under those that the rule set
    names; that paper is not as white, and black not as black, as on a screen. Where places that can only be
    drawn roughly decide whether a share is over its figure, it is left open, with the reason.
Source: ISO/CIE 11664-6 (CIEDE2000) for the difference; the shares are this program's own choice.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import ClassVar, Final

from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.plates.doubtful import note_doubt, share_in_doubt
from hotfolder.colour.cielab import srgb
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.inks import ColourShift, MovedColour, PageInk
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import PercentSetting, Rule, RuleSettings
from hotfolder.units import plain
from hotfolder.wording.lists import listed
from hotfolder.wording.places import place_words

ID: Final = "colour-shift"

_PLAINLY: Final = 10.0
_MOST_NAMED: Final = 3


class ColourShiftSettings(RuleSettings):
    """share: how much of a page may move by more than 10 units of CIEDE2000 before it is told.

    strong_share: the same for more than 20 units.
    """

    codes: ClassVar[Mapping[str, Severity]] = {"moves": Severity.ADVICE}

    share: PercentSetting = 10.0
    strong_share: PercentSetting = 2.0


def check(artwork: Artwork, settings: ColourShiftSettings) -> Iterator[Finding | Unjudged]:
    """Pages of which much changes its colour, in one finding."""
    facts = NeededFacts(ID, settings)
    places = Occurrences()
    worst: tuple[Page, ColourShift] | None = None
    for page, ink in facts.inked(artwork):
        shift = ink.shift
        if shift is None:
            continue
        if _may_be_otherwise(ink, shift, settings):
            for doubt in ink.doubts:
                note_doubt(facts, page, doubt)
            continue
        if not _is_much(shift, settings):
            continue
        places.add(page, *(moved.place for moved in _named(shift)))
        if worst is None or shift.over_10_percent > worst[1].over_10_percent:
            worst = page, shift
    if worst is not None:
        yield places.located(_finding(*worst, settings), words_for_place=False)
    yield from facts.unjudged()


def _is_much(shift: ColourShift, settings: ColourShiftSettings) -> bool:
    return shift.over_10_percent > settings.share or shift.over_20_percent > settings.strong_share


def _may_be_otherwise(ink: PageInk, shift: ColourShift, settings: ColourShiftSettings) -> bool:
    """Whether the page would be judged otherwise if all that is doubtful moved, or none of it."""
    doubtful = share_in_doubt(ink)

    def moved_by(percent: float) -> ColourShift:
        return replace(
            shift,
            over_10_percent=shift.over_10_percent + percent,
            over_20_percent=shift.over_20_percent + percent,
        )

    return _is_much(moved_by(-doubtful), settings) is not _is_much(moved_by(doubtful), settings)


def _named(shift: ColourShift) -> list[MovedColour]:
    """The colours that suffer most."""
    return [moved for moved in shift.moved if moved.delta_e > _PLAINLY][:_MOST_NAMED]


def _finding(page: Page, shift: ColourShift, settings: ColourShiftSettings) -> Finding:
    strong = shift.over_10_percent <= settings.share
    share, limit = shift.over_10_percent, settings.share
    if strong:
        share, limit = shift.over_20_percent, settings.strong_share
    worst_colours = listed(_colour(page, moved) for moved in _named(shift))
    examples = f" Most of all: {worst_colours}." if worst_colours else ""
    return Finding(
        rule=ID,
        code="moves",
        severity=settings.severity_of("moves"),
        message=f"{plain(share, 0)} % of the page changes colour {'strongly' if strong else 'visibly'} in"
        f" print: inks on paper cannot show these screen colours.{examples}",
        remedy="Look at the page as it will print. Where a colour matters, convert it to the printer's "
        "CMYK profile yourself and choose the values that look best, or print it in a spot colour.",
        measured=Quantity.of(round(share, 1), unit="%"),
        required=Quantity.of(limit, unit="%"),
        standard="ISO/CIE 11664-6",
    )


def _colour(page: Page, moved: MovedColour) -> str:
    where = place_words(page, [moved.place])
    return (
        f"{_on_screen(moved.before)} becomes {_on_screen(moved.after)}"
        f" ({plain(moved.delta_e, 0)} units of CIEDE2000{f'; {where}' if where else ''})"
    )


def _on_screen(lab: tuple[float, float, float]) -> str:
    """A colour as web pages write it."""
    return "#{:02X}{:02X}{:02X}".format(*srgb(lab))


RULE = Rule(
    id=ID,
    title="Colour shift",
    settings=ColourShiftSettings,
    check=check,
    question="Should colours that print visibly duller than on a screen be pointed out?",
    since="0.1",
)
