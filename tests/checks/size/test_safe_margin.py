# Safe margin: text at the cut and near it.
from dataclasses import replace

import pytest

from hotfolder.checks.size.safe_margin import SafeMarginSettings, check
from hotfolder.model.colour import Colour
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Severity
from hotfolder.model.geometry import Box
from hotfolder.units import Length, mm_to_pt, parse_size
from tests.artwork.colours import DEVICE_CMYK
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.pictures import placed, raster
from tests.checks.said import codes, figures, findings, mm, the_only, unjudged

FIVE = SafeMarginSettings(margin=Length.of_mm(5))
WHITE = Colour(DEVICE_CMYK, (0.0, 0.0, 0.0, 0.0))


def test_text_at_six_millimetres_keeps_a_margin_of_five() -> None:
    assert codes(check(flyer().with_text((6, 100)).artwork(), FIVE)) == []


def test_text_one_millimetre_from_the_trim_is_found() -> None:
    finding = the_only(check(flyer().with_text((1, 100)).artwork(), FIVE))
    assert (finding.code, finding.severity, finding.page) == ("cut-by-trim", Severity.MUST_FIX, 1)
    assert figures(finding) == (mm(1), mm(5))
    assert "left edge" in finding.message


def test_text_between_one_millimetre_and_the_margin_is_advice() -> None:
    finding = the_only(check(flyer().with_text((3, 100)).artwork(), FIVE))
    assert (finding.code, finding.severity, *figures(finding)) == ("near-trim", Severity.ADVICE, mm(3), mm(5))


@pytest.mark.parametrize("at_mm", [5, 4.999])
def test_text_at_the_margin_keeps_it(at_mm: float) -> None:
    assert codes(check(flyer().with_text((at_mm, 100)).artwork(), FIVE)) == []


def test_text_over_the_trim_is_cut() -> None:
    finding = the_only(check(flyer().with_text((130, 100), width_mm=20).artwork(), FIVE))
    assert (finding.code, finding.measured) == ("cut-by-trim", mm(-2))
    assert "runs 2 mm past" in finding.message


def test_all_runs_at_an_edge_are_one_finding_with_their_boxes() -> None:
    piece = flyer().with_text((1, 100)).with_text((0.5, 80)).with_text((2, 60))
    all_findings = findings(check(piece.artwork(), FIVE))
    assert [(item.code, len(item.boxes), item.measured) for item in all_findings] == [
        ("cut-by-trim", 2, mm(0.5)),
        ("near-trim", 1, mm(2)),
    ]


def test_a_text_in_a_corner_is_one_finding_at_one_place() -> None:
    finding = the_only(check(flyer().with_text((3, 3)).artwork(), FIVE))
    assert (finding.code, len(finding.boxes)) == ("near-trim", 1)
    assert "in all" not in finding.message


def test_edges_are_named_as_seen() -> None:
    assert "top edge" in the_only(check(flyer().with_text((3, 100)).rotated(90).artwork(), FIVE)).message


def test_white_text_reversed_out_of_a_ground_counts() -> None:
    piece = flyer().with_background().with_text((1, 100), colour=WHITE, white=True)
    assert codes(check(piece.artwork(), FIVE)) == ["cut-by-trim"]
    picture = flyer().with_image((-3, 90, 80, 120), (900, 400)).with_text((1, 100), colour=WHITE, white=True)
    assert codes(check(picture.artwork(), FIVE)) == ["cut-by-trim"]
    # The ground reaches under its first letters alone.
    partly = flyer().with_area(-3, 90, 10, 120).with_text((1, 100), colour=WHITE, white=True)
    assert codes(check(partly.artwork(), FIVE)) == ["cut-by-trim"]


@pytest.mark.parametrize(
    "before",
    [
        pytest.param(flyer(), id="bare paper"),
        pytest.param(flyer().with_area(60, 90, 100, 120), id="a ground beside it"),
        pytest.param(
            flyer().with_background().with_area(-3, 90, 60, 120, colour=WHITE, white=True), id="a white panel"
        ),
    ],
)
def test_white_text_on_bare_paper_is_not_flagged(before: Flyer) -> None:
    piece = before.with_text((1, 100), colour=WHITE, white=True)
    assert codes(check(piece.artwork(), FIVE)) == []


def test_a_ground_laid_over_white_text_is_not_beneath_it() -> None:
    """What is laid over white text and the paper around it tints both alike."""
    piece = flyer().with_text((1, 100), colour=WHITE, white=True).with_background()
    assert codes(check(piece.artwork(), FIVE)) == []


def test_a_margin_under_a_millimetre_still_keeps_text_from_the_cut() -> None:
    none = SafeMarginSettings(margin=Length.of_mm(0))
    assert codes(check(flyer().with_text((0.5, 100)).artwork(), none)) == ["cut-by-trim"]
    assert codes(check(flyer().with_text((1.5, 100)).artwork(), none)) == []


@pytest.mark.parametrize(
    "piece",
    [
        pytest.param(flyer().with_bleed_mm(15).with_text((0, -10)), id="slug line outside the trim"),
        pytest.param(flyer().with_text((-3, 100), width_mm=160, size_pt=96), id="display type to the bleed"),
        pytest.param(flyer().with_text((0, 100), printed=False), id="invisible or on a hidden layer"),
        pytest.param(flyer().with_area(0, 100, 40, 110), id="outlines are no text"),
    ],
)
def test_not_flagged(piece: Flyer) -> None:
    assert codes(check(piece.artwork(), FIVE)) == []


def test_small_type_that_runs_off_the_page_is_cut() -> None:
    piece = flyer().with_text((-3, 100), width_mm=160, size_pt=9)
    assert codes(check(piece.artwork(), FIVE)) == ["cut-by-trim"]


def test_display_type_that_stops_in_the_bleed_is_cut() -> None:
    piece = flyer().with_text((-1, 100), width_mm=100, size_pt=96)
    assert codes(check(piece.artwork(), FIVE)) == ["cut-by-trim"]


def _with_ink(piece: Flyer, ink: Box | None, visible_ink: Box | None, words: str = "") -> Flyer:
    """The flyer with other ink in its last piece of text."""
    *before, mark = piece.marks
    assert mark.text is not None
    text = replace(mark.text, ink=ink, visible_ink=visible_ink, words=words)
    return replace(piece, marks=(*before, replace(mark, text=text)))


def test_text_reaches_as_far_as_its_ink_where_that_is_known() -> None:
    # A line of 9 pt whose declared room ends 0.8 mm above the cut, and whose letters 1.5 mm above it.
    piece = flyer().with_text((60, 0.8), size_pt=9)
    box = piece.marks[-1].box
    ink = replace(box, y0=box.y0 + mm_to_pt(0.7))
    one = SafeMarginSettings(margin=Length.of_mm(1))
    assert codes(check(piece.artwork(), one)) == ["cut-by-trim"]
    assert codes(check(_with_ink(piece, ink, ink).artwork(), one)) == []


def test_ink_beyond_the_declared_room_counts() -> None:
    piece = flyer().with_text((60, 6), size_pt=9)
    box = piece.marks[-1].box
    ink = replace(box, y0=box.y0 - mm_to_pt(2))
    finding = the_only(check(_with_ink(piece, ink, ink).artwork(), FIVE))
    assert (finding.code, finding.measured) == ("near-trim", mm(4))


def test_ink_that_is_clipped_away_is_not_flagged() -> None:
    piece = flyer().with_text((1, 100))
    assert codes(check(_with_ink(piece, piece.marks[-1].box, None).artwork(), FIVE)) == []


def test_text_that_is_wholly_covered_is_not_flagged() -> None:
    piece = flyer().with_text((1, 100))
    covered = replace(piece, marks=(replace(piece.marks[0], covered=True),))
    assert codes(check(covered.artwork(), FIVE)) == []


def test_the_worst_place_is_named_by_its_words() -> None:
    piece = _with_ink(flyer().with_text((0.8, 100)), None, None, "Doors open at eight")
    piece = _with_ink(piece.with_text((0.3, 60)), None, None, "Saturday 9 pm")
    finding = the_only(check(piece.artwork(), FIVE))
    assert "'Saturday 9 pm'" in finding.message
    assert "Doors" not in finding.message
    assert finding.measured == mm(0.3)


def test_clipped_away_text_is_not_flagged() -> None:
    piece = flyer().with_text((1, 100))
    gone = replace(piece, marks=(replace(piece.marks[0], visible=None),))
    assert codes(check(gone.artwork(), FIVE)) == []


def test_text_inside_a_picture_file_is_left_to_the_eye_and_does_not_block() -> None:
    said = unjudged(check(placed(raster((1819, 2551)), parse_size("A5"), 3), FIVE))
    assert [(item.severity, item.page) for item in said] == [(Severity.ADVICE, 1)]


def test_what_cannot_be_judged() -> None:
    unknown = flyer().with_trim(Unmeasured("trim", "no size fits")).page()
    assert [item.page for item in unjudged(check(artwork(unknown), FIVE))] == [1]
    assert [item.severity for item in unjudged(check(flyer().unreadable().artwork(), FIVE))] == [
        Severity.MUST_FIX
    ]
    assert len(unjudged(check(unreadable(), FIVE))) == 1
