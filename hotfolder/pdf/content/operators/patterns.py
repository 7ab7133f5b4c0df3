"""Tiling patterns (ISO 32000-2, 8.7.3): the marks of the pattern cell.

The cell is read once for each matrix, colour and state that it is used with. Each of its marks then counts as
filling the whole painted area: a tile may fall on any place of it. Marks of a cell that differ only by their
place count once.
"""

from dataclasses import replace
from typing import Final

import pikepdf

from hotfolder.model.facts import ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkState, Source
from hotfolder.pdf.content.content import Content, Scope
from hotfolder.pdf.content.graphics_state import BLACK, GraphicsState, Paint, within_group
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix
from hotfolder.pdf.objects.reading import entry, identity, numbers

_NO_PLACE: Final = Box(0.0, 0.0, 0.0, 0.0)
_NO_SOURCE: Final = Source("")


def paint_cells(content: Content, paint: Paint, opacity: float, area: Mark) -> None:
    """Adds the marks of the pattern that `area` is painted with, if it is painted with one.

    opacity: that of the painting, as it lies on the page.
    """
    if paint.pattern is None:
        return
    for mark in _cell(content, paint, opacity):
        content.ledger.add(
            replace(
                mark,
                box=area.box,
                visible=area.visible,
                unseen=area.unseen or mark.unseen,
                printed=area.printed and mark.printed,
                layers=tuple(dict.fromkeys((*area.layers, *mark.layers))),
                text=replace(mark.text, ink=None, visible_ink=None) if mark.text is not None else None,
                solid=None,  # there may be gaps between the tiles
                even=False,
                repeated=False,  # it counts as lying all over the area
                pieces=(),  # so do these
            )
        )


def _cell(content: Content, paint: Paint, opacity: float) -> tuple[Mark, ...]:
    own = numbers(entry(paint.pattern, "/Matrix"), 6)
    matrix = (Matrix(*own) if own is not None else IDENTITY).then(content.scope.base)
    cells = content.ledger.cells
    key = (identity(paint.pattern), matrix, paint.cell_colour, opacity, content.state.laid_over)
    if key not in cells:
        cells[key] = _read_cell(content, paint, opacity, matrix)
    return cells[key]


def _read_cell(content: Content, paint: Paint, opacity: float, matrix: Matrix) -> tuple[Mark, ...]:
    stream = paint.pattern
    chain = content.inner_chain(stream)
    if chain is None or not isinstance(stream, pikepdf.Stream):
        return ()
    bounds = numbers(entry(stream, "/BBox"), 4)
    if bounds is None:
        content.note(ProblemKind.DAMAGED, "a pattern does not say how large it is, and paints nothing")
    # What is painted lies on the page as the painted area does; the cell begins with a state of
    # its own (8.7.3.1).
    laid = content.state.laid_over
    around = MarkState(
        fill_opacity=opacity,
        blend_mode=laid.blend_mode,
        soft_mask=laid.soft_mask,
        group=laid.group,
        knockout_group=laid.knockout_group,
        on_screen=laid.on_screen,
    )
    start = MarkState(
        overprint_fill=laid.overprint_fill,
        overprint_stroke=laid.overprint_stroke,
        overprint_mode=laid.overprint_mode,
    )
    colour = Paint(paint.cell_colour) if paint.cell_colour is not None else BLACK
    state = GraphicsState(
        ctm=matrix,
        clip=matrix.bounds(*bounds) if bounds is not None else None,
        clip_exact=matrix.keeps_upright,
        fill=colour,
        stroke=colour,
        own=start,
        laid_over=within_group(start, around),
    )
    scope = Scope(
        object=identity(stream),
        resources=content.scope.resources.within(entry(stream, "/Resources"), identity(stream)),
        base=matrix,
        group=around,
        chain=chain,
    )
    inner = content.inner(scope, state)
    inner.uncoloured = paint.cell_colour is not None
    with content.ledger.aside() as marks:
        inner.read_stream(stream)
    return _distinct(marks)


def _distinct(marks: list[Mark]) -> tuple[Mark, ...]:
    """One mark of those that differ only by their place; marks outside of the cell are left out."""
    different: dict[Mark, Mark] = {}
    for mark in marks:
        if mark.visible is not None:
            text = replace(mark.text, ink=None, visible_ink=None) if mark.text is not None else None
            alike = replace(mark, box=_NO_PLACE, visible=None, source=_NO_SOURCE, text=text, pieces=())
            different.setdefault(alike, mark)
    return tuple(different.values())
