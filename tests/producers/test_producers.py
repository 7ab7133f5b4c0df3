# Files of seven programs measure what their sources say: page, trim, resolution and fonts.
import tomllib
from pathlib import Path
from typing import Any

import pytest

from hotfolder.measure import measure
from hotfolder.model.artwork import Artwork
from hotfolder.model.geometry import Box
from tests.producers import produced_files
from tests.producers.make import MAKERS, SOURCES

POINTS_PER_MM = 72 / 25.4
EXPECTED: dict[str, dict[str, Any]] = tomllib.loads(
    (Path(__file__).parent / "expected.toml").read_text(encoding="utf-8")
)
MOST_BYTES_OF_ALL = 500_000


@pytest.fixture(params=produced_files(), ids=lambda path: path.stem)
def path(request: pytest.FixtureRequest) -> Path:
    found = request.param
    assert isinstance(found, Path)
    return found


@pytest.fixture
def expected(path: Path) -> dict[str, Any]:
    return EXPECTED[path.stem]


@pytest.fixture
def artwork(path: Path) -> Artwork:
    return measure(path)


def in_points(corners_mm: list[float]) -> Box:
    return Box(*(corner * POINTS_PER_MM for corner in corners_mm))


def test_each_program_has_a_file_and_a_figure() -> None:
    assert {path.stem for path in produced_files()} == set(MAKERS) == set(EXPECTED)
    assert sum(path.stat().st_size for path in produced_files()) < MOST_BYTES_OF_ALL
    assert all(source.is_file() for source in SOURCES.iterdir())


def test_nothing_is_wrong_with_it(artwork: Artwork, expected: dict[str, Any]) -> None:
    assert artwork.problems == ()
    assert artwork.pdf is not None
    assert str(artwork.pdf.producer).startswith(expected["producer"])


def test_page_and_trim(artwork: Artwork, expected: dict[str, Any]) -> None:
    (page,) = artwork.known_pages
    assert page.boxes.media is not None
    tolerance = expected["rounding_pt"]
    width, height = expected["media_mm"]
    assert page.boxes.media.width == pytest.approx(width * POINTS_PER_MM, abs=tolerance)
    assert page.boxes.media.height == pytest.approx(height * POINTS_PER_MM, abs=tolerance)
    if "trim_mm" not in expected:
        assert page.boxes.trim is None
    else:
        trim = in_points(expected["trim_mm"])
        assert page.boxes.trim is not None
        assert page.boxes.trim.holds(trim, tolerance)
        assert trim.holds(page.boxes.trim, tolerance)


def test_images_have_the_resolution_at_which_they_were_placed(
    artwork: Artwork, expected: dict[str, Any]
) -> None:
    images = [mark.image for page in artwork.known_pages for mark in page.known_marks if mark.image]
    assert len(images) == len(expected["images"])
    for image, (width, height, x_ppi, y_ppi) in zip(images, expected["images"], strict=True):
        lost = expected.get("pixels_lost", 0)
        assert width - lost <= image.width_px <= width
        assert height - lost <= image.height_px <= height
        assert image.x_ppi == pytest.approx(x_ppi, rel=0.005)
        assert image.y_ppi == pytest.approx(y_ppi, rel=0.005)


def test_the_fonts_of_its_text(artwork: Artwork, expected: dict[str, Any]) -> None:
    fonts = {(font.name.rpartition("+")[2], font.embedded) for font in artwork.fonts}
    assert fonts == {(name, embedded) for name, embedded in expected["fonts"]}
    assert all(font.subset == font.embedded for font in artwork.fonts)
