"""Lets paints fill or stroke from here on, and what holds when that which changes colours is set anew."""

from hotfolder.drawing.rewriting.paints import Chosen, PatternPaint, RewrittenPaint, Solid
from hotfolder.drawing.rewriting.rewriter import Rewriter
from hotfolder.drawing.spaces.changed import ChangedSpace
from hotfolder.drawing.spaces.space import PaintSpace


def choose(rewriter: Rewriter, paint: RewrittenPaint, space: PaintSpace, *, stroke: bool) -> None:
    """Lets `paint` fill or stroke from here on."""
    state = rewriter.state
    if stroke:
        state.stroke = paint
    else:
        _fill_with(rewriter, paint)
    remember_space(rewriter, space, stroke=stroke)
    rewriter.emit(Chosen(paint, stroke=stroke))


def _fill_with(rewriter: Rewriter, paint: RewrittenPaint) -> None:
    switches = isinstance(paint, PatternPaint) != isinstance(rewriter.state.fill, PatternPaint)
    if switches:
        rewriter.text_as_paths(on=False)
    rewriter.state.fill = paint
    if switches:
        rewriter.text_as_paths(on=True)


def choose_changed(rewriter: Rewriter) -> None:
    """Lets the colours that hold change as those do that are chosen from here on."""
    if rewriter.uncoloured:
        return
    for stroke in (False, True):
        paint = rewriter.state.stroke if stroke else rewriter.state.fill
        if not isinstance(paint, Solid):
            continue
        base = paint.space.base if isinstance(paint.space, ChangedSpace) else paint.space
        space = rewriter.changed(base)
        if space is not paint.space:
            solid = rewriter.context.solid(space, paint.components, paint.intent)
            choose(rewriter, solid, base, stroke=stroke)


def remember_space(rewriter: Rewriter, space: PaintSpace, *, stroke: bool) -> None:
    """Lets `space` be the one that colour components count in from here on."""
    if stroke:
        rewriter.state.stroke_space = space
    else:
        rewriter.state.fill_space = space
