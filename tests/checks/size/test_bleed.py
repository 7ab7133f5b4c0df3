# Bleed: which edges are short, which of the three faults it is, and what is left alone.
from dataclasses import replace
from time import process_time

import pytest

from hotfolder.checks.size.bleed import BleedSettings, check
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Quantity, Severity
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.pages import PageBoxes, Trim, TrimOrigin
from hotfolder.units import Length, LengthUnit, Size, mm_to_pt, parse_size
from tests.artwork.colours import ALL_PLATES, YELLOW
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer, mm_box
from tests.artwork.pictures import placed, raster, unplaced
from tests.checks.said import codes, figures, findings, mm, the_only, unjudged

THREE = BleedSettings(wanted=Length.of_mm(3))


def test_a_background_with_full_bleed_passes() -> None:
    assert codes(check(flyer().with_background(3).artwork(), THREE)) == []


@pytest.mark.parametrize("reach_mm", [2.5, 2.6, 3, 5])
def test_half_a_millimetre_less_will_do(reach_mm: float) -> None:
    assert codes(check(flyer().with_background(reach_mm).artwork(), THREE)) == []


def test_an_eighth_of_an_inch_and_three_millimetres_are_the_same_bleed() -> None:
    eighth = BleedSettings(wanted=Length(9, LengthUnit.INCH))
    assert codes(check(flyer().with_background(3).artwork(), eighth)) == []


def test_paint_that_stops_at_the_trim_is_one_finding_for_all_edges() -> None:
    finding = the_only(check(flyer().with_background(0).artwork(), THREE))
    assert (finding.code, finding.severity, finding.page) == ("not-drawn", Severity.MUST_FIX, 1)
    assert figures(finding) == (mm(0), mm(3))
    assert len(finding.boxes) == 4
    assert "all four edges" in finding.message


def test_the_short_edge_is_named_and_boxed() -> None:
    piece = flyer().with_area(-3, -3, 151, 210)  # A5 is 148 x 210 mm
    finding = the_only(check(piece.artwork(), THREE))
    assert finding.code == "not-drawn"
    assert "top edge" in finding.message
    assert finding.boxes == (mm_box(0, 210, 148, 213),)


def test_edges_are_named_as_they_are_seen_on_a_turned_page() -> None:
    piece = flyer().with_area(-3, -3, 151, 210).rotated(90)
    assert "right edge" in the_only(check(piece.artwork(), THREE)).message


def test_edges_with_different_reach_are_different_findings() -> None:
    piece = flyer().with_area(-1, -3, 151, 210)
    all_findings = findings(check(piece.artwork(), THREE))
    assert {(item.code, item.measured) for item in all_findings} == {
        ("not-drawn", mm(0)),
        ("not-drawn", mm(1)),
    }


def test_figures_are_told_in_the_unit_of_the_setting() -> None:
    eighth = BleedSettings(wanted=Length(9, LengthUnit.INCH))
    finding = the_only(check(flyer().with_background(1).artwork(), eighth))
    assert figures(finding) == (Quantity.of(0.039, unit="in"), Quantity.of(0.125, unit="in"))


def test_drawn_but_cut_off_by_the_page_is_told_apart() -> None:
    piece = flyer().with_bleed_mm(0).with_background(3)
    finding = the_only(check(piece.artwork(), THREE))
    assert (finding.code, finding.measured) == ("cut-off", mm(0))


def test_a_frame_that_ends_at_the_trim_is_told_apart_from_a_page_that_does() -> None:
    piece = flyer().with_framed_area((-3, -3, 151, 213), (0, 0, 148, 210))
    finding = the_only(check(piece.artwork(), THREE))
    assert finding.code == "not-drawn"
    assert "frame" in finding.message


def test_a_bleed_box_that_hides_the_bleed_is_told_apart() -> None:
    piece = flyer().with_background(3)
    trim = piece.trim_box
    boxed = piece.with_boxes(PageBoxes(media=trim.grown(mm_to_pt(3)), bleed=trim, trim=trim))
    finding = the_only(check(boxed.artwork(), THREE))
    assert (finding.code, *figures(finding)) == ("box-short", mm(0), mm(3))


def test_a_missing_bleed_box_is_no_missing_bleed() -> None:
    piece = flyer().with_background(3)
    boxed = piece.with_boxes(replace(piece.boxes, bleed=None))
    assert codes(check(boxed.artwork(), THREE)) == []


def test_cut_off_and_not_drawn_are_told_for_the_edges_where_they_are() -> None:
    # The page ends at the trim; the area was drawn beyond it on the left only.
    piece = flyer().with_bleed_mm(0).with_area(-3, 0, 148, 210)
    assert sorted(codes(check(piece.artwork(), THREE))) == ["cut-off", "not-drawn"]


def test_an_inferred_trim_counts() -> None:
    piece = flyer().with_background(3)
    inferred = piece.with_trim(Trim(piece.trim_box, TrimOrigin.INFERRED, "concluded"))
    assert codes(check(inferred.artwork(), THREE)) == []


# What is not flagged


@pytest.mark.parametrize(
    "piece",
    [
        pytest.param(flyer(), id="nothing is painted"),
        pytest.param(flyer().with_bleed_mm(0), id="nothing is painted, and there is no room"),
        pytest.param(flyer().with_area(10, 10, 100, 100), id="paint ends well inside"),
        pytest.param(flyer().with_area(0.6, 0.6, 147.4, 209.4), id="paint ends 0.6 mm inside"),
        pytest.param(flyer().with_text((-1, 100)), id="text over the trim is the safe margin's"),
        pytest.param(flyer().with_outline(-2, 50, 4, 50, 0.1), id="fold mark over the trim"),
        pytest.param(flyer().with_outline(0, 0, 148, 210, 0.25), id="keyline on the trim"),
        pytest.param(flyer().with_area(0, 100, 148, 100.5), id="thin filled rule from edge to edge"),
        pytest.param(flyer().with_area(0.2, 0, 0.8, 210), id="thin filled rule along an edge"),
        pytest.param(flyer().with_area(0, 0, 148, 210, white=True), id="paper white"),
        pytest.param(flyer().with_area(0, 0, 148, 210, printed=False), id="hidden layer"),
        pytest.param(flyer().with_area(0, 0, 148, 210, colour=ALL_PLATES), id="registration colour"),
        pytest.param(flyer().with_area(-3, 20, -0.2, 40), id="wholly outside the trim"),
    ],
)
def test_not_flagged(piece: Flyer) -> None:
    assert codes(check(piece.artwork(), THREE)) == []


def test_paint_half_a_millimetre_inside_the_trim_touches_it() -> None:
    piece = flyer().with_area(0.4, 20, 100, 40)
    assert "left edge" in the_only(check(piece.artwork(), THREE)).message


def test_a_clipped_away_mark_is_not_flagged() -> None:
    piece = flyer().with_area(0, 0, 148, 210)
    gone = replace(piece, marks=(replace(piece.marks[0], visible=None),))
    assert codes(check(gone.artwork(), THREE)) == []


def test_a_wide_outline_is_an_area() -> None:
    piece = flyer().with_outline(2.5, 2.5, 145.5, 207.5, 5)  # a border 5 mm wide, flush with the trim
    assert codes(check(piece.artwork(), THREE)) == ["not-drawn"]


def test_crop_marks_in_one_thin_path_are_no_bleed() -> None:
    # Programs draw all crop marks as one path, whose box is the whole sheet.
    piece = flyer().with_bleed_mm(10).with_background(0).with_outline(-9, -9, 157, 219, 0.1)
    assert codes(check(piece.artwork(), THREE)) == ["not-drawn"]


def test_a_colour_bar_off_the_page_is_no_bleed() -> None:
    piece = flyer().with_bleed_mm(10).with_background(0).with_area(-6, 0, -1, 210, colour=YELLOW)
    finding = the_only(check(piece.artwork(), THREE))
    assert (finding.code, len(finding.boxes)) == ("not-drawn", 4)


def test_text_in_the_slug_is_no_bleed() -> None:
    piece = flyer().with_bleed_mm(10).with_background(0).with_text((-5, -5), width_mm=170, size_pt=60)
    assert codes(check(piece.artwork(), THREE)) == ["not-drawn"]


def test_tiles_of_one_picture_bleed_together() -> None:
    # Flattening cuts pictures into tiles; here one ends at the trim, and the next carries the bleed.
    piece = (
        flyer()
        .with_image((0, 0, 148, 210), (1748, 2480))
        .with_image((-3, -3, 0, 213), (35, 2551))
        .with_image((148, -3, 151, 213), (35, 2551))
        .with_image((0, 210, 148, 213), (1748, 35))
        .with_image((0, -3, 148, 0), (1748, 35))
    )
    assert codes(check(piece.artwork(), THREE)) == []
    # So do strips that were laid around the page first.
    middle, *strips = piece.marks
    assert codes(check(replace(piece, marks=(*strips, middle)).artwork(), THREE)) == []


def test_thin_slices_of_a_picture_need_bleed_like_the_whole() -> None:
    piece = flyer()
    for row in range(40):
        piece = piece.with_image((0, 50 + row * 0.5, 148, 50.5 + row * 0.5), (1748, 6))
    finding = the_only(check(piece.artwork(), THREE))
    assert (finding.code, "left and right edges" in finding.message) == ("not-drawn", True)


def test_a_gradient_of_thin_steps_needs_bleed_like_an_area() -> None:
    piece = flyer()
    for step in range(40):
        piece = piece.with_area(0, 50 + step * 0.5, 148, 50.5 + step * 0.5)
    assert codes(check(piece.artwork(), THREE)) == ["not-drawn"]


def test_strips_along_an_edge_are_an_area() -> None:
    piece = flyer()
    for step in range(40):
        piece = piece.with_area(step * 0.5, 20, step * 0.5 + 0.5, 190)
    assert "left edge" in the_only(check(piece.artwork(), THREE)).message


def test_separate_rules_that_end_at_the_trim_are_no_area() -> None:
    piece = flyer()
    for step in range(40):
        piece = piece.with_area(0, 50 + step * 2, 148, 50.5 + step * 2)
    assert codes(check(piece.artwork(), THREE)) == []


def test_paint_of_the_same_colour_beneath_is_bleed() -> None:
    piece = flyer().with_background(3).with_background(0)
    assert codes(check(piece.artwork(), THREE)) == []


def test_a_picture_hidden_under_later_paint_is_left_alone() -> None:
    piece = flyer().with_image((0, 0, 148, 210), (1748, 2480)).with_background(3)
    assert codes(check(piece.artwork(), THREE)) == []


def test_a_picture_that_ends_on_paint_that_runs_on_is_advice() -> None:
    piece = flyer().with_background(3).with_image((0, 0, 148, 100), (1748, 1181))
    finding = the_only(check(piece.artwork(), THREE))
    assert (finding.code, finding.severity) == ("ends-on-paint", Severity.ADVICE)
    assert "bottom, left and right edges" in finding.message


def test_a_small_thing_that_ends_on_paint_is_left_alone() -> None:
    piece = flyer().with_background(3).with_area(0, 100, 20, 120, colour=YELLOW)
    assert codes(check(piece.artwork(), THREE)) == []


def test_the_spine_edge_needs_no_bleed_where_the_rule_set_says_so() -> None:
    odd = flyer().with_area(0, -3, 151, 213).page()
    even = flyer().with_area(-3, -3, 148, 213).page()
    bound = BleedSettings(wanted=Length.of_mm(3), not_at_spine=True)
    assert codes(check(artwork(odd, even), bound)) == []
    assert codes(check(artwork(even, odd), bound)) == ["not-drawn", "not-drawn"]
    assert codes(check(artwork(odd, even), THREE)) == ["not-drawn", "not-drawn"]


def test_no_bleed_wanted_asks_for_nothing() -> None:
    none = BleedSettings(wanted=Length.of_mm(0))
    assert codes(check(flyer().with_background(0).artwork(), none)) == []


# Raster files: the canvas is the paint


def test_a_poster_of_847_by_1194_mm_with_its_bleed_is_853_by_1200() -> None:
    # Common practice: a common poster size with 3 mm on each side fills the sheet of 853 x 1200 mm.
    poster = parse_size("847 x 1194 mm")
    whole = poster.grown(mm_to_pt(3))
    assert whole.distance(mm_to_pt(853), mm_to_pt(1200)) < 1e-6
    assert codes(check(placed(raster((2559, 3600)), poster, 3), THREE)) == []


def test_a_canvas_without_bleed_is_short() -> None:
    finding = the_only(check(placed(raster((1748, 2480)), parse_size("A5"), 0), THREE))
    assert (finding.code, *figures(finding)) == ("not-drawn", mm(0), mm(3))
    assert "all four edges" in finding.message


# Limits, and what cannot be judged


def test_an_unknown_trim_is_told_once_for_all_pages() -> None:
    page = flyer().with_trim(Unmeasured("trim", "no size fits")).page()
    said = unjudged(check(artwork(page, page, page), THREE))
    assert [(item.severity, item.page) for item in said] == [(Severity.MUST_FIX, None)]
    assert "pages 1 to 3" in said[0].reason


def test_one_reason_for_several_unknown_facts_is_told_once() -> None:
    said = unjudged(check(unplaced(raster((1819, 2551)), "It may be A4 or A5"), THREE))
    assert [item.reason for item in said] == ["the finished size is not known: it may be A4 or A5"]


def test_unread_content_is_not_judged() -> None:
    said = unjudged(check(flyer().unreadable().artwork(), THREE))
    assert [(item.severity, item.page) for item in said] == [(Severity.MUST_FIX, 1)]


def test_an_unread_file_is_not_judged() -> None:
    assert len(unjudged(check(unreadable(), THREE))) == 1


def test_ten_thousand_marks_at_the_edges_are_judged_with_few_boxes() -> None:
    piece = flyer().with_background(3)
    base = replace(piece.marks[0], box=Box(0, 0, 1, 1))
    marks = []
    for step in range(10_000):
        y = 5 + step * 0.02
        box = mm_box(0, y, 30, y + 1.5)
        marks.append(replace(base, box=box, visible=box))
    finding = the_only(check(replace(piece, marks=tuple(marks)).artwork(), THREE))
    assert (finding.code, len(finding.boxes)) == ("not-drawn", 1)


def test_hatching_over_the_edge_is_judged_in_a_moment() -> None:
    # 8000 rules that bleed, 8000 areas that end at the trim on top of a background: quadratic work would
    # take minutes.
    piece = flyer("900 x 900 mm").with_background(3)
    base = piece.marks[0]
    marks = [base]
    for step in range(8000):
        y = step * 0.1
        places = (mm_box(-3, y, 903, y + 0.05), mm_box(0, y, 900, y + 0.05))
        marks.extend(replace(base, box=box, visible=box, fill=YELLOW) for box in places)
    started = process_time()
    assert codes(check(replace(piece, marks=tuple(marks)).artwork(), THREE)) == []
    assert process_time() - started < 10


def test_every_edge_is_looked_at() -> None:
    sides = {
        Edge.LEFT: flyer().with_area(0, 50, 20, 100),
        Edge.RIGHT: flyer().with_area(128, 50, 148, 100),
        Edge.TOP: flyer().with_area(50, 190, 100, 210),
        Edge.BOTTOM: flyer().with_area(50, 0, 100, 20),
    }
    for edge, piece in sides.items():
        assert f"{edge} edge" in the_only(check(piece.artwork(), THREE)).message


def test_the_size_alone_does_not_matter() -> None:
    size = Size(mm_to_pt(85), mm_to_pt(55))
    assert codes(check(placed(raster((1075, 721)), size, 3), THREE)) == []


def test_paint_that_is_wholly_covered_does_not_count() -> None:
    piece = flyer().with_background(0)
    covered = replace(piece, marks=(replace(piece.marks[0], covered=True),))
    assert codes(check(piece.artwork(), THREE)) == ["not-drawn"]
    assert codes(check(covered.artwork(), THREE)) == []
