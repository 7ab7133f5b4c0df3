"""Blank pages: a page that shows nothing is meant to.

Why: a page is left blank on purpose or by mistake, and nobody at the press can tell which.
On paper: a blank back, or a blank page where a picture or a text was expected.
Not flagged: pages on which anything shows, however little; pages whose content could not be read; marks
    outside the trim do not fill a page, nor do paper white, hidden layers and what is clipped away.
Source: common practice.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.artwork import Artwork
from hotfolder.checks.paint import on_product
from hotfolder.checks.sightings import Sightings
from hotfolder.checks.unknown import Unknowns
from hotfolder.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.ruleset import Rule, RuleSettings

ID: Final = "blank-pages"


class BlankPagesSettings(RuleSettings):
    """No figures: a page shows something or it does not."""

    codes: ClassVar[Mapping[str, Severity]] = {"blank": Severity.ADVICE}


def check(artwork: Artwork, settings: BlankPagesSettings) -> Iterator[Finding | Unjudged]:
    """Pages on which nothing shows, in one finding."""
    unknowns = Unknowns(ID, settings)
    seen = Sightings()
    for page, marks in unknowns.drawn(artwork):
        if all(mark.white for mark, _ in on_product(page, marks)):
            seen.add(page)
    if seen:
        many = len(seen.pages) > 1
        yield seen.told(
            Finding(
                rule=ID,
                code="blank",
                severity=settings.severity_of("blank"),
                message=f"nothing shows there. {'They are' if many else 'It is'} printed blank, if that is"
                " meant.",
                remedy="Look at these pages: what is missing may be on a hidden layer or outside the page."
                " If they are meant to be blank, tell the printer so.",
                measured=Quantity.of(len(seen.pages), unit="blank pages"),
                required=Quantity.of(0, unit="blank pages"),
            )
        )
    yield from unknowns.told()


RULE = Rule(
    id=ID,
    title="Blank pages",
    settings=BlankPagesSettings,
    check=check,
    question="May a file hold blank pages?",
    since="0.1",
)
