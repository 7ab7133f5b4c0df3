"""Where paint lies along an edge of the trim: stretches of that edge, and how deep they reach.

A stretch is a pair of coordinates along the edge, in points. A depth is a distance beyond the
edge, in points: positive outside of the trim, negative inside. Marks count with the boxes that
hold them, so a round shape is taken for its square.
"""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

from hotfolder.model.colour import ColourKind
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.units import mm_to_pt

Stretch: TypeAlias = tuple[float, float]

# What is thinner than this is a rule, a keyline, a fold or crop mark (own choice).
LINE: Final = mm_to_pt(1)
# Far below what rounding in files does, far above what floating point does.
_NOISE: Final = 0.01

_NO_PAINT: Final = frozenset({ColourKind.REGISTRATION, ColourKind.NONE})


@dataclass(frozen=True, slots=True)
class Reach:
    """A mark as seen from an edge: its stretch along it, and the depths that it covers.

    order: place in painting order.
    """

    mark: Mark
    order: int
    stretch: Stretch
    inner: float
    outer: float

    def covers(self, depth: float) -> bool:
        """Whether the mark is painted at `depth` beyond the edge."""
        return self.inner - _NOISE <= depth <= self.outer + _NOISE


def paints_area(mark: Mark) -> bool:
    """Whether a mark covers an area with ink, as far as bleed is concerned.

    Text, thin outlines and frames, paper white, printer's marks in registration colour, fully transparent
    marks and what does not print do not.
    """
    if not mark.on_paper or mark.white or mark.kind is MarkKind.TEXT:
        return False
    if {colour.space.kind for colour in mark.colours()} & _NO_PAINT:
        return False
    outline = mark.kind is MarkKind.PATH and mark.fill is None
    if outline:
        return mark.state.stroke_opacity > 0 and (mark.line_width_pt or 0) >= LINE
    frame = mark.frame_pt
    return mark.state.fill_opacity > 0 and (frame is None or frame >= LINE)


def reaches(edge: Edge, trim: Box, boxes: Iterable[tuple[int, Mark, Box]]) -> list[Reach]:
    """The marks, each with its place in painting order and its box, as seen from `edge` of `trim`.

    Only the part along the edge itself counts: what lies beyond the corners is cut off in any case.
    """
    seen_from_edge: list[Reach] = []
    low, high = along(edge, trim)
    for order, mark, box in boxes:
        start, end = along(edge, box)
        if end <= low or start >= high:
            continue
        inner, outer = -trim.across(edge, box), box.beyond(edge, trim)
        seen_from_edge.append(Reach(mark, order, (max(start, low), min(end, high)), inner, outer))
    return seen_from_edge


def painted(reaches_of_marks: Iterable[Reach], depths: Sequence[float]) -> list[Stretch]:
    """The stretches of the edge that are painted at every one of `depths`."""
    marks = list(reaches_of_marks)
    common: list[Stretch] | None = None
    for depth in depths:
        here = merged(reach.stretch for reach in marks if reach.covers(depth))
        common = here if common is None else shared(common, here)
    return common or []


def along(edge: Edge, box: Box) -> Stretch:
    """Where `box` begins and ends along `edge`."""
    return (box.y0, box.y1) if edge in {Edge.LEFT, Edge.RIGHT} else (box.x0, box.x1)


def band(edge: Edge, trim: Box, stretch: Stretch, depth: float) -> Box:
    """The strip beyond `edge` of `trim`, `depth` deep, along `stretch`."""
    start, end = stretch
    match edge:
        case Edge.LEFT:
            return Box(trim.x0 - depth, start, trim.x0, end)
        case Edge.BOTTOM:
            return Box(start, trim.y0 - depth, end, trim.y0)
        case Edge.RIGHT:
            return Box(trim.x1, start, trim.x1 + depth, end)
        case Edge.TOP:
            return Box(start, trim.y1, end, trim.y1 + depth)


def merged(stretches: Iterable[Stretch]) -> list[Stretch]:
    """The stretches in order, those that touch drawn together."""
    whole: list[Stretch] = []
    for start, end in sorted(stretches):
        if whole and start <= whole[-1][1] + _NOISE:
            whole[-1] = (whole[-1][0], max(whole[-1][1], end))
        else:
            whole.append((start, end))
    return whole


def without(stretches: Sequence[Stretch], taken: Sequence[Stretch], shortest: float) -> list[Stretch]:
    """What `taken`, merged too, leaves of merged `stretches`, in pieces of `shortest` or more."""
    left: list[Stretch] = []
    first = 0
    for start, end in stretches:
        while first < len(taken) and taken[first][1] <= start:
            first += 1
        at, place = start, first
        while place < len(taken) and taken[place][0] < end:
            left.append((at, taken[place][0]))
            at = taken[place][1]
            place += 1
        left.append((at, end))
    return [(start, end) for start, end in left if end - start >= shortest]


def shared(one: Sequence[Stretch], other: Sequence[Stretch]) -> list[Stretch]:
    """What two merged lists of stretches have in common."""
    both: list[Stretch] = []
    here = there = 0
    while here < len(one) and there < len(other):
        start, end = max(one[here][0], other[there][0]), min(one[here][1], other[there][1])
        if end > start:
            both.append((start, end))
        if one[here][1] < other[there][1]:
            here += 1
        else:
            there += 1
    return both


def meet(stretch: Stretch, others: Sequence[Stretch]) -> bool:
    """Whether `stretch` has more than a point in common with any of merged `others`."""
    before = bisect_left(others, (stretch[1], stretch[1])) - 1
    return before >= 0 and others[before][1] > stretch[0]
