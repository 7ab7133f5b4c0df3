"""Bleed judged by the plates: where ink touches the trim, and how far it runs on beyond it.

The plates see what boxes cannot: round shapes, gaps in a picture, white that lies over a ground. They do not
see what it is that was painted, so the marks are asked: text and thin lines are other rules' business, the
white parts of a photo that runs on are no gap, and what fades out has no edge.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise
from typing import Final

from hotfolder.checks.shared.marks.edges import (
    LINE,
    Reach,
    Stretch,
    band,
    meet,
    merged,
    painted,
    reaches,
    shared,
    without,
)
from hotfolder.checks.shared.marks.marks_at import KIND_WORDS
from hotfolder.checks.shared.plates.inked_places import NEXT_TO_NOTHING, inked_along, mean_ink
from hotfolder.checks.size.bleed_reach.by_marks import (
    SHORTEST,
    EndOfPaint,
    PaintedAreas,
    Shortfall,
    WantedBleed,
    kinds_of,
    lying_along,
    other_faults,
    page_ends,
    touched_by_marks,
)
from hotfolder.model.colour import ColourKind
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT, EdgePaint, PageInk
from hotfolder.model.marks import Mark, MarkKind, Masking
from hotfolder.model.pages import Page
from hotfolder.units import mm_to_pt

# A plate's pixel is a third of a millimetre; boxes are exact, and are believed where they are this near.
_NEAR: Final = mm_to_pt(0.5)
_HALF_PIXEL: Final = mm_to_pt(1 / 6)

# The slanted or round end of something that runs on, or all that pokes out of it: its reach grows from
# nothing and perhaps falls again, without leaps and without staying the same for long (own choices; what
# leaves the page at less than 5 degrees lies along it).
_LEAP: Final = mm_to_pt(1.2)
_RISE: Final = mm_to_pt(1)
_DOME: Final = mm_to_pt(0.6)
_LEVEL: Final = mm_to_pt(4)
_LEVEL_WITHIN: Final = mm_to_pt(0.35)
_LEVEL_SHARE: Final = 0.6
_SAME: Final = mm_to_pt(0.1)

# A straight end of paint inside a shape that runs on is a fault of its making; a ragged one is its own white
# (own choice).
_STRAIGHT: Final = mm_to_pt(5)

# What fades out carries at the cut less than half of what it has 3 mm inside, or next to nothing (own
# choice).
_INSIDE: Final = mm_to_pt(3)
_FADED: Final = 0.5


@dataclass(frozen=True, slots=True)
class _Gap:
    """A stretch of an edge along which ink touches the trim and ends too early; its reach step by step."""

    stretch: Stretch
    reaches: tuple[float, ...]
    step: float

    @property
    def reach(self) -> float:
        """The least reach; of something round, whose arc ends at the cut, how far it pokes out."""
        return max(self.reaches) if _is_dome(self.reaches) else min(self.reaches)

    @property
    def straight(self) -> float:
        """How long its longest part is that ends in a line along the cut, in points."""
        return _longest_level(self.reaches) * self.step


class EdgeOfPaint:
    """One edge of a page's trim, with the ink that touches it and the marks that may have laid it."""

    def __init__(self, page: Page, ink: PageInk, trim: Box, paint: EdgePaint, areas: PaintedAreas) -> None:
        self._page = page
        self._ink = ink
        self._trim = trim
        self._paint = paint
        self._areas = areas
        self._edge = paint.edge
        self._shown = areas.shown(paint.edge, trim)

    def shortfalls(self, wanted: WantedBleed) -> Iterator[Shortfall]:
        """What is wrong here, as the ink on paper tells it."""
        gaps = [(gap, guilty) for gap, guilty in self._gaps(wanted) if self._is_fault(gap, guilty, wanted)]
        if not gaps:
            inked = _steps_where(self._paint, inked=True)
            touched = shared(inked, touched_by_marks(self._shown, wanted.tolerance))
            yield from other_faults(self._page, self._trim, self._edge, self._shown, touched, wanted)
            return
        missing = merged(_snapped(gap, guilty) for gap, guilty in gaps)
        # What ends further inside, in a frame of its own, is not what ends here.
        touching = [reach for reach in self._shown if reach.covers(-wanted.tolerance)]
        drawn = painted(self._areas.drawn(self._edge, self._trim, touching), wanted.depths())
        not_drawn = without(missing, drawn, SHORTEST)
        cut = without(missing, not_drawn, SHORTEST)
        if not_drawn:
            yield self._shortfall("not-drawn", not_drawn, gaps)
        if cut and page_ends(self._page, self._trim, self._edge, wanted):
            yield self._shortfall("cut-off", cut, gaps)
        elif cut:
            # It is large enough: it ends in its frame, under something white, or in its own round shape.
            framed = without(cut, painted(self._shown, wanted.depths()), SHORTEST)
            within = without(cut, framed, SHORTEST)
            if framed:
                yield replace(self._shortfall("not-drawn", framed, gaps), end=EndOfPaint.FRAME)
            if within:
                shortfall = self._shortfall("not-drawn", within, gaps)
                own = EndOfPaint.WHITE if KIND_WORDS[MarkKind.IMAGE] in shortfall.what else EndOfPaint.ITSELF
                yield replace(shortfall, end=EndOfPaint.COVER if self._is_hidden(within, wanted) else own)

    def _gaps(self, wanted: WantedBleed) -> Iterator[tuple[_Gap, list[Reach]]]:
        """The stretches where ink ends too early, each with the areas that touch the trim there."""
        touching = [reach for reach in self._shown if reach.covers(-wanted.tolerance)]
        for gap in (*_short_steps(self._paint, wanted), *self._stops_before(touching, wanted)):
            guilty = lying_along([gap.stretch], touching)
            if guilty:
                yield gap, guilty

    def _stops_before(self, touching: Sequence[Reach], wanted: WantedBleed) -> Iterator[_Gap]:
        """Where areas that are known to fill their box stop a hair inside the trim: no ink touches it."""
        stopping = merged(
            stretch
            for reach in touching
            if -wanted.tolerance <= reach.outer < 0
            and reach.mark.solid is not None
            and reach.mark.solid.beyond(self._edge, self._trim) >= reach.outer - _SAME
            for stretch in self._inked_along(reach)
        )
        step = self._paint.step_pt
        for start, end in shared(_steps_where(self._paint, inked=False), stopping):
            if end - start >= SHORTEST:
                yield _Gap((start, end), (0.0,) * max(1, round((end - start) / step)), step)

    def _inked_along(self, reach: Reach) -> Iterator[Stretch]:
        """Where an area has ink at its end; a picture may be white there, and fills its box all the same."""
        if reach.mark.image is None:
            yield reach.stretch
        else:
            yield from inked_along(self._ink, self._edge, self._trim, reach.stretch, -CELL_PT)

    def _is_fault(self, gap: _Gap, guilty: list[Reach], wanted: WantedBleed) -> bool:
        """Whether it is an area that ends there, and none that fades out or is white in itself."""
        if not any(_fills_its_box(reach.mark) for reach in guilty) and self._is_text_or_line(gap, wanted):
            return False
        if any(_is_soft(reach.mark) for reach in guilty) and self._fades(gap.stretch):
            return False
        running_on = [reach for reach in guilty if reach.mark.solid is None or reach.mark.image is not None]
        if without([gap.stretch], painted(running_on, wanted.depths()), SHORTEST):
            return True
        if self._is_hidden([gap.stretch], wanted):
            return True
        # A gradient fades by itself, and between the figures of a pattern it is bare.
        tiled = {reach.mark.box for reach in running_on if _is_patterned(reach.mark)}
        own = all(reach.mark.kind is MarkKind.SHADING or reach.mark.box in tiled for reach in running_on)
        return not own and gap.straight >= _STRAIGHT

    def _is_text_or_line(self, gap: _Gap, wanted: WantedBleed) -> bool:
        """Whether text or lines may be all that touches the trim there."""
        boxes = [(order, mark, _inked(mark)) for order, mark in self._areas.others if not mark.white]
        near = merged(
            reach.stretch
            for reach in reaches(self._edge, self._trim, boxes)
            if reach.covers(-wanted.tolerance) and (reach.mark.text is not None or _is_line(reach))
        )
        return not without([gap.stretch], near, SHORTEST)

    def _is_hidden(self, stretches: Sequence[Stretch], wanted: WantedBleed) -> bool:
        """Whether something white lies over the bleed there."""
        white = self._areas.white(self._edge, self._trim)
        middle = wanted.enough / 2
        return any(reach.covers(middle) and meet(reach.stretch, stretches) for reach in white)

    def _fades(self, stretch: Stretch) -> bool:
        """Whether what touches the trim there becomes paler and paler towards it."""
        at_cut = mean_ink(self._ink, band(self._edge, self._trim, stretch, -CELL_PT))
        deeper = mean_ink(self._ink, band(self._edge, self._trim.grown(-_INSIDE), stretch, -CELL_PT))
        return at_cut < NEXT_TO_NOTHING or at_cut < deeper * _FADED

    def _shortfall(
        self, code: str, stretches: Sequence[Stretch], gaps: Sequence[tuple[_Gap, list[Reach]]]
    ) -> Shortfall:
        here = [(gap, guilty) for gap, guilty in gaps if meet(gap.stretch, stretches)]
        reach = min((_exact(gap, guilty) for gap, guilty in here), default=0.0)
        guilty = [reach for _, marks_there in here for reach in marks_there]
        return Shortfall(code, self._edge, reach, tuple(stretches), kinds_of(guilty))


def _steps_where(paint: EdgePaint, *, inked: bool) -> list[Stretch]:
    """The stretches of an edge where ink touches the trim, or where none does."""
    return merged(
        (paint.start + at * paint.step_pt, paint.start + (at + 1) * paint.step_pt)
        for at, reach in enumerate(paint.reach_pt)
        if (reach is not None) is inked
    )


def _short_steps(paint: EdgePaint, wanted: WantedBleed) -> Iterator[_Gap]:
    """Steps side by side in which ink touches the trim and ends too early, but for slanted ends."""
    step, reach = paint.step_pt, paint.reach_pt
    enough = wanted.enough - min(step / 2, _HALF_PIXEL)
    at = 0
    for shortfall, steps in groupby(reach, key=lambda each: each is not None and each < enough):
        first, at = at, at + len(list(steps))
        steps_inked = tuple(each for each in reach[first:at] if each is not None)
        if not shortfall or len(steps_inked) * step < SHORTEST - _SAME:
            continue
        before = reach[first - 1] if first else 0.0
        after = reach[at] if at < len(reach) else 0.0
        if not _is_slanted_or_round(before, steps_inked, after, step):
            start = paint.start + first * step
            yield _Gap((start, start + len(steps_inked) * step), steps_inked, step)


def _is_slanted_or_round(
    before: float | None, reaches_pt: Sequence[float], after: float | None, step: float
) -> bool:
    """Whether it is the end of something that runs on aslant, or something round that pokes out.

    before, after: the reach beside it; where it is None, no paint touches the trim there.
    """
    if _longest_level(reaches_pt) * step > min(_LEVEL, len(reaches_pt) * step * _LEVEL_SHARE + step):
        return False
    if before is None and _grows(reaches_pt, after, _RISE):
        return True
    if after is None and _grows(reaches_pt[::-1], before, _RISE):
        return True
    return before is None and after is None and _is_dome(reaches_pt)


def _is_dome(reaches_pt: Sequence[float]) -> bool:
    """Whether the reach grows from next to nothing, and falls back to it."""
    top = reaches_pt.index(max(reaches_pt))
    return _grows(reaches_pt[: top + 1], None, _DOME) and _grows(reaches_pt[top:][::-1], None, _DOME)


def _longest_level(reaches_pt: Sequence[float]) -> int:
    """How many steps, side by side, end at the same distance from the cut at the most."""
    longest = first = 0
    for at, each in enumerate(reaches_pt):
        if abs(each - reaches_pt[first]) > _LEVEL_WITHIN:
            first = at
        longest = max(longest, at - first + 1)
    return longest


def _grows(reaches_pt: Sequence[float], on: float | None, rise: float) -> bool:
    """Whether the reach grows from nothing, by `rise` or more, and goes `on` growing where that is known."""
    rising = reaches_pt if on is None else (*reaches_pt, on)
    leaps = [later - earlier for earlier, later in pairwise(rising)]
    return (
        rising[0] <= _LEAP and rising[-1] - rising[0] >= rise and min(leaps) >= -_SAME and max(leaps) <= _LEAP
    )


def _fills_its_box(mark: Mark) -> bool:
    """Whether paint is known to be everywhere in a mark's box."""
    plain_picture = mark.image is not None and mark.image.masking is Masking.NONE
    return mark.solid is not None or plain_picture


def _is_soft(mark: Mark) -> bool:
    """Whether a mark may fade out."""
    masked = mark.image is not None and mark.image.masking is Masking.SOFT
    return masked or mark.kind is MarkKind.SHADING or mark.state.soft_mask


def _inked(mark: Mark) -> Box:
    """Where text or a line may put ink."""
    return (mark.text.visible_ink if mark.text is not None else None) or mark.visible or mark.box


def _is_line(reach: Reach) -> bool:
    """Whether a mark is one thin line, or runs along the cut; crop marks are often one path around it all."""
    box = reach.mark.box
    return min(box.width, box.height) < LINE or abs(reach.outer) <= LINE


def _exact(gap: _Gap, guilty: Sequence[Reach]) -> float:
    """How far the paint of a gap reaches: a mark's own figure where the plates agree with it."""
    patterned = [reach.outer for reach in guilty if _is_patterned(reach.mark) and reach.outer >= gap.reach]
    if patterned:
        return min(patterned)  # between the figures of a pattern it is bare, and runs on all the same
    near = [reach.outer for reach in guilty if abs(reach.outer - gap.reach) <= _NEAR]
    return max(0.0, min(near, key=lambda outer: abs(outer - gap.reach), default=gap.reach))


def _is_patterned(mark: Mark) -> bool:
    """Whether an area is filled with a pattern of tiles; a gradient has no gaps."""
    is_pattern = mark.fill is not None and mark.fill.space.kind is ColourKind.PATTERN
    return mark.kind is MarkKind.PATH and is_pattern


def _snapped(gap: _Gap, guilty: Sequence[Reach]) -> Stretch:
    """The gap's stretch, with the ends of the marks that it is about where the plates agree with them."""
    near = max(_NEAR, gap.step)
    start, end = gap.stretch
    starts = [reach.stretch[0] for reach in guilty if abs(reach.stretch[0] - start) <= near]
    ends = [reach.stretch[1] for reach in guilty if abs(reach.stretch[1] - end) <= near]
    return min(starts, default=start), max(ends, default=end)
