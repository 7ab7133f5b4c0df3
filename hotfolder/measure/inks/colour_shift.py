"""How the colours of a page that are not the press's own change when they are printed.

The page as a screen shows it is compared with the soft proof of its plates, both relative to their white
and with black as black: a paper that is not quite white and a black that is not quite black belong to
printing as such. A colour that a press can print and a screen cannot show counts as unchanged where both
look the same on screen.

A colour counts where it moves over at least three pixels each way: in the pixels on the border of two
colours both are mixed, in the plates in another way than in the master, and that is no change that
anybody sees. Sheets of more than about half a million pixels are compared in larger ones, of one
millimetre at most.
"""

from dataclasses import dataclass
from typing import Any, Final, TypeAlias

import numpy as np
from numpy.typing import NDArray

from hotfolder.colour.colour_difference import ciede2000
from hotfolder.colour.conversions import Conversions
from hotfolder.colour.soft_proof import InkColours
from hotfolder.measure.inks.regions import largest_region
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT, ColourShift, MovedColour
from hotfolder.model.plates import Bytes, PagePlates, PlateFrame

Numbers: TypeAlias = NDArray[np.floating[Any]]
Mask: TypeAlias = NDArray[np.bool_]

_MOST_PIXELS: Final = 600_000

# sRGB values of which none differs by more are within 5 units of CIEDE2000 (tried on all greys, on near
# greys and on random colours: 4.2 at most); most of most pages is left out by this.
_ALIKE: Final = 2

# A colour counts as moved from here on, in CIEDE2000.
_MOVED: Final = 5.0

# Colours less than this apart, in CIEDE2000, count as one.
_ONE_COLOUR: Final = 8.0

# A colour is a fact from a thousandth of the sheet on, or from a square centimetre on large ones.
_LEAST_SHARE: Final = 0.001
_LEAST_MM2: Final = 100.0

_MOST_COLOURS: Final = 8
_MOST_BINS: Final = 256
_MOST_CELLS: Final = 128  # along a side of the grid that places are found in


@dataclass(frozen=True, slots=True)
class _Compared:
    """A page in pixels of `mm` millimetres: as meant, as printed, and where colours move."""

    before: Bytes
    after: Bytes
    delta_e: NDArray[np.float32]
    mm: float
    sheet_px: float


def colour_shift(plates: PagePlates, conversions: Conversions) -> ColourShift | None:
    """How the page's colours move; None where all of them are the press's own."""
    if plates.screen is None:
        return None
    compared = _compared(plates, plates.screen, conversions)
    over_5, over_10, over_20 = (
        min(100.0, 100 * int(np.count_nonzero(compared.delta_e > limit)) / compared.sheet_px)
        for limit in (5, 10, 20)
    )
    moved = tuple(_moved(compared, plates.frame, plates.sheet, conversions))
    return ColourShift(over_5, over_10, over_20, moved)


def _compared(plates: PagePlates, screen: Bytes, conversions: Conversions) -> _Compared:
    block = _block(plates.frame)
    before = _reduced(screen, block)
    inks = {name: _reduced(plate, block) for name, plate in plates.inks.items() if plate.any()}
    size = (before.shape[1], before.shape[0])
    after = InkColours(conversions, plates.looks).printed(inks, size)
    apart = np.maximum(before, after) - np.minimum(before, after)
    differs = apart.max(axis=2) > _ALIKE
    differs &= ~_spot_alone(inks, differs.shape)
    delta_e = np.zeros(differs.shape, np.float32)
    delta_e[differs] = ciede2000(
        conversions.screen_to_lab(before[differs]), conversions.screen_to_lab(after[differs])
    )
    mm = block / plates.frame.px_per_mm
    area = plates.sheet.width * plates.sheet.height / (mm * CELL_PT) ** 2
    return _Compared(before, after, _opened(delta_e), mm, area)


def _block(frame: PlateFrame) -> int:
    """How many pixels of the plates, each way, are looked at as one: a whole part of a millimetre."""
    for block in range(1, frame.px_per_mm):
        if frame.px_per_mm % block == 0 and frame.width_px * frame.height_px <= _MOST_PIXELS * block**2:
            return block
    return frame.px_per_mm


def _reduced(picture: Bytes, block: int) -> Bytes:
    """The mean of each `block` x `block` pixels."""
    if block == 1:
        return picture
    height, width = picture.shape[0] // block, picture.shape[1] // block
    blocks = picture.reshape(height, block, width, block, *picture.shape[2:])
    total = np.zeros((height, width, *picture.shape[2:]), np.uint16)
    for row in range(block):
        for column in range(block):
            total += blocks[:, row, :, column]
    return ((total + block**2 // 2) // block**2).astype(np.uint8)


def _spot_alone(inks: dict[str, Bytes], shape: tuple[int, ...]) -> Mask:
    """Where spot inks lie and no process ink does: they print as themselves, however files show them."""
    spot, process = np.zeros(shape, np.bool_), np.zeros(shape, np.bool_)
    for name, plate in inks.items():
        coverage = process if name in PROCESS_INKS else spot
        coverage |= plate > 1
    return spot & ~process


def _opened(values: NDArray[np.float32]) -> NDArray[np.float32]:
    """`values` without peaks and ridges that are less than three pixels wide (a morphological opening)."""
    for pick in (np.minimum, np.maximum):
        for axis in (0, 1):
            padded = np.pad(values, [(1, 1) if side == axis else (0, 0) for side in (0, 1)], mode="edge")
            size = values.shape[axis]
            parts = [np.take(padded, range(shift, shift + size), axis) for shift in (0, 1, 2)]
            values = pick(pick(parts[0], parts[1]), parts[2])
    return values


@dataclass(slots=True)
class _ColourGroup:
    """Pixels of about one colour: sums of their CIELAB colours, before and after."""

    bins: list[int]
    pixels: float
    before: Numbers
    after: Numbers

    def delta_e(self) -> float:
        return float(ciede2000(self.before / self.pixels, self.after / self.pixels))


def _moved(compared: _Compared, frame: PlateFrame, sheet: Box, conversions: Conversions) -> list[MovedColour]:
    """The colours that move most, worst first; specks are left out."""
    where = compared.delta_e > _MOVED
    if not where.any():
        return []
    least = min(_LEAST_SHARE * compared.sheet_px, _LEAST_MM2 / compared.mm**2)
    coarse = compared.before.astype(np.int16) >> 4
    numbers = (coarse[..., 0] << 8 | coarse[..., 1] << 4 | coarse[..., 2])[where]
    groups = [
        group
        for group in _groups(numbers, compared.before[where], compared.after[where], conversions)
        if group.pixels >= least and group.delta_e() > _MOVED
    ]
    groups.sort(key=_ColourGroup.delta_e, reverse=True)
    moved_colours = []
    for group in groups[:_MOST_COLOURS]:
        marked = np.zeros(where.shape, np.bool_)
        marked[where] = np.isin(numbers, group.bins)
        place = _place(marked, compared.mm, frame).cut_by(sheet) or sheet
        moved_colours.append(
            MovedColour(
                place,
                100 * group.pixels / compared.sheet_px,
                _colour(group.before / group.pixels),
                _colour(group.after / group.pixels),
                group.delta_e(),
            )
        )
    return moved_colours


def _colour(lab: Numbers) -> tuple[float, float, float]:
    return float(lab[0]), float(lab[1]), float(lab[2])


def _groups(
    numbers: NDArray[np.int16], before: Bytes, after: Bytes, conversions: Conversions
) -> list[_ColourGroup]:
    """Coarse colours gathered: each joins the largest one that it resembles, in the order of their sizes."""
    counts = np.bincount(numbers, minlength=4096)
    lab_before, lab_after = conversions.screen_to_lab(before), conversions.screen_to_lab(after)
    sums = [
        np.stack([np.bincount(numbers, lab[:, part], 4096) for part in range(3)], axis=-1)
        for lab in (lab_before, lab_after)
    ]
    groups: list[_ColourGroup] = []
    for number in np.argsort(counts, kind="stable")[::-1][:_MOST_BINS].tolist():
        count = float(counts[number])
        if not count:
            break
        mean = sums[0][number] / count
        near = [group for group in groups if ciede2000(group.before / group.pixels, mean) < _ONE_COLOUR]
        if near:
            group = near[0]
            group.bins.append(number)
            group.pixels += count
            group.before = group.before + sums[0][number]
            group.after = group.after + sums[1][number]
        else:
            groups.append(_ColourGroup([number], count, sums[0][number], sums[1][number]))
    return groups


def _place(marked: Mask, mm: float, frame: PlateFrame) -> Box:
    """The box around the largest region of a grid of cells where a quarter of a cell is marked."""
    side = max(1, -(-max(marked.shape) // _MOST_CELLS))
    height, width = (-(-size // side) for size in marked.shape)
    padded = np.zeros((height * side, width * side), np.uint16)
    padded[: marked.shape[0], : marked.shape[1]] = marked
    cells = padded.reshape(height, side, width, side).sum(axis=(1, 3))
    region = largest_region(cells >= min(cells.max(), side * side / 4))
    if region is None:
        return frame.box
    step = side * mm * CELL_PT
    x0, y1 = frame.left + region.column * step, frame.top - region.row * step
    return Box(x0, y1 - region.rows * step, x0 + region.columns * step, y1)
