"""Short words turned into outlines: two to five shapes that stand side by side as letters do.

Their row is too short to be told from others by its rhythm, as lines of type are, so each shape has to look
like a letter. Letters of one word are painted one after the other in one colour, stand on one line close
together, rise to one of two heights, and are not all of one shape. Most of them have more sides than dots,
bars, boxes, triangles and diamonds have, which have four at the most. Nothing else in their colour stands
among them. A row of pictograms may have all of this too, and so may a logo: they have to keep clear of the
cut as words have, and nothing more is said of what is found.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice
from statistics import median_low
from typing import Final

from hotfolder.checks.shared.marks.outlined_type import (
    Foot,
    TypeLine,
    is_letter,
    outer_boxes,
    type_lines,
    upright,
)
from hotfolder.model.colour import Colour
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind

# Own choices. A word of six letters is a line of type.
_MOST_LETTERS: Final = 5
_LEAST_LETTERS: Final = 2
# In shares of the height: the overshoot of round letters and rounding, the room between two letters, how much
# two may overlap, the height of small letters, how far others of that colour keep away, and what makes one
# letter wider than another.
_OFF_LINE: Final = 0.06
_ROOM: Final = 0.6
_OVERLAP: Final = 0.15
_SMALL_LETTERS: Final = (0.55, 0.85)
_HANGING: Final = 0.5
_CLEAR_BESIDE, _CLEAR_ABOVE = 1.0, 0.1
_WIDER: Final = 0.02
_NARROWEST, _WIDEST = 0.06, 1.6
# A box and a diamond have four sides, and so has a circle as most programs draw it; an L has six, a C eight.
_SIDES_OF_A_LETTER: Final = 6
_ROUNDED_BOX: Final = 8.0
# How many of a word may be one and the same letter, and from how many letters on one may be of another height
# than the others: a t, or one with an accent.
_MOST_ALIKE: Final = {2: 1, 3: 2, 4: 2, 5: 2}
_ODD_ONE_FROM: Final = 3
# A page with more shapes is a map or an illustration; and so many rows near the cut are looked at.
_MOST_SHAPES: Final = 6_000
_MOST_ROWS: Final = 300


@dataclass(frozen=True, slots=True)
class _Letter:
    """A shape that may be a letter. sides: how many it has, by the mean of its mark. parts: its subpaths."""

    order: int
    seen: Box
    sides: float
    parts: int


def type_in_outlines(marks: Sequence[Mark], clear: Box) -> list[tuple[TypeLine, str]]:
    """What the filled paths of a page look like that is type, in words; what lies in `clear` is left out."""
    lines = type_lines(marks, clear)
    words = short_words(marks, clear, lines)
    return [
        *((line, "a line of type") for line in lines),
        *((word, "a short word or a sign") for word in words),
    ]


def short_words(marks: Sequence[Mark], clear: Box, lines: Sequence[TypeLine]) -> list[TypeLine]:
    """The short words that the filled paths of a page make up.

    Left out are those that lie in `clear`, and what belongs to the `lines` of type that were found.
    """
    in_lines = frozenset(order for line in lines for order in line.marks)
    by_colour: dict[Colour, list[_Letter]] = {}
    count = 0
    for order, mark in enumerate(marks):
        if mark.kind is not MarkKind.PATH or mark.fill is None or not mark.shows or not mark.fill.components:
            continue
        boxes = list(outer_boxes(mark))
        count += len(boxes)
        if count > _MOST_SHAPES:
            return []
        by_colour.setdefault(mark.fill, []).extend(
            _Letter(order, box, mark.sides / len(boxes), parts) for box, parts in boxes
        )
    rows = (
        (row, foot, alike)
        for alike in by_colour.values()
        for foot in Foot
        for row in _rows(alike, foot)
        if not in_lines.intersection(letter.order for letter in row) and not _all_clear(row, clear)
    )
    words = (_word(row, foot, alike) for row, foot, alike in islice(rows, _MOST_ROWS))
    return [word for word in words if word is not None]


def _all_clear(run: Sequence[_Letter], clear: Box) -> bool:
    return all(clear.holds(letter.seen) for letter in run)


def _rows(letters: Sequence[_Letter], foot: Foot) -> Iterator[list[_Letter]]:
    """Shapes that were painted one after the other, each beside the one before it, as many as a word has."""
    row: list[_Letter] = []
    for letter in letters:
        if row and not _follows(upright(row[-1].seen, foot), upright(letter.seen, foot)):
            if _LEAST_LETTERS <= len(row) <= _MOST_LETTERS:
                yield row
            row = []
        row.append(letter)
    if _LEAST_LETTERS <= len(row) <= _MOST_LETTERS:
        yield row


def _follows(before: Box, after: Box) -> bool:
    """Whether a shape stands beside the one before it, as the next letter of a word does."""
    height = max(before.height, after.height)
    gap = after.x0 - before.x1
    return -_OVERLAP * height <= gap <= _ROOM * height and before.y0 < after.y1 and after.y0 < before.y1


def _word(run: Sequence[_Letter], foot: Foot, alike: Sequence[_Letter]) -> TypeLine | None:
    """The word that a row of shapes is, among all of its colour; None where it is none."""
    boxes = [upright(letter.seen, foot) for letter in run]
    if not all(is_letter(letter.seen) for letter in run) or not _stand_in_line(boxes):
        return None
    height = max(box.height for box in boxes)
    if not all(_NARROWEST * height <= box.width <= _WIDEST * height for box in boxes) or not _vary(
        run, boxes
    ):
        return None
    like_letters = sum(letter.sides >= _SIDES_OF_A_LETTER for letter in run)
    if like_letters < max(_LEAST_LETTERS, len(run) - 1):
        return None
    around = Box.around([corner for letter in run for corner in letter.seen.corners])
    beside, above = _CLEAR_BESIDE * height, _CLEAR_ABOVE * height
    across, up = (beside, above) if foot in {Foot.BOTTOM, Foot.TOP} else (above, beside)
    x0, y0, x1, y1 = around.x0 - across, around.y0 - up, around.x1 + across, around.y1 + up
    for letter in alike:
        box = letter.seen
        touches = box.x0 <= x1 and box.x1 >= x0 and box.y0 <= y1 and box.y1 >= y0
        # What lies beneath all of the word is its ground, with another colour between.
        if touches and letter not in run and not box.holds(around):
            return None
    return TypeLine(around, height / 0.7, frozenset(letter.order for letter in run))


def _stand_in_line(boxes: Sequence[Box]) -> bool:
    """Whether shapes stand on one line and rise to one height, or to that of small letters.

    One of them may hang below the line, as a g does: with as much of it above as small letters have.
    """
    height = max(box.height for box in boxes)
    near = _OFF_LINE * height
    base = median_low(box.y0 for box in boxes)
    top = max(box.y1 for box in boxes)
    hanging = 0
    for box in boxes:
        if box.y0 < base - near:
            hanging += 1
            if hanging > 1 or box.y0 < base - _HANGING * height:
                return False
        elif box.y0 > base + near:
            return False
    rises = [(box.y1 - base) / (top - base) for box in boxes]
    small = [rise for rise in rises if rise < 1 - 2 * _OFF_LINE]
    low, high = _SMALL_LETTERS
    height_of_small = median_low(small) if small else low
    of_small = sum(abs(rise - height_of_small) <= 2 * _OFF_LINE for rise in small)
    return low <= height_of_small <= high and len(small) - of_small <= (len(boxes) >= _ODD_ONE_FROM)


def _vary(run: Sequence[_Letter], boxes: Sequence[Box]) -> bool:
    """Whether shapes are not mostly of one and the same shape: of one width, with as many sides and parts.

    Boxes of several widths have all as many sides, with corners or without.
    """
    near = _WIDER * max(box.height for box in boxes)
    shapes = list(zip(run, boxes, strict=True))
    alike = max(
        sum(
            abs(box.width - other.width) <= near
            and (letter.sides, letter.parts) == (another.sides, another.parts)
            for another, other in shapes
        )
        for letter, box in shapes
    )
    sides = {letter.sides for letter in run}
    if len({letter.order for letter in run}) == 1:  # of one path only the mean is known
        return alike <= _MOST_ALIKE[len(run)] and len(run) > _LEAST_LETTERS and sides != {_ROUNDED_BOX}
    return alike <= _MOST_ALIKE[len(run)] and len(sides) > 1
