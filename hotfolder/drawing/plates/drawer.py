"""Plates of a file's pages, drawn when they are asked for and kept while there is room.

Facts, findings and the report's pictures want the same plates at different times. A page whose plates were
dropped is drawn anew.
"""

import math
from collections import OrderedDict
from contextlib import ExitStack
from pathlib import Path
from types import TracebackType
from typing import Final, Protocol, Self

from hotfolder.drawing.plates.pdf import PdfPlates
from hotfolder.drawing.plates.raster import RasterPlates
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Format, Unmeasured
from hotfolder.model.plates import PagePlates
from hotfolder.model.press import Press

# A leaflet of two A4 pages takes 8 MB; a poster of 70 x 100 cm with its master's colours takes 45 MB.
KEPT_BYTES: Final = 256_000_000


class _DrawnPlates(Protocol):
    def draw(self, page_number: int) -> PagePlates | Unmeasured: ...


class PlateDrawer:
    """Draws the plates of one file; a context manager, for the file stays open between pages.

    press: the printing condition that colours are converted for; without one, or without its profile,
    pages with colours that are no inks have no plates.
    until: the processor time of this process at which the page in hand is given up, and no other is begun.
    kept_bytes: how much is kept of what was drawn; the page drawn last is kept in any case.
    """

    def __init__(
        self,
        path: Path,
        artwork: Artwork,
        press: Press | None,
        kept_bytes: int = KEPT_BYTES,
        *,
        until: float = math.inf,
    ) -> None:
        self._path, self._artwork, self._press = path, artwork, press
        self._most, self._until = kept_bytes, until
        self._open = ExitStack()
        self._plates: _DrawnPlates | None = None
        self._kept: OrderedDict[int, PagePlates | Unmeasured] = OrderedDict()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        traceback: TracebackType | None,
    ) -> None:
        self._kept.clear()
        self._plates = None
        self._open.close()

    def draw(self, page_number: int) -> PagePlates | Unmeasured:
        """The plates of a page, or why there are none. KeyError for a page that the artwork lacks."""
        if page_number in self._kept:
            self._kept.move_to_end(page_number)
            return self._kept[page_number]
        if self._plates is None:
            self._plates = self._opened()
        drawn = self._plates.draw(page_number)
        self._kept[page_number] = drawn
        while len(self._kept) > 1 and sum(map(_bytes, self._kept.values())) > self._most:
            self._kept.popitem(last=False)
        return drawn

    def _opened(self) -> _DrawnPlates:
        given = (self._path, self._artwork, self._press, self._until)
        if self._artwork.file.format is Format.PDF:
            return self._open.enter_context(PdfPlates(*given))
        return RasterPlates(*given)


def _bytes(drawn: PagePlates | Unmeasured) -> int:
    if isinstance(drawn, Unmeasured):
        return 0
    screen = 0 if drawn.screen is None else drawn.screen.nbytes
    return screen + sum(ink.nbytes for ink in drawn.inks.values())
