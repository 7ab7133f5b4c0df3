# Alpha channels of TIFF, PNG and layered files: whether they let anything through, by their pixels.

import shutil
from pathlib import Path

import numpy as np
import pytest
import pyvips
from PIL import Image

from hotfolder.measure import measure
from hotfolder.model.raster import RasterFacts
from tests.raster.raster_bytes import RATIONAL, SHORT, plain_fields, psd, resolution_info, tiff
from tests.reference.tools import run_tool

SIDE = 40


def cmyk_with_alpha(path: Path, alpha: int, packing: str = "none", bits: int = 8) -> Path:
    """A CMYK picture with an alpha channel whose last pixel has `alpha` (of 255)."""
    full = 2**bits - 1
    pixels = np.full((SIDE, SIDE, 5), full, np.uint8 if bits == 8 else np.uint16)
    pixels[..., :4] = np.arange(SIDE)[:, None, None] * full // SIDE
    pixels[-1, -1, 4] = alpha * full // 255
    kind = "uchar" if bits == 8 else "ushort"
    image = pyvips.Image.new_from_memory(pixels.tobytes(), SIDE, SIDE, 5, kind).copy(
        interpretation="cmyk", xres=12, yres=12
    )
    image.tiffsave(str(path), compression=packing)
    return path


def facts(path: Path) -> RasterFacts:
    artwork = measure(path)
    assert artwork.problems == ()
    raster = artwork.known_pages[0].raster
    assert raster is not None
    return raster


@pytest.mark.parametrize("packing", ["none", "lzw", "deflate", "packbits"])
@pytest.mark.parametrize("bits", [8, 16])
@pytest.mark.parametrize(("alpha", "opaque"), [(255, True), (254, False), (0, False)])
def test_a_cmyk_tiff_with_an_alpha_channel_is_read(
    tmp_path: Path, packing: str, bits: int, alpha: int, *, opaque: bool
) -> None:
    raster = facts(cmyk_with_alpha(tmp_path / "flyer.tif", alpha, packing, bits))
    assert (raster.colour.family, raster.alpha, raster.alpha_opaque) == ("CMYK", True, opaque)


@pytest.mark.skipif(shutil.which("identify") is None, reason="identify is not installed")
def test_another_program_takes_it_for_cmyk_with_alpha_too(tmp_path: Path) -> None:
    path = cmyk_with_alpha(tmp_path / "flyer.tif", 0, "lzw")
    told = run_tool("identify", "-format", "%[channels] %[opaque]", str(path)).text.lower()
    assert told.startswith("cmyka")
    assert told.endswith("false")


def test_lzw_data_that_break_off_are_still_damaged(tmp_path: Path) -> None:
    path = cmyk_with_alpha(tmp_path / "flyer.tif", 255, "lzw")
    data = bytearray(path.read_bytes())
    data[8:400] = bytes(392)
    path.write_bytes(data)
    assert measure(path).problems != ()


@pytest.mark.parametrize("mode", ["RGBA", "LA"])
@pytest.mark.parametrize(("alpha", "opaque"), [(255, True), (254, False)])
@pytest.mark.parametrize("suffix", ["png", "tif"])
def test_an_alpha_channel_is_opaque_where_every_pixel_of_it_is(
    tmp_path: Path, mode: str, alpha: int, suffix: str, *, opaque: bool
) -> None:
    picture = Image.new(mode, (SIDE, SIDE), (10,) * (len(mode) - 1) + (255,))
    picture.putpixel((SIDE - 1, SIDE - 1), (10,) * (len(mode) - 1) + (alpha,))
    path = tmp_path / f"flyer.{suffix}"
    picture.save(path, dpi=(300, 300))
    raster = facts(path)
    assert (raster.alpha, raster.alpha_opaque) == (True, opaque)


@pytest.mark.parametrize(("alpha", "opaque"), [(255, True), (128, False)])
def test_the_alpha_channel_of_a_tiff_may_stand_behind_another_one(
    tmp_path: Path, alpha: int, *, opaque: bool
) -> None:
    fields = [*plain_fields(8, 8, 5, [8] * 6), (338, SHORT, [0, 2])]
    ppi = [(282, RATIONAL, [300, 1]), (283, RATIONAL, [300, 1])]
    path = tmp_path / "flyer.tif"
    path.write_bytes(tiff(([*fields, *ppi], bytes([0, 0, 0, 100, 255, alpha]) * 64)))
    assert facts(path).alpha_opaque is opaque


def test_a_palette_with_a_clear_colour_is_not_opaque(tmp_path: Path) -> None:
    picture = Image.new("P", (SIDE, SIDE), 0)
    picture.putpalette([0, 0, 0, 255, 255, 255])
    picture.putpixel((3, 3), 1)
    path = tmp_path / "flyer.png"
    picture.save(path, transparency=1, dpi=(300, 300))
    assert (facts(path).alpha, facts(path).alpha_opaque) == (True, False)
    picture.putpixel((3, 3), 0)
    picture.save(path, transparency=1, dpi=(300, 300))
    assert facts(path).alpha_opaque


FULL_ROW, WIDE = b"\xff" * 300, (300, 3)


@pytest.mark.parametrize("run_length", [True, False])
@pytest.mark.parametrize("large", [True, False])
@pytest.mark.parametrize(
    ("rows", "opaque"),
    [
        ((FULL_ROW, FULL_ROW, FULL_ROW), True),
        ((FULL_ROW, FULL_ROW, FULL_ROW[:-1] + b"\xfe"), False),
        ((b"\0" + FULL_ROW[1:], FULL_ROW, FULL_ROW), False),
    ],
)
def test_the_alpha_channel_of_a_layered_file_is_looked_at(
    tmp_path: Path, rows: tuple[bytes, ...], *, run_length: bool, large: bool, opaque: bool
) -> None:
    path = tmp_path / "flyer.psd"
    path.write_bytes(
        psd(
            WIDE,
            4,
            5,
            resolution_info(300, 300),
            layers=-2,
            run_length=run_length,
            large=large,
            last_plane=rows,
        )
    )
    raster = facts(path)
    assert (raster.alpha, raster.alpha_opaque) == (True, opaque)


@pytest.mark.parametrize(("last", "opaque"), [(b"\xff\xff", True), (b"\xff\xfe", False)])
def test_16_bits_of_a_layered_file_are_looked_at_too(tmp_path: Path, last: bytes, *, opaque: bool) -> None:
    path = tmp_path / "flyer.psd"
    rows = (FULL_ROW * 2, FULL_ROW * 2, (FULL_ROW * 2)[:-2] + last)
    path.write_bytes(psd(WIDE, 4, 5, resolution_info(300, 300), layers=-2, depth=16, last_plane=rows))
    assert facts(path).alpha_opaque is opaque


def test_a_saved_selection_of_a_layered_file_is_no_alpha_channel(tmp_path: Path) -> None:
    path = tmp_path / "flyer.psd"
    path.write_bytes(psd(WIDE, 4, 5, resolution_info(300, 300), layers=2, last_plane=(FULL_ROW,) * 3))
    raster = facts(path)
    assert (raster.alpha, raster.alpha_opaque, raster.extra_channels) == (False, False, 1)


@pytest.mark.skipif(shutil.which("convert") is None, reason="convert is not installed")
@pytest.mark.parametrize(("corner", "opaque"), [("rgba(9,9,9,1)", True), ("rgba(9,9,9,0.5)", False)])
@pytest.mark.parametrize("packing", ["RLE", "None"])
def test_layered_files_of_another_program_are_told_the_same(
    tmp_path: Path, corner: str, packing: str, *, opaque: bool
) -> None:
    path = tmp_path / "flyer.psd"
    drawn = ("-size", "200x30", "xc:rgba(10,200,90,1)", "-alpha", "set", "-fill", corner)
    run_tool(
        "convert", *drawn, "-draw", "color 199,29 point", "-units", "PixelsPerInch", "-density", "300",
        "-compress", packing, str(path),
    )  # fmt: skip
    assert (
        run_tool("identify", "-format", "%[opaque] ", str(path)).text.lower().split()[0]
        == str(opaque).lower()
    )
    raster = facts(path)
    assert (raster.alpha, raster.alpha_opaque) == (True, opaque)
