# Small text: by size on the page, number of inks, and reversed out.
from dataclasses import replace

import pytest

from hotfolder.artwork import Box, Colour, Font, TextFacts
from hotfolder.checks.small_text import SmallTextSettings, check
from hotfolder.findings import Quantity, Severity
from hotfolder.units import parse_length
from tests.artwork.colours import BLACK, BLUE, CMYK_WHITE, RICH_BLACK, SCREEN_BLACK, SCREEN_RED, cmyk, spot
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import flyer
from tests.artwork.pictures import raster, unplaced
from tests.checks.said import codes, figures, finding, unjudged

# House rules: 5 pt in one ink and 7 pt reversed (a record printer), 8 pt in several inks (an advertisement).
WANTED = SmallTextSettings(
    one_ink=parse_length("5 pt"), several_inks=parse_length("8 pt"), reversed=parse_length("7 pt")
)
AT = (20, 50)


@pytest.mark.parametrize(
    ("size", "colour", "expected"),
    [
        (5, BLACK, []), (4.9, BLACK, ["small"]), (4.9, cmyk(0, 100, 0, 0), ["small"]),
        (7.9, BLUE, ["small-in-inks"]), (8, BLUE, []), (7, SCREEN_RED, ["small-in-inks"]),
        (7, SCREEN_BLACK, []), (7, spot("Leaf Green"), []),
        (7, spot("Leaf Green", "Sky Blue"), ["small-in-inks"]),
        # A trace of another ink is hardly seen when its plate shifts.
        (7, cmyk(3, 0, 0, 60), []), (7, cmyk(10, 0, 0, 60), ["small-in-inks"]),
    ],
)  # fmt: skip
def test_the_least_size_follows_from_the_inks(size: float, colour: Colour, expected: list[str]) -> None:
    assert codes(check(flyer().with_text(AT, size_pt=size, colour=colour).artwork(), WANTED)) == expected


def test_small_text_is_advice_with_its_figures_and_words() -> None:
    piece = flyer().with_text(AT, size_pt=4)
    text = TextFacts(4, "Plain-Book", words="Terms and conditions of the summer festival apply")
    found = finding(check(piece.with_marks(replace(piece.marks[0], text=text)).artwork(), WANTED))
    assert (found.severity, *figures(found)) == (
        Severity.ADVICE,
        Quantity.of(4, unit="pt"),
        Quantity.of(5, unit="pt"),
    )
    assert "'Terms and conditions of the su...'" in found.message


def test_pieces_of_one_kind_are_one_finding_and_the_smallest_is_told() -> None:
    page = flyer().with_text(AT, size_pt=4).with_text((20, 100), size_pt=3).page()
    found = finding(check(artwork(page, page), WANTED))
    assert ([place.page for place in found.places], found.measured) == ([1, 2], Quantity.of(3, unit="pt"))
    assert "4 pieces" in found.message


def test_white_text_counts_where_it_is_left_blank_in_a_colour() -> None:
    on_blue = flyer().with_background().with_text(AT, size_pt=6, colour=CMYK_WHITE, white=True)
    found = finding(check(on_blue.artwork(), WANTED))
    assert (found.code, found.severity) == ("small-reversed", Severity.ADVICE)
    on_paper = flyer().with_text(AT, size_pt=3, colour=CMYK_WHITE, white=True)
    assert codes(check(on_paper.artwork(), WANTED)) == []


def test_the_place_is_what_the_letters_ink() -> None:
    piece = flyer().with_text(AT, size_pt=4)
    ink = Box(100, 200, 150, 203)
    text = replace(piece.marks[0], text=TextFacts(4, "Plain-Book", ink=ink, visible_ink=ink))
    assert finding(check(piece.with_marks(text).artwork(), WANTED)).boxes == (ink,)


def test_letters_drawn_by_the_file_count_with_their_height() -> None:
    # The unit of a Type 3 font is the file's own (ISO 32000-2, 9.6.4): size 1 may well be 10 pt high.
    piece = flyer().with_text(AT, size_pt=10, font="T3")
    tiny = replace(piece.marks[0], text=TextFacts(1, "T3"))
    drawn = Font("T3", "Type3", "CharProcs", subset=False, object="8 0")
    assert codes(check(artwork(piece.with_marks(tiny).page(), fonts=(drawn,)), WANTED)) == []
    low = replace(tiny, box=Box(0, 0, 50, 4), visible=piece.marks[0].visible)
    assert codes(check(artwork(piece.with_marks(low).page(), fonts=(drawn,)), WANTED)) == ["small"]


# What is not flagged


def test_five_points_of_another_measure_are_five_points() -> None:
    # 5 points of 72.27 an inch are 4.98 of 72 an inch.
    assert codes(check(flyer().with_text(AT, size_pt=5 * 72 / 72.27).artwork(), WANTED)) == []


def test_rich_black_is_for_another_rule() -> None:
    assert codes(check(flyer().with_text(AT, size_pt=7, colour=RICH_BLACK).artwork(), WANTED)) == []
    assert codes(check(flyer().with_text(AT, size_pt=4, colour=RICH_BLACK).artwork(), WANTED)) == ["small"]


@pytest.mark.parametrize("changes", [{"printed": False}, {"visible": None}, {"covered": True}])
def test_what_does_not_show_is_not_flagged(changes: dict[str, object]) -> None:
    piece = flyer().with_text(AT, size_pt=3)
    hidden = replace(piece.marks[0], **changes)  # type: ignore[arg-type] # a mark's own fields
    assert codes(check(piece.with_marks(hidden).artwork(), WANTED)) == []


def test_text_outside_the_page_is_not_flagged() -> None:
    piece = flyer()
    roomy = piece.with_boxes(replace(piece.boxes, media=piece.trim_box.grown(60)))
    assert codes(check(roomy.with_text((20, -15), size_pt=3).artwork(), WANTED)) == []


def test_what_could_not_be_read_is_not_judged() -> None:
    assert [item.severity for item in unjudged(check(unreadable(), WANTED))] == [Severity.ADVICE]


def test_a_picture_file_of_unknown_size_is_no_question_for_this_rule() -> None:
    assert codes(check(unplaced(raster((1819, 2551)), "no size"), WANTED)) == []
