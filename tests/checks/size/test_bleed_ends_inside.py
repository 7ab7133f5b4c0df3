# Paint that fills the page and stops short of the cut: what is told of it, and what is a border.
import pytest

from hotfolder.checks.size.bleed import BleedSettings, check
from hotfolder.model.findings import Severity
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.marks import Mark, MarkKind, Source
from hotfolder.units import Length
from tests.artwork.colours import BLUE
from tests.artwork.flyer import Flyer, flyer, mm_box
from tests.artwork.plates import plates
from tests.checks.said import codes, figures, finding, mm

WANTED = BleedSettings(wanted=Length.of_mm(3))


def photo(inside: float, **sides: float) -> Flyer:
    left, bottom, right, top = (sides.get(edge.value, inside) for edge in Edge)
    return flyer().with_image((left, bottom, 148 - right, 210 - top), (1748, 2480))


@pytest.mark.parametrize("inside", [0.6, 0.8, 1, 1.5])
def test_a_photo_that_ends_just_inside_the_cut_was_meant_to_bleed(inside: float) -> None:
    found = finding(check(photo(inside).artwork(), WANTED))
    assert (found.code, found.severity, *figures(found)) == (
        "not-drawn",
        Severity.MUST_FIX,
        mm(-inside),
        mm(3),
    )
    assert (
        f"at all four edges the artwork (a picture) fills the page but stops {inside:g} mm short of"
        in found.message
    )
    assert "If you want a white border, make it 3 mm wide or more." in found.remedy


def test_so_it_is_where_the_plates_are_known() -> None:
    inked = plates(photo(0.8)).with_inks((0.8, 0.8, 147.2, 209.2), 40, 30, 0, 0)
    assert codes(check(inked.artwork(), WANTED)) == ["not-drawn"]


def test_a_photo_that_is_white_at_its_rim_has_no_end_that_anybody_sees() -> None:
    inked = plates(photo(0.8)).with_inks((12, 12, 136, 198), 40, 30, 0, 0)
    assert codes(check(inked.artwork(), WANTED)) == []


def test_a_photo_that_runs_on_at_three_sides_and_stops_before_the_fourth() -> None:
    found = finding(check(photo(-3, top=0.8).artwork(), WANTED))
    assert "at the top edge the artwork (a picture) fills the page but stops 0.8 mm short of" in found.message


def test_tiles_fill_a_page_together() -> None:
    piece = flyer()
    for x in range(4):
        piece = piece.with_image((max(0.8, x * 37), 0.8, min(147.2, (x + 1) * 37), 209.2), (400, 2400))
    assert codes(check(piece.artwork(), WANTED)) == ["not-drawn"]


@pytest.mark.parametrize(
    "piece",
    [
        photo(2),
        photo(5),
        photo(0.8, top=60, bottom=5),
        photo(0.8, top=30, bottom=30),
        flyer().with_background().with_image((0.8, 0.8, 147.2, 209.2), (1748, 2480)),
        flyer().with_outline(0.8, 0.8, 147.2, 209.2, 0.4),
        flyer().with_text((0.8, 0.8)),
    ],
    ids=["a narrow border", "a border", "the lower half", "a band", "on a ground", "a frame", "text"],
)  # fmt: skip
def test_what_does_not_fill_the_page_or_has_a_border_is_none(piece: Flyer) -> None:
    assert codes(check(piece.artwork(), WANTED)) == []


def test_the_spine_needs_no_bleed() -> None:
    bound = WANTED.model_copy(update={"not_at_spine": True})
    found = finding(check(photo(0.8).artwork(), bound))
    assert "at the top, bottom and right edges" in found.message


# Many fine lines side by side


def rows(reach_mm: float, count: int = 60, apart_mm: float = 1.2) -> Flyer:
    """Upright lines that run from the middle of the page to so far beyond its lower edge."""
    piece = flyer()
    for at in range(count):
        x = 10 + at * apart_mm
        piece = piece.with_outline(x, -reach_mm, x, 100, 0.3)
    return piece


def test_hatching_that_ends_at_the_cut_is_a_ground_that_ends_there() -> None:
    found = finding(check(rows(0).artwork(), WANTED))
    assert (found.code, found.measured) == ("not-drawn", mm(0.15))
    assert "at the bottom edge the artwork (fine lines) runs only 0.2 mm" in found.message


def test_hatching_in_one_path_is_hatching_too() -> None:
    lines = [mm_box(x, 0, x, 100) for x in range(10, 130)]
    around = Box.around([corner for box in lines for corner in box.corners])
    mark = Mark(
        MarkKind.PATH, around, around, Source("S"), stroke=BLUE, line_width_pt=0.5, pieces=tuple(lines)
    )
    assert codes(check(flyer().with_mark(mark).artwork(), WANTED)) == ["not-drawn"]


@pytest.mark.parametrize(
    "piece",
    [
        rows(3),
        rows(-4),
        rows(0, count=5),
        rows(0, count=14, apart_mm=2),
        rows(0).with_area(-3, -3, 151, 213),
        flyer().with_marks(*flyer().with_background().marks, *rows(0).marks),
    ],
    ids=["run on", "end inside", "a few", "far apart", "beneath an area", "on a ground"],
)
def test_other_lines_are_no_ground(piece: Flyer) -> None:
    assert [code for code in codes(check(piece.artwork(), WANTED)) if code == "not-drawn"] == []
