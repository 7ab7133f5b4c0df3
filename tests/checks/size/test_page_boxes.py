# Page boxes: missing, doubled, not nested, and the differences that rounding makes.
from dataclasses import replace

import pytest

from hotfolder.checks.size.page_boxes import PageBoxesSettings, check
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Severity
from hotfolder.model.geometry import Box
from hotfolder.model.pages import PageBoxes, Trim, TrimOrigin
from hotfolder.units import mm_to_pt, parse_size
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.pictures import placed, raster
from tests.checks.said import codes, figures, findings, mm, the_only, unjudged

PLAIN = PageBoxesSettings()
PDFX = PageBoxesSettings(severity={"no-trim-box": Severity.MUST_FIX, "two-boxes": Severity.MUST_FIX})


def around(piece: Flyer, margin_mm: float) -> Box:
    return piece.trim_box.grown(mm_to_pt(margin_mm))


def boxed(**boxes: Box | None) -> Flyer:
    piece = flyer()
    return piece.with_boxes(replace(piece.boxes, **boxes))


def test_trim_in_bleed_in_media_passes() -> None:
    assert codes(check(flyer().artwork(), PLAIN)) == []
    assert codes(check(boxed(media=around(flyer(), 10)).artwork(), PLAIN)) == []


def test_no_trim_box_is_advice_and_must_fix_where_pdfx_is_asked() -> None:
    piece = flyer().with_trim(Unmeasured("trim", "no size fits"))
    finding = the_only(check(piece.artwork(), PLAIN))
    assert (finding.code, finding.severity, finding.page) == ("no-trim-box", Severity.ADVICE, 1)
    assert the_only(check(piece.artwork(), PDFX)).severity is Severity.MUST_FIX


def test_a_concluded_trim_is_told_here_only_where_the_box_is_required() -> None:
    piece = flyer().with_trim(Trim(flyer().trim_box, TrimOrigin.INFERRED, "concluded"))
    assert codes(check(piece.artwork(), PLAIN)) == []
    assert codes(check(piece.artwork(), PDFX)) == ["no-trim-box"]


def test_an_art_box_does_for_a_trim_box() -> None:
    piece = flyer().with_trim(Trim(flyer().trim_box, TrimOrigin.ART_BOX))
    assert codes(check(piece.with_boxes(replace(piece.boxes, art=piece.trim_box)).artwork(), PDFX)) == []


def test_trim_box_and_art_box_are_one_too_many() -> None:
    finding = the_only(check(boxed(art=flyer().trim_box).artwork(), PLAIN))
    assert (finding.code, finding.severity) == ("two-boxes", Severity.ADVICE)


def test_a_trim_out_of_its_bleed_contradicts_itself() -> None:
    finding = the_only(check(boxed(bleed=around(flyer(), -2)).artwork(), PLAIN))
    assert (finding.code, finding.severity, *figures(finding)) == (
        "not-nested",
        Severity.MUST_FIX,
        mm(2),
        mm(0),
    )
    assert "all four edges" in finding.message


def test_an_art_box_that_does_for_a_trim_box_is_called_by_its_name() -> None:
    piece = flyer()
    finding = the_only(check(boxed(trim=None, art=piece.trim_box, bleed=around(piece, -2)).artwork(), PLAIN))
    assert "the art box reaches 2 mm out of the bleed box" in finding.message


def test_a_bleed_out_of_the_page_contradicts_itself() -> None:
    finding = the_only(check(boxed(bleed=around(flyer(), 5)).artwork(), PLAIN))
    assert (finding.code, finding.measured) == ("not-nested", mm(2))


def test_a_trim_out_of_the_page_is_named_by_its_edge() -> None:
    trim = flyer().trim_box
    low = Box(trim.x0, trim.y0, trim.x1, trim.y1 - mm_to_pt(10))
    all_findings = findings(check(boxed(media=low, bleed=None).artwork(), PLAIN))
    assert [item.code for item in all_findings] == ["not-nested"]
    assert "top edge" in all_findings[0].message


@pytest.mark.parametrize(("inside_mm", "expected"), [(2, ["crop-in-bleed"]), (0, ["crop-in-bleed"]), (3, [])])
def test_a_crop_into_the_bleed_is_advice(inside_mm: float, expected: list[str]) -> None:
    assert codes(check(boxed(crop=around(flyer(), inside_mm)).artwork(), PLAIN)) == expected


def test_a_crop_into_the_page_must_be_fixed() -> None:
    finding = the_only(check(boxed(crop=around(flyer(), -5)).artwork(), PLAIN))
    assert (finding.code, finding.severity, finding.measured) == ("crop-in-trim", Severity.MUST_FIX, mm(5))


def test_a_missing_bleed_box_is_told_where_there_is_room() -> None:
    finding = the_only(check(boxed(bleed=None).artwork(), PLAIN))
    assert (finding.code, finding.severity) == ("no-bleed-box", Severity.ADVICE)


def test_a_page_without_any_size() -> None:
    piece = flyer().with_boxes(PageBoxes(media=None)).with_trim(Unmeasured("trim", "no box"))
    assert codes(check(piece.artwork(), PLAIN)) == ["no-page-size", "no-trim-box"]


def test_a_scaled_page_is_advice() -> None:
    finding = the_only(check(replace(flyer(), user_unit=10.0).artwork(), PLAIN))
    assert (finding.code, finding.severity, finding.measured) == ("user-unit", Severity.ADVICE, "10")


# What is not flagged


def test_rounding_is_not_flagged() -> None:
    assert codes(check(boxed(bleed=around(flyer(), 3.4)).artwork(), PLAIN)) == []
    assert codes(check(boxed(crop=around(flyer(), 2.6)).artwork(), PLAIN)) == []


def test_a_page_that_ends_at_the_trim_needs_no_bleed_box() -> None:
    piece = flyer().with_bleed_mm(0)
    assert codes(check(piece.with_boxes(replace(piece.boxes, bleed=None)).artwork(), PLAIN)) == []


def test_raster_files_have_no_boxes() -> None:
    assert codes(check(placed(raster((1819, 2551)), parse_size("A5"), 3), PDFX)) == []


def test_pages_with_the_same_fault_are_one_finding() -> None:
    page, other = boxed(bleed=None).page(), boxed(trim=None).page()
    all_findings = findings(check(artwork(page, other, page), PLAIN))
    assert [(item.code, [place.page for place in item.places]) for item in all_findings] == [
        ("no-bleed-box", [1, 3]),
        ("no-trim-box", [2]),
    ]
    assert all_findings[0].message.startswith("Pages 1 and 3: ")


def test_an_unread_file_is_not_judged() -> None:
    assert [item.severity for item in unjudged(check(unreadable(), PLAIN))] == [Severity.MUST_FIX]
