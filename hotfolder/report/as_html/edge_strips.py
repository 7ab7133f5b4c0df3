"""The enlarged edges of a page: where strip, trim, bleed and places go, and what is told beside them.

A strip lies along its edge with the outside up, as far as the picture shows it. Across the edge it is drawn
larger than along it, since millimetres matter there. Units as in the marked proof: y runs downwards.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.inks import EdgePaint
from hotfolder.model.pages import Page, Trim
from hotfolder.model.pictures import EdgePicture, EncodedPicture
from hotfolder.report.as_html.proof import Line, NoteFrame
from hotfolder.report.notes import Note
from hotfolder.units import mm_to_pt
from hotfolder.wording.figures import mm_words

_WIDTH: Final = 500.0
_UNITS_PER_PT: Final = 3.4  # across the edge: about 10 units a millimetre
_BEYOND_PT: Final = mm_to_pt(2)
_INSIDE_PT: Final = mm_to_pt(5)
_SMALLEST: Final = 6.0
_NOISE: Final = 0.01
_AT_PT: Final = mm_to_pt(0.1)  # nearer than this to the trim is at the trim

# Reach is measured on pixels of a third of a millimetre, or less; half a millimetre less than wanted
# is as good, as everywhere in this trade.
_TOLERANCE_PT: Final = mm_to_pt(0.5)

_DIRECTIONS: Final = {
    Edge.TOP: "from left to right",
    Edge.RIGHT: "from top to bottom",
    Edge.BOTTOM: "from right to left",
    Edge.LEFT: "from bottom to top",
}


@dataclass(frozen=True, slots=True)
class Strip:
    """One edge, ready to be drawn. shown: where the picture lies; beyond it the sheet has ended."""

    heading: str
    words: tuple[str, ...]
    picture: EncodedPicture
    width: float
    height: float
    shown: NoteFrame
    trim: Line
    ends: tuple[Line, Line]
    bleed: Line | None
    places: tuple[tuple[Note, NoteFrame], ...]

    @property
    def notes(self) -> tuple[Note, ...]:
        """The notes that have a place on the strip, each once."""
        return tuple({note.number: note for note, _ in self.places}.values())


def edge_strips(
    page: Page, pictures: Sequence[EdgePicture], bleed_pt: float, bleed_notes: Sequence[Note]
) -> tuple[Strip, ...]:
    """A strip for each picture, in the order of a clockwise walk from the top of the page as it is seen."""
    if not isinstance(page.trim, Trim):
        return ()
    trim = page.trim.box
    order = list(_DIRECTIONS)
    paint = (
        {}
        if isinstance(page.ink, Unmeasured) or isinstance(page.ink.edges, Unmeasured)
        else {each.edge: each for each in page.ink.edges}
    )
    return tuple(
        _strip(picture, trim, bleed_pt, bleed_notes, paint.get(picture.edge))
        for picture in sorted(pictures, key=lambda each: order.index(each.seen))
    )


def _strip(
    picture: EdgePicture, trim: Box, bleed_pt: float, notes: Sequence[Note], paint: EdgePaint | None
) -> Strip:
    view = _EdgeView(picture.edge, trim, bleed_pt)
    start, end = view.along(trim)
    edge_y = view.depth_y(0)
    return Strip(
        heading=f"{picture.seen.value.capitalize()} edge, {_DIRECTIONS[picture.seen]}",
        words=_words(paint, bleed_pt),
        picture=picture.picture,
        width=_WIDTH,
        height=view.height,
        shown=view.frame(picture.box),
        trim=Line(0, edge_y, _WIDTH, edge_y),
        ends=(Line(start, 0, start, view.height), Line(end, 0, end, view.height)),
        bleed=None if bleed_pt <= 0 else Line(0, view.depth_y(bleed_pt), _WIDTH, view.depth_y(bleed_pt)),
        places=tuple(
            (note, view.seen_frame(box))
            for note in notes
            for box in note.finding.boxes
            if view.is_beyond(box)
        ),
    )


@dataclass(frozen=True, slots=True)
class _EdgeView:
    """How page space lands on the strip of one edge."""

    edge: Edge
    trim: Box
    bleed_pt: float

    @property
    def height(self) -> float:
        return (self.bleed_pt + _BEYOND_PT + _INSIDE_PT) * _UNITS_PER_PT

    def depth_y(self, beyond_pt: float) -> float:
        """The height on the strip of what lies `beyond_pt` outside of the trim."""
        return (self.bleed_pt + _BEYOND_PT - beyond_pt) * _UNITS_PER_PT

    def along(self, box: Box) -> tuple[float, float]:
        """Where `box` starts and ends on the strip, from its left."""
        outer = self.trim.grown(self.bleed_pt + _BEYOND_PT)
        match self.edge:
            case Edge.TOP:
                start, end, whole = box.x0 - outer.x0, box.x1 - outer.x0, outer.width
            case Edge.BOTTOM:
                start, end, whole = outer.x1 - box.x1, outer.x1 - box.x0, outer.width
            case Edge.RIGHT:
                start, end, whole = outer.y1 - box.y1, outer.y1 - box.y0, outer.height
            case Edge.LEFT:
                start, end, whole = box.y0 - outer.y0, box.y1 - outer.y0, outer.height
        return start * _WIDTH / whole, end * _WIDTH / whole

    def frame(self, box: Box) -> NoteFrame:
        """Where `box` lies on the strip, as far as the strip shows it."""
        start, end = (min(_WIDTH, max(0.0, place)) for place in self.along(box))
        outer, inner = self._depths(box)
        top, bottom = (min(self.height, max(0.0, self.depth_y(depth))) for depth in (outer, inner))
        return NoteFrame(start, top, end - start, bottom - top)

    def seen_frame(self, box: Box) -> NoteFrame:
        """`frame`, large enough to be seen."""
        frame = self.frame(box)
        width, height = max(frame.width, _SMALLEST), max(frame.height, _SMALLEST)
        return NoteFrame(min(frame.x, _WIDTH - width), min(frame.y, self.height - height), width, height)

    def is_beyond(self, box: Box) -> bool:
        """Whether `box` lies beside this edge of the trim and reaches out of it, not only past a corner."""
        outer, inner = self._depths(box)
        start, end = self.along(box)
        first, last = self.along(self.trim)
        return outer > 0 and inner > -_INSIDE_PT and start < last - _NOISE and end > first + _NOISE

    def _depths(self, box: Box) -> tuple[float, float]:
        """How far the outer and the inner side of `box` lie beyond the edge."""
        match self.edge:
            case Edge.TOP:
                return box.y1 - self.trim.y1, box.y0 - self.trim.y1
            case Edge.BOTTOM:
                return self.trim.y0 - box.y0, self.trim.y0 - box.y1
            case Edge.RIGHT:
                return box.x1 - self.trim.x1, box.x0 - self.trim.x1
            case Edge.LEFT:
                return self.trim.x0 - box.x0, self.trim.x0 - box.x1


def _words(paint: EdgePaint | None, bleed_pt: float) -> tuple[str, ...]:
    """What was measured along the edge, a sentence each."""
    if paint is None:
        return ("How far paint runs on here was not measured.",)
    reaches = [reach for reach in paint.reach_pt if reach is not None]
    if not reaches:
        return ("No paint touches the trim here.",)
    sentences = [_reach_words(reaches, bleed_pt, paint.step_pt)]
    if paint.sheet_pt < bleed_pt - _TOLERANCE_PT:
        where = "at" if paint.sheet_pt < _AT_PT else f"{_shown(paint.sheet_pt)} beyond"
        sentences.append(f"The sheet itself ends {where} the trim.")
    return tuple(sentences)


def _reach_words(reaches: Sequence[float], bleed_pt: float, step_pt: float) -> str:
    least, most = _shown(min(reaches)), _shown(max(reaches))
    short = sum(reach < bleed_pt - _TOLERANCE_PT for reach in reaches)
    if bleed_pt <= 0 or not short:
        return f"Paint runs on at least {least} beyond the trim wherever it touches it."
    length = mm_words(short * step_pt)
    if max(reaches) < _AT_PT:
        return (
            f"Paint ends at the trim, along {length} of this edge; {mm_words(bleed_pt)} beyond it is wanted."
        )
    runs = f"{least}" if least == most else f"{least} to {most}"
    return (
        f"Paint runs on {runs} beyond the trim; along {length} of this edge it is less than the "
        f"{mm_words(bleed_pt)} wanted."
    )


def _shown(points: float) -> str:
    """A reach in words, never longer than it is: `2.9 mm`."""
    return mm_words(mm_to_pt(math.floor(points * 254 / 72 + 1e-6) / 10))
