"""Bleed where plates are drawn only nearly: what ink and marks agree on is told, the rest is left open.

What blends in another way lays more or less ink, seldom none at all: where the boxes around what is painted
give the same answer as the plates, no doubt can change it.
"""

from collections.abc import Iterable, Iterator

from hotfolder.checks.shared.marks.edges import band, meet, merged
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.plates.doubtful import in_doubt, note_doubt
from hotfolder.checks.size.bleed_reach.by_marks import Shortfall, WantedBleed
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.inks import Doubt, PageInk
from hotfolder.model.pages import Page


def certain_at(
    facts: NeededFacts,
    page: Page,
    trim: Box,
    wanted: WantedBleed,
    by_plates: Iterable[Shortfall],
    by_marks: Iterable[Shortfall],
) -> Iterator[Shortfall]:
    """Those of `by_plates`, of one edge, that no doubt could undo; the reasons of all others are noted."""
    if isinstance(page.ink, Unmeasured) or not page.ink.doubts:
        yield from by_plates
        return
    plates, marks = [*by_plates], [*by_marks]
    for short in plates:
        doubt = _doubt(page.ink, trim, short, wanted)
        if doubt is None or _agrees(short, marks):
            yield short
        else:
            note_doubt(facts, page, doubt)
    for short in marks:
        doubt = _doubt(page.ink, trim, short, wanted)
        if doubt is not None and not _agrees(short, plates):
            note_doubt(facts, page, doubt)


def _agrees(short: Shortfall, others: Iterable[Shortfall]) -> bool:
    """Whether one of `others` is the same fault at the same place."""
    same = merged(stretch for other in others if other.code == short.code for stretch in other.stretches)
    return any(meet(stretch, same) for stretch in short.stretches)


def _doubt(ink: PageInk, trim: Box, short: Shortfall, wanted: WantedBleed) -> Doubt | None:
    """The doubt in whose place the ink beyond the trim lies, or that which touches it from inside."""
    deep = wanted.enough
    for stretch in short.stretches:
        for line in (trim, trim.grown(-deep)):
            doubt = in_doubt(ink, band(short.edge, line, stretch, deep))
            if doubt is not None:
                return doubt
    return None
