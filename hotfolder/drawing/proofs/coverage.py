"""Total ink over a sheet as a picture: tones from bare paper to heavy ink, hatched above the limit.

The tones are of one hue and differ in lightness alone, a step for each half of an ink, so that they can be
told apart by every eye and on a grey print; the hatching is what says 'too much'.
"""

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFilter

from hotfolder.colour.cielab import srgb
from hotfolder.drawing.proofs.sheet import SheetPlates, as_picture, fitting
from hotfolder.measure.inks.heavy_ink import heavy_pixels
from hotfolder.measure.inks.ink_areas import pixels_inside
from hotfolder.model.geometry import Box
from hotfolder.model.pictures import CoveragePicture, ScaleStep
from hotfolder.model.plates import Bytes

_LONGEST_PX: Final = 640
_MOST_BYTES: Final = 60_000

_BARE_BELOW_PERCENT: Final = 0.5  # less than a screen ruling can hold
_ROUNDING_PERCENT: Final = 1.0  # four plates in 256 steps each are off by up to 0.8 %
_STEP_PERCENT: Final = 50
_HIGHEST_STEP_PERCENT: Final = 400

# A moss green from light to dark, in CIELAB: evenly spaced lightness, hue 115 degrees.
_LIGHTEST, _DARKEST, _HUE_DEG, _CHROMA = 93.0, 11.0, 115.0, 26.0

# The palette after the tones of the scale.
_STRIPE, _RIM = (255, 255, 255), (0, 0, 0)
_STRIPE_EVERY_PX: Final = 6
_STRIPE_PX: Final = 2
_SMALLEST_SEEN_PX: Final = 5

Flags = NDArray[np.bool_]


def coverage_picture(
    sheet: SheetPlates, limit_percent: float | None, within: Box | None = None
) -> CoveragePicture:
    """The total of all plates of the sheet that are ink to look at.

    Areas above `limit_percent` are hatched, by the mean of each square millimetre, as far as they lie
    `within` (trim and bleed; what lies outside is colour bars and marks).
    """
    cut = sheet.sheet
    size = fitting(cut.size, _LONGEST_PX)
    total = np.zeros((size[1], size[0]), np.uint16)
    for plate in sheet.inks(cut, size).values():
        total += plate
    steps = _steps()
    tones = _tones(len(steps) + 1)
    # `total` counts full inks as 255; a tone begins just above the step before it.
    shown = np.digitize(total, [step * 2.55 for step in steps], right=True).astype(np.uint8)
    if limit_percent is not None:
        over = _over(sheet, limit_percent + _ROUNDING_PERCENT)
        if within is not None:
            over &= pixels_inside(sheet.frame, within)
        if over.any():
            _hatch(shown, _on_picture(over, sheet, size), stripe=len(tones), rim=len(tones) + 1)
    image = sheet.upright(shown)
    image.putpalette([value for tone in (*tones, _STRIPE, _RIM) for value in tone])
    return CoveragePicture(
        as_picture(image, _alt(sheet.page.number, limit_percent), _MOST_BYTES),
        tuple(
            ScaleStep("#{:02x}{:02x}{:02x}".format(*tone), step)
            for tone, step in zip(tones, (*steps, None), strict=True)
        ),
        limit_percent,
    )


def _steps() -> list[float]:
    return [_BARE_BELOW_PERCENT, *range(_STEP_PERCENT, _HIGHEST_STEP_PERCENT + 1, _STEP_PERCENT)]


def _tones(count: int) -> list[tuple[int, int, int]]:
    """White for bare paper, then the tones of the scale."""
    tones = [(255, 255, 255)]
    across, up = math.cos(math.radians(_HUE_DEG)), math.sin(math.radians(_HUE_DEG))
    for index in range(count - 1):
        share = index / (count - 2)
        lightness = _LIGHTEST + (_DARKEST - _LIGHTEST) * share
        # Little colour at both ends, where there is no room for it.
        chroma = _CHROMA * (0.35 + 0.65 * math.sin(math.pi * (0.15 + 0.7 * share)))
        tones.append(srgb((lightness, chroma * across, chroma * up)))
    return tones


def _over(sheet: SheetPlates, limit_percent: float) -> Flags:
    """Which pixels of the frame lie in areas with more ink than the limit."""
    plates = [plate for name, plate in sheet.plates.inks.items() if name not in sheet.left_out]
    if not plates:
        return np.zeros((sheet.frame.height_px, sheet.frame.width_px), np.bool_)
    return heavy_pixels(plates, sheet.frame.px_per_mm, limit_percent * 2.55)[0]


def _on_picture(over: Flags, sheet: SheetPlates, size: tuple[int, int]) -> Flags:
    """`over` laid on the picture, each place made large enough to be seen."""
    cut = sheet.sheet
    flags = Image.fromarray(cut.of_picture(over.astype(np.uint8) * 255))
    # A pixel of the picture is over the limit where any that it stands for is.
    reach = max(0, math.ceil(cut.size[0] / size[0]) - 1)
    if reach:
        flags = flags.filter(ImageFilter.MaxFilter(2 * (reach // 2) + 1))
    shown = flags.resize(size, Image.Resampling.NEAREST)
    pixel_px = size[0] / cut.size[0] * sheet.frame.px_per_mm
    grow = max(0, math.ceil((_SMALLEST_SEEN_PX / pixel_px - 1) / 2))
    if grow:
        shown = shown.filter(ImageFilter.MaxFilter(2 * grow + 1))
    return np.asarray(shown) > 0


def _hatch(shown: Bytes, over: Flags, stripe: int, rim: int) -> None:
    """White stripes over the places that are `over`, a black rim with a white one around it."""
    down, across = np.indices(over.shape)
    shown[over & ((down + across) % _STRIPE_EVERY_PX < _STRIPE_PX)] = stripe
    near, wide = (
        np.asarray(Image.fromarray(over.astype(np.uint8)).filter(ImageFilter.MaxFilter(side))) > 0
        for side in (3, 5)
    )
    shown[wide & ~near] = stripe
    shown[near & ~over] = rim


def _alt(page: int, limit_percent: float | None) -> str:
    hatched = "" if limit_percent is None else f", hatched where it is above {limit_percent:g} %"
    return f"Total ink on page {page}, darker where there is more{hatched}"
