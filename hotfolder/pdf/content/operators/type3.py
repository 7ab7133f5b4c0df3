"""What the glyph procedures of Type 3 fonts paint (ISO 32000-2, 9.6.4).

A run of text is one mark, whatever its font. Glyphs that set colours of their own (`d0`) add the marks of
their procedures, once for each glyph of a run. Glyphs that are only shapes (`d1`) add none but their
images, from whose resolution a bitmap font is known: once for each glyph and size on a page.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

import pikepdf

from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.pdf.content.content import Content, Operands, Scope
from hotfolder.pdf.content.text_run import Placed
from hotfolder.pdf.fonts.fonts import FontMetrics, Type3
from hotfolder.pdf.fonts.programs.glyph_shapes import BLANK, shape_around
from hotfolder.pdf.objects.limits import NESTING
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.reading import identity

_ANYWHERE: Final = Box(-1e9, -1e9, 1e9, 1e9)


def coloured_glyph(_content: Content, _operands: Operands) -> None:
    """`d0`: the glyph sets its own colours."""


def uncoloured_glyph(content: Content, _operands: Operands) -> None:
    """`d1`: the glyph is a shape that takes the current colour; its colour operators are ignored."""
    content.uncoloured = True


def measure_glyphs(content: Content, font: FontMetrics, placed: Iterable[Placed]) -> None:
    """Measures the ink of those glyphs of a run that were not shown before, each in em."""
    type3 = font.type3
    if type3 is None:
        return
    for code in sorted({glyph.code for glyph, _, _ in placed if not font.shown.knows(glyph.code)}):
        procedure = type3.procedures.get(code)
        if procedure is None:
            font.shown.learn(code, BLANK, missing=True)
        else:
            _measure_glyph(content, font, code, procedure)


def _measure_glyph(content: Content, font: FontMetrics, code: int, procedure: pikepdf.Stream) -> None:
    key, chain = identity(procedure) or "", content.scope.chain
    if font.type3 is None or key in chain or len(chain) >= NESTING:
        return  # `_show_glyph` notes the circle
    matrix = Matrix(*font.type3.matrix)
    scope = Scope(
        object=key,
        resources=content.scope.resources.within(font.type3.resources),
        base=matrix,
        chain=(*chain, key),
    )
    state = replace(content.state, ctm=matrix, clip=_ANYWHERE, stroke=content.state.fill)
    # A ledger of its own: the problems of the glyph are noted by `_show_glyph`, and its marks are added
    # there. What is read counts for the page all the same.
    with content.ledger.measuring() as ledger:
        Content(content.operators, ledger, content.readers, scope, state).read_stream(procedure)
    marks = ledger.marks
    inked = [box for mark in marks if mark.on_paper and (box := _inked(mark)) is not None]
    shape = None if ledger.problems() else shape_around(inked)
    bitmap = bool(marks) and all(mark.kind is MarkKind.IMAGE for mark in marks)
    font.shown.learn(code, shape, bitmap=bitmap)


def _inked(mark: Mark) -> Box | None:
    known = mark.text is not None and mark.text.ink is not None
    return mark.text.visible_ink if known and mark.text is not None else mark.visible


def show_glyphs(content: Content, font: FontMetrics, placed: Iterable[Placed], matrix: Matrix) -> None:
    """Adds the marks that the glyphs of a run paint themselves; `matrix` is text matrix times CTM."""
    type3, text = font.type3, content.state.text
    if type3 is None:
        return
    first = {glyph.code: (x, y) for glyph, x, y in reversed(list(placed))}
    for code, (x, y) in sorted(first.items()):
        sized = Matrix(text.size * text.scale, 0.0, 0.0, text.size, x, y)
        glyph = Matrix(*type3.matrix).then(sized).then(matrix)
        if text.mode != 3:
            _show_glyph(content, type3, code, glyph)


def _show_glyph(content: Content, type3: Type3, code: int, matrix: Matrix) -> None:
    procedure = type3.procedures.get(code)
    shown = content.ledger.glyphs_shown
    # The same shape in the same size tells nothing new, wherever it stands.
    key = (identity(procedure), round(matrix.x_length, 6), round(matrix.y_length, 6))
    if procedure is None or key in shown:
        return
    chain = content.inner_chain(procedure)
    if chain is None:
        return
    scope = Scope(
        object=identity(procedure),
        resources=content.scope.resources.within(type3.resources),
        base=matrix,
        group=content.scope.group,
        layers=content.layers,
        hidden=not content.printed,
        chain=chain,
    )
    inner = content.inner(scope, replace(content.state, ctm=matrix, stroke=content.state.fill))
    with content.ledger.aside() as marks:
        inner.read_stream(procedure)
    if inner.uncoloured:
        shown.add(key)
    for mark in marks:
        if not inner.uncoloured or _tells_resolution(mark):
            content.ledger.add(mark)


def _tells_resolution(mark: Mark) -> bool:
    return mark.kind is MarkKind.IMAGE
