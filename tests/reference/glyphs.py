"""Where our reading puts each letter of the text that a page shows.

Our facts tell of runs (what one operator shows), poppler of words: many to a run, or many runs to a word.
So each run is caught with its glyphs while it is read, and laid onto the box that the facts have for it:
the outer edges of its outer letters are those of that box, and the other letters lie between.
"""

from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Final
from unittest import mock

from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind, Source
from hotfolder.model.pages import Page
from hotfolder.pdf.content.content import Content
from hotfolder.pdf.content.operators import text as showing
from hotfolder.pdf.content.text_run import TextRun
from hotfolder.pdf.objects.matrix import Matrix, Point

_SAME_PT: Final = 1e-6
_SAME_SIZE_PT: Final = 1e-3


@dataclass(frozen=True, slots=True)
class Letter:
    """A glyph that is no space, from where the pen stood to where it went, spacing left out.

    says: its text; empty where the font does not tell. box: along the baseline as far as the pen goes,
    across it as far as the font declares.
    """

    start: Point
    end: Point
    says: str
    box: Box


@dataclass(frozen=True, slots=True)
class ShownRun:
    """A run: its mark, and its letters in the page's unrotated space.

    level: its baseline is parallel to an edge of the page. type3: its font is of Type 3.
    """

    mark: Mark
    letters: tuple[Letter, ...]
    level: bool
    type3: bool


@dataclass(slots=True)
class ShownRuns:
    """All runs of a file, by the operator that showed them: a form drawn twice shows a run twice."""

    by_source: dict[Source, list[ShownRun]] = field(default_factory=lambda: defaultdict(list))

    def of(self, page: Page) -> Iterator[ShownRun]:
        """The runs of a page, as its facts have them."""
        for mark in page.known_marks:
            if mark.kind is MarkKind.TEXT:
                read, *more = self.by_source[mark.source]
                if more:
                    read = min((read, *more), key=lambda run: _unlikeness(run.mark, mark))
                yield ShownRun(mark, _laid_onto(mark, read), read.level, read.type3)


def _unlikeness(one: Mark, other: Mark) -> tuple[bool, float, float]:
    ours, theirs = one.box, other.box
    place = abs(ours.x0 - theirs.x0) + abs(ours.y0 - theirs.y0)
    return one.text != other.text, round(_size_apart(ours, theirs), 3), place


def _size_apart(one: Box, other: Box) -> float:
    return abs(one.width - other.width) + abs(one.height - other.height)


def _laid_onto(mark: Mark, read: ShownRun) -> tuple[Letter, ...]:
    """The letters of a run that was read, where the facts have it.

    What was kept of a form is laid down again elsewhere, as large, without being read once more.
    """
    letters, here, there = read.letters, read.mark.box, mark.box
    if here != there and _size_apart(here, there) < _SAME_SIZE_PT:
        x, y = there.x0 - here.x0, there.y0 - here.y0
        letters = tuple(_moved(letter, x, y) for letter in letters)
    if mark.stroke is not None or not letters or not read.level:
        return letters  # the box of the facts holds more than the letters
    boxes = [letter.box for letter in letters]
    around = Box(
        min([box.x0 for box in boxes]), min([box.y0 for box in boxes]),
        max([box.x1 for box in boxes]), max([box.y1 for box in boxes]),
    )  # fmt: skip
    if around.holds(mark.box, _SAME_PT) and mark.box.holds(around, _SAME_PT):
        return letters
    return tuple(_stretched(letter, around, mark.box) for letter in letters)


def _moved(letter: Letter, x: float, y: float) -> Letter:
    (x0, y0), (x1, y1), box = letter.start, letter.end, letter.box
    return Letter(
        (x0 + x, y0 + y), (x1 + x, y1 + y), letter.says, Box(box.x0 + x, box.y0 + y, box.x1 + x, box.y1 + y)
    )


def _stretched(letter: Letter, inner: Box, outer: Box) -> Letter:
    """The letter, its edges at `outer` where they were at `inner`."""

    def at(value: float, inner_low: float, inner_high: float, low: float, high: float) -> float:
        if abs(value - inner_low) < _SAME_PT:
            return low
        return high if abs(value - inner_high) < _SAME_PT else value

    def x(value: float) -> float:
        return at(value, inner.x0, inner.x1, outer.x0, outer.x1)

    def y(value: float) -> float:
        return at(value, inner.y0, inner.y1, outer.y0, outer.y1)

    start, end = ((x(px), y(py)) for px, py in (letter.start, letter.end))
    box = letter.box
    return Letter(start, end, letter.says, Box(x(box.x0), y(box.y0), x(box.x1), y(box.y1)))


@contextmanager
def caught_runs() -> Iterator[ShownRuns]:
    """Catches the runs of all text that is read meanwhile."""
    found = ShownRuns()
    read = showing._mark

    def catching(content: Content, run: TextRun, matrix: Matrix, mode: int) -> Mark | None:
        mark = read(content, run, matrix, mode)
        if mark is not None:
            found.by_source[mark.source].append(_shown(content, run, matrix, mark))
        return mark

    with mock.patch.object(showing, "_mark", catching):
        yield found


def _shown(content: Content, run: TextRun, matrix: Matrix, mark: Mark) -> ShownRun:
    text, font = content.state.text, content.state.text.font
    assert font is not None
    em, size = text.size * text.scale, text.size
    bottom, top = font.descent_em * size, font.ascent_em * size
    letters = []
    for glyph, x, y in run.placed:
        if glyph.is_blank:
            continue
        far = x + glyph.width_em * em
        pen, to = (x, y), (far, y)
        if font.vertical:  # the pen stands at the vertical origin and goes down (9.7.4.3)
            pen = (x + glyph.origin_em[0] * em, y + glyph.origin_em[1] * size - text.rise)
            to = (pen[0], pen[1] + glyph.advance_em * size)
        box = matrix.bounds(x, y + bottom, far, y + top)
        letters.append(Letter(matrix.point(*pen), matrix.point(*to), font.text(glyph), box))
    return ShownRun(mark, tuple(letters), matrix.keeps_upright, font.type3 is not None)
