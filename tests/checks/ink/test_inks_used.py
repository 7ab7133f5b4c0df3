# Inks used: what comes on paper against what is ordered, and plates that carry nothing.
from dataclasses import replace

import pytest

from hotfolder.checks.ink.inks_used import InksUsedSettings, check
from hotfolder.model.colour import ColourKind, ColourSpace
from hotfolder.model.findings import Quantity, Severity
from tests.artwork.colours import CMYK_BLACK, spot
from tests.artwork.files import unreadable
from tests.artwork.flyer import flyer, mm_box
from tests.artwork.plates import Plates, plates, without_plates
from tests.checks.said import codes, the_only, unjudged

FOUR = InksUsedSettings(allowed=("process",))
BLACK_ALONE = InksUsedSettings(allowed=("Black",))
HERE = (20, 30, 60, 40)


def page(**inks: float) -> Plates:
    made = plates(flyer())
    for name, percent in inks.items():
        made = made.with_ink(name.replace("_", " "), percent, HERE)
    return made


def test_the_process_inks_pass_where_they_are_ordered() -> None:
    assert codes(check(page(Cyan=10, Magenta=20, Yellow=30, Black=40).artwork(), FOUR)) == []


def test_colour_in_a_job_in_black_is_found_where_it_lies() -> None:
    finding = the_only(check(page(Black=90, Cyan=10, Yellow=30).artwork(), BLACK_ALONE))
    assert (finding.code, finding.severity, finding.measured, finding.required) == (
        "not-ordered", Severity.MUST_FIX, "Cyan and Yellow", "Black",
    )  # fmt: skip
    assert len(finding.boxes) == 1
    assert finding.boxes[0].holds(mm_box(*HERE), 0.01)
    assert mm_box(*HERE).holds(finding.boxes[0], 0.01)


def test_spot_inks_are_left_to_their_own_rule_unless_some_are_named() -> None:
    piece = page(Black=90, Leaf_Green=50).artwork()
    assert codes(check(piece, BLACK_ALONE)) == []
    assert codes(check(piece, InksUsedSettings(allowed=("Black", "leaf green")))) == []
    other = the_only(check(piece, InksUsedSettings(allowed=("Black", "Sky Blue"))))
    assert (other.code, other.measured) == ("not-ordered", "'Leaf Green'")


def test_more_spot_inks_than_ordered_are_counted() -> None:
    piece = page(Black=90, Leaf_Green=50, Sky_Blue=10).artwork()
    finding = the_only(check(piece, InksUsedSettings(allowed=("Black",), spots=1)))
    assert (finding.code, finding.measured, finding.required) == (
        "too-many-spots", Quantity.of(2, unit="spot inks"), Quantity.of(1, unit="spot inks"),
    )  # fmt: skip
    assert codes(check(piece, InksUsedSettings(allowed=("Black", "Sky Blue"), spots=1))) == []


def test_a_plate_that_carries_nothing_is_advice() -> None:
    # The ground knocked the ink out, or its tint is none: nothing of it is on paper.
    piece = flyer().with_area(*HERE, colour=spot("Leaf Green"))
    finding = the_only(check(plates(piece).with_ink("Cyan", 50, HERE).artwork(), FOUR))
    assert (finding.code, finding.severity, finding.page) == ("carries-nothing", Severity.ADVICE, 1)
    assert "Leaf Green" in finding.message
    assert codes(check(plates(piece).with_ink("Leaf Green", 50, HERE).artwork(), FOUR)) == []


def test_an_ink_that_may_lie_in_a_doubtful_place_is_not_told_to_carry_nothing() -> None:
    # The thing in doubt is followed by one that is certain: both have to be looked at.
    piece = (
        flyer().with_area(*HERE, colour=spot("Leaf Green")).with_area(5, 5, 9, 9, colour=spot("Leaf Green"))
    )
    made = plates(piece).with_ink("Cyan", 50, HERE)
    assert len(the_only(check(made.artwork(), FOUR)).boxes) == 2
    assert codes(check(made.with_doubt("a blend", HERE).artwork(), FOUR)) == []


def test_an_ink_that_shows_on_one_page_carries_something() -> None:
    piece = flyer().with_area(*HERE, colour=spot("Leaf Green"))
    bare, inked = plates(piece).page(), plates(piece).with_ink("Leaf Green", 50, HERE).page()
    both = replace(plates(piece).artwork(), pages=(bare, replace(inked, number=2)))
    assert codes(check(both, FOUR)) == []


# What is not flagged


@pytest.mark.parametrize(("cyan", "told"), [(0.8, []), (2, ["not-ordered"])])
def test_traces_do_not_count(cyan: float, told: list[str]) -> None:
    assert codes(check(page(Black=90, Cyan=cyan).artwork(), BLACK_ALONE)) == told


def test_technical_inks_do_not_count() -> None:
    settings = InksUsedSettings(allowed=("process",), spots=0, technical=("CUT",))
    assert codes(check(page(Cyan=50, Cut=100).artwork(), settings)) == []
    assert codes(check(page(Cyan=50, Fold=100).artwork(), settings)) == ["too-many-spots"]
    cut = plates(flyer().with_area(*HERE, colour=spot("Cut", tint=0)))
    assert codes(check(cut.artwork(), FOUR)) == ["carries-nothing"]
    assert codes(check(cut.artwork(), settings)) == []


def test_marks_and_colour_bars_outside_the_bleed_do_not_count() -> None:
    made = plates(flyer(), room_mm=12).with_ink("Cyan", 100, (-11, 20, -5, 60)).with_ink("Black", 90, HERE)
    assert codes(check(made.artwork(), BLACK_ALONE)) == []


def test_names_that_mean_every_plate_or_none_are_no_inks() -> None:
    every = ColourSpace("Separation", ColourKind.REGISTRATION, 1, ("All",))
    colour = replace(CMYK_BLACK, space=every, components=(1.0,))
    piece = flyer().with_area(*HERE, colour=colour)
    assert codes(check(plates(piece).artwork(), FOUR)) == []


# What cannot be judged


def test_unknown_plates_are_not_judged() -> None:
    said = unjudged(check(without_plates(flyer().with_area(*HERE, colour=spot("Leaf Green"))), FOUR))
    assert [(item.severity, item.page) for item in said] == [(Severity.MUST_FIX, 1)]


def test_an_unread_file_is_not_judged() -> None:
    assert len(unjudged(check(unreadable(), FOUR))) == 1
