"""Operators of the general graphics state, of saving and restoring it, and of marked content."""

from typing import Final

from hotfolder.colour.conversions import Intent
from hotfolder.drawing.images.entries import intent_named
from hotfolder.drawing.rewriting.choosing import choose_changed
from hotfolder.drawing.rewriting.gstates import GState, LineOpacity, kept_entries, transfer_function
from hotfolder.drawing.rewriting.laid_back import MaskSet
from hotfolder.drawing.rewriting.operators.text import choose_font
from hotfolder.drawing.rewriting.overprint import Overprint
from hotfolder.drawing.rewriting.resources.soft_masks import soft_mask
from hotfolder.drawing.rewriting.rewriter import Rewriter
from hotfolder.drawing.rewriting.scan import last_name, last_numbers, names_in
from hotfolder.drawing.spaces.changed import read_tones
from hotfolder.errors import NotDrawnError
from hotfolder.model.doubts import TRANSFER
from hotfolder.pdf.content.ext_gstate import Parameters, read_parameters
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.reading import entry, fingerprint, name


def copied(rewriter: Rewriter, operands: bytes, operator: bytes) -> None:
    """Any operator that stays as it is: writes it again."""
    rewriter.emit(b"%b\n%b" % (operands, operator))


def copied_numbers(rewriter: Rewriter, operands: bytes, operator: bytes) -> None:
    """Any operator of numbers that stays as it is; one that has something else in their place is left out."""
    if last_numbers(operands, operator) is not None:
        copied(rewriter, operands, operator)


def left_out(_rewriter: Rewriter, _operands: bytes, _operator: bytes) -> None:
    """Any operator without effect on plates: writes nothing."""


def save(rewriter: Rewriter, _operands: bytes, _operator: bytes) -> None:
    """`q`."""
    rewriter.save()
    rewriter.emit(b" q")


def restore(rewriter: Rewriter, _operands: bytes, _operator: bytes) -> None:
    """`Q`; one too many is left out."""
    if rewriter.saved:
        rewriter.state = rewriter.saved.pop()
        rewriter.emit(b" Q")
        rewriter.text_as_paths(on=True)


def concatenate(rewriter: Rewriter, operands: bytes, operator: bytes) -> None:
    """`cm`."""
    numbers = last_numbers(operands, operator)
    if numbers is None:
        return
    matrix, state = Matrix(*numbers), rewriter.state
    state.ctm = matrix.then(state.ctm)
    rewriter.emit(b"%b cm" % operands)
    if matrix[:4] != (1, 0, 0, 1):
        rewriter.measure_lines()
        rewriter.widen_lines()


def line_width(rewriter: Rewriter, operands: bytes, operator: bytes) -> None:
    """`w`."""
    numbers = last_numbers(operands, operator)
    if numbers is not None:
        rewriter.state.line_width = abs(numbers[0])
        rewriter.measure_lines()
        rewriter.emit(b"%b w" % operands)
        rewriter.state.widened = False
        rewriter.widen_lines()


def rendering_intent(rewriter: Rewriter, operands: bytes, _operator: bytes) -> None:
    """`ri`."""
    _set_intent(rewriter, last_name(operands))


def _set_intent(rewriter: Rewriter, intent: str | None) -> None:
    """Sets the rendering intent; a name that is not known is RelativeColorimetric (8.6.5.8)."""
    known = intent_named(intent)
    rewriter.state.intent = Intent.RELATIVE if known is None else known


def apply_gstate(rewriter: Rewriter, operands: bytes, _operator: bytes) -> None:
    """`gs`."""
    key = last_name(operands)
    dictionary = rewriter.scope.resources.find("ExtGState", key) if key is not None else None
    if dictionary is None:
        return
    parameters = read_parameters(dictionary)
    _remember(rewriter, parameters, dictionary)
    mask = None
    entries = kept_entries(dictionary)
    if parameters.soft_mask is False:
        entries["/SMask"] = entry(dictionary, "/SMask")
    elif parameters.soft_mask:
        asked = entry(dictionary, "/SMask")
        mask = soft_mask(rewriter, asked)
        rewriter.state.mask = MaskSet(mask, entry(asked, "/TR"), rewriter.state.ctm)
        rewriter.shines_through()
    transfer = transfer_function(dictionary)
    if transfer is not None:
        _set_tones(rewriter, transfer)
    resource_name = rewriter.context.names.name(
        "ExtGState",
        ("file", fingerprint(dictionary), mask),
        lambda: GState(entries, parameters.blend_mode, mask),
    )
    rewriter.emit(b" %b gs" % resource_name)
    if parameters.font is not None and parameters.font_size is not None:
        choose_font(rewriter, parameters.font, parameters.font_size)
    rewriter.widen_lines()
    rewriter.text_as_paths(on=True)


def _remember(rewriter: Rewriter, parameters: Parameters, dictionary: object) -> None:
    state, summary = rewriter.state, rewriter.context.summary
    before = state.overprint
    state.overprint = Overprint(
        _or(parameters.overprint_fill, before.fill),
        _or(parameters.overprint_stroke, before.stroke),
        before.mode if parameters.overprint_mode is None else parameters.overprint_mode,
    )
    if parameters.blend_mode is not None:
        state.blend_mode = parameters.blend_mode
        rewriter.record.blends = rewriter.record.blends or state.blend_mode != "Normal"
        summary.blend_modes.add(parameters.blend_mode)
    if parameters.stroke_opacity is not None:
        state.stroke_opacity = parameters.stroke_opacity
        state.written_opacity = LineOpacity(parameters.stroke_opacity)
    if parameters.fill_opacity is not None:
        state.fill_opacity = parameters.fill_opacity
    if parameters.soft_mask is not None:
        state.masked, state.mask = parameters.soft_mask, None
    if parameters.line_width is not None:
        state.line_width = parameters.line_width
    opacities = (parameters.stroke_opacity, parameters.fill_opacity)
    if any(each is not None and each < 1 for each in opacities) or state.blend_mode != "Normal":
        rewriter.shines_through()
    intent = name(entry(dictionary, "/RI"))
    if intent is not None:
        _set_intent(rewriter, intent)
    rewriter.measure_lines()


def _set_tones(rewriter: Rewriter, transfer: object) -> None:
    """Sets the transfer function that the inks of all later painting go through (10.5)."""
    try:
        rewriter.state.tones = read_tones(transfer)
    except NotDrawnError:
        rewriter.context.summary.doubt(TRANSFER)
    rewriter.context.summary.toned = rewriter.context.summary.toned or bool(rewriter.state.tones)
    choose_changed(rewriter)


def _or(value: bool | None, before: bool) -> bool:  # noqa: FBT001 - two values of the same kind
    return before if value is None else value


# Marked content (14.6, 8.11.3.2): what counts here is the layer that it belongs to.


def begin_marked(rewriter: Rewriter, _operands: bytes, _operator: bytes) -> None:
    """`BMC`: a sequence with a tag only."""
    _nest(rewriter, off=rewriter.off)


def begin_marked_with_properties(rewriter: Rewriter, operands: bytes, _operator: bytes) -> None:
    """`BDC`: those of tag `OC` are a layer."""
    off = rewriter.off
    names = list(names_in(operands))
    if not off and len(names) == 2 and names[0] == "OC":
        layer = rewriter.scope.resources.find("Properties", names[1])
        off = layer is not None and not rewriter.context.layers.printed(layer)
    _nest(rewriter, off=off)


def end_marked(rewriter: Rewriter, _operands: bytes, _operator: bytes) -> None:
    """`EMC`."""
    if len(rewriter.hidden) > 1:
        rewriter.hidden.pop()


_DEEPEST: Final = 10_000


def _nest(rewriter: Rewriter, *, off: bool) -> None:
    if len(rewriter.hidden) > _DEEPEST:
        raise NotDrawnError("marked sequences are nested without end")
    rewriter.hidden.append(off)
