"""Each colour space, as a fill, a stroke, an image of 8 bits and a gradient (ISO 32000-2, 8.6)."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from pikepdf import Array, Dictionary, Name, Object, String

from tests.plates.cells.reference_colours import from_lab, from_profile, from_screen, from_xyz
from tests.plates.cells.sheet import Inks, Page, Sample, Topic, cmyk, device_n, everywhere, separation

_TOPIC = Topic()
KINDS = _TOPIC.kinds

# Profiles that come with Ghostscript.
_PROFILES: Final = Path("/usr/share/color/icc/ghostscript")
_WIDE_RGB: Final = _PROFILES / "a98.icc"


@dataclass(frozen=True, slots=True)
class Paint:
    """A colour in a space, and the inks that it is to lay.

    pixel: the colour as an image of 8 bits has it. gradient: whether gradients may have the space.
    """

    space: Object
    components: tuple[float, ...]
    inks: Inks
    pixel: bytes
    gradient: bool = True


def _plain(space: Object, components: tuple[float, ...], inks: Inks) -> Paint:
    """A colour whose components run from 0 to 1, all of them fifths, which are whole bytes."""
    return Paint(space, components, inks, bytes(round(255 * value) for value in components))


def _grey(_: Page) -> Paint:
    return _plain(Name.DeviceGray, (0.4,), cmyk(black=0.6))


def _cmyk(_: Page) -> Paint:
    return _plain(Name.DeviceCMYK, (0.2, 0.4, 0.6, 0.2), cmyk(0.2, 0.4, 0.6, 0.2))


def _rgb(_: Page) -> Paint:
    return _plain(Name.DeviceRGB, (0.8, 0.6, 0.4), from_screen(0.8, 0.6, 0.4))


def _icc_grey(page: Page) -> Paint:
    """A grey of one component is the black plate's, whatever its curve: common practice in print."""
    profile = page.stream((_PROFILES / "sgray.icc").read_bytes(), N=1)
    return _plain(Array([Name.ICCBased, profile]), (0.4,), cmyk(black=0.6))


def _icc_rgb(page: Page) -> Paint:
    profile = page.stream(_WIDE_RGB.read_bytes(), N=3)
    colour = (0.8, 0.6, 0.4)
    return _plain(Array([Name.ICCBased, profile]), colour, from_profile(_WIDE_RGB, *colour))


def _icc_cmyk(page: Page) -> Paint:
    """Tagged CMYK goes to the plates as delivered: common practice where a job is separated already."""
    profile = page.stream((_PROFILES / "default_cmyk.icc").read_bytes(), N=4)
    return _plain(Array([Name.ICCBased, profile]), (0.2, 0.4, 0.6, 0.2), cmyk(0.2, 0.4, 0.6, 0.2))


def _cal_rgb(_: Page) -> Paint:
    """8.6.5.3: each component to its gamma, then through the matrix to XYZ; its white is D50 here."""
    matrix = (0.4361, 0.2225, 0.0139, 0.3851, 0.7169, 0.0971, 0.1431, 0.0606, 0.7139)
    space = Array(
        [
            Name.CalRGB,
            Dictionary(
                WhitePoint=Array([0.9642, 1, 0.8249]), Gamma=Array([2.2, 2.2, 2.2]), Matrix=Array(matrix)
            ),
        ]
    )
    a, b, c = (value**2.2 for value in (0.8, 0.6, 0.4))
    xyz = (a * matrix[axis] + b * matrix[3 + axis] + c * matrix[6 + axis] for axis in range(3))
    return _plain(space, (0.8, 0.6, 0.4), from_xyz(*xyz))


def _lab(_: Page) -> Paint:
    """8.6.5.4; an image's bytes run over 0 to 100 and over the ranges of a and b."""
    space = Array(
        [Name.Lab, Dictionary(WhitePoint=Array([0.9642, 1, 0.8249]), Range=Array([-100, 100, -100, 100]))]
    )
    return Paint(space, (60, 20, -20), from_lab(60, 20, -20), bytes([153, 153, 102]))


def _indexed(_: Page) -> Paint:
    space = Array(
        [Name.Indexed, Name.DeviceCMYK, 2, String(bytes([0, 0, 0, 0, 51, 102, 153, 51, 9, 9, 9, 9]))]
    )
    return Paint(space, (1,), cmyk(0.2, 0.4, 0.6, 0.2), bytes([1]), gradient=False)


def _indexed_screen(_: Page) -> Paint:
    space = Array([Name.Indexed, Name.DeviceRGB, 1, String(bytes([0, 0, 0, 204, 153, 102]))])
    return Paint(space, (1,), from_screen(0.8, 0.6, 0.4), bytes([1]), gradient=False)


def _indexed_spot(_: Page) -> Paint:
    space = Array([Name.Indexed, separation("Lantern"), 1, String(bytes([0, 153]))])
    return Paint(space, (1,), {"Lantern": 0.6}, bytes([1]), gradient=False)


def _spot(_: Page) -> Paint:
    return _plain(separation("Lantern"), (0.6,), {"Lantern": 0.6})


def _spot_over_screen_colour(_: Page) -> Paint:
    """What stands in for the ink on a screen lays nothing on a press that has it."""
    function = Dictionary(
        FunctionType=2, Domain=Array([0, 1]), C0=Array([1, 1, 1]), C1=Array([1, 0.2, 0]), N=1
    )
    space = Array([Name.Separation, Name("/Moss Green"), Name.DeviceRGB, function])
    return _plain(space, (0.8,), {"Moss Green": 0.8})


def _process_by_name(_: Page) -> Paint:
    return _plain(separation("Magenta", 0, 1, 0, 0), (0.6,), cmyk(magenta=0.6))


def _every_plate(_: Page) -> Paint:
    return _plain(separation("All", 1, 1, 1, 1), (0.6,), cmyk(0.6, 0.6, 0.6, 0.6))


def _no_plate(_: Page) -> Paint:
    return _plain(separation("None", 1, 1, 1, 1), (0.6,), {})


def _two_inks(page: Page) -> Paint:
    return _plain(device_n(page.pdf, "Lantern", "Black"), (0.6, 0.2), {"Lantern": 0.6, "Black": 0.2})


def _process_and_spot(page: Page) -> Paint:
    space = device_n(page.pdf, "Cyan", "Yellow", "Moss", "None")
    return _plain(space, (0.2, 0.4, 0.6, 0.8), {"Cyan": 0.2, "Yellow": 0.4, "Moss": 0.6})


def _n_channel(page: Page) -> Paint:
    colorants = Dictionary(Moss=separation("Moss"))
    process = Dictionary(
        ColorSpace=Name.DeviceCMYK, Components=Array([Name.Cyan, Name.Magenta, Name.Yellow, Name.Black])
    )
    space = device_n(
        page.pdf, "Cyan", "Black", "Moss", Subtype=Name.NChannel, Colorants=colorants, Process=process
    )
    return _plain(space, (0.2, 0.4, 0.6), {"Cyan": 0.2, "Black": 0.4, "Moss": 0.6})


_PAINTS: Final[dict[str, tuple[str, Callable[[Page], Paint]]]] = {
    "DeviceGray": ("8.6.4.2", _grey),
    "DeviceCMYK": ("8.6.4.4", _cmyk),
    "DeviceRGB": ("8.6.4.3", _rgb),
    "ICCBased grey": ("8.6.5.5", _icc_grey),
    "ICCBased RGB": ("8.6.5.5", _icc_rgb),
    "ICCBased CMYK": ("8.6.5.5", _icc_cmyk),
    "CalRGB": ("8.6.5.3", _cal_rgb),
    "Lab": ("8.6.5.4", _lab),
    "Indexed CMYK": ("8.6.6.3", _indexed),
    "Indexed RGB": ("8.6.6.3", _indexed_screen),
    "Indexed spot": ("8.6.6.3", _indexed_spot),
    "Separation": ("8.6.6.4", _spot),
    "Separation over RGB": ("8.6.6.4", _spot_over_screen_colour),
    "Separation Magenta": ("8.6.6.4", _process_by_name),
    "Separation All": ("8.6.6.4", _every_plate),
    "Separation None": ("8.6.6.4", _no_plate),
    "DeviceN of spot and black": ("8.6.6.5", _two_inks),
    "DeviceN of four": ("8.6.6.5", _process_and_spot),
    "NChannel": ("8.6.6.5", _n_channel),
}


def _operands(paint: Paint) -> str:
    return " ".join(f"{value:g}" for value in paint.components)


def _filled(page: Page, paint: Paint) -> None:
    page.fill(f"{page.space(paint.space)} cs {_operands(paint)} scn")


def _stroked(page: Page, paint: Paint) -> None:
    page.draw(f"{page.space(paint.space)} CS {_operands(paint)} SCN 16 w 0 12 m 24 12 l S")


def _pictured(page: Page, paint: Paint) -> None:
    page.draw(page.show(page.image(4, 4, paint.pixel * 16, ColorSpace=paint.space), (0, 0, 24, 24)))


def _shaded(page: Page, paint: Paint) -> None:
    ends = Array(paint.components)
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=ends, C1=ends, N=1)
    shading = Dictionary(
        ShadingType=2, ColorSpace=paint.space, Coords=Array([0, 0, 24, 0]), Function=function
    )
    page.draw(f"{page.named('Shading', shading)} sh")


_WAYS: Final[dict[str, Callable[[Page, Paint], None]]] = {
    "fill": _filled,
    "stroke": _stroked,
    "image": _pictured,
    "gradient": _shaded,
}


def _cell_of(
    make: Callable[[Page], Paint], draw: Callable[[Page, Paint], None]
) -> Callable[[Page], tuple[Sample, ...]]:
    def build(page: Page) -> tuple[Sample, ...]:
        paint = make(page)
        draw(page, paint)
        return everywhere(paint.inks)

    return build


def _has_gradients(name: str) -> bool:
    return not name.startswith("Indexed")  # 8.7.4.5: not allowed there


for _name, (_clause, _make) in _PAINTS.items():
    for _way, _draw in _WAYS.items():
        if _way != "gradient" or _has_gradients(_name):
            _TOPIC.add(f"{_name}: {_way}", _clause, _cell_of(_make, _draw))


@_TOPIC.cell("8.6.5.2")
def CalGray(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    """Its white by its grey, a colour like any other: not the black plate's alone."""
    space = Array([Name.CalGray, Dictionary(WhitePoint=Array([0.9642, 1, 0.8249]), Gamma=2.2)])
    page.fill(f"{page.space(space)} cs 0.4 sc")
    return everywhere(from_xyz(*(0.4**2.2 * part for part in (0.9642, 1, 0.8249))))


@_TOPIC.cell("8.6.5.6")
def default_space_for_RGB(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    profile = page.stream(_WIDE_RGB.read_bytes(), N=3)
    page.space(Name.DeviceRGB)
    page.page.obj.Resources.ColorSpace.DefaultRGB = Array([Name.ICCBased, profile])
    page.fill("0.8 0.6 0.4 rg")
    return everywhere(from_profile(_WIDE_RGB, 0.8, 0.6, 0.4))


@_TOPIC.cell("8.6.8")
def the_initial_colour_of_a_space(page: Page) -> tuple[Sample, ...]:
    """Black in CMYK, full strength of an ink, the first of a palette."""
    page.fill(f"{page.space(Name.DeviceCMYK)} cs", (0, 0, 24, 8))
    page.fill(f"{page.space(separation('Lantern'))} cs", (0, 8, 24, 16))
    palette = Array([Name.Indexed, Name.DeviceCMYK, 0, String(bytes([51, 102, 153, 51]))])
    page.fill(f"{page.space(palette)} cs", (0, 16, 24, 24))
    return (
        Sample(cmyk(black=1), (2, 2, 22, 6)),
        Sample({"Lantern": 1}, (2, 10, 22, 14)),
        Sample(cmyk(0.2, 0.4, 0.6, 0.2), (2, 18, 22, 22)),
    )


@_TOPIC.cell("8.6.8")
def the_colour_that_a_page_begins_with(page: Page) -> tuple[Sample, ...]:
    page.fill("")
    return everywhere(cmyk(black=1))


@_TOPIC.cell("8.6.6.4")
def a_spot_ink_beneath_white(page: Page) -> tuple[Sample, ...]:
    """Paint that does not overprint removes all other inks, its own bare paper too."""
    page.fill(f"{page.space(separation('Lantern'))} cs 0.6 scn 0.5 0 0 0 K")
    page.fill("0 0 0 0 k", (6, 6, 18, 18))
    return (Sample({}), Sample({"Lantern": 0.6}, (1, 1, 23, 5)))
