"""Where the ink of a run of text lies on the page, and what its text is."""

import math
from typing import Final

from hotfolder.model.geometry import Box
from hotfolder.pdf.content.graphics_state import TextState
from hotfolder.pdf.content.text_run import Placed, TextRun
from hotfolder.pdf.fonts.fonts import FontMetrics
from hotfolder.pdf.fonts.shown_glyphs import ShownGlyphs
from hotfolder.pdf.objects.matrix import Matrix

LONGEST_WORDS: Final = 60  # characters; enough to find the place, and a report is no copy of the text


def ink_bounds(placed: list[Placed], glyphs: ShownGlyphs, text: TextState, matrix: Matrix) -> Box | None:
    """The box around the ink of a run's glyphs, on the page; None where it is not known, or there is no ink.

    matrix: text space to the page.
    """
    upright = matrix.b == matrix.c == 0 or matrix.a == matrix.d == 0
    box = (_upright if upright else _at_an_angle)(placed, glyphs, text, matrix)
    sound = box is not None and math.isfinite(box.x0 + box.y0 + box.x1 + box.y1)
    return box if sound else None


def _upright(placed: list[Placed], glyphs: ShownGlyphs, text: TextState, matrix: Matrix) -> Box | None:
    em, size = text.size * text.scale, text.size
    xs: list[float] = []
    ys: list[float] = []
    for (_, x, y), shape in zip(placed, glyphs.shapes(placed), strict=True):
        if shape is None:
            return None
        if shape:
            x0, y0, x1, y1 = shape
            xs += (x + x0 * em, x + x1 * em)
            ys += (y + y0 * size, y + y1 * size)
    return matrix.bounds(min(xs), min(ys), max(xs), max(ys)) if xs else None


def _at_an_angle(placed: list[Placed], glyphs: ShownGlyphs, text: TextState, matrix: Matrix) -> Box | None:
    em, size = text.size * text.scale, text.size
    if None in glyphs.shapes(placed):
        return None
    points = [
        matrix.point(x + px * em, y + py * size) for glyph, x, y in placed for px, py in glyphs.hull(glyph)
    ]
    return Box.around(points) if points else None


def words(run: TextRun, font: FontMetrics) -> str:
    """The text of a run, `LONGEST_WORDS` characters at most; empty where the font has no map to Unicode."""
    placed = run.placed[: LONGEST_WORDS + 1]
    texts = [glyph.text or font.text(glyph) for glyph, _, _ in placed]
    for gap in run.gaps:
        if gap < len(texts):
            texts[gap] = " " + texts[gap]
    whole = " ".join("".join(texts).split())
    if len(run.placed) == len(placed) and len(whole) <= LONGEST_WORDS:
        return whole
    return whole[: LONGEST_WORDS - 1].rstrip() + "…"
