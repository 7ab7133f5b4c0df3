"""Bleed: paint that touches the trim must run on beyond it.

Why: no cutter is exact; without bleed a small shift leaves a white edge. Three faults look alike
    and need different cures, so they are told apart: the artwork was not drawn beyond the cut; it
    was drawn, but the page ends there; it is there, but the bleed box says that it is not.
On paper: a hairline of unprinted stock on one or two sides of some copies.
Not flagged: edges where no ink touches the trim; paint that ends more than 0.5 mm inside the trim, unless it
    fills the page to within 1.75 mm of three or four of its edges, and ends there or goes on under something
    white; text (the safe margin judges it); lines and outlines under 1 mm (rules, keylines, fold and crop
    marks), unless a dozen or more lie as close together as hatching; paper white; hidden layers, what is
    clipped away and what is covered; marks in registration colour; marks wholly outside the trim; a mark that
    ends at the trim where strips or tiles laid against it, or paint of the same colour, run on; 0.5 mm less
    than wanted; the spine edge, where a rule set says that it needs no bleed; slanted ends of what runs on,
    and small round things that poke out; what fades out towards the trim; the white parts of a pattern that
    runs on, and those of a picture that does, unless they end in a straight line of 5 mm along the cut.
    A picture or an area that ends at the trim on top of other paint that runs on is advice only, and only
    where it does so along a third of an edge or more: no white edge can show, but a line of that other colour
    may.
    Where the inks of a page are not known, the boxes around what is painted are judged instead, a round shape
    by the square around it, and the finding says so. Where plates can only be drawn roughly, and these boxes
    say otherwise, it is left open, with the reason.
Source: common practice for the widths; ISO 32000-2, 14.11.2 for the bleed box.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.edges import band
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.settings import NamedFigures
from hotfolder.checks.size.bleed_reach.by_lines import ends_of_lines
from hotfolder.checks.size.bleed_reach.by_marks import (
    EndOfPaint,
    PaintedAreas,
    Shortfall,
    WantedBleed,
    short_by_marks,
)
from hotfolder.checks.size.bleed_reach.by_plates import EdgeOfPaint
from hotfolder.checks.size.bleed_reach.ends_inside import stops_inside
from hotfolder.checks.size.bleed_reach.in_doubt import certain_at
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import LengthSetting, Rule
from hotfolder.units import Length
from hotfolder.wording.figures import quantity
from hotfolder.wording.lists import listed
from hotfolder.wording.pages import edges_words, seen_edge

ID: Final = "bleed"
_STANDARD: Final = "ISO 32000-2, 14.11.2"
_BY_BOXES: Final = "Judged by the boxes around the objects only, since the inks of the page are not known."


class BleedSettings(NamedFigures):
    """wanted: bleed on each side. tolerance: how much less will do, and how near the trim paint touches it.

    not_at_spine: pages of a bound product need none at the edge where they are bound (left on odd
    pages, right on even ones).
    """

    needs: ClassVar[tuple[str, ...]] = ("wanted",)
    codes: ClassVar[Mapping[str, Severity]] = {
        "not-drawn": Severity.MUST_FIX,
        "cut-off": Severity.MUST_FIX,
        "box-short": Severity.MUST_FIX,
        "ends-on-paint": Severity.ADVICE,
    }

    wanted: LengthSetting = Length.of_mm(0)
    tolerance: LengthSetting = Length.of_mm(0.5)
    not_at_spine: bool = False


@dataclass(frozen=True, slots=True)
class _Cause:
    """What makes the faults of several edges and pages one: the same fault, figure, edges and cure."""

    code: str
    end: EndOfPaint
    raster: bool
    reach: str
    edges: str
    by_boxes: bool


def check(artwork: Artwork, settings: BleedSettings) -> Iterator[Finding | Unjudged]:
    """Edges where paint touches the trim and does not run on far enough."""
    if settings.wanted.points <= 0:
        return
    facts, by_boxes = NeededFacts(ID, settings), NeededFacts(ID, settings)
    wanted = WantedBleed(settings.tolerance.points, settings.wanted.points - settings.tolerance.points)
    causes: dict[_Cause, list[tuple[Page, Box, list[Shortfall]]]] = {}
    for page in facts.pages(artwork):
        trim, marks = facts.trim(page), facts.marks(page)
        if trim is None or marks is None:
            continue
        if isinstance(page.ink, Unmeasured):
            by_boxes.note("bleed was judged by the boxes around what is painted", page.ink.reason, page)
        short = _shortfalls(page, trim.box, PaintedAreas.of(marks), wanted, settings, facts)
        for cause, edges in _causes(page, short, settings.wanted).items():
            causes.setdefault(cause, []).append((page, trim.box, edges))
    for cause, edges_by_page in causes.items():
        yield _finding(cause, edges_by_page, settings)
    yield from facts.unjudged()
    if _has_plates(artwork):
        yield from by_boxes.unjudged(Severity.ADVICE)


def _shortfalls(
    page: Page,
    trim: Box,
    areas: PaintedAreas,
    wanted: WantedBleed,
    settings: BleedSettings,
    facts: NeededFacts,
) -> list[Shortfall]:
    """All that is wrong at the edges of a page that need bleed."""
    edges = [edge for edge in Edge if not (settings.not_at_spine and edge is _spine(page))]
    shortfalls = [each for edge in edges for each in _edge(page, trim, edge, areas, wanted, facts)]
    known = {each.edge for each in shortfalls if each.code != "ends-on-paint"}
    more = [*stops_inside(page, trim, areas, wanted)]
    more += [each for edge in edges for each in ends_of_lines(trim, edge, areas, wanted)]
    return shortfalls + [each for each in more if each.edge in edges and each.edge not in known]


def _edge(
    page: Page, trim: Box, edge: Edge, areas: PaintedAreas, wanted: WantedBleed, facts: NeededFacts
) -> Iterator[Shortfall]:
    """What is wrong at one edge: by the ink on paper where it is known, else by the boxes of the marks."""
    if not isinstance(page.ink, Unmeasured) and not isinstance(page.ink.edges, Unmeasured):
        for paint in page.ink.edges:
            if paint.edge is edge:
                by_plates = EdgeOfPaint(page, page.ink, trim, paint, areas).shortfalls(wanted)
                by_marks = short_by_marks(page, trim, edge, areas, wanted)
                yield from certain_at(facts, page, trim, wanted, by_plates, by_marks)
                return
    yield from short_by_marks(page, trim, edge, areas, wanted)


def _has_plates(artwork: Artwork) -> bool:
    """Whether plates were drawn for this file at all: then a page without them is an exception, and told."""
    known = any(not isinstance(page.ink, Unmeasured) for page in artwork.known_pages)
    return artwork.press is not None or known


def _spine(page: Page) -> Edge:
    """The edge at which a page of a bound product is bound, in unrotated user space."""
    shown = Edge.LEFT if page.number % 2 else Edge.RIGHT
    return next(edge for edge in Edge if seen_edge(edge, page.rotate) is shown)


def _causes(page: Page, short: list[Shortfall], wanted: Length) -> dict[_Cause, list[Shortfall]]:
    """The faults of one page by their cause."""
    together: dict[tuple[str, EndOfPaint, str], list[Shortfall]] = {}
    for each in short:
        key = (each.code, each.end, str(wanted.like(each.reach)))
        together.setdefault(key, []).append(each)
    return {
        _Cause(
            code,
            end,
            page.raster is not None,
            reach,
            edges_words([each.edge for each in edges], page.rotate),
            isinstance(page.ink, Unmeasured),
        ): edges
        for (code, end, reach), edges in together.items()
    }


def _finding(
    cause: _Cause, pages: list[tuple[Page, Box, list[Shortfall]]], settings: BleedSettings
) -> Finding:
    """One finding for the edges and pages with the same cause."""
    wanted = settings.wanted
    places = Occurrences()
    for page, trim, edges in pages:
        for each in edges:
            places.add(page, *(band(each.edge, trim, stretch, wanted.points) for stretch in each.stretches))
    short = [each for _, _, edges in pages for each in edges]
    what = listed(dict.fromkeys(kind for each in short for kind in each.what))
    message, remedy = _words(cause, wanted, what)
    finding = Finding(
        rule=ID,
        code=cause.code,
        severity=settings.severity_of(cause.code),
        message=f"at {_the(cause.edges)} {message}",
        remedy=remedy,
        measured=quantity(wanted, min(each.reach for each in short)),
        required=quantity(wanted, wanted.points),
        standard=_STANDARD if cause.code == "box-short" else None,
    )
    located = places.located(finding, words_for_place=False)
    return replace(located, message=f"{located.message} {_BY_BOXES}") if cause.by_boxes else located


def _words(cause: _Cause, wanted: Length, what: str) -> tuple[str, str]:
    """What is wrong and how to put it right, for one kind of fault."""
    reach = cause.reach
    at = "stops at the cut line" if reach.startswith("0 ") else f"runs only {reach} past the cut line"
    figures = f"{reach} of bleed, {wanted} wanted."
    white = "Cutting is never exact, so a white line may show."
    export = f"export again with {wanted} of bleed switched on"
    artwork = f"the artwork ({what})" if what else "the artwork"
    match cause.code:
        case "not-drawn" if reach.startswith("-") and cause.end is EndOfPaint.COVER:
            message = (
                f"{artwork} fills the page but stops {reach[1:]} short of the cut line, where something white"
                f" covers it. It should run {wanted} past the cut line (bleed). A white line will show at the"
                " edge, wider on one side than on the other."
            )
            remedy = (
                f"Remove the white object that lies over it, or make it smaller, then {export}. If you want a"
                f" white border, make it {wanted} wide or more."
            )
        case "not-drawn" if reach.startswith("-"):
            message = (
                f"{artwork} fills the page but stops {reach[1:]} short of the cut line. It should run"
                f" {wanted} past it (bleed). A white line will show at the edge, wider on one side than on"
                " the other."
            )
            remedy = (
                f"Enlarge it until it runs {wanted} past the page edge, then {export}. If you want a white"
                f" border, make it {wanted} wide or more."
            )
        case "not-drawn" if cause.end is EndOfPaint.COVER:
            message = f"{artwork} {at}: beyond it, something white covers it. {figures} {white}"
            remedy = f"Remove the white object that lies over the bleed, or make it smaller, then {export}."
        case "not-drawn" if cause.raster:
            message = f"the picture {at}. {figures} {white}"
            remedy = (
                f"Make the canvas {wanted} larger on each side and extend the picture to fill it, without"
                " moving what stands near the edge."
            )
        case "not-drawn" if cause.end is EndOfPaint.FRAME:
            message = f"{artwork} {at}, where its frame or mask (clipping path) ends. {figures} {white}"
            remedy = (
                f"It is large enough underneath: pull its frame out to {wanted} past the page edge, then"
                f" {export}."
            )
        case "not-drawn" if cause.end is EndOfPaint.WHITE:
            message = f"{artwork} {at}: beyond it, it is only white. {figures} {white}"
            remedy = (
                f"Enlarge it, or crop its white border, so that its colours run {wanted} past the page"
                f" edge, then {export}."
            )
        case "not-drawn":
            message = f"{artwork} {at}. {figures} {white}"
            remedy = f"Extend it {wanted} past the page edge, then {export}."
        case "cut-off":
            message = (
                f"{artwork} is drawn far enough, but the page in the file {_ends(reach)}. {figures} {white}"
            )
            remedy = f"At {_the(cause.edges)} there is nothing to draw: just {export}."
        case "box-short":
            message = (
                "the artwork is drawn far enough, but the file says that its bleed"
                f" {_ends(reach)} (bleed box); {wanted} is wanted. A program that goes by it crops the rest,"
                " and a white line may show."
            )
            remedy = f"At {_the(cause.edges)} there is nothing to draw: just {export}."
        case _:
            message = (
                f"{what or 'something'} ends at the cut line, while what lies beneath it runs on. Cutting is"
                " never exact, so a thin line of what lies beneath may show."
            )
            remedy = f"If that is not intended, extend it {wanted} past the page edge too, then {export}."
    return message, remedy


def _the(edges: str) -> str:
    return edges if edges.startswith("all") else f"the {edges}"


def _ends(reach: str) -> str:
    return "ends at the cut line" if reach.startswith("0 ") else f"ends {reach} past the cut line"


RULE = Rule(
    id=ID,
    title="Bleed",
    settings=BleedSettings,
    check=check,
    question="How much bleed do you want on each side of the page?",
    since="0.1",
)
