# Plates drawn once, kept while there is room, and drawn anew where they were dropped.

from pathlib import Path

import numpy as np
import pikepdf
import pytest
from PIL import Image

from hotfolder.drawing import PlateDrawer
from hotfolder.measure import measure
from hotfolder.measure.raster import measure_raster
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import FileFacts, Format, Unmeasured
from hotfolder.model.plates import PagePlates


def pages_of_black(path: Path, count: int) -> Artwork:
    """A TIFF file of A7 pages whose black grows from page to page."""
    pages = [Image.new("L", (291, 413), 255 - 40 * number) for number in range(1, count + 1)]
    pages[0].save(path, "TIFF", save_all=True, append_images=pages[1:], dpi=(100, 100))
    return measure_raster(path, FileFacts(path.name, path.stat().st_size, "", Format.TIFF))


def black(drawn: PagePlates | Unmeasured) -> int:
    assert isinstance(drawn, PagePlates), drawn
    return int(drawn.inks["Black"].max())


def test_a_picture_and_a_pdf_are_drawn_each_in_its_way(tmp_path: Path) -> None:
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(200, 300))
    page.obj.Contents = pdf.make_stream(b"0 0 0 0.5 k 0 0 200 300 re f")
    pdf.save(tmp_path / "a.pdf")
    with PlateDrawer(tmp_path / "a.pdf", measure(tmp_path / "a.pdf", "a.pdf", None), None) as drawer:
        assert black(drawer.draw(1)) == pytest.approx(128, abs=1)
    with PlateDrawer(tmp_path / "a.tif", pages_of_black(tmp_path / "a.tif", 1), None) as drawer:
        assert black(drawer.draw(1)) == 40


def test_what_is_kept_is_not_drawn_again(tmp_path: Path) -> None:
    with PlateDrawer(tmp_path / "a.tif", pages_of_black(tmp_path / "a.tif", 3), None) as drawer:
        first = drawer.draw(1)
        assert black(drawer.draw(2)) == 80
        assert drawer.draw(1) is first


def test_what_was_drawn_longest_ago_is_dropped_where_room_is_short(tmp_path: Path) -> None:
    artwork = pages_of_black(tmp_path / "a.tif", 3)
    with PlateDrawer(tmp_path / "a.tif", artwork, None) as drawer:
        drawn = drawer.draw(1)
        assert isinstance(drawn, PagePlates)
        one_page = drawn.inks["Black"].nbytes
    with PlateDrawer(tmp_path / "a.tif", artwork, None, kept_bytes=2 * one_page) as drawer:
        first, second = drawer.draw(1), drawer.draw(2)
        assert drawer.draw(1) is first  # now page 2 was used longest ago
        drawer.draw(3)
        assert drawer.draw(1) is first
        again = drawer.draw(2)
        assert again is not second
        assert black(again) == 80


def test_the_page_drawn_last_is_kept_even_where_it_is_too_large(tmp_path: Path) -> None:
    with PlateDrawer(tmp_path / "a.tif", pages_of_black(tmp_path / "a.tif", 2), None, kept_bytes=1) as drawer:
        drawn = drawer.draw(1)
        assert drawer.draw(1) is drawn
        drawer.draw(2)
        assert drawer.draw(1) is not drawn


def test_a_page_without_plates_is_kept_as_such(tmp_path: Path) -> None:
    """A picture in RGB, and no press to convert it for."""
    Image.new("RGB", (100, 100), "red").save(tmp_path / "a.png", dpi=(100, 100))
    artwork = measure_raster(tmp_path / "a.png", FileFacts("a.png", 1, "", Format.PNG))
    with PlateDrawer(tmp_path / "a.png", artwork, None) as drawer:
        drawn = drawer.draw(1)
        assert isinstance(drawn, Unmeasured)
        assert drawer.draw(1) is drawn


def test_plates_are_pictures_of_the_frame(tmp_path: Path) -> None:
    with PlateDrawer(tmp_path / "a.tif", pages_of_black(tmp_path / "a.tif", 1), None) as drawer:
        drawn = drawer.draw(1)
    assert isinstance(drawn, PagePlates)
    assert list(drawn.inks) == ["Black"]
    for plate in drawn.inks.values():
        assert plate.dtype == np.uint8
        assert plate.shape == (drawn.frame.height_px, drawn.frame.width_px)
