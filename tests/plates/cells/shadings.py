"""Gradients of each type, at places where the standard's formulas give the ink (ISO 32000-2, 8.7.4.5)."""

import struct
from typing import Final

from pikepdf import Array, Dictionary, Name

from tests.plates.cells.sheet import MM, Page, Sample, Topic, cmyk, device_n, separation

_TOPIC = Topic()
KINDS = _TOPIC.kinds

_NEAR: Final = 0.5  # half the side of the window around a place, in millimetres


def _at(x: float, y: float, inks: dict[str, float]) -> Sample:
    return Sample(inks, (x - _NEAR, y - _NEAR, x + _NEAR, y + _NEAR))


def _from_to(first: tuple[float, ...], last: tuple[float, ...]) -> Dictionary:
    return Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array(first), C1=Array(last), N=1)


_SLOPE: Final = ((0, 0.8, 0.2, 0), (1, 0, 0.2, 0.4))


def _on_slope(t: float) -> dict[str, float]:
    return cmyk(*(a + t * (b - a) for a, b in zip(*_SLOPE, strict=True)))


@_TOPIC.cell("8.7.4.5.3")
def axial(page: Page) -> tuple[Sample, ...]:
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([0, 0, 24, 0]), Function=_from_to(*_SLOPE)
    )
    page.draw(f"{page.named('Shading', shading)} sh")
    return tuple(_at(x, 12, _on_slope(x / 24)) for x in (3, 12, 21))


@_TOPIC.cell("8.7.4.5.3")
def axial_extended_one_way(page: Page) -> tuple[Sample, ...]:
    """Before its beginning it stays as there; behind its end there is nothing."""
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([8, 0, 16, 0]), Function=_from_to(*_SLOPE),
        Extend=Array([True, False]),
    )  # fmt: skip
    page.draw(f"{page.named('Shading', shading)} sh")
    return _at(4, 12, _on_slope(0)), _at(12, 12, _on_slope(0.5)), _at(20, 12, {})


@_TOPIC.cell("8.7.4.5.3")
def axial_in_an_ink(page: Page) -> tuple[Sample, ...]:
    shading = Dictionary(
        ShadingType=2,
        ColorSpace=separation("Lantern"),
        Coords=Array([0, 0, 24, 0]),
        Function=_from_to((0,), (1,)),
    )
    page.draw(f"{page.named('Shading', shading)} sh")
    return tuple(_at(x, 12, {"Lantern": x / 24}) for x in (3, 12, 21))


@_TOPIC.cell("8.7.4.5.3")
def axial_in_two_inks(page: Page) -> tuple[Sample, ...]:
    shading = Dictionary(
        ShadingType=2, ColorSpace=device_n(page.pdf, "Lantern", "Black"), Coords=Array([0, 0, 24, 0]),
        Function=_from_to((1, 0), (0, 0.5)),
    )  # fmt: skip
    page.draw(f"{page.named('Shading', shading)} sh")
    return tuple(_at(x, 12, {"Lantern": 1 - x / 24, "Black": x / 48}) for x in (3, 12, 21))


@_TOPIC.cell("7.10.4")
def axial_of_two_parts(page: Page) -> tuple[Sample, ...]:
    """A stitching function, the second part turned round."""
    function = Dictionary(
        FunctionType=3, Domain=Array([0, 1]), Bounds=Array([0.25]), Encode=Array([0, 1, 1, 0]),
        Functions=Array([_from_to((0, 0, 0, 0), (0, 1, 0, 0)), _from_to((0, 0, 1, 0), (0, 0, 0, 1))]),
    )  # fmt: skip
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([0, 0, 24, 0]), Function=function
    )
    page.draw(f"{page.named('Shading', shading)} sh")
    return _at(3, 12, cmyk(magenta=0.5)), _at(15, 12, cmyk(yellow=0.5, black=0.5))


@_TOPIC.cell("7.10.2")
def axial_from_a_table(page: Page) -> tuple[Sample, ...]:
    """A sampled function of three places: between 0 and 0.8 cyan, then back to 0.4."""
    table = page.stream(
        bytes([0, 0, 0, 0, 204, 0, 0, 0, 102, 0, 0, 0]), FunctionType=0, Domain=Array([0, 1]),
        Range=Array([0, 1] * 4), Size=Array([3]), BitsPerSample=8,
    )  # fmt: skip
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([0, 0, 24, 0]), Function=table
    )
    page.draw(f"{page.named('Shading', shading)} sh")
    return _at(6, 12, cmyk(0.4)), _at(18, 12, cmyk(0.6))


@_TOPIC.cell("8.7.4.5.3")
def axial_of_a_function_for_each_component(page: Page) -> tuple[Sample, ...]:
    ramps = Array(
        [_from_to((0,), (1,)), _from_to((0.8,), (0,)), _from_to((0.2,), (0.2,)), _from_to((0,), (0.4,))]
    )
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([0, 0, 24, 0]), Function=ramps
    )
    page.draw(f"{page.named('Shading', shading)} sh")
    return tuple(_at(x, 12, _on_slope(x / 24)) for x in (3, 12, 21))


@_TOPIC.cell("8.7.4.5.4")
def radial(page: Page) -> tuple[Sample, ...]:
    """Between a point and a circle around it: t is the distance by the radius."""
    shading = Dictionary(
        ShadingType=3,
        ColorSpace=Name.DeviceCMYK,
        Coords=Array([12, 12, 0, 12, 12, 12]),
        Function=_from_to(*_SLOPE),
    )
    page.draw(f"{page.named('Shading', shading)} sh")
    return _at(15, 12, _on_slope(3 / 12)), _at(12, 3, _on_slope(9 / 12)), _at(1, 1, {})


@_TOPIC.cell("8.7.4.5.4")
def radial_in_an_ink_off_centre(page: Page) -> tuple[Sample, ...]:
    """From (6, 12), radius 0, to (12, 12), radius 12, extended: on the axis to the right x = 6 + 18 t."""
    shading = Dictionary(
        ShadingType=3, ColorSpace=separation("Lantern"), Coords=Array([6, 12, 0, 12, 12, 12]),
        Function=_from_to((0.2,), (1,)), Extend=Array([True, True]),
    )  # fmt: skip
    page.draw(f"{page.named('Shading', shading)} sh")
    return _at(15, 12, {"Lantern": 0.2 + 0.8 * 0.5}), _at(1, 1, {"Lantern": 1})


@_TOPIC.cell("8.7.4.5.2")
def by_function(page: Page) -> tuple[Sample, ...]:
    """Cyan grows to the right, black upwards."""
    function = page.stream(
        b"{ 0 0 3 2 roll }", FunctionType=4, Domain=Array([0, 1, 0, 1]), Range=Array([0, 1] * 4)
    )
    shading = Dictionary(
        ShadingType=1, ColorSpace=Name.DeviceCMYK, Matrix=Array([24, 0, 0, 24, 0, 0]), Function=function
    )
    page.draw(f"{page.named('Shading', shading)} sh")
    return tuple(_at(x, y, cmyk(x / 24, 0, 0, y / 24)) for x, y in ((6, 6), (18, 6), (12, 21)))


def _mesh(page: Page, kind: int, data: bytes, colours: object, components: int, **entries: object) -> str:
    """A mesh over the page: places of 16 bits, colours of 8."""
    mesh = page.stream(
        data, ShadingType=kind, ColorSpace=colours, BitsPerCoordinate=16, BitsPerComponent=8,
        Decode=Array([0, 24, 0, 24, *([0, 1] * components)]), **entries,
    )  # fmt: skip
    return f"{page.named('Shading', mesh)} sh"


def _place(x: float, y: float) -> bytes:
    return struct.pack(">HH", round(x / 24 * 65535), round(y / 24 * 65535))


_LEFT, _RIGHT = bytes([0, 204, 51, 0]), bytes([255, 0, 51, 102])
_ON_MESH: Final = ((3, 6), (12, 12), (21, 18))


@_TOPIC.cell("8.7.4.5.5")
def mesh_of_triangles(page: Page) -> tuple[Sample, ...]:
    corners = ((0, 0, _LEFT, 0), (24, 0, _RIGHT, 0), (0, 24, _LEFT, 0), (24, 24, _RIGHT, 1))
    data = b"".join(bytes([flag]) + _place(x, y) + colour for x, y, colour, flag in corners)
    page.draw(_mesh(page, 4, data, Name.DeviceCMYK, 4, BitsPerFlag=8))
    return tuple(_at(x, y, _on_slope(x / 24)) for x, y in _ON_MESH)


@_TOPIC.cell("8.7.4.5.6")
def mesh_of_rows(page: Page) -> tuple[Sample, ...]:
    data = b"".join(_place(x, y) + colour for y in (0, 24) for x, colour in ((0, _LEFT), (24, _RIGHT)))
    page.draw(_mesh(page, 5, data, Name.DeviceCMYK, 4, VerticesPerRow=2))
    return tuple(_at(x, y, _on_slope(x / 24)) for x, y in _ON_MESH)


@_TOPIC.cell("8.7.4.5.5")
def mesh_of_triangles_in_an_ink(page: Page) -> tuple[Sample, ...]:
    corners = ((0, 0, 0, 0), (24, 0, 255, 0), (0, 24, 0, 0), (24, 24, 255, 1))
    data = b"".join(bytes([flag]) + _place(x, y) + bytes([ink]) for x, y, ink, flag in corners)
    page.draw(_mesh(page, 4, data, separation("Lantern"), 1, BitsPerFlag=8))
    return tuple(_at(x, y, {"Lantern": x / 24}) for x, y in _ON_MESH)


# The outline of a square patch from its bottom left corner upwards, and its inner points (8.7.4.5.8).
_OUTLINE: Final = (
    (0, 0), (0, 8), (0, 16), (0, 24), (8, 24), (16, 24), (24, 24), (24, 16), (24, 8), (24, 0),
    (16, 0), (8, 0),
)  # fmt: skip
_INNER: Final = ((8, 8), (8, 16), (16, 16), (16, 8))
_CORNERS: Final = _LEFT + _LEFT + _RIGHT + _RIGHT


@_TOPIC.cell("8.7.4.5.7")
def Coons_patch(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - a name
    data = bytes([0]) + b"".join(_place(x, y) for x, y in _OUTLINE) + _CORNERS
    page.draw(_mesh(page, 6, data, Name.DeviceCMYK, 4, BitsPerFlag=8))
    return tuple(_at(x, y, _on_slope(x / 24)) for x, y in _ON_MESH)


@_TOPIC.cell("8.7.4.5.8")
def tensor_patch(page: Page) -> tuple[Sample, ...]:
    data = bytes([0]) + b"".join(_place(x, y) for x, y in (*_OUTLINE, *_INNER)) + _CORNERS
    page.draw(_mesh(page, 7, data, Name.DeviceCMYK, 4, BitsPerFlag=8))
    return tuple(_at(x, y, _on_slope(x / 24)) for x, y in _ON_MESH)


@_TOPIC.cell("8.7.4.3")
def gradient_as_a_pattern_with_a_ground(page: Page) -> tuple[Sample, ...]:
    """A pattern's Background fills what its gradient does not reach; it lies in the page's own space."""
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([8, 0, 16, 0]), Function=_from_to(*_SLOPE),
        Background=Array([0, 0, 0.6, 0]),
    )  # fmt: skip
    matrix = Array([MM, 0, 0, MM, 0, 0])
    pattern = page.named("Pattern", Dictionary(PatternType=2, Shading=shading, Matrix=matrix))
    page.fill(f"/Pattern cs {pattern} scn")
    return _at(4, 12, cmyk(yellow=0.6)), _at(12, 12, _on_slope(0.5)), _at(20, 12, cmyk(yellow=0.6))


@_TOPIC.cell("8.7.4.3")
def gradient_as_a_strokes_pattern(page: Page) -> tuple[Sample, ...]:
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([0, 0, 24, 0]), Function=_from_to(*_SLOPE)
    )
    matrix = Array([MM, 0, 0, MM, 0, 0])
    pattern = page.named("Pattern", Dictionary(PatternType=2, Shading=shading, Matrix=matrix))
    page.draw(f"/Pattern CS {pattern} SCN 16 w 0 12 m 24 12 l S")
    return tuple(_at(x, 12, _on_slope(x / 24)) for x in (3, 12, 21))
