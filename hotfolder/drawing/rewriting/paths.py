"""Operators that build rectangles and paint paths (ISO 32000-2, 8.5); all other paths are copied."""

from hotfolder.drawing.rewriting.overprint import EVERY_PLATE, Touched
from hotfolder.drawing.rewriting.rewriter import Rewriter
from hotfolder.drawing.rewriting.scan import last_numbers
from hotfolder.drawing.rewriting.script import PaintedPath, painted_as
from hotfolder.pdf.language.operators import PATH_PAINTING


def rectangle(rewriter: Rewriter, operands: bytes, operator: bytes) -> None:
    """`re`."""
    numbers = last_numbers(operands, operator)
    if numbers is None:
        return
    rewriter.emit(b"%b re" % operands)
    x, y, width, height = numbers
    if rewriter.softens(x, y, width, height):
        rewriter.emit(b" %.6f %.6f m h" % (x, y))


def paint(rewriter: Rewriter, _operands: bytes, operator: bytes) -> None:
    """The operators that fill and stroke."""
    if rewriter.off:
        rewriter.emit(b" n")
        return
    rewriter.text_as_paths(on=False)
    state = rewriter.state
    painting = PATH_PAINTING[operator.decode("ascii")]
    filled = state.touched(stroke=False) if painting.fill else None
    stroked = state.touched(stroke=True) if painting.stroke else None
    both = filled is not None and stroked is not None
    path = rewriter.path() if both and state.has_pale_lines else b""
    if stroked is not None:
        rewriter.set_line_opacity()
    for touched, stroke in ((filled, False), (stroked, True)):
        if touched is not None:
            rewriter.note_touched(touched)
            rewriter.note_painted(stroke=stroke)
    if path:
        # Both at once, the renderer lets a line that is not opaque take away what it fills beneath.
        _emit(rewriter, painted_as(operator, fill=True, stroke=False).strip(), filled, None)
        rewriter.emit(path)
        _emit(rewriter, painted_as(operator, fill=False, stroke=True).strip(), None, stroked)
    else:
        _emit(rewriter, operator, filled, stroked)
    rewriter.text_as_paths(on=True)


def _emit(rewriter: Rewriter, operator: bytes, filled: Touched | None, stroked: Touched | None) -> None:
    if filled in {None, EVERY_PLATE} and stroked in {None, EVERY_PLATE}:
        rewriter.emit(b" " + operator)
    else:
        rewriter.emit(PaintedPath(operator, filled, stroked, rewriter.multiplied()))
