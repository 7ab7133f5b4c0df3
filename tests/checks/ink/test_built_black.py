# Built blacks and greys: large ones of four inks are told; pictures, text and rich black are not.
from collections.abc import Callable

import pytest

from hotfolder.checks.ink.built_black import BuiltBlackSettings, check
from hotfolder.model.findings import Quantity, Severity
from tests.artwork.colours import SCREEN_RED, cmyk
from tests.artwork.files import unreadable
from tests.artwork.flyer import Flyer, flyer
from tests.artwork.plates import Plates, plates, without_plates
from tests.checks.said import codes, the_only, unjudged

SETTINGS = BuiltBlackSettings()
AREA = (20, 30, 70, 60)  # 1500 mm2
GREY = (40, 30, 32, 20)
THICK_BLACK = (75, 68, 67, 90)


def area(*inks: float, piece: Flyer | None = None, at: tuple[float, float, float, float] = AREA) -> Plates:
    """A flat area of these inks, and nothing else."""
    painted = flyer().with_area(*at, colour=cmyk(*inks)) if piece is None else piece
    return plates(painted).with_inks(at, *inks)


def test_a_large_grey_of_four_inks_is_advice() -> None:
    finding = the_only(check(area(*GREY).artwork(), SETTINGS))
    assert (finding.code, finding.severity) == ("grey-of-four", Severity.ADVICE)
    assert finding.measured == "40 % cyan, 30 % magenta, 32 % yellow and 20 % black"
    assert "1500 mm2" in finding.message


def test_a_large_black_over_much_of_the_others_is_advice() -> None:
    finding = the_only(check(area(*THICK_BLACK).artwork(), SETTINGS))
    assert finding.code == "black-of-four"
    # 75 + 68 + 67 % in whole 255ths: 191 + 173 + 171.
    assert (finding.measured, finding.required) == (
        Quantity.of(209.8, unit="%"),
        Quantity.of(150.0, unit="%"),
    )


SILENT: dict[str, Callable[[], Plates]] = {
    "grey of black alone": lambda: area(0, 0, 0, 60),
    "grey of three inks": lambda: area(40, 30, 32, 0),
    "traces of the others": lambda: area(6, 4, 4, 60),
    "rich black with 140 % beneath": lambda: area(60, 40, 40, 100),
    "rich black of one ink beneath": lambda: area(50, 0, 0, 100),
    "a brown of four inks": lambda: area(40, 60, 70, 20),
    "a blue of four inks": lambda: area(80, 50, 20, 20),
    "a small area": lambda: area(*GREY, at=(20, 30, 39, 50)),
    "a line": lambda: area(*GREY, at=(20, 30, 120, 32)),
    "the rim of a rich black": lambda: area(60, 40, 40, 100, at=(0.5, 0.5, 140.5, 200.5)),
    "four full inks": lambda: area(100, 100, 100, 100),
    "a photo": lambda: area(*GREY, piece=flyer().with_image(AREA, (600, 400))),
    "an area over a photo": lambda: area(
        *GREY, piece=flyer().with_image(AREA, (600, 400)).with_area(*AREA, colour=cmyk(*GREY))
    ),
    "large type": lambda: area(*THICK_BLACK, piece=flyer().with_text((20, 30), width_mm=50, size_pt=90)),
    "a screen colour": lambda: area(*GREY, piece=flyer().with_area(*AREA, colour=SCREEN_RED)),
}


@pytest.mark.parametrize("look_alike", SILENT)
def test_not_flagged(look_alike: str) -> None:
    assert codes(check(SILENT[look_alike]().artwork(), SETTINGS)) == []


def test_figures_are_settings() -> None:
    strict = BuiltBlackSettings.model_validate({"area": "1 cm2", "beneath": "100 %"})
    assert codes(check(area(60, 40, 20, 100).artwork(), strict)) == ["black-of-four"]
    assert codes(check(area(*GREY, at=(20, 30, 39, 50)).artwork(), strict)) == ["grey-of-four"]


def test_what_is_built_by_overprint_is_found_all_the_same() -> None:
    # No mark has four inks: two areas lie on one another and one of them overprints.
    piece = flyer().with_area(*AREA, colour=cmyk(40, 30, 0, 0)).with_area(*AREA, colour=cmyk(0, 0, 32, 20))
    assert codes(check(area(*GREY, piece=piece).artwork(), SETTINGS)) == ["grey-of-four"]


def test_unknown_plates_are_not_judged() -> None:
    said = unjudged(check(without_plates(flyer()), SETTINGS))
    assert [(item.severity, item.page) for item in said] == [(Severity.ADVICE, 1)]
    assert len(unjudged(check(unreadable(), SETTINGS))) == 1
