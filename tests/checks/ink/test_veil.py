# Veils: large even areas that look like white and carry a little ink; shadows, photos and tints do not count.
from collections.abc import Callable
from dataclasses import replace

import pytest

from hotfolder.checks.ink.veil import VeilSettings, check
from hotfolder.model.findings import Quantity, Severity
from tests.artwork.files import unreadable
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.plates import Plates, plates, without_plates
from tests.checks.said import codes, the_only, unjudged

SETTINGS = VeilSettings()
AREA = (20, 30, 70, 60)  # 1500 mm2


def veil(percent: float, at: tuple[float, float, float, float] = AREA, piece: Flyer | None = None) -> Plates:
    return plates(flyer().with_area(*at) if piece is None else piece).with_ink("Yellow", percent, at)


def test_a_ground_of_two_percent_is_advice() -> None:
    finding = the_only(check(veil(2).artwork(), SETTINGS))
    assert (finding.code, finding.severity) == ("nearly-white", Severity.ADVICE)
    assert (finding.measured, finding.required) == (Quantity.of(2.0, unit="%"), Quantity.of(3.0, unit="%"))
    assert "1500 mm2" in finding.message


def test_traces_of_several_inks_add_up() -> None:
    page = plates(flyer()).with_inks(AREA, 0.5, 0.5, 0.5, 0)
    assert codes(check(page.artwork(), SETTINGS)) == ["nearly-white"]


def test_the_ground_of_a_picture_that_was_cut_out_on_nearly_white_is_found() -> None:
    piece = flyer().with_image(AREA, (600, 400))
    page = veil(1, piece=piece).with_ink("Black", 60, (40, 40, 50, 50))
    assert "a picture" in the_only(check(page.artwork(), SETTINGS)).message


def gradient() -> Plates:
    page = plates(flyer())
    for step in range(30):
        page = page.with_ink("Black", 0.4 + step * 0.085, (20 + step, 30, 21 + step, 90))
    return page


SILENT: dict[str, Callable[[], Plates]] = {
    "bare paper": lambda: plates(flyer()),
    "a tint of 3 %": lambda: veil(3.2),
    "a tint of 5 %": lambda: veil(5),
    "a small area": lambda: veil(2, (20, 30, 39, 50)),
    "a gradient on its way to nothing": gradient,
    "the light part of a photo": lambda: veil(
        1, (20, 30, 70, 60), piece=flyer().with_image((0, 0, 148, 210), (1748, 2480))
    ).with_ink("Black", 60, (20, 60, 70, 90)),
    "the rim of a tint": lambda: veil(5, (0.5, 0.5, 140.5, 200.5)),
    "outside the trim": lambda: veil(2, (-12, 0, -3, 210)),
}


@pytest.mark.parametrize("look_alike", SILENT)
def test_not_flagged(look_alike: str) -> None:
    page = SILENT[look_alike]()
    assert codes(check(replace(page, room_mm=page.room_mm).artwork(), SETTINGS)) == []


def test_technical_inks_make_no_veil() -> None:
    page = plates(flyer()).with_ink("Varnish", 2, AREA)
    assert codes(check(page.artwork(), SETTINGS)) == ["nearly-white"]
    assert codes(check(page.artwork(), VeilSettings(technical=("varnish",)))) == []


def test_figures_are_settings() -> None:
    settings = VeilSettings.model_validate({"below": "6 %", "area": "1 cm2"})
    assert codes(check(veil(5, (20, 30, 39, 50)).artwork(), settings)) == ["nearly-white"]


def test_unknown_plates_are_not_judged() -> None:
    said = unjudged(check(without_plates(flyer()), SETTINGS))
    assert [(item.severity, item.page) for item in said] == [(Severity.ADVICE, 1)]
    assert len(unjudged(check(unreadable(), SETTINGS))) == 1
