"""Areas of a page with more ink than a figure: how large each is, where it lies, and its most ink.

Pixels that touch, at a corner too, are one area.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hotfolder.measure.inks.heavy_ink import heavy_pixels
from hotfolder.measure.inks.regions import Regions
from hotfolder.model.geometry import Box
from hotfolder.model.inks import HeavyArea, HeavyInk
from hotfolder.model.pages import Page
from hotfolder.model.plates import Bytes, PlateFrame

# No rule tells smaller ones: the mean is taken over a square millimetre.
_LEAST_MM2: Final = 0.5


@dataclass(frozen=True, slots=True)
class InkLimits:
    """Which heavy areas are wanted: those with more ink than each of `figures`, in percent.

    counts: whether an ink counts, by its name in the file; varnishes and the like do not.
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
        HeavyInk(figure, without, _areas(counting, frame, page.product_area, figure, most_percent))
        if counting and most_percent > figure
        else HeavyInk(figure, without, ())
        for figure in limits.figures
    )


def _areas(
    plates: list[Bytes], frame: PlateFrame, within: Box | None, figure: float, most_percent: float
) -> tuple[HeavyArea, ...]:
    side = frame.px_per_mm
    flags, sums = heavy_pixels(plates, side, figure * 2.55)
    if within is not None:
        flags &= pixels_inside(frame, within)
    areas = Regions.of(flags, corners=True)
    order = np.argsort(-areas.cells, kind="stable")
    order = order[areas.cells[order] >= _LEAST_MM2 * side**2]
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
            mm2=float(areas.cells[each]) / side**2,
            # The pixels of a place that was not drawn closely may seem to have more.
            highest_percent=min(most_percent, float(highest[each]) / side**2 / 2.55),
        )
        for each in order
    )


def pixels_inside(frame: PlateFrame, box: Box) -> NDArray[np.bool_]:
    """Which pixels have their middle in `box`."""
    x = frame.left + (np.arange(frame.width_px) + 0.5) * frame.pixel_pt
    y = frame.top - (np.arange(frame.height_px) + 0.5) * frame.pixel_pt
    return np.asarray(((y >= box.y0) & (y <= box.y1))[:, None] & ((x >= box.x0) & (x <= box.x1)))
