"""The inks of a page as facts: what each plate carries, how they add up, and where.

Pictures of the plates become figures: means and maxima, the coverage of each square millimetre, paint along
the trim, and how colours move. Nothing is drawn here and no file is opened.
"""

import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final, Protocol

import numpy as np
from numpy.typing import NDArray

from hotfolder.colour.conversions import Conversions, conversions_for
from hotfolder.measure.inks.colour_shift import colour_shift
from hotfolder.measure.inks.edge_paint import edge_paint
from hotfolder.measure.inks.heavy_ink import most_ink
from hotfolder.measure.inks.ink_areas import InkLimits, heavy_ink
from hotfolder.measure.inks.knockouts import narrowed_doubts
from hotfolder.measure.inks.mark_inks import marks_with_inks
from hotfolder.measure.inks.unseen import with_unseen
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.inks import Cells, Doubt, PageInk, Plate
from hotfolder.model.pages import NOT_DRAWN, Page
from hotfolder.model.plates import Bytes, PagePlates
from hotfolder.model.press import Press

# A plate whose darkest pixel is 1 of 255 carries nothing: that is the rounding of a colour conversion
# or of a blend, and a sixth of the palest tint that a press is bound to hold.
LEAST_INK: Final = 2

# Pages whose plates are drawn, and how much of the processor they may take: a flyer takes a fraction of a
# second, a hundred plain pages some ten. What is beyond says so. Not by the clock on the wall: how many pages
# are judged must not hang on what else the machine does at the time.
MOST_PAGES: Final = 500
MOST_CPU_SECONDS: Final = 15.0


class Drawer(Protocol):
    """What draws a page's plates."""

    def draw(self, page_number: int) -> PagePlates | Unmeasured:
        """The plates of a page, or why there are none."""


@dataclass(frozen=True, slots=True)
class InkBudget:
    """How far the plates of a file are drawn. clock: the seconds of CPU that this process has taken.

    The last page drawn may take more than what was left; how much more, its drawer knows.
    """

    pages: int = MOST_PAGES
    seconds: float = MOST_CPU_SECONDS
    clock: Callable[[], float] = time.process_time


def measure_ink(
    drawer: Drawer,
    artwork: Artwork,
    press: Press | None,
    budget: InkBudget | None = None,
    limits: InkLimits | None = None,
    finished: Callable[[Page], None] | None = None,
) -> Artwork:
    """`artwork` with the inks of its pages, drawn for `press`, in their order and once each.

    The ink of a page beyond the budget, or whose plates cannot be drawn, is `Unmeasured` with the reason.
    limits: the figures of ink above which areas are looked for; None where no rule asks for any.
    finished: is given each page as soon as it has its ink, or the reason why not. Pages whose inks are known
    or given up already are left as they are.
    """
    if isinstance(artwork.pages, Unmeasured):
        return artwork
    granted = budget or InkBudget()
    conversions = conversions_for(press)
    started = granted.clock()
    pages: list[Page] = []
    for page in artwork.pages:
        if page.ink != NOT_DRAWN:
            pages.append(page)
            continue
        if len(pages) >= granted.pages:
            reason = f"plates are drawn of the first {granted.pages} pages only"
            pages.append(replace(page, ink=Unmeasured("ink", reason)))
        elif granted.clock() - started > granted.seconds:
            reason = f"drawing the plates of the pages before took {granted.seconds:g} s of processor time"
            pages.append(replace(page, ink=Unmeasured("ink", reason)))
        else:
            pages.append(_with_ink(page, drawer.draw(page.number), conversions, limits))
        if finished is not None:
            finished(pages[-1])
    return replace(artwork, pages=tuple(pages), press=press.name if press is not None else None)


def without_ink(artwork: Artwork, reason: str) -> Artwork:
    """`artwork` with the reason why there are no plates of the pages that were not drawn."""
    if isinstance(artwork.pages, Unmeasured):
        return artwork
    return replace(
        artwork,
        pages=tuple(
            replace(page, ink=Unmeasured("ink", reason)) if page.ink == NOT_DRAWN else page
            for page in artwork.pages
        ),
    )


def _with_ink(
    page: Page, plates: PagePlates | Unmeasured, conversions: Conversions | None, limits: InkLimits | None
) -> Page:
    """The page with what its plates say of it, and of its marks."""
    if isinstance(plates, Unmeasured):
        return replace(page, ink=plates)
    measured = replace(
        page, ink=page_ink(plates, page, conversions, limits), marks=marks_with_inks(page, plates)
    )
    return replace(measured, marks=with_unseen(measured, plates))


def page_ink(
    plates: PagePlates, page: Page, conversions: Conversions | None, limits: InkLimits | None = None
) -> PageInk:
    """What the plates of `page` say.

    conversions: those of the press; without any there is no colour shift. limits: as in `measure_ink`.
    """
    frame = plates.frame
    side = frame.px_per_mm
    columns, rows = frame.width_px // side, frame.height_px // side
    inks = {name: ink for name, ink in plates.inks.items() if ink.max(initial=0) >= LEAST_INK}
    sheet_px = plates.sheet.width * plates.sheet.height / frame.pixel_pt**2
    highest, most = most_ink(list(inks.values()), side) if inks else (0, 0.0)
    if plates.most_1mm2 is not None:  # where nothing was drawn closely, pixels may seem to hold more
        most = plates.most_1mm2
    plate_facts = tuple(_plate(name, ink, side, sheet_px) for name, ink in inks.items())
    trim = page.trim
    doubts = narrowed_doubts(page, plates.doubts)
    return PageInk(
        cells=Cells(frame.left, frame.top, columns, rows),
        plates=plate_facts,
        max_percent=highest / 2.55,
        max_1mm2_percent=most / 2.55,
        edges=trim
        if isinstance(trim, Unmeasured)
        else edge_paint(tuple(inks.values()), frame, plates.sheet, trim.box),
        shift=None if conversions is None else colour_shift(plates, conversions),
        approximate=_approximate(plates, doubts),
        doubts=doubts,
        heavy=() if limits is None else heavy_ink(inks, frame, page, most / 2.55, limits),
    )


def _approximate(plates: PagePlates, doubts: tuple[Doubt, ...]) -> tuple[str, ...]:
    """What is drawn only nearly, without what turned out to be exact."""
    dismissed = {doubt.reason for doubt in plates.doubts} - {doubt.reason for doubt in doubts}
    return tuple(sentence for sentence in plates.approximate if sentence not in dismissed)


def _plate(name: str, ink: Bytes, side: int, sheet_px: float) -> Plate:
    # Pixels on the sheet's edge may hold a part of it; together they cannot hold more than all of it.
    cells = _cell_sums(ink, side)
    mean = min(255.0, int(cells.sum(dtype=np.uint64)) / sheet_px) if sheet_px > 0 else 0.0
    coverage = np.rint(cells / side**2).astype(np.uint8)
    return Plate(name, mean / 2.55, int(ink.max(initial=0)) / 2.55, coverage.tobytes())


def _cell_sums(values: Bytes, side: int) -> NDArray[np.uint32]:
    """The sum of each cell of `side` x `side` pixels."""
    height, width = values.shape[0] // side, values.shape[1] // side
    lines = values.reshape(height, side, width * side)
    rows = np.zeros((height, width * side), np.uint32)
    for line in range(side):  # adding whole rows is several times faster than a sum over two axes
        rows += lines[:, line]
    cells = np.zeros((height, width), np.uint32)
    for column in range(side):
        cells += rows[:, column::side]
    return cells
