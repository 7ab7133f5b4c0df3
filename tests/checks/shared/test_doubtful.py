# Where plates are drawn only nearly, a rule neither tells a fault nor passes what could be one.
#
# The figures are those of the cases in ISO 32000-2, 11.4: Multiply lays ink on ink, knockout takes it away.
from dataclasses import replace

import pytest

from hotfolder.checks.colour import black_and_white, black_text, colour_shift
from hotfolder.checks.ink import built_black, inks_used, technical_inks, total_ink, veil
from hotfolder.checks.size import bleed
from hotfolder.checks.type import small_text
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import PROCESS_INKS, Colour
from hotfolder.model.findings import Finding, Severity, Unjudged
from hotfolder.model.geometry import Edge
from hotfolder.model.inks import ColourShift
from hotfolder.model.marks import MarkState
from hotfolder.units import Length, LengthUnit
from tests.artwork.colours import ALL_PLATES, CMYK_BLACK, RICH_BLACK, SCREEN_RED, cmyk, spot
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.plates import Plates, plates
from tests.checks.said import codes, unjudged

REASON = "Parts of a knockout group lie over one another."
HERE = (20.0, 30.0, 60.0, 70.0)
ELSEWHERE = (80.0, 100.0, 120.0, 140.0)
BLACK_80 = cmyk(0, 0, 0, 80)
LIMIT = total_ink.TotalInkSettings(limit=300.0)
HEAVY, LIGHT, BLACK = (90, 90, 90, 90), (40, 40, 40, 40), (0, 0, 0, 60)


def inked(*cmyk: float) -> Plates:
    return plates(flyer()).with_inks(HERE, *cmyk)


def looked_at(page: Plates) -> Artwork:
    return page.looked_at(LIMIT).artwork()


def test_too_much_ink_in_a_doubtful_place_is_left_open_at_the_rules_own_weight() -> None:
    said = list(total_ink.check(looked_at(inked(*HEAVY).with_doubt(REASON, HERE)), LIMIT))
    (left,) = unjudged(said)
    assert (left.severity, left.page) == (Severity.MUST_FIX, 1)
    assert "knockout group" in left.reason


def test_little_ink_in_a_doubtful_place_is_left_open_where_its_inks_could_pass_the_limit() -> None:
    assert unjudged(total_ink.check(looked_at(inked(*LIGHT).with_doubt(REASON, HERE)), LIMIT))
    assert not unjudged(total_ink.check(looked_at(inked(*BLACK).with_doubt(REASON, HERE)), LIMIT))


@pytest.mark.parametrize(
    ("colours", "open_"),
    [
        ([cmyk(60, 40, 20, 0), cmyk(40, 50, 40, 0)], False),  # 100, 90 and 60 of a hundred
        ([cmyk(60, 40, 20, 60), cmyk(40, 50, 40, 0)], True),
        ([cmyk(100, 100, 20, 0), cmyk(100, 100, 60, 0)], False),  # no ink lies there more than once in full
        ([cmyk(60, 40, 20, 0), SCREEN_RED], True),  # which inks that takes, the press's profile says
        ([cmyk(60, 40, 20, 0), ALL_PLATES], True),
    ],
)
def test_what_all_that_is_painted_there_comes_to_decides_where_it_can_be_no_more(
    colours: list[Colour], *, open_: bool
) -> None:
    piece = flyer()
    for colour in colours:
        piece = piece.with_area(20, 30, 60, 70, colour=colour)
    page = plates(piece).with_inks(HERE, *LIGHT)
    summed = page.with_doubt(REASON, HERE, summed=True)
    assert bool(unjudged(total_ink.check(looked_at(summed), LIMIT))) is open_
    # Nothing is said of how much it can be at most: all inks that lie there could.
    assert unjudged(total_ink.check(looked_at(page.with_doubt(REASON, HERE)), LIMIT))


def test_what_an_opaque_area_takes_away_does_not_count() -> None:
    piece = flyer().with_image(HERE, (100, 100)).with_area(10, 20, 70, 80, colour=cmyk(10, 0, 0, 0))
    mark = piece.marks[-1]
    covered = flyer().with_marks(*piece.marks[:-1], replace(mark, solid=mark.visible))
    covered = covered.with_area(20, 30, 60, 70, colour=cmyk(20, 0, 0, 0))
    page = plates(covered).with_inks(HERE, *LIGHT).with_doubt(REASON, HERE, summed=True)
    assert not unjudged(total_ink.check(looked_at(page), LIMIT))


def test_a_picture_in_a_place_of_which_the_sum_is_asked_may_have_any_ink() -> None:
    piece = flyer().with_image(HERE, (100, 100)).with_area(20, 30, 60, 70, colour=cmyk(10, 0, 0, 0))
    page = plates(piece).with_inks(HERE, *LIGHT).with_doubt(REASON, HERE, summed=True)
    assert unjudged(total_ink.check(looked_at(page), LIMIT))


def test_a_doubt_elsewhere_changes_nothing() -> None:
    said = list(total_ink.check(looked_at(inked(*HEAVY).with_doubt(REASON, ELSEWHERE)), LIMIT))
    assert codes(said) == ["over-limit"]


def test_a_doubt_too_small_to_count_changes_nothing() -> None:
    page = inked(*LIGHT).with_doubt(REASON, (30.0, 40.0, 33.0, 43.0))
    assert list(total_ink.check(looked_at(page), LIMIT)) == []


def test_a_reason_is_told_once_for_all_its_places() -> None:
    page = inked(*HEAVY).with_doubt(REASON, HERE)
    page = page.with_inks(ELSEWHERE, *HEAVY).with_doubt(REASON, ELSEWHERE)
    assert len(unjudged(total_ink.check(looked_at(page), LIMIT))) == 1


def test_an_ink_that_lies_only_where_plates_are_doubtful_is_left_open() -> None:
    settings = inks_used.InksUsedSettings(allowed=("Black",))
    page = inked(0, 50, 0, 50)
    assert codes(inks_used.check(page.artwork(), settings)) == ["not-ordered"]
    said = list(inks_used.check(page.with_doubt(REASON, HERE).artwork(), settings))
    assert len(unjudged(said)) == 1
    further = page.with_ink("Magenta", 50, ELSEWHERE).with_doubt(REASON, (0.0, 0.0, 10.0, 10.0))
    assert codes(inks_used.check(further.artwork(), settings)) == ["not-ordered"]


def test_inks_that_lie_nowhere_may_lie_where_something_is_left_out() -> None:
    black_alone = inks_used.InksUsedSettings(allowed=("Black",))
    page = inked(*BLACK)
    left_out = page.with_doubt(REASON, HERE, undrawn=True).artwork()
    assert not unjudged(inks_used.check(page.with_doubt(REASON, HERE).artwork(), black_alone))
    assert len(unjudged(inks_used.check(left_out, black_alone))) == 1
    # ISO 32000-2, 12.5.2: annotations have their colours in grey, RGB or CMYK.
    assert not unjudged(inks_used.check(left_out, inks_used.InksUsedSettings(allowed=("process",))))


def test_what_is_left_out_may_be_too_much_ink_a_large_grey_of_four_inks_or_a_veil() -> None:
    bare = plates(flyer()).with_doubt(REASON, HERE, undrawn=True)
    assert len(unjudged(total_ink.check(looked_at(bare), LIMIT))) == 1
    settings = built_black.BuiltBlackSettings()
    assert len(unjudged(built_black.check(bare.artwork(), settings))) == 1
    assert len(unjudged(veil.check(bare.artwork(), veil.VeilSettings()))) == 1
    small = plates(flyer()).with_doubt(REASON, (20.0, 30.0, 25.0, 35.0), undrawn=True)
    assert not unjudged(built_black.check(small.artwork(), settings))


def test_the_rest_of_a_page_is_judged_where_something_is_left_out() -> None:
    page = inked(*HEAVY).with_doubt(REASON, ELSEWHERE, undrawn=True)
    said = list(total_ink.check(looked_at(page), LIMIT))
    assert [type(each) for each in said] == [Finding, Unjudged]


def test_black_alone_is_no_finding_where_other_inks_could_lie() -> None:
    settings = black_and_white.BlackAndWhiteSettings()
    page = inked(*BLACK)
    assert codes(black_and_white.check(page.artwork(), settings)) == ["no-colour"]
    said = list(black_and_white.check(page.with_doubt(REASON, HERE).artwork(), settings))
    assert len(unjudged(said)) == 1


def test_black_alone_is_certain_where_nothing_else_is_painted() -> None:
    settings = black_and_white.BlackAndWhiteSettings()
    piece = (
        flyer().with_area(20, 30, 60, 70, colour=cmyk(0, 0, 0, 60)).with_area(20, 30, 50, 70, colour=BLACK_80)
    )
    page = plates(piece).with_inks(HERE, *BLACK).with_doubt(REASON, HERE, summed=True)
    assert codes(black_and_white.check(page.artwork(), settings)) == ["no-colour"]
    coloured = plates(piece.with_area(20, 30, 50, 70, colour=cmyk(9, 0, 0, 0)))
    page = coloured.with_inks(HERE, *BLACK).with_doubt(REASON, HERE, summed=True)
    assert len(unjudged(black_and_white.check(page.artwork(), settings))) == 1


def test_a_grey_of_four_inks_in_a_doubtful_place_is_left_open() -> None:
    settings = built_black.BuiltBlackSettings()
    page = inked(*LIGHT)
    assert codes(built_black.check(page.artwork(), settings)) == ["grey-of-four"]
    said = list(built_black.check(page.with_doubt(REASON, HERE).artwork(), settings))
    assert len(unjudged(said)) == 1


def test_small_text_whose_inks_are_doubtful_is_left_open_if_its_size_alone_will_do() -> None:
    settings = small_text.SmallTextSettings(
        one_ink=Length(5.0, LengthUnit.POINT), several_inks=Length(8.0, LengthUnit.POINT)
    )

    def said_of(size: float) -> list[object]:
        page = plates(flyer().with_text((22, 35), width_mm=30, size_pt=size)).with_doubt(REASON, HERE).page()
        marks = tuple(replace(mark, inks=PROCESS_INKS) for mark in page.known_marks)
        piece = plates(flyer()).artwork()
        return list(small_text.check(replace(piece, pages=(replace(page, marks=marks),)), settings))

    assert [type(each).__name__ for each in said_of(6.0)] == ["Unjudged"]
    assert [type(each).__name__ for each in said_of(4.0)] == ["Finding"]
    assert said_of(9.0) == []


# Bleed


THREE = bleed.BleedSettings(wanted=Length.of_mm(3))
LEFT_EDGE = (-5.0, -5.0, 20.0, 215.0)


def at_the_edges(piece: Flyer, reach: float) -> Plates:
    """A page whose ink runs on so far at the left, and far enough elsewhere."""
    page = plates(piece)
    for edge in Edge:
        page = page.with_edge(edge, reach if edge is Edge.LEFT else 3.0)
    return page


def test_bleed_that_only_plates_miss_is_left_open_where_they_are_doubtful() -> None:
    page = at_the_edges(flyer().with_image((-3, -3, 151, 213), (1819, 2551)), 1.0)
    assert codes(bleed.check(page.artwork(), THREE)) == ["not-drawn"]
    (left,) = unjudged(bleed.check(page.with_doubt(REASON, LEFT_EDGE).artwork(), THREE))
    assert (left.severity, left.page) == (Severity.MUST_FIX, 1)
    assert "knockout group" in left.reason
    inside = page.with_doubt(REASON, ELSEWHERE)
    assert codes(bleed.check(inside.artwork(), THREE)) == ["not-drawn"]


def test_bleed_that_only_plates_show_is_left_open_where_they_are_doubtful() -> None:
    page = at_the_edges(flyer().with_area(0, -3, 151, 213), 3.0)
    assert codes(bleed.check(page.artwork(), THREE)) == ["ends-on-paint"]  # on whatever the plates show
    assert len(unjudged(bleed.check(page.with_doubt(REASON, LEFT_EDGE).artwork(), THREE))) == 1
    assert codes(bleed.check(page.with_doubt(REASON, ELSEWHERE).artwork(), THREE)) == ["ends-on-paint"]


@pytest.mark.parametrize(("reach", "said"), [(0.0, ["not-drawn"]), (3.0, [])])
def test_bleed_of_which_plates_and_boxes_say_the_same_is_judged(reach: float, said: list[str]) -> None:
    page = at_the_edges(flyer().with_area(-reach, -3, 151, 213), reach)
    assert codes(bleed.check(page.with_doubt(REASON, LEFT_EDGE).artwork(), THREE)) == said


# Black text


def lettered(colour: Colour, *, size: float = 9.0, state: MarkState | None = None) -> Flyer:
    ground = flyer().with_background(colour=cmyk(0, 0, 100, 0))
    return ground.with_text((22, 35), width_mm=30, size_pt=size, colour=colour, state=state or MarkState())


@pytest.mark.parametrize("state", [MarkState(), MarkState(overprint_fill=True, overprint_mode=1)])
def test_small_text_in_black_alone_is_left_open_where_plates_are_doubtful(state: MarkState) -> None:
    page = plates(lettered(CMYK_BLACK, state=state))
    sure = codes(black_text.check(page.artwork(), black_text.BlackTextSettings()))
    assert sure == ([] if state.overprint_fill else ["knocks-out"])
    (left,) = unjudged(
        black_text.check(page.with_doubt(REASON, HERE).artwork(), black_text.BlackTextSettings())
    )
    assert (left.severity, left.page) == (Severity.ADVICE, 1)
    elsewhere = page.with_doubt(REASON, ELSEWHERE)
    assert codes(black_text.check(elsewhere.artwork(), black_text.BlackTextSettings())) == sure


def test_text_that_no_doubt_makes_right_or_wrong_is_judged() -> None:
    settings = black_text.BlackTextSettings()
    for piece, said in (
        (lettered(RICH_BLACK), ["rich-black"]),
        (lettered(CMYK_BLACK, size=14.0), []),
        (lettered(cmyk(0, 100, 0, 0)), []),
    ):
        assert codes(black_text.check(plates(piece).with_doubt(REASON, HERE).artwork(), settings)) == said


# Veils


def test_a_veil_in_a_doubtful_place_is_left_open() -> None:
    page = plates(flyer()).with_ink("Yellow", 2, HERE)
    assert codes(veil.check(page.artwork(), veil.VeilSettings())) == ["nearly-white"]
    (left,) = unjudged(veil.check(page.with_doubt(REASON, HERE).artwork(), veil.VeilSettings()))
    assert (left.severity, left.page) == (Severity.ADVICE, 1)
    elsewhere = page.with_doubt(REASON, ELSEWHERE)
    assert codes(veil.check(elsewhere.artwork(), veil.VeilSettings())) == ["nearly-white"]


@pytest.mark.parametrize(("percent", "left_open"), [(4.0, 1), (8.0, 0), (0.0, 0)])
def test_a_tint_that_may_be_two_veils_is_left_open(percent: float, left_open: int) -> None:
    page = plates(flyer()).with_ink("Yellow", percent, HERE)
    assert codes(veil.check(page.with_doubt(REASON, ELSEWHERE).artwork(), veil.VeilSettings())) == []
    said = unjudged(veil.check(page.with_doubt(REASON, HERE).artwork(), veil.VeilSettings()))
    assert len(said) == left_open


# Technical inks


def whitened(*, covered: bool = True) -> Flyer:
    """White as a ground, and a picture on top of a part of it, or beside it."""
    white = flyer().with_area(*HERE, colour=spot("White"), state=MarkState(overprint_fill=True))
    (mark,) = white.marks
    filled = white.with_marks(replace(mark, solid=mark.visible))
    return filled.with_image((30, 40, 60, 60) if covered else (80, 40, 110, 60), (400, 300))


WHITE = technical_inks.TechnicalInksSettings(technical=("White",))


def test_a_hole_in_a_doubtful_place_is_left_open() -> None:
    page = plates(whitened()).with_ink("White", 100, HERE).with_ink("White", 0, (30, 40, 60, 60))
    assert codes(technical_inks.check(page.artwork(), WHITE)) == ["knocked-out"]
    (left,) = unjudged(technical_inks.check(page.with_doubt(REASON, HERE).artwork(), WHITE))
    assert (left.severity, left.page) == (Severity.ADVICE, 1)
    elsewhere = page.with_doubt(REASON, ELSEWHERE)
    assert codes(technical_inks.check(elsewhere.artwork(), WHITE)) == ["knocked-out"]


def test_white_that_may_have_a_hole_is_left_open_where_something_lies_over_it() -> None:
    over, beside = (
        plates(whitened(covered=covered)).with_ink("White", 100, HERE) for covered in (True, False)
    )
    assert len(unjudged(technical_inks.check(over.with_doubt(REASON, HERE).artwork(), WHITE))) == 1
    assert codes(technical_inks.check(over.with_doubt(REASON, ELSEWHERE).artwork(), WHITE)) == []
    assert codes(technical_inks.check(beside.with_doubt(REASON, HERE).artwork(), WHITE)) == []


# Colour shift


@pytest.mark.parametrize(
    ("over_10", "said"),
    [
        (5.0, None),  # the doubtful place is 6 % of the sheet: 11 % could move
        (12.0, None),  # or 6 % alone
        (3.0, []),
        (24.0, ["moves"]),
    ],
)
def test_a_share_that_doubts_could_carry_over_the_figure_is_left_open(
    over_10: float, said: list[str] | None
) -> None:
    settings = colour_shift.ColourShiftSettings(strong_share=100.0)
    page = plates(flyer()).with_shift(ColourShift(over_10, over_10, 0.0))
    sure = ["moves"] if over_10 > settings.share else []
    assert codes(colour_shift.check(page.artwork(), settings)) == sure
    found = list(colour_shift.check(page.with_doubt(REASON, (20.0, 30.0, 60.0, 80.0)).artwork(), settings))
    if said is None:
        (left,) = unjudged(found)
        assert (left.severity, left.page) == (Severity.ADVICE, 1)
    else:
        assert codes(found) == said


def test_colours_of_the_press_do_not_move_in_any_doubt() -> None:
    page = plates(flyer()).with_doubt(REASON, (0.0, 0.0, 148.0, 210.0))
    assert codes(colour_shift.check(page.artwork(), colour_shift.ColourShiftSettings())) == []
