# Paint that fills the page and stops short of the cut: what is told of it, and what is a border.
from dataclasses import replace

import pytest

from hotfolder.checks.size.bleed import BleedSettings, check
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Severity
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.marks import Mark, MarkKind, Source
from hotfolder.units import Length
from tests.artwork.colours import BLUE, CMYK_WHITE
from tests.artwork.flyer import Flyer, flyer, mm_box
from tests.artwork.plates import plates
from tests.checks.said import codes, figures, mm, the_only

WANTED = BleedSettings(wanted=Length.of_mm(3))


def photo(inside: float, **sides: float) -> Flyer:
    left, bottom, right, top = (sides.get(edge.value, inside) for edge in Edge)
    return flyer().with_image((left, bottom, 148 - right, 210 - top), (1748, 2480))


@pytest.mark.parametrize("inside", [0.6, 0.8, 1, 1.5])
def test_a_photo_that_ends_just_inside_the_cut_was_meant_to_bleed(inside: float) -> None:
    finding = the_only(check(photo(inside).artwork(), WANTED))
    assert (finding.code, finding.severity, *figures(finding)) == (
        "not-drawn",
        Severity.MUST_FIX,
        mm(-inside),
        mm(3),
    )
    assert (
        f"at all four edges the artwork (a picture) fills the page but stops {inside:g} mm short of"
        in finding.message
    )
    assert "If you want a white border, make it 3 mm wide or more." in finding.remedy


def test_so_it_is_where_the_plates_are_known() -> None:
    inked = plates(photo(0.8)).with_inks((0.8, 0.8, 147.2, 209.2), 40, 30, 0, 0)
    assert codes(check(inked.artwork(), WANTED)) == ["not-drawn"]


def test_a_photo_that_is_white_at_its_rim_has_no_end_that_anybody_sees() -> None:
    inked = plates(photo(0.8)).with_inks((12, 12, 136, 198), 40, 30, 0, 0)
    assert codes(check(inked.artwork(), WANTED)) == []


def test_a_photo_that_runs_on_at_three_sides_and_stops_before_the_fourth() -> None:
    finding = the_only(check(photo(-3, top=0.8).artwork(), WANTED))
    assert (
        "at the top edge the artwork (a picture) fills the page but stops 0.8 mm short of" in finding.message
    )


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
    finding = the_only(check(photo(0.8).artwork(), bound))
    assert "at the top, bottom and right edges" in finding.message


# White that lies over a ground that runs on


def white_bars(inner_mm: float, *edges: Edge) -> Flyer:
    """A ground that runs on through the bleed, with white bars over it up to so far inside the cut."""
    piece = flyer().with_background(3)
    piece = piece.with_marks(replace(piece.marks[0], solid=piece.marks[0].visible))
    bars = {
        Edge.LEFT: (-4, -4, inner_mm, 214),
        Edge.BOTTOM: (-4, -4, 152, inner_mm),
        Edge.RIGHT: (148 - inner_mm, -4, 152, 214),
        Edge.TOP: (-4, 210 - inner_mm, 152, 214),
    }
    for edge in edges:
        piece = piece.with_area(*bars[edge], colour=CMYK_WHITE)
        piece = piece.with_marks(*piece.marks[:-1], replace(piece.marks[-1], white=True))
    return piece


def bare_at(piece: Flyer, inner_mm: float, *edges: Edge) -> Artwork:
    """The page with ink up to so far inside the cut at these edges, and through the bleed at the others."""
    left, bottom, right, top = (inner_mm if edge in edges else -3 for edge in Edge)
    inked = plates(piece).with_inks((left, bottom, 148 - right, 210 - top), 60, 20, 0, 0)
    for edge in Edge:
        inked = inked.with_edge(edge, None if edge in edges else 3.0)
    return inked.artwork()


def test_a_ground_that_white_bars_leave_just_inside_the_cut_ends_there() -> None:
    finding = the_only(check(bare_at(white_bars(1, *Edge), 1, *Edge), WANTED))
    assert (finding.code, *figures(finding)) == ("not-drawn", mm(-1), mm(3))
    assert "stops 1 mm short of the cut line, where something white covers it" in finding.message
    assert finding.remedy.startswith("Remove the white object that lies over it")


def test_so_it_is_at_the_one_edge_that_is_covered() -> None:
    finding = the_only(check(bare_at(white_bars(1, Edge.TOP), 1, Edge.TOP), WANTED))
    assert "at the top edge the artwork (a coloured area) fills the page but stops 1 mm" in finding.message


def test_so_it_is_where_the_white_is_a_frame_with_a_hole() -> None:
    piece = white_bars(1)
    around = mm_box(-4, -4, 152, 214)
    frame = Mark(
        MarkKind.PATH,
        around,
        around,
        Source("f*"),
        fill=CMYK_WHITE,
        white=True,
        hollow=mm_box(1, 1, 147, 209),
    )
    finding = the_only(check(bare_at(piece.with_mark(frame), 1, *Edge), WANTED))
    assert (finding.code, finding.measured) == ("not-drawn", mm(-1))


def test_a_border_that_is_meant_is_none() -> None:
    assert codes(check(bare_at(white_bars(2, *Edge), 2, *Edge), WANTED)) == []


def test_a_ground_that_is_white_by_itself_at_the_cut_is_covered_by_nothing() -> None:
    assert codes(check(bare_at(white_bars(1), 1, *Edge), WANTED)) == []


def test_white_that_lies_beneath_the_ground_covers_nothing() -> None:
    ground, *bars = white_bars(1, *Edge).marks
    assert codes(check(bare_at(flyer().with_marks(*bars, ground), 1, *Edge), WANTED)) == []


# Many fine lines side by side


def rows(reach_mm: float, count: int = 60, apart_mm: float = 1.2) -> Flyer:
    """Upright lines that run from the middle of the page to so far beyond its lower edge."""
    piece = flyer()
    for at in range(count):
        x = 10 + at * apart_mm
        piece = piece.with_outline(x, -reach_mm, x, 100, 0.3)
    return piece


def test_hatching_that_ends_at_the_cut_is_a_ground_that_ends_there() -> None:
    finding = the_only(check(rows(0).artwork(), WANTED))
    assert (finding.code, finding.measured) == ("not-drawn", mm(0.15))
    assert "at the bottom edge the artwork (fine lines) runs only 0.2 mm" in finding.message


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
