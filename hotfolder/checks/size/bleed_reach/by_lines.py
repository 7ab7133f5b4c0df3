"""Many fine lines close together that end at the trim: hatching, a fine grid. Together they are a ground.

A single rule that ends at the cut uncovers nothing that anybody sees when the cut shifts, nor do those of a
list; lines as close as a tint leave a white edge as an area does.
"""

from collections.abc import Iterator
from typing import Final

from hotfolder.checks.shared.marks.edges import LINE, Stretch, along, merged, painted, without
from hotfolder.checks.size.bleed_reach.by_marks import SHORTEST, PaintedAreas, Shortfall, WantedBleed
from hotfolder.model.colour import ColourKind
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.units import mm_to_pt

# Own choices: so many lines, no further apart than this, along at least so much of an edge. Each comes from
# further inside than crop and fold marks do.
_LEAST_LINES: Final = 12
_APART: Final = mm_to_pt(1.25)
_LEAST_LENGTH: Final = mm_to_pt(15)
_FROM_INSIDE: Final = mm_to_pt(2)
_MOST_LOOKED_AT: Final = 20_000


def ends_of_lines(trim: Box, edge: Edge, areas: PaintedAreas, wanted: WantedBleed) -> Iterator[Shortfall]:
    """Where rows of fine lines end at an edge, and no area runs on beneath them."""
    low, high = along(edge, trim)
    ends: list[tuple[Stretch, float]] = []
    for box in _lines(areas):
        start, end = along(edge, box)
        outer = box.beyond(edge, trim)
        touches = -wanted.tolerance <= outer < wanted.enough and trim.across(edge, box) >= _FROM_INSIDE
        if touches and start < high and end > low:
            ends.append(((max(start, low), min(end, high)), outer))
            if len(ends) > _MOST_LOOKED_AT:
                return
    rows = merged((start - _APART / 2, end + _APART / 2) for (start, end), _ in ends)
    ground = painted(areas.shown(edge, trim), [-wanted.tolerance, *wanted.depths()])
    for row in rows:
        here = [(stretch, outer) for stretch, outer in ends if row[0] <= stretch[0] <= row[1]]
        stretch = min(start for (start, _), _ in here), max(end for (_, end), _ in here)
        if len(here) < _LEAST_LINES or stretch[1] - stretch[0] < _LEAST_LENGTH:
            continue
        bare = without([stretch], ground, SHORTEST)
        if bare:
            reach = min(max(0.0, outer) for _, outer in here)
            yield Shortfall("not-drawn", edge, reach, tuple(bare), ("fine lines",))


def _lines(areas: PaintedAreas) -> Iterator[Box]:
    """The single fine lines of a page, as they are seen; an outline is fine however it runs."""
    for _, mark in (*areas.areas, *areas.others):
        if mark.kind is not MarkKind.PATH or mark.white or mark.visible is None or _is_printers(mark):
            continue
        outlined = mark.fill is None
        if outlined and (mark.line_width_pt or 0.0) >= LINE:
            continue
        for piece in mark.pieces or (mark.box,):
            seen = piece.cut_by(mark.visible)
            if seen is not None and (outlined or min(piece.width, piece.height) < LINE):
                yield seen


def _is_printers(mark: Mark) -> bool:
    return any(colour.space.kind in {ColourKind.REGISTRATION, ColourKind.NONE} for colour in mark.colours())
