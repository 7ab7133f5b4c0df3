"""Bleed judged by the boxes of marks: where paint touches the trim, and how far it runs on.

A box says too much of a round shape, and nothing of what covers it; that is all there is where the
plates of a page are not known. Where they are, the boxes still say what it is that ends too early.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Final

from hotfolder.checks.shared.marks.edges import (
    LINE,
    Reach,
    Stretch,
    along,
    meet,
    merged,
    painted,
    paints_area,
    reaches,
    without,
)
from hotfolder.checks.shared.marks.marks_at import KIND_WORDS
from hotfolder.checks.shared.marks.text_clips import text_clips
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.model.pages import Page
from hotfolder.units import mm_to_pt

# A gap shorter than this, along the edge, is a seam between tiles or the end of a line, where nobody
# sees a white edge (own choice).
SHORTEST: Final = mm_to_pt(1)
# Paint is looked for at these steps between the trim and the end of the bleed.
_STEP: Final = mm_to_pt(0.5)
# Told as ending on other paint: pictures and areas along at least this share of an edge, and of
# those the longest, since an illustration may have thousands (own choice).
_SHARE: Final = 1 / 3
_MOST_ON_TOP: Final = 50


@dataclass(frozen=True, slots=True)
class WantedBleed:
    """How much bleed is enough, and how near to the trim paint counts as touching it, in points."""

    tolerance: float
    enough: float

    def depths(self) -> list[float]:
        """Where paint is looked for beyond the trim: from the tolerance to what is enough, in small steps."""
        if self.enough <= self.tolerance:
            return [self.enough]
        steps = max(1, math.ceil((self.enough - self.tolerance) / _STEP - 0.01))
        return [self.tolerance + (self.enough - self.tolerance) * step / steps for step in range(steps + 1)]


class EndOfPaint(Enum):
    """What ends the artwork at the cut, where it is not simply too small."""

    ITSELF = "itself"
    FRAME = "its frame or mask"
    COVER = "something white that lies over it"
    WHITE = "its own white"


@dataclass(frozen=True, slots=True)
class Shortfall:
    """What is wrong at one edge: the code, how far paint or box reaches there, where, and what it is.

    end: what ends it there, where there is enough of it all the same.
    """

    code: str
    edge: Edge
    reach: float
    stretches: tuple[Stretch, ...]
    what: tuple[str, ...] = ()
    end: EndOfPaint = EndOfPaint.ITSELF


@dataclass(frozen=True, slots=True)
class PaintedAreas:
    """The paint of one page as its boxes show it: areas, and what else shows, both in painting order.

    Lines, text and white are no areas; they say what it may be that touches the trim besides.
    """

    areas: tuple[tuple[int, Mark], ...]
    others: tuple[tuple[int, Mark], ...]

    @classmethod
    def of(cls, marks: Sequence[Mark]) -> "PaintedAreas":
        """What shows of `marks`; what is seen through letters is as little an area as letters are."""
        areas: list[tuple[int, Mark]] = []
        others: list[tuple[int, Mark]] = []
        through_letters = text_clips(marks).painted
        for order, mark in enumerate(marks):
            if mark.shows:
                is_area = paints_area(mark) and order not in through_letters
                (areas if is_area else others).append((order, mark))
        return cls(tuple(areas), tuple(others))

    def shown(self, edge: Edge, trim: Box) -> list[Reach]:
        """The areas as they are seen from an edge, as clip and page leave them."""
        return reaches(edge, trim, [(order, mark, mark.visible or mark.box) for order, mark in self.areas])

    def white(self, edge: Edge, trim: Box) -> list[Reach]:
        """All that is white, but for text, as it is seen from an edge."""
        white = [
            (order, mark) for order, mark in self.others if mark.white and mark.kind is not MarkKind.TEXT
        ]
        return reaches(edge, trim, [(order, mark, mark.visible or mark.box) for order, mark in white])

    @staticmethod
    def drawn(edge: Edge, trim: Box, shown: Iterable[Reach]) -> list[Reach]:
        """Those of the areas `shown`, as they were drawn: without what clips them."""
        return reaches(edge, trim, [(reach.order, reach.mark, reach.mark.box) for reach in shown])


def short_by_marks(
    page: Page, trim: Box, edge: Edge, areas: PaintedAreas, wanted: WantedBleed
) -> Iterator[Shortfall]:
    """What is wrong at an edge, as far as boxes tell it."""
    shown = areas.shown(edge, trim)
    touched = touched_by_marks(shown, wanted.tolerance)
    missing = without(touched, painted(shown, wanted.depths()), SHORTEST)
    if not missing:
        yield from other_faults(page, trim, edge, shown, touched, wanted)
        return
    touching = [reach for reach in shown if reach.covers(-wanted.tolerance)]
    not_drawn = without(missing, painted(areas.drawn(edge, trim, touching), wanted.depths()), SHORTEST)
    cut = without(missing, not_drawn, SHORTEST)
    if not_drawn:
        yield _short("not-drawn", edge, not_drawn, touching)
    if cut:
        ends = page_ends(page, trim, edge, wanted)
        yield _short(
            "cut-off" if ends else "not-drawn",
            edge,
            cut,
            touching,
            EndOfPaint.ITSELF if ends else EndOfPaint.FRAME,
        )


def touched_by_marks(shown: Sequence[Reach], tolerance: float) -> list[Stretch]:
    """Where areas touch the trim. A line that lies along the edge is no area; strips side by side are."""
    return painted(shown, [-tolerance, -max(tolerance, LINE)])


def page_ends(page: Page, trim: Box, edge: Edge, wanted: WantedBleed) -> bool:
    """Whether the page in the file leaves no room for the bleed."""
    return page.boxes.media is not None and page.boxes.media.beyond(edge, trim) < wanted.enough


def lying_along(stretches: Sequence[Stretch], touching: Iterable[Reach]) -> list[Reach]:
    """Those of the marks that touch the trim which lie along `stretches`, merged ones."""
    return [reach for reach in touching if meet(reach.stretch, stretches)]


def kinds_of(guilty: Iterable[Reach]) -> tuple[str, ...]:
    """What the marks are, in words."""
    return tuple(dict.fromkeys(KIND_WORDS[reach.mark.kind] for reach in guilty))


def other_faults(
    page: Page, trim: Box, edge: Edge, shown: Sequence[Reach], touched: Sequence[Stretch], wanted: WantedBleed
) -> Iterator[Shortfall]:
    """What is wrong at an edge where all paint that touches it, along `touched`, runs on."""
    if touched and page.boxes.bleed is not None:
        boxed = page.boxes.bleed.beyond(edge, trim)
        if boxed < wanted.enough:
            yield Shortfall("box-short", edge, max(0.0, boxed), tuple(touched))
    ending = _ending_on_paint(edge, trim, shown, wanted)
    on_top = [reach for reach in ending if meet(reach.stretch, touched)]
    if on_top:
        yield _short("ends-on-paint", edge, merged(reach.stretch for reach in on_top), on_top)


def _short(
    code: str,
    edge: Edge,
    stretches: Sequence[Stretch],
    touching: Sequence[Reach],
    end: EndOfPaint = EndOfPaint.ITSELF,
) -> Shortfall:
    guilty = lying_along(stretches, touching)
    reach = min((max(0.0, reach.outer) for reach in guilty), default=0.0)
    return Shortfall(code, edge, reach, tuple(stretches), kinds_of(guilty), end)


def _ending_on_paint(edge: Edge, trim: Box, shown: Sequence[Reach], wanted: WantedBleed) -> Iterator[Reach]:
    """Marks that end at the trim while paint of another colour, that lies beneath them, runs on."""
    start, end = along(edge, trim)
    ending = [
        reach
        for reach in shown
        if reach.covers(-wanted.tolerance)
        and abs(reach.outer) <= wanted.tolerance
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
                other.order > reach.order
                or -other.inner <= wanted.tolerance
                or _same_colour(other.mark, reach.mark)
            )
        ]
        if without([reach.stretch], painted(goes_on, wanted.depths()), SHORTEST):
            yield reach


def _same_colour(one: Mark, other: Mark) -> bool:
    return one.fill is not None and one.fill == other.fill and bool(one.fill.components)
