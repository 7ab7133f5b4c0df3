"""Gathers the letters of ours that belong to each word of poppler's on a page."""

import unicodedata
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cache
from typing import Final

from hotfolder.model.geometry import Box
from tests.reference.glyphs import ShownRun
from tests.reference.poppler_words import Sheet, Word

_CELL_PT: Final = 32.0  # about a word wide and two lines high
_ROUNDING_PT: Final = 1e-5  # poppler prints six decimals, and some words have no width

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Placed:
    """A letter on poppler's sheet: start, end and box as in `Letter`; level and type3 as in `ShownRun`."""

    says: str
    start: Point
    end: Point
    box: Box
    level: bool
    type3: bool

    @property
    def upright(self) -> bool:
        """Whether its baseline goes down the sheet rather than across."""
        return abs(self.end[1] - self.start[1]) > abs(self.end[0] - self.start[0])

    def pen(self, *, upright: bool) -> Point:
        """Where the pen stood and where it went, along a baseline that is upright or not."""
        axis = 1 if upright else 0
        return self.start[axis], self.end[axis]


@dataclass(slots=True)
class Gathered:
    """A word of poppler's, and the letters of ours that its box holds.

    missing: those of its own letters that are not yet found. own: the letters that are these; others:
    letters that stand in its box and say something else.
    """

    word: Word
    missing: Counter[str]
    own: list[Placed] = field(default_factory=list)
    others: list[Placed] = field(default_factory=list)

    @property
    def whole(self) -> bool:
        """Whether all its own letters are found."""
        return bool(self.own) and not any(count > 0 for count in self.missing.values())

    @property
    def letters(self) -> list[Placed]:
        """The letters of ours that make the word: where it is whole without the others, not these."""
        return self.own if self.whole else self.own + self.others

    @property
    def repeated(self) -> bool:
        """Whether each of its letters stands there more than once."""
        others = Counter(letter for placed in self.others for letter in _plain(placed.says))
        return not Counter(_plain(self.word.says)) - others


@dataclass(frozen=True, slots=True)
class SeenRun:
    """What came of a run of ours. wanted: poppler should have it; found: a letter of it is in a word."""

    says: str
    font: str
    box: Box
    oblique: bool
    wanted: bool
    found: bool


class Gathering:
    """The words of one page."""

    def __init__(self, sheet: Sheet, words: Iterable[Word]) -> None:
        self.words = [Gathered(word, Counter(_plain(word.says))) for word in words]
        self._sheet = sheet
        self._oblique: list[Box] = []
        self._type3: list[Box] = []
        self._cells = defaultdict[Point, list[Gathered]](list)
        for gathered in self.words:
            for cell in _cells(gathered.word.box):
                self._cells[cell].append(gathered)

    def is_oblique_around(self, box: Box) -> bool:
        """Whether a letter at an angle reaches into a box."""
        return any(oblique.cut_by(box) is not None for oblique in self._oblique)

    def is_type3_around(self, box: Box) -> bool:
        """Whether a letter of a Type 3 font reaches into a box."""
        return any(type3.cut_by(box) is not None for type3 in self._type3)

    def gather(self, run: ShownRun) -> SeenRun:
        """Puts the letters of a run into the words that they belong to."""
        mark, text = run.mark, run.mark.text
        assert text is not None
        # What is in a layer that is off is not there for poppler either; invisible text is.
        wanted, found, oblique = mark.printed or text.invisible, False, False
        letters = [placed for placed in self._placed(run) if not self._is_off_sheet(placed)]
        for placed in letters if wanted else ():
            if not placed.level:
                oblique = True
                self._oblique.append(placed.box)
            if placed.type3:
                self._type3.append(placed.box)
            found = self._put(placed) or found
        says = "".join(placed.says for placed in letters)
        return SeenRun(says, text.font, mark.box, oblique, wanted and bool(says.strip()), found)

    def _placed(self, run: ShownRun) -> Iterator[Placed]:
        a, b, c, d, e, f = self._sheet.matrix
        for letter in run.letters:
            (x0, y0), (x1, y1) = letter.start, letter.end
            yield Placed(
                letter.says,
                (a * x0 + c * y0 + e, b * x0 + d * y0 + f),
                (a * x1 + c * y1 + e, b * x1 + d * y1 + f),
                self._sheet.box(letter.box),
                run.level,
                run.type3,
            )

    def _is_off_sheet(self, placed: Placed) -> bool:
        """Whether poppler leaves the letter out, as it begins behind the sheet's edge or ends before it."""
        (x0, y0), (x1, y1) = placed.start, placed.end
        return x0 > self._sheet.width or y0 > self._sheet.height or x1 < 0 or y1 < 0

    def _put(self, placed: Placed) -> bool:
        """Puts a letter into the word around its middle; of several, one that lacks it, then the closest."""
        box = placed.box
        x, y = (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2
        middle = Box(x, y, x, y)
        found = [
            each for each in self._cells.get(_cell(x, y), ()) if each.word.box.holds(middle, _ROUNDING_PT)
        ]
        if not found:
            return False
        says = _plain(placed.says)
        lacking = [each for each in found if says and all(each.missing[letter] > 0 for letter in says)]
        likely = lacking or found
        chosen = likely[0]
        if len(likely) > 1:
            chosen = min(likely, key=lambda each: _apart(placed, each.word.box))
        if lacking:
            for letter in says:
                chosen.missing[letter] -= 1
            chosen.own.append(placed)
        else:
            chosen.others.append(placed)
        return True


def _apart(placed: Placed, word: Box) -> tuple[float, float]:
    """How far a letter is from being as high as a word, sticks out along the line, and is from its start."""
    box = placed.box
    if placed.upright:
        height, ends = abs(box.x0 - word.x0) + abs(box.x1 - word.x1), (word.y0 - box.y0, box.y1 - word.y1)
        start = abs(placed.start[1] - word.y0)
    else:
        height, ends = abs(box.y0 - word.y0) + abs(box.y1 - word.y1), (word.x0 - box.x0, box.x1 - word.x1)
        start = abs(placed.start[0] - word.x0)
    return round(height + sum(max(end, 0) for end in ends), 3), start


@cache
def _plain(text: str) -> str:
    """Text without what tells apart how it is set: ligatures, wide letters."""
    return unicodedata.normalize("NFKC", text)


def _cell(x: float, y: float) -> Point:
    return x // _CELL_PT, y // _CELL_PT


def _cells(box: Box) -> Iterator[Point]:
    (left, top), (right, bottom) = _cell(box.x0, box.y0), _cell(box.x1, box.y1)
    for column in range(int(left), int(right) + 1):
        for row in range(int(top), int(bottom) + 1):
            yield column, row
