"""Black and white: a page paid for in colour has colour on it.

Why: coloured pages cost more than black ones; a page with black ink alone among them is paid for in vain,
    or has lost its colour on the way.
On paper: a page in black and white where a coloured one was meant, or paid for.
Not flagged: pages that carry any other ink within trim or bleed, even in greys mixed of several inks; blank
    pages, which have a rule of their own; pages that the rule set does not count as coloured ones; technical
    inks do not count as colour.
Source: common practice.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.plates.cells import inks_on_paper
from hotfolder.checks.shared.plates.doubtful import has_black_alone, note_doubt
from hotfolder.checks.shared.plates.technical import technical_inks
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.ruleset import Rule, RuleSettings

ID: Final = "black-and-white"


class BlackAndWhiteSettings(RuleSettings):
    """pages: the numbers of the pages that are paid for in colour; all of them where none is named.

    technical: names of inks that never count.
    """

    codes: ClassVar[Mapping[str, Severity]] = {"no-colour": Severity.ADVICE}

    pages: tuple[int, ...] = ()
    technical: tuple[str, ...] = ()


def check(artwork: Artwork, settings: BlackAndWhiteSettings) -> Iterator[Finding | Unjudged]:
    """Pages with black ink alone where colour is paid for, in one finding."""
    facts = NeededFacts(ID, settings)
    places = Occurrences()
    technical = technical_inks(artwork, settings.technical)
    for page in facts.pages(artwork):
        if settings.pages and page.number not in settings.pages:
            continue
        ink = facts.ink(page)
        if ink is not None and inks_on_paper(page, ink) - technical == {"Black"}:
            doubts = [doubt for doubt in ink.doubts if not has_black_alone(page, doubt)]
            for doubt in doubts:
                note_doubt(facts, page, doubt)
            if not doubts:
                places.add(page)
    if places:
        many = len(places.pages) > 1
        yield places.located(
            Finding(
                rule=ID,
                code="no-colour",
                severity=settings.severity_of("no-colour"),
                message="only black ink is used there, but colour is paid for on "
                f"{'these pages' if many else 'this page'}.",
                remedy="If that is intended, ask the printer for black and white there, which costs less; "
                "if not, look for pictures and colours that turned grey on the way.",
                measured="black alone",
                required="colour",
            )
        )
    yield from facts.unjudged()


RULE = Rule(
    id=ID,
    title="Black and white",
    settings=BlackAndWhiteSettings,
    check=check,
    question="Which pages are paid for in colour?",
    since="0.1",
)
