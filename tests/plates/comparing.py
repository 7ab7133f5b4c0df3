"""Compares our plates of a page with tiffsep's: the mean of each plate, and the most ink on a millimetre.

Both are reduced to the very same cells, squares of a millimetre that our own frame lays. The square with the
most ink slides over the page by the pixels of our frame, a third or a sixth of a millimetre, on both sides:
what is compared is the drawing. Ours is what the facts tell, drawn closely where it is. How much more a
square finds that slides more finely is told beside it.
"""

import tempfile
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from multiprocessing import get_context
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hotfolder.drawing.plates.pdf import PdfPlates
from hotfolder.measure import measure
from hotfolder.measure.inks.heavy_ink import most_ink
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT
from hotfolder.model.plates import PagePlates, PlateFrame
from tests.plates.copies import blends_on_screen, has_tagged_press_colours, write_copy
from tests.plates.pages import Wanted
from tests.plates.presses import press
from tests.plates.reference_cells import (  # fmt: skip
    Cells,
    NoPlatesError,
    close_frame,
    most_close,
    most_ink_at,
    most_ink_of,
    reference_cells,
)

# Points of percent.
MEAN_WITHIN: Final = 0.5
MOST_WITHIN: Final = 3.0

OURS_CLOSE: Final = 96  # pixels a millimetre
_NONE: Final = np.zeros((1, 1), np.float32)


@dataclass(frozen=True, slots=True)
class Compared:
    """A plate's mean over the sheet in percent, ours and tiffsep's.

    again: theirs where shapes fill the pixels whose middle they hold, not all that they touch; where it was
    asked. How heavy a shape is lies between the two.
    """

    ink: str
    ours: float
    theirs: float
    again: float | None = None

    @property
    def agrees(self) -> bool:
        """Whether ours is within half a point of theirs, or of what lies between both of theirs."""
        low, high = sorted((self.theirs, self.theirs if self.again is None else self.again))
        return low - MEAN_WITHIN <= self.ours <= high + MEAN_WITHIN


@dataclass(frozen=True, slots=True)
class PageCompared:
    """One page as both draw it.

    plates: those that carry ink on one side at least. ours, theirs: the most ink on a cell, all plates
    together, in percent. again, ours_again: both, where they were asked once more, drawn so finely that
    pixels do not matter (9754 and 2438 ppi), around the places where either side has the most. finest: theirs
    on a cell that is laid anywhere, to a twelfth of a millimetre. approximate: what our facts say is drawn
    only nearly. undrawn: why there is nothing to compare; ours where we say that we cannot draw it, or not
    all of it, theirs where tiffsep does not.
    """

    name: str
    page: int
    producer: str
    plates: tuple[Compared, ...] = ()
    ours: float = 0.0
    theirs: float = 0.0
    again: float | None = None
    ours_again: float | None = None
    finest: float = 0.0
    approximate: tuple[str, ...] = ()
    undrawn: str = ""

    @property
    def means_agree(self) -> bool:
        """Whether all plates' means do."""
        return all(plate.agrees for plate in self.plates)

    @property
    def most_agrees(self) -> bool:
        """Whether our most ink on a cell is within three points of theirs, drawn closely where it was."""
        return self.apart <= MOST_WITHIN

    @property
    def apart(self) -> float:
        """How far both sides' most ink on a cell is apart, in points."""
        return abs(self.ours - (self.theirs if self.again is None else self.again))

    @property
    def agrees_closely(self) -> bool:
        """Whether both sides agree once both are drawn closely, all that the page holds anew."""
        return (
            self.again is not None
            and self.ours_again is not None
            and abs(self.ours_again - self.again) <= MOST_WITHIN
        )

    @property
    def agrees(self) -> bool:
        """Whether nothing of the page differs."""
        return not self.undrawn and self.means_agree and self.most_agrees


def compare_all(wanted: Iterable[Wanted], processes: int = 2) -> Iterator[PageCompared]:
    """The comparison of many files, in order, several at once."""
    with ProcessPoolExecutor(processes, mp_context=get_context("spawn")) as pool:
        for pages in pool.map(_compare, wanted):
            yield from pages


def _compare(wanted: Wanted) -> list[PageCompared]:
    return compare_pages(wanted.path, wanted.name, wanted.pages)


def compare_pages(path: Path, name: str, pages: Sequence[int]) -> list[PageCompared]:
    """The comparison of some pages of a PDF; name: what the file is called in the list of differences."""
    artwork = measure(path)
    producer = (artwork.pdf.producer if artwork.pdf is not None else None) or "?"
    found = []
    with PdfPlates(path, artwork, press()) as drawing:
        for number in pages:
            drawn = drawing.draw(number)
            if isinstance(drawn, Unmeasured):
                found.append(PageCompared(name, number, producer, undrawn=f"ours: {drawn.reason}"))
                continue
            if left_out := [doubt.reason for doubt in drawn.doubts if doubt.undrawn]:
                found.append(PageCompared(name, number, producer, undrawn=f"ours: {left_out[0]}"))
                continue
            unit = next(page.user_unit for page in artwork.known_pages if page.number == number)
            found.append(_compared(path, drawn, unit, PageCompared(name, number, producer), drawing))
    return found


def _compared(
    path: Path, drawn: PagePlates, user_unit: float, blank: PageCompared, drawing: PdfPlates
) -> PageCompared:
    ours = {ink: cells_of(picture, drawn.frame) for ink, picture in drawn.inks.items()}
    with tempfile.TemporaryDirectory(prefix="plates-") as folder:
        copy = Path(folder) / "page.pdf"
        write_copy(path, copy, drawn.page, frame=drawn.frame.box, user_unit=user_unit)
        tagged, on_screen = has_tagged_press_colours(copy), blends_on_screen(copy)
        try:
            theirs = reference_cells(copy, drawn.frame, tagged_as_delivered=tagged, on_screen=on_screen)
            found = replace(
                blank, plates=tuple(_plates(ours, theirs.cells, drawn.sheet)), ours=most(drawn),
                theirs=theirs.most, finest=theirs.finest, approximate=drawn.approximate,
            )  # fmt: skip
            if found.agrees:
                return found
            centred = reference_cells(
                copy, drawn.frame, tagged_as_delivered=tagged, on_screen=on_screen, centred=True
            )
            found = replace(found, plates=_with_again(found.plates, centred.cells, drawn.sheet))
            if found.most_agrees:
                return found
            places = {most_place(drawn), *([centred.place] if centred.place else [])}
            again = max(
                most_close(copy, drawn.frame, place, tagged_as_delivered=tagged, on_screen=on_screen)
                for place in places
            )
        except NoPlatesError as error:
            return replace(blank, undrawn=f"theirs: {error}")
    close = [drawing.draw(drawn.page, close_frame(drawn.frame, each, OURS_CLOSE)) for each in places]
    ours_again = max(
        most_ink_of(_total(each), drawn.frame.px_per_mm, OURS_CLOSE)
        for each in close
        if isinstance(each, PagePlates)
    )
    return replace(found, again=again, ours_again=ours_again)


def _with_again(plates: Sequence[Compared], cells: Cells, sheet: Box) -> tuple[Compared, ...]:
    again = {plate.ink: plate.theirs for plate in _plates({each.ink: _NONE for each in plates}, cells, sheet)}
    return tuple(replace(plate, again=again.get(plate.ink, 0.0)) for plate in plates)


def _plates(ours: Cells, theirs: Cells, sheet: Box) -> list[Compared]:
    """Both sides' means; a name that tiffsep could not give to a file in full is found by what is left."""
    area = sheet.width * sheet.height / CELL_PT**2
    by_plain = {plain(ink): ink for ink in theirs}
    pairs = [(ink, by_plain.pop(plain(ink), None)) for ink in ours]
    pairs += [(ink, ink) for ink in by_plain.values()]
    found = []
    for ink, other in pairs:
        one, two = (
            float(each[key].sum()) / area if key in each else 0.0
            for each, key in ((ours, ink), (theirs, other))
        )
        if one or two:
            found.append(Compared(ink, one, two))
    return found


def plain(ink: str) -> str:
    """An ink's name without what file names and programs make different."""
    return "".join(letter for letter in ink.lower() if letter.isascii() and letter.isalnum()) or ink


def cells_of(picture: NDArray[np.uint8], frame: PlateFrame) -> NDArray[np.float32]:
    """The mean of each cell, in percent."""
    side = frame.px_per_mm
    rows, columns = frame.height_px // side, frame.width_px // side
    means: NDArray[np.float32] = picture.reshape(rows, side, columns, side).mean(
        axis=(1, 3), dtype=np.float32
    )
    return means * np.float32(100 / 255)


def most_place(drawn: PagePlates) -> tuple[int, int]:
    """The row and column of the pixel at the top left corner of that square."""
    return most_ink_at(_total(drawn), drawn.frame.px_per_mm, drawn.frame.px_per_mm)[1]


def _total(drawn: PagePlates) -> NDArray[np.int64]:
    none = np.zeros((drawn.frame.height_px, drawn.frame.width_px), np.int64)
    return np.asarray(sum((plate.astype(np.int64) for plate in drawn.inks.values()), none))


def most(drawn: PagePlates) -> float:
    """Our highest total of all plates on a square millimetre anywhere, in percent, as the facts have it."""
    if drawn.most_1mm2 is not None:
        return drawn.most_1mm2 / 2.55
    return most_ink(list(drawn.inks.values()), drawn.frame.px_per_mm)[1] / 2.55 if drawn.inks else 0.0
