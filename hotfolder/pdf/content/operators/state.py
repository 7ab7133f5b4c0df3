"""Operators of the graphics state (ISO 32000-2, 8.4.4)."""

from dataclasses import replace

import pikepdf

from hotfolder.errors import LimitReachedError
from hotfolder.model.facts import ProblemKind
from hotfolder.pdf.content.content import Content, Operands, Scope
from hotfolder.pdf.content.ext_gstate import Parameters, read_parameters, sets_transfer
from hotfolder.pdf.content.graphics_state import GraphicsState, seen_through, within_group
from hotfolder.pdf.content.mask_shapes import EVERYWHERE, MaskMarks, MaskShape, mask_shape
from hotfolder.pdf.content.uses import UseKind
from hotfolder.pdf.objects.limits import SAVED_STATES
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix
from hotfolder.pdf.objects.reading import entry, identity, name, numbers


def save(content: Content, _operands: Operands) -> None:
    """`q`: saves the state."""
    if len(content.saved) >= SAVED_STATES:
        raise LimitReachedError(f"reading stopped where {SAVED_STATES:,} graphics states are kept at once")
    content.saved.append(content.state)


def restore(content: Content, _operands: Operands) -> None:
    """`Q`: restores the state saved last; without one it does nothing, as in every reader."""
    if content.saved:
        content.state = content.saved.pop()
    else:
        content.note(ProblemKind.NOTE, "a graphics state is restored that was never saved")


def concatenate(content: Content, operands: Operands) -> None:
    """`cm`: concatenates a matrix to the CTM."""
    matrix = content.numbers(operands, 6)
    if matrix is not None:
        content.state = content.state.with_ctm(Matrix(*matrix).then(content.state.ctm))


def line_width(content: Content, operands: Operands) -> None:
    """`w`: the line width; of a negative one the absolute value counts."""
    width = content.numbers(operands, 1)
    if width is not None:
        content.state = content.state.with_line(replace(content.state.line, width=abs(width[0])))


def line_cap(content: Content, operands: Operands) -> None:
    """`J`: the line cap style."""
    cap = content.numbers(operands, 1)
    if cap is not None:
        content.state = content.state.with_line(replace(content.state.line, cap=int(cap[0])))


def line_join(content: Content, operands: Operands) -> None:
    """`j`: the line join style."""
    join = content.numbers(operands, 1)
    if join is not None:
        content.state = content.state.with_line(replace(content.state.line, join=int(join[0])))


def miter_limit(content: Content, operands: Operands) -> None:
    """`M`: the miter limit."""
    limit = content.numbers(operands, 1)
    if limit is not None:
        content.state = content.state.with_line(replace(content.state.line, miter_limit=limit[0]))


def rendering_intent(content: Content, operands: Operands) -> None:
    """`ri`: how a device maps colours that it cannot show; the colours stay what they are."""
    content.uses(UseKind.INTENT, operands[-1])


def apply_ext_gstate(content: Content, operands: Operands) -> None:
    """`gs`: sets the parameters that its dictionary has (8.4.5)."""
    parameters = _parameters(content, name(operands[-1]))
    if parameters is None:
        content.note(ProblemKind.DAMAGED, "graphics state parameters are used that the file does not hold")
        return
    state = content.state
    own = parameters.own(state.own)
    content.state = replace(
        state,
        line=parameters.line(state.line),
        own=own,
        laid_over=within_group(own, content.scope.group),
    )
    if parameters.font_size is not None:
        content.uses(UseKind.FONT, parameters.font)
        font = content.readers.font(parameters.font)
        text = replace(state.text, font=font, size=parameters.font_size)
        content.state = content.state.with_text(text)
    if parameters.soft_mask is not None:
        if parameters.mask is not None:
            content.uses(UseKind.MASK, parameters.mask)
        shape = _read_mask(content, parameters.mask) if parameters.mask is not None else None
        content.state = replace(content.state, mask=shape)


def _parameters(content: Content, key: str | None) -> Parameters | None:
    if key is None:
        return None
    known = content.named.parameters
    if key not in known:
        dictionary = content.scope.resources.find("ExtGState", key)
        content.uses_resource(UseKind.STATE, "ExtGState", key, dictionary)
        known[key] = read_parameters(dictionary) if dictionary is not None else None
        if sets_transfer(dictionary):
            content.ledger.sets_transfer = True
    return known[key]


def _read_mask(content: Content, mask: pikepdf.Dictionary) -> MaskShape | None:
    """Where a soft mask lets paint through (11.6.5.2); None where that is not known. Read once on a page.

    The group adds no mark to the page. But its fonts count as used, since a missing one changes the mask, and
    its images are collected in `mask_pictures`.
    """
    group = entry(mask, "/G")
    own = numbers(entry(group, "/Matrix"), 6)
    ctm = (Matrix(*own) if own is not None else IDENTITY).then(content.state.ctm)
    key, ledger = identity(group) or "", content.ledger
    if key in ledger.masks_read:
        known = ledger.masks_read[key]
        return mask_shape(mask, known, ctm) if known is not None else None
    chain = content.inner_chain(group)
    if chain is None or not isinstance(group, pikepdf.Stream):
        return None
    ledger.masks_read[key] = None
    scope = Scope(
        object=identity(group),
        resources=content.scope.resources.within(entry(group, "/Resources"), identity(group)),
        base=ctm,
        layers=content.layers,
        hidden=not content.printed,
        chain=chain,
    )
    notes = ledger.notes
    with ledger.aside() as marks:
        content.inner(scope, GraphicsState(ctm, EVERYWHERE)).read_stream(group)
        known = MaskMarks.of(marks, ctm) if ledger.notes == notes and content.printed else None
    ledger.masks_read[key] = known
    clip = content.state.clip
    ledger.mask_pictures.extend(
        replace(mark, visible=seen_through(mark.visible, clip) if mark.visible is not None else None)
        for mark in marks
        if mark.image is not None
    )
    return mask_shape(mask, known, ctm) if known is not None else None
