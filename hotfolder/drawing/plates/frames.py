"""The grid of pixels that a page's plates are drawn on."""

import math
from dataclasses import dataclass
from typing import Final

from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT
from hotfolder.model.pages import Page
from hotfolder.model.plates import PlateFrame

# 3 pixels a millimetre are 76.2 ppi. Sheets up to A5 with bleed and marks get twice as many: what is
# small on them, cards above all, is looked at closely, and costs little.
_USUAL: Final = 3
_FINE: Final = 6
_FINE_UP_TO_MM2: Final = 45_000

# Pixels of one plate. 40 MB each for four inks and the picture as meant are what a child can hold.
_MOST_PIXELS: Final = 40_000_000

# Boxes are in floating point; what differs by less than this is equal.
_ROUNDING_MM: Final = 1e-6


@dataclass(frozen=True, slots=True)
class Laid:
    """A page's sheet and its frame. approximate: what that frame cannot show as it should."""

    sheet: Box
    frame: PlateFrame
    approximate: tuple[str, ...] = ()


def lay_frame(page: Page) -> Laid | Unmeasured:
    """The sheet of `page` on a grid; the top left corner of its trim, where it has one, is one of a cell."""
    sheet = page.boxes.media
    if sheet is None or not (0 < sheet.width < math.inf and 0 < sheet.height < math.inf):
        return Unmeasured("ink", "the size of the sheet is not known")
    corner = sheet if isinstance(page.trim, Unmeasured) else page.trim.box
    before = _cells_up(corner.x0 - sheet.x0)
    above = _cells_up(sheet.y1 - corner.y1)
    left, top = corner.x0 - before * CELL_PT, corner.y1 + above * CELL_PT
    columns, rows = max(1, _cells_up(sheet.x1 - left)), max(1, _cells_up(top - sheet.y0))
    wanted = _FINE if columns * rows <= _FINE_UP_TO_MM2 else _USUAL
    side = next((side for side in (wanted, 2, 1) if columns * rows * side**2 <= _MOST_PIXELS), None)
    if side is None:
        return Unmeasured("ink", "the sheet is too large for its plates to be drawn")
    frame = PlateFrame(left, top, side, columns * side, rows * side)
    if side >= _USUAL:
        return Laid(sheet, frame)
    coarse = f"The sheet is so large that its plates are drawn at {side} pixels a millimetre."
    return Laid(sheet, frame, (coarse,))


def _cells_up(points: float) -> int:
    """Whole cells that are needed for `points`; a negative length gives a negative number."""
    return math.ceil(points / CELL_PT - _ROUNDING_MM)
