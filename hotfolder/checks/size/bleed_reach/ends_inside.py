"""Paint that fills the page and ends a little inside the trim: it was meant to bleed, and falls short.

A white border that is meant is wide enough to be cut evenly: 2 mm and more. Where a photo or a ground ends
nearer than that to the cut, on three or four sides of the page, nobody drew it so on purpose. It may end
there because it is too small, or because white drawn over it leaves no more of it; only plates tell of that.
"""

from collections.abc import Iterator, Sequence
from typing import Final

from hotfolder.checks.shared.marks.edges import Reach, Stretch, along, merged, painted, shared, without
from hotfolder.checks.shared.plates.inked_places import inked_along
from hotfolder.checks.size.bleed_reach.by_marks import (
    SHORTEST,
    EndOfPaint,
    PaintedAreas,
    Shortfall,
    WantedBleed,
    kinds_of,
    lying_along,
)
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.inks import CELL_PT
from hotfolder.model.marks import Masking
from hotfolder.model.pages import Page
from hotfolder.units import mm_to_pt

# Own choices: how far inside the cut it may stop, along how much of an edge, and at how many edges.
_MOST_INSIDE: Final = mm_to_pt(1.75)
_SHARE: Final = 0.85
_EDGES: Final = 3


def stops_inside(page: Page, trim: Box, areas: PaintedAreas, wanted: WantedBleed) -> Iterator[Shortfall]:
    """The edges of a page that its paint fills, before which that paint ends, or is covered with white."""
    reached: dict[Edge, list[Reach]] = {}
    for edge in Edge:
        filling = [reach for reach in areas.shown(edge, trim) if _fills(reach)]
        if _is_most_of(edge, trim, _inked(page, edge, trim, painted(filling, [-_MOST_INSIDE]))):
            reached[edge] = filling
    if len(reached) < _EDGES:
        return
    for edge, filling in reached.items():
        if _is_inked(page, edge):
            continue
        beyond = painted(areas.shown(edge, trim), [-wanted.tolerance])
        bare = without(painted(filling, [-_MOST_INSIDE]), beyond, SHORTEST)
        if _is_most_of(edge, trim, bare):
            ending = lying_along(bare, [reach for reach in filling if reach.covers(-_MOST_INSIDE)])
            nearest = max(reach.outer for reach in ending)
            yield Shortfall("not-drawn", edge, nearest, tuple(bare), kinds_of(ending))
        elif not isinstance(page.ink, Unmeasured):
            yield from _covered(edge, trim, areas, filling, wanted)


def _covered(
    edge: Edge, trim: Box, areas: PaintedAreas, filling: Sequence[Reach], wanted: WantedBleed
) -> Iterator[Shortfall]:
    """What is wrong at an edge that is known to be bare, though paint that fills the page runs on there.

    White that was drawn over that paint, up to a little inside the cut, takes its place.
    """
    beneath = [reach for reach in filling if reach.covers(-_MOST_INSIDE) and reach.covers(-wanted.tolerance)]
    first = min((reach.order for reach in beneath), default=0)
    white = [
        reach
        for reach in areas.white(edge, trim)
        if reach.order > first
        and reach.covers(-wanted.tolerance)
        and -_MOST_INSIDE <= _inner_end(edge, trim, reach) < 0
    ]
    covered = shared(merged(reach.stretch for reach in white), painted(beneath, [-wanted.tolerance]))
    if _is_most_of(edge, trim, covered):
        nearest = max(_inner_end(edge, trim, reach) for reach in white)
        ending = lying_along(covered, beneath)
        yield Shortfall("not-drawn", edge, nearest, tuple(covered), kinds_of(ending), EndOfPaint.COVER)


def _inner_end(edge: Edge, trim: Box, white: Reach) -> float:
    """How far inside the trim something white begins, as a negative depth: a frame at its hole."""
    mark = white.mark
    if mark.hollow is not None:
        return mark.hollow.beyond(edge, trim)
    if mark.fill is None and mark.line_width_pt is not None:
        return white.outer - mark.line_width_pt
    return white.inner


def _fills(reach: Reach) -> bool:
    """Whether paint is known to be everywhere in a mark's box; a frame leaves the paper bare within it."""
    image = reach.mark.image
    filled = reach.mark.solid is not None and reach.mark.hollow is None
    return filled or (image is not None and image.masking is Masking.NONE)


def _inked(page: Page, edge: Edge, trim: Box, stretches: list[Stretch]) -> list[Stretch]:
    """The stretches where ink lies as well, where the plates are known: a photo may be white at its rim."""
    ink = page.ink
    if isinstance(ink, Unmeasured):
        return stretches
    inside = trim.grown(-_MOST_INSIDE)
    return merged(part for stretch in stretches for part in inked_along(ink, edge, inside, stretch, -CELL_PT))


def _is_most_of(edge: Edge, trim: Box, stretches: list[tuple[float, float]]) -> bool:
    start, end = along(edge, trim)
    return sum(high - low for low, high in stretches) >= _SHARE * (end - start)


def _is_inked(page: Page, edge: Edge) -> bool:
    """Whether the plates are known, and ink touches the trim along much of an edge all the same."""
    if isinstance(page.ink, Unmeasured) or isinstance(page.ink.edges, Unmeasured):
        return False
    steps = [reach is not None for paint in page.ink.edges if paint.edge is edge for reach in paint.reach_pt]
    return sum(steps) > (1 - _SHARE) * len(steps)
