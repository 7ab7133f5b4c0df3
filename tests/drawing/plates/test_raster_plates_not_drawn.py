# Raster files of which no plates are made: what is told, and that damage is survived.
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from hotfolder.drawing.plates.raster import RasterPlates
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Problem, ProblemKind, Unmeasured
from hotfolder.model.plates import PagePlates
from hotfolder.model.press import Press
from tests.drawing.files import huge_png
from tests.drawing.images.placed_pictures import (
    coated,
    means,
    measured,
    placed,
    plates_of,
)
from tests.drawing.plates.raster_plates_read import OLIVE, unmeasured
from tests.raster.raster_bytes import psd

# What cannot be drawn


@pytest.mark.parametrize("press", [None, Press("FOGRA51", "known by name only", None)])
def test_colours_without_a_press_to_convert_them_for_are_not_measured(
    tmp_path: Path, press: Press | None
) -> None:
    Image.new("RGB", (60, 40), OLIVE).save(tmp_path / "a.png")
    assert "no press profile" in unmeasured(tmp_path / "a.png", press=press)


def test_a_picture_whose_size_is_not_known_is_not_measured(tmp_path: Path) -> None:
    Image.new("L", (60, 40), 0).save(tmp_path / "a.png")
    artwork = measured(tmp_path / "a.png")  # its header declares no resolution, and nobody placed it
    plates = RasterPlates(tmp_path / "a.png", artwork, None).draw(1)
    assert isinstance(plates, Unmeasured)


def test_samples_of_another_kind_are_not_measured(tmp_path: Path) -> None:
    Image.new("F", (60, 40), 0.5).save(tmp_path / "a.tif")
    assert unmeasured(tmp_path / "a.tif")
    (tmp_path / "b.psd").write_bytes(psd((64, 64), 3, 3, depth=32, run_length=False))
    assert "32 bits" in unmeasured(tmp_path / "b.psd", press=coated())


def test_a_damaged_picture_is_never_told_as_bare_paper(tmp_path: Path) -> None:
    Image.radial_gradient("L").convert("CMYK").save(tmp_path / "a.tif")
    whole = (tmp_path / "a.tif").read_bytes()
    (tmp_path / "a.tif").write_bytes(whole[: len(whole) // 2])
    assert unmeasured(tmp_path / "a.tif")


def small_picture(path: Path) -> bytes:
    """Writes a small grey picture of the kind that its name says; its bytes."""
    if path.suffix == ".psd":
        path.write_bytes(psd((60, 40), 4, 4))
    else:
        Image.radial_gradient("L").resize((60, 40)).save(path)
    return path.read_bytes()


@pytest.mark.parametrize("name", ["a.jpg", "a.tif", "a.png", "a.psd"])
def test_every_truncation_is_survived(tmp_path: Path, name: str) -> None:
    whole = small_picture(tmp_path / name)
    artwork = placed(measured(tmp_path / name), 6)
    kinds = set()
    for length in range(0, len(whole) + 1, max(1, len(whole) // 40)):
        (tmp_path / name).write_bytes(whole[:length])  # somebody shortened it after it was measured
        kinds.add(type(RasterPlates(tmp_path / name, artwork, None).draw(1)))
    assert Unmeasured in kinds


@pytest.mark.parametrize("name", ["a.jpg", "a.tif", "a.png", "a.psd"])
def test_every_flipped_byte_is_survived(tmp_path: Path, name: str) -> None:
    whole = small_picture(tmp_path / name)
    artwork = placed(measured(tmp_path / name), 6)
    drawn_at_all = 0
    for position in range(min(len(whole), 300)):
        spoilt = bytearray(whole)
        spoilt[position] ^= 0xFF
        (tmp_path / name).write_bytes(spoilt)
        drawn_at_all += isinstance(RasterPlates(tmp_path / name, artwork, None).draw(1), PagePlates)
    assert drawn_at_all > 0


def test_problems_elsewhere_do_not_keep_a_picture_from_being_drawn(tmp_path: Path) -> None:
    Image.new("L", (60, 40), 0).save(tmp_path / "a.png")
    artwork: Artwork = placed(measured(tmp_path / "a.png"), 6)
    odd = Problem("pages[1].images[1].icc_profile", "it cannot be read", ProblemKind.DAMAGED)
    plates = RasterPlates(tmp_path / "a.png", replace(artwork, problems=(odd,)), None).draw(1)
    assert isinstance(plates, PagePlates)


def test_what_would_have_to_be_held_whole_is_refused_where_it_is_too_large(tmp_path: Path) -> None:
    """A progressive JPEG file keeps two bytes for each sample (ITU-T T.81, annex G)."""
    Image.new("CMYK", (64, 64), 0).save(tmp_path / "a.jpg", progressive=True)
    artwork = placed(measured(tmp_path / "a.jpg"), 6)
    assert isinstance(RasterPlates(tmp_path / "a.jpg", artwork, None).draw(1), PagePlates)
    (page,) = artwork.known_pages
    assert page.raster is not None
    large = replace(page, raster=replace(page.raster, width_px=10_000, height_px=14_000))
    plates = RasterPlates(tmp_path / "a.jpg", replace(artwork, pages=(large,)), None).draw(1)
    assert isinstance(plates, Unmeasured)
    assert "1120 MB" in plates.reason


def test_a_sheet_of_line_art_beyond_pillows_own_limit(tmp_path: Path) -> None:
    """200 million pixels of black in a file of few bytes."""
    huge_png(tmp_path / "a.png", 14_200)
    plates = plates_of(tmp_path / "a.png", px_per_mm=14.2)
    assert means(plates) == pytest.approx({"Black": 100})
