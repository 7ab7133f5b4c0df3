"""Soft masks by luminosity and by opacity (ISO 32000-2, 11.6.5)."""

from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name

from tests.plates.cells.sheet import Page, Sample, Topic, cmyk, dictionary, everywhere, separation

_TOPIC = Topic()
KINDS = _TOPIC.kinds

_ALL: Final = "0 0 24 24 re f"


def _mask(page: Page, kind: str, group: pikepdf.Stream, **entries: object) -> str:
    """The instruction that sets a soft mask."""
    return page.state(SMask=dictionary(Type=Name.Mask, S=Name(f"/{kind}"), G=group, **entries))


def _masked(page: Page, mask: str, paint: str = "0.8 0 0 0.4 k") -> None:
    page.fill("0 0.8 0 0 k")
    page.draw(f"q {mask} {paint} {_ALL} Q")


def _shown_by(share: float) -> tuple[Sample, ...]:
    return everywhere(cmyk(0.8 * share, 0.8 * (1 - share), 0, 0.4 * share))


@_TOPIC.cell("11.5.3")
def luminosity_of_grey(page: Page) -> tuple[Sample, ...]:
    group = page.group(f"0.25 g {_ALL}", I=True, CS=Name.DeviceGray)
    _masked(page, _mask(page, "Luminosity", group))
    return _shown_by(0.25)


@_TOPIC.cell("11.5.3")
def luminosity_of_screen_colour(page: Page) -> tuple[Sample, ...]:
    """DeviceRGB's grey is 0.3 R + 0.59 G + 0.11 B (10.4.2.2)."""
    group = page.group(f"0.2 0.6 0.4 rg {_ALL}", I=True, CS=Name.DeviceRGB)
    _masked(page, _mask(page, "Luminosity", group))
    return _shown_by(0.3 * 0.2 + 0.59 * 0.6 + 0.11 * 0.4)


@_TOPIC.cell("11.5.3")
def luminosity_of_inks(page: Page) -> tuple[Sample, ...]:
    """DeviceCMYK's grey is 1 - min(1, 0.3 C + 0.59 M + 0.11 Y + K) (10.4.2.4)."""
    group = page.group(f"0.2 0.4 0 0.3 k {_ALL}", I=True, CS=Name.DeviceCMYK)
    _masked(page, _mask(page, "Luminosity", group))
    return _shown_by(1 - (0.3 * 0.2 + 0.59 * 0.4 + 0.3))


@_TOPIC.cell("11.5.3")
def luminosity_of_black_ink(page: Page) -> tuple[Sample, ...]:
    group = page.group(f"0 0 0 0.5 k {_ALL}", I=True, CS=Name.DeviceCMYK)
    _masked(page, _mask(page, "Luminosity", group))
    return _shown_by(0.5)


@_TOPIC.cell("11.5.3")
def luminosity_beyond_the_group(page: Page) -> tuple[Sample, ...]:
    """Where the group paints nothing its backdrop colour counts, black if none is given."""
    group = page.group("1 g 0 0 12 24 re f", I=True, CS=Name.DeviceGray)
    _masked(page, _mask(page, "Luminosity", group, BC=Array([0.25])))
    return (
        Sample(cmyk(0.8, 0, 0, 0.4), (2, 2, 10, 22)),
        Sample(cmyk(0.2, 0.6, 0, 0.1), (14, 2, 22, 22)),
    )


@_TOPIC.cell("11.5.3")
def luminosity_beyond_a_group_without_a_backdrop(page: Page) -> tuple[Sample, ...]:
    group = page.group("1 g 0 0 12 24 re f", I=True, CS=Name.DeviceGray)
    _masked(page, _mask(page, "Luminosity", group))
    return Sample(cmyk(0.8, 0, 0, 0.4), (2, 2, 10, 22)), Sample(cmyk(magenta=0.8), (14, 2, 22, 22))


@_TOPIC.cell("11.5.3")
def luminosity_of_a_gradient(page: Page) -> tuple[Sample, ...]:
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([0]), C1=Array([1]), N=1)
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceGray, Coords=Array([0, 0, 24, 0]), Function=function
    )
    group = page.group(f"{page.named('Shading', shading)} sh", I=True, CS=Name.DeviceGray)
    _masked(page, _mask(page, "Luminosity", group))
    return tuple(
        Sample(cmyk(0.8 * x / 24, 0.8 * (1 - x / 24), 0, 0.4 * x / 24), (x - 0.5, 10, x + 0.5, 14))
        for x in (3, 12, 21)
    )


@_TOPIC.cell("11.5.3")
def luminosity_of_an_image(page: Page) -> tuple[Sample, ...]:
    image = page.show(page.image(1, 1, bytes([51]), ColorSpace=Name.DeviceGray), (0, 0, 24, 24))
    _masked(page, _mask(page, "Luminosity", page.group(image, I=True, CS=Name.DeviceGray)))
    return _shown_by(0.2)


@_TOPIC.cell("11.5.2")
def opacity_of_a_group_as_mask(page: Page) -> tuple[Sample, ...]:
    """The colour does not matter."""
    quarter = page.state(ca=0.25)
    _masked(page, _mask(page, "Alpha", page.group(f"{quarter} 1 0 0 0 k {_ALL}", I=True, CS=Name.DeviceCMYK)))
    return _shown_by(0.25)


@_TOPIC.cell("11.6.5.1")
def a_mask_over_a_spot_ink(page: Page) -> tuple[Sample, ...]:
    group = page.group(f"0.25 g {_ALL}", I=True, CS=Name.DeviceGray)
    _masked(page, _mask(page, "Luminosity", group), f"{page.space(separation('Lantern'))} cs 0.8 scn")
    return everywhere({"Magenta": 0.6, "Lantern": 0.2})


@_TOPIC.cell("11.6.5.1")
def a_mask_with_a_transfer_function(page: Page) -> tuple[Sample, ...]:
    """Turned over: what was a quarter is three quarters."""
    group = page.group(f"0.25 g {_ALL}", I=True, CS=Name.DeviceGray)
    turned = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([1]), C1=Array([0]), N=1)
    _masked(page, _mask(page, "Luminosity", group, TR=turned))
    return _shown_by(0.75)


@_TOPIC.cell("11.6.5.1")
def a_mask_that_is_taken_off_again(page: Page) -> tuple[Sample, ...]:
    group = page.group(f"0.25 g {_ALL}", I=True, CS=Name.DeviceGray)
    mask = _mask(page, "Luminosity", group)
    _masked(page, f"{mask} {page.state(SMask=Name('/None'))}")
    return _shown_by(1)


@_TOPIC.cell("11.6.5.1")
def a_mask_and_opacity_together(page: Page) -> tuple[Sample, ...]:
    group = page.group(f"0.5 g {_ALL}", I=True, CS=Name.DeviceGray)
    _masked(page, f"{_mask(page, 'Luminosity', group)} {page.state(ca=0.5)}")
    return _shown_by(0.25)


@_TOPIC.cell("11.6.5.1")
def a_mask_over_an_image(page: Page) -> tuple[Sample, ...]:
    group = page.group(f"0.25 g {_ALL}", I=True, CS=Name.DeviceGray)
    mask = _mask(page, "Luminosity", group)
    image = page.show(page.image(1, 1, bytes([204, 0, 0, 102]), ColorSpace=Name.DeviceCMYK), (0, 0, 24, 24))
    page.fill("0 0.8 0 0 k")
    page.draw(f"q {mask} {image} Q")
    return _shown_by(0.25)


@_TOPIC.cell("11.6.5.1")
def a_mask_within_a_mask(page: Page) -> tuple[Sample, ...]:
    """The mask's own group is laid on black through a mask: half of half of white."""
    half = _mask(page, "Luminosity", page.group(f"0.5 g {_ALL}", I=True, CS=Name.DeviceGray))
    group = page.group(f"{half} 0.5 g {_ALL}", I=True, CS=Name.DeviceGray)
    _masked(page, _mask(page, "Luminosity", group))
    return _shown_by(0.25)


@_TOPIC.cell("11.6.5.1")
def a_mask_of_a_picture_that_is_asked_for_in_two_places(page: Page) -> tuple[Sample, ...]:
    """A mask lies where the graphics state was set, each time anew."""
    image = page.show(page.image(1, 1, bytes([51]), ColorSpace=Name.DeviceGray), (0, 0, 6, 24))
    mask = _mask(page, "Luminosity", page.group(image, I=True, CS=Name.DeviceGray))
    for x in (0, 12):
        page.draw(f"q 1 0 0 1 {x} 0 cm {mask} 1 0 0 0 k 0 0 6 24 re f Q")
    return Sample(cmyk(0.2), (1, 2, 5, 22)), Sample(cmyk(0.2), (13, 2, 17, 22)), Sample({}, (7, 2, 11, 22))
