# JPEG 2000 pictures of less than 8 bits a component, or of a depth that their data alone tell (ISO 32000-2,
# 7.4.9).
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from pikepdf import Array, Name, String
from PIL import Image

from tests.drawing.rewriting.rewritten_page import Plated, cmyk

PLACE = b"40 0 0 40 10 10 cm /I Do"
CYANS = Array([
    Name.Indexed, Name.DeviceCMYK, 15, String(b"".join(bytes([17 * place, 0, 0, 0]) for place in range(16))),
])  # fmt: skip


def codestream(value: int, bits: int) -> bytes:
    """2 by 2 samples of `bits` bits, all `value`: coded as of 8 bits, the header made to say fewer."""
    # Half of the range is taken off before coding (ISO/IEC 15444-1, annex G.1), and added in decoding.
    stored = value + 128 - (1 << (bits - 1))
    shelf = BytesIO()
    pixels = np.full((2, 2), stored, np.uint8)
    Image.fromarray(pixels).save(shelf, "JPEG2000", irreversible=False, no_jp2=True)
    data = bytearray(shelf.getvalue())
    depth_at = data.index(b"\xff\x51") + 40
    assert data[depth_at] == 7
    data[depth_at] = bits - 1
    return bytes(data)


def drawn(tmp_path: Path, data: bytes, space: object, bits: int | None) -> dict[str, float]:
    page = Plated(tmp_path / "a.pdf")
    picture = page.image("I", data, space)
    picture.Filter = Name.JPXDecode
    if bits is None:
        del picture.BitsPerComponent
    else:
        picture.BitsPerComponent = bits
    return page.draw(PLACE).at(30, 30)


@pytest.mark.parametrize(
    ("value", "bits"), [(15, 4), (0, 4), (6, 4), (1, 1), (0, 1), (3, 2), (2, 2), (127, 7)]
)
def test_samples_of_few_bits_run_from_black_to_white(tmp_path: Path, value: int, bits: int) -> None:
    light = value / (2**bits - 1)
    found = drawn(tmp_path, codestream(value, bits), Name.DeviceGray, bits)
    assert found == cmyk(0, 0, 0, 1 - light)


@pytest.mark.parametrize("said", [None, 4, 8])
def test_places_in_a_palette_are_as_deep_as_the_data_whatever_the_dictionary_says(
    tmp_path: Path, said: int | None
) -> None:
    assert drawn(tmp_path, codestream(9, 4), CYANS, said) == cmyk(9 / 15)


def test_places_in_a_palette_of_8_bits_that_the_dictionary_does_not_tell(tmp_path: Path) -> None:
    assert drawn(tmp_path, codestream(9, 8), CYANS, None) == cmyk(9 / 15)
