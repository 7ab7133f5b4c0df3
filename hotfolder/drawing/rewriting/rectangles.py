"""Rectangles made of lines (ISO 32000-2, 8.5.2), which the renderer knows again and lays on whole pixels."""

import re
from collections.abc import Callable
from typing import Final

from hotfolder.drawing.rewriting.scan import numbers_in

_GAP: Final = rb"[\x00\t\n\x0c\r ]+"
_NUMBER: Final = rb"[-+.0-9]+"
_ONE_POINT: Final = rb"(" + _NUMBER + rb")" + _GAP + rb"(" + _NUMBER + rb")" + _GAP
# Of an upright rectangle each corner shares a number with the next one, which is written alike both times.
# What matches and is no rectangle takes no harm. The path is filled, or ends what is looked at.
_DRAWN: Final = re.compile(
    rb"(?<=[\x00\t\n\x0c\r ])m" + _GAP + _ONE_POINT + rb"l" + _GAP
    + rb"(?:(?P<upright>\1)|" + _NUMBER + rb")" + _GAP + rb"(?(upright)" + _NUMBER + rb"|\2)" + _GAP
    + rb"l" + _GAP + _ONE_POINT + rb"l(?![^\x00\t\n\x0c\r ])"
    + rb"(?:" + _GAP + _NUMBER + _GAP + _NUMBER + _GAP + rb"l(?![^\x00\t\n\x0c\r ]))?"
    + rb"(?:" + _GAP + rb"h(?![^\x00\t\n\x0c\r ]))?"
    + rb"(?=" + _GAP + rb"[fFbB]|[\x00\t\n\x0c\r ]*\Z)"
)  # fmt: skip


def with_soft_rectangles(run: bytes, softens: Callable[[float, float, float, float], bool]) -> bytes:
    """Instructions in which rectangles made of lines have another speck in their paths, as `softens` says.

    softens: of a rectangle by x, y, width and height whether it is to be drawn with soft edges.
    """

    def softened(rectangle: re.Match[bytes]) -> bytes:
        corners = numbers_in(b" ".join((rectangle[1], rectangle[2], rectangle[4], rectangle[5])))
        if len(corners) != 4:
            return rectangle[0]
        x0, x1 = sorted(corners[::2])
        y0, y1 = sorted(corners[1::2])
        return (
            b"%b %b %b m h" % rectangle.group(0, 1, 2) if softens(x0, y0, x1 - x0, y1 - y0) else rectangle[0]
        )

    return _DRAWN.sub(softened, run)
