"""The glyphs of one font that text on paper shows: how far their ink reaches, and what is wrong with them.

The font program is opened for the first of them; most documents name fonts that nothing on paper uses. What
is read of a glyph is cached, since text shows the same few glyphs again and again.
"""

from collections.abc import Callable, Collection, Iterable
from typing import Final, Protocol

from hotfolder.errors import DamagedFontError, FontFaultError, FontLimitError
from hotfolder.pdf.fonts.programs.font_programs import OpenFont
from hotfolder.pdf.fonts.programs.glyph_shapes import BLANK, Shape, hull_around, shape_of
from hotfolder.pdf.objects.matrix import Point

# ISO 19005-2 (6.2.11.5, from memory) allows a thousandth of the em, and many producers round more
# coarsely without harm; a hundredth is what begins to show between letters. And half a thousandth for the
# rounding of the width that the file gives.
_WIDTH_TOLERANCE_EM: Final = 0.010 + 0.0005


class ShownCode(Protocol):
    """A glyph of a shown string, as far as it matters here."""

    @property
    def code(self) -> int:
        """The character code."""
        ...

    @property
    def cid(self) -> int | None:
        """By which it is looked up in the font program; None where that is not known."""
        ...

    @property
    def width_em(self) -> float:
        """The width that the font dictionary gives."""
        ...


class ShownGlyphs:
    """The shapes of a font's glyphs, and what was noticed about them.

    missing: codes without a glyph. widths_differ: a glyph's width in the program is not that in the PDF.
    bitmap: a glyph is an image. unread: why the program, or a part of it, could not be read; empty where it
    could. damaged: what is embedded is no font program, is cut short, or is malformed where text uses it.
    """

    def __init__(self, opening: Callable[[], OpenFont] | None, blanks: Collection[int]) -> None:
        """`opening` opens the font program, None where none is embedded; `blanks` are the codes of spaces."""
        self.missing: set[int] = set()
        self.widths_differ = False
        self.bitmap = False
        self.unread = ""
        self.damaged = False
        self._opening = opening
        self._opened: OpenFont | None = None
        self._blanks = blanks
        self._shapes: dict[int, Shape | None] = {}
        self._hulls: dict[int, tuple[Point, ...]] = {}

    def shapes(self, placed: Iterable[tuple[ShownCode, float, float]]) -> list[Shape | None]:
        """The shapes of placed glyphs; None for one that is not known."""
        known = self._shapes
        return [known[shown.code] if shown.code in known else self._meet(shown) for shown, _, _ in placed]

    def hull(self, shown: ShownCode) -> tuple[Point, ...]:
        """The convex hull of a glyph of known shape, in em, which bounds it under any transformation."""
        corners = self._hulls.get(shown.code)
        if corners is None:
            corners = self._hulls[shown.code] = self._read_hull(shown)
        return corners

    def meaning(self, code: int) -> str | None:
        """The text of a code of a simple font by its program; None where there is none that can be read."""
        font = self._open()
        return font.meaning(code) if font is not None else None

    def knows(self, code: int) -> bool:
        """Whether the shape of a code's glyph was read before."""
        return code in self._shapes

    def learn(self, code: int, shape: Shape | None, *, missing: bool = False, bitmap: bool = False) -> None:
        """Records the shape of a Type 3 glyph, which its procedure draws; None where it is not known."""
        self._shapes[code] = shape
        self.bitmap = self.bitmap or bitmap
        if missing and code not in self._blanks:
            self.missing.add(code)

    def _meet(self, shown: ShownCode) -> Shape | None:
        shape = self._shapes[shown.code] = self._read(shown)
        return shape

    def _read(self, shown: ShownCode) -> Shape | None:
        font = self._open()
        if font is None or shown.cid is None:
            return None
        glyph = font.choose(shown.cid)
        blank = shown.code in self._blanks
        if not glyph:
            if blank:
                return BLANK
            self.missing.add(shown.code)
        try:
            outline, advance = font.draw(glyph)
        except FontFaultError as fault:
            self._tell(fault)
            return None
        if glyph and advance is not None and abs(advance - shown.width_em) > _WIDTH_TOLERANCE_EM:
            self.widths_differ = True
        return shape_of(outline)

    def _read_hull(self, shown: ShownCode) -> tuple[Point, ...]:
        shape = self._shapes.get(shown.code)
        if not shape:
            return ()
        x0, y0, x1, y1 = shape
        if self._opened is None or shown.cid is None:
            return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
        outline, _ = self._opened.draw(self._opened.choose(shown.cid))
        return hull_around(outline)

    def _open(self) -> OpenFont | None:
        if self._opened is None and self._opening is not None:
            opening, self._opening = self._opening, None
            try:
                self._opened = opening()
            except FontFaultError as fault:
                self._tell(fault)
        return self._opened

    def _tell(self, fault: FontFaultError) -> None:
        if isinstance(fault, DamagedFontError):
            self.damaged = True
        elif isinstance(fault, FontLimitError):
            self.unread = "its program is larger or more intricate than what is read here"
        else:
            self.unread = "its program is of a kind that is not read here"
