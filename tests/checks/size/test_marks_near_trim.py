# Marks near the trim: logos and frames that show how far the cut is off.
from dataclasses import replace

import pytest

from hotfolder.checks.size.marks_near_trim import MarksNearTrimSettings, check
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Severity
from hotfolder.model.marks import MarkState
from hotfolder.units import Length, mm_to_pt, parse_size
from tests.artwork.colours import BLUE, CMYK_WHITE, YELLOW
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.pictures import placed, raster, unplaced
from tests.artwork.plates import plates
from tests.checks.said import codes, figures, mm, the_only, unjudged

WANTED = MarksNearTrimSettings(margin=Length.of_mm(3))


def said(piece: Flyer) -> list[str]:
    return codes(check(piece.artwork(), WANTED))


@pytest.mark.parametrize(
    "logo",
    [(2, 100, 20, 110), (128, 100, 146, 110), (60, 1, 80, 10), (60, 200, 80, 208.5)],
    ids=["left", "right", "bottom", "top"],
)
def test_a_logo_near_an_edge_is_advice(logo: tuple[float, float, float, float]) -> None:
    finding = the_only(check(flyer().with_area(*logo).artwork(), WANTED))
    assert (finding.code, finding.severity, finding.page, len(finding.boxes)) == (
        "isolated",
        Severity.ADVICE,
        1,
        1,
    )


def test_the_nearest_is_told() -> None:
    piece = flyer().with_area(2, 100, 20, 110).with_area(1, 50, 20, 60)
    assert figures(the_only(check(piece.artwork(), WANTED))) == (mm(1), mm(3))


def test_a_logo_on_a_picture_that_bleeds_stands_alone() -> None:
    assert said(flyer().with_background().with_area(2, 100, 20, 110, colour=YELLOW)) == ["isolated"]
    assert said(flyer().with_background().with_image((2, 100, 20, 110), (300, 200))) == ["isolated"]


def test_a_frame_along_the_edges_is_advice() -> None:
    finding = the_only(check(flyer().with_outline(2, 2, 146, 208, 0.5).artwork(), WANTED))
    assert (finding.code, finding.severity) == ("frame", Severity.ADVICE)
    assert figures(finding) == (mm(1.75), mm(3))  # 2 mm less half the line


def test_one_cause_on_two_pages_is_one_finding() -> None:
    page = flyer().with_area(2, 100, 20, 110).page()
    assert [place.page for place in the_only(check(artwork(page, page), WANTED)).places] == [1, 2]


def rimmed() -> Flyer:
    """A picture near the left edge, of which a photo 8 mm further in is all that has ink."""
    return flyer().with_image((0.5, 100, 40, 140), (467, 472))


def test_a_picture_counts_with_what_has_ink_in_it() -> None:
    page = plates(rimmed()).with_inks((8.5, 108, 32, 132), 40, 30, 0, 0)
    assert codes(check(page.artwork(), WANTED)) == []
    nearer = plates(rimmed()).with_inks((2, 108, 32, 132), 40, 30, 0, 0)
    assert codes(check(nearer.artwork(), WANTED)) == ["isolated"]
    assert codes(check(plates(rimmed()).artwork(), WANTED)) == []


def test_a_shape_counts_with_its_box_whatever_ink_is_there() -> None:
    assert codes(check(plates(flyer().with_area(2, 100, 20, 110)).artwork(), WANTED)) == ["isolated"]


# What is not flagged


@pytest.mark.parametrize(
    "piece",
    [
        flyer().with_area(3, 100, 20, 110),
        flyer().with_area(-3, 100, 20, 110),
        flyer().with_area(0, 100, 20, 110),
        flyer().with_area(2, 20, 20, 200),
        flyer().with_text((1, 100)),
        flyer().with_area(2, 100, 20, 110, colour=CMYK_WHITE, white=True),
        flyer().with_area(2, 100, 20, 110, printed=False),
        flyer().with_area(2, 100, 20, 110, state=MarkState(fill_opacity=0)),
        flyer().with_area(2, 100, 2.2, 100.2),
        flyer().with_outline(2, 100, 146, 100, 0.5),
        flyer().with_outline(4, 4, 144, 206, 0.5),
    ],
    ids=[
        "clear", "runs on", "ends at the trim", "large", "text", "white", "hidden", "without ink", "a dot",
        "a line across", "a frame that is clear",
    ],
)  # fmt: skip
def test_what_is_not_flagged(piece: Flyer) -> None:
    assert said(piece) == []


def test_parts_of_something_that_runs_on_do_not_stand_alone() -> None:
    flower = flyer().with_area(-3, 95, 10, 105).with_area(2, 100, 20, 115, colour=YELLOW)
    assert said(flower) == []


def test_an_illustration_of_many_marks_is_no_logo() -> None:
    piece = flyer()
    for step in range(61):
        piece = piece.with_area(2, 10 + 3 * step, 4, 12 + 3 * step, colour=BLUE)
    assert said(piece) == []


def test_outside_the_page_is_not_near_it() -> None:
    piece = flyer()
    roomy = piece.with_boxes(replace(piece.boxes, media=piece.trim_box.grown(60)))
    assert said(roomy.with_area(-15, 100, -5, 110)) == []


def test_what_is_not_known_is_not_judged() -> None:
    unknown = flyer().with_trim(Unmeasured("trim", "no trim box"))
    pieces = [unknown.artwork(), flyer().unreadable().artwork(), unreadable()]
    assert [[item.severity for item in unjudged(check(piece, WANTED))] for piece in pieces] == [
        [Severity.ADVICE]
    ] * 3


def test_picture_files_are_one_mark_that_fills_the_page() -> None:
    assert codes(check(placed(raster((1819, 2551)), parse_size("A5"), 3), WANTED)) == []


def test_a_picture_file_of_unknown_size_is_no_question_for_this_rule() -> None:
    assert codes(check(unplaced(raster((1819, 2551)), "no size"), WANTED)) == []


# Frames that are areas with most of them left out


def _ring(inset_mm: float, width_mm: float, piece: Flyer | None = None, **changes: object) -> Flyer:
    (mark,) = flyer().with_area(inset_mm, inset_mm, 148 - inset_mm, 210 - inset_mm, colour=BLUE).marks
    ring = replace(mark, hollow=mark.box.grown(-mm_to_pt(width_mm)), **changes)  # type: ignore[arg-type] # fields
    return (piece or flyer()).with_mark(ring)


@pytest.mark.parametrize(("inset", "width", "told"), [(2, 0.3, 2), (2, 4, 2), (-0.1, 0.3, 0)])
def test_a_frame_filled_as_a_ring_is_told_as_one_that_is_drawn(
    inset: float, width: float, told: float
) -> None:
    finding = the_only(check(_ring(inset, width).artwork(), WANTED))
    assert (finding.code, figures(finding)[0]) == ("frame", mm(told))


@pytest.mark.parametrize(
    ("inset", "width"),
    [(4, 0.3), (-3, 4), (-0.1, 2), (2, 20)],
    ids=["clear", "runs on", "ends there", "a panel"],
)
def test_rings_that_are_no_frames_by_the_trim(inset: float, width: float) -> None:
    assert said(_ring(inset, width)) == []


def test_rings_of_a_gradient_that_runs_over_the_trim_are_no_frames() -> None:
    piece = flyer()
    for step in range(12):
        piece = _ring(-3 + step * 0.5, 0.5, piece)
    assert said(piece) == []


def test_a_gradient_of_rings_that_ends_before_the_trim_is_one_frame() -> None:
    piece = flyer()
    for step in range(4):
        piece = _ring(1 + step * 0.5, 0.5, piece)
    assert len(the_only(check(piece.artwork(), WANTED)).boxes) == 1
