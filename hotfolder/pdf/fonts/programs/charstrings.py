"""Draws the charstrings of Type 1 and CFF fonts (Adobe Type 1 Font Format, chapter 6; Technical Note 5177).

fontTools executes them; here its work is bounded, and what it draws is collected as an outline in em.
"""

import struct
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final, TypeAlias

from fontTools.misc.psCharStrings import T1OutlineExtractor, T2OutlineExtractor

from hotfolder.errors import DamagedFontError, FontFaultError, FontLimitError
from hotfolder.pdf.objects.limits import GLYPH_NESTING, GLYPH_WORK
from hotfolder.pdf.objects.matrix import Matrix, Point
from hotfolder.pdf.objects.outline import Outline

# What fontTools raises for malformed charstrings and tables; it has no exceptions of its own for them.
FONTTOOLS_ERRORS: Final = (
    ArithmeticError, AssertionError, AttributeError, LookupError, NameError, NotImplementedError, OSError,
    RecursionError, TypeError, ValueError, struct.error,
)  # fmt: skip

CharString: TypeAlias = object


@dataclass(frozen=True, slots=True)
class Drawing:
    """What a charstring draws: its outline in em, and its advance in font units."""

    outline: Outline
    advance: float | None


class OutlinePen:
    """Collects an outline that is drawn in font units; `matrix` leads from those to em.

    components: the glyphs that an accented letter is made of, by name and offset (`seac`).
    """

    def __init__(self, matrix: Matrix) -> None:
        self.outline = Outline()
        self.components: list[tuple[str, float, float]] = []
        self._matrix = matrix

    def moveTo(self, point: Point) -> None:  # noqa: N802 - the name that fontTools calls
        """Begins a contour."""
        self.outline.move(self._matrix.point(*point))

    def lineTo(self, point: Point) -> None:  # noqa: N802 - the name that fontTools calls
        """Draws a straight segment."""
        self.outline.draw((self._matrix.point(*point),))

    def curveTo(self, first: Point, second: Point, end: Point) -> None:  # noqa: N802 - as fontTools calls it
        """Draws a curve."""
        place = self._matrix.point
        self.outline.draw((place(*first), place(*second), place(*end)))

    def closePath(self) -> None:  # noqa: N802 - the name that fontTools calls
        """Ends a contour."""

    endPath = closePath  # noqa: N815 - the name that fontTools calls

    def addComponent(self, name: str, transformation: Iterable[float]) -> None:  # noqa: N802 - as fontTools calls it
        """Notes that another glyph is a part of this one."""
        *_, x, y = transformation
        self.components.append((name, x, y))


class _Bounded:
    """Bounds the work on one glyph: the bytes of its charstrings, and the depth of their subroutines."""

    spend: Callable[[int], None]
    left: int

    def begin(self, spend: Callable[[int], None]) -> None:
        self.spend = spend
        self.left = GLYPH_WORK

    def follow(self, charstring: CharString, depth: int) -> None:
        # A charstring is followed from its bytes the first time, and then from what fontTools made of them.
        instructions = getattr(charstring, "bytecode", None) or getattr(charstring, "program", None)
        size = 1 + len(instructions or b"")
        self.left -= size
        if self.left < 0 or depth > GLYPH_NESTING:
            raise FontLimitError
        self.spend(size)


class _Type1(_Bounded, T1OutlineExtractor):  # type: ignore[misc] # fontTools ships no types
    def execute(self, charstring: CharString) -> None:
        self.follow(charstring, len(self.callingStack))
        super().execute(charstring)


class _Type2(_Bounded, T2OutlineExtractor):  # type: ignore[misc] # fontTools ships no types
    def execute(self, charstring: CharString) -> None:
        self.follow(charstring, len(self.callingStack))
        super().execute(charstring)


def draw_type1(
    charstring: CharString, subroutines: list[CharString], matrix: Matrix, spend: Callable[[int], None]
) -> tuple[Drawing, list[tuple[str, float, float]]]:
    """What a Type 1 charstring draws, and the glyphs that it is composed of, if any."""
    pen = OutlinePen(matrix)
    extractor = _Type1(pen, subroutines)
    extractor.begin(spend)
    _follow(extractor, charstring)
    return Drawing(pen.outline, extractor.width), pen.components


def draw_type2(
    charstring: CharString, private: object, globals_: object, matrix: Matrix, spend: Callable[[int], None]
) -> tuple[Drawing, list[tuple[str, float, float]]]:
    """What a Type 2 charstring draws with the subroutines and default widths of a private dictionary."""
    pen = OutlinePen(matrix)
    extractor = _Type2(
        pen,
        getattr(private, "Subrs", []),
        globals_,
        getattr(private, "nominalWidthX", 0),
        getattr(private, "defaultWidthX", 0),
        private,
    )
    extractor.begin(spend)
    _follow(extractor, charstring)
    return Drawing(pen.outline, extractor.width), pen.components


def _follow(extractor: _Type1 | _Type2, charstring: CharString) -> None:
    try:
        extractor.execute(charstring)
    except FONTTOOLS_ERRORS as error:
        raise fault_of(error) from error


def fault_of(error: Exception) -> FontFaultError:
    """The fault that an error of fontTools stands for: an operator unknown to it, or malformed data."""
    return FontFaultError() if isinstance(error, NotImplementedError) else DamagedFontError()
