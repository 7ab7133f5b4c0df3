# Colour shift: told from the shares that a rule set names on, with the colours that suffer most.
import pytest

from hotfolder.checks.colour.colour_shift import ColourShiftSettings, check
from hotfolder.model.findings import Quantity, Severity
from hotfolder.model.inks import ColourShift, MovedColour
from tests.artwork.files import unreadable
from tests.artwork.flyer import flyer, mm_box
from tests.artwork.plates import plates, without_plates
from tests.checks.said import codes, the_only, unjudged

SETTINGS = ColourShiftSettings()
# Pure sRGB green and what is left of it in print (CIELAB, D50): 87.8, -79.3, 81.0 is #00FF00 (from the sRGB
# primaries of IEC 61966-2-1, adapted to D50 by Bradford).
GREEN = MovedColour(mm_box(10, 10, 60, 90), 12.0, (87.82, -79.29, 80.99), (60.0, -55.0, 40.0), 24.0)
MILD = MovedColour(mm_box(10, 100, 60, 190), 12.0, (50.0, 0.0, 0.0), (45.0, 0.0, 0.0), 7.0)


def shifted(over_10: float, over_20: float, *moved: MovedColour) -> ColourShift:
    return ColourShift(over_10, over_10, over_20, moved)


def test_much_that_moves_is_told_with_its_colours() -> None:
    piece = plates(flyer()).with_shift(shifted(24.04, 12, GREEN, MILD)).artwork()
    finding = the_only(check(piece, SETTINGS))
    assert (finding.code, finding.severity) == ("moves", Severity.ADVICE)
    assert (finding.measured, finding.required) == (Quantity.of(24.0, unit="%"), Quantity.of(10.0, unit="%"))
    assert finding.boxes == (GREEN.place,)  # the mild one moves by less than 10
    assert "#00FF00" in finding.message
    assert "24 units" in finding.message
    assert "bottom left corner" in finding.message


def test_little_that_moves_strongly_is_told_too() -> None:
    finding = the_only(check(plates(flyer()).with_shift(shifted(5, 4, GREEN)).artwork(), SETTINGS))
    assert (finding.measured, finding.required) == (Quantity.of(4.0, unit="%"), Quantity.of(2.0, unit="%"))


@pytest.mark.parametrize(("over_10", "over_20"), [(10, 2), (9.9, 0), (0, 0)])
def test_what_stays_below_the_shares_is_not_told(over_10: float, over_20: float) -> None:
    piece = plates(flyer()).with_shift(shifted(over_10, over_20, GREEN)).artwork()
    assert codes(check(piece, SETTINGS)) == []


def test_the_shares_are_settings() -> None:
    piece = plates(flyer()).with_shift(shifted(6, 0, GREEN)).artwork()
    assert codes(check(piece, ColourShiftSettings(share=5.0))) == ["moves"]


def test_colours_of_the_press_do_not_move() -> None:
    assert codes(check(plates(flyer()).with_inks((0, 0, 50, 50), 90, 0, 90, 0).artwork(), SETTINGS)) == []


def test_unknown_plates_are_not_judged() -> None:
    said = unjudged(check(without_plates(flyer()), SETTINGS))
    assert [(item.severity, item.page) for item in said] == [(Severity.ADVICE, 1)]
    assert len(unjudged(check(unreadable(), SETTINGS))) == 1
