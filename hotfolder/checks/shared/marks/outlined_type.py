"""Type turned into outlines: shapes that stand in a line as letters do.

To a file they are shapes like others; to a reader they are words. Letters of one colour stand on one line,
close together, most of them as high as the small letters or as the capitals, and of many widths. Dots,
hatching and borders are of one shape; a texture stands on no line; a logo has few letters. A path may hold
one letter, or a whole line.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from itertools import pairwise
from statistics import median
from typing import Final

from hotfolder.model.colour import Colour
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.units import mm_to_pt

# Small letters of type of 4 pt are 0.7 mm high; what is higher than 20 mm is display type (own choices).
_LEAST_HEIGHT_PT: Final = mm_to_pt(0.6)
_MOST_HEIGHT_PT: Final = mm_to_pt(20)
# A letter is at most so many times wider than high (a dash, a ligature), and a line of type has so many (own
# choices).
_WIDEST: Final = 3.0
_LEAST_LETTERS: Final = 6
_LEAST_WIDTHS: Final = 3
_MOST_LETTERS: Final = 1_000  # of 4 pt across a poster
# The share of the letters that stand on the line, and that have one of its two heights; the others have
# descenders, are points, or round ones that overshoot.
_STANDING: Final = 0.6
_OF_TWO_HEIGHTS: Final = 0.6
# The share of letters that may be one and the same shape: of dots all are.
_OF_ONE_SHAPE: Final = 0.75
# Overshoot of round letters and rounding, in shares of the height; the widest gap: a word space and more.
_OFF_LINE: Final = 0.06
_ALIKE: Final = 0.06
_GAP: Final = 1.6
# Of two strokes of a letter one lies above the other; of two letters side by side little does (own choice).
_ONE_ABOVE_OTHER: Final = 0.5
# A dot or an accent is at most so high, and so far from its letter, in shares of the letter's height (own
# choices): the next line of type is further away.
_DOT: Final = 0.45
_DOT_ABOVE: Final = 0.3
# Shapes that are looked at on a page; a map or a traced illustration has more, and is none.
_MOST_SHAPES: Final = 20_000
_MOST_LINES: Final = 200


class Foot(Enum):
    """Where the feet of the letters are, on an unrotated page."""

    BOTTOM = "bottom"
    RIGHT = "right"
    TOP = "top"
    LEFT = "left"


@dataclass(frozen=True, slots=True)
class TypeLine:
    """A line of outlined type: its box, and about how large the type is.

    size_pt: by the height of its highest letters, which are some 0.7 of it. marks: the orders of the marks
    that it is made of.
    """

    box: Box
    size_pt: float
    marks: frozenset[int]


@dataclass(frozen=True, slots=True)
class LetterShape:
    """A shape that may be a letter, upright: its feet towards small y, and read towards large x."""

    order: int
    seen: Box
    box: Box


def type_lines(marks: Sequence[Mark], clear: Box) -> list[TypeLine]:
    """The lines of type that the filled paths of a page make up; those that lie in `clear` are left out."""
    by_colour: dict[Colour, list[tuple[int, Box]]] = {}
    count = 0
    for order, mark in enumerate(marks):
        if mark.kind is not MarkKind.PATH or mark.fill is None or not mark.shows or not mark.fill.components:
            continue
        shapes = [box for box, _ in outer_boxes(mark) if is_letter(box)]
        count += len(shapes)
        if count > _MOST_SHAPES:
            return []
        by_colour.setdefault(mark.fill, []).extend((order, box) for box in shapes)
    lines_of_type: list[TypeLine] = []
    for alike in by_colour.values():
        if len(alike) >= _LEAST_LETTERS:
            for foot in Foot:
                turned = [LetterShape(order, box, upright(box, foot)) for order, box in alike]
                lines_of_type.extend(line for line in _lines(turned) if not clear.holds(line.box))
    return _joined(lines_of_type[:_MOST_LINES])


def outer_boxes(mark: Mark) -> Iterator[tuple[Box, int]]:
    """The boxes of a path's shapes as they are seen, and of how many subpaths each is made up.

    Counters and crossing strokes belong to letters.
    """
    if mark.visible is None:
        return
    outer: list[tuple[Box, int]] = []
    for piece in sorted(mark.pieces or (mark.visible,), key=lambda box: (box.x0, -box.x1)):
        whole, count = piece, 1
        # What belongs together begins near to one another.
        for place in range(len(outer) - 1, max(0, len(outer) - 4) - 1, -1):
            if _is_one_letter(outer[place][0], whole):
                box, parts = outer.pop(place)
                whole, count = Box.around([*box.corners, *whole.corners]), count + parts
        outer.append((whole, count))
    for box, count in outer:
        seen = box.cut_by(mark.visible)
        if seen is not None:
            yield seen, count


def _is_one_letter(one: Box, other: Box) -> bool:
    """Whether two shapes of a path cross each other, the one above the other, or are a letter and its dot."""
    shared = min(one.x1, other.x1) - max(one.x0, other.x0)
    if shared < _ONE_ABOVE_OTHER * min(one.width, other.width):
        return False
    low, high = sorted((one.height, other.height))
    apart = max(one.y0 - other.y1, other.y0 - one.y1)
    return apart <= 0 or (low <= _DOT * high and apart <= _DOT_ABOVE * high)


def is_letter(box: Box) -> bool:
    """Whether a shape is as large as letters are, or a part of one."""
    short, long = sorted((box.width, box.height))
    return 0 < short <= _MOST_HEIGHT_PT and _LEAST_HEIGHT_PT <= long <= _WIDEST * _MOST_HEIGHT_PT


def upright(box: Box, foot: Foot) -> Box:
    """`box` turned so that feet point down; reading goes from left to right then."""
    match foot:
        case Foot.BOTTOM:
            return box
        case Foot.TOP:
            return Box(-box.x1, -box.y1, -box.x0, -box.y0)
        case Foot.RIGHT:
            return Box(box.y0, -box.x1, box.y1, -box.x0)
        case Foot.LEFT:
            return Box(-box.y1, box.x0, -box.y0, box.x1)


def _lines(shapes: Sequence[LetterShape]) -> Iterator[TypeLine]:
    """Lines among shapes of one colour that point their feet down."""
    letters = [
        shape
        for shape in shapes
        if _LEAST_HEIGHT_PT <= shape.box.height <= _MOST_HEIGHT_PT
        and shape.box.width <= _WIDEST * shape.box.height
    ]
    letters.sort(key=_foot_of)
    at = 0
    while at < len(letters):
        end = at + 1
        # On one line: no more apart than round letters are from straight ones. The lowest may be a full stop.
        most = 2 * _OFF_LINE * max(shape.box.height for shape in letters[at : at + _LEAST_LETTERS])
        while end < len(letters) and letters[end].box.y0 - letters[at].box.y0 <= most:
            end += 1
        for standing in _runs(letters[at:end]):
            line = _line(standing, letters)
            if line is not None:
                yield line
        at = end


def _foot_of(shape: LetterShape) -> float:
    return shape.box.y0


def _runs(standing: Iterable[LetterShape]) -> Iterator[list[LetterShape]]:
    """Shapes on one line in the order of reading, parted where the gap is too wide for a word space."""
    run: list[LetterShape] = []
    for shape in sorted(standing, key=lambda shape: shape.box.x0):
        if run and shape.box.x0 - max(each.box.x1 for each in run[-3:]) > _GAP * _height(run):
            yield run
            run = []
        run.append(shape)
    if run:
        yield run


def _height(run: Sequence[LetterShape]) -> float:
    """How high letters are that stand in a run: the higher ones of its last dozen."""
    return max(shape.box.height for shape in run[-12:])


def _line(standing: list[LetterShape], letters: Sequence[LetterShape]) -> TypeLine | None:
    """The line of type of which `standing` stand on its base line, if it is one. letters: sorted by y0."""
    if not _STANDING * _LEAST_LETTERS <= len(standing) <= _MOST_LETTERS:
        return None
    height = median(shape.box.height for shape in standing)
    base = median(shape.box.y0 for shape in standing)
    beside = 1.6 * height  # a letter that hangs below the line may be the first or the last
    low, high = standing[0].box.x0 - beside, max(shape.box.x1 for shape in standing) + beside
    first = bisect_left(letters, base - 0.6 * height, key=_foot_of)
    behind = bisect_right(letters, base + 0.3 * height, key=_foot_of)
    whole = [
        shape
        for shape in letters[first:behind]
        if low <= shape.box.x0 and shape.box.x1 <= high and shape.box.y1 > base + 0.3 * height
    ]
    if len(whole) < _LEAST_LETTERS or len(standing) < _STANDING * len(whole) or not _varies(whole):
        return None
    if not _has_two_heights(standing) or not _are_side_by_side(whole):
        return None
    around = Box.around([corner for shape in whole for corner in shape.seen.corners])
    size = max(shape.box.y1 for shape in whole) - base
    return TypeLine(around, size / 0.7, frozenset(shape.order for shape in whole))


def _varies(shapes: Sequence[LetterShape]) -> bool:
    """Whether shapes are of several widths, and not most of them the same."""
    unit = _ALIKE * max(shape.box.height for shape in shapes)
    kinds: dict[tuple[int, int], int] = {}
    for shape in shapes:
        kind = round(shape.box.width / unit), round(shape.box.height / unit)
        kinds[kind] = kinds.get(kind, 0) + 1
    widths = {width for width, _ in kinds}
    return len(widths) >= _LEAST_WIDTHS and max(kinds.values()) <= _OF_ONE_SHAPE * len(shapes)


def _has_two_heights(shapes: Sequence[LetterShape]) -> bool:
    """Whether most shapes are as high as one of two: small letters, and those that rise above them."""
    left = [shape.box.height for shape in shapes]
    near = 2 * _ALIKE * median(left)
    of_two = 0
    for _ in range(2):
        best = max(left, key=lambda height: sum(abs(other - height) <= near for other in left), default=0.0)
        kept = [height for height in left if abs(height - best) > near]
        of_two += len(left) - len(kept)
        left = kept
    return of_two >= _OF_TWO_HEIGHTS * len(shapes)


def _are_side_by_side(shapes: Sequence[LetterShape]) -> bool:
    """Whether shapes follow one another, where a texture or an illustration lays them over one another."""
    ordered = sorted(shapes, key=lambda shape: shape.box.x0)
    overlapping = sum(
        before.box.x1 - after.box.x0 > 0.4 * min(before.box.width, after.box.width)
        for before, after in pairwise(ordered)
    )
    return overlapping <= 0.25 * len(ordered)


def _joined(lines: Sequence[TypeLine]) -> list[TypeLine]:
    """Lines with those put together that overlap or follow one another: words that were found apart.

    Capitals stand in line with their feet and with their heads, and are found twice.
    """
    joined: list[TypeLine] = []
    for line in lines:
        whole = line
        for other in list(joined):
            if whole.box.grown(whole.size_pt / 2).cut_by(other.box) is not None:
                joined.remove(other)
                around = Box.around([*whole.box.corners, *other.box.corners])
                size = max(whole.size_pt, other.size_pt)
                whole = TypeLine(around, size, whole.marks | other.marks)
        joined.append(whole)
    return joined
