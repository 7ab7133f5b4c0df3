"""Operators that build, paint and clip with paths (ISO 32000-2, 8.5)."""

from hotfolder.errors import LimitReachedError
from hotfolder.model.facts import ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.pdf.colour.colour_spaces import is_white
from hotfolder.pdf.content.content import Content, Handler, Operands
from hotfolder.pdf.content.graphics_state import Paint, seen_through
from hotfolder.pdf.content.operators.patterns import paint_cells
from hotfolder.pdf.content.shadings import LaidShading
from hotfolder.pdf.content.slivers import Shape, shape_of
from hotfolder.pdf.content.stroke import stroke_bounds, stroke_width
from hotfolder.pdf.language.operators import PathPainting
from hotfolder.pdf.objects.limits import PATH_PARTS, PIECES_PER_PATH
from hotfolder.pdf.objects.outline import Outline, Segment

LEAST_PIECES = 2
_NO_POINT = "a line is drawn from nowhere and was left out"


def move(content: Content, operands: Operands) -> None:
    """`m`: begins a subpath."""
    start = content.numbers(operands, 2)
    if start is not None:
        content.outline.move(content.state.ctm.point(*start))
        _keep_within_limit(content.outline)


def line(content: Content, operands: Operands) -> None:
    """`l`: a straight segment."""
    end = content.numbers(operands, 2)
    if end is not None:
        _draw(content, (content.state.ctm.point(*end),))


def curve(content: Content, operands: Operands) -> None:
    """`c`: a Bezier curve by two control points and its end."""
    coordinates = content.numbers(operands, 6)
    if coordinates is not None:
        x1, y1, x2, y2, x3, y3 = coordinates
        point = content.state.ctm.point
        _draw(content, (point(x1, y1), point(x2, y2), point(x3, y3)))


def curve_from_here(content: Content, operands: Operands) -> None:
    """`v`: a curve whose first control point is where it begins."""
    coordinates = content.numbers(operands, 4)
    if coordinates is None:
        return
    x2, y2, x3, y3 = coordinates
    point = content.state.ctm.point
    subpaths = content.outline.subpaths
    first = subpaths[-1].end if subpaths else point(x2, y2)
    _draw(content, (first, point(x2, y2), point(x3, y3)))


def curve_to_there(content: Content, operands: Operands) -> None:
    """`y`: a curve whose second control point is where it ends."""
    coordinates = content.numbers(operands, 4)
    if coordinates is not None:
        x1, y1, x3, y3 = coordinates
        end = content.state.ctm.point(x3, y3)
        _draw(content, (content.state.ctm.point(x1, y1), end, end))


def close(content: Content, _operands: Operands) -> None:
    """`h`: closes the subpath."""
    content.outline.close()


def rectangle(content: Content, operands: Operands) -> None:
    """`re`: a whole rectangle."""
    sides = content.numbers(operands, 4)
    if sides is not None:
        x, y, width, height = sides
        content.outline.rectangle(content.state.ctm, x, y, width, height)
        _keep_within_limit(content.outline)


def painter(painting: PathPainting) -> Handler:
    """The handler of an operator that does as `painting` says."""

    def paint(content: Content, _operands: Operands) -> None:
        if painting.closes:
            content.outline.close()
        if painting.fill or painting.stroke:
            _paint(content, fill=painting.fill, stroke=painting.stroke, even_odd=painting.even_odd)
        _end(content)

    return paint


def clip(content: Content, _operands: Operands) -> None:
    """`W`, `W*`: the path becomes part of the clip after the painting operator that must follow (8.5.4)."""
    content.outline.clips = True


def _draw(content: Content, segment: Segment) -> None:
    if not content.outline.draw(segment):
        content.note(ProblemKind.DAMAGED, _NO_POINT)
    _keep_within_limit(content.outline)


def _keep_within_limit(outline: Outline) -> None:
    """Ends the reading of a page at a path of too many points: they stay in memory until it is painted."""
    if outline.parts > PATH_PARTS:
        raise LimitReachedError(f"reading stopped at a path of more than {PATH_PARTS:,} points")


def _paint(content: Content, *, fill: bool, stroke: bool, even_odd: bool) -> None:
    state, outline = content.state, content.outline
    box = stroke_bounds(outline, state.line, state.ctm) if stroke else outline.bounds()
    if box is None or not content.box_is_sound(box):
        return
    laid = state.laid_over
    filling, stroking = state.fill if fill else None, state.stroke if stroke else None
    shading = filling.shading if filling is not None and not stroke else None
    if shading is not None:
        box = shading.bounds(box) or box  # a gradient may end before the area does that it fills
    solid = None
    # Filled and stroked at once, a stroke that is not opaque takes the fill beneath it away (11.7.4.4).
    if filling is not None and not (stroke and laid.stroke_opacity < 1):
        solid = content.solid(outline.upright(), filling)
    visible, unseen = state.visible_part(box) if shading is None else _shaded(content, box, shading)
    around = content.around
    shape = shape_of(outline.drawn(), content.ledger, even_odd=even_odd) if fill and not stroke else Shape()
    mark = Mark(
        kind=MarkKind.PATH,
        box=box,
        visible=visible,
        source=content.source,
        fill=filling.colour if filling is not None else None,
        stroke=stroking.colour if stroking is not None else None,
        state=laid,
        printed=not around.hidden,
        white=_is_white(content, filling, stroking),
        line_width_pt=stroke_width(outline, state.line, state.ctm) if stroke else None,
        layers=around.layers,
        solid=solid,
        even=filling is not None and not stroke and content.even(outline.upright(), filling),
        pieces=_pieces(content),
        sides=outline.sides(),
        sliver_pt=shape.sliver_pt,
        hollow=shape.hollow,
        unseen=unseen,
    )
    # Scaled unevenly, the width of a line depends on its outline.
    content.ledger.add(mark, state.ctm if shading is None and not stroke else None)
    if filling is not None and filling.pattern is not None:
        paint_cells(content, filling, laid.fill_opacity, mark)
    if stroking is not None and stroking.pattern is not None:
        paint_cells(content, stroking, laid.stroke_opacity, mark)


def _pieces(content: Content) -> tuple[Box, ...]:
    """The boxes of the path's subpaths, where there are some and not too many."""
    count, ledger = len(content.outline.subpaths), content.ledger
    if not LEAST_PIECES <= count <= min(PIECES_PER_PATH, ledger.pieces_left):
        return ()
    ledger.pieces_left -= count
    boxes = tuple(content.outline.pieces())
    return boxes if len(boxes) >= LEAST_PIECES else ()


def _is_white(content: Content, filling: Paint | None, stroking: Paint | None) -> bool:
    """Whether all that is painted is white and knocks out what lies beneath."""
    own = content.state.own
    if filling is not None and (own.overprint_fill or not is_white(filling.colour)):
        return False
    if stroking is not None and (own.overprint_stroke or not is_white(stroking.colour)):
        return False
    return content.opaque


def _shaded(content: Content, box: Box, shading: LaidShading) -> tuple[Box | None, bool]:
    """As `GraphicsState.visible_part`, for an area filled with a shading, which may not reach all of it."""
    seen, unseen = content.state.visible_part(box)
    painted = shading.bounds(seen) if seen is not None else None
    return seen_through(box, painted), unseen


def _end(content: Content) -> None:
    """Ends the path: clips with it after `W` or `W*`, and begins a new one."""
    outline = content.outline
    content.outline = Outline()
    if outline.clips:
        # Without a path there is nothing to clip with: readers in use leave the clip as it is. A path
        # that is no more than a point leaves nothing.
        box = outline.bounds()
        if box is None and not outline.empty:
            content.clip_to(None)
        elif box is not None and content.box_is_sound(box):
            content.clip_to(box, exact=outline.upright() is not None)
