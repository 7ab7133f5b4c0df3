# Black and white: pages with black ink alone where colour is paid for.
from dataclasses import replace

import pytest

from hotfolder.checks.colour.black_and_white import BlackAndWhiteSettings, check
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Severity
from tests.artwork.files import unreadable
from tests.artwork.flyer import flyer
from tests.artwork.plates import Plates, plates, without_plates
from tests.checks.said import codes, the_only, unjudged

SETTINGS = BlackAndWhiteSettings()
HERE = (20, 30, 60, 40)
BLACK = plates(flyer()).with_ink("Black", 90, HERE)
COLOURED = BLACK.with_ink("Cyan", 20, HERE)
BLANK = plates(flyer())


def piece(*pages: Plates) -> Artwork:
    numbered = tuple(replace(page.page(), number=number) for number, page in enumerate(pages, start=1))
    return replace(pages[0].artwork(), pages=numbered)


def test_a_page_in_black_alone_is_advice() -> None:
    finding = the_only(check(piece(COLOURED, BLACK, BLACK), SETTINGS))
    assert (finding.code, finding.severity, finding.page) == ("no-colour", Severity.ADVICE, 2)
    assert [place.page for place in finding.further] == [3]


def test_coloured_and_blank_pages_pass() -> None:
    assert codes(check(piece(COLOURED, BLANK), SETTINGS)) == []


@pytest.mark.parametrize(("pages", "told"), [((1, 2), []), ((3,), ["no-colour"])])
def test_only_pages_that_are_paid_for_in_colour_count(pages: tuple[int, ...], told: list[str]) -> None:
    settings = BlackAndWhiteSettings(pages=pages)
    assert codes(check(piece(COLOURED, COLOURED, BLACK), settings)) == told


def test_a_spot_ink_is_a_colour_and_a_technical_ink_is_none() -> None:
    spotted = piece(BLACK.with_ink("Gold", 50, HERE))
    assert codes(check(spotted, SETTINGS)) == []
    assert codes(check(spotted, BlackAndWhiteSettings(technical=("gold",)))) == ["no-colour"]


def test_colour_bars_outside_the_bleed_make_no_colour() -> None:
    barred = plates(flyer(), room_mm=12).with_ink("Black", 90, HERE).with_ink("Cyan", 100, (-11, 20, -5, 60))
    assert codes(check(barred.artwork(), SETTINGS)) == ["no-colour"]


def test_unknown_plates_are_not_judged() -> None:
    said = unjudged(check(without_plates(flyer()), SETTINGS))
    assert [(item.severity, item.page) for item in said] == [(Severity.ADVICE, 1)]
    assert len(unjudged(check(unreadable(), SETTINGS))) == 1
