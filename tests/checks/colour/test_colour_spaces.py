# Colour spaces: which paint is not taken, and where it is.
from dataclasses import replace

import pytest

from hotfolder.checks.colour.colour_spaces import ColourSpacesSettings, check
from hotfolder.checks.shared.occurrences import MOST_BOXES
from hotfolder.model.colour import Colour, ColourKind, ColourSpace
from hotfolder.model.findings import Severity
from hotfolder.model.marks import MarkKind
from hotfolder.units import parse_size
from tests.artwork.colours import (
    ALL_PLATES,
    BLACK,
    BLUE,
    DEVICE_RGB,
    ICC_RGB,
    LAB,
    NO_PLATE,
    PATTERN,
    SCREEN_RED,
    UNKNOWN,
    spot,
)
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.pictures import RGB, placed, raster, unplaced
from tests.checks.said import codes, figures, findings, the_only, unjudged

CMYK_AND_GREY = ColourSpacesSettings(allowed=(ColourKind.CMYK, ColourKind.GREY))
EVERYTHING = ColourSpacesSettings(allowed=(ColourKind.CMYK, ColourKind.GREY, ColourKind.RGB, ColourKind.LAB))


def painted(colour: Colour) -> Flyer:
    return flyer().with_area(10, 10, 50, 50, colour=colour)


@pytest.mark.parametrize("colour", [BLUE, BLACK])
def test_colours_that_are_taken_pass(colour: Colour) -> None:
    assert codes(check(painted(colour).artwork(), CMYK_AND_GREY)) == []


@pytest.mark.parametrize(("space", "kind"), [(DEVICE_RGB, "RGB"), (ICC_RGB, "RGB"), (LAB, "Lab")])
def test_screen_colours_must_be_fixed(space: ColourSpace, kind: str) -> None:
    piece = painted(Colour(space, (0.2, 0.3, 0.4)))
    finding = the_only(check(piece.artwork(), CMYK_AND_GREY))
    assert (finding.code, finding.severity, finding.page) == ("forbidden", Severity.MUST_FIX, 1)
    assert figures(finding) == (kind, "CMYK or grey (black ink only)")
    assert codes(check(piece.artwork(), EVERYTHING)) == []


def test_marks_of_one_kind_are_one_finding_with_their_places() -> None:
    piece = painted(SCREEN_RED).with_text((60, 60), colour=Colour(ICC_RGB, (0.0, 0.0, 0.0)))
    finding = the_only(check(piece.artwork(), CMYK_AND_GREY))
    assert len(finding.boxes) == 2
    assert "shapes and text in RGB (DeviceRGB and ICCBased (A screen))" in finding.message


def test_each_kind_of_colour_is_one_finding_with_all_its_places() -> None:
    page = painted(SCREEN_RED).with_area(60, 60, 70, 70, colour=Colour(LAB, (50.0, 0.0, 0.0))).page()
    all_findings = findings(check(artwork(page, page), CMYK_AND_GREY))
    assert [(item.measured, [place.page for place in item.places]) for item in all_findings] == [
        ("RGB", [1, 2]),
        ("Lab", [1, 2]),
    ]


def test_pictures_may_have_colours_of_their_own() -> None:
    settings = ColourSpacesSettings(
        allowed=(ColourKind.GREY, ColourKind.CMYK), in_pictures=(ColourKind.CMYK, ColourKind.RGB)
    )
    picture = flyer().with_image((10, 10, 50, 50), (600, 600), fill=Colour(DEVICE_RGB))
    assert codes(check(picture.artwork(), settings)) == []
    both = picture.with_text((10, 60), colour=SCREEN_RED)
    finding = the_only(check(both.artwork(), settings))
    assert (finding.measured, finding.required) == ("RGB", "grey (black ink only) or CMYK")
    assert finding.boxes == (both.marks[1].box,)


def test_a_stroke_counts_like_a_fill() -> None:
    piece = flyer().with_outline(10, 10, 50, 50, 1, colour=SCREEN_RED)
    assert codes(check(piece.artwork(), CMYK_AND_GREY)) == ["forbidden"]


def test_an_indexed_picture_has_the_kind_of_its_base() -> None:
    indexed = Colour(ColourSpace("Indexed", ColourKind.RGB, 1, base=DEVICE_RGB))
    piece = flyer().with_image((10, 10, 50, 50), (600, 600), fill=indexed)
    assert codes(check(piece.artwork(), CMYK_AND_GREY)) == ["forbidden"]


def test_a_pattern_has_the_colour_beneath_it() -> None:
    over_rgb = Colour(ColourSpace("Pattern", ColourKind.PATTERN, 3, base=DEVICE_RGB))
    assert codes(check(painted(over_rgb).artwork(), CMYK_AND_GREY)) == ["forbidden"]
    # A pattern with colours of its own is judged by the marks of its cell.
    assert codes(check(painted(Colour(PATTERN)).artwork(), CMYK_AND_GREY)) == []


# What is not flagged


@pytest.mark.parametrize(
    "piece",
    [
        pytest.param(painted(spot("Leaf Green")), id="spot colours are another rule's"),
        pytest.param(painted(ALL_PLATES), id="registration colour"),
        pytest.param(painted(Colour(NO_PLATE, (1.0,))), id="no plate"),
        pytest.param(flyer().with_area(0, 0, 9, 9, colour=SCREEN_RED, white=True), id="paper white"),
        pytest.param(flyer().with_area(0, 0, 9, 9, colour=SCREEN_RED, printed=False), id="hidden layer"),
        pytest.param(flyer().with_area(-3, 9, -3, 20, colour=SCREEN_RED), id="at the page's end"),
    ],
)
def test_not_flagged(piece: Flyer) -> None:
    assert codes(check(piece.artwork(), CMYK_AND_GREY)) == []


def test_marks_outside_trim_and_bleed_are_not_flagged() -> None:
    piece = flyer()
    roomy = piece.with_boxes(replace(piece.boxes, media=piece.trim_box.grown(60)))
    outside = roomy.with_text((0, -12), colour=SCREEN_RED)
    assert codes(check(outside.artwork(), CMYK_AND_GREY)) == []
    assert outside.marks[0].kind is MarkKind.TEXT
    in_bleed = roomy.with_area(-3, 0, -1, 20, colour=SCREEN_RED)
    assert codes(check(in_bleed.artwork(), CMYK_AND_GREY)) == ["forbidden"]


def test_a_traced_drawing_is_told_in_a_bounded_number_of_boxes() -> None:
    piece = flyer()
    base = painted(SCREEN_RED).marks[0]
    marks = []
    for step in range(5000):
        box = replace(base.box, x0=base.box.x0 + step * 0.001)
        marks.append(replace(base, box=box, visible=box))
    finding = the_only(check(replace(piece, marks=tuple(marks)).artwork(), CMYK_AND_GREY))
    assert 1 <= len(finding.boxes) <= MOST_BOXES


# Raster files


def test_a_picture_file_is_judged_by_its_mode() -> None:
    assert codes(check(placed(raster((1819, 2551)), parse_size("A5"), 3), CMYK_AND_GREY)) == []
    screen = raster((1819, 2551), colour=RGB)
    assert the_only(check(placed(screen, parse_size("A5"), 3), CMYK_AND_GREY)).measured == "RGB"


def test_the_mode_is_judged_even_where_the_size_is_not_known() -> None:
    finding = the_only(check(unplaced(raster((1819, 2551), colour=RGB), "no size"), CMYK_AND_GREY))
    assert (finding.measured, finding.boxes) == ("RGB", ())


# What cannot be judged


def test_an_unknown_space_is_not_judged() -> None:
    said = unjudged(check(painted(Colour(UNKNOWN)).artwork(), CMYK_AND_GREY))
    assert [(item.severity, item.page) for item in said] == [(Severity.MUST_FIX, 1)]


def test_what_could_not_be_read_is_not_judged() -> None:
    assert len(unjudged(check(unreadable(), CMYK_AND_GREY))) == 1
    assert len(unjudged(check(flyer().unreadable().artwork(), CMYK_AND_GREY))) == 1
