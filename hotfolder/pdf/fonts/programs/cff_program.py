"""Reads CFF font programs (Adobe Technical Note 5176), bare or in an OpenType font.

Glyphs are known by name, or by CID in fonts made for composite fonts.
"""

import io
from collections.abc import Callable
from typing import Any, Final

from fontTools.cffLib import CFFFontSet

from hotfolder.errors import DamagedFontError
from hotfolder.pdf.fonts.encodings import STANDARD, Encoding
from hotfolder.pdf.fonts.programs.charstrings import FONTTOOLS_ERRORS, Drawing, draw_type2, fault_of
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix
from hotfolder.pdf.objects.outline import Outline

_PLAIN: Final = Matrix(0.001, 0.0, 0.0, 0.001, 0.0, 0.0)
_CID: Final = "cid"


class CffProgram:
    """The glyphs of a CFF font, numbered as they stand in it; .notdef has the number 0.

    names: glyphs by name; None in a font whose glyphs have CIDs, which `cids` gives instead.
    """

    def __init__(self, data: bytes, spend: Callable[[int], None]) -> None:
        self._spend = spend
        try:
            fonts = CFFFontSet()
            fonts.decompile(io.BytesIO(data), None)
            self._top: Any = fonts[0]  # fontTools ships no types
            self._charstrings: Any = self._top.CharStrings.charStringsIndex
            self._keyed_by_cid = hasattr(self._top, "ROS")
            self._globals: Any = fonts.GlobalSubrs
            # A font with CIDs may leave its list out: its glyphs then stand in the order of their CIDs.
            order = self._top.charset or [_CID + str(place) for place in range(len(self._charstrings))]
            order = list(enumerate(order[: len(self._charstrings)]))
        except FONTTOOLS_ERRORS as error:
            raise fault_of(error) from error
        self.glyph_count = len(self._charstrings)
        self.names: dict[str, int] | None = None
        self.cids: dict[int, int] | None = None
        if self._keyed_by_cid:
            self.cids = {_cid(name): glyph for glyph, name in reversed(order)}
        else:
            self.names = {name: glyph for glyph, name in reversed(order)}

    @property
    def encoding(self) -> Encoding:
        """The encoding that the font brings."""
        try:
            own = self._top.Encoding
        except FONTTOOLS_ERRORS:
            return {}
        if isinstance(own, str):
            return STANDARD if own == "StandardEncoding" else {}
        return {code: name for code, name in enumerate(own) if name != ".notdef"}

    def draw(self, glyph: int) -> tuple[Outline, float | None]:
        """The outline of a glyph and its advance, in em; raises `DamagedFontError` where it is broken."""
        try:
            private, matrix = self._kept_with(glyph)
            drawing, parts = self._draw(glyph, private, matrix)
            for name, x, y in parts:
                # The parts of an accented letter are drawn as they are; parts of parts are not made.
                a, b, c, d, _, _ = matrix
                moved = Matrix(a, b, c, d, *matrix.point(x, y))
                part, _ = self._draw((self.names or {})[name], private, moved)
                drawing.outline.subpaths.extend(part.outline.subpaths)
        except FONTTOOLS_ERRORS as error:
            raise fault_of(error) from error
        return drawing.outline, None if drawing.advance is None else drawing.advance * matrix.a

    def _draw(
        self, glyph: int, private: object, matrix: Matrix
    ) -> tuple[Drawing, list[tuple[str, float, float]]]:
        charstring = self._charstrings[glyph]
        # The shortest glyph ends with an instruction; one of nothing at all was wiped out.
        if not any(charstring.bytecode or b"\1"):
            raise DamagedFontError
        return draw_type2(charstring, private, self._globals, matrix, self._spend)

    def _kept_with(self, glyph: int) -> tuple[object, Matrix]:
        """The private dictionary of a glyph, and its font's matrix: CID fonts have one for each group."""
        own = _matrix(self._top)
        if not self._keyed_by_cid:
            return self._top.Private, own or _PLAIN
        selector = self._top.FDSelect
        group = self._top.FDArray[selector[glyph]]
        inner = _matrix(group)
        if inner is None:
            return group.Private, own or _PLAIN
        return group.Private, inner.then(own or IDENTITY)


def _matrix(dictionary: Any) -> Matrix | None:  # noqa: ANN401 - fontTools ships no types
    """The FontMatrix that a dictionary gives; fontTools would fill in a default."""
    figures = dictionary.rawDict.get("FontMatrix")
    return Matrix(*map(float, figures)) if figures is not None else None


def _cid(name: str) -> int:
    """The CID of a glyph, out of the name that fontTools gives it: cid00001 and so on; 0 for .notdef.

    A CID that stands in the list twice has a number after it.
    """
    digits = name.removeprefix(_CID).partition(".")[0]
    return int(digits) if digits.isdecimal() else 0
