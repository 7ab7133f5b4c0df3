# Shadings: how far each of the seven types paints, for `sh` and for patterns.

import math
import struct

import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.model.colour import ColourKind
from hotfolder.model.geometry import Box
from hotfolder.model.marks import MarkKind
from hotfolder.pdf.content.shadings import read_shading
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix
from tests.pdf.drawn_page import MEDIA, Drawn, corners, only

_RAMP = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([0, 0, 0]), C1=Array([1, 1, 1]), N=1)
_EVERYWHERE = corners(MEDIA)


def _shading(kind: int, **entries: object) -> Dictionary:
    shading = Dictionary(ShadingType=kind, ColorSpace=Name.DeviceRGB, Function=_RAMP)
    for key, value in entries.items():
        shading[f"/{key}"] = Array(value) if isinstance(value, list) else value
    return shading


def _painted(shading: object, content: bytes = b"/S sh") -> tuple[float, float, float, float] | None:
    """What `sh` paints of a page of 300 x 400 points; None where that is nothing."""
    page = Drawn().resource("Shading", "S", shading).read(content)
    assert page.problems == ()
    return corners(only(page).visible) if page.marks else None


def test_sh_paints_what_the_clip_leaves_of_an_endless_gradient() -> None:
    shading = _shading(2, Coords=[0, 0, 1, 1], Extend=[True, True])
    page = Drawn().resource("Shading", "S", shading).read(b"q 10 10 50 60 re W n /S sh Q /S sh")
    assert [mark.kind for mark in page.marks] == [MarkKind.SHADING, MarkKind.SHADING]
    assert corners(page.marks[0].visible) == (10, 10, 60, 70)
    assert page.marks[1].box == MEDIA


@pytest.mark.parametrize(
    ("extend", "painted"),
    [
        ([False, False], (100, 0, 200, 400)),
        ([True, False], (0, 0, 200, 400)),
        ([False, True], (100, 0, 300, 400)),
        ([True, True], _EVERYWHERE),
        (None, (100, 0, 200, 400)),
    ],
)
def test_an_axial_gradient_ends_at_its_lines(
    extend: list[bool] | None, painted: tuple[float, float, float, float]
) -> None:
    # ISO 32000-2, 8.7.4.5.3: without Extend nothing is painted beyond the ends of the axis.
    entries = {"Extend": extend} if extend else {}
    assert _painted(_shading(2, Coords=[100, 7, 200, 7], **entries)) == painted


def test_an_axial_gradient_at_an_angle_is_cut_at_the_clip() -> None:
    # Between x + y = 100 and x + y = 200; the clip reaches to 150 both ways.
    content = b"q 0 0 150 150 re W n /S sh Q"
    assert _painted(_shading(2, Coords=[50, 50, 100, 100]), content) == (0, 0, 150, 150)
    corner = b"q 0 0 30 40 re W n /S sh Q"
    assert _painted(_shading(2, Coords=[50, 50, 100, 100]), corner) is None
    # Between x + y = 400 and 600 only the corner at the top right is left: it begins at (150, 250).
    assert _painted(_shading(2, Coords=[200, 200, 300, 300]), b"150 200 150 200 re W n /S sh") == (
        150, 200, 300, 400,
    )  # fmt: skip
    # Between x + y = 600 and 800: the triangle (200, 400), (300, 300), (300, 400).
    assert _painted(_shading(2, Coords=[300, 300, 400, 400])) == (200, 300, 300, 400)


def test_an_axial_gradient_without_an_axis_paints_nothing() -> None:
    assert _painted(_shading(2, Coords=[50, 50, 50, 50], Extend=[True, True])) is None


@pytest.mark.parametrize(
    ("coordinates", "extend", "painted"),
    [
        ([100, 200, 0, 100, 200, 50], [False, False], (50, 150, 150, 250)),
        ([100, 200, 50, 100, 200, 0], [False, False], (50, 150, 150, 250)),
        ([100, 200, 0, 100, 200, 50], [True, True], _EVERYWHERE),
        ([100, 200, 0, 100, 200, 50], [False, True], _EVERYWHERE),
        ([100, 200, 50, 100, 200, 0], [True, False], _EVERYWHERE),
        # Apart from each other: the cone between them, and its point where it is extended there.
        ([100, 200, 10, 200, 200, 30], [False, False], (90, 170, 230, 230)),
        ([100, 200, 10, 200, 200, 30], [True, False], (50, 170, 230, 230)),
        ([200, 200, 30, 100, 200, 10], [False, True], (50, 170, 230, 230)),
        # Of one size: a bar.
        ([100, 200, 20, 200, 200, 20], [False, False], (80, 180, 220, 220)),
        ([100, 200, 20, 200, 200, 20], [True, False], _EVERYWHERE),
    ],
)
def test_a_radial_gradient_reaches_as_far_as_its_circles(
    coordinates: list[float], extend: list[bool], painted: tuple[float, float, float, float]
) -> None:
    assert _painted(_shading(3, Coords=coordinates, Extend=extend)) == painted


@pytest.mark.parametrize(
    ("coordinates", "extend", "fills"),
    [
        ([0, 0, 0, 5, 0, 50], [True, True], True),
        ([0, 0, 0, 5, 0, 50], [False, True], True),  # it begins at a point: nothing is left bare
        ([0, 0, 10, 5, 0, 50], [False, True], False),  # a hole in the middle
        ([0, 0, 10, 5, 0, 50], [True, True], True),
        ([0, 0, 10, 90, 0, 50], [True, True], False),  # a cone leaves two sides bare
        ([0, 0, 0, 0, 0, 50], [True, False], False),
    ],
)
def test_a_radial_gradient_fills_all_or_leaves_something_bare(
    coordinates: list[float],
    extend: list[bool],
    fills: bool,  # noqa: FBT001 - a column of the table
) -> None:
    shading = read_shading(_shading(3, Coords=coordinates, Extend=extend), 3)
    assert shading.fills(IDENTITY) is fills


def test_a_turned_and_skewed_circle_is_bounded_as_the_ellipse_that_it_becomes() -> None:
    shading = read_shading(_shading(3, Coords=[0, 0, 0, 0, 0, 10]), 3)
    matrix = Matrix(3.0, 1.0, -2.0, 4.0, 50.0, 60.0)
    # The slow way: points all around the circle.
    points = [matrix.point(10 * math.cos(t / 1000), 10 * math.sin(t / 1000)) for t in range(6284)]
    around, found = Box.around(points), shading.bounds(matrix, Box(-1e4, -1e4, 1e4, 1e4))
    assert found is not None
    assert corners(found) == pytest.approx(corners(around), abs=1e-3)


def test_a_function_reaches_as_far_as_its_domain() -> None:
    assert _painted(_shading(1)) == (0, 0, 1, 1)
    wide = _shading(1, Domain=[-1, 1, 0, 2], Matrix=[10, 0, 0, 20, 100, 100])
    assert _painted(wide) == (90, 100, 110, 140)
    assert _painted(wide, b"2 0 0 2 0 0 cm /S sh") == (180, 200, 220, 280)


def _mesh(kind: int, data: bytes, bits: int = 8, flag_bits: int | None = 8) -> Drawn:
    drawn = Drawn()
    entries: dict[str, object] = {
        "ShadingType": kind, "ColorSpace": Name.DeviceRGB, "BitsPerCoordinate": bits, "BitsPerComponent": 8,
        "Decode": Array([0, 255, 0, 255, 0, 1, 0, 1, 0, 1]), "VerticesPerRow": 2,
    }  # fmt: skip
    if flag_bits is not None:
        entries["BitsPerFlag"] = flag_bits
    return drawn.resource("Shading", "S", drawn.stream(data, **entries))


_RGB = b"\x10\x20\x30"


def test_a_mesh_of_triangles_reaches_as_far_as_its_vertices() -> None:
    points = [(20, 30), (120, 40), (70, 90), (140, 95)]
    data = b"".join(bytes([flag, x, y]) + _RGB for flag, (x, y) in zip((0, 0, 0, 1), points, strict=True))
    assert corners(only(_mesh(4, data).read(b"/S sh")).box) == (20, 30, 140, 95)


def test_a_lattice_reaches_as_far_as_its_vertices() -> None:
    data = b"".join(bytes([x, y]) + _RGB for x, y in [(20, 30), (120, 40), (25, 90), (140, 95)])
    assert corners(only(_mesh(5, data, flag_bits=None).read(b"/S sh")).box) == (20, 30, 140, 95)


def test_vertices_of_sixteen_bits_and_a_function_are_read_at_their_places() -> None:
    # One parametric value of a byte instead of three components, and coordinates of two bytes each.
    data = b"".join(struct.pack(">BHHB", 0, x * 257, y * 257, 9) for x, y in [(20, 30), (120, 40), (70, 90)])
    drawn = _mesh(4, data, bits=16)
    drawn.page.obj.Resources.Shading.S.Function = _RAMP
    assert corners(only(drawn.read(b"/S sh")).box) == (20, 30, 120, 90)


# A square patch: its rim, counter-clockwise from the lower left corner, up first (figure 45).
_SQUARE = [(50, 50), (50, 60), (50, 70), (50, 80), (60, 80), (70, 80), (80, 80), (80, 70), (80, 60), (80, 50),
           (70, 50), (60, 50)]  # fmt: skip


def _patch(flag: int, points: list[tuple[int, int]], colours: int) -> bytes:
    return bytes([flag]) + b"".join(bytes(point) for point in points) + _RGB * colours


def test_a_coons_patch_reaches_as_far_as_its_rim() -> None:
    assert corners(only(_mesh(6, _patch(0, _SQUARE, 4)).read(b"/S sh")).box) == (50, 50, 80, 80)


def test_patches_that_go_on_from_an_edge_are_read_from_there() -> None:
    # Flag 2: the next one begins with the edge from (80, 80) down to (80, 50).
    further = [(90, 50), (100, 50), (110, 50), (110, 60), (110, 70), (110, 90), (100, 80), (90, 80)]
    data = _patch(0, _SQUARE, 4) + _patch(2, further, 2)
    assert corners(only(_mesh(6, data).read(b"/S sh")).box) == (50, 50, 110, 90)


def test_the_inner_points_of_a_tensor_patch_count() -> None:
    inner = [(60, 60), (60, 200), (70, 70), (70, 60)]
    assert corners(only(_mesh(7, _patch(0, _SQUARE + inner, 4)).read(b"/S sh")).box) == (50, 50, 80, 200)


def test_a_coons_patch_may_bulge_beyond_its_rim() -> None:
    # Both upright edges bend to the right, and both others run far to the right before they turn back.
    rim = [(50, 50), (90, 83), (90, 116), (50, 150), (190, 150), (190, 150), (150, 150), (190, 116),
           (190, 83), (150, 50), (190, 50), (190, 50)]  # fmt: skip
    box = only(_mesh(6, _patch(0, rim, 4)).read(b"/S sh")).box
    # The slow way: points of the surface itself, by the standard's formula (8.7.4.5.7).
    surface = Box.around([_coons(rim, u / 40, v / 40) for u in range(41) for v in range(41)])
    assert surface.x1 > 195 > max(x for x, _ in rim)
    assert box.holds(surface, 1e-9)


def _bezier(points: list[tuple[int, int]], t: float) -> tuple[float, float]:
    weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    x, y = (sum(w * point[axis] for w, point in zip(weights, points, strict=True)) for axis in (0, 1))
    return x, y


def _coons(rim: list[tuple[int, int]], u: float, v: float) -> tuple[float, float]:
    left, right = rim[0:4], [rim[9], rim[8], rim[7], rim[6]]
    bottom, top = [rim[0], rim[11], rim[10], rim[9]], rim[3:7]
    c1, c2, d1, d2 = _bezier(bottom, u), _bezier(top, u), _bezier(left, v), _bezier(right, v)
    x, y = (
        (1 - v) * c1[axis] + v * c2[axis] + (1 - u) * d1[axis] + u * d2[axis]
        - (1 - v) * ((1 - u) * rim[0][axis] + u * rim[9][axis])
        - v * ((1 - u) * rim[3][axis] + u * rim[6][axis])
        for axis in (0, 1)
    )  # fmt: skip
    return x, y


@pytest.mark.parametrize("bits", [12, 24])
def test_a_mesh_that_is_written_otherwise_reaches_as_far_as_its_declared_range(bits: int) -> None:
    assert corners(only(_mesh(4, b"\x00" * 60, bits=bits).read(b"/S sh")).box) == (0, 0, 255, 255)


def test_a_mesh_that_ends_too_early_counts_as_far_as_it_goes() -> None:
    data = _patch(0, _SQUARE, 4) + _patch(2, _SQUARE, 2)[:9]
    assert corners(only(_mesh(6, data).read(b"/S sh")).box) == (50, 50, 80, 80)


def test_the_box_of_a_shading_clips_it() -> None:
    shading = _shading(2, Coords=[0, 0, 1, 1], Extend=[True, True], BBox=[20, 20, 30, 40])
    assert _painted(shading) == (20, 20, 30, 40)
    assert _painted(shading, b"q 200 200 9 9 re W n /S sh Q") is None


@pytest.mark.parametrize(
    "junk", [{}, {"Coords": [1, 2]}, {"Coords": [0, 0, -1, 0, 0, 5]}, {"ShadingType": 9}]
)
def test_what_makes_no_sense_may_paint_anywhere_and_hides_nothing(junk: dict[str, object]) -> None:
    shading = _shading(3, **junk)
    assert _painted(shading) == _EVERYWHERE
    assert not read_shading(shading, 3).fills(IDENTITY)


# Patterns


def _filled(shading: object, content: bytes, **entries: object) -> tuple[float, float, float, float] | None:
    pattern = Dictionary(PatternType=2, Shading=shading)
    for key, value in entries.items():
        pattern[f"/{key}"] = value
    mark = only(Drawn().resource("Pattern", "P", pattern).read(b"/Pattern cs /P scn " + content))
    assert (mark.kind, mark.fill and mark.fill.space.kind) == (MarkKind.PATH, ColourKind.RGB)
    return corners(mark.visible) if mark.visible is not None else None


def test_an_area_shows_as_far_as_the_gradient_that_fills_it() -> None:
    shading = _shading(2, Coords=[100, 0, 200, 0])
    assert _filled(shading, b"50 50 200 20 re f") == (100, 50, 200, 70)
    assert _filled(shading, b"10 50 20 20 re f") is None
    # A pattern keeps to the page, whatever the matrix of the area is (8.7.3.1).
    assert _filled(shading, b"2 0 0 2 0 0 cm 25 25 100 10 re f") == (100, 50, 200, 70)
    assert _filled(shading, b"50 50 200 20 re f", Matrix=Array([1, 0, 0, 1, 30, 0])) == (130, 50, 230, 70)


def test_a_background_fills_what_the_gradient_leaves() -> None:
    # ISO 32000-2, table 77: Background fills the area before the shading is painted; `sh` ignores it.
    shading = _shading(2, Coords=[100, 0, 200, 0], Background=[1, 1, 0])
    assert _filled(shading, b"50 50 200 20 re f") == (50, 50, 250, 70)
    assert _painted(shading) == (100, 0, 200, 400)


def test_a_gradient_chosen_outside_a_form_stays_where_it_is() -> None:
    drawn = Drawn().resource(
        "Pattern", "P", Dictionary(PatternType=2, Shading=_shading(2, Coords=[100, 0, 200, 0]))
    )
    drawn.resource("XObject", "F", drawn.form(b"0 0 60 9 re f"))
    draw = b"q 1 0 0 1 %d 0 cm /F Do Q "
    page = drawn.read(b"/Pattern cs /P scn " + b"".join(draw % x for x in (50, 110, 170, 70)))
    assert [corners(mark.visible)[::2] for mark in page.marks] == [
        (100, 110),
        (110, 170),
        (170, 200),
        (100, 130),
    ]
