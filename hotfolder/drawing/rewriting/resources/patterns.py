"""Patterns (ISO 32000-2, 8.7) as they stand in rewritten content: cells rewritten, shadings recoloured."""

from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name

from hotfolder.drawing.rewriting.names import Entries, Making, PassResource
from hotfolder.drawing.rewriting.overprint import touched_by_space
from hotfolder.drawing.rewriting.paints import PatternPaint
from hotfolder.drawing.rewriting.resources.shadings import Shaded, shaded
from hotfolder.drawing.rewriting.resources.tilings import CellResource, rewritten_cell
from hotfolder.drawing.rewriting.rewriter import Rewriter
from hotfolder.drawing.spaces.space import PaintSpace
from hotfolder.errors import NotDrawnError
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix, moving
from hotfolder.pdf.objects.reading import entry, fingerprint, numbers, whole

_PATTERN: Final = b"/Pattern"


class ShadingPattern(PassResource):
    """A shading pattern. entries: its dictionary, shading apart."""

    def __init__(self, what: Shaded, entries: Entries) -> None:
        self._what = what
        self._entries = entries

    def made(self, making: Making) -> pikepdf.Object:
        """The pattern in a pass."""
        return making.pdf.make_indirect(Dictionary({**self._entries, "/Shading": self._what.made(making)}))


def pattern_paint(
    rewriter: Rewriter, key: str, operands: list[float], space: PaintSpace
) -> PatternPaint | None:
    """The paint of a pattern chosen by name; None where the file does not hold it."""
    pattern = rewriter.scope.resources.find("Pattern", key)
    if whole(entry(pattern, "/PatternType")) == 2:
        return _of_shading(rewriter, pattern)
    if not isinstance(pattern, pikepdf.Stream):
        return None
    if rewriter.draws_itself(fingerprint(pattern)):
        return None
    if whole(entry(pattern, "/PaintType")) != 2:
        resource_name, blends = _cell(rewriter, pattern, uncoloured=False)
        return PatternPaint(resource_name, _PATTERN, blends=blends)
    base = getattr(space, "base", None)
    if not isinstance(base, PaintSpace):
        raise NotDrawnError("an uncoloured pattern is used without a colour")
    resource_name, blends = _cell(rewriter, pattern, uncoloured=True)
    colour = rewriter.context.solid(rewriter.changed(base), operands, rewriter.state.intent)
    return PatternPaint(resource_name, _uncoloured_space(rewriter), colour, blends=blends)


def _uncoloured_space(rewriter: Rewriter) -> bytes:
    return rewriter.context.names.name(
        "ColorSpace", "uncoloured patterns", lambda: Array([Name.Pattern, Name.DeviceRGB])
    )


def _cell(rewriter: Rewriter, stream: pikepdf.Stream, *, uncoloured: bool) -> tuple[bytes, bool]:
    """The name of a pattern whose cell is rewritten, and whether something in it blends with its backdrop."""
    key = (
        fingerprint(stream),
        rewriter.scope.on_screen,
        tuple(round(each, 6) for each in rewriter.scope.base[:4]),
    )
    names = rewriter.context.names
    resource_name = names.name(
        "Pattern", key, lambda: rewritten_cell(rewriter, stream, uncoloured=uncoloured)
    )
    cell = names.known("Pattern", key)
    if not isinstance(cell, CellResource):
        raise TypeError("a name of a pattern stands for something else")
    rewriter.record.add(cell.record)
    return resource_name, cell.record.blends


def _of_shading(rewriter: Rewriter, pattern: object) -> PatternPaint:
    what = shaded(rewriter, entry(pattern, "/Shading"))
    own = numbers(entry(pattern, "/Matrix"), 6)
    matrix, base = Matrix(*own) if own is not None else IDENTITY, rewriter.scope.base
    matrix = matrix.then(moving(*what.shift(rewriter.context, base)))
    entries: Entries = {"/Type": Name.Pattern, "/PatternType": 2, "/Matrix": Array(list(matrix))}
    key = (fingerprint(pattern), rewriter.state.intent, rewriter.change, base[:4])
    resource_name = rewriter.context.names.name("Pattern", key, lambda: ShadingPattern(what, entries))
    return PatternPaint(
        resource_name,
        _PATTERN,
        spaces=(what.space,),
        inks=dict.fromkeys(what.space.touches, 1.0),
        touched=touched_by_space(what.space),
    )
