"""The marked proof of one page: where picture, trim, bleed and numbered notes go, as plain numbers.

Everything here is in the proof's own units: one unit is one pixel on a wide screen, x to the
right, y downwards, the page turned as it is meant to be seen. The template only draws.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page, Trim, TrimOrigin
from hotfolder.model.pictures import PagePicture
from hotfolder.report.notes import Note
from hotfolder.wording.figures import mm_words

# Around the sheet: room for crop marks, and outside of them for the numbers.
_MARGIN: Final = 64.0
_BADGE_FROM_EDGE: Final = 22.0
BADGE_RADIUS: Final = 13.0
_BADGE_STEP: Final = 2 * BADGE_RADIUS + 5

_MARK_GAP: Final = 5.0
_MARK_LENGTH: Final = 20.0

# An upright sheet stands beside its notes, a wide one above them.
_UPRIGHT: Final = (470.0, 680.0)
_WIDE: Final = (920.0, 560.0)
_WIDE_FROM: Final = 1.15

_SMALLEST_FRAME: Final = 7.0
# A frame runs around what it marks and not over it: half its light casing (see report.css), and as much again
# on a phone, where the proof is drawn at two thirds and lines keep their width.
_CLEAR: Final = 3.2
_MOST_FRAMES: Final = 80
_MOST_ECHOED: Final = 4
_TOUCHING: Final = 4.0
_PLACES_IN_WORDS: Final = 3


@dataclass(frozen=True, slots=True)
class NoteFrame:
    """A rectangle by its top left corner."""

    x: float
    y: float
    width: float
    height: float

    def nearest(self, x: float, y: float) -> tuple[float, float]:
        """The point of the rectangle that is nearest to `x`, `y`."""
        return _between(x, self.x, self.x + self.width), _between(y, self.y, self.y + self.height)


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    x1: float
    y1: float
    x2: float
    y2: float


@dataclass(frozen=True, slots=True)
class NotePlace:
    """Where a note belongs: frames around what it is about, and its number in the margin.

    leader: from the number to the nearest frame. echoes: where the number stands once more, small, at
    the other frames, as long as those are few.
    """

    note: Note
    frames: tuple[NoteFrame, ...]
    x: float
    y: float
    leader: Line | None
    echoes: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Proof:
    """One page, ready to be drawn.

    sheet: the paper that the file describes. trim, bleed: None where not known or not wanted.
    concluded: the trim stands in no box of the file. bleed_declared: the bleed drawn is what
    the file says, since the rule set wants none.
    """

    width: float
    height: float
    wide: bool
    sheet: NoteFrame
    trim: NoteFrame | None
    bleed: NoteFrame | None
    crop_marks: tuple[Line, ...]
    places: tuple[NotePlace, ...]
    concluded: bool
    bleed_declared: bool


def lay_out(
    page: Page, picture: PagePicture | None, page_notes: Sequence[Note], bleed_pt: float
) -> Proof | None:
    """The proof of `page`; None where there is neither a picture nor a size to draw."""
    trim = page.trim.box if isinstance(page.trim, Trim) else None
    sheet = (picture.box if picture else None) or page.boxes.media or trim
    if sheet is None:
        if picture is None:
            return None
        sheet, trim = Box(0, 0, picture.width_px, picture.height_px), None
    declared = page.boxes.bleed if trim is not None and bleed_pt <= 0 else None
    bleed = trim.grown(bleed_pt) if trim is not None and bleed_pt > 0 else declared
    whole = Box.around([corner for box in (sheet, bleed or sheet, trim or sheet) for corner in _corners(box)])
    screen = _ProofScreen.fitting(whole, page.rotate)
    trim_frame = screen.frame(trim) if trim else None
    bleed_frame = screen.frame(bleed) if bleed else None
    return Proof(
        width=screen.width,
        height=screen.height,
        wide=screen.wide,
        sheet=screen.frame(sheet),
        trim=trim_frame,
        bleed=bleed_frame,
        crop_marks=_crop_marks(trim_frame, bleed_frame or trim_frame) if trim_frame else (),
        places=_places(page_notes, screen),
        concluded=isinstance(page.trim, Trim) and page.trim.origin is TrimOrigin.INFERRED,
        bleed_declared=declared is not None,
    )


def frames_on(picture: PagePicture, boxes: Sequence[Box]) -> tuple[NoteFrame, ...]:
    """Where `boxes` lie on `picture`, in its pixels, as the page is seen; each large enough to be seen."""
    if picture.box is None:
        return ()
    outer = _turned(picture.box, picture.rotate)
    across, down = picture.width_px / outer.width, picture.height_px / outer.height
    frames = []
    for box in boxes:
        turned = _turned(box, picture.rotate)
        left, right = ((x - outer.x0) * across for x in (turned.x0, turned.x1))
        top, bottom = ((outer.y1 - y) * down for y in (turned.y1, turned.y0))
        x, width = _seen(left, right, picture.width_px)
        y, height = _seen(top, bottom, picture.height_px)
        frames.append(NoteFrame(x, y, width, height))
    return tuple(frames)


def _seen(start: float, end: float, whole: float) -> tuple[float, float]:
    """Start and length, held within `whole`."""
    length = max(_SMALLEST_FRAME, end - start)
    return _between((start + end - length) / 2, 0.0, max(0.0, whole - length)), min(length, whole)


def note_places(note: Note, page: Page) -> str:
    """The first places of a note in words, as the page is seen, for readers without the picture."""
    places = [words for box in note.finding.boxes[:_PLACES_IN_WORDS] if (words := box_words(box, page))]
    more = len(note.finding.boxes) - len(places)
    return "; ".join(places) + (f"; and {more} more" if more and places else "")


def box_words(box: Box, page: Page) -> str:
    """`3 mm from the left, 20 mm from the top, 10 mm wide, 5 mm high`: a place as the page is seen."""
    outer = page.trim.box if isinstance(page.trim, Trim) else page.boxes.media
    if outer is None:
        return ""
    turned_outer, turned = _turned(outer, page.rotate), _turned(box, page.rotate)
    left, top = turned.x0 - turned_outer.x0, turned_outer.y1 - turned.y1
    size = f"{mm_words(turned.width)} wide, {mm_words(turned.height)} high"
    return f"{_from_edge(left, 'left')}, {_from_edge(top, 'top')}, {size}"


def _from_edge(distance: float, edge: str) -> str:
    shown = mm_words(abs(distance))
    return (
        f"{shown} from the {edge}" if distance >= 0 or shown == "0 mm" else f"{shown} beyond the {edge} edge"
    )


@dataclass(frozen=True, slots=True)
class _ProofScreen:
    """How page space lands on the proof: turned, scaled, moved by the margin."""

    origin: Box  # all that is shown, turned
    rotate: int
    scale: float
    wide: bool

    @classmethod
    def fitting(cls, whole: Box, rotate: int) -> "_ProofScreen":
        turned = _turned(whole, rotate)
        wide = turned.width > turned.height * _WIDE_FROM
        most_wide, most_high = _WIDE if wide else _UPRIGHT
        scale = min(most_wide / max(turned.width, 1e-6), most_high / max(turned.height, 1e-6))
        return cls(turned, rotate, scale, wide)

    @property
    def width(self) -> float:
        return self.origin.width * self.scale + 2 * _MARGIN

    @property
    def height(self) -> float:
        return self.origin.height * self.scale + 2 * _MARGIN

    def frame(self, box: Box) -> NoteFrame:
        turned = _turned(box, self.rotate)
        return NoteFrame(
            x=_MARGIN + (turned.x0 - self.origin.x0) * self.scale,
            y=_MARGIN + (self.origin.y1 - turned.y1) * self.scale,
            width=turned.width * self.scale,
            height=turned.height * self.scale,
        )

    def visible_frame(self, box: Box) -> NoteFrame:
        """The frame around `box`, held at the sheet, clear of what it marks and large enough to be seen."""
        frame = self.frame(box)
        left, right = self._held(frame.x, frame.width, self.width)
        top, bottom = self._held(frame.y, frame.height, self.height)
        return NoteFrame(left, top, right - left, bottom - top)

    @staticmethod
    def _held(start: float, length: float, whole: float) -> tuple[float, float]:
        low, high = _MARGIN, whole - _MARGIN
        first, last = _between(start, low, high) - _CLEAR, _between(start + length, low, high) + _CLEAR
        if last - first < _SMALLEST_FRAME:
            middle = (first + last) / 2
            return middle - _SMALLEST_FRAME / 2, middle + _SMALLEST_FRAME / 2
        return first, last


def _turned(box: Box, rotate: int) -> Box:
    """`box` after turning the page clockwise by `rotate` degrees about the origin; y still upwards."""
    match rotate:
        case 90:
            return Box(box.y0, -box.x1, box.y1, -box.x0)
        case 180:
            return Box(-box.x1, -box.y1, -box.x0, -box.y0)
        case 270:
            return Box(-box.y1, box.x0, -box.y0, box.x1)
        case _:
            return box


def _corners(box: Box) -> tuple[tuple[float, float], tuple[float, float]]:
    return (box.x0, box.y0), (box.x1, box.y1)


def _between(value: float, low: float, high: float) -> float:
    return max(low, min(high, value))


def _crop_marks(trim: NoteFrame, outer: NoteFrame | None) -> tuple[Line, ...]:
    """Two short lines at each corner, in line with the trim and clear of the bleed, as printers set them."""
    outer = outer or trim
    lines = []
    for x, away_x, reach_x in (
        (trim.x, -1, max(0.0, trim.x - outer.x)),
        (trim.x + trim.width, 1, max(0.0, outer.x + outer.width - trim.x - trim.width)),
    ):
        for y, away_y, reach_y in (
            (trim.y, -1, max(0.0, trim.y - outer.y)),
            (trim.y + trim.height, 1, max(0.0, outer.y + outer.height - trim.y - trim.height)),
        ):
            near_x, near_y = x + away_x * (reach_x + _MARK_GAP), y + away_y * (reach_y + _MARK_GAP)
            lines.append(Line(near_x, y, near_x + away_x * _MARK_LENGTH, y))
            lines.append(Line(x, near_y, x, near_y + away_y * _MARK_LENGTH))
    return tuple(lines)


def _places(page_notes: Sequence[Note], screen: _ProofScreen) -> tuple[NotePlace, ...]:
    """Each note's number in the nearer margin, at the height of its place as far as there is room."""
    frames = {
        note.number: tuple(screen.visible_frame(box) for box in note.finding.boxes[:_MOST_FRAMES])
        for note in page_notes
    }
    places = []
    for left in (True, False):
        side = [note for note in page_notes if _is_left(frames[note.number], screen) is left]
        side.sort(key=lambda note: (_height_of(frames[note.number]), note.number))
        x = _BADGE_FROM_EDGE if left else screen.width - _BADGE_FROM_EDGE
        heights = _spread([_height_of(frames[note.number]) for note in side], screen.height)
        for note, y in zip(side, heights, strict=True):
            own = frames[note.number]
            nearest = min(own, key=lambda frame: _distance(frame, x, y), default=None)
            leader = None if nearest is None else _leader(nearest, x, y)
            places.append(NotePlace(note, own, x, y, leader, _echoes(own, nearest)))
    return tuple(sorted(places, key=lambda place: place.note.number))


def _is_left(frames: Sequence[NoteFrame], screen: _ProofScreen) -> bool:
    return not frames or frames[0].x + frames[0].width / 2 <= screen.width / 2


def _height_of(frames: Sequence[NoteFrame]) -> float:
    """Where a note's number would like to stand; notes on the whole page stand at the top."""
    return frames[0].y + frames[0].height / 2 if frames else _BADGE_FROM_EDGE


def _spread(wanted: Sequence[float], height: float) -> list[float]:
    """Rising positions a badge apart, as near to those `wanted` as can be; closer where there are many.

    Where neighbours would overlap they become one group about the middle of what its members
    want (the pool-adjacent-violators way of least squares under an order).
    """
    if not wanted:
        return []
    low, high = BADGE_RADIUS + 4, height - BADGE_RADIUS - 4
    step = min(_BADGE_STEP, (high - low) / max(1, len(wanted) - 1))
    groups: list[tuple[float, int]] = []  # mean of what is wanted once the steps are taken out, members
    for index, place in enumerate(wanted):
        mean, members = place - index * step, 1
        while groups and groups[-1][0] > mean:
            other, others = groups.pop()
            mean = (mean * members + other * others) / (members + others)
            members += others
        groups.append((mean, members))
    last = high - (len(wanted) - 1) * step
    starts = [_between(mean, low, last) for mean, members in groups for _ in range(members)]
    return [start + index * step for index, start in enumerate(starts)]


def _distance(frame: NoteFrame, x: float, y: float) -> float:
    near_x, near_y = frame.nearest(x, y)
    return math.hypot(near_x - x, near_y - y)


def _leader(frame: NoteFrame, x: float, y: float) -> Line:
    """A line from the edge of the number to the frame."""
    end_x, end_y = frame.nearest(x, y)
    distance = max(_distance(frame, x, y), 1e-6)
    start_x = x + (end_x - x) * BADGE_RADIUS / distance
    start_y = y + (end_y - y) * BADGE_RADIUS / distance
    return Line(start_x, start_y, end_x, end_y)


def _echoes(frames: Sequence[NoteFrame], numbered: NoteFrame | None) -> tuple[tuple[float, float], ...]:
    """Where the number is set once more: at frames that touch none that bears it already."""
    if numbered is None or len(frames) > _MOST_ECHOED:
        return ()
    bearing = [numbered]
    echoes = []
    for frame in frames:
        if not any(_touch(frame, other) for other in bearing):
            echoes.append((frame.x, frame.y))
        bearing.append(frame)
    return tuple(echoes)


def _touch(one: NoteFrame, other: NoteFrame) -> bool:
    return (
        one.x <= other.x + other.width + _TOUCHING
        and other.x <= one.x + one.width + _TOUCHING
        and one.y <= other.y + other.height + _TOUCHING
        and other.y <= one.y + one.height + _TOUCHING
    )
