"""Marks for the printer: crop marks and the like keep clear of the bleed.

Why: marks stand outside the bleed, so that they are cut off with it; the cut shifts by up to a millimetre,
    and a mark that reaches into the bleed is then left on the product.
On paper: short black lines at the corners of some copies.
Not flagged: marks outside the bleed; files without marks; lines and colours of the artwork that run on
    into the bleed from inside the page; pages without a trim box; picture files. Where the file declares
    no bleed, the bleed that the rule set names is kept clear.
Source: common practice; ISO 32000-2, 14.11.3 (printer's marks) and 14.11.2 (page boundaries).
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.edges import LINE
from hotfolder.checks.shared.marks.on_product import overlaps
from hotfolder.checks.shared.marks.tints import is_all_plates, is_four_full
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.model.ruleset import LengthSetting, Rule, RuleSettings
from hotfolder.units import Length, mm_to_pt
from hotfolder.wording.figures import quantity
from hotfolder.wording.lists import counted

ID: Final = "printers-marks"

# A crop mark points along the cut: within this of the trim (own choice, far above what rounding does).
_ALONG: Final = 0.7
# What reaches less far into the bleed than this is rounding and half a line's width.
_CLEAR: Final = mm_to_pt(0.3)
_MARK: Final = "printer's mark"


class PrintersMarksSettings(RuleSettings):
    """bleed: what is kept clear around the trim where the file declares no bleed box."""

    codes: ClassVar[Mapping[str, Severity]] = {"in-bleed": Severity.ADVICE}

    bleed: LengthSetting = Length.of_mm(3)


def check(artwork: Artwork, settings: PrintersMarksSettings) -> Iterator[Finding | Unjudged]:
    """Marks beside the finished page that reach into the bleed."""
    facts = NeededFacts(ID, settings)
    places = Occurrences()
    nearest = float("inf")
    for page, marks in facts.drawn(artwork):
        trim = facts.trim(page)
        if trim is None:
            continue
        bleed = page.boxes.bleed or trim.box.grown(settings.bleed.points)
        for mark in marks:
            box = mark.visible
            if not mark.shows or box is None or not overlaps(box, bleed.grown(-_CLEAR)):
                continue
            if _is_beside(box, trim.box) and (_is_marked(mark) or _is_crop_mark(mark, box, trim.box)):
                places.add(page, box)
                nearest = min(nearest, max(box_edge(box, trim.box), 0.0))
    if places:
        yield places.located(_finding(places.count, nearest, settings))
    yield from facts.unjudged()


def box_edge(box: Box, trim: Box) -> float:
    """How far a box beside the trim stays away from it."""
    return max(trim.x0 - box.x1, box.x0 - trim.x1, trim.y0 - box.y1, box.y0 - trim.y1)


def _is_beside(box: Box, trim: Box) -> bool:
    return not overlaps(box, trim)


def _is_marked(mark: Mark) -> bool:
    """Whether a mark is drawn in the colour that printer's marks are drawn in."""
    return any(is_all_plates(colour) or is_four_full(colour) for colour in mark.colours())


def _is_crop_mark(mark: Mark, box: Box, trim: Box) -> bool:
    """Whether it is a short thin line that points along one of the cuts."""
    if mark.kind is not MarkKind.PATH or min(box.width, box.height) >= LINE:
        return False
    if box.width > box.height:
        middle = (box.y0 + box.y1) / 2
        return min(abs(middle - trim.y0), abs(middle - trim.y1)) <= _ALONG
    middle = (box.x0 + box.x1) / 2
    return min(abs(middle - trim.x0), abs(middle - trim.x1)) <= _ALONG


def _finding(count: int, nearest: float, settings: PrintersMarksSettings) -> Finding:
    return Finding(
        rule=ID,
        code="in-bleed",
        severity=settings.severity_of("in-bleed"),
        message=f"{counted(count, _MARK)} in the bleed, {settings.bleed.like(nearest)} from the cut"
        " line at the nearest. Cutting is never exact, so part of it may stay on the finished piece.",
        remedy="Export with the marks set off from the page by the bleed or more.",
        measured=quantity(settings.bleed, nearest),
        required=quantity(settings.bleed, settings.bleed.points),
        standard="ISO 32000-2, 14.11.3",
    )


RULE = Rule(
    id=ID,
    title="Marks for the printer",
    settings=PrintersMarksSettings,
    check=check,
    question="How far from the cut must crop marks stand?",
    since="0.1",
)
