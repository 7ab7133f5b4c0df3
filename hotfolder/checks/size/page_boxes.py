"""Page boxes: the file says where it is to be cut and how far the artwork runs beyond, without contradiction.

Why: programs at the press place a page by its boxes; where they are missing or contradict each
    other, a program has to guess, and guesses differ.
On paper: a page off its centre, cut through its crop marks, or with its bleed lost.
Not flagged: raster files, which have no boxes; differences of 0.5 mm; a page box that is larger than needed;
    a page whose trim was worked out from its size, where a trim box is only advised (the rule about the trim
    size says so then); a missing bleed box where the page ends at the trim.
Source: ISO 32000-2, 14.11.2 (page boundaries: bleed and trim lie in the page); PDF/X (ISO 15930)
    asks for exactly one of trim box and art box.
"""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import ClassVar, Final

from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.pages import Page, TrimOrigin
from hotfolder.model.ruleset import LengthSetting, Rule, RuleSettings
from hotfolder.units import Length, mm_to_pt, plain
from hotfolder.wording.figures import quantity
from hotfolder.wording.pages import edges_words

ID: Final = "page-boxes"
_STANDARD: Final = "ISO 32000-2, 14.11.2"
_PDFX: Final = "ISO 15930 (PDF/X)"
_EXPORT: Final = "Export again with the cut line and the bleed written into the file (bleed switched on)"

# Room beyond the trim that could be bleed; less than this is rounding.
_ROOM: Final = mm_to_pt(1)


class PageBoxesSettings(RuleSettings):
    """tolerance: how far boxes may cross each other, as rounding makes them."""

    codes: ClassVar[Mapping[str, Severity]] = {
        "no-page-size": Severity.MUST_FIX,
        "no-trim-box": Severity.ADVICE,
        "two-boxes": Severity.ADVICE,
        "not-nested": Severity.MUST_FIX,
        "crop-in-trim": Severity.MUST_FIX,
        "crop-in-bleed": Severity.ADVICE,
        "no-bleed-box": Severity.ADVICE,
        "user-unit": Severity.ADVICE,
    }

    tolerance: LengthSetting = Length.of_mm(0.5)


def check(artwork: Artwork, settings: PageBoxesSettings) -> Iterator[Finding | Unjudged]:
    """Boxes that are missing, doubled or not nested; pages with the same fault are told together."""
    facts = NeededFacts(ID, settings)
    alike: dict[Finding, Occurrences] = {}
    for page in facts.pages(artwork):
        if page.raster is None:
            for finding in (*_declared(page, settings), *_nested(page, settings)):
                cause = replace(finding, boxes=())
                alike.setdefault(cause, Occurrences()).add(page, *finding.boxes)
    for cause, places in alike.items():
        yield places.located(cause, words_for_place=False)
    yield from facts.unjudged()


def _declared(page: Page, settings: PageBoxesSettings) -> Iterator[Finding]:
    boxes = page.boxes
    if boxes.media is None:
        yield Finding(
            rule=ID,
            code="no-page-size",
            severity=settings.severity_of("no-page-size"),
            message="the page has no size at all. Each program would choose one for it.",
            remedy="Export the page again.",
            measured="no page size",
            required="a page size",
            standard=_STANDARD,
        )
    if boxes.trim is None and boxes.art is None and not _told_elsewhere(page, settings):
        yield Finding(
            rule=ID,
            code="no-trim-box",
            severity=settings.severity_of("no-trim-box"),
            message="the page does not say where it is to be cut (it has no trim box). It may be placed "
            "and cut by guesswork.",
            remedy=f"{_EXPORT}, or as PDF/X, which asks for it.",
            boxes=() if isinstance(page.trim, Unmeasured) else (page.trim.box,),
            measured="no trim box",
            required="a trim box",
            standard=_PDFX,
            told_by=(frozenset({"trim-size.unknown", "pdfx-claim.absent"}),),
        )
    if boxes.trim is not None and boxes.art is not None:
        yield Finding(
            rule=ID,
            code="two-boxes",
            severity=settings.severity_of("two-boxes"),
            message="the page says twice where it is to be cut, with a trim box and with an art"
            " box. Programs differ in which of them they go by.",
            remedy="Export again with the trim box alone.",
            boxes=(boxes.trim, boxes.art),
            measured="trim box and art box",
            required="one of them",
            standard=_PDFX,
        )
    if page.user_unit != 1:
        yield Finding(
            rule=ID,
            code="user-unit",
            severity=settings.severity_of("user-unit"),
            message=f"the page is scaled by a factor in the file ({plain(page.user_unit, 4)}, user"
            " unit). Programs that do not know it print the page at another size.",
            remedy="Export at the real size, or agree on a scale with the printer.",
            measured=plain(page.user_unit, 4),
            required="1",
        )


def _told_elsewhere(page: Page, settings: PageBoxesSettings) -> bool:
    """Whether the rule about the trim size has said already what this page lacks."""
    concluded = not isinstance(page.trim, Unmeasured) and page.trim.origin is TrimOrigin.INFERRED
    return concluded and settings.severity_of("no-trim-box") is not Severity.MUST_FIX


def _nested(page: Page, settings: PageBoxesSettings) -> Iterator[Finding]:
    boxes = page.boxes
    trim = boxes.trim or boxes.art
    if trim is None:
        return
    cut = "trim" if boxes.trim is not None else "art"
    pairs = [(cut, trim, "bleed", boxes.bleed), (cut, trim, "page", boxes.media)]
    if boxes.bleed is not None:
        pairs.append(("bleed", boxes.bleed, "page", boxes.media))
    for inner_name, inner, outer_name, outer in pairs:
        if outer is not None and not outer.holds(inner, settings.tolerance.points):
            over, edges = _crossing(inner, outer, settings.tolerance.points)
            yield Finding(
                rule=ID,
                code="not-nested",
                severity=settings.severity_of("not-nested"),
                message=f"the {inner_name} box reaches {settings.tolerance.like(over)} out of the"
                f" {outer_name} box ({edges_words(edges, page.rotate)}). Programs then differ in where they"
                " cut the page, and what lies outside may be lost.",
                remedy=f"{_EXPORT}, without changing the page boxes afterwards.",
                boxes=(inner, outer),
                measured=quantity(settings.tolerance, over),
                required=quantity(settings.tolerance, 0),
                standard=_STANDARD,
            )
    yield from _cropped(page, trim, settings)
    if boxes.bleed is None and boxes.media is not None and boxes.media.holds(trim.grown(_ROOM)):
        yield Finding(
            rule=ID,
            code="no-bleed-box",
            severity=settings.severity_of("no-bleed-box"),
            message="the page has room beyond the cut line, but does not say how far the artwork"
            " runs on there (it has no bleed box). A program may take the page without its bleed.",
            remedy=f"{_EXPORT}. If the artwork looks right, that is all it needs.",
            boxes=(trim,),
            measured="no bleed box",
            required="a bleed box",
            standard=_STANDARD,
        )


def _cropped(page: Page, trim: Box, settings: PageBoxesSettings) -> Iterator[Finding]:
    crop, bleed = page.boxes.crop, page.boxes.bleed
    if crop is None:
        return
    if not crop.holds(trim, settings.tolerance.points):
        code, inner, what = "crop-in-trim", trim, "into the finished page"
    elif bleed is not None and not crop.holds(bleed, settings.tolerance.points):
        code, inner, what = "crop-in-bleed", bleed, "into the bleed"
    else:
        return
    over, edges = _crossing(inner, crop, settings.tolerance.points)
    yield Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=f"the page is cropped for viewing {settings.tolerance.like(over)} {what}"
        f" ({edges_words(edges, page.rotate)}). A program that goes by what is seen loses that part.",
        remedy="Remove the cropping, or crop no further in than the bleed, then export again.",
        boxes=(crop,),
        measured=quantity(settings.tolerance, over),
        required=quantity(settings.tolerance, 0),
        standard=_STANDARD,
    )


def _crossing(inner: Box, outer: Box, tolerance: float) -> tuple[float, list[Edge]]:
    """How far `inner` reaches out of `outer` at most, and at which edges."""
    over = {edge: inner.beyond(edge, outer) for edge in Edge}
    return max(over.values()), [edge for edge, reach in over.items() if reach > tolerance]


RULE = Rule(
    id=ID,
    title="Page boxes",
    settings=PageBoxesSettings,
    check=check,
    question="Must each page carry a trim box and a bleed box?",
    since="0.1",
)
