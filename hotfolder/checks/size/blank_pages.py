"""Blank pages: a page that shows nothing is blank on purpose.

Why: a page is left blank on purpose or by mistake, and nobody at the press can tell which.
On paper: a blank back, or a blank page where a picture or a text was expected.
Not flagged: pages on which anything shows, however little; pages whose content could not be read; marks
    outside the trim do not fill a page, nor do paper white, white pictures of whatever kind, hidden layers,
    what is masked or clipped away.
Source: common practice. A picture counts as white where no square millimetre carries 1 % of an ink, which is
    less than a press prints (from memory: presses can print tones from 2 or 3 % up).
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.on_product import on_product
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.plates.cells import on_product_cells
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import Rule, RuleSettings

ID: Final = "blank-pages"

# 1 % of an ink, of 255: the grain of a white JPEG and the rounding of a conversion stay below.
_LEAST: Final = 3


class BlankPagesSettings(RuleSettings):
    """No figures: a page shows something or it does not."""

    codes: ClassVar[Mapping[str, Severity]] = {"blank": Severity.ADVICE}


def check(artwork: Artwork, settings: BlankPagesSettings) -> Iterator[Finding | Unjudged]:
    """Pages on which nothing shows, in one finding."""
    facts = NeededFacts(ID, settings)
    places = Occurrences()
    for page in facts.pages(artwork):
        if page.raster is not None:
            if _carries_nothing(page):
                places.add(page)
            continue
        marks = facts.marks(page)
        if marks is None:
            continue
        shown = [mark for mark, _ in on_product(page, marks) if not mark.white]
        if not shown or (all(mark.image is not None for mark in shown) and _carries_nothing(page)):
            places.add(page)
    if places:
        many = len(places.pages) > 1
        yield places.located(
            Finding(
                rule=ID,
                code="blank",
                severity=settings.severity_of("blank"),
                message=f"nothing shows there. {'They are' if many else 'It is'} printed blank, if that "
                "is intended.",
                remedy="Look at these pages: what is missing may be on a hidden layer or outside the page."
                " If they are meant to be blank, tell the printer so.",
                measured=Quantity.of(len(places.pages), unit="blank pages"),
                required=Quantity.of(0, unit="blank pages"),
            )
        )
    yield from facts.unjudged()


def _carries_nothing(page: Page) -> bool:
    """Whether the page's plates are known, and bare on the product."""
    if isinstance(page.ink, Unmeasured):
        return False
    product, cells = on_product_cells(page, page.ink), page.ink.cells
    return all(
        max(line, default=0) < _LEAST
        for plate in page.ink.plates
        for line in product.lines(plate.coverage, cells)
    )


RULE = Rule(
    id=ID,
    title="Blank pages",
    settings=BlankPagesSettings,
    check=check,
    question="May a file hold blank pages?",
    since="0.1",
)
