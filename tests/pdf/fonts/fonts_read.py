"""Fonts as they are read from a page that shows them."""

from collections.abc import Callable, Mapping

from pikepdf import Dictionary, Name, Pdf

from hotfolder.model.document import Font
from tests.pdf.drawn_page import Drawn
from tests.pdf.fonts import made_fonts

Make = Callable[[Pdf], Dictionary]


def font_shown(make: Make, shown: bytes, before: bytes = b"") -> Font:
    """The facts of a font after text in it was shown on a page."""
    drawn = Drawn()
    drawn.resource("Font", "F", make(drawn.pdf))
    [font] = drawn.read(b"BT " + before + b" /F 10 Tf 50 60 Td " + shown + b" Tj ET").fonts
    return font


def truetype_font(
    *,
    flags: int = 32,
    program: bytes | None = None,
    widths: Mapping[int, float] | None = None,
    encoding: object = Name.WinAnsiEncoding,
) -> Make:
    data = program or made_fonts.truetype()
    return lambda pdf: made_fonts.simple(pdf, data, flags=flags, widths=widths, Encoding=encoding)
