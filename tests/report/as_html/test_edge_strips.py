# The enlarged edges: where lines and places go on a strip, and the words beside it.

from dataclasses import replace

import pytest

from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.inks import CELL_PT, EdgePaint, PageInk
from hotfolder.model.pictures import EdgePicture, EncodedPicture
from hotfolder.report.as_html.edge_strips import Strip, edge_strips
from hotfolder.report.notes import Note
from tests.drawing.plates_by_hand import TRIM, flyer_plates, ink_of, mm_box, page_of
from tests.report.samples import BLEED_FINDING

BLEED_PT = 3 * CELL_PT
PICTURE = EncodedPicture(b"x", "image/png", 100, 10, "an edge")
# What a strip shows of a sheet with 3 mm of bleed, and 5 mm inside the trim.
BOXES = {
    Edge.TOP: mm_box(0, 208, 154, 216),
    Edge.RIGHT: mm_box(146, 0, 154, 216),
    Edge.BOTTOM: mm_box(0, 0, 154, 8),
    Edge.LEFT: mm_box(0, 0, 8, 216),
}


def ink() -> PageInk:
    return ink_of(flyer_plates(px_per_mm=3))


def paint(edge: Edge, *reach_mm: float | None, sheet_mm: float = 3) -> EdgePaint:
    reach = tuple(None if each is None else each * CELL_PT for each in reach_mm)
    return EdgePaint(edge, 3 * CELL_PT, CELL_PT, reach, sheet_mm * CELL_PT)


def strip(edge: Edge, *boxes: Box, reach: EdgePaint | None = None, bleed_pt: float = BLEED_PT) -> Strip:
    facts = replace(ink(), edges=() if reach is None else (reach,))
    note = Note(3, replace(BLEED_FINDING, boxes=boxes), "Bleed")
    picture = EdgePicture(edge, edge, BOXES[edge], PICTURE)
    (found,) = edge_strips(page_of(1, facts), [picture], bleed_pt, [note] if boxes else [])
    return found


@pytest.mark.parametrize("edge", Edge)
def test_the_outside_is_up_and_across_the_edge_is_larger(edge: Edge) -> None:
    shown = strip(edge)
    assert shown.bleed is not None
    per_mm = (shown.trim.y1 - shown.bleed.y1) / 3
    along_mm = 148 if edge in {Edge.TOP, Edge.BOTTOM} else 210
    assert shown.ends[1].x1 - shown.ends[0].x1 == pytest.approx(shown.width * along_mm / (along_mm + 10))
    assert per_mm > 2 * shown.width / (along_mm + 10)
    assert shown.bleed.y1 == pytest.approx(2 * per_mm)
    # The sheet ends with the bleed; the strip goes on to 2 mm beyond it, and 5 mm inside.
    assert shown.shown.y == pytest.approx(shown.bleed.y1)
    assert shown.shown.y + shown.shown.height == pytest.approx(shown.height)
    assert shown.height == pytest.approx(10 * per_mm)


# A place in the bleed 10 to 30 mm from the corner where a clockwise walk along the edge begins.
@pytest.mark.parametrize(
    ("edge", "box"),
    [
        (Edge.TOP, mm_box(13, 213, 33, 216)),
        (Edge.RIGHT, mm_box(151, 183, 154, 203)),
        (Edge.BOTTOM, mm_box(121, 0, 141, 3)),
        (Edge.LEFT, mm_box(0, 13, 3, 33)),
    ],
)
def test_places_lie_where_they_are_on_the_way_around(edge: Edge, box: Box) -> None:
    shown = strip(edge, box)
    ((note, frame),) = shown.places
    per_mm = (shown.ends[1].x1 - shown.ends[0].x1) / (148 if edge in {Edge.TOP, Edge.BOTTOM} else 210)
    assert note.number == 3
    assert frame.x - shown.ends[0].x1 == pytest.approx(10 * per_mm)
    assert frame.width == pytest.approx(20 * per_mm)
    assert frame.y + frame.height == pytest.approx(shown.trim.y1)
    assert shown.notes == (note,)


def test_a_place_at_another_edge_is_not_shown() -> None:
    along_the_top = mm_box(3, 213, 151, 216)
    assert strip(Edge.TOP, along_the_top).places
    for edge in (Edge.RIGHT, Edge.BOTTOM, Edge.LEFT):
        assert strip(edge, along_the_top).places == ()


def test_a_hairline_of_a_place_can_be_seen() -> None:
    ((_, frame),) = strip(Edge.TOP, mm_box(150.99, 213, 151, 213.01)).places
    assert frame.width >= 5
    assert frame.height >= 5


@pytest.mark.parametrize(
    ("reach", "said", "not_said"),
    [
        (paint(Edge.TOP, None, None), "No paint touches the trim", "wanted"),
        (paint(Edge.TOP, 3, None, 3), "at least 3 mm", "wanted"),
        (paint(Edge.TOP, 2.6, 3), "at least 2.6 mm", "wanted"),
        (paint(Edge.TOP, 0, 0, 2.99, None), "0 mm to 2.9 mm beyond the trim; along 2 mm", "sheet itself"),
        (paint(Edge.TOP, 0, 0, sheet_mm=0), "Paint ends at the trim, along 2 mm of this edge; 3 mm", "0 mm"),
        (paint(Edge.TOP, 0, 0, sheet_mm=0), "The sheet itself ends at the trim.", "at least"),
        (paint(Edge.TOP, 1, 1, sheet_mm=1), "The sheet itself ends 1 mm beyond the trim", "at least"),
    ],
)
def test_what_was_measured_stands_beside_the_strip(reach: EdgePaint, said: str, not_said: str) -> None:
    words = " ".join(strip(Edge.TOP, reach=reach).words)
    assert said in words
    assert not_said not in words


def test_what_was_not_measured_is_told() -> None:
    assert "not measured" in " ".join(strip(Edge.TOP).words)


def test_without_bleed_wanted_no_bleed_is_drawn() -> None:
    shown = strip(Edge.TOP, reach=paint(Edge.TOP, 0), bleed_pt=0)
    assert shown.bleed is None
    assert "at least 0 mm" in " ".join(shown.words)


def test_strips_go_around_the_page_as_it_is_seen() -> None:
    """A page turned clockwise by 90 degrees has its left edge at the top."""
    seen = {Edge.LEFT: Edge.TOP, Edge.TOP: Edge.RIGHT, Edge.RIGHT: Edge.BOTTOM, Edge.BOTTOM: Edge.LEFT}
    pictures = [EdgePicture(edge, seen[edge], BOXES[edge], PICTURE) for edge in Edge]
    shown = edge_strips(page_of(1, ink(), rotate=90), pictures, BLEED_PT, ())
    assert [each.heading.split()[0] for each in shown] == ["Top", "Right", "Bottom", "Left"]


def test_without_a_trim_there_are_no_strips() -> None:
    page = replace(page_of(1, ink()), trim=Unmeasured("trim", "nothing tells it"))
    assert edge_strips(page, [EdgePicture(Edge.TOP, Edge.TOP, TRIM, PICTURE)], BLEED_PT, ()) == ()
