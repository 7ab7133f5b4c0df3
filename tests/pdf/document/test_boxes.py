# Page geometry: boxes, inheritance, turning and user unit.

import re
import shutil
import subprocess
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotfolder.model.facts import ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.model.pages import PageBoxes
from hotfolder.pdf.document.boxes import Geometry, read_geometry
from tests.pdf.raw_pdf import open_raw, page, the_page, write_raw

A6_WITH_BLEED = "/MediaBox [0 0 314.65 436.54] /TrimBox [8.5 8.5 306.15 428.04]"


def geometry(entries: str, pages: str = "", **others: str) -> Geometry:
    """The geometry of a page with `entries`, under a page tree with `pages` entries."""
    objects: dict[int, str | bytes] = {
        2: f"<< /Type /Pages /Kids [3 0 R] /Count 1 {pages} >>",
        3: page(entries),
    }
    objects |= {int(number.removeprefix("object_")): body for number, body in others.items()}
    with open_raw(objects) as pdf:
        return read_geometry(the_page(pdf), "pages[0]")


def test_boxes_are_read_as_they_stand() -> None:
    page_geometry = geometry(
        "/MediaBox [0 0 300 400] /CropBox [1 1 299 399] /BleedBox [5 5 295 395] /ArtBox [9 9 20 30]"
    )
    assert page_geometry.boxes == PageBoxes(
        media=Box(0, 0, 300, 400), crop=Box(1, 1, 299, 399), bleed=Box(5, 5, 295, 395), art=Box(9, 9, 20, 30)
    )
    assert page_geometry.problems == ()


def test_media_and_crop_box_are_inherited_and_the_others_are_not() -> None:
    inherited = "/MediaBox [0 0 300 400] /CropBox [1 1 299 399]"
    page_geometry = geometry(
        "", pages=f"{inherited} /TrimBox [5 5 9 9] /BleedBox [5 5 9 9] /ArtBox [5 5 9 9]"
    )
    assert page_geometry.boxes == PageBoxes(media=Box(0, 0, 300, 400), crop=Box(1, 1, 299, 399))


def test_the_nearest_inherited_box_counts() -> None:
    page_geometry = geometry("/MediaBox [0 0 10 20]", pages="/MediaBox [0 0 300 400]")
    assert page_geometry.boxes.media == Box(0, 0, 10, 20)


def test_a_chain_of_parents_that_bites_its_tail_ends() -> None:
    page_geometry = geometry("/CropBox [0 0 1 1]", pages="/Parent 2 0 R")
    assert page_geometry.boxes == PageBoxes(media=None, crop=Box(0, 0, 1, 1))
    assert [problem.kind for problem in page_geometry.problems] == [ProblemKind.DAMAGED]


def test_numbers_may_be_references() -> None:
    page_geometry = geometry("/MediaBox 4 0 R", object_4="[0 0 5 0 R 400]", object_5="300")
    assert page_geometry.boxes.media == Box(0, 0, 300, 400)


def test_swapped_corners_are_put_in_order() -> None:
    assert geometry("/MediaBox [300 400 -10 -20]").boxes.media == Box(-10, -20, 300, 400)


def test_an_origin_away_from_zero_is_kept() -> None:
    assert geometry("/MediaBox [-100 50 200 450]").boxes.media == Box(-100, 50, 200, 450)


def test_the_user_unit_scales_all_boxes_and_is_not_inherited() -> None:
    page_geometry = geometry("/MediaBox [0 0 300 400] /TrimBox [10 10 20 20] /UserUnit 10")
    assert page_geometry.user_unit == 10
    assert (page_geometry.boxes.media, page_geometry.boxes.trim) == (
        Box(0, 0, 3000, 4000),
        Box(100, 100, 200, 200),
    )
    assert geometry("/MediaBox [0 0 300 400]", pages="/UserUnit 10").user_unit == 1


@pytest.mark.parametrize("junk", ["0", "-1", "/Two", "(2)", "true", "9999999999"])
def test_a_user_unit_that_is_none_counts_as_points(junk: str) -> None:
    page_geometry = geometry(f"/MediaBox [0 0 300 400] /UserUnit {junk}")
    assert (page_geometry.user_unit, page_geometry.boxes.media) == (1.0, Box(0, 0, 300, 400))
    assert [problem.where for problem in page_geometry.problems] == ["pages[0].user_unit"]


@pytest.mark.parametrize(
    "junk",
    ["[0 0 300]", "[]", "[0 0 (a) 4]", "[0 0 0 400]", "[0 0 /A /B]", "(0 0 1 1)", "<< /A 1 >>", "true",
     "[0 0 1e9999 5]", "[0 0 99999999999 5]", "9 0 R", "[0 0 true 4]"],
)  # fmt: skip
def test_a_box_that_is_none_is_left_out_and_told(junk: str) -> None:
    page_geometry = geometry(f"/MediaBox [0 0 300 400] /TrimBox {junk}")
    assert page_geometry.boxes == PageBoxes(media=Box(0, 0, 300, 400))
    troubles = [(problem.where, problem.kind) for problem in page_geometry.problems]
    # A reference to an object that is not there is the null object: as if the box were not named (7.3.10).
    assert troubles == ([] if junk == "9 0 R" else [("pages[0].boxes", ProblemKind.DAMAGED)])


def test_a_broken_box_gives_way_to_the_inherited_one() -> None:
    page_geometry = geometry("/MediaBox [0 0]", pages="/MediaBox [0 0 300 400]")
    assert page_geometry.boxes.media == Box(0, 0, 300, 400)
    assert len(page_geometry.problems) == 1


def test_a_page_without_a_size_has_none() -> None:
    page_geometry = geometry("")
    assert page_geometry.boxes == PageBoxes(media=None)
    assert [(problem.where, problem.kind) for problem in page_geometry.problems] == [
        ("pages[0].boxes", ProblemKind.DAMAGED)
    ]


@pytest.mark.parametrize(
    ("written", "turn"),
    [("90", 90), ("-90", 270), ("450", 90), ("360", 0), ("180.0", 180), ("-630", 90)],
)
def test_turns_are_normalised(written: str, turn: int) -> None:
    page_geometry = geometry(f"{A6_WITH_BLEED} /Rotate {written}")
    assert (page_geometry.rotate, page_geometry.problems) == (turn, ())


def test_a_turn_is_inherited() -> None:
    assert geometry(A6_WITH_BLEED, pages="/Rotate 270").rotate == 270
    assert geometry(f"{A6_WITH_BLEED} /Rotate 0", pages="/Rotate 270").rotate == 0


@pytest.mark.parametrize("junk", ["45", "/Left", "(90)", "1e3", "90.5", "[90]"])
def test_a_turn_that_is_none_is_noted(junk: str) -> None:
    page_geometry = geometry(f"{A6_WITH_BLEED} /Rotate {junk}")
    assert page_geometry.rotate == 0
    assert [(problem.where, problem.kind) for problem in page_geometry.problems] == [
        ("pages[0].rotate", ProblemKind.NOTE)
    ]


corner = st.floats(-14_400, 14_400, allow_nan=False).map(lambda value: round(value, 3))


@given(st.tuples(corner, corner, corner, corner), st.sampled_from([1, 2.5, 10]))
def test_any_four_numbers_with_extent_make_the_same_box_in_any_order_of_corners(
    corners: tuple[float, float, float, float], unit: float
) -> None:
    x0, y0, x1, y1 = corners
    orders = [(x0, y0, x1, y1), (x1, y1, x0, y0), (x0, y1, x1, y0), (x1, y0, x0, y1)]
    media_boxes = {
        geometry(f"/MediaBox [{' '.join(f'{value:.3f}' for value in order)}] /UserUnit {unit}").boxes.media
        for order in orders
    }
    assert len(media_boxes) == 1
    media = media_boxes.pop()
    if x0 == x1 or y0 == y1:
        assert media is None
    else:
        assert media is not None
        assert (media.width, media.height) == pytest.approx((abs(x1 - x0) * unit, abs(y1 - y0) * unit))


@pytest.mark.skipif(shutil.which("pdfinfo") is None, reason="poppler's pdfinfo is not installed")
@pytest.mark.parametrize(
    ("entries", "pages"),
    [
        (A6_WITH_BLEED, ""),
        (
            "/TrimBox [10 10 200 300] /BleedBox [5 5 205 305]",
            "/MediaBox [0 0 300 400] /CropBox [2 2 290 390]",
        ),
        ("/MediaBox [300 400 -10 -20] /ArtBox [50 60 20 30] /Rotate 90", ""),
        ("/MediaBox [-100.5 50.25 200 450] /CropBox [-90 60 190 440]", "/Rotate -90"),
    ],
)
def test_boxes_are_those_that_poppler_finds(tmp_path: Path, entries: str, pages: str) -> None:
    """Reference: poppler's `pdfinfo -box`, which fills in the defaults of ISO 32000-2, table 31."""
    objects: dict[int, str | bytes] = {
        2: f"<< /Type /Pages /Kids [3 0 R] /Count 1 {pages} >>", 3: page(entries)
    }  # fmt: skip
    file = write_raw(tmp_path / "boxes.pdf", objects)
    said = subprocess.run(["pdfinfo", "-box", str(file)], check=True, capture_output=True, text=True).stdout
    page_geometry = geometry(entries, pages)
    boxes = page_geometry.boxes
    crop = boxes.crop or boxes.media
    expected = {
        "MediaBox": boxes.media, "CropBox": crop, "BleedBox": boxes.bleed or crop,
        "TrimBox": boxes.trim or crop, "ArtBox": boxes.art or crop,
    }  # fmt: skip
    for name, box in expected.items():
        line = re.search(rf"{name}:\s+(\S+)\s+(\S+)\s+(\S+)\s+(\S+)", said)
        assert line is not None
        assert box is not None
        # pdfinfo prints two decimals.
        assert (box.x0, box.y0, box.x1, box.y1) == pytest.approx(
            [float(part) for part in line.groups()], abs=0.006
        )
    turn = re.search(r"Page rot:\s+(\d+)", said)
    assert turn is not None
    assert page_geometry.rotate == int(turn[1])
