"""The ink of a page, told by its plates."""

from dataclasses import dataclass

from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box, Edge

CELL_PT = 72.0 / 25.4  # one millimetre


@dataclass(frozen=True, slots=True)
class Cells:
    """Squares of one millimetre laid over a page, row by row from its top left corner.

    left, top: that corner, in points of unrotated user space. The grid is laid so that a corner of the
    trim, where there is one, is a corner of a cell.
    """

    left: float
    top: float
    columns: int
    rows: int

    def box(self, column: int, row: int, columns: int = 1, rows: int = 1) -> Box:
        """The place of `columns` x `rows` cells of which the one at `column`, `row` is the top left."""
        x0, y1 = self.left + column * CELL_PT, self.top - row * CELL_PT
        return Box(x0, y1 - rows * CELL_PT, x0 + columns * CELL_PT, y1)


@dataclass(frozen=True, slots=True)
class Plate:
    """What one ink puts on a page's sheet.

    ink: its name as in the file, `Cyan`, `Magenta`, `Yellow`, `Black` for the process inks.
    mean_percent: over the whole sheet (the media box). max_percent: the highest of one pixel.
    coverage: the mean of each cell, a byte each in the order of `Cells`: 0 bare paper, 255 full ink.
    """

    ink: str
    mean_percent: float
    max_percent: float
    coverage: bytes


@dataclass(frozen=True, slots=True)
class EdgePaint:
    """How far paint that touches the trim runs on beyond it, along one edge of it.

    start, step_pt: where the first step begins along the edge (x for the bottom and top edges, y for
        the left and right ones), and how long each step is, in points, from low to high.
    reach_pt: for each step how far beyond the trim paint runs without a gap, 0 or more; None where no
        paint touches the trim from inside. Paint is ink in whatever amount is seen; white is none.
    sheet_pt: how far the sheet itself (the media box) runs beyond the trim; no paint can reach further.
    """

    edge: Edge
    start: float
    step_pt: float
    reach_pt: tuple[float | None, ...]
    sheet_pt: float


@dataclass(frozen=True, slots=True)
class MovedColour:
    """A colour of the page that printing changes much.

    place: where there is most of it. share_percent: of the sheet's area.
    before, after: CIELAB (D50) as meant and as printed. delta_e: their difference in CIEDE2000.
    """

    place: Box
    share_percent: float
    before: tuple[float, float, float]
    after: tuple[float, float, float]
    delta_e: float


@dataclass(frozen=True, slots=True)
class ColourShift:
    """How the colours of a page that are not the press's own move when they are printed.

    over_5_percent and so on: share of the sheet's area whose colour moves by more than 5, 10 and 20
    units of CIEDE2000 (ISO/CIE 11664-6). moved: the colours that move most, worst first.
    """

    over_5_percent: float
    over_10_percent: float
    over_20_percent: float
    moved: tuple[MovedColour, ...] = ()


@dataclass(frozen=True, slots=True)
class HeavyArea:
    """An area with much ink: the smallest box around it, and its own size, which may be less.

    highest_percent: the most ink that a square millimetre in it has.
    """

    box: Box
    mm2: float
    highest_percent: float


@dataclass(frozen=True, slots=True)
class HeavyInk:
    """The areas of trim and bleed with more ink than a figure, all plates together but those of some inks.

    Of an area are the square millimetres whose mean is over `over_percent`, wherever on the page they are
    laid: the parts of them that have so much ink. without: inks that do not count. areas: the largest first.
    """

    over_percent: float
    without: frozenset[str]
    areas: tuple[HeavyArea, ...]


@dataclass(frozen=True, slots=True)
class Doubt:
    """A part of a page whose plates may be other than they were drawn.

    reason: a sentence. box: in points. undrawn: something is left out there, so that any of the process inks
    may lie there; else no other inks than those of the plates. summed: no more of an ink can lie there than
    all marks that are painted there have of it together.
    """

    reason: str
    box: Box
    undrawn: bool = False
    summed: bool = False


@dataclass(frozen=True, slots=True)
class PageInk:
    """The inks of one page as they will lie on paper.

    plates: those that carry ink, process inks first. max_percent, max_1mm2_percent: the highest total of
        all plates, technical inks included, in one pixel and as the mean of a square millimetre anywhere,
        which is drawn closely where letters, lines or shapes lie; of pages with less than 150 % on the first
        16 only.
    edges: `Unmeasured` where the page has no known trim. shift: None where all colours are the press's own.
    approximate: what the plates show only nearly, a sentence each.
    heavy: areas with much ink, for the figures that were asked for.
    doubts: where more or less ink may lie than the plates show, for one of the reasons in `approximate`.
    """

    cells: Cells
    plates: tuple[Plate, ...]
    max_percent: float
    max_1mm2_percent: float
    edges: tuple[EdgePaint, ...] | Unmeasured
    shift: ColourShift | None = None
    approximate: tuple[str, ...] = ()
    heavy: tuple[HeavyInk, ...] = ()
    doubts: tuple[Doubt, ...] = ()

    def areas_over(self, percent: float, without: frozenset[str]) -> tuple[HeavyArea, ...] | Unmeasured:
        """The areas with more ink than `percent`, the inks `without` not counted; the largest first."""
        if self.max_1mm2_percent <= percent:
            return ()
        for asked in self.heavy:
            if asked.over_percent == percent and asked.without == without:
                return asked.areas
        return Unmeasured("ink", f"areas with more than {percent:g} % of ink were not looked for")
