# Pictures as bytes: whichever of PNG and JPEG is smaller, and never heavier than asked.

from io import BytesIO

import numpy as np
import pytest
from PIL import Image, ImageCms, ImageDraw

from hotfolder.drawing.proofs.encoding import encoded


def noise(width: int, height: int) -> Image.Image:
    values = np.random.default_rng(3).integers(0, 256, (height, width, 3), dtype=np.uint8)
    return Image.fromarray(values)


def drawing() -> Image.Image:
    image = Image.new("RGB", (600, 800), "white")
    pen = ImageDraw.Draw(image)
    for line in range(40):
        pen.text((20, 18 * line), "words set in small type, " * 3, fill=(20, 20, line * 5))
    return image


def opened(data: bytes) -> Image.Image:
    image = Image.open(BytesIO(data))
    image.load()
    return image


def test_flat_drawings_are_kept_without_loss() -> None:
    media_type, data = encoded(drawing())
    assert media_type == "image/png"
    assert opened(data).convert("RGB").tobytes() == drawing().tobytes()


def test_photos_become_jpeg() -> None:
    media_type, data = encoded(noise(300, 200))
    assert media_type == "image/jpeg"
    assert opened(data).format == "JPEG"


@pytest.mark.parametrize("most_bytes", [200_000, 40_000, 10_000, 2_000])
def test_nothing_is_heavier_than_asked(most_bytes: int) -> None:
    _, data = encoded(noise(900, 700), most_bytes)
    assert len(data) <= most_bytes
    assert opened(data).width / opened(data).height == pytest.approx(9 / 7, rel=0.02)


def test_a_lossless_picture_that_is_too_heavy_gives_way() -> None:
    _, whole = encoded(drawing())
    _, held = encoded(drawing(), len(whole) // 2)
    assert len(held) <= len(whole) // 2


def test_a_palette_is_kept() -> None:
    image = Image.new("P", (64, 64), 1)
    image.putpalette([255, 255, 255, 10, 120, 30])
    media_type, data = encoded(image)
    assert media_type == "image/png"
    assert opened(data).convert("RGB").getpixel((5, 5)) == (10, 120, 30)


def test_a_picture_is_the_same_bytes_whenever_it_is_made() -> None:
    """A profile that is made on the way bears the second of its making (ICC.1:2022, 7.2.9)."""
    picture = Image.new("RGB", (64, 64), (200, 60, 30))
    picture.info["icc_profile"] = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    _, data = encoded(picture)
    assert data == encoded(Image.new("RGB", (64, 64), (200, 60, 30)))[1]
    assert "icc_profile" not in Image.open(BytesIO(data)).info
