"""Where a run of shown text lies (ISO 32000-2, 9.4.4)."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from hotfolder.model.geometry import Box
from hotfolder.pdf.content.graphics_state import TextState
from hotfolder.pdf.fonts.fonts import FontMetrics, Glyph

Piece = bytes | float  # a string, or a number of TJ: thousandths of the em to move back by


# Many programs move the pen instead of showing a space, which is a quarter of the em wide; kerning and letter
# spacing stay well below that. In thousandths of the em, as TJ has it.
_GAP: Final = -150

Placed = tuple[Glyph, float, float]  # a glyph, and its origin in text space


@dataclass(frozen=True, slots=True)
class TextRun:
    """A run of text.

    box: x0, y0, x1, y1 in text space of what it may paint, without leading and trailing spaces; None where it
    paints nothing. advance: how far the text matrix moves, in text space. placed: all its glyphs.
    gaps: the numbers of the glyphs, from 0, before which the pen was moved on by the width of a space.
    """

    box: tuple[float, float, float, float] | None
    advance: tuple[float, float]
    placed: list[Placed]
    gaps: list[int]


def measure_run(pieces: Iterable[Piece], text: TextState, font: FontMetrics) -> TextRun:
    """Measures the run that `pieces` show. Extents above and below are those of the font."""
    return _across(pieces, text, font) if not font.vertical else _downwards(pieces, text, font)


def _across(pieces: Iterable[Piece], text: TextState, font: FontMetrics) -> TextRun:
    em, rise = text.size * text.scale, text.rise
    spacing, word_spacing = text.character_spacing * text.scale, text.word_spacing * text.scale
    x = 0.0
    ends: list[float] = []
    placed: list[Placed] = []
    gaps: list[int] = []
    for piece in pieces:
        if not isinstance(piece, bytes):
            x -= piece / 1000 * em
            if piece < _GAP:
                gaps.append(len(placed))
            continue
        for glyph in font.decode(piece):
            placed.append((glyph, x, rise))
            far = x + glyph.width_em * em
            if not glyph.is_blank:
                ends += (x, far)
            x = far + spacing
            if glyph.is_word_space:
                x += word_spacing
    bottom, top = sorted((font.descent_em * text.size + rise, font.ascent_em * text.size + rise))
    box = (min(ends), bottom, max(ends), top) if ends else None
    return TextRun(box, (x, 0.0), placed, gaps)


def _downwards(pieces: Iterable[Piece], text: TextState, font: FontMetrics) -> TextRun:
    """Vertical writing (9.7.4.3): each glyph hangs from its vertical origin, and the pen goes down."""
    em = text.size * text.scale
    y = 0.0
    boxes = []
    placed: list[Placed] = []
    gaps: list[int] = []
    for piece in pieces:
        if not isinstance(piece, bytes):
            y -= piece / 1000 * text.size
            if piece > -_GAP:
                gaps.append(len(placed))
            continue
        for glyph in font.decode(piece):
            left = -glyph.origin_em[0] * em
            base = y - glyph.origin_em[1] * text.size + text.rise
            placed.append((glyph, left, base))
            if not glyph.is_blank:
                ends = sorted((left, left + glyph.width_em * em))
                heights = sorted((base + font.descent_em * text.size, base + font.ascent_em * text.size))
                boxes.append(Box(ends[0], heights[0], ends[1], heights[1]))
            y += glyph.advance_em * text.size + text.character_spacing
            if glyph.is_word_space:
                y += text.word_spacing
    if not boxes:
        return TextRun(None, (0.0, y), placed, gaps)
    around = Box.around([corner for box in boxes for corner in ((box.x0, box.y0), (box.x1, box.y1))])
    return TextRun((around.x0, around.y0, around.x1, around.y1), (0.0, y), placed, gaps)
