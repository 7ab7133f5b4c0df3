# Raster files as pictures: every kind of colour, upright, small, and never a crash.

from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from PIL import Image, ImageCms

from hotfolder.drawing import draw_pages
from hotfolder.measure import measure
from hotfolder.model.facts import Format, Unmeasured
from hotfolder.model.pictures import PagePicture
from tests.drawing.files import huge_png, raster_artwork, small_psd
from tests.raster.raster_bytes import LONG, plain_fields, tiff

WHITE = (255, 255, 255)


def drawn(path: Path, file_format: Format, **facts: Any) -> Image.Image:  # noqa: ANN401 - facts of the builder
    picture = draw_pages(path, raster_artwork(file_format, **({"width": 60, "height": 40} | facts)))[0]
    assert isinstance(picture, PagePicture), picture
    image = Image.open(BytesIO(picture.data))
    assert image.size == (picture.width_px, picture.height_px)
    return image.convert("RGB")


def middle(image: Image.Image) -> tuple[int, ...]:
    pixel = image.getpixel((image.width // 2, image.height // 2))
    assert isinstance(pixel, tuple)
    return tuple(int(value) for value in pixel)


def test_a_large_jpeg_is_shrunk(tmp_path: Path) -> None:
    Image.new("RGB", (3000, 1500), (10, 120, 200)).save(tmp_path / "a.jpg", quality=95)
    image = drawn(tmp_path / "a.jpg", Format.JPEG, width=3000, height=1500)
    assert image.size == (1000, 500)
    assert middle(image) == pytest.approx((10, 120, 200), abs=6)


def test_each_page_of_a_tiff_shows_its_own_picture_and_no_preview(tmp_path: Path) -> None:
    pages = [
        ([*plain_fields(6, 4, 2, [8] * 3), (254, LONG, [preview])], bytes(colour) * 24)
        for colour, preview in (((255, 0, 0), 0), ((0, 255, 0), 1), ((0, 0, 255), 0))
    ]
    path = tmp_path / "a.tif"
    path.write_bytes(tiff(*pages))
    pictures = [each for each in draw_pages(path, measure(path)) if isinstance(each, PagePicture)]
    shown = [middle(Image.open(BytesIO(each.data)).convert("RGB")) for each in pictures]
    assert shown == [(255, 0, 0), (0, 0, 255)]


def test_a_small_picture_is_not_blown_up(tmp_path: Path) -> None:
    Image.new("RGB", (60, 40), (10, 120, 200)).save(tmp_path / "a.png")
    assert drawn(tmp_path / "a.png", Format.PNG).size == (60, 40)


# FOGRA39 solids (characterisation data for ISO 12647-2:2004/Amd 1): cyan L*a*b* 55, -37, -50; magenta
# 48, 74, -3; yellow 89, -5, 93. In sRGB relative to the paper these are near the figures below,
# computed with LittleCMS; cyan lies outside of sRGB.
@pytest.mark.parametrize(
    ("inks", "shown"),
    [
        ((0, 0, 0, 0), (255, 255, 255)),
        ((255, 0, 0, 0), (0, 160, 228)),
        ((0, 255, 0, 0), (230, 15, 128)),
        ((0, 0, 255, 0), (255, 238, 0)),
        ((0, 0, 0, 255), (43, 43, 43)),
    ],
)
@pytest.mark.parametrize("kind", ["JPEG", "TIFF"])
def test_inks_look_like_printed_inks(
    tmp_path: Path, kind: str, inks: tuple[int, ...], shown: tuple[int, ...]
) -> None:
    """Pillow writes CMYK JPEG files inverted, with the marker of Adobe's programs, as they do themselves."""
    Image.new("CMYK", (60, 40), inks).save(
        tmp_path / "a", kind, **({"quality": 98} if kind == "JPEG" else {})
    )
    assert middle(drawn(tmp_path / "a", Format[kind])) == pytest.approx(shown, abs=6)


def test_an_embedded_profile_is_followed(tmp_path: Path) -> None:
    """sRGB with the names of its red and blue primaries exchanged: what it calls red is blue."""
    srgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    swapped = srgb.replace(b"rXYZ", b"????").replace(b"bXYZ", b"rXYZ").replace(b"????", b"bXYZ")
    Image.new("RGB", (60, 40), (200, 40, 40)).save(tmp_path / "a.png", icc_profile=swapped)
    assert middle(drawn(tmp_path / "a.png", Format.PNG)) == pytest.approx((40, 40, 200), abs=2)


def test_a_profile_that_does_not_fit_is_left_aside(tmp_path: Path) -> None:
    rgb = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    Image.new("CMYK", (60, 40), (0, 0, 0, 0)).save(tmp_path / "a.tif", icc_profile=rgb)
    assert middle(drawn(tmp_path / "a.tif", Format.TIFF)) == WHITE
    Image.new("RGB", (60, 40), (1, 2, 3)).save(tmp_path / "b.png", icc_profile=b"no profile at all")
    assert middle(drawn(tmp_path / "b.png", Format.PNG)) == (1, 2, 3)


@pytest.mark.parametrize("mode", ["I;16", "I;16B"])
def test_sixteen_bits_are_scaled_and_not_clipped(tmp_path: Path, mode: str) -> None:
    Image.new(mode, (60, 40), 0x8000).save(tmp_path / "a.tif")
    assert middle(drawn(tmp_path / "a.tif", Format.TIFF)) == pytest.approx((128, 128, 128), abs=1)


def test_sixteen_bit_png_is_scaled_too(tmp_path: Path) -> None:
    Image.new("I;16", (60, 40), 0x4000).save(tmp_path / "a.png")
    assert middle(drawn(tmp_path / "a.png", Format.PNG)) == pytest.approx((64, 64, 64), abs=1)


def test_floating_point_grey_is_scaled_by_its_own_extent(tmp_path: Path) -> None:
    image = Image.new("F", (60, 40), 0.0)
    image.paste(2.0, (30, 0, 60, 40))
    image.save(tmp_path / "a.tif")
    shown = drawn(tmp_path / "a.tif", Format.TIFF)
    assert shown.getpixel((5, 5)) == (0, 0, 0)
    assert shown.getpixel((55, 5)) == WHITE


def test_lab_is_shown_as_the_colour_it_names(tmp_path: Path) -> None:
    """L* 54, a* 81, b* 70 (D50) is near the red of sRGB, within rounding to 8 bits (IEC 61966-2-1)."""
    Image.new("LAB", (60, 40), (round(54.3 * 2.55), 128 + 81, 128 + 70)).save(tmp_path / "a.tif")
    assert middle(drawn(tmp_path / "a.tif", Format.TIFF)) == pytest.approx((255, 0, 0), abs=12)


def test_transparency_lies_over_white_paper(tmp_path: Path) -> None:
    image = Image.new("RGBA", (60, 40), (0, 0, 0, 0))
    image.paste((0, 0, 255, 255), (0, 0, 20, 40))
    image.save(tmp_path / "a.png")
    shown = drawn(tmp_path / "a.png", Format.PNG)
    assert shown.getpixel((5, 20)) == (0, 0, 255)
    assert shown.getpixel((50, 20)) == WHITE


def test_grey_with_alpha_and_palette_with_a_clear_entry(tmp_path: Path) -> None:
    Image.new("LA", (60, 40), (0, 0)).save(tmp_path / "la.png")
    assert middle(drawn(tmp_path / "la.png", Format.PNG)) == WHITE
    palette = Image.new("P", (60, 40), 1)
    palette.putpalette([255, 0, 0, 0, 255, 0])
    palette.save(tmp_path / "p.png", transparency=1)
    assert middle(drawn(tmp_path / "p.png", Format.PNG)) == WHITE
    palette.save(tmp_path / "q.png")
    assert middle(drawn(tmp_path / "q.png", Format.PNG)) == (0, 255, 0)


def test_line_art_of_one_bit(tmp_path: Path) -> None:
    image = Image.new("1", (60, 40), 1)
    image.paste(0, (0, 0, 30, 40))
    image.save(tmp_path / "a.tif", compression="group4")
    shown = drawn(tmp_path / "a.tif", Format.TIFF)
    assert shown.getpixel((5, 5)) == (0, 0, 0)
    assert shown.getpixel((55, 5)) == WHITE


# Where the red left edge of the stored picture is seen (Exif 2.32, CIPA DC-008, tag Orientation:
# which sides row 0 and column 0 of the stored picture are).
@pytest.mark.parametrize(
    ("orientation", "size", "at"),
    [
        (1, (60, 40), (3, 20)),
        (2, (60, 40), (56, 20)),
        (3, (60, 40), (56, 20)),
        (4, (60, 40), (3, 20)),
        (5, (40, 60), (20, 3)),
        (6, (40, 60), (20, 3)),
        (7, (40, 60), (20, 56)),
        (8, (40, 60), (20, 56)),
    ],
)
@pytest.mark.parametrize("kind", ["JPEG", "TIFF"])
def test_a_picture_is_turned_upright(
    tmp_path: Path, kind: str, orientation: int, size: tuple[int, int], at: tuple[int, int]
) -> None:
    image = Image.new("RGB", (60, 40), "white")
    image.paste((255, 0, 0), (0, 0, 12, 40))
    exif = Image.Exif()
    exif[0x0112] = orientation
    image.save(tmp_path / "a", kind, exif=exif)
    shown = drawn(tmp_path / "a", Format[kind], orientation=orientation)
    assert shown.size == size
    red = shown.getpixel(at)
    assert isinstance(red, tuple)
    assert red == pytest.approx((255, 0, 0), abs=12)


def test_a_flat_photoshop_document(tmp_path: Path) -> None:
    small_psd(tmp_path / "a.psd", (200, 100, 50))
    assert middle(drawn(tmp_path / "a.psd", Format.PSD, width=20, height=20)) == pytest.approx(
        (200, 100, 50), abs=4
    )


def test_layers_without_a_flat_picture_are_not_drawn(tmp_path: Path) -> None:
    small_psd(tmp_path / "a.psd", (255, 255, 255))
    artwork = raster_artwork(Format.PSD, 20, 20, flat_picture_valid=False)
    assert isinstance(draw_pages(tmp_path / "a.psd", artwork)[0], Unmeasured)


def test_a_picture_beyond_the_memory_budget_is_refused_undecoded(tmp_path: Path) -> None:
    huge_png(tmp_path / "a.png", 30_000)
    (missing,) = draw_pages(tmp_path / "a.png", raster_artwork(Format.PNG, 30_000, 30_000))
    assert isinstance(missing, Unmeasured)
    assert "900 MB" in missing.reason


def test_a_poster_beyond_pillows_own_limit_is_drawn(tmp_path: Path) -> None:
    """200 million pixels: a 1-bit sheet of 1 x 1.4 m at 300 ppi has as many."""
    assert Image.MAX_IMAGE_PIXELS is not None
    side = 14_200
    assert side * side > 2 * Image.MAX_IMAGE_PIXELS
    huge_png(tmp_path / "a.png", side)
    limit = Image.MAX_IMAGE_PIXELS
    image = drawn(tmp_path / "a.png", Format.PNG, width=side, height=side)
    assert image.size == (1000, 1000)
    assert limit == Image.MAX_IMAGE_PIXELS


@pytest.mark.parametrize("kind", ["JPEG", "TIFF", "PNG"])
def test_every_truncation_is_survived(tmp_path: Path, kind: str) -> None:
    image = Image.radial_gradient("L").resize((60, 40)).convert("RGB")
    image.save(tmp_path / "whole", kind)
    whole = (tmp_path / "whole").read_bytes()
    kinds = set()
    for length in range(0, len(whole), max(1, len(whole) // 60)):
        (tmp_path / "part").write_bytes(whole[:length])
        pictures = draw_pages(tmp_path / "part", raster_artwork(Format[kind], 60, 40))
        assert len(pictures) == 1
        kinds.add(type(pictures[0]))
    assert Unmeasured in kinds


@pytest.mark.parametrize("kind", ["JPEG", "TIFF", "PNG", "PSD"])
def test_every_flipped_byte_is_survived(tmp_path: Path, kind: str) -> None:
    if kind == "PSD":
        small_psd(tmp_path / "whole", (200, 100, 50))
    else:
        Image.radial_gradient("L").resize((60, 40)).convert("RGB").save(tmp_path / "whole", kind)
    whole = (tmp_path / "whole").read_bytes()
    for position in range(min(len(whole), 400)):
        spoilt = bytearray(whole)
        spoilt[position] ^= 0xFF
        (tmp_path / "part").write_bytes(spoilt)
        pictures = draw_pages(tmp_path / "part", raster_artwork(Format[kind], 60, 40), max_px=50)
        assert len(pictures) == 1
