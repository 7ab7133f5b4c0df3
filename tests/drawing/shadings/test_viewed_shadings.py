# Gradients and meshes in a view: the renderer draws the inks that their colours lay.
import struct
from collections.abc import Callable

import numpy as np
import pikepdf
import pytest
from numpy.typing import NDArray
from pikepdf import Array, Dictionary, Name

from hotfolder.colour.conversions import Conversions
from hotfolder.drawing.shadings.shadings import MESH_OF_FUNCTION, approximations, viewed_shading
from hotfolder.drawing.spaces.space import PaintSpace
from hotfolder.drawing.spaces.view import View
from hotfolder.errors import NotDrawnError
from tests.drawing.spaces.view_sheets import (
    BLACK,
    CMY,
    SIDE,
    Pixels,
    Sheet,
    grid_frame,
    press_conversions,
    tint,
)

Make = Callable[[pikepdf.Pdf], pikepdf.Object]
BLACK_AND_SPOT = View.of_inks(("Black", "Spot"))
VIEWS = (CMY, BLACK_AND_SPOT, View.screen(), View.luminosity())
ENDS = {
    "DeviceRGB": ((1.0, 0.0, 0.0), (0.0, 0.2, 1.0)),
    "DeviceGray": ((1.0,), (0.2,)),
    "DeviceCMYK": ((1.0, 0.0, 0.3, 0.1), (0.0, 0.2, 1.0, 0.8)),
    "Lab": ((80.0, -20.0, 30.0), (30.0, 40.0, -30.0)),
    "Separation": ((0.0,), (1.0,)),
}


@pytest.fixture(scope="module")
def conversions() -> Conversions:
    return press_conversions()


def space_object(pdf: pikepdf.Pdf, family: str) -> pikepdf.Object:
    match family:
        case "Lab":
            return Array([Name.Lab, Dictionary(WhitePoint=[0.9642, 1, 0.8249], Range=[-100, 100, -100, 100])])
        case "Separation":
            return Array([Name.Separation, Name.Spot, Name.DeviceCMYK, tint(pdf, [0, 1, 1, 0])])
        case _:
            return Name(f"/{family}")


def line(pdf: pikepdf.Pdf, family: str, kind: int = 2, **entries: object) -> pikepdf.Object:
    """A gradient over the whole sheet, from left to right or from the middle outwards."""
    start, end = ENDS[family]
    coordinates = [0, 0, SIDE, 0] if kind == 2 else [SIDE / 2, SIDE / 2, 0, SIDE / 2, SIDE / 2, SIDE / 2]
    made = Dictionary(
        ShadingType=kind,
        ColorSpace=space_object(pdf, family),
        Coords=coordinates,
        Function=Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=list(start), C1=list(end)),
        Extend=[True, True],
    )
    for key, value in entries.items():
        made[f"/{key}"] = value
    return pdf.make_indirect(made)


def drawn(conversions: Conversions | None, make: Make, view: View) -> tuple[Pixels, PaintSpace]:
    sheet = Sheet(conversions)
    shading = make(sheet.pdf)
    space = sheet.spaces.read(shading.ColorSpace)
    name = sheet.name("Shading", viewed_shading(shading, space, view))
    sheet.write(f"{name} sh")
    return sheet.drawn(), space


def between(family: str, shares: NDArray[np.float64]) -> NDArray[np.float64]:
    start, end = np.array(ENDS[family])
    values: NDArray[np.float64] = start + shares.reshape(-1, 1) * (end - start)
    return values


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("family", ENDS)
def test_a_gradient_lays_the_inks_of_its_colours(conversions: Conversions, family: str, view: View) -> None:
    pixels, space = drawn(conversions, lambda pdf: line(pdf, family), view)
    # The renderer looks colours up at the left edge of each pixel, in steps of 1/256 of the whole.
    expected = space.shown_values(between(family, np.arange(SIDE) / SIDE), view) * 255
    next_step = space.shown_values(between(family, np.arange(SIDE) / SIDE + 1 / 256), view) * 255
    tolerance = 1 + np.abs(next_step - expected)
    assert (np.abs(pixels[SIDE // 2] - expected) <= tolerance).all()


def test_both_ends_of_a_gradient_are_exact() -> None:
    # Beyond its end a gradient to white leaves no veil: the renderer alone never asks for the end.
    def make(pdf: pikepdf.Pdf) -> pikepdf.Object:
        made = line(pdf, "Separation", Coords=Array([10, 0, 30, 0]))
        made.Function = Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=[1], C1=[0])
        return made

    pixels, _ = drawn(None, make, View.of_inks(("Spot",)))
    assert set(pixels[20, :9, 0]) == {0}
    assert set(pixels[20, 31:, 0]) == {255}


def test_a_radial_gradient_lays_the_inks_of_its_colours(conversions: Conversions) -> None:
    pixels, space = drawn(conversions, lambda pdf: line(pdf, "DeviceRGB", 3), CMY)
    for x in (20, 25, 30, 35):
        expected = space.shown_values(between("DeviceRGB", np.array([(x - 20) / 20])), CMY)[0] * 255
        assert np.abs(pixels[20, x] - expected).max() < 6  # half a pixel of a gradient of 20


def test_a_stitched_gradient_keeps_its_edge(conversions: Conversions) -> None:
    def make(pdf: pikepdf.Pdf) -> pikepdf.Object:
        made = line(pdf, "DeviceRGB")
        parts = [
            Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=colour, C1=colour)
            for colour in ([1, 1, 1], [1, 0, 0])
        ]
        made.Function = Dictionary(
            FunctionType=3, Domain=[0, 1], Functions=Array(parts), Bounds=[0.5], Encode=[0, 1, 0, 1]
        )
        return made

    pixels, space = drawn(conversions, make, CMY)
    red = np.array(space.shown((1, 0, 0), CMY)) * 255
    assert np.abs(pixels[20, 22] - red).max() <= 1
    assert np.abs(pixels[20, 17].astype(int) - 255).max() <= 1


def test_a_shading_over_a_plane_lays_the_inks_of_its_colours(conversions: Conversions) -> None:
    def make(pdf: pikepdf.Pdf) -> pikepdf.Object:
        function = pdf.make_stream(b"{ 2 copy mul }")
        function["/FunctionType"] = 4
        function["/Domain"], function["/Range"] = Array([0, 1] * 2), Array([0, 1] * 3)
        return pdf.make_indirect(
            Dictionary(
                ShadingType=1, ColorSpace=Name.DeviceRGB, Function=function, Matrix=[SIDE, 0, 0, SIDE, 0, 0]
            )
        )

    pixels, space = drawn(conversions, make, CMY)
    down, across = np.mgrid[0:SIDE, 0:SIDE] / SIDE
    up = 1 - down
    colours = np.stack([across, up, across * up], axis=-1).reshape(-1, 3)
    expected = space.shown_values(colours, CMY).reshape(SIDE, SIDE, 3) * 255
    assert np.abs(pixels - expected).mean() < 1
    assert np.abs(pixels - expected).max() < 4


CORNERS = ((255, 0, 0), (0, 255, 0), (0, 0, 255))


def triangle(pdf: pikepdf.Pdf, bits: int = 8) -> pikepdf.Object:
    """A triangle over half the sheet with a colour at each corner (8.7.4.5.5)."""
    records = b""
    code = {8: "B", 16: "H"}[bits]
    for (x, y), colour in zip(((0, 0), (65535, 0), (0, 65535)), CORNERS, strict=True):
        parts = [part * 257 if bits == 16 else part for part in colour]
        records += struct.pack(f">BHH3{code}", 0, x, y, *parts)
    made = pdf.make_stream(records)
    for key, value in (
        ("ShadingType", 4), ("ColorSpace", Name.DeviceRGB), ("BitsPerCoordinate", 16),
        ("BitsPerComponent", bits), ("BitsPerFlag", 8),
        ("Decode", Array([0, SIDE, 0, SIDE, 0, 1, 0, 1, 0, 1])),
    ):  # fmt: skip
        made[f"/{key}"] = value
    return made


def patch(pdf: pikepdf.Pdf, kind: int) -> pikepdf.Object:
    """A patch over the whole sheet (8.7.4.5.7 and 8.7.4.5.8), green all over."""
    edge = [0, 21845, 43690, 65535]
    rim = [(0, at) for at in edge] + [(at, 65535) for at in edge[1:]]
    rim += [(65535, at) for at in edge[2::-1]] + [(at, 0) for at in edge[2:0:-1]]
    inner = [(21845, 21845), (21845, 43690), (43690, 43690), (43690, 21845)] if kind == 7 else []
    data = b"\0" + b"".join(struct.pack(">HH", *point) for point in rim + inner) + bytes((0, 255, 0)) * 4
    made = pdf.make_stream(data)
    for key, value in (
        ("ShadingType", kind), ("ColorSpace", Name.DeviceRGB), ("BitsPerCoordinate", 16),
        ("BitsPerComponent", 8), ("BitsPerFlag", 8), ("Decode", Array([0, SIDE, 0, SIDE, 0, 1, 0, 1, 0, 1])),
    ):  # fmt: skip
        made[f"/{key}"] = value
    return made


def lattice(pdf: pikepdf.Pdf) -> pikepdf.Object:
    """Two rows of two vertices (8.7.4.5.6), green all over; bits that fill no whole bytes."""
    rows = []
    for y in (0, 1):
        for x in (0, 1):
            bits = f"{x * 4095:012b}{y * 4095:012b}" + f"{0:04b}{15:04b}{0:04b}"
            rows.append(int(bits.ljust(40, "0"), 2).to_bytes(5, "big"))
    made = pdf.make_stream(b"".join(rows))
    for key, value in (
        ("ShadingType", 5), ("ColorSpace", Name.DeviceRGB), ("BitsPerCoordinate", 12),
        ("BitsPerComponent", 4), ("VerticesPerRow", 2),
        ("Decode", Array([0, SIDE, 0, SIDE, 0, 1, 0, 1, 0, 1])),
    ):  # fmt: skip
        made[f"/{key}"] = value
    return made


@pytest.mark.parametrize("bits", [8, 16])
def test_the_corners_of_a_triangle_have_their_inks(conversions: Conversions, bits: int) -> None:
    pixels, space = drawn(conversions, lambda pdf: triangle(pdf, bits), CMY)
    for (y, x), colour in zip(((38, 1), (38, 37), (2, 1)), CORNERS, strict=True):
        expected = np.array(space.shown([part / 255 for part in colour], CMY)) * 255
        assert np.abs(pixels[y, x] - expected).max() < 28  # some four pixels from the corner, of forty
    assert pixels[5, 35].tolist() == [255, 255, 255]


@pytest.mark.parametrize("make", [lambda pdf: patch(pdf, 6), lambda pdf: patch(pdf, 7), lattice])
def test_an_even_mesh_has_its_ink_everywhere(conversions: Conversions, make: Make) -> None:
    pixels, space = drawn(conversions, make, CMY)
    expected = np.array(space.shown((0, 1, 0), CMY)) * 255
    assert np.abs(pixels[5:35, 5:35] - expected).max() <= 1


def test_a_mesh_of_named_inks_stays_as_it_is(conversions: Conversions) -> None:
    def make(pdf: pikepdf.Pdf) -> pikepdf.Object:
        made = triangle(pdf)
        made.ColorSpace = Array(
            [Name.DeviceN, Array([Name.Cyan, Name.Spot, Name.Black]), Name.DeviceCMYK,
             Dictionary(FunctionType=2, N=1, Domain=[0, 1])]
        )  # fmt: skip
        return made

    pixels, _ = drawn(conversions, make, View.of_inks(("Cyan", "Spot", "Black")))
    assert np.abs(pixels[38, 1].astype(int) - [0, 255, 255]).max() < 28


def test_a_background_is_converted_too(conversions: Conversions) -> None:
    sheet = Sheet(conversions)
    shading = line(sheet.pdf, "DeviceRGB", Background=Array([1, 0, 0]))
    space = sheet.spaces.read(shading.ColorSpace)
    viewed = viewed_shading(shading, space, BLACK)
    assert viewed.ColorSpace == Name.DeviceRGB
    expected = space.shown((1, 0, 0), BLACK)
    assert [float(each) for each in viewed.Background] == pytest.approx(list(expected), abs=1e-5)


def test_what_is_drawn_only_nearly_is_said() -> None:
    pdf = pikepdf.new()
    mesh = triangle(pdf)
    assert approximations(mesh) == ()
    mesh["/Function"] = Dictionary(FunctionType=2, N=1, Domain=[0, 1])
    assert approximations(mesh) == (MESH_OF_FUNCTION,)
    assert approximations(line(pdf, "DeviceRGB")) == ()


@pytest.mark.parametrize(
    "broken",
    [{"Function": None}, {"Function": Dictionary(FunctionType=2, N=1, Domain=[0, 1])}, {"ShadingType": 4}],
)
def test_what_cannot_be_read_is_not_drawn(conversions: Conversions, broken: dict[str, object]) -> None:
    sheet = Sheet(conversions)
    shading = line(sheet.pdf, "DeviceRGB")
    for key, value in broken.items():
        if value is None:
            del shading[f"/{key}"]
        else:
            shading[f"/{key}"] = value
    with pytest.raises(NotDrawnError):
        viewed_shading(shading, sheet.spaces.device("DeviceRGB"), CMY)


# Where a gradient ends (ISO 32000-2, 8.7.4.5.3 and 8.7.4.5.4: what Extend does not continue is not painted)

LONG = 1000  # pixels: a place of the renderer's table is four of them
MIDDLE = 20


def painted_from_to(kind: int, coordinates: list[float], extend: list[bool]) -> tuple[int, int]:
    """The first pixel that a gradient paints along the middle of a long sheet, and the first behind it."""
    frame = grid_frame(3, LONG, 2 * MIDDLE)
    sheet = Sheet(None, frame)
    made = line(sheet.pdf, "Separation", kind, Coords=Array(coordinates), Extend=extend)
    made.Function = Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=[0.5], C1=[1])
    name = sheet.name("Shading", viewed_shading(made, sheet.spaces.read(made.ColorSpace), BLACK_AND_SPOT))
    sheet.write(f"q {frame.pixel_pt} 0 0 {frame.pixel_pt} 0 0 cm {name} sh Q")
    row = sheet.drawn()[MIDDLE, :, 1] < 255
    first = int(row.argmax())
    return first, first + int(row[first:].argmin() or LONG - first)


@pytest.mark.parametrize(
    ("extend", "expected"),
    [
        ([False, False], (100, 900)),
        ([True, False], (0, 900)),
        ([False, True], (100, LONG)),
        ([True, True], (0, LONG)),
    ],
)
@pytest.mark.parametrize("turned", [False, True])
def test_an_axial_gradient_ends_with_its_axis(
    extend: list[bool],
    expected: tuple[int, int],
    turned: bool,  # noqa: FBT001 - a table
) -> None:
    axis = [100.0, MIDDLE, 900.0, MIDDLE]
    if turned:
        axis, extend = [*axis[2:], *axis[:2]], extend[::-1]
    assert painted_from_to(2, axis, extend) == pytest.approx(expected, abs=1)


@pytest.mark.parametrize(
    ("circles", "expected"),
    [
        # One within the other, growing and shrinking: along the row from the hole on to the rim.
        ([0, MIDDLE, 100, 0, MIDDLE, 900], (100, 900)),
        ([0, MIDDLE, 900, 0, MIDDLE, 100], (100, 900)),
        ([0, MIDDLE, 0, 0, MIDDLE, 900], (0, 900)),
        # Beside each other, of one size and of two.
        ([200, MIDDLE, 50, 800, MIDDLE, 50], (150, 850)),
        ([800, MIDDLE, 50, 200, MIDDLE, 50], (150, 850)),
        ([200, MIDDLE, 20, 800, MIDDLE, 60], (180, 860)),
        ([800, MIDDLE, 60, 200, MIDDLE, 20], (180, 860)),
    ],
)
def test_a_radial_gradient_ends_with_its_circles(circles: list[float], expected: tuple[int, int]) -> None:
    assert painted_from_to(3, circles, [False, False]) == pytest.approx(expected, abs=1)
