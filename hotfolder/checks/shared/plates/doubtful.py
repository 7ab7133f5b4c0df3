"""What a check makes of places where a page's plates are drawn only nearly (`PageInk.doubts`).

A doubt counts only where it could change the answer: what was found in a doubtful place is not told as a
fault, and what could be one there is not passed; both are left open, with the reason. All else is judged.
"""

from collections.abc import Callable, Iterable, Mapping
from typing import Final, TypeVar

from hotfolder.checks.shared.marks.tints import BLACK, inks_at_most, is_all_plates, tints
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.plates.cells import TRACE, window
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT, Doubt, PageInk
from hotfolder.model.marks import Mark
from hotfolder.model.pages import Page

_WHAT: Final = "how the inks lie there is not known for sure"

# Letters reach beyond the boxes that their fonts declare.
_SEEN_PT: Final = 4.0

Item = TypeVar("Item")


def in_doubt(ink: PageInk, box: Box) -> Doubt | None:
    """The doubt in whose place half of `box` or more lies; None where there is none."""
    for doubt in ink.doubts:
        shared = doubt.box.cut_by(box)
        if shared is not None and 2 * shared.width * shared.height >= box.width * box.height:
            return doubt
    return None


def without_doubtful(
    facts: NeededFacts, page: Page, ink: PageInk, items: Iterable[Item], box: Callable[[Item], Box]
) -> list[Item]:
    """The items that lie where the plates are certain; why the others do not count is noted."""
    kept = []
    for each in items:
        doubt = in_doubt(ink, box(each)) if ink.doubts else None
        if doubt is None:
            kept.append(each)
        else:
            note_doubt(facts, page, doubt)
    return kept


def doubted_inks(page: Page, mark: Mark, box: Box) -> Doubt | None:
    """Why the inks that the plates have of a mark may be others; None where they are certain, or not told."""
    if mark.inks is None or isinstance(page.ink, Unmeasured):
        return None
    return in_doubt(page.ink, box)


def share_in_doubt(ink: PageInk) -> float:
    """How much of the plates may be other than drawn, in percent; places that overlap count twice."""
    whole = ink.cells.columns * ink.cells.rows * CELL_PT**2
    return min(100.0, 100 * sum(doubt.box.width * doubt.box.height for doubt in ink.doubts) / whole)


def note_doubt(facts: NeededFacts, page: Page, doubt: Doubt) -> None:
    """Keeps account of a doubt that could change a check's answer."""
    facts.note(_WHAT, doubt.reason.rstrip("."), page)


def note_undrawn(facts: NeededFacts, page: Page, ink: PageInk, least_mm2: float) -> None:
    """Keeps account of where something is left out that may be as large as this."""
    for doubt in ink.doubts:
        if doubt.undrawn and doubt.box.width * doubt.box.height >= least_mm2 * CELL_PT**2:
            note_doubt(facts, page, doubt)


def most_percent(page: Page, ink: PageInk, doubt: Doubt, without: frozenset[str]) -> float:
    """The most ink that could lie in a doubtful place.

    That is each ink that could be there at all, in full, or as much as all that is painted there has of it.
    """
    cells = window(ink.cells, doubt.box)
    there = {
        plate.ink
        for plate in ink.plates
        if any(max(line, default=0) >= TRACE for line in cells.lines(plate.coverage, ink.cells))
    }
    if doubt.undrawn:
        there.update(PROCESS_INKS)
    painted = _painted(page, doubt.box) if doubt.summed else None
    if painted is not None:
        return sum(min(100.0, painted.get(name, 0.0)) for name in there - without)
    return 100.0 * len(there - without)


def has_black_alone(page: Page, doubt: Doubt) -> bool:
    """Whether no other ink than black can lie in a doubtful place, since nothing painted there has any."""
    painted = _painted(page, doubt.box) if doubt.summed else None
    return painted is not None and not any(percent for name, percent in painted.items() if name != BLACK)


def _painted(page: Page, box: Box) -> Mapping[str, float] | None:
    """How much of each ink all that is painted in a place has together; None where that is not known.

    Colours that are yet to be converted, and those of pictures and gradients, may be any amount.
    """
    percents: dict[str, float] = {}
    for mark in page.known_marks:
        visible = mark.visible.grown(_SEEN_PT) if mark.on_paper and mark.visible is not None else None
        if visible is None or visible.cut_by(box) is None:
            continue
        if mark.solid is not None and mark.solid.holds(box):
            percents = {}  # nothing of what lies beneath is left
        for colour in mark.colours():
            known = tints(colour) if not mark.state.on_screen and colour.space.family != "ICCBased" else None
            if known is None:
                known = dict.fromkeys({*inks_at_most(colour), *PROCESS_INKS}, 1.0)
            if is_all_plates(colour):
                return None
            for name, tint in known.items():
                percents[name] = percents.get(name, 0.0) + 100 * tint
    return percents
