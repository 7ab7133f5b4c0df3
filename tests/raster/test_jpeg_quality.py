# JPEG quality by quantisation tables, against the library that made them and another tool.
import io
import shutil
import subprocess
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from hotfolder.raster.jpeg_quality import jpeg_quality, quality_of_tables


def saved(quality: int, **options: object) -> bytes:
    buffer = io.BytesIO()
    Image.linear_gradient("L").convert("RGB").save(buffer, "JPEG", quality=quality, **options)
    return buffer.getvalue()


@pytest.mark.parametrize("quality", [1, 5, 10, 25, 49, 50, 51, 75, 90, 95, 99])
def test_the_quality_that_a_picture_was_saved_with_is_found(quality: int) -> None:
    # Pillow saves with the common JPEG library, whose scale this is.
    assert jpeg_quality(saved(quality)) == quality
    assert jpeg_quality(saved(quality, progressive=True)) == quality


def test_the_finest_tables_are_the_best() -> None:
    assert jpeg_quality(saved(100)) == 100


@pytest.mark.skipif(shutil.which("identify") is None, reason="needs ImageMagick's identify")
@pytest.mark.parametrize("quality", [10, 30, 60, 85, 98])
def test_another_tool_finds_the_same(tmp_path: Path, quality: int) -> None:
    # ImageMagick estimates quality from the quantisation tables, too (%Q).
    path = tmp_path / "picture.jpg"
    path.write_bytes(saved(quality))
    result = subprocess.run(
        ["identify", "-format", "%Q", str(path)], check=True, capture_output=True, text=True, timeout=60
    )
    assert abs(int(result.stdout) - (jpeg_quality(path.read_bytes()) or 0)) <= 1


def test_tables_of_two_bytes_and_tables_in_another_order() -> None:
    narrow = bytes([0x01, *[99] * 64, 0x00, *[16] * 64])
    wide = bytes([0x10, *[0, 16] * 64])
    assert quality_of_tables(narrow) == quality_of_tables(wide) == quality_of_tables(bytes([0, *[16] * 64]))


@pytest.mark.parametrize(
    "data", [b"", b"\xff\xd8", b"\xff\xd8\xff\xd9", b"GIF89a", b"\xff\xd8\xff\xdb\x00\x05\x00\x01\x02"]
)
def test_what_has_no_tables_tells_nothing(data: bytes) -> None:
    assert jpeg_quality(data) is None


def test_only_the_chrominance_table_tells_nothing() -> None:
    assert quality_of_tables(bytes([0x01, *[99] * 64])) is None


@given(st.binary(max_size=300))
def test_no_bytes_break_it(data: bytes) -> None:
    for found in (jpeg_quality(b"\xff\xd8" + data), quality_of_tables(data)):
        assert found is None or 1 <= found <= 100
