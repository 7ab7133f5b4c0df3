# Pages of a PDF as pictures: whole sheet, turned, what prints and nothing else.

import shutil
import subprocess
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from hotfolder.drawing import draw_pages
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page, PageBoxes
from hotfolder.model.pictures import PagePicture, picture_fact
from tests.drawing.files import (
    NO_MARKS,
    NO_TRIM,
    annotated_pdf,
    corner_pdf,
    layered_pdf,
    many_pages_pdf,
    pdf_artwork,
)

WHITE = (255, 255, 255)
RED, GREEN, BLUE = (255, 0, 0), (0, 255, 0), (0, 0, 255)


def only(pictures: tuple[PagePicture | Unmeasured, ...]) -> PagePicture:
    assert len(pictures) == 1
    assert isinstance(pictures[0], PagePicture), pictures[0]
    return pictures[0]


def opened(picture: PagePicture) -> Image.Image:
    return Image.open(BytesIO(picture.data)).convert("RGB")


def near(found: object, wanted: tuple[int, int, int], tolerance: int = 40) -> bool:
    """JPEG rings around edges; solid areas stay near."""
    assert isinstance(found, tuple)
    return all(abs(a - b) <= tolerance for a, b in zip(found, wanted, strict=True))


@pytest.mark.parametrize("inherited", [False, True])
def test_the_whole_sheet_is_drawn_not_the_crop_box(tmp_path: Path, inherited: bool) -> None:  # noqa: FBT001
    artwork = corner_pdf(tmp_path / "a.pdf", inherited=inherited)
    picture = only(draw_pages(tmp_path / "a.pdf", artwork, max_px=300))
    assert (picture.width_px, picture.height_px) == (200, 300)
    assert picture.box == Box(-10, -10, 190, 290)
    image = opened(picture)
    assert near(image.getpixel((5, 294)), RED)
    assert near(image.getpixel((5, 5)), GREEN)
    assert near(image.getpixel((194, 5)), BLUE)
    assert near(image.getpixel((194, 294)), WHITE)


# Where the three corners land when the page is turned clockwise (ISO 32000-2, Table 31, Rotate).
@pytest.mark.parametrize(
    ("rotate", "size", "red", "green", "blue"),
    [
        (90, (300, 200), (5, 5), (294, 5), (294, 194)),
        (180, (200, 300), (194, 5), (194, 294), (5, 294)),
        (270, (300, 200), (294, 194), (5, 194), (5, 5)),
    ],
)
def test_a_turned_page_is_drawn_as_it_is_seen(
    tmp_path: Path,
    rotate: int,
    size: tuple[int, int],
    red: tuple[int, int],
    green: tuple[int, int],
    blue: tuple[int, int],
) -> None:
    artwork = corner_pdf(tmp_path / "a.pdf", rotate)
    picture = only(draw_pages(tmp_path / "a.pdf", artwork, max_px=300))
    image = opened(picture)
    assert image.size == size
    assert picture.rotate == rotate
    assert [
        near(image.getpixel(at), colour) for at, colour in ((red, RED), (green, GREEN), (blue, BLUE))
    ] == [
        True,
        True,
        True,
    ]


def test_a_user_unit_changes_the_box_and_not_the_picture(tmp_path: Path) -> None:
    artwork = corner_pdf(tmp_path / "a.pdf", user_unit=10)
    picture = only(draw_pages(tmp_path / "a.pdf", artwork, max_px=300))
    assert (picture.width_px, picture.height_px) == (200, 300)
    assert picture.box == Box(-100, -100, 1900, 2900)
    assert near(opened(picture).getpixel((5, 5)), GREEN)


def test_only_annotations_and_fields_that_print_are_drawn(tmp_path: Path) -> None:
    artwork = annotated_pdf(tmp_path / "a.pdf")
    image = opened(only(draw_pages(tmp_path / "a.pdf", artwork, max_px=200)))
    assert near(image.getpixel((50, 150)), BLUE)  # printing field
    assert near(image.getpixel((50, 50)), BLUE)  # printing stamp
    assert near(image.getpixel((150, 150)), WHITE)  # field for the screen
    assert near(image.getpixel((150, 50)), WHITE)  # stamp for the screen


def test_a_layer_that_is_off_on_paper_is_not_drawn(tmp_path: Path) -> None:
    artwork = layered_pdf(tmp_path / "a.pdf")
    image = opened(only(draw_pages(tmp_path / "a.pdf", artwork, max_px=200)))
    assert near(image.getpixel((50, 50)), WHITE)
    assert near(image.getpixel((150, 50)), RED)


def test_pages_with_findings_come_first_and_in_page_order(tmp_path: Path) -> None:
    artwork = many_pages_pdf(tmp_path / "a.pdf", 12)
    pictures = draw_pages(tmp_path / "a.pdf", artwork, max_pages=4, max_px=50, pages=(11, 7, 99))
    assert [picture.page for picture in pictures if isinstance(picture, PagePicture)] == [1, 2, 7, 11]


def test_an_enormous_strip_stays_within_its_pixels(tmp_path: Path) -> None:
    import pikepdf  # noqa: PLC0415 - this test alone builds its file here

    pdf = pikepdf.new()
    pdf.add_blank_page(page_size=(14400, 3))
    pdf.save(tmp_path / "a.pdf")
    page = Page(1, 0, 1, PageBoxes(media=Box(0, 0, 14400, 3)), NO_TRIM, NO_MARKS)
    picture = only(draw_pages(tmp_path / "a.pdf", pdf_artwork(page)))
    assert (picture.width_px, picture.height_px) == (1000, 1)


def test_a_broken_file_gives_a_reason_and_no_exception(tmp_path: Path) -> None:
    artwork = corner_pdf(tmp_path / "a.pdf")
    (tmp_path / "a.pdf").write_bytes(b"%PDF-1.7 and nothing else")
    (missing,) = draw_pages(tmp_path / "a.pdf", artwork)
    assert isinstance(missing, Unmeasured)
    assert missing.what == picture_fact(1)


def test_a_page_that_is_not_there_costs_only_its_own_picture(tmp_path: Path) -> None:
    two = many_pages_pdf(tmp_path / "a.pdf", 2)
    three = many_pages_pdf(tmp_path / "b.pdf", 3)
    pictures = draw_pages(tmp_path / "a.pdf", three, max_px=50)
    assert [type(picture) for picture in pictures] == [PagePicture, PagePicture, Unmeasured]
    assert len(two.known_pages) == 2


def test_facts_of_another_page_size_draw_nothing_wrong(tmp_path: Path) -> None:
    corner_pdf(tmp_path / "a.pdf")
    other = Page(1, 0, 1, PageBoxes(media=Box(0, 0, 900, 900)), NO_TRIM, NO_MARKS)
    (missing,) = draw_pages(tmp_path / "a.pdf", pdf_artwork(other))
    assert isinstance(missing, Unmeasured)


@pytest.mark.parametrize("box", [Box(0, 0, 0, 100), Box(0, 0, 100, float("inf"))])
def test_a_page_without_extent_is_not_drawn(tmp_path: Path, box: Box) -> None:
    corner_pdf(tmp_path / "a.pdf")
    (missing,) = draw_pages(
        tmp_path / "a.pdf", pdf_artwork(Page(1, 0, 1, PageBoxes(media=box), NO_TRIM, NO_MARKS))
    )
    assert isinstance(missing, Unmeasured)


def test_every_truncation_of_a_file_is_survived(tmp_path: Path) -> None:
    artwork = annotated_pdf(tmp_path / "whole.pdf")
    whole = (tmp_path / "whole.pdf").read_bytes()
    for length in range(0, len(whole), 97):
        (tmp_path / "part.pdf").write_bytes(whole[:length])
        pictures = draw_pages(tmp_path / "part.pdf", artwork, max_px=40)
        assert len(pictures) == 1


def test_unmeasured_pages_give_no_pictures(tmp_path: Path) -> None:
    artwork = corner_pdf(tmp_path / "a.pdf")
    nothing = Artwork(artwork.file, Unmeasured("pages", "unreadable"))
    assert draw_pages(tmp_path / "a.pdf", nothing) == ()


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="pdftoppm (poppler-utils) is not installed")
@pytest.mark.parametrize("rotate", [0, 90, 180, 270])
def test_size_and_looks_agree_with_poppler(tmp_path: Path, rotate: int) -> None:
    """Reference: poppler's pdftoppm, which draws the media box unless told to crop.

    One pixel of size for rounding up; a mean difference of 3 of 255 for smoothing and JPEG.
    """
    artwork = corner_pdf(tmp_path / "a.pdf", rotate)
    subprocess.run(
        ["pdftoppm", "-r", "72", "-png", "-singlefile", str(tmp_path / "a.pdf"), str(tmp_path / "reference")],
        check=True,
        timeout=60,
    )
    reference = Image.open(tmp_path / "reference.png").convert("RGB")
    drawn = opened(only(draw_pages(tmp_path / "a.pdf", artwork, max_px=300)))
    assert abs(drawn.width - reference.width) <= 1
    assert abs(drawn.height - reference.height) <= 1
    assert drawn.width / drawn.height == pytest.approx(reference.width / reference.height, rel=0.01)
    assert mean_difference(drawn, reference.resize(drawn.size)) < 3


def mean_difference(one: Image.Image, other: Image.Image) -> float:
    first, second = one.tobytes(), other.tobytes()
    return sum(abs(a - b) for a, b in zip(first, second, strict=True)) / len(first)
