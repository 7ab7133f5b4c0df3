"""Images whose data are coded (ISO 32000-2, 7.4): JPEG, JPEG 2000, fax, run lengths, predictors."""

import base64
import io
import zlib
from typing import Final

from pikepdf import Array, Dictionary, Name
from PIL import Image, ImageChops

from tests.plates.cells.reference_colours import from_screen
from tests.plates.cells.sheet import Page, Sample, Topic, cmyk, device_n, everywhere, separation

_TOPIC = Topic()
KINDS = _TOPIC.kinds

_ALL: Final = (0, 0, 24, 24)
_PIXEL: Final = bytes([51, 102, 153, 51])
_INKS: Final = cmyk(0.2, 0.4, 0.6, 0.2)


def _jpeg(image: Image.Image) -> bytes:
    file = io.BytesIO()
    image.save(file, "JPEG", quality=95, subsampling=0)
    return file.getvalue()


def _without_adobe(data: bytes) -> bytes:
    """A JPEG without the marker by which Adobe's decoder knows that its inks are turned over."""
    at = data.index(b"\xff\xee")
    length = int.from_bytes(data[at + 2 : at + 4])
    return data[:at] + data[at + 2 + length :]


@_TOPIC.cell("7.4.8")
def JPEG_of_greys(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    data = _jpeg(Image.new("L", (16, 16), 102))
    image = page.image(16, 16, data, ColorSpace=Name.DeviceGray, Filter=Name.DCTDecode)
    page.draw(page.show(image, _ALL))
    return everywhere(cmyk(black=0.6))


@_TOPIC.cell("7.4.8")
def JPEG_of_screen_colours(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    data = _jpeg(Image.new("RGB", (16, 16), (204, 153, 102)))
    image = page.image(16, 16, data, ColorSpace=Name.DeviceRGB, Filter=Name.DCTDecode)
    page.draw(page.show(image, _ALL))
    return everywhere(from_screen(0.8, 0.6, 0.4))


@_TOPIC.cell("7.4.8")
def JPEG_of_four_inks(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    """No Adobe marker: the samples are inks."""
    # Pillow writes inks turned over, with Adobe's marker.
    plain = ImageChops.invert(Image.new("CMYK", (16, 16), tuple(_PIXEL)))
    image = page.image(
        16, 16, _without_adobe(_jpeg(plain)), ColorSpace=Name.DeviceCMYK, Filter=Name.DCTDecode
    )
    page.draw(page.show(image, _ALL))
    return everywhere(_INKS)


@_TOPIC.cell("7.4.8")
def JPEG_of_four_inks_turned_over_and_back(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    """As Adobe's programs write them: samples turned over, and a Decode array that turns them back."""
    data = _jpeg(Image.new("CMYK", (16, 16), tuple(_PIXEL)))
    image = page.image(
        16, 16, data, ColorSpace=Name.DeviceCMYK, Filter=Name.DCTDecode, Decode=Array([1, 0] * 4)
    )
    page.draw(page.show(image, _ALL))
    return everywhere(_INKS)


@_TOPIC.cell("7.4.8")
def JPEG_of_four_inks_with_the_marker_only(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    """Without a Decode array the samples are what the file says, whatever the marker."""
    data = _jpeg(Image.new("CMYK", (16, 16), tuple(_PIXEL)))
    page.draw(page.show(page.image(16, 16, data, ColorSpace=Name.DeviceCMYK, Filter=Name.DCTDecode), _ALL))
    return everywhere(cmyk(0.8, 0.6, 0.4, 0.8))


@_TOPIC.cell("7.4.8")
def JPEG_of_an_ink(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    data = _jpeg(Image.new("L", (16, 16), 153))
    image = page.image(16, 16, data, ColorSpace=separation("Lantern"), Filter=Name.DCTDecode)
    page.draw(page.show(image, _ALL))
    return everywhere({"Lantern": 0.6})


@_TOPIC.cell("7.4.8")
def JPEG_of_four_inks_by_name(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    plain = ImageChops.invert(Image.new("CMYK", (16, 16), tuple(_PIXEL)))
    space = device_n(page.pdf, "Black", "Lantern", "Moss", "Cyan")
    image = page.image(16, 16, _without_adobe(_jpeg(plain)), ColorSpace=space, Filter=Name.DCTDecode)
    page.draw(page.show(image, _ALL))
    return everywhere({"Black": 0.2, "Lantern": 0.4, "Moss": 0.6, "Cyan": 0.2})


def _jpx(image: Image.Image) -> bytes:
    file = io.BytesIO()
    image.save(file, "JPEG2000", irreversible=False)
    return file.getvalue()


@_TOPIC.cell("7.4.9")
def JPX_of_screen_colours(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    image = page.image(16, 16, _jpx(Image.new("RGB", (16, 16), (204, 153, 102))), Filter=Name.JPXDecode)
    page.draw(page.show(image, _ALL))
    return everywhere(from_screen(0.8, 0.6, 0.4))


@_TOPIC.cell("7.4.9")
def JPX_of_an_ink(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    data = _jpx(Image.new("L", (16, 16), 153))
    image = page.image(16, 16, data, ColorSpace=separation("Lantern"), Filter=Name.JPXDecode)
    page.draw(page.show(image, _ALL))
    return everywhere({"Lantern": 0.6})


@_TOPIC.cell("7.4.4")
def image_packed_with_a_predictor(page: Page) -> tuple[Sample, ...]:
    """PNG's Sub: each byte is what it adds to the pixel before."""
    row = bytes([1]) + _PIXEL + bytes(4 * 3)
    image = page.image(4, 4, b"", ColorSpace=Name.DeviceCMYK)
    parameters = Dictionary(Predictor=15, Colors=4, Columns=4)
    image.write(zlib.compress(row * 4), filter=Name.FlateDecode, decode_parms=parameters)
    page.draw(page.show(image, _ALL))
    return everywhere(_INKS)


@_TOPIC.cell("7.4.5")
def image_packed_by_run_lengths(page: Page) -> tuple[Sample, ...]:
    """A length of 0 to 127 copies so many bytes and one, 129 to 255 repeats one, 128 ends."""
    packed = b"".join(bytes([15]) + _PIXEL * 4 for _ in range(3)) + bytes([15]) + _PIXEL * 4 + bytes([128])
    image = page.image(4, 4, packed, ColorSpace=Name.DeviceCMYK, Filter=Name.RunLengthDecode)
    page.draw(page.show(image, _ALL))
    return everywhere(_INKS)


@_TOPIC.cell("7.4.5")
def grey_image_of_one_run(page: Page) -> tuple[Sample, ...]:
    image = page.image(16, 8, bytes([129, 102, 128]), ColorSpace=Name.DeviceGray, Filter=Name.RunLengthDecode)
    page.draw(page.show(image, _ALL))
    return everywhere(cmyk(black=0.6))


@_TOPIC.cell("7.4.3")
def image_written_as_text(page: Page) -> tuple[Sample, ...]:
    """ASCII base 85 over packed data."""
    data = base64.a85encode(zlib.compress(_PIXEL * 16)) + b"~>"
    filters = Array([Name.ASCII85Decode, Name.FlateDecode])
    page.draw(page.show(page.image(4, 4, data, ColorSpace=Name.DeviceCMYK, Filter=filters), _ALL))
    return everywhere(_INKS)


@_TOPIC.cell("7.4.9")
def JPX_of_16_bits(page: Page) -> tuple[Sample, ...]:  # noqa: N802 - the standard's name
    """A white of 16 bits stays white."""
    image = page.image(16, 16, _jpx(Image.new("I;16", (16, 16), 0xFFFF)), Filter=Name.JPXDecode)
    page.fill("0 0.8 0 0 k")
    page.draw(page.show(image, _ALL))
    return everywhere({})


@_TOPIC.cell("7.4.6")
def fax_image(page: Page) -> tuple[Sample, ...]:
    """Group 4, rows of eight black pixels: horizontal mode, no white, eight black (T.6)."""
    # Row: 001 horizontal, 00110101 white 0, 000101 black 8; then seven rows alike by vertical mode: 1 1.
    bits = "001" + "00110101" + "000101" + "11" * 7 + "000000000001" * 2
    data = int(bits.ljust(-(-len(bits) // 8) * 8, "0"), 2).to_bytes(-(-len(bits) // 8))
    image = page.image(
        8, 8, data, ColorSpace=separation("Lantern"), BitsPerComponent=1, Filter=Name.CCITTFaxDecode,
        DecodeParms=Dictionary(K=-1, Columns=8, Rows=8, BlackIs1=True),
    )  # fmt: skip
    page.draw(page.show(image, _ALL))
    return everywhere({"Lantern": 1})
