"""Where a run of shown text lies (ISO 32000-2, 9.4.4)."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from hotfolder.artwork import Box
from hotfolder.pdf.fonts import FontMetrics, Glyph
from hotfolder.pdf.graphics_state import TextState

Piece = bytes | float  # a string, or a number of TJ: thousandths of the em to move back by


@dataclass(frozen=True, slots=True)
class Placed:
    """A glyph, and its origin in text space."""

    glyph: Glyph
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Run:
    """A run of text.

    box: corners in text space of what it may paint, None where it paints nothing: leading and trailing
    spaces are left out. advance: how far the text matrix moves, in text space.
    """

    box: tuple[float, float, float, float] | None
    advance: tuple[float, float]
    glyphs: int
    placed: tuple[Placed, ...]


def measure_run(pieces: Iterable[Piece], text: TextState, font: FontMetrics) -> Run:
    """Measures the run that `pieces` show. Extents above and below are those of the font."""
    return _across(pieces, text, font) if not font.vertical else _downwards(pieces, text, font)


def _across(pieces: Iterable[Piece], text: TextState, font: FontMetrics) -> Run:
    em = text.size * text.scale
    spacing, word_spacing = text.character_spacing * text.scale, text.word_spacing * text.scale
    x, low, high, count = 0.0, math.inf, -math.inf, 0
    placed = []
    for piece in pieces:
        if not isinstance(piece, bytes):
            x -= piece / 1000 * em
            continue
        for glyph in font.decode(piece):
            far = x + glyph.width_em * em
            if glyph.code not in text.blanks:
                low, high = min(low, x, far), max(high, x, far)
            if font.type3 is not None:
                placed.append(Placed(glyph, x, text.rise))
            count += 1
            x = far + spacing + (word_spacing if glyph.is_word_space else 0.0)
    bottom, top = sorted((font.descent_em * text.size + text.rise, font.ascent_em * text.size + text.rise))
    box = (low, bottom, high, top) if low <= high else None
    return Run(box, (x, 0.0), count, tuple(placed))


def _downwards(pieces: Iterable[Piece], text: TextState, font: FontMetrics) -> Run:
    """Vertical writing (9.7.4.3): each glyph hangs from its vertical origin, and the pen goes down."""
    em = text.size * text.scale
    y, count = 0.0, 0
    boxes = []
    for piece in pieces:
        if not isinstance(piece, bytes):
            y -= piece / 1000 * text.size
            continue
        for glyph in font.decode(piece):
            count += 1
            if glyph.code not in text.blanks:
                left = -glyph.origin_em[0] * em
                base = y - glyph.origin_em[1] * text.size + text.rise
                ends = sorted((left, left + glyph.width_em * em))
                heights = sorted((base + font.descent_em * text.size, base + font.ascent_em * text.size))
                boxes.append(Box(ends[0], heights[0], ends[1], heights[1]))
            y += glyph.advance_em * text.size + text.character_spacing
            if glyph.is_word_space:
                y += text.word_spacing
    if not boxes:
        return Run(None, (0.0, y), count, ())
    around = Box.around([corner for box in boxes for corner in ((box.x0, box.y0), (box.x1, box.y1))])
    return Run((around.x0, around.y0, around.x1, around.y1), (0.0, y), count, ())
