# Pictures of PDFs on plates: every kind of data, colour and mask, drawn by the renderer and, where the file
# format leaves room for doubt, by Ghostscript's tiffsep too.
import base64
import shutil
import struct
import subprocess
import zlib
from io import BytesIO
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from numpy.typing import NDArray
from pikepdf import Array, Dictionary, Name, String
from PIL import Image

from hotfolder.colour.conversions import Conversions
from hotfolder.drawing.spaces.view import View
from hotfolder.errors import NotDrawnError
from hotfolder.model.colour import PROCESS_INKS
from tests.drawing.images.pictures_on_plates import (
    BITS,
    INKS,
    NOTHING,
    RGB,
    SPREAD,
    STRIPES,
    Make,
    Pixels,
    drawn,
    flat,
    jpeg,
    jpeg_2000,
    masked,
    packed,
    picture,
    plates,
    ramp,
    soft_mask,
)
from tests.drawing.spaces.view_sheets import (
    SIDE,
    Sheet,
    image,
    tint,
)
from tests.plates.tiffsep import draw_plates, is_installed


def spot(pdf: pikepdf.Pdf) -> pikepdf.Object:
    return Array([Name.Separation, Name.Spot, Name.DeviceCMYK, tint(pdf, [0, 1, 1, 0])])


def predicted(pixels: Pixels) -> bytes:
    """Deflated, each row differenced from the one above, as in PNG (filter type 2)."""
    rows = pixels.reshape(len(pixels), -1)
    above = np.vstack([np.zeros_like(rows[:1]), rows[:-1]])
    marked = np.hstack([np.full((len(rows), 1), 2, np.uint8), rows - above])
    return zlib.compress(marked.tobytes())


NUMBERS = ((SPREAD * 7919) % 251).astype(np.uint8)
FOUR = np.repeat(NUMBERS, 4, axis=2) ^ np.array([0, 31, 62, 93], np.uint8)


# Pictures of named inks: what each pixel of each plate is follows from the data.
EXACT: list[tuple[str, Make, dict[str, Pixels]]] = [
    ("plain CMYK", picture(FOUR, ColorSpace=Name.DeviceCMYK),
     {ink: FOUR[..., at] for at, ink in enumerate(PROCESS_INKS)}),
    ("deflated", picture(FOUR, ColorSpace=Name.DeviceCMYK, Filter=Name.FlateDecode,
                         data=zlib.compress(FOUR.tobytes())),
     {ink: FOUR[..., at] for at, ink in enumerate(PROCESS_INKS)}),
    ("differenced", picture(FOUR, ColorSpace=Name.DeviceCMYK, Filter=Name.FlateDecode, data=predicted(FOUR),
                            DecodeParms=Dictionary(Predictor=15, Colors=4, Columns=SIDE)),
     {ink: FOUR[..., at] for at, ink in enumerate(PROCESS_INKS)}),
    ("two filters", picture(FOUR, ColorSpace=Name.DeviceCMYK, Filter=Array([Name.A85, Name.Fl]),
                            data=base64.a85encode(zlib.compress(FOUR.tobytes())) + b"~>"),
     {ink: FOUR[..., at] for at, ink in enumerate(PROCESS_INKS)}),
    ("run lengths", picture(NUMBERS, ColorSpace=Name.DeviceGray, Filter=Array([Name.RL]),
                            data=b"".join(b"\x00" + bytes([each]) for each in NUMBERS.ravel()) + b"\x80"),
     {"Black": 255 - NUMBERS[..., 0]}),
    ("decoded round", picture(FOUR, ColorSpace=Name.DeviceCMYK, Decode=[1, 0] * 4),
     {ink: 255 - FOUR[..., at] for at, ink in enumerate(PROCESS_INKS)}),
    ("16 bits", picture(NUMBERS, ColorSpace=Name.DeviceGray, BitsPerComponent=16,
                        data=(NUMBERS.astype(">u2") * 257).tobytes()), {"Black": 255 - NUMBERS[..., 0]}),
    ("4 bits", picture(NUMBERS, ColorSpace=Name.DeviceGray, BitsPerComponent=4,
                       data=packed(NUMBERS // 16, 4)),
     {"Black": 255 - NUMBERS[..., 0] // 16 * 17}),
    ("2 bits", picture(NUMBERS, ColorSpace=spot, BitsPerComponent=2, data=packed(NUMBERS // 64, 2)),
     {"Spot": NUMBERS[..., 0] // 64 * 85}),
    ("1 bit", picture(BITS, ColorSpace=Name.DeviceGray, BitsPerComponent=1, data=packed(BITS, 1)),
     {"Black": (1 - BITS[..., 0]) * 255}),
    ("1 bit, decoded", picture(BITS, ColorSpace=Name.DeviceGray, BitsPerComponent=1, data=packed(BITS, 1),
                               Decode=[1, 0]), {"Black": BITS[..., 0] * 255}),
    ("1 bit, indexed", picture(BITS, BitsPerComponent=1, data=packed(BITS, 1), ColorSpace=lambda pdf: Array(
        [Name.Indexed, spot(pdf), 1, String(b"\x20\xe0")])),
     {"Spot": 0x20 + BITS[..., 0] * 0xC0}),
    ("indexed", picture(NUMBERS, ColorSpace=lambda pdf: Array(
        [Name.Indexed, spot(pdf), 255, String(bytes(range(255, -1, -1)))])), {"Spot": 255 - NUMBERS[..., 0]}),
    ("indexed, beyond its end", picture(NUMBERS, ColorSpace=lambda pdf: Array(
        [Name.Indexed, spot(pdf), 1, String(b"\x00\x80")])),
     {"Spot": np.where(NUMBERS[..., 0] > 0, 0x80, 0).astype(np.uint8)}),
    ("spot", picture(NUMBERS, ColorSpace=spot), {"Spot": NUMBERS[..., 0]}),
    ("JPEG 2000, spot", picture(NUMBERS, ColorSpace=spot, Filter=Name.JPXDecode,
                                data=jpeg_2000(NUMBERS, "L")), {"Spot": NUMBERS[..., 0]}),
]  # fmt: skip


D50 = [0.9642, 1, 0.8249]


def without_markers(data: bytes) -> bytes:
    """JPEG data without those of JFIF and of Adobe (ITU-T T.81, B.1.1.4)."""
    kept, place = data[:2], 2
    while data[place + 1] != 0xDA:
        end = place + 2 + struct.unpack_from(">H", data, place + 2)[0]
        if data[place + 1] not in {0xE0, 0xEE}:
            kept += data[place:end]
        place = end
    return kept + data[place:]


def adobe(data: bytes, transform: int) -> bytes:
    """JPEG data with Adobe's marker, which says how its components were transformed."""
    bare = without_markers(data)
    return bare[:2] + b"\xff\xee\x00\x0eAdobe\x00\x64" + bytes(4) + bytes([transform]) + bare[2:]


@pytest.mark.parametrize("laid", [False, True])
@pytest.mark.parametrize(("make", "expected"), [each[1:] for each in EXACT], ids=[each[0] for each in EXACT])
def test_pixels_of_named_inks_are_those_of_the_data(
    make: Make, expected: dict[str, Pixels], *, laid: bool
) -> None:
    page_plates = plates(None, make, laid=laid)
    assert set(page_plates) == set(expected)
    for ink, plate in page_plates.items():
        assert np.abs(plate.astype(int) - expected[ink]).max() <= 1, ink


@pytest.mark.parametrize("side", [1, SIDE])
def test_fax_is_decoded_by_the_renderer(side: int) -> None:
    # Fax data (ITU-T T.6) made by libtiff, through Pillow.
    bits = BITS[:side, :side]
    shelf = BytesIO()
    Image.fromarray(bits[..., 0].astype(bool)).save(shelf, "TIFF", compression="group4")
    with Image.open(shelf) as tiff:
        tags = tiff.tag_v2  # type: ignore[attr-defined]  # Pillow's class for TIFF has it
        start, length = tags[273][0], tags[279][0]
    parameters = Dictionary(K=-1, Columns=side, Rows=side, BlackIs1=True)
    make = picture(
        bits, ColorSpace=Name.DeviceGray, BitsPerComponent=1, Filter=Name.CCITTFaxDecode,
        DecodeParms=parameters, data=shelf.getvalue()[start : start + length],
    )  # fmt: skip
    expected = (1 - bits[..., 0]) * 255
    np.testing.assert_array_equal(plates(None, make)["Black"], np.broadcast_to(expected, (SIDE, SIDE)))


CALIBRATED = Dictionary(
    WhitePoint=[0.9505, 1, 1.089], Gamma=[2.2] * 3,
    Matrix=[0.4124, 0.2126, 0.0193, 0.3576, 0.7152, 0.1192, 0.1805, 0.0722, 0.9505],
)  # fmt: skip


YCC, FOUR_INKS = jpeg(flat(*RGB), "RGB"), jpeg(flat(*INKS), "CMYK")


def dct(data: bytes, space: Name, **entries: object) -> Make:
    return picture(flat(0), ColorSpace=space, Filter=Name.DCTDecode, data=data, **entries)


# Even pictures whose colours depend on markers, on profiles, or on the reader's understanding.
EVEN: list[tuple[str, Make]] = [
    ("JPEG, JFIF", dct(YCC, Name.DeviceRGB)),
    ("JPEG, no marker", dct(without_markers(YCC), Name.DeviceRGB)),
    ("JPEG, Adobe says RGB", dct(adobe(YCC, 0), Name.DeviceRGB)),
    ("JPEG, Adobe before the entry",
     dct(adobe(YCC, 0), Name.DeviceRGB, DecodeParms=Dictionary(ColorTransform=1))),
    ("JPEG CMYK, Adobe", dct(FOUR_INKS, Name.DeviceCMYK)),
    ("JPEG CMYK, Adobe, decoded", dct(FOUR_INKS, Name.DeviceCMYK, Decode=[1, 0] * 4)),
    ("JPEG CMYK, no marker", dct(without_markers(FOUR_INKS), Name.DeviceCMYK)),
    ("JPEG YCCK", dct(adobe(FOUR_INKS, 2), Name.DeviceCMYK)),
    ("JPEG YCCK, decoded", dct(adobe(FOUR_INKS, 2), Name.DeviceCMYK, Decode=[1, 0] * 4)),
    ("JPEG in another filter", picture(
        flat(0), ColorSpace=Name.DeviceRGB, Filter=Array([Name.ASCII85Decode, Name.DCTDecode]),
        data=base64.a85encode(YCC) + b"~>")),
    ("JPEG 2000 without a space", picture(
        flat(*RGB), Filter=Name.JPXDecode, data=jpeg_2000(flat(*RGB), "RGB"))),
    ("RGB", picture(flat(*RGB), ColorSpace=Name.DeviceRGB)),
    ("calibrated RGB", picture(flat(*RGB), ColorSpace=Array([Name.CalRGB, CALIBRATED]))),
    ("calibrated grey", picture(flat(128), ColorSpace=Array(
        [Name.CalGray, Dictionary(WhitePoint=[0.9505, 1, 1.089], Gamma=2.2)]))),
    ("Lab", picture(flat(140, 158, 88), ColorSpace=Array(
        [Name.Lab, Dictionary(WhitePoint=D50, Range=[-128, 127, -128, 127])]))),
    ("indexed RGB", picture(flat(1), ColorSpace=Array(
        [Name.Indexed, Name.DeviceRGB, 1, String(b"\0\0\0" + bytes(RGB))]))),
    ("soft mask", masked(SMask=soft_mask(ramp()))),
    ("key", picture(STRIPES, ColorSpace=Name.DeviceCMYK, Mask=Array([0, 5] * 4))),
]  # fmt: skip


@pytest.mark.skipif(not is_installed(), reason="needs Ghostscript, whose tiffsep tells the plates")
def test_pictures_are_understood_as_by_tiffsep(conversions: Conversions, tmp_path: Path) -> None:
    # Reference: Ghostscript's tiffsep with the same press profile, sRGB for colours without a profile,
    # media-relative with black point compensation. Calibrated colours it converts by engines of its own.
    path = tmp_path / "pictures.pdf"
    with pikepdf.new() as pdf:
        for _, make in EVEN:
            page = pdf.add_blank_page(page_size=(SIDE, SIDE))
            page.obj.Resources = Dictionary(XObject=Dictionary(Picture=make(pdf)))
            page.obj.Contents = pdf.make_stream(f"{SIDE} 0 0 {SIDE} 0 0 cm /Picture Do".encode())
        pdf.save(path)
    expected = draw_plates(path, len(EVEN), tagged_as_delivered=False, finer=1)
    for (called, make), plates_there in zip(EVEN, expected, strict=True):
        for ink, plate in plates(conversions, make).items():
            there = plates_there.get(ink, np.zeros((1, 1), np.uint8))
            # 3 of 255 where colours are converted: its engine works in 16 bits along another way.
            assert plate.mean() == pytest.approx(there.mean(), abs=3), (called, ink)


@pytest.mark.parametrize(("transform", "expected"), [(0, False), (1, True), (None, True)])
def test_the_entry_tells_how_data_without_markers_were_transformed(
    transform: int | None, *, expected: bool
) -> None:
    # 7.4.8, table 13. Ghostscript leaves the entry aside here; poppler and the renderer follow it.
    parameters = {} if transform is None else {"DecodeParms": Dictionary(ColorTransform=transform)}
    make = dct(without_markers(YCC), Name.DeviceRGB, **parameters)
    luma = drawn(None, make, View.luminosity()).mean()
    meant = 255 - np.array(RGB) @ [0.3, 0.59, 0.11]
    assert (abs(luma - meant) < 2) == expected


def test_a_jpeg_of_other_components_than_its_space_goes_by_its_data() -> None:
    sheet = Sheet(None)
    make = dct(jpeg(flat(128), "L"), Name.DeviceRGB)
    space = sheet.images.space_of(make(sheet.pdf), NOTHING)
    assert space is not None
    assert space.family == "DeviceGray"
    assert plates(None, make)["Black"].mean() == pytest.approx(127, abs=1)


@pytest.mark.parametrize("before", [b"\r\n", b"\x00" * 300])
def test_a_jpeg_that_begins_a_little_later_is_drawn(before: bytes) -> None:
    # pdfium, poppler and Ghostscript look for the first marker (T.81, B.2.1: SOI).
    make = dct(before + jpeg(flat(128), "L"), Name.DeviceGray)
    assert plates(None, make)["Black"].mean() == pytest.approx(127, abs=1)


@pytest.mark.parametrize("mode", ["RGB", "CMYK", "L"])
@pytest.mark.parametrize("kind", ["JPEG", "JPEG 2000", "deflated"])
def test_large_pictures_keep_their_mean(mode: str, kind: str) -> None:
    # Twenty times finer than the drawing, of a size that no step divides.
    random = np.random.default_rng(3)
    channels = len(mode)
    seeds = random.integers(0, 256, (9, 9, channels), dtype=np.uint8)
    bands = [
        Image.fromarray(seeds[..., each]).resize((811, 797), Image.Resampling.BICUBIC)
        for each in range(channels)
    ]
    pixels = np.dstack([np.asarray(band) for band in bands])
    space = {"RGB": Name.DeviceRGB, "CMYK": Name.DeviceCMYK, "L": Name.DeviceGray}[mode]
    if kind == "JPEG":
        decode = {"Decode": [1, 0] * 4} if mode == "CMYK" else {}
        make = picture(pixels, ColorSpace=space, Filter=Name.DCTDecode, data=jpeg(pixels, mode), **decode)
    elif kind == "JPEG 2000":
        make = picture(pixels, ColorSpace=space, Filter=Name.JPXDecode, data=jpeg_2000(pixels, mode))
    else:
        make = picture(
            pixels, ColorSpace=space, Filter=Name.FlateDecode, data=zlib.compress(pixels.tobytes(), 1)
        )
    if mode == "RGB":
        expected = 255 - (pixels @ [0.3, 0.59, 0.11]).mean()
        assert drawn(None, make, View.luminosity(), laid=True).mean() == pytest.approx(expected, abs=0.6)
        return
    for ink, plate in plates(None, make, laid=True).items():
        meant = pixels[..., PROCESS_INKS.index(ink)].mean() if mode == "CMYK" else 255 - pixels.mean()
        assert plate.mean() == pytest.approx(meant, abs=0.6), ink


def test_a_key_does_not_bleed_into_what_is_painted() -> None:
    # White between stripes of full ink is keyed out; made eight times smaller, what is painted stays full.
    stripes = np.where((np.arange(SIDE * 16) % 64 < 20)[None, :], 0, 255).astype(np.uint8)
    pixels = np.repeat(stripes, SIDE * 16, axis=0)[..., None]
    make = picture(pixels, ColorSpace=Name.DeviceGray, Mask=Array([255, 255]))
    sheet = Sheet(None)
    made = sheet.images.drawn(make(sheet.pdf), NOTHING, SIDE, SIDE, View.of_inks(("Black",)))
    assert made is not None
    colours = np.frombuffer(made.read_bytes(), np.uint8)
    alpha = np.frombuffer(made.SMask.read_bytes(), np.uint8)
    assert set(colours[alpha > 0]) == {0}
    assert alpha.mean() / 255 == pytest.approx(20 / 64, abs=0.01)


def test_a_stencil_is_left_to_the_renderer() -> None:
    sheet = Sheet(None)
    stencil = image(sheet.pdf, packed(BITS, 1), SIDE, SIDE, BitsPerComponent=1, ImageMask=True)
    assert sheet.images.space_of(stencil, NOTHING) is None
    assert sheet.images.drawn(stencil, NOTHING, SIDE, SIDE, View.of_inks(("Black",))) is None


def test_an_inline_image_becomes_an_image() -> None:
    sheet = Sheet(None)
    entries = {
        "/W": SIDE, "/H": SIDE, "/BPC": 8, "/CS": Name.G, "/F": Name.Fl, "/D": Array([1, 0]),
    }  # fmt: skip
    made = sheet.images.inline(entries, zlib.compress(NUMBERS.tobytes()))
    assert made.read_bytes() == NUMBERS.tobytes()
    shown = sheet.images.drawn(made, NOTHING, SIDE, SIDE, View.of_inks(("Black",)))
    assert shown is not None
    assert shown.read_bytes() == (255 - NUMBERS).tobytes()


def test_what_was_drawn_can_be_let_go_and_made_again() -> None:
    sheet = Sheet(None)
    found = picture(FOUR, ColorSpace=Name.DeviceCMYK, SMask=soft_mask(ramp()))(sheet.pdf)
    view = View.of_inks(PROCESS_INKS[:3])
    first = sheet.images.drawn(found, NOTHING, SIDE, SIDE, view)
    assert first is not None
    before = first.read_bytes(), first.SMask.read_bytes()
    sheet.images.forget()
    assert (first.read_bytes(), first.SMask.read_bytes()) == (b"", b"")
    again = sheet.images.drawn(found, NOTHING, SIDE, SIDE, view)
    assert again is not None
    assert (again.read_bytes(), again.SMask.read_bytes()) == before


@pytest.mark.parametrize(
    "make",
    [
        picture(flat(0), ColorSpace=Name.DeviceGray, Width=0),
        picture(flat(0), ColorSpace=Name.DeviceGray, BitsPerComponent=3),
        picture(flat(0)),
        picture(flat(0), ColorSpace=Name.DeviceGray, data=b" ", Filter=Name.FlateDecode),
        picture(flat(0), ColorSpace=Name.DeviceGray, data=b"no JPEG", Filter=Name.DCTDecode),
        picture(flat(0), ColorSpace=Name.DeviceGray, data=b"no JPEG 2000", Filter=Name.JPXDecode),
        picture(flat(0), ColorSpace=Name.DeviceGray, data=b"x", Filter=Name.LZWDecode),
        picture(flat(0), ColorSpace=Name.DeviceGray, data=b"x", Filter=Name.Unheard),
        picture(flat(0), ColorSpace=Name.Unheard),
        picture(flat(0), ColorSpace=Name.DeviceGray, Mask=Array([1])),
        picture(flat(0), ColorSpace=Name.DeviceGray, SMask=picture(flat(0, 0, 0), ColorSpace=Name.DeviceRGB,
                Filter=Name.DCTDecode, data=YCC)),
    ],
)  # fmt: skip
def test_what_cannot_be_decoded_is_not_drawn(make: Make) -> None:
    sheet = Sheet(None)
    with pytest.raises(NotDrawnError) as raised:
        sheet.images.drawn(make(sheet.pdf), NOTHING, SIDE, SIDE, View.of_inks(("Black",)))
    assert raised.value.reason


def deep_jpeg_2000(pixels: NDArray[np.uint16]) -> bytes:
    """JPEG 2000 data of 16 bits a component, without loss, by ImageMagick."""
    height, width, channels = pixels.shape
    raw = ["-size", f"{width}x{height}", "-depth", "16", "-endian", "MSB"]
    kind = {3: "rgb", 4: "cmyk"}[channels]
    made = subprocess.run(
        ["convert", *raw, f"{kind}:-", "-quality", "100", "jp2:-"],
        input=pixels.astype(">u2").tobytes(), capture_output=True, check=True,
    )  # fmt: skip
    return made.stdout


@pytest.mark.skipif(shutil.which("convert") is None, reason="needs ImageMagick")
def test_jpeg_2000_of_16_bits_keeps_its_white_and_its_black(conversions: Conversions) -> None:
    pixels = np.zeros((SIDE, SIDE, 3), np.uint16)
    pixels[:, SIDE // 2 :] = 0xFFFF
    data = deep_jpeg_2000(pixels)
    make = picture(flat(0, 0, 0), data=data, Filter=Name.JPXDecode, ColorSpace=Name.DeviceRGB)
    ink = drawn(conversions, make, View.screen())
    assert (ink[:, : SIDE // 2] == 255).all()
    assert (ink[:, SIDE // 2 :] == 0).all()


@pytest.mark.skipif(shutil.which("convert") is None, reason="needs ImageMagick")
def test_jpeg_2000_of_16_bits_in_other_colours_is_not_drawn_wrongly(conversions: Conversions) -> None:
    data = deep_jpeg_2000(np.full((SIDE, SIDE, 4), 0xFFFF, np.uint16))
    make = picture(flat(0, 0, 0, 0), data=data, Filter=Name.JPXDecode, ColorSpace=Name.DeviceCMYK)
    with pytest.raises(NotDrawnError):
        drawn(conversions, make, View.of_inks(("Black",)))


def test_a_row_that_is_only_begun_is_left_out() -> None:
    make = picture(flat(0), ColorSpace=Name.DeviceGray, data=flat(0).tobytes()[: SIDE * 20 + 3])
    ink = drawn(None, make, View.of_inks(("Black",)))
    assert (ink[:20] == 255).all()
    assert (ink[20:] == 0).all()
