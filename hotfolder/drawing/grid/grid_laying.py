"""Pictures laid on a drawing's own grid of pixels, so that the renderer has nothing left to scale or turn.

It rounds means of pixels down, widens pictures to whole pixels, and darkens those that are turned (by more
than 1 % of ink). Upright pictures are brought here to the nearest whole pixels by exact means of areas:
neighbours that share an edge still do. Turned and skewed ones get a mask, soft along their edges.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from PIL import Image

from hotfolder.drawing.grid.area_mean import GridSpan, area_mean
from hotfolder.model.geometry import Box
from hotfolder.model.plates import Bytes, PlateFrame
from hotfolder.pdf.objects.matrix import Matrix, moving

_HAIR: Final = 1 / 64  # of a pixel
_FINER: Final = 2  # a turned picture is looked up at so many places a pixel, across and down
_WIDEST_RIM: Final = 64  # pixels; pictures squeezed nearly flat would ask for more


@dataclass(frozen=True, slots=True)
class GridPlace:
    """Where a picture lies on the grid.

    matrix: from its unit square, y downwards from its top row, to pixels. left, top, width, height: the
    whole pixels of the frame that it takes.
    """

    matrix: Matrix
    left: int
    top: int
    width: int
    height: int

    @property
    def upright(self) -> bool:
        """Whether it is neither turned (but by quarters) nor skewed."""
        return self.matrix.keeps_upright

    def in_page(self, frame: PlateFrame) -> Matrix:
        """From the unit square of the laid picture to the page's user space.

        A hair smaller than its pixels: what lies beyond a pixel by a rounding error the renderer widens
        by a whole one.
        """
        pixel = frame.pixel_pt
        left = frame.left + (self.left + _HAIR) * pixel
        bottom = frame.top - (self.top + self.height - _HAIR) * pixel
        return Matrix((self.width - 2 * _HAIR) * pixel, 0, 0, (self.height - 2 * _HAIR) * pixel, left, bottom)


def place_on_grid(matrix: Matrix, frame: PlateFrame) -> GridPlace | None:
    """The place of a picture that `matrix` puts into the page's user space; None outside of the frame."""
    pixel = frame.pixel_pt
    downwards = Matrix(1, 0, 0, -1, 0, 1).then(matrix)
    to_grid = Matrix(1 / pixel, 0, 0, -1 / pixel, -frame.left / pixel, frame.top / pixel)
    laid = downwards.then(to_grid)
    box = laid.bounds(0, 0, 1, 1)
    if not all(math.isfinite(each) for each in (box.x0, box.x1, box.y0, box.y1)):
        return None
    if laid.keeps_upright:
        left, right = _nearest(box.x0, box.x1)
        top, bottom = _nearest(box.y0, box.y1)
    else:
        left, right, top, bottom = (
            math.floor(box.x0), math.ceil(box.x1), math.floor(box.y0), math.ceil(box.y1)
        )  # fmt: skip
    left, right = max(left, 0), min(right, frame.width_px)
    top, bottom = max(top, 0), min(bottom, frame.height_px)
    if left >= right or top >= bottom:
        return None
    return GridPlace(laid, left, top, right - left, bottom - top)


def onto_whole_pixels(box: Box, frame: PlateFrame) -> Matrix | None:
    """Brings what takes `box` of the page's user space to the nearest whole pixels, a hair within them.

    Neighbours that share an edge still do. None for a box of no extent.
    """
    if not all(math.isfinite(each) for each in (box.width, box.height)) or not box.width or not box.height:
        return None
    pixel = frame.pixel_pt
    left, right = _nearest((box.x0 - frame.left) / pixel, (box.x1 - frame.left) / pixel)
    top, bottom = _nearest((frame.top - box.y1) / pixel, (frame.top - box.y0) / pixel)
    across = (right - left - 2 * _HAIR) * pixel / box.width
    up = (bottom - top - 2 * _HAIR) * pixel / box.height
    x = frame.left + (left + _HAIR) * pixel
    y = frame.top - (bottom - _HAIR) * pixel
    return Matrix(across, 0, 0, up, x - across * box.x0, y - up * box.y0)


def _nearest(low: float, high: float) -> tuple[int, int]:
    """Whole pixels for an extent: at least one, that in which its middle lies."""
    start, end = math.floor(low + 0.5), math.floor(high + 0.5)
    if start < end:
        return start, end
    middle = math.floor((low + high) / 2)
    return middle, middle + 1


def laid(pixels: Bytes, extent: tuple[float, float], place: GridPlace) -> Bytes:
    """Pixels of shape (rows, columns, channels) on the grid, shape (height, width, channels).

    extent: how many columns and rows of them make the picture.
    """
    return _upright(pixels, extent, place) if place.upright else _turned(pixels, extent, place)


def _upright(pixels: Bytes, extent: tuple[float, float], place: GridPlace) -> Bytes:
    """The mean of what each pixel of the grid covers."""
    matrix = place.matrix
    columns, rows = extent
    quarter = abs(matrix.b) > abs(matrix.a)
    if quarter:
        pixels, columns, rows = pixels.transpose(1, 0, 2), rows, columns
    box = matrix.bounds(0, 0, 1, 1)
    across = _span(_nearest(box.x0, box.x1), place.left, place.width, columns)
    down = _span(_nearest(box.y0, box.y1), place.top, place.height, rows)
    # Mirrored, the missing part of a last column would be one of the first: there it does not count.
    if (matrix.c if quarter else matrix.a) < 0:
        pixels, across = pixels[:, ::-1], _mirrored(across, pixels.shape[1])
    if (matrix.b if quarter else matrix.d) < 0:
        pixels, down = pixels[::-1], _mirrored(down, pixels.shape[0])
    if _one_to_one(across, pixels.shape[1]) and _one_to_one(down, pixels.shape[0]):
        return pixels
    return area_mean([pixels], across, down, pixels.shape[2])


def _span(whole: tuple[int, int], start: int, count: int, pixels: float) -> GridSpan:
    """Where `pixels`, spread over the whole pixels of the frame, lie on `count` of them from `start`."""
    return GridSpan(whole[0] - start, whole[1] - start, pixels, count)


def _mirrored(span: GridSpan, pixels: int) -> GridSpan:
    """The span of a row that begins with what is missing of its last pixel."""
    cells_missing = (pixels - span.count) * span.cells_a_pixel
    return GridSpan(span.start - cells_missing, span.stop, pixels, span.cells)


def _one_to_one(span: GridSpan, pixels: int) -> bool:
    return (span.start, span.stop, span.count) == (0, span.cells, span.cells) and pixels == span.cells


def _turned(pixels: Bytes, extent: tuple[float, float], place: GridPlace) -> Bytes:
    """Looked up at the places of a finer grid, between pixels by their distance, and averaged."""
    back = place.matrix.inverted()
    columns, rows = extent
    channels = pixels.shape[2]
    if back is None:
        mean = pixels.reshape(-1, channels).mean(axis=0)
        return np.broadcast_to(np.rint(mean).astype(np.uint8), (place.height, place.width, channels))
    # From the finer grid's pixels to the grid, to the unit square, to the picture's pixels.
    step = 1 / _FINER
    places = (
        Matrix(step, 0, 0, step, place.left, place.top).then(back).then(Matrix(columns, 0, 0, rows, 0, 0))
    )
    # The picture is widened by what pixels on its edge may see beyond it, so that these have its own colour.
    rim = 2 + math.ceil(_FINER * max(abs(places.a) + abs(places.c), abs(places.b) + abs(places.d)))
    rim = min(rim, _WIDEST_RIM)
    places = places.then(moving(rim, rim))
    rimmed = np.pad(pixels, ((rim, rim), (rim, rim), (0, 0)), mode="edge")
    size = (place.width * _FINER, place.height * _FINER)
    data = (places.a, places.c, places.e, places.b, places.d, places.f)
    turned = np.empty((place.height, place.width, channels), np.uint8)
    for channel in range(channels):
        # In floats: of bytes Pillow cuts off the fractions here, and makes pictures darker by half a step.
        band = Image.fromarray(rimmed[..., channel].astype(np.float32))
        finer = band.transform(size, Image.Transform.AFFINE, data, Image.Resampling.BILINEAR)
        turned[..., channel] = np.rint(np.asarray(finer.reduce(_FINER)))
    return turned


def coverage(place: GridPlace) -> Bytes:
    """How much of each pixel a turned picture covers, shape (height, width), 255 all of it."""
    matrix = place.matrix
    back = matrix.inverted()
    if back is None:
        return np.zeros((place.height, place.width), np.uint8)
    across = (np.arange(place.width) + place.left + 0.5)[None, :]
    down = (np.arange(place.height) + place.top + 0.5)[:, None]
    shares = []
    for gradient_x, gradient_y, shift in ((back.a, back.c, back.e), (back.b, back.d, back.f)):
        # The unit square's coordinate, and how many pixels one unit of it takes along its slope.
        unit = across * gradient_x + down * gradient_y + shift
        length = 1 / math.hypot(gradient_x, gradient_y)
        slope = max(abs(gradient_x), abs(gradient_y)) * length
        # A pixel's share behind an edge, as that of a bar as wide as the pixel is across the edge's slope.
        reach = length / max(slope, 0.5)
        first = np.clip(unit * reach + 0.5, 0, 1)
        second = np.clip((1 - unit) * reach + 0.5, 0, 1)
        shares.append(np.maximum(first + second - 1, 0))
    covered: Bytes = np.rint(shares[0] * shares[1] * 255).astype(np.uint8)
    return covered
