# A raster file becomes pages: their size as declared, one mark, and what the header left open.
import struct
from pathlib import Path

import pytest
from PIL import Image

from hotfolder.measure.raster import measure_raster
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import ColourKind
from hotfolder.model.facts import FileFacts, Format, ProblemKind, Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.marks import MarkKind, Masking
from hotfolder.units import pt_to_mm
from tests.raster.raster_bytes import (
    SHORT,
    bare_jpeg,
    exif_block,
    jfif,
    measured,
    phys,
    png,
    psd,
    resolution_info,
    saved,
    segment,
)

FLYER = Image.new("CMYK", (1819, 2551))  # A5 and 3 mm of bleed at 300 ppi


def oriented(value: int) -> bytes:
    return segment(0xE1, b"Exif\0\0" + exif_block((274, SHORT, [value])))


def test_the_declared_size_is_the_page(tmp_path: Path) -> None:
    (page,) = measured(tmp_path, bare_jpeg(FLYER, jfif(1, 300, 300)), Format.JPEG).known_pages
    assert (page.number, page.rotate, page.user_unit) == (1, 0, 1)
    media = page.boxes.media
    assert media is not None
    assert pt_to_mm(media.width) == pytest.approx(154.01, abs=0.005)
    assert pt_to_mm(media.height) == pytest.approx(215.98, abs=0.005)
    assert isinstance(page.trim, Unmeasured)
    assert (page.boxes.trim, page.boxes.crop) == (None, None)


def test_the_picture_is_the_one_mark(tmp_path: Path) -> None:
    artwork = measured(tmp_path, bare_jpeg(FLYER, jfif(1, 300, 150)), Format.JPEG)
    (page,) = artwork.known_pages
    (mark,) = page.known_marks
    assert (mark.kind, mark.box, mark.visible, mark.on_paper) == (
        MarkKind.IMAGE, page.boxes.media, page.boxes.media, True,
    )  # fmt: skip
    assert mark.image is not None
    assert (mark.image.width_px, mark.image.height_px, mark.image.bits) == (1819, 2551, 8)
    assert mark.image.x_ppi == pytest.approx(300)
    assert mark.image.y_ppi == pytest.approx(150)
    assert mark.image.filters == ("JPEG",)
    assert [use.space.kind for use in artwork.colour_spaces()] == [ColourKind.CMYK]
    assert artwork.inks() == ("Cyan", "Magenta", "Yellow", "Black")
    assert artwork.problems == ()


@pytest.mark.parametrize("value", range(1, 9))
def test_a_turned_picture_gives_a_turned_page(value: int, tmp_path: Path) -> None:
    image = Image.new("RGB", (200, 100))
    data = bare_jpeg(image, jfif(1, 100, 100), oriented(value))
    (page,) = measured(tmp_path, data, Format.JPEG).known_pages
    assert page.boxes.media == (Box(0, 0, 72, 144) if value >= 5 else Box(0, 0, 144, 72))
    (mark,) = page.known_marks
    assert mark.image is not None
    assert (mark.image.x_ppi, mark.image.y_ppi) == (100, 100)


@pytest.mark.parametrize(("value", "box"), [(1, Box(0, 0, 144, 288)), (6, Box(0, 0, 288, 144))])
def test_an_oblong_resolution_turns_with_the_picture(value: int, box: Box, tmp_path: Path) -> None:
    data = bare_jpeg(Image.new("RGB", (200, 200)), jfif(1, 100, 50), oriented(value))
    (page,) = measured(tmp_path, data, Format.JPEG).known_pages
    assert page.boxes.media == box
    (mark,) = page.known_marks
    assert mark.image is not None
    assert (mark.image.x_ppi, mark.image.y_ppi) == (100, 50)  # along the axes as stored


def test_no_resolution_no_size(tmp_path: Path) -> None:
    artwork = measured(tmp_path, png((6, 4), 2, 8), Format.PNG)
    (page,) = artwork.known_pages
    assert page.boxes.media is None
    assert isinstance(page.marks, Unmeasured)
    assert isinstance(page.trim, Unmeasured)
    assert [(p.where, p.kind) for p in artwork.problems] == [("pages[1].images[1].x_ppi", ProblemKind.NOTE)]
    assert [use.space.kind for use in artwork.colour_spaces()] == [ColourKind.RGB]


@pytest.mark.parametrize("ppi", [1, 72, 96])
def test_small_figures_are_kept_as_declared(ppi: int, tmp_path: Path) -> None:
    (page,) = measured(tmp_path, bare_jpeg(FLYER, jfif(1, ppi, ppi)), Format.JPEG).known_pages
    assert page.raster is not None
    assert page.raster.x_ppi == ppi
    assert page.boxes.media is not None
    assert page.boxes.media.width == pytest.approx(1819 * 72 / ppi)


def test_alpha_masks_the_picture(tmp_path: Path) -> None:
    (page,) = measured(tmp_path, png((6, 4), 6, 8, phys(11811, 11811)), Format.PNG).known_pages
    (mark,) = page.known_marks
    assert mark.image is not None
    assert mark.image.masking is Masking.SOFT


def test_a_bitmap_is_line_art(tmp_path: Path) -> None:
    data = saved(Image.new("1", (60, 40)), "TIFF", compression="group4", dpi=(1200, 1200))
    (page,) = measured(tmp_path, data, Format.TIFF).known_pages
    (mark,) = page.known_marks
    assert mark.image is not None
    assert mark.image.line_art
    assert page.raster is not None
    assert (page.raster.colour.family, page.raster.compression) == ("bitmap", "CCITT G4")


def test_each_full_picture_of_a_tiff_is_a_page(tmp_path: Path) -> None:
    first, second = Image.new("L", (60, 40)), Image.new("RGB", (30, 50))
    data = saved(first, "TIFF", save_all=True, append_images=[second], dpi=(300, 300))
    artwork = measured(tmp_path, data, Format.TIFF)
    assert [page.number for page in artwork.known_pages] == [1, 2]
    assert [page.raster.pictures for page in artwork.known_pages if page.raster] == [2, 2]
    assert [use.space.kind for use in artwork.colour_spaces()] == [ColourKind.GREY, ColourKind.RGB]


def test_a_spot_channel_is_an_ink(tmp_path: Path) -> None:
    names = struct.pack(">I", 5) + "Gold\0".encode("utf-16-be")
    kinds = struct.pack(">I", 1) + struct.pack(">H4HHB", 0, 0, 0, 0, 0, 100, 2)
    data = psd(
        (5, 3), 4, 5, resolution_info(300, 300),
        b"8BIM" + struct.pack(">HHI", 1045, 0, len(names)) + names,
        b"8BIM" + struct.pack(">HHI", 1077, 0, len(kinds)) + kinds + b"\0",
    )  # fmt: skip
    assert measured(tmp_path, data, Format.PSD).inks() == ("Cyan", "Magenta", "Yellow", "Black", "Gold")


def test_a_file_without_a_picture(tmp_path: Path) -> None:
    artwork = measured(tmp_path, b"\xff\xd8\xff\xd9", Format.JPEG)
    assert isinstance(artwork.pages, Unmeasured)
    assert [(p.where, p.kind) for p in artwork.problems] == [("pages", ProblemKind.UNREADABLE)]


@pytest.mark.parametrize("form", [Format.PDF, None])
def test_a_format_that_is_no_picture(form: Format | None, tmp_path: Path) -> None:
    path = tmp_path / "x"
    path.write_bytes(b"%PDF-1.7")
    artwork = measure_raster(path, FileFacts("x", 8, "", form))
    assert isinstance(artwork, Artwork)
    assert [p.kind for p in artwork.problems] == [ProblemKind.UNREADABLE]


def test_a_file_that_is_away_is_no_picture_problem(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        measure_raster(tmp_path / "gone.jpg", FileFacts("gone.jpg", 0, "", Format.JPEG))
