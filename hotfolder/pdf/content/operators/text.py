"""Operators of text: state, position, showing (ISO 32000-2, 9.3 and 9.4)."""

from collections.abc import Callable, Iterable
from dataclasses import replace

import pikepdf

from hotfolder.model.facts import ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind, TextFacts
from hotfolder.pdf.colour.colour_spaces import is_white
from hotfolder.pdf.content.content import Content, Operands, TextPosition
from hotfolder.pdf.content.graphics_state import GraphicsState, TextState
from hotfolder.pdf.content.operators.patterns import paint_cells
from hotfolder.pdf.content.operators.type3 import measure_glyphs, show_glyphs
from hotfolder.pdf.content.text_ink import ink_bounds, words
from hotfolder.pdf.content.text_run import Piece, TextRun, measure_run
from hotfolder.pdf.content.uses import UseKind
from hotfolder.pdf.fonts.fonts import FontMetrics
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.reading import READING_ERRORS, items, name
from hotfolder.pdf.objects.reading import number as as_number

# Text rendering modes (9.3.6, table 104).
_FILLING = frozenset({0, 2, 4, 6})
_STROKING = frozenset({1, 2, 5, 6})
_CLIPPING = frozenset({4, 5, 6, 7})
_INVISIBLE = 3

_LONGEST_ARRAY = 100_000  # numbers and strings of one TJ; a line of text has some hundred


def begin(content: Content, _operands: Operands) -> None:
    """`BT`: text begins at the origin of user space."""
    content.text = TextPosition()


def end(content: Content, _operands: Operands) -> None:
    """`ET`: text shown in a clipping mode clips from here on (9.3.6)."""
    boxes = content.text.clip
    content.text = TextPosition()
    if boxes is not None:
        corners = [corner for box in boxes for corner in ((box.x0, box.y0), (box.x1, box.y1))]
        content.clip_to(Box.around(corners) if corners else None)


# Text state (9.3)


def _setter(change: Callable[[TextState, float], TextState]) -> Callable[[Content, Operands], None]:
    def handle(content: Content, operands: Operands) -> None:
        values = content.numbers(operands, 1)
        if values is not None:
            content.state = content.state.with_text(change(content.state.text, values[0]))

    return handle


character_spacing = _setter(lambda text, value: replace(text, character_spacing=value))
word_spacing = _setter(lambda text, value: replace(text, word_spacing=value))
scale = _setter(lambda text, value: replace(text, scale=value / 100))
leading = _setter(lambda text, value: replace(text, leading=value))
rise = _setter(lambda text, value: replace(text, rise=value))
mode = _setter(lambda text, value: replace(text, mode=int(value)))


def select_font(content: Content, operands: Operands) -> None:
    """`Tf`: the font and its size."""
    size = content.numbers(operands, 1)
    key = name(operands[-2])
    if size is None or key is None:
        return
    if key not in content.fonts:
        dictionary = content.scope.resources.find("Font", key)
        content.uses_resource(UseKind.FONT, "Font", key, dictionary)
        content.fonts[key] = content.readers.font(dictionary) if dictionary is not None else None
    text = replace(content.state.text, font=content.fonts[key], size=size[0])
    content.state = content.state.with_text(text)


# Position (9.4.2)


def move_line(content: Content, operands: Operands) -> None:
    """`Td`: the next line begins so far from this one."""
    offset = content.numbers(operands, 2)
    if offset is not None:
        _begin_line(content, *offset)


def move_line_set_leading(content: Content, operands: Operands) -> None:
    """`TD`: as `Td`, and sets the leading."""
    offset = content.numbers(operands, 2)
    if offset is not None:
        leading(content, [-offset[1]])
        _begin_line(content, *offset)


def set_matrix(content: Content, operands: Operands) -> None:
    """`Tm`: sets the text matrix and the text line matrix."""
    matrix = content.numbers(operands, 6)
    if matrix is not None:
        content.text.matrix = content.text.line = Matrix(*matrix)


def next_line(content: Content, _operands: Operands) -> None:
    """`T*`: the next line begins by the leading below this one."""
    _begin_line(content, 0.0, -content.state.text.leading)


def _begin_line(content: Content, x: float, y: float) -> None:
    content.text.matrix = content.text.line = content.text.line.after_moving(x, y)


# Showing (9.4.3)


def show(content: Content, operands: Operands) -> None:
    """`Tj`: shows a string."""
    value = operands[-1]
    _show(content, (bytes(value),) if isinstance(value, pikepdf.String) else ())


def show_spaced(content: Content, operands: Operands) -> None:
    """`TJ`: strings, and numbers by which the pen is moved between them."""
    array = operands[-1]
    if not isinstance(array, pikepdf.Array):
        content.note(ProblemKind.DAMAGED, "text is shown by something that holds none")
        return
    if len(array) > _LONGEST_ARRAY:
        what = f"of a text in more than {_LONGEST_ARRAY:,} pieces the rest was not read"
        content.note(ProblemKind.LIMIT, what)
    _show(content, _pieces(_members(array)))


def show_next_line(content: Content, operands: Operands) -> None:
    """`'`: shows a string on the next line."""
    next_line(content, operands)
    show(content, operands)


def show_next_line_spaced(content: Content, operands: Operands) -> None:
    r"""`"`: sets word and character spacing, and shows a string on the next line."""
    word_spacing(content, operands[-3:-2])
    character_spacing(content, operands[-2:-1])
    show_next_line(content, operands)


def _members(array: pikepdf.Array) -> Iterable[object]:
    if len(array) <= _LONGEST_ARRAY:
        try:
            return list(array)
        except READING_ERRORS:
            pass  # one of them is broken: they are read one by one
    return items(array, _LONGEST_ARRAY)


def _pieces(values: Iterable[object]) -> Iterable[Piece]:
    """The strings and numbers among `values`; anything else is left out."""
    for value in values:
        if isinstance(value, pikepdf.String):
            yield bytes(value)
        else:
            offset = as_number(value)
            if offset is not None:
                yield offset


def _show(content: Content, pieces: Iterable[Piece]) -> None:
    state = content.state
    font = state.text.font
    if font is None:
        content.note(
            ProblemKind.DAMAGED, "text is shown in a font that the file does not hold; it is missing"
        )
        return
    shown = list(pieces)
    content.ledger.spend_letters(sum(len(piece) for piece in shown if isinstance(piece, bytes)))
    run = measure_run(shown, state.text, font)
    matrix = content.text.matrix.then(state.ctm)
    content.text.matrix = content.text.matrix.after_moving(*run.advance)
    mode = state.text.mode
    if font.type3 is not None and mode != _INVISIBLE:
        mode = 0  # modes do not count for Type 3 fonts, which paint themselves (9.3.6)
    if mode in _CLIPPING and content.text.clip is None and run.placed:
        content.text.clip = []  # of a string without any letter nothing clips (9.3.6)
    if run.box is None or not state.text.size:
        _note_blanks(content, run, font, mode)
        return
    mark = _mark(content, run, matrix, mode)
    if mark is None:
        return
    if mode in _CLIPPING and content.text.clip is not None:
        content.text.clip.append(mark.box)
    # A line around letters has a matrix of its own.
    content.ledger.add(mark, matrix if mark.stroke is None else None)
    # Letters that clip shape what is painted after them, so they print by it.
    clips = mark.text is not None and mark.text.clips and mark.visible is not None
    content.ledger.use_font(font.facts, printed=mark.on_paper or clips)
    if mode in _FILLING and state.fill.pattern is not None:
        paint_cells(content, state.fill, state.laid_over.fill_opacity, mark)
    if mode in _STROKING and state.stroke.pattern is not None:
        paint_cells(content, state.stroke, state.laid_over.stroke_opacity, mark)
    if font.type3 is not None:
        show_glyphs(content, font, run.placed, matrix)


def _note_blanks(content: Content, run: TextRun, font: FontMetrics, mode: int) -> None:
    """Keeps account of a font in which blanks are set: they print nothing, and some programs want it."""
    if run.placed and mode != _INVISIBLE and not content.around.hidden:
        content.uses(UseKind.BLANKS, font.facts.object or font.facts.name)


def _mark(content: Content, run: TextRun, matrix: Matrix, mode: int) -> Mark | None:
    state, font = content.state, content.state.text.font
    if font is None or run.box is None:
        return None
    stroked, filled = mode in _STROKING, mode in _FILLING
    widening = _beyond_outline(state) if stroked else None
    box = _widened(matrix.bounds(*run.box), widening)
    if not content.box_is_sound(box):
        return None
    visible, unseen = state.visible_part(box)
    around = content.around
    printed = (filled or stroked) and not around.hidden
    ink, says = None, ""
    clips = mode in _CLIPPING and not around.hidden
    if (printed or clips) and visible is not None:
        if font.type3 is not None:
            measure_glyphs(content, font, run.placed)
        ink = ink_bounds(run.placed, font.shown, state.text, matrix)
        if ink is not None:
            ink = _widened(ink, widening)
        says = words(run, font)
    return Mark(
        kind=MarkKind.TEXT,
        box=box,
        visible=visible,
        source=content.source,
        fill=state.fill.colour if filled else None,
        stroke=state.stroke.colour if stroked else None,
        state=state.laid_over,
        printed=printed,
        white=_is_white(content, filled=filled, stroked=stroked),
        line_width_pt=state.line.width * state.ctm.least_stretch if stroked else None,
        text=TextFacts(
            size_pt=abs(state.text.size) * matrix.y_length,
            font=font.facts.name,
            invisible=not (filled or stroked),
            glyphs=len(run.placed),
            clips=clips,
            ink=ink,
            visible_ink=state.visible_part(ink)[0] if ink is not None else None,
            words=says,
        ),
        layers=around.layers,
        unseen=unseen,
    )


def _is_white(content: Content, *, filled: bool, stroked: bool) -> bool:
    """Whether all of the text is white and knocks out what lies beneath."""
    state, laid = content.state, content.state.laid_over
    if filled and (laid.overprint_fill or not is_white(state.fill.colour)):
        return False
    if stroked and (laid.overprint_stroke or not is_white(state.stroke.colour)):
        return False
    return (filled or stroked) and content.opaque


def _beyond_outline(state: GraphicsState) -> tuple[float, float]:
    """How far a line around letters reaches beyond them, across and up; mitred corners are not counted."""
    half = state.line.width / 2
    return (
        half * Matrix(state.ctm.a, state.ctm.c, 0, 0, 0, 0).x_length,
        half * Matrix(state.ctm.b, state.ctm.d, 0, 0, 0, 0).x_length,
    )


def _widened(box: Box, widening: tuple[float, float] | None) -> Box:
    if widening is None:
        return box
    across, up = widening
    return Box(box.x0 - across, box.y0 - up, box.x1 + across, box.y1 + up)
