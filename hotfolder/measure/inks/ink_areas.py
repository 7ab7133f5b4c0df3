"""Areas of a page with more ink than a figure: how large each is, where it lies, and its most ink.

Pixels that touch, at a corner too, are one area. A sheet may have hundreds of thousands of runs of them:
all steps work on whole arrays.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hotfolder.measure.inks.heavy_ink import heavy_pixels
from hotfolder.model.geometry import Box
from hotfolder.model.inks import HeavyArea, HeavyInk
from hotfolder.model.pages import Page
from hotfolder.model.plates import Bytes, PlateFrame

# Smaller ones are told by no rule: a square millimetre is what the mean is taken over.
_LEAST_MM2: Final = 0.5

Numbers = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class InkLimits:
    """What areas are asked for: those with more ink than each of `figures`, in percent.

    counts: whether an ink, by its name in the file, is one of those that lie on one another as ink.
    """

    figures: tuple[float, ...]
    counts: Callable[[str], bool]


def heavy_ink(
    inks: Mapping[str, Bytes], frame: PlateFrame, page: Page, most_percent: float, limits: InkLimits
) -> tuple[HeavyInk, ...]:
    """The areas that `limits` asks for, as far as they lie on the product, the largest first.

    most_percent: the most that all inks have on a square millimetre.
    """
    without = frozenset(name for name in inks if not limits.counts(name))
    counting = [plate for name, plate in inks.items() if name not in without]
    return tuple(
        HeavyInk(figure, without, _areas(counting, frame, page.product_area, figure))
        if counting and most_percent > figure
        else HeavyInk(figure, without, ())
        for figure in limits.figures
    )


def _areas(
    plates: list[Bytes], frame: PlateFrame, within: Box | None, figure: float
) -> tuple[HeavyArea, ...]:
    side = frame.px_per_mm
    flags, sums = heavy_pixels(plates, side, figure * 2.55)
    if within is not None:
        flags &= _inside(frame, within)
    areas = _PixelAreas.of(flags)
    order = np.argsort(-areas.pixels, kind="stable")
    order = order[areas.pixels[order] >= _LEAST_MM2 * side**2]
    highest = areas.highest(sums)
    step = frame.pixel_pt
    return tuple(
        HeavyArea(
            box=Box(
                frame.left + float(areas.left[each]) * step,
                frame.top - float(areas.bottom[each]) * step,
                frame.left + float(areas.right[each]) * step,
                frame.top - float(areas.top[each]) * step,
            ),
            mm2=float(areas.pixels[each]) / side**2,
            highest_percent=float(highest[each]) / side**2 / 2.55,
        )
        for each in order
    )


def _inside(frame: PlateFrame, box: Box) -> NDArray[np.bool_]:
    """Which pixels have their middle in `box`."""
    x = frame.left + (np.arange(frame.width_px) + 0.5) * frame.pixel_pt
    y = frame.top - (np.arange(frame.height_px) + 0.5) * frame.pixel_pt
    return np.asarray(((y >= box.y0) & (y <= box.y1))[:, None] & ((x >= box.x0) & (x <= box.x1)))


@dataclass(frozen=True, slots=True)
class _PixelAreas:
    """Areas of pixels by their numbers: how many pixels, and the box around them, the last ones not included.

    row, start, stop, area: runs of pixels in one row, and the number of the area that each is of.
    """

    pixels: Numbers
    left: Numbers
    right: Numbers
    top: Numbers
    bottom: Numbers
    row: Numbers
    start: Numbers
    stop: Numbers
    area: Numbers

    @classmethod
    def of(cls, flags: NDArray[np.bool_]) -> "_PixelAreas":
        """The areas of the pixels that are flagged."""
        height, width = flags.shape
        padded = np.zeros((height, width + 2), np.int8)
        padded[:, 1:-1] = flags
        steps = np.diff(padded, axis=1)
        row, start = np.nonzero(steps == 1)
        stop = np.nonzero(steps == -1)[1]
        area = _joined(row, start, stop, width + 2)
        count = int(area.max(initial=-1)) + 1
        left, top = np.full(count, width), np.full(count, height)
        right, bottom = np.zeros(count, np.intp), np.zeros(count, np.intp)
        np.minimum.at(left, area, start)
        np.maximum.at(right, area, stop)
        np.minimum.at(top, area, row)
        np.maximum.at(bottom, area, row + 1)
        pixels = np.bincount(area, weights=stop - start, minlength=count).astype(np.intp)
        return cls(pixels, left, right, top, bottom, row, start, stop, area)

    def highest(self, values: NDArray[np.uint32]) -> NDArray[np.uint32]:
        """The highest of `values`, one for each pixel of the picture, in each area."""
        most = np.zeros(len(self.pixels), np.uint32)
        if len(self.area):
            flat = np.append(values.ravel(), np.uint32(0))
            at = self.row * values.shape[1]
            ends = np.column_stack((at + self.start, at + self.stop)).ravel()
            np.maximum.at(most, self.area, np.maximum.reduceat(flat, ends)[::2])
        return most


def _joined(row: Numbers, start: Numbers, stop: Numbers, width: int) -> Numbers:
    """The number of the area of each run; runs are in the order of their rows, and of their places there."""
    towards = np.arange(len(row))
    # Runs of the next row that a run touches follow one another: from the first that ends beyond its start
    # to the last that starts before its end.
    first = np.searchsorted(row * width + stop, (row + 1) * width + start, "left")
    last = np.searchsorted(row * width + start, (row + 1) * width + stop, "right")
    count = np.maximum(last - first, 0)
    one = np.repeat(towards, count)
    two = np.arange(count.sum()) + np.repeat(first - np.cumsum(count) + count, count)
    while True:
        ends = np.stack((towards[one], towards[two]))
        apart = ends[0] != ends[1]
        if not apart.any():
            break
        one, two, ends = one[apart], two[apart], ends[:, apart]
        np.minimum.at(towards, ends.max(axis=0), ends.min(axis=0))
        while (further := towards[towards] != towards).any():
            towards[further] = towards[towards[further]]
    return np.unique(towards, return_inverse=True)[1].astype(np.intp)
