"""Compares where text lies with the words of `pdftotext -bbox`.

A letter of ours belongs to the word of poppler's that its middle lies in. The letters of a word must
reach from edge to edge of it, along its baseline; across the baseline each of its edges must be where the
font of one of its letters declares it. So it does not matter how either of us parts text into words, and a
letter that is narrower, wider or elsewhere for us shows at the ends of its word.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page
from tests.reference.facts import Compared, Difference, Kind
from tests.reference.gathering import Gathered, Gathering, SeenRun
from tests.reference.glyphs import ShownRuns
from tests.reference.poppler_words import Sheet, Word
from tests.reference.word_differences import WordEvidence, is_accented

_TOLERANCE_PT: Final = 0.5

Sides = tuple[float, float]


@dataclass(frozen=True, slots=True)
class ComparedWords:
    """What came of the words of a file: the differences, and how many facts agree."""

    differences: tuple[Compared, ...] = ()
    agreeing: Mapping[Kind, int] = field(default_factory=dict)


def compare_words(
    pages: Iterable[Page], runs: ShownRuns, theirs: Sequence[tuple[Word, ...]], evidence: WordEvidence
) -> ComparedWords:
    """Compares the words of each page, and whether each run of ours is in a word at all."""
    differences, agreeing = list[Compared](), Counter[Kind]()
    for page, words in zip(pages, theirs, strict=False):  # that there are as many is asked elsewhere
        sheet = Sheet.of(page)
        if sheet is None:
            continue
        gathering = Gathering(sheet, words)
        seen = [gathering.gather(run) for run in runs.of(page)]
        for fact in _Judging(page.number, sheet, gathering, evidence).facts(seen):
            if fact.agree:
                agreeing[fact.kind] += 1
            else:
                differences.append(fact)
    return ComparedWords(tuple(differences), agreeing)


@dataclass(frozen=True, slots=True)
class _Judging:
    """Tells how the words of one page agree, once all letters are gathered."""

    page: int
    sheet: Sheet
    gathering: Gathering
    evidence: WordEvidence

    def facts(self, seen: Iterable[SeenRun]) -> Iterator[Compared]:
        for gathered in self.gathering.words:
            yield from self._word(gathered)
        for run in seen:
            if run.wanted:
                yield self._seen(run)

    def _word(self, gathered: Gathered) -> Iterator[Compared]:
        word, letters = gathered.word, gathered.letters
        if not letters:
            yield self._compared(Kind.WORD, gathered, None, (word.box.x0, word.box.x1))
            return
        upright = sum(placed.upright for placed in letters) * 2 > len(letters)
        along, across = _sides(word.box, upright=upright)
        pens = [end for placed in letters for end in placed.pen(upright=upright)]
        yield self._compared(Kind.WORD, gathered, (min(pens), max(pens)), along)
        declared = [_sides(placed.box, upright=upright)[1] for placed in letters]
        height = (
            min((low for low, _ in declared), key=lambda low: abs(low - across[0])),
            min((high for _, high in declared), key=lambda high: abs(high - across[1])),
        )
        yield self._compared(Kind.WORD_HEIGHT, gathered, height, across)

    def _compared(self, kind: Kind, gathered: Gathered, ours: Sides | None, theirs: Sides) -> Compared:
        agree = ours is not None and all(
            abs(our - their) <= _TOLERANCE_PT for our, their in zip(ours, theirs, strict=True)
        )
        return Compared(
            kind,
            f"page {self.page}, word '{gathered.word.says[:40]}'",
            "no letters" if ours is None else f"{ours[0]:.2f} to {ours[1]:.2f}",
            f"{theirs[0]:.2f} to {theirs[1]:.2f}",
            agree,
            None if agree else self._reason(kind, gathered),
        )

    def _reason(self, kind: Kind, gathered: Gathered) -> Difference | None:
        box, letters = gathered.word.box, gathered.letters
        # A word whose box is not where it should be may have lost letters to another.
        lost_some = not gathered.whole
        gathering = self.gathering
        if any(not placed.level for placed in letters) or (lost_some and gathering.is_oblique_around(box)):
            return Difference.OBLIQUE
        of_type3 = kind is Kind.WORD_HEIGHT and any(placed.type3 for placed in letters)
        if of_type3 or (lost_some and gathering.is_type3_around(box)):
            return Difference.TYPE3_HEIGHT
        if letters and gathered.repeated:
            return Difference.REPEATED
        if is_accented(gathered.word.says):
            return Difference.ACCENT
        return self.evidence.reason(self.page, gathered.word, self.sheet)

    def _seen(self, run: SeenRun) -> Compared:
        reason = None if run.found else self._lost(run)
        where = f"page {self.page}, text '{run.says[:40]}' at {_shown(self.sheet.box(run.box))}"
        theirs = "in a word" if run.found else "in no word"
        return Compared(Kind.TEXT_SEEN, where, "there", theirs, agree=run.found, difference=reason)

    def _lost(self, run: SeenRun) -> Difference | None:
        if run.oblique:
            return Difference.OBLIQUE
        if run.font == "Symbol" and set(run.says) == {"€"}:
            return Difference.EURO
        return self.evidence.reason(self.page, Word(run.says, self.sheet.box(run.box)), self.sheet)


def _sides(box: Box, *, upright: bool) -> tuple[Sides, Sides]:
    """A box along the baseline, and across it."""
    x, y = (box.x0, box.x1), (box.y0, box.y1)
    return (y, x) if upright else (x, y)


def _shown(box: Box) -> str:
    return f"{box.x0:.2f} {box.y0:.2f} {box.x1:.2f} {box.y1:.2f}"
