"""Spot colours: the file asks for no other inks than those that are agreed.

Why: each spot colour is a plate and an ink of its own, which costs money and has to be ordered; two
    spellings of one ink are two plates.
On paper: a colour that is missing or mixed from the four process inks, or a bill for a plate too many.
Not flagged: the process inks by name; registration colour and paint on no plate; technical inks that
    the rule set names (cut, crease, varnish); inks of marks outside trim and bleed, on hidden layers
    or clipped away.
Source: common practice; ISO 32000-2, 8.6.6.4 and 8.6.6.5 (clause numbers from memory) for how a file
    names inks.
"""

import re
from collections.abc import Iterator, Mapping
from typing import ClassVar, Final, TypeAlias

from hotfolder.artwork import PROCESS_INKS, Artwork, Box, ColourSpace, Mark, Page, Unmeasured, inks_of
from hotfolder.checks.paint import gathered, on_product
from hotfolder.checks.telling import counted, listed, pages_told
from hotfolder.checks.unknown import Unknowns
from hotfolder.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.ruleset import Rule, RuleSettings
from hotfolder.shown import shown_name

ID: Final = "spot-colours"

# Endings that tell coated and uncoated swatches and proofing variants of one ink apart (common practice).
_SWATCH_ENDING: Final = re.compile(r"\s+(?:c|u|m|cv|cvc|cvu|cp|ec|pc|up)$")


class SpotColoursSettings(RuleSettings):
    """allowed: how many spot colours, or which by name. technical: names of inks that never count."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "too-many": Severity.MUST_FIX,
        "not-agreed": Severity.MUST_FIX,
        "alike": Severity.ADVICE,
    }

    allowed: int | tuple[str, ...] = 0
    technical: tuple[str, ...] = ()


# Where an ink is used: pages with the boxes of its marks.
_Places: TypeAlias = dict[int, list[Box]]


def check(artwork: Artwork, settings: SpotColoursSettings) -> Iterator[Finding | Unjudged]:
    """Spot colours beyond those agreed, and names that look like one ink spelled twice."""
    unknowns = Unknowns(ID, settings)
    technical = {_plain(name) for name in settings.technical}
    inks: dict[str, _Places] = {}
    for page in unknowns.pages(artwork):
        if page.raster is not None and isinstance(page.marks, Unmeasured):
            # The inks of a picture are known even where its size is not.
            used: dict[str, list[Box]] = {name: [] for name in _spots(page.raster.colour)}
        else:
            used = _page_inks(page, unknowns.marks(page) or ())
        for name, boxes in used.items():
            if _plain(name) not in technical:
                inks.setdefault(name, {})[page.number] = boxes
    if isinstance(settings.allowed, int):
        if len(inks) > settings.allowed:
            yield _too_many(inks, settings.allowed, settings)
    else:
        agreed = {_plain(name) for name in settings.allowed}
        for name, places in inks.items():
            if _plain(name) not in agreed:
                yield _not_agreed(name, places, settings.allowed, settings)
    yield from _alike(inks, settings)
    yield from unknowns.told()


def _page_inks(page: Page, marks: tuple[Mark, ...]) -> dict[str, list[Box]]:
    found: dict[str, list[Box]] = {}
    for mark, visible in on_product(page, marks):
        for colour in mark.colours():
            for name in _spots(colour.space):
                found.setdefault(name, []).append(visible)
    return found


def _spots(space: ColourSpace) -> list[str]:
    return [name for name in inks_of(space) if name not in PROCESS_INKS]


def _too_many(inks: dict[str, _Places], allowed: int, settings: SpotColoursSettings) -> Finding:
    page, boxes = _first(inks)
    wanted = f"{counted(allowed, 'is', 'are')} agreed" if allowed else "none is agreed"
    return Finding(
        rule=ID,
        code="too-many",
        severity=settings.severity_of("too-many"),
        message=f"The file uses {counted(len(inks), 'spot colour')}: {_named(inks)}; {wanted}. Each is a"
        " plate and an ink of its own, or is mixed from the process inks and looks different.",
        remedy="Turn spot colours that are not to be printed as such into process colours (CMYK), or agree on"
        " them with the printer.",
        page=page,
        boxes=boxes,
        measured=Quantity.of(len(inks), unit="spot colours"),
        required=Quantity.of(allowed, unit="spot colours"),
    )


def _not_agreed(
    name: str, places: _Places, agreed: tuple[str, ...], settings: SpotColoursSettings
) -> Finding:
    page, boxes = _first({name: places})
    return Finding(
        rule=ID,
        code="not-agreed",
        severity=settings.severity_of("not-agreed"),
        message=f"The file uses the spot colour '{shown_name(name)}' ({pages_told(places)}); agreed are"
        f" {listed(agreed) if agreed else 'none'}. It would be a plate more, or be mixed from other inks and"
        " look different.",
        remedy="Use the agreed ink under exactly its name, turn the colour into process colours (CMYK), or"
        " agree on it with the printer.",
        page=page,
        boxes=boxes,
        measured=shown_name(name),
        required=listed(agreed, "or") if agreed else "no spot colour",
    )


def _alike(inks: dict[str, _Places], settings: SpotColoursSettings) -> Iterator[Finding]:
    """Names that differ by case, spaces or a swatch's ending only: one ink, split over two plates."""
    groups: dict[str, dict[str, _Places]] = {}
    for name, places in inks.items():
        groups.setdefault(_SWATCH_ENDING.sub("", _plain(name)), {})[name] = places
    for group in groups.values():
        if len(group) > 1:
            page, boxes = _first(group)
            yield Finding(
                rule=ID,
                code="alike",
                severity=settings.severity_of("alike"),
                message=f"The spot colours {_named(group)} are probably one ink under {len(group)} names."
                " Each name becomes a plate of its own.",
                remedy="Merge them into one swatch with one name, in placed files too.",
                page=page,
                boxes=boxes,
                measured=_named(group),
                required="one name for one ink",
            )


def _first(inks: dict[str, _Places]) -> tuple[int, tuple[Box, ...]]:
    """The first page on which one of the inks is used, and where on it."""
    page = min(number for places in inks.values() for number in places)
    return page, gathered(box for places in inks.values() for box in places.get(page, ()))


def _named(inks: dict[str, _Places]) -> str:
    return listed(f"'{shown_name(name)}'" for name in inks)


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()


RULE = Rule(
    id=ID,
    title="Spot colours",
    settings=SpotColoursSettings,
    check=check,
    question="How many spot colours, and which, are part of the order?",
    since="0.1",
)
