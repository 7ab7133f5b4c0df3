"""Bleed: paint that touches the trim must run on beyond it.

Why: no cutter is exact; without bleed a small shift leaves a white edge. Three faults look alike
    and need different cures, so they are told apart: the artwork was not drawn beyond the cut; it
    was drawn, but the page ends there; it is there, but the bleed box says that it is not.
On paper: a hairline of unprinted stock on one or two sides of some copies.
Not flagged: edges where nothing is painted; pages whose paint ends more than 0.5 mm inside the
    trim; text (the safe margin judges it); lines and outlines under 1 mm, which are rules, keylines,
    fold and crop marks; paper white; hidden layers, what is clipped away and what is covered; marks in
    registration colour; marks wholly outside the trim; a mark that ends at the trim where strips or
    tiles laid against it, or paint of the same colour, run on; 0.5 mm less than wanted; the spine
    edge, where a rule set says that it needs no bleed. A picture that ends at the trim on top of
    other paint that runs on is told as advice only: no white edge can show, but a line of that other
    colour may.
Source: common practice for the widths; ISO 32000-2, 14.11.2 for the bleed box.
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar, Final

from hotfolder.artwork import Artwork, Box, Edge, Mark, MarkKind, Page
from hotfolder.checks.edges import (
    LINE,
    Reach,
    Stretch,
    along,
    band,
    meet,
    merged,
    painted,
    paints_area,
    reaches,
    without,
)
from hotfolder.checks.settings import NamedFigures
from hotfolder.checks.sightings import Sightings
from hotfolder.checks.telling import edges_told, listed, quantity, seen_edge
from hotfolder.checks.unknown import Unknowns
from hotfolder.findings import Finding, Severity, Unjudged
from hotfolder.ruleset import LengthSetting, Rule
from hotfolder.units import Length, mm_to_pt

ID: Final = "bleed"
_STANDARD: Final = "ISO 32000-2, 14.11.2"

# A gap shorter than this, along the edge, is a seam between tiles or the end of a line, where nobody
# sees a white edge (own choice).
_SHORTEST: Final = mm_to_pt(1)
# Paint is looked for at these steps between the trim and the end of the bleed.
_STEP: Final = mm_to_pt(0.5)
# Told as ending on other paint: pictures and areas along at least this share of an edge, and of
# those the longest, since an illustration may have thousands (own choice).
_SHARE: Final = 1 / 3
_MOST_ON_TOP: Final = 50

_CALLED: Final = {
    MarkKind.IMAGE: "a picture",
    MarkKind.PATH: "a coloured area",
    MarkKind.SHADING: "a gradient",
}


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
class _Short:
    """What is wrong at one edge: the code, how far paint or box reaches there, where, and what it is."""

    code: str
    framed: bool
    edge: Edge
    reach: float
    stretches: tuple[Stretch, ...]
    what: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Cause:
    """What makes the faults of several edges and pages one: the same fault, figure, edges and cure."""

    code: str
    framed: bool
    raster: bool
    reach: str
    edges: str


def check(artwork: Artwork, settings: BleedSettings) -> Iterator[Finding | Unjudged]:
    """Edges where paint touches the trim and does not run on far enough."""
    if settings.wanted.points <= 0:
        return
    unknowns = Unknowns(ID, settings)
    causes: dict[_Cause, list[tuple[Page, Box, list[_Short]]]] = {}
    for page in unknowns.pages(artwork):
        trim, marks = unknowns.trim(page), unknowns.marks(page)
        if trim is None or marks is None:
            continue
        short: list[_Short] = []
        areas = [(order, mark) for order, mark in enumerate(marks) if mark.shows and paints_area(mark)]
        for edge in Edge:
            if not (settings.not_at_spine and edge is _spine(page)):
                short.extend(_edge(page, trim.box, edge, areas, settings))
        for cause, edges in _causes(page, short, settings.wanted).items():
            causes.setdefault(cause, []).append((page, trim.box, edges))
    for cause, found in causes.items():
        yield _told(cause, found, settings)
    yield from unknowns.told()


def _edge(
    page: Page, trim: Box, edge: Edge, areas: list[tuple[int, Mark]], settings: BleedSettings
) -> Iterator[_Short]:
    tolerance = settings.tolerance.points
    enough = settings.wanted.points - tolerance
    depths = _depths(tolerance, enough)
    shown = reaches(edge, trim, [(order, mark, mark.visible or mark.box) for order, mark in areas])
    drawn = reaches(edge, trim, [(order, mark, mark.box) for order, mark in areas])
    touching = [reach for reach in shown if reach.covers(-tolerance)]
    # A line that lies along the edge is no area; strips that lie side by side are.
    touched = painted(shown, [-tolerance, -max(tolerance, LINE)])
    bled = painted(shown, depths)
    missing = without(touched, bled, _SHORTEST)
    if missing:
        not_drawn = without(missing, painted(drawn, depths), _SHORTEST)
        cut = without(missing, not_drawn, _SHORTEST)
        page_ends = page.boxes.media is not None and page.boxes.media.beyond(edge, trim) < enough
        if not_drawn:
            yield _short("not-drawn", edge, not_drawn, touching)
        if cut:
            yield _short("cut-off" if page_ends else "not-drawn", edge, cut, touching, framed=not page_ends)
        return
    if touched and page.boxes.bleed is not None and page.boxes.bleed.beyond(edge, trim) < enough:
        boxed = max(0.0, page.boxes.bleed.beyond(edge, trim))
        yield _Short("box-short", False, edge, boxed, tuple(touched), ())  # noqa: FBT003 - not framed
    on_top = list(_ending_on_paint(edge, trim, shown, depths, tolerance))
    if on_top:
        yield _short("ends-on-paint", edge, merged(reach.stretch for reach in on_top), on_top)


def _depths(tolerance: float, enough: float) -> list[float]:
    """Where paint is looked for beyond the trim: from the tolerance to what is enough, in small steps."""
    if enough <= tolerance:
        return [enough]
    steps = max(1, math.ceil((enough - tolerance) / _STEP - 0.01))
    return [tolerance + (enough - tolerance) * step / steps for step in range(steps + 1)]


def _short(
    code: str, edge: Edge, stretches: Sequence[Stretch], touching: Sequence[Reach], *, framed: bool = False
) -> _Short:
    guilty = [reach for reach in touching if meet(reach.stretch, stretches)]
    reach = min((max(0.0, reach.outer) for reach in guilty), default=0.0)
    kinds = tuple(dict.fromkeys(_CALLED[each.mark.kind] for each in guilty))
    return _Short(code, framed, edge, reach, tuple(stretches), kinds)


def _ending_on_paint(
    edge: Edge, trim: Box, shown: list[Reach], depths: list[float], tolerance: float
) -> Iterator[Reach]:
    """Marks that end at the trim while paint of another colour, that lies beneath them, runs on."""
    start, end = along(edge, trim)
    ending = [
        reach
        for reach in shown
        if reach.covers(-tolerance)
        and abs(reach.outer) <= tolerance
        and reach.outer - reach.inner >= LINE
        and reach.stretch[1] - reach.stretch[0] >= (end - start) * _SHARE
    ]
    ending.sort(key=lambda reach: reach.stretch[0] - reach.stretch[1])
    outside = [reach for reach in shown if reach.outer > 0]
    for reach in ending[:_MOST_ON_TOP]:
        goes_on = [
            other
            for other in outside
            if other is not reach
            and (
                other.order > reach.order or -other.inner <= tolerance or _same_colour(other.mark, reach.mark)
            )
        ]
        if without([reach.stretch], painted(goes_on, depths), _SHORTEST):
            yield reach


def _same_colour(one: Mark, other: Mark) -> bool:
    return one.fill is not None and one.fill == other.fill and bool(one.fill.components)


def _spine(page: Page) -> Edge:
    """The edge at which a page of a bound product is bound, in unrotated user space."""
    seen = Edge.LEFT if page.number % 2 else Edge.RIGHT
    return next(edge for edge in Edge if seen_edge(edge, page.rotate) is seen)


def _causes(page: Page, short: list[_Short], wanted: Length) -> dict[_Cause, list[_Short]]:
    """The faults of one page by their cause."""
    together: dict[tuple[str, bool, str], list[_Short]] = {}
    for each in short:
        together.setdefault((each.code, each.framed, str(wanted.like(each.reach))), []).append(each)
    return {
        _Cause(
            code,
            framed,
            page.raster is not None,
            reach,
            edges_told([each.edge for each in edges], page.rotate),
        ): edges
        for (code, framed, reach), edges in together.items()
    }


def _told(cause: _Cause, found: list[tuple[Page, Box, list[_Short]]], settings: BleedSettings) -> Finding:
    """One finding for the edges and pages with the same cause."""
    wanted = settings.wanted
    sightings = Sightings()
    for page, trim, edges in found:
        for each in edges:
            sightings.add(
                page, *(band(each.edge, trim, stretch, wanted.points) for stretch in each.stretches)
            )
    short = [each for _, _, edges in found for each in edges]
    what = listed(dict.fromkeys(kind for each in short for kind in each.what))
    message, remedy = _words(cause, wanted, what)
    finding = Finding(
        rule=ID,
        code=cause.code,
        severity=settings.severity_of(cause.code),
        message=f"at {'' if cause.edges.startswith('all') else 'the '}{cause.edges} {message}",
        remedy=remedy,
        measured=quantity(wanted, min(each.reach for each in short)),
        required=quantity(wanted, wanted.points),
        standard=_STANDARD if cause.code == "box-short" else None,
    )
    return sightings.told(finding, words_for_place=False)


def _words(cause: _Cause, wanted: Length, what: str) -> tuple[str, str]:
    """What is wrong and how to put it right, for one kind of fault."""
    reach = cause.reach
    at = "stops at the cut line" if reach.startswith("0 ") else f"runs on only {reach} beyond the cut line"
    figures = f"{reach} of bleed, {wanted} wanted."
    white = "Cutting is never exact, so a white line may show."
    export = f"export again with {wanted} of bleed switched on"
    artwork = f"the artwork ({what})" if what else "the artwork"
    match cause.code:
        case "not-drawn" if cause.raster:
            message = f"the picture {at}. {figures} {white}"
            remedy = (
                f"Make the canvas {wanted} larger than the cut on each side and let the picture fill it,"
                " without moving what stands near the edge."
            )
        case "not-drawn" if cause.framed:
            message = f"{artwork} {at}, where its frame or mask ends. {figures} {white}"
            remedy = (
                f"It is large enough underneath: widen its frame to {wanted} beyond the page edge, then"
                f" {export}."
            )
        case "not-drawn":
            message = f"{artwork} {at}. {figures} {white}"
            remedy = f"Let it run on {wanted} beyond the page edge, then {export}."
        case "cut-off":
            message = (
                f"{artwork} was drawn far enough, but the page in the file {_ends(reach)}. {figures} {white}"
            )
            remedy = f"Nothing has to be drawn: {export}."
        case "box-short":
            message = (
                "the artwork runs on far enough, but the file says that its bleed"
                f" {_ends(reach)} (bleed box). {wanted} are wanted. A program that believes it cuts the rest"
                " off, and a white line may show."
            )
            remedy = f"Nothing has to be drawn: {export}."
        case _:
            message = (
                f"{what or 'paint'} ends at the cut line on top of other paint that runs on. Cutting is"
                " never exact, so a line of what lies beneath may show."
            )
            remedy = (
                f"If that is not meant so, let it run on {wanted} beyond the page edge too, then {export}."
            )
    return message, remedy


def _ends(reach: str) -> str:
    return "ends at the cut line" if reach.startswith("0 ") else f"ends {reach} beyond the cut line"


RULE = Rule(
    id=ID,
    title="Bleed",
    settings=BleedSettings,
    check=check,
    question="How much bleed do you want on each side of the page?",
    since="0.1",
)
