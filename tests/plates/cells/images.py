"""Images: depths, colours, masks, and where they lie (ISO 32000-2, 8.9)."""

from typing import Final

from pikepdf import Array, Dictionary, Name, String

from tests.plates.cells.reference_colours import from_screen
from tests.plates.cells.sheet import Page, Sample, Topic, cmyk, everywhere, separation

_TOPIC = Topic()
KINDS = _TOPIC.kinds

_ALL: Final = (0, 0, 24, 24)
_PIXEL: Final = bytes([51, 102, 153, 51])
_INKS: Final = cmyk(0.2, 0.4, 0.6, 0.2)


@_TOPIC.cell("8.9.5.2")
def image_of_1_bit(page: Page) -> tuple[Sample, ...]:
    """Every second column is black."""
    data = bytes([0b01010101] * 8)
    page.draw(page.show(page.image(8, 8, data, ColorSpace=Name.DeviceGray, BitsPerComponent=1), _ALL))
    return (
        Sample(cmyk(black=1), (6.5, 3, 8.5, 21)),
        Sample({}, (9.5, 3, 11.5, 21)),
        Sample(cmyk(black=0.5), _ALL),
    )


@_TOPIC.cell("8.9.5.2")
def image_of_1_bit_turned_over(page: Page) -> tuple[Sample, ...]:
    data = bytes([0b00010001] * 8)
    decode = Array([1, 0])
    image = page.image(8, 8, data, ColorSpace=Name.DeviceGray, BitsPerComponent=1, Decode=decode)
    page.draw(page.show(image, _ALL))
    return (Sample(cmyk(black=0.25), _ALL),)


@_TOPIC.cell("8.9.5.2")
def image_of_1_bit_in_an_ink(page: Page) -> tuple[Sample, ...]:
    data = bytes([0b00010001] * 8)
    image = page.image(8, 8, data, ColorSpace=separation("Lantern"), BitsPerComponent=1)
    page.draw(page.show(image, _ALL))
    return (Sample({"Lantern": 0.25}, _ALL),)


@_TOPIC.cell("8.6.6.3")
def image_of_1_bit_with_a_palette(page: Page) -> tuple[Sample, ...]:
    space = Array([Name.Indexed, Name.DeviceCMYK, 1, String(bytes([0, 255, 0, 0]) + _PIXEL)])
    image = page.image(8, 8, bytes([0xFF] * 8), ColorSpace=space, BitsPerComponent=1)
    page.draw(page.show(image, _ALL))
    return everywhere(_INKS)


@_TOPIC.cell("8.9.5.2")
def image_of_2_bits(page: Page) -> tuple[Sample, ...]:
    image = page.image(4, 4, bytes([0b01010101] * 4), ColorSpace=Name.DeviceGray, BitsPerComponent=2)
    page.draw(page.show(image, _ALL))
    return everywhere(cmyk(black=2 / 3))


@_TOPIC.cell("8.9.5.2")
def image_of_4_bits(page: Page) -> tuple[Sample, ...]:
    image = page.image(4, 4, bytes([0x36, 0x93] * 16), ColorSpace=Name.DeviceCMYK, BitsPerComponent=4)
    page.draw(page.show(image, _ALL))
    return everywhere(cmyk(0.2, 0.4, 0.6, 0.2))


@_TOPIC.cell("8.9.5.2")
def image_of_16_bits(page: Page) -> tuple[Sample, ...]:
    data = bytes([51, 7, 102, 9, 153, 1, 51, 3]) * 16
    page.draw(page.show(page.image(4, 4, data, ColorSpace=Name.DeviceCMYK, BitsPerComponent=16), _ALL))
    return everywhere(_INKS)


@_TOPIC.cell("8.9.5.2")
def image_with_its_values_turned_over(page: Page) -> tuple[Sample, ...]:
    decode = Array([1, 0] * 4)
    page.draw(page.show(page.image(4, 4, _PIXEL * 16, ColorSpace=Name.DeviceCMYK, Decode=decode), _ALL))
    return everywhere(cmyk(0.8, 0.6, 0.4, 0.8))


@_TOPIC.cell("8.9.5.2")
def image_in_an_ink_with_narrowed_values(page: Page) -> tuple[Sample, ...]:
    """A byte of 0 to 255 means 0.2 to 0.6: 102 is 0.36."""
    decode = Array([0.2, 0.6])
    image = page.image(4, 4, bytes([102] * 16), ColorSpace=separation("Lantern"), Decode=decode)
    page.draw(page.show(image, _ALL))
    return everywhere({"Lantern": 0.36})


@_TOPIC.cell("8.9.5.2")
def image_of_screen_colours_of_16_bits(page: Page) -> tuple[Sample, ...]:
    data = bytes([204, 204, 153, 153, 102, 102]) * 16
    page.draw(page.show(page.image(4, 4, data, ColorSpace=Name.DeviceRGB, BitsPerComponent=16), _ALL))
    return everywhere(from_screen(0.8, 0.6, 0.4))


@_TOPIC.cell("8.9.6.2")
def stencil_in_CMYK(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    """Zeros are painted: three of four columns."""
    image = page.image(8, 8, bytes([0b00010001] * 8), BitsPerComponent=1, ImageMask=True)
    page.draw("0.2 0.4 0.6 0.2 k", page.show(image, _ALL))
    return (Sample({ink: 0.75 * value for ink, value in _INKS.items()}, _ALL),)


@_TOPIC.cell("8.9.6.2")
def stencil_in_an_ink_turned_over(page: Page) -> tuple[Sample, ...]:
    image = page.image(
        8, 8, bytes([0b00010001] * 8), BitsPerComponent=1, ImageMask=True, Decode=Array([1, 0])
    )
    page.draw(f"{page.space(separation('Lantern'))} cs 0.8 scn", page.show(image, _ALL))
    return (Sample({"Lantern": 0.2}, _ALL),)


@_TOPIC.cell("8.9.6.2")
def stencil_in_a_pattern(page: Page) -> tuple[Sample, ...]:
    function = Dictionary(
        FunctionType=2,
        Domain=Array([0, 1]),
        C0=Array([0.2, 0.4, 0.6, 0.2]),
        C1=Array([0.2, 0.4, 0.6, 0.2]),
        N=1,
    )
    shading = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=Array([0, 0, 24, 0]), Function=function
    )
    pattern = page.named("Pattern", Dictionary(PatternType=2, Shading=shading))
    image = page.image(8, 8, bytes([0] * 8), BitsPerComponent=1, ImageMask=True)
    shading.Extend = Array([True, True])
    page.draw(f"/Pattern cs {pattern} scn", page.show(image, _ALL))
    return everywhere(_INKS)


@_TOPIC.cell("8.9.6.3")
def image_with_an_explicit_mask(page: Page) -> tuple[Sample, ...]:
    """Ones of the mask leave the ground as it is."""
    mask = page.image(8, 8, bytes([0b00001111] * 8), BitsPerComponent=1, ImageMask=True)
    page.fill("0 0.8 0 0 k")
    page.draw(page.show(page.image(4, 4, _PIXEL * 16, ColorSpace=Name.DeviceCMYK, Mask=mask), _ALL))
    return (Sample(_INKS, (2, 2, 11, 22)), Sample(cmyk(magenta=0.8), (13, 2, 22, 22)))


@_TOPIC.cell("8.9.6.4")
def image_with_a_colour_key(page: Page) -> tuple[Sample, ...]:
    other = bytes([0, 0, 255, 0])
    key = Array([0, 0, 0, 0, 250, 255, 0, 0])
    page.fill("0 0.8 0 0 k")
    data = (_PIXEL * 2 + other * 2) * 4
    page.draw(page.show(page.image(4, 4, data, ColorSpace=Name.DeviceCMYK, Mask=key), _ALL))
    return (Sample(_INKS, (2, 2, 11, 22)), Sample(cmyk(magenta=0.8), (13, 2, 22, 22)))


@_TOPIC.cell("8.9.6.4")
def image_of_screen_colours_with_a_colour_key(page: Page) -> tuple[Sample, ...]:
    data = (bytes([204, 153, 102]) * 2 + bytes([255, 0, 255]) * 2) * 4
    page.fill("0 0.8 0 0 k")
    key = Array([255, 255, 0, 0, 255, 255])
    page.draw(page.show(page.image(4, 4, data, ColorSpace=Name.DeviceRGB, Mask=key), _ALL))
    return (Sample(from_screen(0.8, 0.6, 0.4), (2, 2, 11, 22)), Sample(cmyk(magenta=0.8), (13, 2, 22, 22)))


@_TOPIC.cell("11.6.5.2")
def image_with_a_soft_mask(page: Page) -> tuple[Sample, ...]:
    """40 % opaque over magenta: each ink is mixed with the ground's."""
    mask = page.image(2, 2, bytes([102] * 4), ColorSpace=Name.DeviceGray)
    page.fill("0 0.8 0 0 k")
    page.draw(page.show(page.image(4, 4, _PIXEL * 16, ColorSpace=Name.DeviceCMYK, SMask=mask), _ALL))
    return everywhere(cmyk(0.2 * 0.4, 0.4 * 0.4 + 0.8 * 0.6, 0.6 * 0.4, 0.2 * 0.4))


@_TOPIC.cell("11.6.5.2")
def image_of_an_ink_with_a_soft_mask(page: Page) -> tuple[Sample, ...]:
    mask = page.image(2, 2, bytes([102] * 4), ColorSpace=Name.DeviceGray)
    page.fill("0 0.8 0 0 k")
    page.draw(
        page.show(page.image(4, 4, bytes([204] * 16), ColorSpace=separation("Lantern"), SMask=mask), _ALL)
    )
    return everywhere({"Magenta": 0.8 * 0.6, "Lantern": 0.8 * 0.4})


@_TOPIC.cell("11.6.5.2")
def image_mixed_with_its_matte(page: Page) -> tuple[Sample, ...]:
    """c' = m + a (c - m): a byte of 51 + 0.4 (153 - 51) = 92 is 153 in the end."""
    mask = page.image(4, 4, bytes([102] * 16), ColorSpace=Name.DeviceGray, Matte=Array([0.2]))
    page.draw(page.show(page.image(4, 4, bytes([92] * 16), ColorSpace=Name.DeviceGray, SMask=mask), _ALL))
    return everywhere(cmyk(black=0.4 * 0.4))


@_TOPIC.cell("8.9.7")
def inline_image_in_CMYK(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    page.draw_bytes(b"q 24 0 0 24 0 0 cm BI /W 2 /H 2 /BPC 8 /CS /CMYK ID " + _PIXEL * 4 + b"\nEI Q")
    return everywhere(_INKS)


@_TOPIC.cell("8.9.7")
def inline_image_of_an_ink(page: Page) -> tuple[Sample, ...]:
    space = page.space(separation("Lantern")).encode()
    page.draw_bytes(b"q 24 0 0 24 0 0 cm BI /W 2 /H 2 /BPC 8 /CS " + space + b" /F /AHx ID 99999999>\nEI Q")
    return everywhere({"Lantern": 0.6})


@_TOPIC.cell("8.9.7")
def inline_stencil(page: Page) -> tuple[Sample, ...]:
    page.draw("0 0.5 0 0 k")
    page.draw_bytes(b"q 24 0 0 24 0 0 cm BI /W 2 /H 2 /IM true ID \x40\x40\nEI Q")
    return (Sample(cmyk(magenta=0.5), (2, 2, 11, 22)), Sample({}, (13, 2, 22, 22)))


@_TOPIC.cell("8.9.7")
def inline_image_with_a_palette(page: Page) -> tuple[Sample, ...]:
    page.draw_bytes(
        b"q 24 0 0 24 0 0 cm BI /W 1 /H 1 /BPC 8 /CS [/I /CMYK 1 <0000000033669933>] ID \x01\nEI Q"
    )
    return everywhere(_INKS)


@_TOPIC.cell("8.9.5.1")
def image_at_an_angle(page: Page) -> tuple[Sample, ...]:
    """Turned by 30 degrees and wider than the page, so that all of the middle is image."""
    name = page.named("XObject", page.image(4, 4, _PIXEL * 16, ColorSpace=Name.DeviceCMYK))
    page.draw(f"q 25.98 15 -15 25.98 6 -8 cm {name} Do Q")
    return everywhere(_INKS)


@_TOPIC.cell("8.9.5.1")
def image_skewed(page: Page) -> tuple[Sample, ...]:
    name = page.named("XObject", page.image(4, 4, _PIXEL * 16, ColorSpace=Name.DeviceCMYK))
    page.draw(f"q 36 0 12 24 -12 0 cm {name} Do Q")
    return everywhere(_INKS)


@_TOPIC.cell("8.9.5.1")
def image_upside_down(page: Page) -> tuple[Sample, ...]:
    """The first row, which is dark, lies at the bottom."""
    name = page.named("XObject", page.image(1, 2, bytes([0, 204]), ColorSpace=Name.DeviceGray))
    page.draw(f"q 24 0 0 -24 0 24 cm {name} Do Q")
    return (Sample(cmyk(black=1), (2, 2, 22, 10)), Sample(cmyk(black=0.2), (2, 14, 22, 22)))


@_TOPIC.cell("8.9.5.1")
def image_finer_than_the_plate(page: Page) -> tuple[Sample, ...]:
    """A chequer of single pixels is a mean to the plate."""
    rows = [bytes([255, 0] * 300), bytes([0, 255] * 300)]
    image = page.image(600, 600, b"".join(rows) * 300, ColorSpace=separation("Lantern"))
    page.draw(page.show(image, _ALL))
    return everywhere({"Lantern": 0.5})
