"""Operators that build, paint and clip with paths (ISO 32000-2, 8.5)."""

from collections.abc import Callable

from hotfolder.artwork import Mark, MarkKind, ProblemKind
from hotfolder.pdf.colour_spaces import is_white
from hotfolder.pdf.content import Content, Operands
from hotfolder.pdf.outline import Outline, Segment
from hotfolder.pdf.patterns import paint_cells
from hotfolder.pdf.stroke import stroke_bounds

_NO_POINT = "a line is drawn from nowhere and was left out"


def move(content: Content, operands: Operands) -> None:
    """`m`: begins a subpath."""
    found = content.numbers(operands, 2)
    if found is not None:
        content.outline.move(content.state.ctm.point(*found))


def line(content: Content, operands: Operands) -> None:
    """`l`: a straight segment."""
    found = content.numbers(operands, 2)
    if found is not None:
        _draw(content, (content.state.ctm.point(*found),))


def curve(content: Content, operands: Operands) -> None:
    """`c`: a Bezier curve by two control points and its end."""
    found = content.numbers(operands, 6)
    if found is not None:
        x1, y1, x2, y2, x3, y3 = found
        point = content.state.ctm.point
        _draw(content, (point(x1, y1), point(x2, y2), point(x3, y3)))


def curve_from_here(content: Content, operands: Operands) -> None:
    """`v`: a curve whose first control point is where it begins."""
    found = content.numbers(operands, 4)
    if found is None:
        return
    x2, y2, x3, y3 = found
    point = content.state.ctm.point
    subpaths = content.outline.subpaths
    first = subpaths[-1].end if subpaths else point(x2, y2)
    _draw(content, (first, point(x2, y2), point(x3, y3)))


def curve_to_there(content: Content, operands: Operands) -> None:
    """`y`: a curve whose second control point is where it ends."""
    found = content.numbers(operands, 4)
    if found is not None:
        x1, y1, x3, y3 = found
        end = content.state.ctm.point(x3, y3)
        _draw(content, (content.state.ctm.point(x1, y1), end, end))


def close(content: Content, _operands: Operands) -> None:
    """`h`: closes the subpath."""
    content.outline.close()


def rectangle(content: Content, operands: Operands) -> None:
    """`re`: a whole rectangle."""
    found = content.numbers(operands, 4)
    if found is not None:
        x, y, width, height = found
        content.outline.rectangle(content.state.ctm, x, y, width, height)


def painter(*, fill: bool = False, stroke: bool = False, closing: bool = False) -> Callable[..., None]:
    """The handler of a path-painting operator (8.5.3).

    The two winding rules paint inside the same box, so that `f` and `f*` share one.
    """

    def paint(content: Content, _operands: Operands) -> None:
        if closing:
            content.outline.close()
        if fill or stroke:
            _paint(content, fill=fill, stroke=stroke)
        _end(content)

    return paint


def clip(content: Content, _operands: Operands) -> None:
    """`W`, `W*`: the path clips, once the painting operator that must follow is through (8.5.4)."""
    content.outline.clips = True


def _draw(content: Content, segment: Segment) -> None:
    if not content.outline.draw(segment):
        content.note(ProblemKind.DAMAGED, _NO_POINT)


def _paint(content: Content, *, fill: bool, stroke: bool) -> None:
    state, outline = content.state, content.outline
    box = stroke_bounds(outline, state.line, state.ctm) if stroke else outline.bounds()
    if box is None or not content.box_is_sound(box):
        return
    laid = state.laid_over
    both = ((state.fill, laid.fill_opacity, fill), (state.stroke, laid.stroke_opacity, stroke))
    paints = [(paint, opacity) for paint, opacity, used in both if used]
    overprints = (fill and state.own.overprint_fill) or (stroke and state.own.overprint_stroke)
    mark = Mark(
        kind=MarkKind.PATH,
        box=box,
        visible=content.visible(box),
        source=content.source,
        fill=state.fill.colour if fill else None,
        stroke=state.stroke.colour if stroke else None,
        state=laid,
        printed=content.printed,
        white=not overprints and content.opaque and all(is_white(paint.colour) for paint, _ in paints),
        line_width_pt=state.line.width * state.ctm.least_stretch if stroke else None,
        layers=content.layers,
    )
    content.ledger.add(mark)
    for paint, opacity in paints:
        paint_cells(content, paint, opacity, mark)


def _end(content: Content) -> None:
    """Ends the path: clips with it where that was asked, and begins a new one."""
    outline = content.outline
    content.outline = Outline()
    if outline.clips:
        box = outline.bounds()
        # Without a path there is nothing to clip with; readers in use leave the clip as it is.
        if box is not None and content.box_is_sound(box):
            content.clip_to(box)
