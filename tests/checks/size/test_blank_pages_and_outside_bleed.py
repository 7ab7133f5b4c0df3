# Pages that show nothing, and pictures that lie beyond the bleed.
from dataclasses import replace

import pytest

from hotfolder.checks.size import blank_pages, outside_bleed
from hotfolder.checks.size.blank_pages import BlankPagesSettings
from hotfolder.checks.size.outside_bleed import OutsideBleedSettings
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Quantity, Severity
from hotfolder.model.pages import Page
from hotfolder.units import parse_size
from tests.artwork.colours import CMYK_WHITE
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.pictures import placed, raster, unplaced
from tests.artwork.plates import plates
from tests.checks.said import codes, figures, the_only, unjudged

PLAIN = BlankPagesSettings()
OUTSIDE = OutsideBleedSettings()


def on_sheet() -> Flyer:
    """A flyer with 3 mm of bleed on a sheet with 40 mm around it."""
    piece = flyer()
    return piece.with_boxes(replace(piece.boxes, media=piece.trim_box.grown(113)))


def test_blank_pages_are_one_piece_of_advice() -> None:
    full, blank = flyer().with_background().page(), flyer().page()
    finding = the_only(blank_pages.check(artwork(full, blank, full, blank), PLAIN))
    assert (finding.code, finding.severity, [place.page for place in finding.places]) == (
        "blank",
        Severity.ADVICE,
        [2, 4],
    )
    assert figures(finding) == (Quantity.of(2, unit="blank pages"), Quantity.of(0, unit="blank pages"))
    assert finding.message.startswith("Pages 2 and 4: ")


@pytest.mark.parametrize(
    "piece",
    [
        flyer().with_area(0, 0, 148, 210, colour=CMYK_WHITE, white=True),
        flyer().with_text((20, 50), printed=False),
        on_sheet().with_outline(-15, 0, -5, 0, 0.1),
    ],
    ids=["paper white", "hidden text", "crop marks"],
)
def test_what_leaves_the_paper_bare_does_not_fill_a_page(piece: Flyer) -> None:
    assert codes(blank_pages.check(piece.artwork(), PLAIN)) == ["blank"]


def test_a_single_dot_fills_a_page() -> None:
    assert codes(blank_pages.check(flyer().with_area(70, 100, 70.1, 100.1).artwork(), PLAIN)) == []


def plated(piece: Flyer, *ink: tuple[float, tuple[float, float, float, float]]) -> Page:
    made = plates(piece, 8)
    for percent, at_mm in ink:
        made = made.with_ink("Black", percent, at_mm)
    return made.page()


PHOTO = flyer().with_image((-3, -3, 151, 213), (1819, 2551))


def test_a_picture_that_lays_no_ink_leaves_the_page_blank() -> None:
    """White, in whatever way it is packed: the plates tell."""
    assert codes(blank_pages.check(artwork(plated(PHOTO)), PLAIN)) == ["blank"]
    assert codes(blank_pages.check(artwork(plated(PHOTO, (0.8, (0, 0, 148, 210)))), PLAIN)) == ["blank"]
    # What lies outside of the page and its bleed does not fill it.
    assert codes(blank_pages.check(artwork(plated(PHOTO, (100, (-6, 0, -4, 9)))), PLAIN)) == ["blank"]


@pytest.mark.parametrize("ink", [(2, (0, 0, 148, 210)), (100, (70, 100, 70.3, 100.3))])
def test_a_picture_that_lays_any_ink_fills_a_page(
    ink: tuple[float, tuple[float, float, float, float]],
) -> None:
    assert codes(blank_pages.check(artwork(plated(PHOTO, ink)), PLAIN)) == []


def test_without_plates_a_picture_fills_a_page() -> None:
    assert codes(blank_pages.check(PHOTO.artwork(), PLAIN)) == []


def test_a_hairline_that_leaves_no_trace_on_the_plates_fills_a_page() -> None:
    assert codes(blank_pages.check(artwork(plated(flyer().with_outline(10, 10, 50, 10, 0.01))), PLAIN)) == []


def test_a_white_picture_file_is_blank() -> None:
    (page,) = placed(raster((1819, 2551)), parse_size("A5"), 3).known_pages
    white = replace(page, ink=plated(flyer()).ink)
    assert codes(blank_pages.check(artwork(white), PLAIN)) == ["blank"]
    grey = replace(page, ink=plated(flyer(), (50, (10, 10, 30, 30))).ink)
    assert codes(blank_pages.check(artwork(grey), PLAIN)) == []


def test_pictures_and_what_could_not_be_read_are_no_blank_pages() -> None:
    assert codes(blank_pages.check(placed(raster((1819, 2551)), parse_size("A5"), 3), PLAIN)) == []
    said = unjudged(blank_pages.check(flyer().unreadable().artwork(), PLAIN))
    assert [(item.page, item.severity) for item in said] == [(1, Severity.ADVICE)]
    assert len(unjudged(blank_pages.check(unreadable(), PLAIN))) == 1


# Outside the bleed


def placed_at(x0: float, x1: float) -> Flyer:
    return on_sheet().with_image((x0, 20, x1, 50), (600, 600))


def test_a_picture_beyond_the_bleed_is_advice() -> None:
    finding = the_only(outside_bleed.check(placed_at(-35, -5).artwork(), OUTSIDE))
    assert (finding.code, finding.severity, finding.page, len(finding.boxes)) == (
        "picture",
        Severity.ADVICE,
        1,
        1,
    )
    assert finding.message.startswith("Page 1, beyond the left edge: ")


@pytest.mark.parametrize(
    "piece",
    [
        placed_at(-35, -2),
        placed_at(-12, -5),
        on_sheet().with_area(-35, 20, -5, 50),
        on_sheet().with_text((-35, 20), width_mm=30, size_pt=40),
        on_sheet().with_image((-35, 20, -5, 50), (600, 600), printed=False),
        on_sheet().with_image((-35, 20, -5, 50), (600, 600), visible=None),
        on_sheet().with_image((-35, 20, -5, 50), (600, 600), white=True),
        placed_at(-35, -5).with_trim(Unmeasured("trim", "no trim box")),
    ],
    ids=["in the bleed", "small", "a shape", "text", "hidden", "clipped away", "white", "no trim"],
)
def test_what_is_not_flagged_outside_the_bleed(piece: Flyer) -> None:
    assert codes(outside_bleed.check(piece.artwork(), OUTSIDE)) == []


def test_what_could_not_be_read_is_not_judged() -> None:
    assert [item.severity for item in unjudged(outside_bleed.check(unreadable(), OUTSIDE))] == [
        Severity.ADVICE
    ]


def test_a_picture_file_of_unknown_size_is_no_question_for_these_rules() -> None:
    piece = unplaced(raster((1819, 2551)), "no size")
    assert codes(blank_pages.check(piece, PLAIN)) == []
    assert codes(outside_bleed.check(piece, OUTSIDE)) == []
