# White that overprints and vanishes, exactly by the rules of each colour space; pale colours that mix.
from dataclasses import replace

import pytest

from hotfolder.checks.colour.white_overprint import WhiteOverprintSettings, check
from hotfolder.model.colour import Colour, ColourKind, ColourSpace
from hotfolder.model.findings import Severity
from hotfolder.model.marks import MarkState, Masking
from tests.artwork.colours import (
    ALL_PLATES,
    CMYK_BLACK,
    CMYK_WHITE,
    DEVICE_CMYK,
    DEVICE_RGB,
    GREY_WHITE,
    ICC_CMYK,
    cmyk,
    spot,
)
from tests.artwork.files import artwork, unreadable
from tests.artwork.flyer import Flyer, flyer, image_facts
from tests.artwork.pictures import raster, unplaced
from tests.checks.said import codes, the_only, unjudged

PLAIN = WhiteOverprintSettings()
AREA = (20, 50, 60, 90)
MODE_0 = MarkState(overprint_fill=True)
MODE_1 = MarkState(overprint_fill=True, overprint_mode=1)
CYAN = cmyk(100, 0, 0, 0)
GREEN = spot("Leaf Green")
ICC_WHITE = Colour(ICC_CMYK, (0.0, 0.0, 0.0, 0.0))
RGB_WHITE = Colour(DEVICE_RGB, (1.0, 1.0, 1.0))
BLACK_TINT_0 = Colour(ColourSpace("Separation", ColourKind.CMYK, 1, ("Black",), DEVICE_CMYK), (0.0,))
SPOT_TINT_0 = spot("Sky Blue", tint=0)
SPOTS_TINT_0 = spot("Sky Blue", "Rust", tint=0)


def over(ground: Colour, colour: Colour, state: MarkState) -> Flyer:
    return flyer().with_background(colour=ground).with_area(*AREA, colour=colour, state=state)


@pytest.mark.parametrize(
    ("colour", "state", "on_cyan", "on_spot"),
    [
        # ISO 32000-2, 8.6.7: DeviceCMYK in mode 1 leaves all inks that it has 0 of.
        (CMYK_WHITE, MODE_1, ["vanishes"], ["vanishes"]),
        # In mode 0, and in all other process spaces, it clears process inks and leaves spot inks.
        (CMYK_WHITE, MODE_0, [], ["spot-stays"]),
        (GREY_WHITE, MODE_0, [], ["spot-stays"]),
        (GREY_WHITE, MODE_1, [], ["spot-stays"]),
        (ICC_WHITE, MODE_1, [], ["spot-stays"]),
        (RGB_WHITE, MODE_1, [], ["spot-stays"]),
        # Separation and DeviceN leave every ink that they do not name, in every mode.
        (SPOT_TINT_0, MODE_0, ["vanishes"], ["vanishes"]),
        (SPOT_TINT_0, MODE_1, ["vanishes"], ["vanishes"]),
        (SPOTS_TINT_0, MODE_0, ["vanishes"], ["vanishes"]),
        (BLACK_TINT_0, MODE_0, ["vanishes"], ["vanishes"]),
        # Without overprint, white knocks out.
        (CMYK_WHITE, MarkState(overprint_mode=1), [], []),
        (SPOT_TINT_0, MarkState(), [], []),
    ],
)
def test_white_that_overprints(
    colour: Colour, state: MarkState, on_cyan: list[str], on_spot: list[str]
) -> None:
    assert codes(check(over(CYAN, colour, state).artwork(), PLAIN)) == on_cyan
    assert codes(check(over(GREEN, colour, state).artwork(), PLAIN)) == on_spot


def test_what_vanishes_must_be_fixed_and_what_stays_is_advice() -> None:
    gone = the_only(check(over(CYAN, CMYK_WHITE, MODE_1).artwork(), PLAIN))
    assert (gone.severity, gone.page, len(gone.boxes)) == (Severity.MUST_FIX, 1, 1)
    assert the_only(check(over(GREEN, CMYK_WHITE, MODE_0).artwork(), PLAIN)).severity is Severity.ADVICE


def test_a_tint_of_nothing_clears_the_inks_that_it_names() -> None:
    assert codes(check(over(cmyk(0, 0, 0, 100), BLACK_TINT_0, MODE_0).artwork(), PLAIN)) == []
    assert codes(check(over(spot("Sky Blue"), SPOT_TINT_0, MODE_0).artwork(), PLAIN)) == []


def test_text_stencils_and_lines_count_too() -> None:
    ground = flyer().with_background(colour=CYAN)
    text = ground.with_text((20, 50), colour=CMYK_WHITE, state=MODE_1)
    stencil = replace(image_facts((400, 400), AREA), colour=None, bits=1, masking=Masking.STENCIL)
    mask = ground.with_image(AREA, (400, 400), stencil, fill=CMYK_WHITE, state=MODE_1)
    stroking = MarkState(overprint_stroke=True, overprint_mode=1)
    line = ground.with_outline(20, 50, 60, 50, 1, CMYK_WHITE, state=stroking)
    for piece in (text, mask, line):
        assert codes(check(piece.artwork(), PLAIN)) == ["vanishes"]
    filling_only = ground.with_outline(20, 50, 60, 50, 1, CMYK_WHITE, state=MODE_1)
    assert codes(check(filling_only.artwork(), PLAIN)) == []


@pytest.mark.parametrize(
    ("ground", "colour", "expected"),
    [
        (CYAN, cmyk(0, 10, 0, 0), ["pale-mixes"]),
        (CYAN, cmyk(0, 0, 100, 0), ["pale-mixes"]),  # yellow is light however much of it there is
        (CYAN, cmyk(10, 0, 0, 0), []),  # it speaks of the only ink beneath
        (CYAN, cmyk(0, 60, 0, 0), []),
        (CYAN, CMYK_BLACK, []),
        (GREEN, cmyk(0, 10, 0, 0), []),
        (CYAN, spot("Sky Blue", tint=0.2), []),
    ],
)
def test_pale_colours_that_overprint_other_inks_are_advice(
    ground: Colour, colour: Colour, expected: list[str]
) -> None:
    assert codes(check(over(ground, colour, MODE_1).artwork(), PLAIN)) == expected
    assert codes(check(over(ground, colour, MODE_0).artwork(), PLAIN)) == []


# What is not flagged


def test_white_on_bare_paper_is_not_missed() -> None:
    assert codes(check(flyer().with_area(*AREA, colour=CMYK_WHITE, state=MODE_1).artwork(), PLAIN)) == []
    on_white = flyer().with_background(colour=CYAN).with_area(0, 0, 148, 210, colour=CMYK_WHITE, white=True)
    assert codes(check(on_white.with_area(*AREA, colour=CMYK_WHITE, state=MODE_1).artwork(), PLAIN)) == []


@pytest.mark.parametrize("state", [replace(MODE_1, blend_mode="Multiply"), replace(MODE_1, fill_opacity=0.5)])
def test_what_is_blended_or_fades_is_meant_to_mix(state: MarkState) -> None:
    assert codes(check(over(CYAN, CMYK_WHITE, state).artwork(), PLAIN)) == []


def test_pictures_and_registration_colour_do_not_count() -> None:
    picture = flyer().with_background(colour=CYAN).with_image(AREA, (400, 400), state=MODE_1)
    assert codes(check(picture.artwork(), PLAIN)) == []
    nothing = replace(ALL_PLATES, components=(0.0,))
    assert codes(check(over(CYAN, nothing, MODE_1).artwork(), PLAIN)) == []


def test_hidden_white_is_not_flagged() -> None:
    hidden = flyer().with_background(colour=CYAN)
    hidden = hidden.with_area(*AREA, colour=CMYK_WHITE, state=MODE_1, printed=False)
    assert codes(check(hidden.artwork(), PLAIN)) == []


def test_one_cause_on_two_pages_is_one_finding() -> None:
    page = over(CYAN, CMYK_WHITE, MODE_1).page()
    assert [place.page for place in the_only(check(artwork(page, page), PLAIN)).places] == [1, 2]


def test_what_could_not_be_read_is_not_judged() -> None:
    assert [item.severity for item in unjudged(check(unreadable(), PLAIN))] == [Severity.MUST_FIX]


def test_a_picture_file_of_unknown_size_is_no_question_for_this_rule() -> None:
    assert codes(check(unplaced(raster((1819, 2551)), "no size"), PLAIN)) == []


def test_white_that_leaves_no_ink_on_the_plates_is_told_all_the_same() -> None:
    page = over(CYAN, CMYK_WHITE, MODE_1).page()
    marks = tuple(replace(mark, inks=()) if mark.state == MODE_1 else mark for mark in page.known_marks)
    assert [mark.inks for mark in marks].count(()) == 1
    assert codes(check(artwork(replace(page, marks=marks)), PLAIN)) == ["vanishes"]
