# Pictures on a drawing's grid: what is laid is what the picture covers, at any angle, and the renderer leaves
# it as it is.
import math

import numpy as np
import pytest
from numpy.typing import NDArray
from pikepdf import Name
from PIL import Image

from hotfolder.drawing.grid.grid_laying import place_on_grid
from hotfolder.model.plates import PlateFrame
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.resources import Resources
from tests.drawing.spaces.view_sheets import BLACK, Pixels, Sheet, grid_frame, image

SIDE = 200
FRAME = grid_frame(3, SIDE, SIDE)
Shares = NDArray[np.float64]


def in_page(matrix: Matrix) -> Matrix:
    """From pixels (y upwards from the bottom) to points."""
    return Matrix(*(value * FRAME.pixel_pt for value in matrix))


def turned(degrees: float, width: float, height: float, skew: float = 0.0) -> Matrix:
    """A picture of so many pixels, turned around its middle, a bit off the middle of the sheet."""
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    x, y = SIDE / 2 + 0.3, SIDE / 2 + 0.2
    a, b = width * cos, width * sin
    c, d = -height * sin + skew * a, height * cos + skew * b
    return Matrix(a, b, c, d, x - (a + c) / 2, y - (b + d) / 2)


def drawn(pixels: Pixels, matrix: Matrix) -> Pixels:
    """The black plate of a grey picture laid on the grid."""
    sheet = Sheet(None, FRAME)
    height, width = pixels.shape
    picture = image(sheet.pdf, pixels.tobytes(), width, height, ColorSpace=Name.DeviceGray)
    placed = sheet.images.resampled(picture, Resources(), in_page(matrix), FRAME, BLACK)
    assert placed is not None
    sheet.place(placed.image, placed.matrix)
    plate: Pixels = 255 - sheet.drawn()[..., 0]
    return plate


def truth(pixels: Pixels, matrix: Matrix, finer: int = 8) -> tuple[Shares, Shares]:
    """The plate, looked up at many places of each pixel, and how much of each the picture covers."""
    back = matrix.inverted()
    assert back is not None
    steps = (np.arange(SIDE * finer) + 0.5) / finer
    x, y = np.meshgrid(steps, SIDE - steps)
    across = back.a * x + back.c * y + back.e
    down = 1 - (back.b * x + back.d * y + back.f)
    inside = (across >= 0) & (across < 1) & (down >= 0) & (down < 1)
    height, width = pixels.shape
    rows = np.clip((down * height).astype(int), 0, height - 1)
    columns = np.clip((across * width).astype(int), 0, width - 1)
    ink = np.where(inside, 255.0 - pixels[rows, columns], 0)
    blocks = (SIDE, finer, SIDE, finer)
    return ink.reshape(blocks).mean((1, 3)), inside.reshape(blocks).mean((1, 3))


def soft_picture(width: int, height: int) -> Pixels:
    random = np.random.default_rng(7)
    seeds = Image.fromarray(random.integers(0, 256, (7, 7), dtype=np.uint8))
    return np.asarray(seeds.resize((width, height), Image.Resampling.BICUBIC))


@pytest.mark.parametrize("degrees", [0.5, 10, 30, 45, 80, 200])
@pytest.mark.parametrize("skew", [0, 0.3])
@pytest.mark.parametrize("width", [120, 24])
def test_a_turned_picture_lays_the_ink_that_it_should(degrees: float, skew: float, width: int) -> None:
    pixels = soft_picture(400, 300)
    matrix = turned(degrees, width, width * 0.75, skew)
    plate = drawn(pixels, matrix).astype(float)
    expected, covered = truth(pixels, matrix)
    # The renderer alone is 1.2 to 6 % off here; along edges a pixel may be off by its slope.
    assert plate.sum() == pytest.approx(expected.sum(), rel=0.005)
    inner = covered == 1
    assert np.abs(plate - expected)[inner].mean() < 3
    assert abs((plate - expected)[inner].mean()) < 0.3
    assert np.abs(plate - expected).mean() < 0.5


@pytest.mark.parametrize("degrees", [0, 90, 180, 270])
@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize(("columns", "rows"), [(400, 300), (401, 299), (120, 90), (7, 5)])
def test_an_upright_picture_keeps_its_means(
    degrees: float, columns: int, rows: int, *, mirrored: bool
) -> None:
    pixels = soft_picture(columns, rows)
    matrix = turned(degrees, 120, 90)
    if mirrored:
        matrix = Matrix(-1, 0, 0, 1, 1, 0).then(matrix)
    # Whole pixels: the truth is that of the nearest ones.
    x0, y0, x1, y1 = (math.floor(value + 0.5) for value in _edges(matrix))
    box = _edges(matrix)
    snapped = Matrix(1, 0, 0, 1, -box[0], -box[1]).then(
        Matrix((x1 - x0) / (box[2] - box[0]), 0, 0, (y1 - y0) / (box[3] - box[1]), x0, y0)
    )
    plate = drawn(pixels, matrix).astype(float)
    expected, _ = truth(pixels, matrix.then(snapped))
    assert plate.sum() == pytest.approx(expected.sum(), rel=0.002)
    # Where a picture is reduced on the way, by what one of its pixels differs from the next.
    assert np.abs(plate - expected).max() <= (3 if columns != 7 else 12)


def _edges(matrix: Matrix) -> tuple[float, float, float, float]:
    box = matrix.bounds(0, 0, 1, 1)
    return box.x0, box.y0, box.x1, box.y1


def test_the_renderer_leaves_a_laid_picture_as_it_is() -> None:
    pixels = np.random.default_rng(1).integers(0, 256, (90, 120), dtype=np.uint8)
    plate = drawn(pixels, Matrix(120, 0, 0, 90, 40, 50))
    np.testing.assert_array_equal(plate[SIDE - 50 - 90 : SIDE - 50, 40:160], 255 - pixels)
    assert plate.astype(int).sum() == (255 - pixels.astype(int)).sum()


def test_neighbours_share_their_edge() -> None:
    # A picture in strips, as flattened transparency leaves it: no strip of paper, none doubled.
    sheet = Sheet(None, FRAME)
    for number in range(12):
        picture = image(sheet.pdf, b"\x40" * 600, 60, 10, ColorSpace=Name.DeviceGray)
        matrix = Matrix(100.4, 0, 0, 7.3, 20.2, 30.1 + 7.3 * number)
        placed = sheet.images.resampled(picture, Resources(), in_page(matrix), FRAME, BLACK)
        assert placed is not None
        sheet.place(placed.image, placed.matrix)
    plate = 255 - sheet.drawn()[..., 0]
    rows = np.flatnonzero(plate[:, 60])
    assert set(plate[rows, 60]) == {191}
    assert len(rows) == rows[-1] - rows[0] + 1 == round(12 * 7.3)


def test_a_picture_finer_than_a_pixel_still_lays_one() -> None:
    plate = drawn(np.zeros((4, 4), np.uint8), Matrix(0.2, 0, 0, 50, 60.7, 40))
    assert (plate[130] == 255).sum() == 1


def test_a_picture_beside_the_frame_is_not_laid() -> None:
    assert place_on_grid(in_page(Matrix(50, 0, 0, 50, SIDE + 5, 0)), FRAME) is None
    assert place_on_grid(in_page(turned(30, 20, 20).then(Matrix(1, 0, 0, 1, 900, 0))), FRAME) is None


def test_only_what_falls_within_the_frame_is_made() -> None:
    place = place_on_grid(in_page(Matrix(10 * SIDE, 0, 0, 10 * SIDE, -900, -900)), FRAME)
    assert place is not None
    assert (place.left, place.top, place.width, place.height) == (0, 0, SIDE, SIDE)


def test_a_picture_squeezed_flat_covers_nothing() -> None:
    assert drawn(soft_picture(40, 30), Matrix(50, 25, 50, 25, 60, 60)).max() == 0


def test_a_turned_stencil_is_laid_in_its_colour() -> None:
    sheet = Sheet(None, FRAME)
    stencil = image(sheet.pdf, bytes([0b11110000] * 400), 80, 40, ImageMask=True, BitsPerComponent=1)
    matrix = turned(30, 80, 40)
    fill = (0.25, 0.25, 0.25)
    placed = sheet.images.resampled(stencil, Resources(), in_page(matrix), FRAME, BLACK, fill=fill)
    assert placed is not None
    sheet.place(placed.image, placed.matrix)
    plate = 255 - sheet.drawn()[..., 0].astype(float)
    # Half of it is painted: where samples are 0 (8.9.6.2).
    assert plate.sum() / 255 == pytest.approx(0.75 * 80 * 40 / 2, rel=0.01)


def test_frames_count_from_their_own_corner() -> None:
    frame = PlateFrame(100, 500, 3, 60, 60)
    pixel = frame.pixel_pt
    place = place_on_grid(Matrix(10 * pixel, 0, 0, 5 * pixel, 100 + 4 * pixel, 500 - 20 * pixel), frame)
    assert place is not None
    assert (place.left, place.top, place.width, place.height) == (4, 15, 10, 5)
    laid = place.in_page(frame)
    assert (laid.e, laid.f) == pytest.approx((100 + 4 * pixel, 500 - 20 * pixel), abs=pixel / 32)
