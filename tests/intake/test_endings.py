"""Whether a file ends as its format ends: whole files of other writers, cut, and hollow."""

import io
import os
import shutil
import subprocess
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from hotfolder.intake.endings import why_not_whole
from tests.raster.raster_bytes import psd

NOISE = Image.effect_noise((400, 300), 90)


def picture(name: str, **options: object) -> bytes:
    kept = io.BytesIO()
    NOISE.convert("RGB").save(kept, name, **options)
    return kept.getvalue()


def pdf(*, linearize: bool = False) -> bytes:
    made = pikepdf.new()
    for number in range(20):
        page = made.add_blank_page(page_size=(400, 300))
        page.contents_add(b"% " + bytes(str(number), "ascii") * 400)
    kept = io.BytesIO()
    made.save(kept, linearize=linearize)
    return kept.getvalue()


WHOLE = {
    "plain.pdf": pdf(),
    "linearised.pdf": pdf(linearize=True),
    "photo.jpg": picture("JPEG"),
    "progressive.jpg": picture("JPEG", progressive=True),
    "picture.png": picture("PNG"),
    "plain.tif": picture("TIFF"),
    "lzw.tif": picture("TIFF", compression="tiff_lzw"),
    "deflate.tif": picture("TIFF", compression="tiff_adobe_deflate"),
    "big.tif": picture("TIFF", big_tiff=True),
}


@pytest.fixture
def laid(tmp_path: Path) -> Path:
    return tmp_path / "file"


@pytest.mark.parametrize("name", WHOLE)
def test_a_whole_file_is_whole(name: str, laid: Path) -> None:
    laid.write_bytes(WHOLE[name])
    assert why_not_whole(laid) is None


@pytest.mark.parametrize("part", [0.1, 0.5, 0.9, 0.99])
@pytest.mark.parametrize("name", WHOLE)
def test_a_file_cut_short_is_not_whole(name: str, part: float, laid: Path) -> None:
    laid.write_bytes(WHOLE[name][: int(len(WHOLE[name]) * part)])
    assert why_not_whole(laid)


@pytest.mark.parametrize("how", ["hole", "zeros"])
@pytest.mark.parametrize("name", WHOLE)
def test_a_file_of_full_size_whose_lower_half_is_not_written_is_not_whole(
    name: str, how: str, laid: Path
) -> None:
    data = WHOLE[name]
    with laid.open("wb") as file:
        file.write(data[: len(data) // 2])
        if how == "zeros":
            file.write(bytes(len(data) - len(data) // 2))
        file.truncate(len(data))
    assert why_not_whole(laid)


def test_room_set_aside_by_the_system_is_not_written(laid: Path) -> None:
    with laid.open("wb") as file:
        file.write(WHOLE["plain.tif"][:1000])
        os.posix_fallocate(file.fileno(), 0, len(WHOLE["plain.tif"]))
    assert why_not_whole(laid) == "its last part is still empty"


def test_a_tiff_whose_directory_comes_last_is_not_whole_before_it(laid: Path) -> None:
    """As writers do that put the directory's place into the header when they close the file."""
    laid.write_bytes(b"II*\0\0\0\0\0" + bytes(range(1, 255)) * 100)
    assert why_not_whole(laid) == "its directory is missing"


def test_white_paper_at_the_foot_of_a_picture_is_no_missing_end(laid: Path) -> None:
    """In CMYK without compression paper is zeros."""
    sheet = Image.new("CMYK", (800, 600))
    sheet.paste((10, 200, 30, 40), (0, 0, 800, 500))
    sheet.save(laid, "TIFF")
    assert why_not_whole(laid) is None


def test_bytes_behind_the_end_are_borne(laid: Path) -> None:
    for name, more in (
        ("plain.pdf", b"\r\n" * 300),
        ("plain.pdf", bytes(5000)),
        ("photo.jpg", bytes(5000)),
        ("photo.jpg", b"a trailer of the camera" * 20),
        ("picture.png", b"more"),
    ):
        laid.write_bytes(WHOLE[name] + more)
        assert why_not_whole(laid) is None, (name, more[:10])


def test_bytes_before_a_pdf_are_borne(laid: Path) -> None:
    laid.write_bytes(b"a line of the mail gateway\n" + WHOLE["plain.pdf"])
    assert why_not_whole(laid) is None


def test_the_small_picture_in_a_jpeg_does_not_end_the_large_one(laid: Path) -> None:
    thumbnail = io.BytesIO()
    NOISE.resize((40, 30)).save(thumbnail, "JPEG")
    data = picture("JPEG", exif=b"Exif\0\0" + thumbnail.getvalue())
    assert data.count(b"\xff\xd9") == 2
    laid.write_bytes(data)
    assert why_not_whole(laid) is None
    laid.write_bytes(data[:-2000])
    assert why_not_whole(laid) == "the end marker of a JPEG is missing"


@pytest.mark.parametrize("content", [b"", b"This is no artwork.\n", bytes(range(256)) * 40])
def test_of_no_known_format_nothing_is_asked(content: bytes, laid: Path) -> None:
    laid.write_bytes(content)
    assert why_not_whole(laid) is None


def test_a_file_that_cannot_be_read_or_is_none_is_left_to_others(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "link").symlink_to(tmp_path / "pipe")
    for name in ("pipe", "link", "nothing"):
        assert why_not_whole(tmp_path / name) is None


def test_a_psd_ends_with_its_merged_picture(laid: Path) -> None:
    data = psd()
    laid.write_bytes(data)
    assert why_not_whole(laid) is None
    laid.write_bytes(data[:-1])
    assert why_not_whole(laid) is not None
    laid.write_bytes(data[:20])
    assert why_not_whole(laid) == "its header is cut short"


@pytest.mark.skipif(shutil.which("gs") is None, reason="needs Ghostscript")
def test_ghostscripts_pdf_is_whole_when_it_says_so(laid: Path) -> None:
    subprocess.run(
        ["gs", "-q", "-dBATCH", "-dNOPAUSE", "-sDEVICE=pdfwrite", f"-sOutputFile={laid}", "-c",
         "100 100 300 300 rectfill showpage"], check=True,
    )  # fmt: skip
    assert why_not_whole(laid) is None
    laid.write_bytes(laid.read_bytes()[:-30])
    assert why_not_whole(laid) == "the end marker of a PDF is missing"
