"""Operators of text (ISO 32000-2, 9): the font by its new name, and text that is left out of some passes."""

from typing import Final

from hotfolder.drawing.rewriting.overprint import EVERY_PLATE, NO_PLATE, Touched
from hotfolder.drawing.rewriting.paints import PatternPaint
from hotfolder.drawing.rewriting.resources.type3_fonts import lettering
from hotfolder.drawing.rewriting.rewriter import Rewriter
from hotfolder.drawing.rewriting.scan import last_numbers, name_in, number_in, operands_in
from hotfolder.drawing.rewriting.script import ShownText
from hotfolder.drawing.rewriting.state import Lettering
from hotfolder.model.doubts import OUTLINE_BY_PATTERN, PATTERN_IN_TYPE_3, PATTERN_UNDER_MASK
from hotfolder.pdf.objects.matrix import Matrix

_MODES: Final = 8

# The renderer lays upright rectangles on whole pixels, and in plain typefaces an I is one, and so is a dash.
# Letters that lean and lines that rise by a fortieth of a point in 500 are none.
_LEAN: Final = 5e-5
_LEANING: Final = Matrix(1.0, _LEAN, _LEAN, 1.0, 0.0, 0.0)


def select_font(rewriter: Rewriter, operands: bytes, _operator: bytes) -> None:
    """`Tf`."""
    *_, called, written = operands_in(operands)
    key, size = name_in(called), number_in(written)
    font = rewriter.scope.resources.find("Font", key) if key is not None else None
    if font is not None and size is not None:
        choose_font(rewriter, font, size)


def choose_font(rewriter: Rewriter, font: object, size: float) -> None:
    """Makes `font` the one for text from here on; size: in units of text space (9.3.1)."""
    rewriter.state.lettering = chosen = lettering(rewriter, font, b"%.4f" % size)
    rewriter.emit(b" %b %b Tf" % (chosen.resource_name, chosen.size))


def begin(rewriter: Rewriter, _operands: bytes, _operator: bytes) -> None:
    """`BT`."""
    rewriter.emit(b" BT %.6f %.6f %.6f %.6f %.6f %.6f Tm" % _LEANING)
    rewriter.in_text = True
    rewriter.text_as_paths(on=True)


def end(rewriter: Rewriter, _operands: bytes, _operator: bytes) -> None:
    """`ET`."""
    rewriter.text_as_paths(on=False)
    rewriter.in_text = False
    rewriter.emit(b" ET")


def set_matrix(rewriter: Rewriter, operands: bytes, operator: bytes) -> None:
    """`Tm`."""
    numbers = last_numbers(operands, operator)
    if numbers is not None:
        matrix = _LEANING.then(Matrix(*numbers))
        rewriter.emit(b" %.6f %.6f %.6f %.6f %.6f %.6f Tm" % matrix)


def set_mode(rewriter: Rewriter, operands: bytes, operator: bytes) -> None:
    """`Tr`."""
    numbers = last_numbers(operands, operator)
    if numbers is not None and 0 <= numbers[0] < _MODES:
        rewriter.text_as_paths(on=False)
        rewriter.state.text_mode = int(numbers[0])
        rewriter.emit(b" %d Tr" % rewriter.state.text_mode)
        rewriter.text_as_paths(on=True)


def show(rewriter: Rewriter, operands: bytes, operator: bytes) -> None:
    """`Tj`, `TJ`, `'` and `"`."""
    state = rewriter.state
    what = b"%b %b" % (operands, operator)
    if rewriter.off:
        rewriter.emit(_shown(rewriter, what, NO_PLATE, NO_PLATE))
        return
    if state.lettering is not None and state.lettering.key in rewriter.context.fonts:
        _doubt_drawn_letters(rewriter)
    if state.lettering is not None and state.lettering.coloured:
        _choose_glyphs(rewriter, state.lettering)
        rewriter.emit(what)
        return
    plain = state.text_mode % 4
    if plain in {1, 2}:
        rewriter.set_line_opacity()
    filled = state.touched(stroke=False) if plain in {0, 2} else EVERY_PLATE
    stroked = state.touched(stroke=True) if plain in {1, 2} else EVERY_PLATE
    for touched in (filled, stroked):
        rewriter.note_touched(touched)
    if plain in {0, 2}:
        rewriter.note_painted(stroke=False)
        if state.masked and isinstance(state.fill, PatternPaint):
            # The renderer applies the mask to each letter's pattern, and to all letters again.
            rewriter.doubt_somewhere(PATTERN_UNDER_MASK)
    if plain in {1, 2}:
        rewriter.note_painted(stroke=True)
    if state.outlined_apart:
        _show_twice(rewriter, what, filled, stroked)
    else:
        _show_at_once(rewriter, what, filled, stroked)


def _show_twice(rewriter: Rewriter, what: bytes, filled: Touched, stroked: Touched) -> None:
    """Fills letters, then goes back and outlines them.

    Both at once, the renderer lets a line that is not opaque take away what it fills beneath. The renderer
    keeps the place in a text with the graphics state, though the standard does not.
    """
    state = rewriter.state
    mode = state.text_mode
    rewriter.emit(b" q")
    state.text_mode = 0
    rewriter.emit(b" 0 Tr")
    rewriter.text_as_paths(on=True)
    rewriter.emit(_shown(rewriter, what, filled, EVERY_PLATE))
    state.text_mode = mode - 1
    rewriter.emit(b" Q %d Tr" % state.text_mode)
    _show_at_once(rewriter, what, EVERY_PLATE, stroked)
    state.text_mode = mode
    rewriter.emit(b" %d Tr" % mode)


def _show_at_once(rewriter: Rewriter, what: bytes, filled: Touched, stroked: Touched) -> None:
    state = rewriter.state
    outlined = state.text_mode % 4 == 1 and isinstance(state.stroke, PatternPaint)
    if outlined:
        # The renderer knows no coordinates but those of the content stream for such lines, and no opacity.
        scale = _mean_scale(state.ctm) / (_mean_scale(rewriter.scope.base) or 1.0)
        rewriter.emit(b" %.6f w" % (state.line_width * scale))
        if state.line_opacity.in_drawing() < 1:
            rewriter.doubt_somewhere(OUTLINE_BY_PATTERN)
    if filled == stroked == EVERY_PLATE:
        rewriter.emit(what)
    else:
        rewriter.emit(_shown(rewriter, what, filled, stroked))
    if outlined:
        rewriter.emit(b" %.6f w" % state.line_width)


def _mean_scale(matrix: Matrix) -> float:
    return (matrix.x_length + matrix.y_length) / 2


def _doubt_drawn_letters(rewriter: Rewriter) -> None:
    """Notes that the renderer does not paint the uncoloured glyphs of a Type 3 font with a pattern."""
    if isinstance(rewriter.state.fill, PatternPaint):
        rewriter.doubt_somewhere(PATTERN_IN_TYPE_3)


def _shown(rewriter: Rewriter, what: bytes, filled: Touched, stroked: Touched) -> ShownText:
    state = rewriter.state
    return ShownText(
        what, state.text_mode, filled, stroked, rewriter.multiplied(), as_paths=state.plainly_filled
    )


def _choose_glyphs(rewriter: Rewriter, before: Lettering) -> None:
    """Sets the font again where its coloured glyphs (`d0`) use the current colour, which has changed.

    What of them is left out of a pass is decided within each.
    """
    font = rewriter.context.fonts[before.key].dictionary
    now = lettering(rewriter, font, before.size)
    if now.resource_name != before.resource_name:
        rewriter.state.lettering = now
        rewriter.emit(b" %b %b Tf" % (now.resource_name, now.size))
