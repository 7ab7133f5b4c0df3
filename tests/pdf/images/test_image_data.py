# Pictures whose data break off are told; what programs leave out and nobody sees is not.
import io
import shutil
import subprocess
import zlib
from pathlib import Path

import pypdfium2
import pytest
from pikepdf import Array, Dictionary, Name, Stream
from PIL import Image, features

from hotfolder.model.facts import ProblemKind
from hotfolder.pdf.images.image_data import BREAKS_OFF, ELSEWHERE, NO_JPEG, OTHER_COLOURS, OTHER_SIZE
from tests.pdf.drawn_page import Drawn, only

WIDTH, HEIGHT = 30, 20
PIXELS = bytes((x * 7 + y * 3) % 256 for y in range(HEIGHT) for x in range(WIDTH * 3))
ROW = WIDTH * 3
SHOWN = b"100 0 0 100 10 10 cm /Im Do"


def picture(drawn: Drawn, data: bytes, *filters: Name, **entries: object) -> Stream:
    made = drawn.image(WIDTH, HEIGHT)
    made.write(data, filter=Array([*filters]) if len(filters) > 1 else filters[0] if filters else None)
    for key, value in entries.items():
        made[f"/{key}"] = value
    return made


def troubles(drawn: Drawn, made: Stream, content: bytes = SHOWN) -> list[str]:
    page = drawn.resource("XObject", "Im", made).read(content)
    assert all(problem.kind is ProblemKind.DAMAGED for problem in page.problems)
    return [problem.what for problem in page.problems]


@pytest.mark.parametrize("where", ["photo.jpg", Dictionary(Type=Name.Filespec, F="photo.jpg")])
def test_a_photo_whose_data_are_in_another_file_is_told_as_unreadable(where: object) -> None:
    """ISO 32000-2, 7.3.8.2, table 5: F names the file that has the data, in place of the stream."""
    drawn = Drawn()
    made = picture(drawn, b"", F=where, FFilter=Name.DCTDecode)
    page = drawn.resource("XObject", "Im", made).read(SHOWN)
    assert [(each.kind, each.what) for each in page.problems] == [(ProblemKind.UNREADABLE, ELSEWHERE)]


def test_a_mask_whose_data_are_in_another_file_is_told_too() -> None:
    drawn = Drawn()
    mask = picture(drawn, b"", F="mask.jpg", BitsPerComponent=8, ColorSpace=Name.DeviceGray)
    made = picture(drawn, PIXELS, SMask=mask)
    page = drawn.resource("XObject", "Im", made).read(SHOWN)
    assert [each.what for each in page.problems] == [ELSEWHERE]


def test_a_filter_named_in_short_is_no_other_file() -> None:
    drawn = Drawn()
    made = picture(drawn, PIXELS, F=Name.Fl)
    assert drawn.resource("XObject", "Im", made).read(SHOWN).problems == ()


def test_a_form_whose_instructions_are_in_another_file_is_told() -> None:
    drawn = Drawn()
    form = drawn.pdf.make_stream(b"", Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 9, 9], F="part.ps")
    page = drawn.resource("XObject", "Im", form).read(SHOWN)
    assert [each.kind for each in page.problems] == [ProblemKind.UNREADABLE]
    assert "another file" in page.problems[0].what


def jpeg(mode: str = "RGB", size: tuple[int, int] = (WIDTH, HEIGHT), **how: object) -> bytes:
    file = io.BytesIO()
    Image.effect_noise(size, 80).convert(mode).save(file, "JPEG", **how)
    return file.getvalue()


def predicted(data: bytes) -> bytes:
    """Rows as PNG has them, each behind a byte that names its predictor (none)."""
    return b"".join(b"\0" + data[start : start + ROW] for start in range(0, len(data), ROW))


PNG_ROWS = Dictionary(Predictor=15, Colors=3, Columns=WIDTH)


def test_whole_data_are_fine() -> None:
    for data, filters in (
        (PIXELS, ()),
        (zlib.compress(PIXELS), (Name.FlateDecode,)),
        (zlib.compress(PIXELS).hex().encode() + b">", (Name.ASCIIHexDecode, Name.FlateDecode)),
        (jpeg(), (Name.DCTDecode,)),
        (jpeg(progressive=True), (Name.DCTDecode,)),
    ):
        drawn = Drawn()
        assert troubles(drawn, picture(drawn, data, *filters)) == []
    drawn = Drawn()
    rows = zlib.compress(predicted(PIXELS))
    assert troubles(drawn, picture(drawn, rows, Name.FlateDecode, DecodeParms=PNG_ROWS)) == []


@pytest.mark.parametrize(
    ("data", "filters"),
    [
        (PIXELS[: len(PIXELS) // 2], ()),
        (zlib.compress(PIXELS)[:200], (Name.FlateDecode,)),
        (zlib.compress(PIXELS[: len(PIXELS) // 2]), (Name.FlateDecode,)),
        (b"\x78\x9cnonsense", (Name.FlateDecode,)),
        (jpeg()[:1000], (Name.DCTDecode,)),
        (jpeg(progressive=True)[:800], (Name.DCTDecode,)),
    ],
)
def test_data_that_break_off_are_told(data: bytes, filters: tuple[Name, ...]) -> None:
    drawn = Drawn()
    assert troubles(drawn, picture(drawn, data, *filters)) == [BREAKS_OFF]


def test_rows_by_predictor_are_one_byte_longer() -> None:
    """Without the last two rows there are as many bytes as the pixels alone would have, give or take."""
    drawn = Drawn()
    rows = zlib.compress(predicted(PIXELS)[: -2 * (ROW + 1)])
    assert troubles(drawn, picture(drawn, rows, Name.FlateDecode, DecodeParms=PNG_ROWS)) == [BREAKS_OFF]


def test_what_is_no_jpeg_is_told() -> None:
    drawn = Drawn()
    assert troubles(drawn, picture(drawn, b"nonsense" * 100, Name.DCTDecode)) == [NO_JPEG]


def test_the_preview_in_a_jpeg_is_not_its_end() -> None:
    whole = jpeg()
    preview = jpeg()[:1000] + b"\xff\xd9"
    inside = b"\xff\xe1" + (len(preview) + 2).to_bytes(2) + preview
    for data, expected in (
        (whole[:2] + inside + whole[2:], []),
        (whole[:2] + inside + whole[2:1000], [BREAKS_OFF]),
    ):
        drawn = Drawn()
        assert troubles(drawn, picture(drawn, data, Name.DCTDecode)) == expected


@pytest.mark.parametrize(
    ("data", "filters"),
    [
        (PIXELS[:-10], ()),  # part of the last row
        (zlib.compress(PIXELS)[:-4], (Name.FlateDecode,)),  # the checksum alone (RFC 1950, 2.2)
        (zlib.compress(PIXELS + b"\n"), (Name.FlateDecode,)),
        (jpeg() + b"\n\0\0", (Name.DCTDecode,)),
        (b"", ()),  # paints nothing
        (b"\0" * 10, (Name.CCITTFaxDecode,)),  # its length tells nothing
    ],
)
def test_what_nobody_sees_is_not_told(data: bytes, filters: tuple[Name, ...]) -> None:
    drawn = Drawn()
    assert troubles(drawn, picture(drawn, data, *filters)) == []


def test_masks_are_looked_at_too() -> None:
    drawn = Drawn()
    mask = drawn.image(WIDTH, HEIGHT, zlib.compress(b"\x80" * 100), ColorSpace=Name.DeviceGray)
    mask.Filter = Name.FlateDecode
    assert troubles(drawn, picture(drawn, PIXELS, SMask=mask)) == [BREAKS_OFF]


def test_a_picture_shown_often_is_told_once_and_one_that_is_not_shown_not_at_all() -> None:
    drawn = Drawn()
    made = picture(drawn, PIXELS[:100])
    assert troubles(drawn, made, SHOWN + b" /Im Do /Im Do") == [BREAKS_OFF]
    assert troubles(drawn, made, b"") == []


SIZES = ((60, 40), (60, 20), (15, 20), (30, 40), (30, 10))


@pytest.mark.parametrize("size", SIZES)
def test_a_jpeg_of_another_size_than_the_file_says_is_told(size: tuple[int, int]) -> None:
    drawn = Drawn()
    assert troubles(drawn, picture(drawn, jpeg(size=size), Name.DCTDecode)) == [OTHER_SIZE]
    drawn = Drawn()
    mask = drawn.image(WIDTH, HEIGHT, ColorSpace=Name.DeviceGray)
    mask.write(jpeg("L", size), filter=Name.DCTDecode)
    assert troubles(drawn, picture(drawn, PIXELS, SMask=mask)) == [OTHER_SIZE]


def test_a_row_more_than_the_file_says_is_no_damage() -> None:
    """A row that is left out at the end of twenty-one, none is slanted by."""
    drawn = Drawn()
    made = drawn.image(WIDTH, 40)
    made.write(jpeg(size=(WIDTH, 41)), filter=Name.DCTDecode)
    [problem] = drawn.resource("XObject", "Im", made).read(SHOWN).problems
    assert (problem.kind, problem.what) == (ProblemKind.NOTE, OTHER_SIZE)


@pytest.mark.parametrize(
    ("mode", "space"), [("L", Name.DeviceRGB), ("CMYK", Name.DeviceRGB), ("RGB", Name.DeviceGray)]
)
def test_a_jpeg_of_other_colours_than_the_file_says_is_told(mode: str, space: Name) -> None:
    drawn = Drawn()
    made = picture(drawn, jpeg(mode), Name.DCTDecode, ColorSpace=space)
    assert troubles(drawn, made) == [OTHER_COLOURS]


@pytest.mark.skipif(not features.check("jpg_2000"), reason="needs Pillow with OpenJPEG")
def test_a_jpeg_2000_of_another_size_than_the_file_says_is_told() -> None:
    for size, wanted in (((WIDTH, HEIGHT), []), ((60, 40), [OTHER_SIZE])):
        file = io.BytesIO()
        Image.new("RGB", size).save(file, "JPEG2000")
        drawn = Drawn()
        assert troubles(drawn, picture(drawn, file.getvalue(), Name.JPXDecode)) == wanted


def test_resolution_is_that_of_the_pixels_that_there_are() -> None:
    """Readers differ in what they draw of it; finer than the pixels in the data it is in none of them."""
    drawn = Drawn()
    made = drawn.image(600, 400)
    made.write(jpeg(size=(60, 40)), filter=Name.DCTDecode)
    mark = only(drawn.resource("XObject", "Im", made).read(b"72 0 0 72 10 10 cm /Im Do"))
    assert mark.image is not None
    assert (mark.image.width_px, mark.image.height_px) == (60, 40)
    assert (mark.image.x_ppi, mark.image.y_ppi) == pytest.approx((60, 40))


def test_a_jpeg_packed_once_more_tells_its_size_too() -> None:
    for size, wanted in (((WIDTH, HEIGHT), []), ((60, 40), [OTHER_SIZE])):
        drawn = Drawn()
        made = picture(drawn, zlib.compress(jpeg(size=size)), Name.FlateDecode, Name.DCTDecode)
        assert troubles(drawn, made) == wanted


def test_a_whole_picture_in_lzw_whose_codes_grow_late_is_not_told() -> None:
    """ISO 32000-2, 7.4.4.3, table 8 (EarlyChange 0): 255 codes of nine bits, then those of ten."""
    colours = bytes(range(250)) * 8  # few repetitions, so that the table of codes fills
    codes = enumerate([*colours, 257])
    bits = "".join(format(code, f"0{max(9, (257 + entries).bit_length())}b") for entries, code in codes)
    data = int(bits.ljust(-(-len(bits) // 8) * 8, "0"), 2).to_bytes(-(-len(bits) // 8))
    drawn = Drawn()
    made = drawn.image(50, 40, ColorSpace=Name.DeviceGray)
    made.write(data, filter=Name.LZWDecode, decode_parms=Dictionary(EarlyChange=0))
    assert made.read_bytes() == colours
    assert troubles(drawn, made) == []


@pytest.mark.parametrize("before", [b"\r\n", b"\0" * 10])
def test_jpeg_data_that_begin_a_little_later_are_jpeg_data(before: bytes) -> None:
    drawn = Drawn()
    assert troubles(drawn, picture(drawn, before + jpeg(), Name.DCTDecode)) == []
    assert troubles(drawn, picture(drawn, before + jpeg(size=(60, 40)), Name.DCTDecode)) == [OTHER_SIZE]
    # Outside judge: what pdfium draws (Ghostscript and poppler draw the same).
    shown = drawn.image(40, 40, ColorSpace=Name.DeviceGray)
    file = io.BytesIO()
    Image.new("L", (40, 40)).save(file, "JPEG")
    shown.write(before + file.getvalue(), filter=Name.DCTDecode)
    assert troubles(drawn, shown) == []
    saved = io.BytesIO()
    drawn.pdf.save(saved)
    with pypdfium2.PdfDocument(saved.getvalue()) as document:
        assert _blackness(document[0].render(grayscale=True).to_pil()) == pytest.approx(10_000, rel=0.03)


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler's pdftoppm is missing")
def test_programs_differ_in_what_they_draw_of_a_jpeg_of_another_size(tmp_path: Path) -> None:
    """A black square in a file that says it has twice the rows: pdfium draws it whole, poppler half of it."""
    drawn, file = Drawn(), io.BytesIO()
    Image.new("L", (40, 40)).save(file, "JPEG")
    made = drawn.image(40, 80, ColorSpace=Name.DeviceGray)
    made.write(file.getvalue(), filter=Name.DCTDecode)
    assert troubles(drawn, made) == [OTHER_SIZE]
    path = tmp_path / "picture.pdf"
    drawn.pdf.save(path)
    subprocess.run(
        ["pdftoppm", "-r", "72", "-gray", "-singlefile", path, tmp_path / "drawn"], check=True, timeout=60
    )
    with Image.open(tmp_path / "drawn.pgm") as by_poppler:
        blackness = [_blackness(by_poppler)]
    document = pypdfium2.PdfDocument(path)
    blackness.append(_blackness(document[0].render(grayscale=True).to_pil()))
    document.close()
    # The picture is 100 pt wide and high, on a page of 300 x 400 pt.
    assert blackness == pytest.approx([5_000, 10_000], rel=0.03)


def _blackness(drawing: Image.Image) -> int:
    """How many of the pixels are black."""
    return sum(drawing.convert("L").histogram()[:128])
