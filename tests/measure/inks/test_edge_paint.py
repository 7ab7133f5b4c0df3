# Bleed by paint, on plates painted by hand: what touches the trim, and how far it runs on.

import numpy as np
import pytest

from hotfolder.measure.inks.edge_paint import SEEN, edge_paint
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.inks import CELL_PT, EdgePaint
from hotfolder.model.plates import Bytes, PlateFrame
from tests.measure.inks.hand_plates import laid, mm_box, page_of, painted

TRIM, SHEET = mm_box(3, 3, 93, 63), mm_box(0, 0, 96, 66)


def frame_of(sheet: Box = SHEET, trim: Box = TRIM) -> PlateFrame:
    return laid(page_of(sheet, trim)).frame


def edges(
    *plates: Bytes, sheet: Box = SHEET, trim: Box = TRIM, frame: PlateFrame | None = None
) -> dict[Edge, EdgePaint]:
    found = edge_paint(plates, frame or frame_of(sheet, trim), sheet, trim)
    return {paint.edge: paint for paint in found}


def reach_mm(paint: EdgePaint) -> list[float | None]:
    return [None if reach is None else reach / CELL_PT for reach in paint.reach_pt]


def middle_mm(paint: EdgePaint) -> float:
    """The reach in the middle of the edge."""
    found = reach_mm(paint)[len(paint.reach_pt) // 2]
    assert found is not None
    return found


def test_a_ground_that_fills_the_sheet_reaches_its_edges() -> None:
    page_edges = edges(painted(frame_of(), (SHEET, 60)))
    assert set(page_edges) == set(Edge)
    for paint in page_edges.values():
        assert paint.sheet_pt == pytest.approx(3 * CELL_PT)
        assert reach_mm(paint) == pytest.approx([3.0] * len(paint.reach_pt))


def test_each_edge_runs_from_low_to_high_in_steps_of_a_pixel() -> None:
    """Paint in the lower left quarter alone: it is met in the first half of the left and bottom edges."""
    page_edges = edges(painted(frame_of(), (mm_box(0, 0, 48, 33), 60)))
    for edge, start, length in ((Edge.LEFT, TRIM.y0, 60), (Edge.BOTTOM, TRIM.x0, 90)):
        paint = page_edges[edge]
        assert paint.start == pytest.approx(start)
        assert paint.step_pt * len(paint.reach_pt) == pytest.approx(length * CELL_PT)
        half = len(paint.reach_pt) // 2
        assert all(reach is not None for reach in paint.reach_pt[:half])
        assert all(reach is None for reach in paint.reach_pt[half:])
    for edge in (Edge.RIGHT, Edge.TOP):
        assert set(page_edges[edge].reach_pt) == {None}


@pytest.mark.parametrize("edge", list(Edge))
@pytest.mark.parametrize("missing_mm", [1.0, 2.0, 3.0])
def test_one_side_that_is_short_is_told_and_the_others_are_not(edge: Edge, missing_mm: float) -> None:
    by = missing_mm * CELL_PT
    ground = Box(
        SHEET.x0 + by * (edge is Edge.LEFT),
        SHEET.y0 + by * (edge is Edge.BOTTOM),
        SHEET.x1 - by * (edge is Edge.RIGHT),
        SHEET.y1 - by * (edge is Edge.TOP),
    )
    for other, paint in edges(painted(frame_of(), (ground, 40))).items():
        assert middle_mm(paint) == pytest.approx(3 - missing_mm if other is edge else 3, abs=0.01)


def random_pages() -> list[tuple[Box, Box]]:
    """Trims and sheets at places that are no whole pixels: cards, inch sizes, page boxes of odd programs."""
    random = np.random.default_rng(2024)
    pages = []
    for smallest, largest, count in ((50, 150, 20), (220, 300, 10)):  # at 6 and at 3 pixels a millimetre
        for _ in range(count):
            x, y = random.uniform(-20, 20, 2)
            width, height = random.uniform(smallest, largest, 2)
            trim = mm_box(x, y, x + width, y + height)
            pages.append((trim.grown(random.uniform(3.4, 8) * CELL_PT), trim))
    assert {frame_of(*page).px_per_mm for page in pages} == {3, 6}
    return pages


@pytest.mark.parametrize("bleed_mm", [0.0, 1.0, 2.0, 3.0])
@pytest.mark.parametrize("percent", [4, 20, 100])
def test_wherever_the_trim_lies_the_reach_is_told_within_a_third_of_a_millimetre(
    bleed_mm: float, percent: float
) -> None:
    """The tightest that bleed is asked for: 1 mm short is told, and 3 mm are never told as less than 2.6."""
    for sheet, trim in random_pages():
        plate = painted(frame_of(sheet, trim), (trim.grown(bleed_mm * CELL_PT), percent))
        for paint in edges(plate, sheet=sheet, trim=trim).values():
            assert middle_mm(paint) == pytest.approx(bleed_mm, abs=0.26 if percent == 4 else 0.02)
            assert bleed_mm < 3 or middle_mm(paint) >= 2.6


def test_a_picture_of_uneven_tones_still_reaches_three_millimetres() -> None:
    """The tone of the last pixel tells where flat paint ends; in a picture it may be paler in itself."""
    random = np.random.default_rng(7)
    for sheet, trim in random_pages():
        frame = frame_of(sheet, trim)
        whole = painted(frame, (trim.grown(3 * CELL_PT), 100))
        picture = (whole * random.uniform(0.2, 1, whole.shape)).astype(np.uint8)
        for paint in edges(picture, sheet=sheet, trim=trim).values():
            known = [reach for reach in reach_mm(paint) if reach is not None]
            assert len(known) > 0.95 * len(paint.reach_pt)
            assert min(known) >= 2.6
            assert max(known) <= 3.35


def test_paint_that_ends_with_the_sheet_reaches_it_exactly() -> None:
    for sheet, trim in random_pages():
        plate = painted(frame_of(sheet, trim), (sheet, 30))
        for paint in edges(plate, sheet=sheet, trim=trim).values():
            assert middle_mm(paint) == pytest.approx(paint.sheet_pt / CELL_PT, abs=0.02)


def test_a_white_gap_of_eight_millimetres_in_one_corner_is_found() -> None:
    """White paint is no paint, wherever it lies: the ground is knocked out."""
    plate = painted(frame_of(), (SHEET, 60), (mm_box(85, 0, 96, 3), 0))
    short = [reach == 0 for reach in reach_mm(edges(plate)[Edge.BOTTOM])]
    in_the_corner = 8 * frame_of().px_per_mm
    assert all(short[-in_the_corner:])
    assert not any(short[:-in_the_corner])


def test_what_ends_well_inside_the_trim_touches_nothing() -> None:
    for paint in edges(painted(frame_of(), (TRIM.grown(-1 * CELL_PT), 100))).values():
        assert set(paint.reach_pt) == {None}


def test_a_ground_that_stops_a_hair_before_the_trim_was_meant_to_meet_it() -> None:
    for paint in edges(painted(frame_of(), (TRIM.grown(-0.3 * CELL_PT), 100))).values():
        assert middle_mm(paint) == 0


@pytest.mark.parametrize("width_mm", [0.1, 0.35, 0.7, 1.0, 1.4])
def test_a_keyline_along_the_cut_is_no_area(width_mm: float) -> None:
    """Centred on the trim, as cutting lines and frames are: half of it lies inside."""
    outer, inner = TRIM.grown(width_mm / 2 * CELL_PT), TRIM.grown(-width_mm / 2 * CELL_PT)
    for paint in edges(painted(frame_of(), (outer, 100), (inner, 0))).values():
        middle = len(paint.reach_pt) // 2
        assert set(paint.reach_pt[middle - 20 : middle + 20]) == {None}


def test_a_pale_gradient_that_fades_out_before_the_trim_does_not_touch_it() -> None:
    frame = frame_of()
    from_left = (np.arange(frame.width_px) + 0.5) / frame.px_per_mm
    tone = np.clip((92 - from_left) / 92, 0, 1) * 0.2 * 255  # from 20 % to nothing 1 mm before the trim
    plate = np.broadcast_to(np.rint(tone), (frame.height_px, frame.width_px)).astype(np.uint8)
    page_edges = edges(plate)
    assert set(page_edges[Edge.RIGHT].reach_pt) == {None}
    assert middle_mm(page_edges[Edge.LEFT]) == pytest.approx(3)


def test_what_is_not_seen_beside_bare_paper_is_no_paint() -> None:
    """An almost white scan; in several inks as in one."""
    frame = frame_of()
    veil = np.full((frame.height_px, frame.width_px), SEEN - 1, np.uint8)
    for paint in edges(veil, veil, veil).values():
        assert set(paint.reach_pt) == {None}
    for paint in edges(veil, veil + 1).values():
        assert middle_mm(paint) == pytest.approx(3)


def test_a_gap_of_one_pixel_is_forgiven_and_one_of_two_is_not() -> None:
    frame = frame_of()
    trim_column = round((TRIM.x1 - frame.left) / frame.pixel_pt)
    for place in (-2, 0, 3):
        plate = painted(frame, (SHEET, 60))
        plate[:, trim_column + place] = 0
        assert middle_mm(edges(plate)[Edge.RIGHT]) == pytest.approx(3)
    plate = painted(frame, (SHEET, 60))
    plate[:, trim_column + 3 : trim_column + 5] = 0
    assert middle_mm(edges(plate)[Edge.RIGHT]) == pytest.approx(3 * frame.pixel_pt / CELL_PT)


def test_ink_of_any_plate_carries_on_where_another_ends() -> None:
    cyan = painted(frame_of(), (mm_box(3, 0, 93, 66), 50))
    black = painted(frame_of(), (mm_box(93, 0, 96, 66), 50))
    assert middle_mm(edges(cyan)[Edge.RIGHT]) == 0
    assert middle_mm(edges(cyan, black)[Edge.RIGHT]) == pytest.approx(3)


def test_a_sheet_that_is_the_trim_leaves_no_room() -> None:
    plate = painted(frame_of(TRIM, TRIM), (TRIM, 60))
    for paint in edges(plate, sheet=TRIM, trim=TRIM).values():
        assert paint.sheet_pt == 0
        assert middle_mm(paint) == 0


def test_a_trim_beyond_the_sheet_is_touched_by_nothing() -> None:
    sheet = mm_box(0, 0, 92, 66)
    page_edges = edges(painted(frame_of(sheet), (sheet, 60)), sheet=sheet)
    assert set(page_edges[Edge.RIGHT].reach_pt) == {None}
    assert page_edges[Edge.RIGHT].sheet_pt == pytest.approx(-CELL_PT)
    assert middle_mm(page_edges[Edge.LEFT]) == pytest.approx(3)


def test_a_page_without_ink_has_edges_without_paint() -> None:
    for paint in edges().values():
        assert set(paint.reach_pt) == {None}
