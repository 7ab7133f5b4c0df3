"""Outside the bleed: what lies beyond it is not printed.

Why: everything beyond the bleed is cut off; pictures that lie there are left over from the work, or were
    meant to be in the page and are not.
On paper: nothing; the picture is missing, and the file is heavier than it need be.
Not flagged: printer's marks, colour bars and text in the margin of the sheet; shapes; pictures of less
    than 10 mm one way; pictures that reach into the bleed; what is clipped away, hidden, or outside the
    sheet as a whole; pages without a trim; paper white.
Source: common practice; ISO 32000-2, 14.11.2 (page boundaries). The 10 mm are this program's own choice.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.on_product import overlaps
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.marks import MarkKind
from hotfolder.model.ruleset import Rule, RuleSettings
from hotfolder.units import mm_to_pt
from hotfolder.wording.lists import counted

ID: Final = "outside-bleed"
_LEAST_PT: Final = mm_to_pt(10)


class OutsideBleedSettings(RuleSettings):
    """No figures: a picture is in the page and its bleed, or it is not."""

    codes: ClassVar[Mapping[str, Severity]] = {"picture": Severity.ADVICE}


def check(artwork: Artwork, settings: OutsideBleedSettings) -> Iterator[Finding | Unjudged]:
    """Pictures that lie wholly beyond the bleed, in one finding."""
    facts = NeededFacts(ID, settings)
    seen = Occurrences()
    for page, marks in facts.drawn(artwork):
        area = page.product_area
        if area is None:
            continue
        for mark in marks:
            box = mark.visible
            if mark.kind is not MarkKind.IMAGE or not mark.shows or mark.white or box is None:
                continue
            if min(box.width, box.height) >= _LEAST_PT and not overlaps(box, area):
                seen.add(page, box)
    if seen:
        yield seen.located(
            Finding(
                rule=ID,
                code="picture",
                severity=settings.severity_of("picture"),
                message=f"{counted(seen.count, 'picture')} outside the page and its bleed. They are cut off"
                " and will not be seen."
                if seen.count > 1
                else "a picture outside the page and its bleed. It is cut off and will not be seen.",
                remedy="Move what should print onto the page, and delete the rest.",
                measured=Quantity.of(seen.count, unit="pictures"),
                required=Quantity.of(0, unit="pictures"),
            )
        )
    yield from facts.unjudged()


RULE = Rule(
    id=ID,
    title="Outside the bleed",
    settings=OutsideBleedSettings,
    check=check,
    question="May anything but printer's marks lie outside the bleed?",
    since="0.1",
)
