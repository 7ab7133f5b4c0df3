# Placed images: pixels, colours, masks, and resolution along the image's own axes.

import io
import math
import shutil
import subprocess
from pathlib import Path

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pikepdf import Array, Dictionary, Name, String
from PIL import Image, features

from hotfolder.model.colour import ColourKind
from hotfolder.model.facts import ProblemKind
from hotfolder.model.marks import ImageFacts, MarkKind, Masking
from tests.pdf.drawn_page import Drawn, corners, kinds, only, read


def _placed(content: bytes, image: pikepdf.Stream, drawn: Drawn, user_unit: float = 1.0) -> ImageFacts:
    drawn.resource("XObject", "I", image)
    facts = only(drawn.read(content, user_unit)).image
    assert facts is not None
    return facts


@pytest.mark.parametrize(
    ("matrix", "x_ppi", "y_ppi"),
    [
        # 600 x 300 px; 144 pt are two inches.
        ("144 0 0 144 10 10", 300, 150),
        ("0 144 -144 0 200 10", 300, 150),
        ("144 0 0 -144 10 200", 300, 150),
        ("-72 0 0 36 100 10", 600, 600),
        # Turned by 30 degrees: the sides keep their lengths.
        ("124.7077 72 -72 124.7077 100 10", 300, 150),
        # Skewed: the slanted side is the longer one, 144 x sqrt(2) pt.
        ("144 0 144 144 0 0", 300, 106.066),
    ],
)
def test_resolution_is_that_of_each_axis(matrix: str, x_ppi: float, y_ppi: float) -> None:
    drawn = Drawn()
    facts = _placed(f"{matrix} cm /I Do".encode(), drawn.image(600, 300), drawn)
    assert (facts.x_ppi, facts.y_ppi) == pytest.approx((x_ppi, y_ppi))


def test_every_matrix_on_the_way_counts() -> None:
    drawn = Drawn()
    image = drawn.image(600, 300)
    resources = Dictionary(XObject=Dictionary(I=image))
    form = drawn.form(b"0.5 0 0 1 0 0 cm /I Do", Matrix=Array([2, 0, 0, 3, 0, 0]), Resources=resources)
    drawn.resource("XObject", "F", form)
    page = drawn.read(b"10 0 0 20 0 0 cm /F Do", user_unit=4.0)
    facts = only(page).image
    assert facts is not None
    # 10 x 2 x 0.5 x 4 = 40 pt across, 20 x 3 x 4 = 240 pt up.
    assert (facts.x_ppi, facts.y_ppi) == pytest.approx((600 * 72 / 40, 300 * 72 / 240))


@settings(deadline=None)
@given(st.floats(0, 2 * math.pi), st.floats(1, 500), st.floats(1, 500))
def test_turning_an_image_changes_no_resolution(angle: float, width: float, height: float) -> None:
    drawn = Drawn()
    c, s = math.cos(angle), math.sin(angle)
    matrix = f"{c * width:.9f} {s * width:.9f} {-s * height:.9f} {c * height:.9f} 100 100 cm /I Do"
    facts = _placed(matrix.encode(), drawn.image(600, 300), drawn)
    assert facts.x_ppi == pytest.approx(600 * 72 / width, rel=1e-6)
    assert facts.y_ppi == pytest.approx(300 * 72 / height, rel=1e-6)


def test_an_axis_without_extent_has_no_end_of_resolution() -> None:
    drawn = Drawn()
    facts = _placed(b"100 0 0 0 10 10 cm /I Do", drawn.image(600, 300), drawn)
    assert (facts.x_ppi, facts.y_ppi) == pytest.approx((432, math.inf))


def test_the_box_is_that_of_the_turned_square() -> None:
    drawn = Drawn().resource("XObject", "I", Drawn().image(1, 1))
    drawn = Drawn()
    drawn.resource("XObject", "I", drawn.image(10, 10))
    mark = only(drawn.read(b"50 50 -50 50 100 100 cm /I Do"))
    assert mark.kind is MarkKind.IMAGE
    assert corners(mark.box) == (50, 100, 150, 200)


def test_facts_of_an_image_are_those_of_its_dictionary() -> None:
    drawn = Drawn()
    image = drawn.image(20, 30, ColorSpace=Name.DeviceCMYK, BitsPerComponent=16)
    image.write(b"junk", filter=Array([Name.ASCII85Decode, Name.DCTDecode]))
    facts = _placed(b"10 0 0 10 0 0 cm /I Do", image, drawn)
    assert facts.object == f"{image.objgen[0]} 0"
    assert (facts.width_px, facts.height_px, facts.bits) == (20, 30, 16)
    assert facts.colour is not None
    assert facts.colour.kind is ColourKind.CMYK
    assert facts.filters == ("ASCII85Decode", "DCTDecode")
    assert facts.masking is Masking.NONE


def test_a_stencil_is_painted_in_the_fill_colour() -> None:
    drawn = Drawn()
    image = drawn.image(16, 8, ImageMask=True, BitsPerComponent=1)
    del image["/ColorSpace"]
    drawn.resource("XObject", "I", image)
    mark = only(drawn.read(b"1 0 0 0 k 10 0 0 10 0 0 cm /I Do"))
    assert mark.image is not None
    assert (mark.image.colour, mark.image.bits, mark.image.masking) == (None, 1, Masking.STENCIL)
    assert mark.image.line_art
    assert mark.fill is not None
    assert mark.fill.components == (1, 0, 0, 0)


def test_masks() -> None:
    drawn = Drawn()
    soft = drawn.image(40, 60, ColorSpace=Name.DeviceGray)
    stencil = drawn.image(80, 90, ImageMask=True)
    content = b"10 0 0 10 0 0 cm /I Do"
    masked = _placed(content, drawn.image(20, 30, SMask=soft), drawn)
    assert (masked.masking, masked.mask_width_px, masked.mask_height_px) == (Masking.SOFT, 40, 60)
    assert masked.coarsest_px == (masked.width_px, masked.height_px)
    explicit = _placed(content, drawn.image(20, 30, Mask=stencil), drawn)
    assert (explicit.masking, explicit.mask_width_px, explicit.mask_height_px) == (Masking.EXPLICIT, 80, 90)
    keyed = _placed(content, drawn.image(20, 30, Mask=Array([0, 1, 0, 1, 0, 1])), drawn)
    assert (keyed.masking, keyed.mask_width_px) == (Masking.COLOUR_KEY, None)
    both = _placed(content, drawn.image(20, 30, Mask=stencil, SMask=soft), drawn)
    assert both.masking is Masking.SOFT


def test_an_inline_image_has_its_abbreviations_written_out() -> None:
    page = read(b"q 36 0 0 72 10 20 cm BI /W 4 /H 2 /BPC 8 /CS /RGB /F [/AHx] ID 00112233> EI Q 0 0 5 5 re f")
    image, path = page.marks
    assert page.problems == ()
    assert path.kind is MarkKind.PATH
    assert image.image is not None
    assert (image.image.object, image.image.width_px, image.image.height_px) == (None, 4, 2)
    assert image.image.colour is not None
    assert image.image.colour.family == "DeviceRGB"
    assert image.image.filters == ("ASCIIHexDecode",)
    assert (image.image.x_ppi, image.image.y_ppi) == pytest.approx((8, 2))


def test_an_inline_stencil() -> None:
    [mark] = read(b"0.5 g 8 0 0 8 0 0 cm BI /W 8 /H 1 /IM true ID \xaa EI").marks
    assert mark.image is not None
    assert (mark.image.masking, mark.image.colour) == (Masking.STENCIL, None)


def test_an_inline_image_in_a_space_of_the_resources() -> None:
    spot = Array([Name.Separation, Name.Moss, Name.DeviceCMYK, Dictionary(FunctionType=2)])
    drawn = Drawn().resource("ColorSpace", "Spot", spot)
    mark = only(drawn.read(b"8 0 0 8 0 0 cm BI /W 1 /H 1 /BPC 8 /CS /Spot ID \xaa EI"))
    assert mark.fill is not None
    assert mark.fill.space.inks == ("Moss",)


def test_an_image_without_pixels_is_left_out_and_told() -> None:
    drawn = Drawn()
    drawn.resource("XObject", "I", drawn.image(0, 10))
    page = drawn.read(b"/I Do")
    assert page.marks == ()
    assert kinds(page) == [ProblemKind.DAMAGED]


def _indexed(base: Name, colours: bytes) -> Array:
    return Array([Name.Indexed, base, 1, String(colours)])


@pytest.mark.parametrize(
    ("data", "entries", "flat", "white"),
    [
        (b"\x10\x20\x30" * 16, {}, True, False),
        (b"\xff\xff\xff" * 16, {}, True, True),
        (b"\xff\xff\xff" * 16, {"Decode": Array([1, 0, 1, 0, 1, 0])}, True, False),
        (b"\x10\x20\x30" * 15 + b"\x10\x20\x31", {}, False, False),
        (b"\x00" * 64, {"ColorSpace": Name.DeviceCMYK}, True, True),
        (b"\xff" * 4, {"ColorSpace": Name.DeviceGray, "BitsPerComponent": 1}, True, True),
        (b"\xff\xff\xff\x0f", {"ColorSpace": Name.DeviceGray, "BitsPerComponent": 1}, False, False),
        (b"\xff" * 5, {}, False, False),
        (b"\x01" * 16, {"ColorSpace": _indexed(Name.DeviceRGB, b"\x00\x00\x00\xff\xff\xff")}, True, True),
        (b"\x00" * 16, {"ColorSpace": _indexed(Name.DeviceRGB, b"\x00\x00\x00\xff\xff\xff")}, True, False),
        (b"\x01" * 16, {"ColorSpace": _indexed(Name.DeviceCMYK, b"\x00\x00\x00\x00\xff")}, True, False),
        (b"\xff" * 4, {"ColorSpace": _indexed(Name.DeviceCMYK, b"\x01" + b"\x00" * 7), "BitsPerComponent": 1},
         True, True),
    ],
)  # fmt: skip
def test_flat_images(data: bytes, entries: dict[str, object], flat: bool, white: bool) -> None:  # noqa: FBT001 - columns
    drawn = Drawn()
    drawn.resource("XObject", "I", drawn.image(4, 4, data, **entries))
    mark = only(drawn.read(b"10 0 0 10 0 0 cm /I Do"))
    assert mark.image is not None
    assert (mark.image.flat, mark.white) == (flat, white)


def test_one_pixel_is_flat_whatever_it_is() -> None:
    drawn = Drawn()
    image = drawn.image(1, 1)
    image.write(b"junk", filter=Name.DCTDecode)
    assert _placed(b"10 0 0 10 0 0 cm /I Do", image, drawn).flat


@pytest.mark.skipif(not features.check("jpg_2000"), reason="Pillow without JPEG 2000")
@pytest.mark.parametrize(
    ("mode", "kind", "channels"),
    [("RGB", ColourKind.RGB, 3), ("L", ColourKind.GREY, 1), ("RGBA", ColourKind.RGB, 3)],
)
def test_a_jpeg_2000_image_says_itself_what_it_is(mode: str, kind: ColourKind, channels: int) -> None:
    written = io.BytesIO()
    Image.effect_noise((32, 16), 50).convert(mode).save(written, "JPEG2000")
    drawn = Drawn()
    image = drawn.stream(b"", Type=Name.XObject, Subtype=Name.Image, Width=32, Height=16)
    image.write(written.getvalue(), filter=Name.JPXDecode)
    facts = _placed(b"10 0 0 10 0 0 cm /I Do", image, drawn)
    assert facts.colour is not None
    assert (facts.colour.kind, facts.colour.components, facts.bits) == (kind, channels, 8)


@pytest.mark.skipif(not features.check("jpg_2000"), reason="Pillow without JPEG 2000")
def test_a_bare_codestream_says_how_many_bits() -> None:
    written = io.BytesIO()
    Image.effect_noise((32, 16), 50).save(written, "JPEG2000", no_jp2=True)
    drawn = Drawn()
    image = drawn.stream(b"", Type=Name.XObject, Subtype=Name.Image)
    image.write(written.getvalue(), filter=Name.JPXDecode)
    facts = _placed(b"10 0 0 10 0 0 cm /I Do", image, drawn)
    assert (facts.width_px, facts.height_px, facts.bits) == (32, 16, 8)
    assert facts.colour is not None
    assert (facts.colour.kind, facts.colour.components) == (ColourKind.UNKNOWN, 1)


@pytest.mark.skipif(shutil.which("pdfimages") is None, reason="poppler's pdfimages is missing")
def test_resolutions_are_those_of_pdfimages(tmp_path: Path) -> None:
    drawn = Drawn()
    for number in range(5):
        pixels = bytes(range(256)) * 12
        drawn.resource(
            "XObject", f"I{number}", drawn.image(32, 32 - number, pixels[: 32 * (32 - number) * 3])
        )
    page = drawn.read(
        b"q 100 0 0 50 0 0 cm /I0 Do Q q 0 90 -30 0 100 100 cm /I1 Do Q q 50 50 -50 50 200 200 cm /I2 Do Q "
        b"q 80 0 40 60 10 200 cm /I3 Do Q q 20 5 -3 70 10 300 cm /I4 Do Q"
    )
    drawn.pdf.save(tmp_path / "drawn.pdf")
    command = ["pdfimages", "-list", str(tmp_path / "drawn.pdf")]
    done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60)
    rows = [line.split() for line in done.stdout.splitlines()[2:]]
    assert len(rows) == len(page.marks) == 5
    for row, mark in zip(rows, page.marks, strict=True):
        assert mark.image is not None
        assert (mark.image.width_px, mark.image.height_px) == (int(row[3]), int(row[4]))
        # pdfimages prints whole numbers.
        assert (mark.image.x_ppi, mark.image.y_ppi) == pytest.approx((int(row[12]), int(row[13])), abs=0.51)


@pytest.mark.parametrize(
    ("kind", "byte", "decode", "gone"),
    [
        ("SMask", b"\x00", None, True), ("SMask", b"\xff", None, False), ("SMask", b"\x00", [1, 0], False),
        ("SMask", b"\xff", [1, 0], True), ("SMask", b"\x80", [1, 0], False),
        ("SMask", b"\x00", [0.5, 1], False),
        ("Mask", b"\xff", None, True), ("Mask", b"\x00", None, False),
        ("Mask", b"\xff", [1, 0], False), ("Mask", b"\x00", [1, 0], True),
    ],
)  # fmt: skip
def test_a_picture_that_its_mask_takes_away_does_not_show(
    kind: str, byte: bytes, decode: list[int] | None, *, gone: bool
) -> None:
    """ISO 32000-2, 8.9.6.3: a 1 is masked out; 11.6.5.3: a soft mask of 0 is transparent."""
    drawn = Drawn()
    bits = {"ColorSpace": Name.DeviceGray} if kind == "SMask" else {"ImageMask": True, "BitsPerComponent": 1}
    mask = drawn.image(8, 8, byte * 64, **bits)
    if kind == "Mask":
        del mask["/ColorSpace"]
    if decode is not None:
        mask.Decode = Array(decode)
    picture = drawn.image(20, 30)
    picture[f"/{kind}"] = mask
    drawn.resource("XObject", "I", picture)
    mark = only(drawn.read(b"10 0 0 10 0 0 cm /I Do"))
    assert mark.shows is not gone


@pytest.mark.parametrize(("byte", "decode", "gone"), [(b"\xff", None, True), (b"\x00", None, False),
                                                      (b"\x00", [1, 0], True)])  # fmt: skip
def test_a_stencil_without_a_painted_bit_does_not_show(
    byte: bytes, decode: list[int] | None, *, gone: bool
) -> None:
    drawn = Drawn()
    image = drawn.image(8, 8, byte * 8, ImageMask=True, BitsPerComponent=1)
    del image["/ColorSpace"]
    if decode is not None:
        image.Decode = Array(decode)
    drawn.resource("XObject", "I", image)
    assert only(drawn.read(b"10 0 0 10 0 0 cm /I Do")).shows is not gone
