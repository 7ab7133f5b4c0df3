"""Where on a page something is, in words: as a person sees the page, rotated as it is shown."""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import islice
from typing import Final

from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page

# Shares of the page's width and height (own choice): a strip along an edge, the middle, and how much
# of a page is "all of it".
_EDGE: Final = 0.08
_MIDDLE: Final = (0.4, 0.6)
_WHOLE: Final = 0.75

_MOST_NAMED: Final = 3
_MOST_LOOKED_AT: Final = 500


def place_words(page: Page, boxes: Iterable[Box]) -> str:
    """Where `boxes` lie on `page`, such as `bottom edge, left of the middle`; empty where that is not known.

    Up to three different places are named. The finished page counts, or the whole one where its trim is
    not known.
    """
    frame = page.boxes.media if isinstance(page.trim, Unmeasured) else page.trim.box
    if frame is None or not (frame.width > 0 and frame.height > 0):
        return ""
    named = dict.fromkeys(_words(_seen(box, frame, page.rotate)) for box in islice(boxes, _MOST_LOOKED_AT))
    return "; ".join(named) if len(named) <= _MOST_NAMED else "in several places"


@dataclass(frozen=True, slots=True)
class _Span:
    """A stretch across the page or up it, in shares of the page: 0 is the left edge or the bottom."""

    low: float
    high: float

    @property
    def beyond(self) -> int:
        """-1 where it lies wholly before the page, 1 wholly past it, else 0."""
        return -1 if self.high <= 0 and self.low < 0 else 1 if self.low >= 1 and self.high > 1 else 0

    @property
    def whole(self) -> bool:
        """Whether it runs from one edge to the other."""
        return min(self.high, 1) - max(self.low, 0) >= _WHOLE or (self.low < _EDGE and self.high > 1 - _EDGE)

    @property
    def edge(self) -> int:
        """-1 where it lies at the left or bottom edge, 1 at the other, 0 at neither."""
        if self.low < _EDGE and self.high < 0.5:
            return -1
        return 1 if self.high > 1 - _EDGE and self.low > 0.5 else 0

    @property
    def side(self) -> int:
        """-1 left of the middle or below it, 0 in it, 1 on the other side."""
        middle = (max(self.low, 0) + min(self.high, 1)) / 2
        return -1 if middle < _MIDDLE[0] else 1 if middle > _MIDDLE[1] else 0


_EDGES_ACROSS: Final = {-1: "left", 1: "right"}
_EDGES_UP: Final = {-1: "bottom", 1: "top"}
_ACROSS: Final = {-1: "left of the middle", 0: "in the middle", 1: "right of the middle"}
_UP: Final = {-1: "below the middle", 0: "in the middle", 1: "above the middle"}
_HALVES: Final = {-1: "lower half", 1: "upper half"}


def _seen(box: Box, frame: Box, rotate: int) -> tuple[_Span, _Span]:
    """Where a box lies across and up the page as it is shown, turned clockwise by `rotate`."""
    left, right = (box.x0 - frame.x0) / frame.width, (box.x1 - frame.x0) / frame.width
    low, high = (box.y0 - frame.y0) / frame.height, (box.y1 - frame.y0) / frame.height
    match rotate:
        case 90:
            return _Span(low, high), _Span(1 - right, 1 - left)
        case 180:
            return _Span(1 - right, 1 - left), _Span(1 - high, 1 - low)
        case 270:
            return _Span(1 - high, 1 - low), _Span(left, right)
        case _:
            return _Span(left, right), _Span(low, high)


def _words(spans: tuple[_Span, _Span]) -> str:
    across, up = spans
    if across.beyond or up.beyond:
        return f"beyond the {_edge_or_corner(across.beyond, up.beyond)}"
    if across.whole or up.whole:
        return _along(across, up)
    if across.edge and up.edge:
        return _edge_or_corner(across.edge, up.edge)
    if across.edge or up.edge:
        beside = _ACROSS[across.side] if up.edge else _UP[up.side]
        return f"{_edge_or_corner(across.edge, up.edge)}, {beside}"
    if up.side:
        return f"{_HALVES[up.side]}, {_ACROSS[across.side]}"
    return _ACROSS[across.side] if across.side else "in the middle of the page"


def _along(across: _Span, up: _Span) -> str:
    """Words for what runs across the page, up it, or over all of it."""
    if across.whole and up.whole:
        return "over the whole page"
    edge = _edge_or_corner(0, up.edge) if across.whole else _edge_or_corner(across.edge, 0)
    if edge:
        return f"along the {edge}"
    if across.whole:
        return f"across the page, {_UP[up.side]}"
    return f"from top to bottom, {_ACROSS[across.side]}"


def _edge_or_corner(across: int, up: int) -> str:
    """The name of an edge, or of the corner of two; empty for neither."""
    edges = [name for name in (_EDGES_UP.get(up), _EDGES_ACROSS.get(across)) if name is not None]
    return f"{' '.join(edges)} {'corner' if len(edges) > 1 else 'edge'}" if edges else ""
