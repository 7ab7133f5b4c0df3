"""Where the most ink lies on a page, drawn once more and closely.

Pixels of a third or a sixth of a millimetre show fine type and thin lines some points too light or too heavy:
the edges of what lies on top of one another are blended, where they are cut. So the few places that may hold
the heaviest square millimetre are drawn finely, and their pixels become the means of that.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from hotfolder.measure.inks.heavy_blocks import BLOCK_MM, heavy_blocks
from hotfolder.measure.inks.heavy_ink import most_ink
from hotfolder.model.facts import Unmeasured
from hotfolder.model.inks import CELL_PT
from hotfolder.model.marks import MarkKind
from hotfolder.model.pages import Page
from hotfolder.model.plates import Bytes, PlateFrame

CLOSE_PX_PER_MM: Final = 60

# How many places are drawn in each turn: the first are the heaviest by the coarse pixels, further ones those
# that seem heavier than what the places drawn so far truly hold.
_TURNS: Final = (8, 16, 40)

# What is far lighter than any press's limit, of 255 for an ink, is a fact that no rule asks for: fewer places
# are drawn, and of a file only so many pages. A book of plain text has hundreds.
LIGHT: Final = 150 * 2.55
LIGHT_PAGES: Final = 16
_LIGHT_TURNS: Final = (2, 6, 16)

# How much lighter than the heaviest is looked at, of 255 for an ink: fine type was seen to come out up to
# 16 % too light.
_TOO_LIGHT: Final = 16 * 2.55

_BLOCK_PT: Final = BLOCK_MM * CELL_PT

Numbers: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class ClosePlace:
    """A part of a page's frame, in pixels of it."""

    top: int
    left: int
    bottom: int
    right: int

    @classmethod
    def of_block(cls, row: int, column: int, frame: PlateFrame) -> "ClosePlace":
        """All square millimetres that begin in a block."""
        block, side = BLOCK_MM * frame.px_per_mm, (BLOCK_MM + 1) * frame.px_per_mm
        top, left = row * block, column * block
        return cls(top, left, min(top + side, frame.height_px), min(left + side, frame.width_px))

    @property
    def pixels(self) -> tuple[slice, slice]:
        """Its rows and columns."""
        return slice(self.top, self.bottom), slice(self.left, self.right)

    def in_frame(self, frame: PlateFrame, finer: int = 1) -> PlateFrame:
        """It as a frame of its own, with so many times as many pixels each way."""
        return PlateFrame(
            frame.left + self.left * frame.pixel_pt,
            frame.top - self.top * frame.pixel_pt,
            frame.px_per_mm,
            self.right - self.left,
            self.bottom - self.top,
        ).finer(finer)


DrawClosely = Callable[[Sequence[str], Sequence[ClosePlace]], Iterable[Mapping[str, Bytes]]]
"""The plates of some inks at each of some places, in pixels of the page's frame."""


def draw_closely(
    inks: Mapping[str, Bytes], frame: PlateFrame, page: Page, draw: DrawClosely, *, if_light: bool = True
) -> float | None:
    """Puts the means of a fine drawing into the plates of a page, where the most ink may lie on it.

    Gives the most ink on a square millimetre, as its mean, 255 one full ink; None where nothing had to be
    drawn: what is filled evenly, and what is nothing but pictures and gradients, is as heavy as it was drawn.
    Squares that lie in no place drawn closely, and seem no heavier than that, do not count; nor do those that
    still seem heavier once all turns are over, on pages where very many places seem heavier than they are.
    if_light: whether a page is drawn closely that can have no more than `LIGHT`.
    """
    inked = [ink for ink, plate in inks.items() if plate.any()]
    if not inked:
        return None
    blocks = heavy_blocks([inks[ink] for ink in inked], frame.px_per_mm, _TOO_LIGHT)
    exact = blocks.even | ~_with_edges(page, frame, blocks.most.shape)
    columns = blocks.most.shape[1]
    known = float(blocks.most[exact].max(initial=0.0))
    left = np.where(exact | (blocks.highest <= known), 0, blocks.most)
    is_light = max(known, float(left.max())) + _TOO_LIGHT <= LIGHT
    if is_light and not if_light:
        return None
    drawn: set[tuple[int, int]] = set()
    for turn, most in enumerate(_LIGHT_TURNS if is_light else _TURNS):
        least = known if turn else max(known, float(left.max())) - _TOO_LIGHT
        order = np.argsort(-left, axis=None, kind="stable")
        order = order[left.flat[order] > max(least, 0.0)]
        if turn and len(order) > most:  # some of all that seem heavier: not the same rule a hundred times
            order = order[np.linspace(0, len(order) - 1, most).astype(np.intp)]
        chosen = [(int(each) // columns, int(each) % columns) for each in order[:most]]
        if not chosen:
            break
        places = [ClosePlace.of_block(row, column, frame) for row, column in chosen]
        touched = [ink for ink in inked if any(inks[ink][each.pixels].any() for each in places)]
        for place, plates in zip(places, draw(touched, places), strict=True):
            for ink, plate in plates.items():
                inks[ink][place.pixels] = plate
        drawn.update(chosen)
        # Squares that reach into a place from what lies beside it hold pixels of both drawings.
        for block in sorted(_beside(chosen, left.shape)):
            pixels = ClosePlace.of_block(*block, frame).pixels
            heaviest = most_ink([inks[ink][pixels] for ink in inked], frame.px_per_mm)[1]
            known = max(known, heaviest) if block in drawn else known
            left[block] = 0 if block in drawn else heaviest
    return known if drawn else None


def _beside(blocks: Iterable[tuple[int, int]], shape: tuple[int, ...]) -> set[tuple[int, int]]:
    """Blocks, and those around them."""
    return {
        (row + down, column + right)
        for row, column in blocks
        for down in (-1, 0, 1)
        for right in (-1, 0, 1)
        if 0 <= row + down < shape[0] and 0 <= column + right < shape[1]
    }


def _with_edges(page: Page, frame: PlateFrame, shape: tuple[int, ...]) -> NDArray[np.bool_]:
    """The blocks into whose squares the edges of letters, lines or shapes reach."""
    if isinstance(page.marks, Unmeasured):
        return np.ones(shape, np.bool_)
    text, path = MarkKind.TEXT, MarkKind.PATH  # not in a set: a page may have a hundred thousand marks
    shown = [mark for mark in page.marks if mark.kind is text or mark.kind is path]
    seen = [
        (box.x0, box.y0, box.x1, box.y1, mark.even) for mark in shown if (box := mark.visible) is not None
    ]
    boxes = np.array(seen, np.float64).reshape(-1, 5)
    low = np.column_stack((frame.top - boxes[:, 3], boxes[:, 0] - frame.left)) / _BLOCK_PT  # row, column
    high = np.column_stack((frame.top - boxes[:, 1], boxes[:, 2] - frame.left)) / _BLOCK_PT
    reach = 1 / BLOCK_MM  # of the squares that begin in a block
    count = _count(np.floor(low - reach), np.ceil(high + reach), shape)
    even = boxes[:, 4] > 0  # these have no edges within
    return np.asarray(count > _count(np.ceil(low[even]), np.floor(high[even] - reach), shape))


def _count(first: Numbers, last: Numbers, shape: tuple[int, ...]) -> NDArray[np.int32]:
    """In how many of some rectangles each block lies. first, last: rows and columns; last is not included."""
    corners = np.zeros((shape[0] + 1, shape[1] + 1), np.int32)
    (top, left), (bottom, right) = (np.clip(each, 0, shape).astype(np.intp).T for each in (first, last))
    some = (bottom > top) & (right > left)
    for rows, columns, step in ((top, left, 1), (top, right, -1), (bottom, left, -1), (bottom, right, 1)):
        np.add.at(corners, (rows[some], columns[some]), step)
    return corners.cumsum(axis=0).cumsum(axis=1)[:-1, :-1]
