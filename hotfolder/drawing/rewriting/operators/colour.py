"""Operators of colour (ISO 32000-2, 8.6.8): each becomes the colour's share of the pass that is drawn."""

from hotfolder.drawing.rewriting.choosing import choose, remember_space
from hotfolder.drawing.rewriting.paints import Solid
from hotfolder.drawing.rewriting.resources.patterns import pattern_paint
from hotfolder.drawing.rewriting.rewriter import Rewriter
from hotfolder.drawing.rewriting.scan import last_name, last_numbers, numbers_in
from hotfolder.drawing.spaces.space import PaintSpace
from hotfolder.pdf.language.operators import DEVICE_COLOURS


def set_device_colour(rewriter: Rewriter, operands: bytes, operator: bytes) -> None:
    """`g`, `rg`, `k` and those for lines."""
    if rewriter.uncoloured:
        return
    family, stroke = DEVICE_COLOURS[operator.decode("ascii")]
    key = (family, operands, rewriter.state.intent, rewriter.change)
    space = rewriter.space_called(family)
    paint = rewriter.named.paints.get(key)
    if paint is None:
        numbers = last_numbers(operands, operator)
        if numbers is None:
            return
        paint = rewriter.named.paints[key] = rewriter.context.solid(
            rewriter.changed(space), numbers, rewriter.state.intent
        )
    choose(rewriter, paint, space, stroke=stroke)


def set_space(rewriter: Rewriter, operands: bytes, operator: bytes) -> None:
    """`cs` and `CS`: the space's initial colour holds from here."""
    key = last_name(operands)
    if rewriter.uncoloured or key is None:
        return
    space = rewriter.space_called(key)
    stroke = operator == b"CS"
    if space.family == "Pattern":
        remember_space(rewriter, space, stroke=stroke)
        return
    choose(rewriter, _solid(rewriter, space, b"", space.initial), space, stroke=stroke)


def set_colour(rewriter: Rewriter, operands: bytes, operator: bytes) -> None:
    """`sc`, `scn`, `SC` and `SCN`."""
    if rewriter.uncoloured:
        return
    stroke = operator[:1] == b"S"
    state = rewriter.state
    space = state.stroke_space if stroke else state.fill_space
    if space.family == "Pattern":
        key = last_name(operands)
        paint = pattern_paint(rewriter, key, numbers_in(operands), space) if key is not None else None
        if paint is not None:
            choose(rewriter, paint, space, stroke=stroke)
        return
    choose(rewriter, _solid(rewriter, space, operands, None), space, stroke=stroke)


def _solid(
    rewriter: Rewriter, space: PaintSpace, operands: bytes, components: tuple[float, ...] | None
) -> Solid:
    space = rewriter.changed(space)
    key = (space, operands, rewriter.state.intent)
    paint = rewriter.named.paints.get(key)
    if paint is None:
        numbers = numbers_in(operands) if components is None else list(components)
        paint = rewriter.named.paints[key] = rewriter.context.solid(space, numbers, rewriter.state.intent)
    return paint
