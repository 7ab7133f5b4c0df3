"""Opacity and the sixteen blend modes over a known ground (ISO 32000-2, 11.3).

Inks are blended as light: 1 - ink on both sides, and 1 - what comes of it is the ink (11.3.5.2).
"""

import math
from collections.abc import Callable, Sequence
from typing import Final, TypeAlias

from pikepdf import Array, Dictionary, Name

from tests.plates.cells.reference_colours import from_screen
from tests.plates.cells.sheet import Inks, Page, Sample, Topic, cmyk, everywhere, separation

_TOPIC = Topic()
KINDS = _TOPIC.kinds

Blend: TypeAlias = Callable[[float, float], float]  # of the light of ground and source, 0 to 1


def _hard_light(ground: float, source: float) -> float:
    return ground * 2 * source if source <= 0.5 else _screen(ground, 2 * source - 1)


def _screen(ground: float, source: float) -> float:
    return ground + source - ground * source


def _dodge(ground: float, source: float) -> float:
    if ground == 0:
        return 0
    return 1 if ground >= 1 - source else ground / (1 - source)


def _burn(ground: float, source: float) -> float:
    if ground == 1:
        return 1
    return 0 if 1 - ground >= source else 1 - (1 - ground) / source


def _soft_light(ground: float, source: float) -> float:
    if source <= 0.5:
        return ground - (1 - 2 * source) * ground * (1 - ground)
    root = ((16 * ground - 12) * ground + 4) * ground if ground <= 0.25 else math.sqrt(ground)
    return ground + (2 * source - 1) * (root - ground)


# Table 134.
SEPARABLE: Final[dict[str, Blend]] = {
    "Normal": lambda _, source: source,
    "Multiply": lambda ground, source: ground * source,
    "Screen": _screen,
    "Overlay": lambda ground, source: _hard_light(source, ground),
    "Darken": min,
    "Lighten": max,
    "ColorDodge": _dodge,
    "ColorBurn": _burn,
    "HardLight": _hard_light,
    "SoftLight": _soft_light,
    "Difference": lambda ground, source: abs(ground - source),
    "Exclusion": lambda ground, source: ground + source - 2 * ground * source,
}

_GROUND: Final = cmyk(0.2, 0.6, 0.4, 0.3)
_SOURCE: Final = cmyk(0.7, 0.3, 0.0, 0.2)
_INK_GROUND: Final = 0.3
_INK_SOURCE: Final = 0.6


def _operands(inks: Inks) -> str:
    return " ".join(f"{value:g}" for value in inks.values())


def _blended(mode: str, opacity: float) -> Callable[[Page], tuple[Sample, ...]]:
    """A process colour over another."""

    def build(page: Page) -> tuple[Sample, ...]:
        page.fill(f"{_operands(_GROUND)} k")
        page.fill(f"{page.state(BM=Name(f'/{mode}'), ca=opacity)} {_operands(_SOURCE)} k")
        blend = SEPARABLE[mode]
        inks = {}
        for ink, ground in _GROUND.items():
            source = blend(1 - ground, 1 - _SOURCE[ink])
            inks[ink] = 1 - ((1 - opacity) * (1 - ground) + opacity * source)
        return everywhere(inks)

    return build


def _blended_ink(mode: str) -> Callable[[Page], tuple[Sample, ...]]:
    """A spot ink over itself and process inks; all inks of the ground that it does not name get 0.

    Modes that do not keep white where white meets white are Normal for spot inks (11.7.4.2): Difference
    and Exclusion.
    """

    def build(page: Page) -> tuple[Sample, ...]:
        ink = page.space(separation("Lantern"))
        page.fill(f"{_operands(_GROUND)} k")
        # The ground's spot ink must not remove what is beneath: it overprints.
        page.draw(page.state(op=True, OP=True, OPM=0))
        page.fill(f"{ink} cs {_INK_GROUND} scn")
        page.draw(page.state(op=False, OP=False))
        page.fill(f"{page.state(BM=Name(f'/{mode}'))} {ink} cs {_INK_SOURCE} scn")
        blend = SEPARABLE[mode]
        found = {name: 1 - blend(1 - ground, 1.0) for name, ground in _GROUND.items()}
        spot = SEPARABLE["Normal"] if mode in {"Difference", "Exclusion"} else blend
        return everywhere(found | {"Lantern": 1 - spot(1 - _INK_GROUND, 1 - _INK_SOURCE)})

    return build


for _mode in SEPARABLE:
    _TOPIC.add(f"{_mode} of CMYK", "11.3.5.2", _blended(_mode, 1.0))
for _mode in SEPARABLE:
    _TOPIC.add(f"{_mode} of CMYK at 40 %", "11.3.6", _blended(_mode, 0.4))
for _mode in SEPARABLE:
    _TOPIC.add(f"{_mode} of a spot ink", "11.7.4.2", _blended_ink(_mode))


Light: TypeAlias = tuple[float, float, float]


def _luminosity(light: Sequence[float]) -> float:
    return 0.3 * light[0] + 0.59 * light[1] + 0.11 * light[2]


def _clipped(light: Light) -> Light:
    lum, low, high = _luminosity(light), min(light), max(light)
    if low < 0:
        light = _each(light, lambda part: lum + (part - lum) * lum / (lum - low))
    if high > 1:
        light = _each(light, lambda part: lum + (part - lum) * (1 - lum) / (high - lum))
    return light


def _each(light: Light, change: Callable[[float], float]) -> Light:
    return change(light[0]), change(light[1]), change(light[2])


def _with_luminosity(light: Light, lum: float) -> Light:
    more = lum - _luminosity(light)
    return _clipped(_each(light, lambda part: part + more))


def _saturation(light: Light) -> float:
    return max(light) - min(light)


def _with_saturation(light: Light, saturation: float) -> Light:
    low, span = min(light), _saturation(light)
    return _each(light, lambda part: (part - low) * saturation / span if span else 0)


# 11.3.5.3: the formulas for all three components together.
_TOGETHER: Final[dict[str, Callable[[Light, Light], Light]]] = {
    "Hue": lambda b, s: _with_luminosity(_with_saturation(s, _saturation(b)), _luminosity(b)),
    "Saturation": lambda b, s: _with_luminosity(_with_saturation(b, _saturation(s)), _luminosity(b)),
    "Color": lambda b, s: _with_luminosity(s, _luminosity(b)),
    "Luminosity": lambda b, s: _with_luminosity(b, _luminosity(s)),
}


def _light(inks: Inks) -> Light:
    return 1 - inks["Cyan"], 1 - inks["Magenta"], 1 - inks["Yellow"]


def _blended_together(mode: str) -> Callable[[Page], tuple[Sample, ...]]:
    """Black is the ground's for Hue, Saturation and Color, the source's for Luminosity (11.3.5.3)."""

    def build(page: Page) -> tuple[Sample, ...]:
        page.fill(f"{_operands(_GROUND)} k")
        page.fill(f"{page.state(BM=Name(f'/{mode}'))} {_operands(_SOURCE)} k")
        red, green, blue = _TOGETHER[mode](_light(_GROUND), _light(_SOURCE))
        black = (_SOURCE if mode == "Luminosity" else _GROUND)["Black"]
        return everywhere(cmyk(1 - red, 1 - green, 1 - blue, black))

    return build


for _mode in _TOGETHER:
    _TOPIC.add(f"{_mode} of CMYK", "11.3.5.3", _blended_together(_mode))


@_TOPIC.cell("11.3.5.3")
def Luminosity_of_a_spot_ink(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    """Normal for the spot ink; for the process inks white's luminosity, which is white."""
    ink = page.space(separation("Lantern"))
    page.fill(f"{_operands(_GROUND)} k")
    page.fill(f"{page.state(BM=Name.Luminosity)} {ink} cs {_INK_SOURCE} scn")
    return everywhere({"Lantern": _INK_SOURCE})


@_TOPIC.cell("11.3.5.2")
def Multiply_of_screen_colour(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    """The colour goes to the inks first, the blend space is the press's (11.3.4)."""
    page.fill(f"{_operands(_GROUND)} k")
    page.fill(f"{page.state(BM=Name.Multiply)} 0.8 0.6 0.4 rg")
    source = from_screen(0.8, 0.6, 0.4)
    return everywhere({ink: 1 - (1 - ground) * (1 - source[ink]) for ink, ground in _GROUND.items()})


@_TOPIC.cell("11.3.5.2")
def Multiply_of_grey(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    page.fill(f"{_operands(_GROUND)} k")
    page.fill(f"{page.state(BM=Name.Multiply)} 0.5 g")
    return everywhere(_GROUND | {"Black": 1 - 0.7 * 0.5})


@_TOPIC.cell("11.3.5.2")
def Multiply_of_an_image(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    page.fill(f"{_operands(_GROUND)} k")
    image = page.image(1, 1, bytes([51, 102, 153, 51]), ColorSpace=Name.DeviceCMYK)
    page.draw(page.state(BM=Name.Multiply), page.show(image, (0, 0, 24, 24)))
    source = cmyk(0.2, 0.4, 0.6, 0.2)
    return everywhere({ink: 1 - (1 - ground) * (1 - source[ink]) for ink, ground in _GROUND.items()})


@_TOPIC.cell("11.3.5.2")
def Multiply_of_a_gradient(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    page.fill(f"{_operands(_GROUND)} k")
    ends = Array([0.5, 0, 0, 0])
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=ends, C1=ends, N=1)
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([0, 0, 24, 0]), Function=function
    )
    page.draw(page.state(BM=Name.Multiply), f"{page.named('Shading', shading)} sh")
    return everywhere(_GROUND | {"Cyan": 1 - 0.8 * 0.5})


@_TOPIC.cell("11.6.3")
def the_first_mode_known_of_several(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0.5 0 0 k")
    page.fill(f"{page.state(BM=Array([Name.Unheard, Name.Multiply]))} 0.5 0.5 0 0 k")
    return everywhere(cmyk(0.5, 0.75))


@_TOPIC.cell("11.3.6")
def opacity_of_a_fill(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0.8 0 0 k")
    page.fill(f"{page.state(ca=0.25, CA=1.0)} 0.8 0 0 0.4 k")
    return everywhere(cmyk(0.2, 0.6, 0, 0.1))


@_TOPIC.cell("11.3.6")
def opacity_of_a_stroke(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0.8 0 0 k")
    page.draw(f"{page.state(ca=1.0, CA=0.25)} 0.8 0 0 0.4 K 16 w 0 12 m 24 12 l S")
    return everywhere(cmyk(0.2, 0.6, 0, 0.1))


@_TOPIC.cell("11.3.6")
def opacity_of_a_spot_ink(page: Page) -> tuple[Sample, ...]:
    """It lets through as much of all other inks as of its own."""
    page.fill("0 0.8 0 0 k")
    page.fill(f"{page.state(ca=0.25)} {page.space(separation('Lantern'))} cs 0.8 scn")
    return everywhere({"Magenta": 0.6, "Lantern": 0.2})


@_TOPIC.cell("11.3.6")
def opacity_of_white(page: Page) -> tuple[Sample, ...]:
    page.fill("0.4 0.8 0 0.2 k")
    page.fill(f"{page.state(ca=0.5)} 0 0 0 0 k")
    return everywhere(cmyk(0.2, 0.4, 0, 0.1))


@_TOPIC.cell("11.3.6")
def opacity_of_an_image(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0.8 0 0 k")
    image = page.image(1, 1, bytes([204, 0, 0, 102]), ColorSpace=Name.DeviceCMYK)
    page.draw(page.state(ca=0.25), page.show(image, (0, 0, 24, 24)))
    return everywhere(cmyk(0.2, 0.6, 0, 0.1))


@_TOPIC.cell("11.3.6")
def opacity_of_an_image_of_an_ink(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0.8 0 0 k")
    image = page.image(1, 1, bytes([204]), ColorSpace=separation("Lantern"))
    page.draw(page.state(ca=0.25), page.show(image, (0, 0, 24, 24)))
    return everywhere({"Magenta": 0.6, "Lantern": 0.2})


@_TOPIC.cell("11.3.6")
def opacity_of_a_gradient(page: Page) -> tuple[Sample, ...]:
    page.fill("0 0.8 0 0 k")
    ends = Array([0.8, 0, 0, 0.4])
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=ends, C1=ends, N=1)
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([0, 0, 24, 0]), Function=function
    )
    page.draw(page.state(ca=0.25), f"{page.named('Shading', shading)} sh")
    return everywhere(cmyk(0.2, 0.6, 0, 0.1))
