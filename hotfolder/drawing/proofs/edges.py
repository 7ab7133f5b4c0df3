"""The edges of the trim as strips, turned so that the outside is up."""

from typing import Final

from PIL import Image

from hotfolder.colour.soft_proof import InkColours
from hotfolder.drawing.proofs.sheet import Cut, SheetPlates, as_picture, smaller, turned
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.pictures import EdgePicture
from hotfolder.units import mm_to_pt

_MOST_BYTES: Final = 15_000  # each

# What is shown on the paper's side of the cut, and beyond the bleed.
_INSIDE_PT: Final = mm_to_pt(5)
_BEYOND_PT: Final = mm_to_pt(2)

# An edge of a poster is long; more pixels than a wide screen shows tell nothing.
_LONGEST_PX: Final = 1000

# Clockwise from the top: by as many quarter turns to the left an edge's outside comes up.
_CLOCKWISE: Final = (Edge.TOP, Edge.RIGHT, Edge.BOTTOM, Edge.LEFT)


def edge_pictures(
    sheet: SheetPlates, trim: Box, bleed_pt: float, colours: InkColours
) -> tuple[EdgePicture, ...]:
    """A strip for each edge of `trim`, of what the sheet has there, clockwise from the top as stored."""
    strips = (_strip(sheet, edge, _around(edge, trim, bleed_pt), colours) for edge in _CLOCKWISE)
    return tuple(strip for strip in strips if strip is not None)


def _strip(sheet: SheetPlates, edge: Edge, box: Box, colours: InkColours) -> EdgePicture | None:
    on_sheet = box.cut_by(sheet.plates.sheet)
    cut = None if on_sheet is None else Cut.of(sheet.frame, on_sheet)
    if cut is None:
        return None
    shown = turned(colours.printed(sheet.inks(cut, cut.size), cut.size), -90 * _CLOCKWISE.index(edge))
    shown = smaller(shown, (min(shown.shape[1], _LONGEST_PX), shown.shape[0]))
    seen = _seen(edge, sheet.page.rotate)
    alt = f"The {seen} edge of page {sheet.page.number}, enlarged; what is cut off lies above"
    picture = as_picture(Image.fromarray(shown), alt, _MOST_BYTES)
    return EdgePicture(edge, seen, cut.box(sheet.frame), picture)


def _seen(edge: Edge, rotate: int) -> Edge:
    """Which edge `edge` is once the page is turned clockwise by `rotate` degrees."""
    return _CLOCKWISE[(_CLOCKWISE.index(edge) + rotate // 90) % 4]


def _around(edge: Edge, trim: Box, bleed_pt: float) -> Box:
    """The strip along `edge`, the bleed of both corners included."""
    beyond = bleed_pt + _BEYOND_PT
    wide = trim.grown(beyond)
    match edge:
        case Edge.LEFT:
            return Box(trim.x0 - beyond, wide.y0, trim.x0 + _INSIDE_PT, wide.y1)
        case Edge.BOTTOM:
            return Box(wide.x0, trim.y0 - beyond, wide.x1, trim.y0 + _INSIDE_PT)
        case Edge.RIGHT:
            return Box(trim.x1 - _INSIDE_PT, wide.y0, trim.x1 + beyond, wide.y1)
        case Edge.TOP:
            return Box(wide.x0, trim.y1 - _INSIDE_PT, wide.x1, trim.y1 + beyond)
