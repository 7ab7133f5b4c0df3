"""Draws form XObjects (ISO 32000-2, 8.10), which content streams draw by name, often the same one many times.

A symbol of a map is drawn a hundred thousand times, and reading it takes ten times as long as naming
it. So the instructions of a form that is drawn again are cached; and where it is drawn again in the same
state, and not cut by a clip, its marks are too, and only have to be moved and scaled.
"""

from dataclasses import replace
from decimal import Decimal
from enum import Enum, auto
from typing import Final

import pikepdf

from hotfolder.model.colour import Colour, ColourKind
from hotfolder.model.facts import ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.model.marks import MarkState
from hotfolder.pdf.colour.colour_spaces import is_white
from hotfolder.pdf.content.content import Content, Scope
from hotfolder.pdf.content.graphics_state import GraphicsState, Paint, seen_through, within_group
from hotfolder.pdf.content.kept_forms import Form, FormState, Instruction, KeptMarks, KeptState, PlainPaint
from hotfolder.pdf.content.ledger import Ledger
from hotfolder.pdf.content.moved_marks import Colours, moved
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix
from hotfolder.pdf.objects.reading import entry, identity, name, numbers

# Symbols are drawn in a few colours and sizes; what is drawn in more is read from its instructions.
_STATES_KEPT: Final = 8

_NO_BOX: Final = "a part of the drawing does not say how large it is; some programs leave it out"


def form_of(ledger: Ledger, stream: pikepdf.Stream) -> Form:
    """The form of a stream; the same object each time on a page, with what is cached of it."""
    key = identity(stream)
    known = ledger.forms.get(key or "")
    if known is not None:
        return known
    matrix = numbers(entry(stream, "/Matrix"), 6)
    group = entry(stream, "/Group")
    form = Form(
        stream=stream,
        key=key,
        matrix=Matrix(*matrix) if matrix is not None else IDENTITY,
        bounds=numbers(entry(stream, "/BBox"), 4),
        layer=entry(stream, "/OC"),
        resources=entry(stream, "/Resources"),
        group=name(entry(group, "/S")) == "Transparency",
        knockout=entry(group, "/K") is True,
        own_space=entry(group, "/CS") if entry(group, "/I") is True else None,
    )
    if key is not None:
        ledger.forms[key] = form
    return form


def draw_form(content: Content, form: Form, matrix: Matrix) -> None:
    """Draws a form, its space transformed by `matrix`, clipped to its BBox (8.10.1).

    BBox is required; a form without it is drawn unclipped: some readers do so, others leave the form out.
    """
    ledger = content.ledger
    first = len(ledger.marks)
    _draw(content, form, matrix)
    if form.group and form.knockout and not content.scope.group.knockout_group:
        ledger.knockout_groups += 1
        number = ledger.knockout_groups
        ledger.marks[first:] = [replace(mark, knockout=number) for mark in ledger.marks[first:]]


def _draw(content: Content, form: Form, matrix: Matrix) -> None:
    form.times_drawn += 1
    if form.bounds is None:
        content.note(ProblemKind.DAMAGED, _NO_BOX)
    ctm = matrix.then(content.state.ctm)
    state, group = _group(content, form)
    around = content.around
    resources = content.scope.resources.within(form.resources, form.key)
    box = ctm.bounds(*form.bounds) if form.bounds is not None else None
    visibility, kept_state = _visibility(state, box), None
    if visibility is not _Visibility.PARTLY and not form.read_each_time:
        conditions = FormState(
            _condition(state.fill), _condition(state.stroke), state.line, state.text, state.own,
            state.laid_over, group, resources, around.layers, around.hidden, content.uncoloured,
        )  # fmt: skip
        kept_state = _kept_state(form, conditions, _turn(ctm), visibility)
        if kept_state is not None and _lay_down_again(content, kept_state.marks, ctm, visibility):
            return
    chain = content.inner_chain(form.stream)
    if chain is None:
        return
    scope = Scope(form.key, resources, ctm, group, around.layers, around.hidden, chain)
    inner = content.inner(scope, state.with_ctm(ctm))
    inner.uncoloured = content.uncoloured
    if box is not None:
        inner.clip_to(box, exact=ctm.keeps_upright)
    if kept_state is not None and visibility is _Visibility.WHOLE and form.times_drawn > 1:
        _record(content, form, kept_state, inner)
    else:
        _read(form, inner)


def _turn(ctm: Matrix) -> tuple[float, ...]:
    """What a transformation does beside scaling and moving, as four numbers."""
    size = ctm.x_length or 1.0
    return ctm.a / size, ctm.b / size, ctm.c / size, ctm.d / size


class _Visibility(Enum):
    """How much of a form the clip and the soft masks around it leave; PARTLY also where that is not known."""

    WHOLE = auto()
    NONE = auto()
    PARTLY = auto()


def _visibility(state: GraphicsState, box: Box | None) -> _Visibility:
    if box is None or state.fill.shading is not None or state.stroke.shading is not None:
        return _Visibility.PARTLY  # a shading that was chosen outside the form does not move with it
    if state.clip is None or seen_through(box, state.clip) is None:
        return _Visibility.NONE
    if state.mask is not None or state.outer_masks:
        return _Visibility.PARTLY
    return _Visibility.WHOLE if state.clip_exact and state.clip.holds(box) else _Visibility.PARTLY


def _group(content: Content, form: Form) -> tuple[GraphicsState, MarkState]:
    """The state in which a form begins, and that of the group that its marks are part of (11.6.6).

    A transparency group begins with opacity 1, blend mode Normal and no soft mask; it is painted as a whole
    with those in force around it.
    """
    state = content.state
    if not form.group:
        return state, content.scope.group
    laid = state.laid_over
    group = MarkState(
        fill_opacity=laid.fill_opacity,
        stroke_opacity=laid.fill_opacity,
        blend_mode=laid.blend_mode,
        soft_mask=laid.soft_mask,
        group=True,
        knockout_group=laid.knockout_group or form.knockout,
        on_screen=laid.on_screen or _is_blended_on_screen(content, form),
    )
    own = replace(state.own, fill_opacity=1.0, stroke_opacity=1.0, blend_mode="Normal", soft_mask=False)
    masks = (*state.outer_masks, *([state.mask] if state.mask is not None else []))
    plain = replace(state, own=own, laid_over=within_group(own, group), mask=None, outer_masks=masks)
    return plain, group


def _is_blended_on_screen(content: Content, form: Form) -> bool:
    return form.own_space is not None and content.colour_space(form.own_space).kind is ColourKind.RGB


# Reading a form from its stream, or from its cached instructions


def _read(form: Form, inner: Content) -> None:
    if form.instructions is not None:
        inner.read_kept(form.instructions)
        return
    ledger = inner.ledger
    notes = ledger.notes
    if form.times_drawn > 1 and form.operators <= ledger.operators_kept and not form.read_each_time:
        inner.collected = []
    inner.read_stream(form.stream)
    form.operators = inner.index + 1
    form.read_each_time = form.read_each_time or ledger.notes > notes
    if inner.collected is not None and not form.read_each_time and form.instructions is None:
        ledger.operators_kept -= len(inner.collected)
        form.instructions = [_with_floats(each) for each in inner.collected]


def _with_floats(instruction: Instruction) -> Instruction:
    """The instruction with its numbers converted, which is not to be done each time that it runs."""
    operands = [float(each) if isinstance(each, Decimal) else each for each in instruction.operands]
    return instruction._replace(operands=operands)


# Drawing a form again in the same state


def _condition(paint: Paint) -> Paint | PlainPaint:
    """The part of a paint that decides more about a form's marks than the colour that they have."""
    if paint.pattern is not None or paint.shading is not None:
        return paint
    return PlainPaint(paint.colour.space, is_white(paint.colour))


def _kept_state(
    form: Form, conditions: FormState, turn: tuple[float, ...], visibility: _Visibility
) -> KeptState | None:
    """The state in the form's cache that serves for this one; None where there is none yet.

    A new one is added where the form is drawn whole, for its marks to be recorded the next time.
    """
    for each in form.states:
        if each.serves(conditions, turn):
            return each
    if visibility is _Visibility.WHOLE and len(form.states) < _STATES_KEPT:
        form.states.append(KeptState(conditions, turn))
    return None


def _record(content: Content, form: Form, kept_state: KeptState, inner: Content) -> None:
    """Draws the form apart from the page, caches its marks and adds them to the page."""
    ledger, ctm = content.ledger, inner.state.ctm
    fill, stroke = _own_colour(inner.state.fill), _own_colour(inner.state.stroke)
    if fill is not None:
        inner.state = inner.state.with_fill(Paint(fill))
    if stroke is not None:
        inner.state = inner.state.with_stroke(Paint(stroke))
    try:
        with ledger.recording() as recording:
            _read(form, inner)
    finally:
        # Where a limit ends the reading, what was found until then stands.
        _lay_down(content, cached := KeptMarks(recording, ctm, fill, stroke), ctm)
    if recording.troubled or len(recording.marks) > ledger.marks_kept:
        form.read_each_time = True
        return
    ledger.marks_kept -= len(recording.marks)
    kept_state.marks, kept_state.turn = cached, _turn(ctm)


def _own_colour(paint: Paint) -> Colour | None:
    """The same colour as a new object, by whose `id` it is recognised in marks; None for a pattern."""
    if isinstance(_condition(paint), Paint):
        return None
    return Colour(paint.colour.space, paint.colour.components)


def _lay_down_again(content: Content, cached: KeptMarks | None, ctm: Matrix, visibility: _Visibility) -> bool:
    """Adds cached marks to the page; False where there are none that can be used."""
    if cached is None or (visibility is _Visibility.NONE and cached.marks_by_clip):
        return False
    content.ledger.spend_operators(cached.recording.operators)
    _lay_down(content, cached.unseen() if visibility is _Visibility.NONE else cached, ctm)
    return True


def _lay_down(content: Content, cached: KeptMarks, ctm: Matrix) -> None:
    """Adds cached marks at their place and in their colours of this drawing, and the fonts that they use."""
    ledger, recording = content.ledger, cached.recording
    stretch, colours = _stretch(cached.ctm, ctm), _colours(content, cached)
    knockout_groups: dict[int, int] = {}  # drawn again, the knockout groups within the form are others
    for mark, matrix in zip(recording.marks, recording.matrices, strict=True):
        ledger.pieces_left -= len(mark.pieces)
        whole = mark if ledger.pieces_left >= 0 else replace(mark, pieces=())
        now = moved(whole, matrix, stretch, colours)
        if mark.knockout:
            if mark.knockout not in knockout_groups:
                ledger.knockout_groups += 1
                knockout_groups[mark.knockout] = ledger.knockout_groups
            now = replace(now, knockout=knockout_groups[mark.knockout])
        if matrix is not None and ledger.is_recording:
            ledger.add(now, matrix.then(stretch))
        else:
            ledger.add(now)
    for use in recording.fonts:
        ledger.use_font(use.font, printed=use.printed)


def _colours(content: Content, cached: KeptMarks) -> Colours:
    """The colours in force now, by the `id` of those that the cached marks have in their place."""
    state = content.state
    pairs = ((cached.fill, state.fill.colour), (cached.stroke, state.stroke.colour))
    return {id(before): now for before, now in pairs if before is not None}


def _stretch(before: Matrix, now: Matrix) -> Matrix:
    """The scaling and moving that leads from `before` to `now`, two matrices that rotate and skew alike."""
    across = up = now.x_length / before.x_length if before.x_length else 1.0
    if now[1:3] == before[1:3] == (0.0, 0.0) and before.a and before.d:
        across, up = now.a / before.a, now.d / before.d
    return Matrix(across, 0.0, 0.0, up, now.e - before.e * across, now.f - before.f * up)
