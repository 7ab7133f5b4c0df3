"""Operators that build rectangles and paint paths (ISO 32000-2, 8.5); all other paths are copied."""

from typing import Final

from hotfolder.drawing.rewriting.overprint import EVERY_PLATE, Touched
from hotfolder.drawing.rewriting.rewriter import Rewriter
from hotfolder.drawing.rewriting.scan import numbers_in
from hotfolder.drawing.rewriting.scripts import PaintedPath, painting

# The renderer lays an upright rectangle on whole pixels and rounds up: half a pixel too many each way, and a
# thin rule comes out up to four times as heavy. One with another speck of a path in it is drawn with soft
# edges, and as heavy as it is. Wide ones are left alone, as that matters little to them; and so are those
# side by side, which would have seams.
_WIDE_PX: Final = 64

_WHOLE: Final = 0.999  # of a cell, as numbers are rounded

_FILLS: Final = frozenset({b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*"})
_STROKES: Final = frozenset({b"S", b"s", b"B", b"B*", b"b", b"b*"})


def rectangle(rewriter: Rewriter, operands: bytes, _operator: bytes) -> None:
    """`re`."""
    numbers = numbers_in(operands)[-4:]
    if len(numbers) < 4:
        return
    x, y, width, height = numbers
    ctm, scale = rewriter.state.ctm, rewriter.bench.pixels_per_pt
    across, up = abs(width) * ctm.x_length * scale, abs(height) * ctm.y_length * scale
    wide = min(across, up) > _WIDE_PX
    rewriter.emit(b"%b re" % operands)
    if not (wide or _fills_cell(rewriter, width, height) or rewriter.abuts(x, y, width, height)):
        rewriter.emit(b" %b %b m h" % tuple(operands.split()[-4:-2]))


def _fills_cell(rewriter: Rewriter, width: float, height: float) -> bool:
    """Whether a rectangle fills a pattern's cell: it meets itself in the next one, on all sides."""
    cell = rewriter.scope.cell
    if cell is None or rewriter.state.ctm[:4] != rewriter.scope.base[:4]:
        return False
    return abs(width) >= cell[0] * _WHOLE and abs(height) >= cell[1] * _WHOLE


def paint(rewriter: Rewriter, _operands: bytes, operator: bytes) -> None:
    """The operators that fill and stroke."""
    if rewriter.off:
        rewriter.emit(b" n")
        return
    rewriter.text_as_paths(on=False)
    state = rewriter.state
    filled = state.touched(stroke=False) if operator in _FILLS else None
    stroked = state.touched(stroke=True) if operator in _STROKES else None
    both = filled is not None and stroked is not None
    path = rewriter.path() if both and state.line_opacity < state.stroke_opacity else b""
    if stroked is not None:
        rewriter.set_line_opacity()
    for touched in (filled, stroked):
        if touched is not None:
            rewriter.note_touched(touched)
    if path:
        # Both at once, the renderer lets a line that is not opaque take away what it fills beneath.
        _emit(rewriter, painting(operator, fill=True, stroke=False).strip(), filled, None)
        rewriter.emit(path)
        _emit(rewriter, painting(operator, fill=False, stroke=True).strip(), None, stroked)
    else:
        _emit(rewriter, operator, filled, stroked)
    rewriter.text_as_paths(on=True)


def _emit(rewriter: Rewriter, operator: bytes, filled: Touched | None, stroked: Touched | None) -> None:
    if filled in {None, EVERY_PLATE} and stroked in {None, EVERY_PLATE}:
        rewriter.emit(b" " + operator)
    else:
        rewriter.emit(PaintedPath(operator, filled, stroked, rewriter.multiplied()))
