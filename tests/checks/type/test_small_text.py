# Small text: by size on the page, number of inks, and reversed out.
from dataclasses import replace

import pytest

from hotfolder.checks.type.small_text import SmallTextSettings, check
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import PROCESS_INKS, Colour, ColourSpace
from hotfolder.model.document import Font
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Quantity, Severity
from hotfolder.model.geometry import Box
from hotfolder.model.inks import PageInk
from hotfolder.model.marks import MarkState, TextFacts
from hotfolder.units import parse_length
from tests.artwork.colours import (
    BLACK,
    BLUE,
    CMYK_WHITE,
    DEVICE_CMYK,
    DEVICE_RGB,
    PATTERN,
    RICH_BLACK,
    SCREEN_BLACK,
    SCREEN_RED,
    cmyk,
    spot,
)
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.pictures import raster, unplaced
from tests.artwork.plates import plates
from tests.checks.said import codes, figures, the_only, unjudged

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
    finding = the_only(check(piece.with_marks(replace(piece.marks[0], text=text)).artwork(), WANTED))
    assert (finding.severity, *figures(finding)) == (
        Severity.ADVICE,
        Quantity.of(4, unit="pt"),
        Quantity.of(5, unit="pt"),
    )
    assert "'Terms and conditions of the su...'" in finding.message


def test_pieces_of_one_kind_are_one_finding_and_the_smallest_is_told() -> None:
    page = flyer().with_text(AT, size_pt=4).with_text((20, 100), size_pt=3).page()
    finding = the_only(check(artwork(page, page), WANTED))
    assert ([place.page for place in finding.places], finding.measured) == ([1, 2], Quantity.of(3, unit="pt"))
    assert "4 pieces" in finding.message


def test_white_text_counts_where_it_is_left_blank_in_a_colour() -> None:
    on_blue = flyer().with_background().with_text(AT, size_pt=6, colour=CMYK_WHITE, white=True)
    finding = the_only(check(on_blue.artwork(), WANTED))
    assert (finding.code, finding.severity) == ("small-reversed", Severity.ADVICE)
    on_paper = flyer().with_text(AT, size_pt=3, colour=CMYK_WHITE, white=True)
    assert codes(check(on_paper.artwork(), WANTED)) == []


def test_the_place_is_what_the_letters_ink() -> None:
    piece = flyer().with_text(AT, size_pt=4)
    ink = Box(100, 200, 150, 203)
    text = replace(piece.marks[0], text=TextFacts(4, "Plain-Book", ink=ink, visible_ink=ink))
    assert the_only(check(piece.with_marks(text).artwork(), WANTED)).boxes == (ink,)


def test_letters_drawn_by_the_file_count_with_their_height() -> None:
    # The unit of a Type 3 font is the file's own (ISO 32000-2, 9.6.4): size 1 may well be 10 pt high.
    piece = flyer().with_text(AT, size_pt=10, font="T3")
    tiny = replace(piece.marks[0], text=TextFacts(1, "T3"))
    drawn = Font("T3", "Type3", "CharProcs", subset=False, object="8 0")
    assert codes(check(artwork(piece.with_marks(tiny).page(), fonts=(drawn,)), WANTED)) == []
    low = replace(tiny, box=Box(0, 0, 50, 4), visible=piece.marks[0].visible)
    assert codes(check(artwork(piece.with_marks(low).page(), fonts=(drawn,)), WANTED)) == ["small"]


# With what the plates know of text that overprints or is transparent


def carried_by(*inks: str, size_pt: float = 7.5, colour: Colour = BLACK, ground: bool = True) -> Flyer:
    """Text that mixes with what lies beneath, whose plates are known, on blue."""
    piece = flyer().with_background() if ground else flyer()
    piece = piece.with_text(AT, size_pt=size_pt, colour=colour, state=MarkState(fill_opacity=0.5))
    return piece.with_marks(*piece.marks[:-1], replace(piece.marks[-1], inks=inks))


CYAN = cmyk(100, 0, 0, 0)
CMY = ("Cyan", "Magenta", "Yellow")


@pytest.mark.parametrize(
    ("inks", "colour", "expected"),
    [
        (("Black",), BLACK, []), (("Cyan", "Magenta", "Black"), BLACK, ["small-in-inks"]),
        (("Cyan",), CYAN, []), (("Cyan", "Magenta"), CYAN, ["small-in-inks"]),
        (("Cyan",), BLUE, []), (("Cyan", "Magenta"), BLUE, ["small-in-inks"]),
        (("Cyan", "Magenta"), CMYK_WHITE, ["small-in-inks"]), (("Cyan",), CMYK_WHITE, []),
        ((), CMYK_WHITE, []), ((), BLUE, []),
        (("Leaf Green",), spot("Leaf Green", "Sky Blue"), []),
        # Greys of screen colours count as one ink, and black on other inks is for the rule about black text.
        (PROCESS_INKS, SCREEN_BLACK, []), (PROCESS_INKS, RICH_BLACK, []),
        (CMY, SCREEN_RED, ["small-in-inks"]),
        (("Magenta",), SCREEN_RED, []),
    ],
)  # fmt: skip
def test_the_plates_tell_how_many_inks_mixed_text_has(
    inks: tuple[str, ...], colour: Colour, expected: list[str]
) -> None:
    assert codes(check(carried_by(*inks, colour=colour).artwork(), WANTED)) == expected


def test_text_that_is_one_ink_by_the_plates_has_the_least_size_of_one() -> None:
    for size, expected in ((5, []), (4.9, ["small"])):
        assert codes(check(carried_by("Cyan", size_pt=size, colour=BLUE).artwork(), WANTED)) == expected


def test_white_that_lets_a_colour_through_is_reversed_and_in_its_inks() -> None:
    one = the_only(check(carried_by("Cyan", size_pt=6, colour=CMYK_WHITE).artwork(), WANTED))
    two = the_only(check(carried_by("Cyan", "Magenta", size_pt=6, colour=CMYK_WHITE).artwork(), WANTED))
    assert [(each.code, each.required) for each in (one, two)] == [
        ("small-reversed", Quantity.of(7, unit="pt")),
        ("small-in-inks", Quantity.of(8, unit="pt")),
    ]
    # The plates have it where the boxes of what lies beneath do not: on a ground in a picture, for one.
    bare = carried_by("Cyan", size_pt=6, colour=CMYK_WHITE, ground=False)
    assert codes(check(bare.artwork(), WANTED)) == ["small-reversed"]


def test_the_message_says_that_mixing_makes_it_several_inks() -> None:
    mixed = carried_by("Cyan", "Black")
    assert "This comes from transparency or overprint. " in the_only(check(mixed.artwork(), WANTED)).message
    both = mixed.with_text((20, 100), size_pt=7, colour=BLUE)
    assert (
        "This comes from transparency or overprint for 1 of them. "
        in the_only(check(both.artwork(), WANTED)).message
    )
    plain = flyer().with_text(AT, size_pt=7, colour=BLUE)
    for piece in (plain, carried_by("Cyan", "Magenta", colour=BLUE)):
        finding = the_only(check(piece.artwork(), WANTED))
        assert "makes it so" not in finding.message
        assert "opaque" not in finding.remedy


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


# Gradients and patterns, which have no one colour


def in_a_gradient(
    size: float, space: ColourSpace, inks: tuple[str, ...] | None, ink: PageInk | Unmeasured | None = None
) -> Artwork:
    """A piece with one run of text in a gradient, with what the plates tell of it."""
    piece = flyer().with_text(AT, size_pt=size, colour=Colour(space))
    page = piece.with_marks(replace(piece.marks[0], inks=inks)).page()
    return artwork(replace(page, ink=plates(flyer()).page().ink if ink is None else ink))


@pytest.mark.parametrize("space", [DEVICE_CMYK, DEVICE_RGB, PATTERN])
def test_text_in_a_gradient_has_the_inks_of_the_plates(space: ColourSpace) -> None:
    assert codes(check(in_a_gradient(7, space, PROCESS_INKS), WANTED)) == ["small-in-inks"]
    assert codes(check(in_a_gradient(7, space, ("Black",)), WANTED)) == []
    assert codes(check(in_a_gradient(8, space, PROCESS_INKS), WANTED)) == []


@pytest.mark.parametrize("space", [DEVICE_CMYK, DEVICE_RGB, PATTERN])
def test_text_in_a_gradient_whose_inks_nobody_knows_is_left_open(space: ColourSpace) -> None:
    (left,) = unjudged(check(in_a_gradient(7, space, None), WANTED))
    assert (left.severity, left.page) == (Severity.ADVICE, 1)
    assert "gradient" in left.reason
    unknown = Unmeasured("ink", "a font is missing")
    (left,) = unjudged(check(in_a_gradient(7, space, None, unknown), WANTED))
    assert "a font is missing" in left.reason


def test_text_in_a_gradient_is_judged_where_its_inks_make_no_difference() -> None:
    assert codes(check(in_a_gradient(4, DEVICE_CMYK, None), WANTED)) == ["small"]
    assert codes(check(in_a_gradient(8, DEVICE_CMYK, None), WANTED)) == []
    one_size = SmallTextSettings(one_ink=parse_length("5 pt"))
    assert codes(check(in_a_gradient(7, DEVICE_CMYK, None), one_size)) == []


def test_a_gradient_in_a_space_of_one_ink_is_in_one_ink_on_any_ground() -> None:
    for space in (BLACK.space, spot("Leaf Green").space):
        assert codes(check(in_a_gradient(7, space, None), WANTED)) == []
