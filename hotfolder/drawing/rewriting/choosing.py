"""Lets paints fill or stroke from here on, and what holds when that which changes colours is set anew."""

from hotfolder.drawing.rewriting.paints import Chosen, PatternPaint, RewrittenPaint, Solid
from hotfolder.drawing.rewriting.rewriter import Rewriter
from hotfolder.drawing.spaces.changed import ChangedSpace
from hotfolder.drawing.spaces.space import PaintSpace


def choose(rewriter: Rewriter, paint: RewrittenPaint, space: PaintSpace, *, stroke: bool) -> None:
    """Makes `paint`, of a colour space, the current colour for filling or stroking."""
    remember_space(rewriter, space, stroke=stroke)
    _set_paint(rewriter, paint, stroke=stroke)


def _set_paint(rewriter: Rewriter, paint: RewrittenPaint, *, stroke: bool) -> None:
    if stroke:
        rewriter.state.stroke = paint
    else:
        _fill_with(rewriter, paint)
    rewriter.emit(Chosen(paint, stroke=stroke))


def _fill_with(rewriter: Rewriter, paint: RewrittenPaint) -> None:
    switches = isinstance(paint, PatternPaint) != isinstance(rewriter.state.fill, PatternPaint)
    if switches:
        rewriter.text_as_paths(on=False)
    rewriter.state.fill = paint
    if switches:
        rewriter.text_as_paths(on=True)


def choose_changed(rewriter: Rewriter) -> None:
    """Changes the current colours as those will be that are set from here on (see `Rewriter.change`)."""
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
            rewriter.record.tinted = True
            _set_paint(rewriter, solid, stroke=stroke)


def remember_space(rewriter: Rewriter, space: PaintSpace, *, stroke: bool) -> None:
    """Makes `space` the current colour space for filling or stroking."""
    if stroke:
        rewriter.state.stroke_space = space
    else:
        rewriter.state.fill_space = space
