# Pictures whose data break off are told; what programs leave out and nobody sees is not.
import io
import zlib

import pytest
from pikepdf import Array, Dictionary, Name, Stream
from PIL import Image

from hotfolder.artwork import ProblemKind
from hotfolder.pdf.image_data import BREAKS_OFF, NO_JPEG
from tests.pdf.drawn_page import Drawn

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
    found = drawn.resource("XObject", "Im", made).read(content)
    assert all(problem.kind is ProblemKind.DAMAGED for problem in found.problems)
    return [problem.what for problem in found.problems]


def jpeg(**how: object) -> bytes:
    file = io.BytesIO()
    Image.effect_noise((WIDTH * 4, HEIGHT * 4), 80).convert("RGB").save(file, "JPEG", **how)
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
        (jpeg()[:2000], (Name.DCTDecode,)),
        (jpeg(progressive=True)[:4000], (Name.DCTDecode,)),
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
    preview = jpeg()[:3000] + b"\xff\xd9"
    inside = b"\xff\xe1" + (len(preview) + 2).to_bytes(2) + preview
    for data, expected in (
        (whole[:2] + inside + whole[2:], []),
        (whole[:2] + inside + whole[2:2000], [BREAKS_OFF]),
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
