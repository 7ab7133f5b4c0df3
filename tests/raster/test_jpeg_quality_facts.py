# The quality of JPEG data is a fact of pictures in PDFs and of picture files alike.
import io
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from hotfolder.measure import measure
from hotfolder.model.artwork import Artwork


def jpeg(quality: int) -> bytes:
    buffer = io.BytesIO()
    Image.linear_gradient("L").convert("RGB").save(buffer, "JPEG", quality=quality)
    return buffer.getvalue()


def with_picture(path: Path, data: bytes, image_filter: object) -> Artwork:
    """A PDF with one picture whose stream is `data`."""
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(200, 200))
    stream = pikepdf.Stream(pdf, data)
    stream.update(
        pikepdf.Dictionary(
            Type=pikepdf.Name.XObject, Subtype=pikepdf.Name.Image, Width=256, Height=256,
            ColorSpace=pikepdf.Name.DeviceRGB, BitsPerComponent=8, Filter=image_filter,
        )
    )  # fmt: skip
    page.obj.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(Im=stream))
    page.contents_add(b"q 100 0 0 100 50 50 cm /Im Do Q")
    pdf.save(path)
    return measure(path)


def quality_in(artwork: Artwork) -> int | None:
    (image,) = [mark.image for mark in artwork.known_pages[0].known_marks if mark.image is not None]
    return image.jpeg_quality


@pytest.mark.parametrize("quality", [30, 85])
def test_a_picture_in_a_pdf(tmp_path: Path, quality: int) -> None:
    found = with_picture(tmp_path / "a.pdf", jpeg(quality), pikepdf.Name.DCTDecode)
    assert quality_in(found) == quality


def test_what_is_no_jpeg_has_no_quality(tmp_path: Path) -> None:
    raw = bytes(256 * 256 * 3)
    assert quality_in(with_picture(tmp_path / "a.pdf", raw, pikepdf.Array())) is None
    assert quality_in(with_picture(tmp_path / "b.pdf", b"no JPEG", pikepdf.Name.DCTDecode)) is None


@pytest.mark.parametrize("quality", [30, 85])
def test_a_picture_file(tmp_path: Path, quality: int) -> None:
    path = tmp_path / "picture.jpg"
    path.write_bytes(jpeg(quality))
    raster = measure(path).known_pages[0].raster
    assert raster is not None
    assert raster.jpeg_quality == quality
