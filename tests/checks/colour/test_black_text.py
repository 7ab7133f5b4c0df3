# Black text: knocked out of a colour, in four inks, in the black of a screen.
from dataclasses import replace

import pytest

from hotfolder.checks.colour.black_text import BlackTextSettings, check
from hotfolder.model.colour import Colour, ColourSpace
from hotfolder.model.findings import Severity
from hotfolder.model.marks import MarkState
from hotfolder.units import parse_length
from tests.artwork.colours import (
    BLACK,
    CMYK_BLACK,
    CMYK_WHITE,
    DEVICE_CMYK,
    DEVICE_RGB,
    FOUR_FULL,
    RICH_BLACK,
    SCREEN_BLACK,
    SCREEN_RED,
    cmyk,
    spot,
)
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.pictures import raster, unplaced
from tests.checks.said import codes, the_only, unjudged

PLAIN = BlackTextSettings()
AT = (20, 50)
OVER = MarkState(overprint_fill=True, overprint_mode=1)


def on(ground: Colour | None, colour: Colour, *, size: float = 9, state: MarkState | None = None) -> Flyer:
    piece = flyer() if ground is None else flyer().with_background(colour=ground)
    return piece.with_text(AT, size_pt=size, colour=colour, state=state or MarkState())


@pytest.mark.parametrize("colour", [CMYK_BLACK, BLACK, cmyk(0, 0, 0, 90)])
def test_small_black_text_left_out_of_a_colour_is_advice(colour: Colour) -> None:
    finding = the_only(check(on(cmyk(0, 0, 100, 0), colour).artwork(), PLAIN))
    assert (finding.code, finding.severity, finding.page, len(finding.boxes)) == (
        "knocks-out",
        Severity.ADVICE,
        1,
        1,
    )


@pytest.mark.parametrize(
    ("colour", "state", "expected"),
    [
        (CMYK_BLACK, OVER, []),
        (CMYK_BLACK, MarkState(overprint_fill=True), ["knocks-out"]),  # mode 0 erases
        (BLACK, OVER, ["knocks-out"]),  # a grey erases cyan, magenta and yellow in every mode
    ],
)
def test_what_overprints_follows_the_standard(colour: Colour, state: MarkState, expected: list[str]) -> None:
    # ISO 32000-2, 8.6.7.
    assert codes(check(on(cmyk(0, 0, 100, 0), colour, state=state).artwork(), PLAIN)) == expected


def named_black() -> Colour:
    return replace(spot("Black"), space=replace(spot("Black").space, kind=CMYK_BLACK.space.kind))


def test_black_as_a_named_ink_overprints_in_every_mode() -> None:
    named = named_black()
    over = MarkState(overprint_fill=True)
    assert codes(check(on(cmyk(0, 0, 100, 0), named, state=over).artwork(), PLAIN)) == []
    assert codes(check(on(cmyk(0, 0, 100, 0), named).artwork(), PLAIN)) == ["knocks-out"]


def test_small_text_in_black_with_other_inks_is_advice() -> None:
    finding = the_only(check(on(None, RICH_BLACK).artwork(), PLAIN))
    assert (finding.code, finding.severity, finding.measured) == (
        "rich-black",
        Severity.ADVICE,
        "black with other inks",
    )


def test_the_black_of_a_screen_is_advice() -> None:
    assert the_only(check(on(None, SCREEN_BLACK).artwork(), PLAIN)).code == "screen-black"
    assert codes(check(on(None, SCREEN_RED).artwork(), PLAIN)) == []


def test_the_size_counts() -> None:
    assert codes(check(on(None, RICH_BLACK, size=12).artwork(), PLAIN)) == []
    assert codes(check(on(None, RICH_BLACK, size=11.9).artwork(), PLAIN)) == ["rich-black"]
    larger = BlackTextSettings(below=parse_length("24 pt"))
    assert codes(check(on(None, RICH_BLACK, size=20).artwork(), larger)) == ["rich-black"]


def test_one_cause_on_two_pages_is_one_finding() -> None:
    page = on(None, RICH_BLACK).page()
    assert [place.page for place in the_only(check(artwork(page, page), PLAIN)).places] == [1, 2]


# What is not flagged


@pytest.mark.parametrize("ground", [None, cmyk(0, 0, 0, 30), CMYK_WHITE])
def test_black_on_paper_white_or_a_tint_of_black_is_fine(ground: Colour | None) -> None:
    assert codes(check(on(ground, CMYK_BLACK).artwork(), PLAIN)) == []


def test_black_on_white_over_a_colour_is_fine() -> None:
    piece = flyer().with_background().with_area(10, 40, 100, 70, colour=CMYK_WHITE, white=True)
    assert codes(check(piece.with_text(AT, colour=CMYK_BLACK).artwork(), PLAIN)) == []


@pytest.mark.parametrize("state", [MarkState(blend_mode="Multiply"), MarkState(fill_opacity=0.8)])
def test_blended_text_leaves_nothing_out(state: MarkState) -> None:
    assert codes(check(on(cmyk(0, 0, 100, 0), CMYK_BLACK, state=state).artwork(), PLAIN)) == []


def test_traces_coloured_text_and_registration_colour_are_no_black_text() -> None:
    for colour in (cmyk(4, 4, 0, 100), cmyk(0, 100, 100, 0), FOUR_FULL):
        assert codes(check(on(None, colour).artwork(), PLAIN)) == []


def test_areas_are_no_text_and_hidden_text_does_not_show() -> None:
    assert codes(check(flyer().with_area(10, 10, 30, 30, colour=RICH_BLACK).artwork(), PLAIN)) == []
    hidden = flyer().with_text(AT, colour=RICH_BLACK, printed=False)
    assert codes(check(hidden.artwork(), PLAIN)) == []


def test_what_could_not_be_read_is_not_judged() -> None:
    assert [item.severity for item in unjudged(check(unreadable(), PLAIN))] == [Severity.ADVICE]


def test_a_picture_file_of_unknown_size_is_no_question_for_this_rule() -> None:
    assert codes(check(unplaced(raster((1819, 2551)), "no size"), PLAIN)) == []


# Groups of screen colours (ISO 32000-2, 11.4.7 and 11.6.6; that four inks come of them, tests/plates shows)


IN_GROUP = MarkState(group=True, on_screen=True)
SEEN_THROUGH = MarkState(fill_opacity=0.5)


@pytest.mark.parametrize("colour", [CMYK_BLACK, BLACK])
@pytest.mark.parametrize("ground", [None, cmyk(0, 0, 100, 0)])
def test_black_in_a_group_of_screen_colours_becomes_four_inks(colour: Colour, ground: Colour | None) -> None:
    finding = the_only(check(on(ground, colour, state=IN_GROUP).artwork(), PLAIN))
    assert (finding.code, finding.severity, finding.page, len(finding.boxes)) == (
        "blended-on-screen", Severity.ADVICE, 1, 1,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("colour", "state", "size"),
    [
        (cmyk(0, 100, 0, 0), IN_GROUP, 9), (CMYK_BLACK, IN_GROUP, 12), (CMYK_BLACK, MarkState(group=True), 9),
        (named_black(), IN_GROUP, 9),
    ],
)  # fmt: skip
def test_what_stands_in_a_group_and_stays_what_it_is(colour: Colour, state: MarkState, size: float) -> None:
    assert codes(check(on(None, colour, state=state, size=size).artwork(), PLAIN)) == []


@pytest.mark.parametrize(
    ("space", "state", "expected"),
    [
        (DEVICE_RGB, SEEN_THROUGH, ["blended-on-screen"]),
        (DEVICE_RGB, MarkState(blend_mode="Multiply"), ["blended-on-screen"]),
        (DEVICE_RGB, MarkState(), []),  # nothing is blended
        (DEVICE_CMYK, SEEN_THROUGH, []),
        (None, SEEN_THROUGH, []),
    ],
)
def test_black_on_a_page_that_is_blended_in_screen_colours(
    space: ColourSpace | None, state: MarkState, expected: list[str]
) -> None:
    piece = on(None, CMYK_BLACK).with_area(40, 100, 60, 120, colour=cmyk(0, 0, 100, 0), state=state)
    page = replace(piece.page(), blend_space=space)
    assert codes(check(artwork(page), PLAIN)) == expected
