"""Registration colour: the colour that prints on every plate is for printer's marks alone.

Why: printer's marks are drawn in it so that plates can be laid over each other; in artwork it puts all
    inks at full strength on one spot, far more than paper can take.
On paper: ink that does not dry, comes off on the next sheet, or shows all colours around its edges.
Not flagged: marks that lie outside trim and bleed, or in the bleed only, which the rule about printer's
    marks judges; lines that run from beyond one edge of the page to beyond the other, as marks that are
    drawn in one go do; tints of no ink; what is on hidden layers, without opacity, clipped away or wholly
    covered; pictures in CMYK, whose pixels are not looked at. A gradient or a grey picture in registration
    colour counts whatever its tints are.
Source: ISO 32000-2, 8.6.6.4 (Separation /All); common practice.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.on_product import on_product, overlaps
from hotfolder.checks.shared.marks.tints import is_all_plates, is_four_full
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import Rule, RuleSettings
from hotfolder.wording.lists import counted

ID: Final = "registration-colour"


class RegistrationColourSettings(RuleSettings):
    """No figures: artwork has no registration colour."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "all-plates": Severity.MUST_FIX,
        "four-full-inks": Severity.MUST_FIX,
    }


def check(artwork: Artwork, settings: RegistrationColourSettings) -> Iterator[Finding | Unjudged]:
    """Artwork on every plate, or in the four process inks at full strength."""
    facts = NeededFacts(ID, settings)
    by_code = {code: Occurrences() for code in settings.codes}
    for page, marks in facts.drawn(artwork):
        for mark, box in on_product(page, marks):
            code = None if mark.white else _code(mark)
            if code is not None and _is_artwork(page, mark, box):
                by_code[code].add(page, box)
    for code, places in by_code.items():
        if places:
            yield places.located(_finding(code, places.count, settings))
    yield from facts.unjudged()


def _code(mark: Mark) -> str | None:
    colours = list(mark.colours())
    if any(is_all_plates(colour) for colour in colours):
        return "all-plates"
    return "four-full-inks" if any(is_four_full(colour) for colour in colours) else None


def _is_artwork(page: Page, mark: Mark, box: Box) -> bool:
    """Whether a mark lies in the finished page and is no set of printer's marks around it."""
    if isinstance(page.trim, Unmeasured):
        return True
    trim = page.trim.box
    if not overlaps(box, trim):
        return False
    around = mark.kind is MarkKind.PATH and mark.fill is None
    return not (
        around and (_spans(box, trim, Edge.LEFT, Edge.RIGHT) or _spans(box, trim, Edge.BOTTOM, Edge.TOP))
    )


def _spans(box: Box, trim: Box, *edges: Edge) -> bool:
    """Whether the box reaches beyond both edges."""
    return all(box.beyond(edge, trim) > 0 for edge in edges)


def _finding(code: str, count: int, settings: RegistrationColourSettings) -> Finding:
    how_many = counted(count, "thing")
    what = (
        f"{how_many} in registration colour, which prints on every plate"
        if code == "all-plates"
        else f"{how_many} in cyan, magenta, yellow and black at full strength (400 % of ink)"
    )
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=f"{what}. That much ink does not dry, and coloured edges show.",
        remedy="Use 100 % black ink instead, for large areas with a share of other inks that the printer"
        " names.",
        measured="every plate" if code == "all-plates" else "400 % of ink",
        required="black",
        standard="ISO 32000-2, 8.6.6.4" if code == "all-plates" else None,
    )


RULE = Rule(
    id=ID,
    title="Registration colour",
    settings=RegistrationColourSettings,
    check=check,
    question="Is there any artwork that may be printed on every plate?",
    since="0.1",
)
