"""Draws forms (ISO 32000-2, 8.10): content streams that others draw, often the same one many times.

A symbol of a map is drawn a hundred thousand times, and reading it takes ten times as long as naming
it. So the instructions of a form that is drawn again are kept; and where it is drawn again in the same
state, and whole, its marks are, and only have to be moved and enlarged.
"""

from dataclasses import replace
from decimal import Decimal
from enum import Enum, auto
from typing import Final

import pikepdf

from hotfolder.artwork import Box, Mark, MarkState
from hotfolder.pdf.content import Content, Scope
from hotfolder.pdf.graphics_state import GraphicsState, seen_through, within_group
from hotfolder.pdf.kept_forms import Form, FormState, Instruction, Kept
from hotfolder.pdf.ledger import Ledger
from hotfolder.pdf.matrix import IDENTITY, Matrix
from hotfolder.pdf.reading import entry, identity, name, numbers

# Symbols are drawn in a few colours and sizes; what is drawn in more is read from its instructions.
_STATES_KEPT: Final = 8


def form_of(ledger: Ledger, stream: pikepdf.Stream) -> Form:
    """What a form's dictionary says, and what is kept of it."""
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
    )
    if key is not None:
        ledger.forms[key] = form
    return form


def draw_form(content: Content, form: Form, matrix: Matrix) -> None:
    """Draws a form, its space transformed by `matrix`, clipped to its box (8.10.1)."""
    form.drawn += 1
    ctm = matrix.then(content.state.ctm)
    state, group = _group(content, form)
    around = content.around
    resources = content.scope.resources.within(form.resources, form.key)
    box = ctm.bounds(*form.bounds) if form.bounds is not None else None
    lying, place = _lying(state, box), None
    if lying is not _Lying.CUT and not form.passing:
        conditions = FormState(
            _turn(ctm), state.fill, state.stroke, state.line, state.text, state.own, state.laid_over, group,
            resources, around.layers, around.hidden, content.uncoloured,
        )  # fmt: skip
        place = _place(form, conditions, lying)
        if place is not None and _lay_down_again(content.ledger, form.kept[place][1], ctm, lying):
            return
    chain = content.inner_chain(form.stream)
    if chain is None:
        return
    scope = Scope(form.key, resources, ctm, group, around.layers, around.hidden, chain)
    inner = content.inner(scope, state.with_ctm(ctm))
    inner.uncoloured = content.uncoloured
    if box is not None:
        inner.clip_to(box, exact=ctm.keeps_upright)
    if place is not None and lying is _Lying.FREE and form.drawn > 1:
        _record(content.ledger, form, place, inner)
    else:
        _read(form, inner)


def _turn(ctm: Matrix) -> tuple[float, ...]:
    """What a transformation does beside enlarging and moving, as four numbers."""
    size = ctm.x_length or 1.0
    return ctm.a / size, ctm.b / size, ctm.c / size, ctm.d / size


class _Lying(Enum):
    """How a form lies to what clips it: clipped by nothing but itself, wholly away, or cut."""

    FREE = auto()
    AWAY = auto()
    CUT = auto()


def _lying(state: GraphicsState, box: Box | None) -> _Lying:
    if box is None or state.fill.shading is not None or state.stroke.shading is not None:
        return _Lying.CUT  # a shading that was chosen outside the form does not move with it
    if state.clip is None or seen_through(box, state.clip) is None:
        return _Lying.AWAY
    return _Lying.FREE if state.clip_exact and state.clip.holds(box) else _Lying.CUT


def _group(content: Content, form: Form) -> tuple[GraphicsState, MarkState]:
    """The state that a form begins with, and the group that it is part of (11.6.6).

    A transparency group begins plain, and is laid down as a whole with what holds around it.
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
    )
    own = replace(state.own, fill_opacity=1.0, stroke_opacity=1.0, blend_mode="Normal", soft_mask=False)
    return replace(state, own=own, laid_over=within_group(own, group)), group


# Reading a form from its stream, or from its instructions


def _read(form: Form, inner: Content) -> None:
    if form.instructions is not None:
        inner.read_kept(form.instructions)
        return
    ledger = inner.ledger
    notes = ledger.notes
    if form.drawn > 1 and form.operators <= ledger.operators_kept and not form.passing:
        inner.kept = []
    inner.read_stream(form.stream)
    form.operators = inner.index + 1
    form.passing = form.passing or ledger.notes > notes
    if inner.kept is not None and not form.passing and form.instructions is None:
        ledger.operators_kept -= len(inner.kept)
        form.instructions = [_with_floats(each) for each in inner.kept]


def _with_floats(instruction: Instruction) -> Instruction:
    """An instruction whose numbers need no reading any more."""
    operands = [float(each) if isinstance(each, Decimal) else each for each in instruction.operands]
    return instruction._replace(operands=operands)


# Drawing it again in the same state


def _place(form: Form, conditions: FormState, lying: _Lying) -> int | None:
    """Where the form's marks in this state are kept, or are to be; None where they are not."""
    for place, (each, _) in enumerate(form.kept):
        if each == conditions:
            return place
    if lying is _Lying.FREE and len(form.kept) < _STATES_KEPT:
        form.kept.append((conditions, None))
    return None


def _record(ledger: Ledger, form: Form, place: int, inner: Content) -> None:
    """Draws the form apart from the page, keeps its marks and lays them down."""
    ctm = inner.state.ctm
    try:
        with ledger.recording() as found:
            _read(form, inner)
    finally:
        # Where a limit ends the reading, what was found until then stands.
        _lay_down(ledger, kept := Kept(found, ctm), ctm)
    if found.troubled or len(found.marks) > ledger.marks_kept:
        form.passing = True
        return
    ledger.marks_kept -= len(found.marks)
    form.kept[place] = (form.kept[place][0], kept)


def _lay_down_again(ledger: Ledger, kept: Kept | None, ctm: Matrix, lying: _Lying) -> bool:
    """Adds kept marks, and gives whether that was possible."""
    if kept is None or (lying is _Lying.AWAY and kept.marks_by_clip):
        return False
    ledger.spend_operators(kept.found.operators)
    _lay_down(ledger, kept.unseen() if lying is _Lying.AWAY else kept, ctm)
    return True


def _lay_down(ledger: Ledger, kept: Kept, ctm: Matrix) -> None:
    """Adds kept marks where they lie now, and the fonts that they use."""
    before = kept.ctm
    size = ctm.x_length / before.x_length if ctm[:4] != before[:4] and before.x_length else 1.0
    across, up = ctm.e - before.e * size, ctm.f - before.f * size
    for mark in kept.found.marks:
        ledger.add(_moved(mark, size, across, up) if ctm != before else mark)
    for use in kept.found.fonts:
        ledger.use_font(use.font, printed=use.printed)


def _moved(mark: Mark, size: float, across: float, up: float) -> Mark:
    """A mark `size` times as large, and moved."""
    box, visible, solid, text, image = mark.box, mark.visible, mark.solid, mark.text, mark.image
    width = mark.line_width_pt
    box = _placed(box, size, across, up)
    if visible is not None:
        visible = box if visible is mark.box else _placed(visible, size, across, up)
    if solid is not None:
        solid = box if solid is mark.box else _placed(solid, size, across, up)
    if text is not None:
        ink, seen = text.ink, text.visible_ink
        text = replace(
            text,
            size_pt=text.size_pt * size,
            ink=_placed(ink, size, across, up) if ink is not None else None,
            visible_ink=_placed(seen, size, across, up) if seen is not None else None,
        )
    if image is not None and size != 1.0:
        image = replace(image, x_ppi=image.x_ppi / size, y_ppi=image.y_ppi / size)
    return Mark(
        mark.kind, box, visible, mark.source, mark.fill, mark.stroke, mark.state, mark.printed, mark.white,
        width * size if width is not None else None, image, text, mark.layers, solid, mark.covered,
        mark.repeated,
    )  # fmt: skip


def _placed(box: Box, size: float, across: float, up: float) -> Box:
    return Box(box.x0 * size + across, box.y0 * size + up, box.x1 * size + across, box.y1 * size + up)
