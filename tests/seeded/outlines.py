"""Type turned into outlines: the letters of the demonstration's alphabet as paths."""

import io
from functools import cache

from fontTools.pens.basePen import BasePen
from fontTools.ttLib import TTFont

from hotfolder.demo.artwork.typeface import EM, Typeface
from tests.seeded.planting import UNIT


class _Path(BasePen):  # type: ignore[misc] # fontTools has no types
    """Writes a glyph as operators, laid at `x`, `y` in millimetres, of `scale` millimetres a unit."""

    def __init__(self, glyphs: object, x: float, y: float, scale: float) -> None:
        super().__init__(glyphs)
        self.operators: list[str] = []
        self._x, self._y, self._scale = x, y, scale

    def _point(self, point: tuple[float, float]) -> str:
        return f"{self._x + point[0] * self._scale:.4f} {self._y + point[1] * self._scale:.4f}"

    def _moveTo(self, point: tuple[float, float]) -> None:  # noqa: N802 - fontTools' names
        self.operators.append(f"{self._point(point)} m")

    def _lineTo(self, point: tuple[float, float]) -> None:  # noqa: N802
        self.operators.append(f"{self._point(point)} l")

    def _curveToOne(self, *points: tuple[float, float]) -> None:  # noqa: N802
        self.operators.append(f"{' '.join(self._point(point) for point in points)} c")

    def _closePath(self) -> None:  # noqa: N802
        self.operators.append("h")


def outlined(face: Typeface, x: float, y: float, words: str, size_pt: float) -> list[str]:
    """The path of each letter of a line that begins at `x`, `y`, in millimetres."""
    font = _font(face.program)
    glyphs, names = font.getGlyphSet(), font.getBestCmap()
    scale = size_pt / UNIT / EM
    found: list[str] = []
    for letter in words.upper():
        glyph = glyphs[names[ord(letter)]]
        pen = _Path(glyphs, x, y, scale)
        glyph.draw(pen)
        if pen.operators:
            found.append(" ".join(pen.operators))
        x += glyph.width * scale
    return found


@cache
def _font(program: bytes) -> TTFont:
    return TTFont(io.BytesIO(program))
