# Where plates are drawn only nearly, a rule neither tells a fault nor passes what could be one.
#
# The figures are those of the cases in ISO 32000-2, 11.4: Multiply lays ink on ink, knockout takes it away.
from dataclasses import replace

from hotfolder.artwork import PROCESS_INKS, Artwork
from hotfolder.checks import black_and_white, built_black, inks_used, small_text, total_ink
from hotfolder.findings import Severity
from hotfolder.units import Length, LengthUnit
from tests.artwork.flyer import flyer
from tests.artwork.plates import Plates, plates
from tests.checks.said import codes, unjudged

REASON = "Parts of a knockout group lie over one another."
HERE = (20.0, 30.0, 60.0, 70.0)
ELSEWHERE = (80.0, 100.0, 120.0, 140.0)
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


def test_black_alone_is_no_finding_where_other_inks_could_lie() -> None:
    settings = black_and_white.BlackAndWhiteSettings()
    page = inked(*BLACK)
    assert codes(black_and_white.check(page.artwork(), settings)) == ["no-colour"]
    said = list(black_and_white.check(page.with_doubt(REASON, HERE).artwork(), settings))
    assert len(unjudged(said)) == 1


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
