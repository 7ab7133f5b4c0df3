# Total ink: areas over the limit are found, with their size and place; what is small or technical is not.
from dataclasses import replace
from time import perf_counter

import pytest

from hotfolder.checks.ink.total_ink import TotalInkSettings, check
from hotfolder.model.document import Layer
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Quantity, Severity
from tests.artwork.colours import spot
from tests.artwork.files import unreadable
from tests.artwork.flyer import flyer, mm_box
from tests.artwork.plates import Plates, plates, without_plates
from tests.checks.said import codes, findings, the_only, unjudged

LIMIT = TotalInkSettings(limit=300.0)
WANTED = TotalInkSettings(limit=330.0, wanted=300.0)
HEAVY = (90, 90, 90, 90)  # 360 %


def heavy(*at_mm: float) -> Plates:
    x0, y0, x1, y1 = at_mm
    return plates(flyer()).with_inks((x0, y0, x1, y1), *HEAVY)


def test_a_page_under_the_limit_passes() -> None:
    page = plates(flyer()).with_inks((0, 0, 148, 210), 75, 75, 75, 74)
    assert codes(check(page.looked_at(LIMIT).artwork(), LIMIT)) == []


def test_an_area_over_the_limit_is_found_with_its_figure_and_place() -> None:
    finding = the_only(check(heavy(20, 30, 60, 40).looked_at(LIMIT).artwork(), LIMIT))
    assert (finding.code, finding.severity, finding.page) == ("over-limit", Severity.MUST_FIX, 1)
    # 90 % are 229.5 of 255, 229 in whole steps.
    assert finding.measured == Quantity.of(round(4 * 229 / 2.55, 1), unit="%")
    assert finding.required == Quantity.of(300.0, unit="%")
    (box,) = finding.boxes
    assert box.holds(mm_box(20, 30, 60, 40), 0.01)
    assert mm_box(20, 30, 60, 40).holds(box, 0.01)
    assert "400 mm2" in finding.message


def test_what_lies_there_is_named() -> None:
    piece = flyer().with_background(3).with_image((10, 20, 70, 60), (700, 470))
    finding = the_only(
        check(plates(piece).with_inks((20, 30, 60, 40), *HEAVY).looked_at(LIMIT).artwork(), LIMIT)
    )
    assert "a picture and a coloured area" in finding.message


def test_areas_of_all_pages_are_one_finding() -> None:
    page = heavy(20, 30, 60, 40).with_inks((20, 100, 24, 104), *HEAVY).looked_at(LIMIT)
    second = replace(page.page(), number=2)
    piece = replace(page.artwork(), pages=(page.page(), second))
    finding = the_only(check(piece, LIMIT))
    assert (len(finding.boxes), [place.page for place in finding.further]) == (2, [2])


def test_more_than_wanted_is_advice() -> None:
    page = plates(flyer()).with_inks((20, 30, 60, 40), 80, 80, 80, 80)
    finding = the_only(check(page.looked_at(WANTED).artwork(), WANTED))
    assert (finding.code, finding.severity) == ("over-wanted", Severity.ADVICE)


def test_what_is_over_the_limit_is_not_told_as_over_the_wanted_too() -> None:
    assert codes(check(heavy(20, 30, 60, 40).looked_at(WANTED).artwork(), WANTED)) == ["over-limit"]


def test_an_area_elsewhere_is_told_beside_it() -> None:
    page = heavy(20, 30, 60, 40).with_inks((20, 100, 60, 140), 80, 80, 80, 80)
    all_findings = findings(check(page.looked_at(WANTED).artwork(), WANTED))
    assert [(item.code, len(item.boxes)) for item in all_findings] == [("over-limit", 1), ("over-wanted", 1)]


def test_an_area_that_grows_by_corners_is_one() -> None:
    page = plates(flyer())
    for step in range(5):
        page = page.with_inks((20 + 2 * step, 30 + 2 * step, 22 + 2 * step, 32 + 2 * step), *HEAVY)
    assert "20 mm2" in the_only(check(page.looked_at(LIMIT).artwork(), LIMIT)).message


def test_spot_inks_count() -> None:
    page = plates(flyer()).with_inks((20, 30, 60, 40), 70, 70, 70, 70).with_ink("Gold", 100, (20, 30, 60, 40))
    assert codes(check(page.looked_at(LIMIT).artwork(), LIMIT)) == ["over-limit"]


# What is not flagged


@pytest.mark.parametrize(("side", "told"), [(3, []), (4, ["over-limit"])])
def test_areas_smaller_than_the_setting_do_not_count(side: int, told: list[str]) -> None:
    # 3 x 3 mm are 9 mm2, 4 x 4 mm are 16.
    assert codes(check(heavy(20, 30, 20 + side, 30 + side).looked_at(LIMIT).artwork(), LIMIT)) == told


def test_the_size_that_counts_is_a_setting() -> None:
    settings = TotalInkSettings.model_validate({"limit": "300 %", "area": "5 mm2"})
    assert codes(check(heavy(20, 30, 23, 33).looked_at(settings).artwork(), settings)) == ["over-limit"]


def test_a_crossing_of_hairlines_does_not_count() -> None:
    page = heavy(20, 30, 100, 30.2).with_inks((60, 0, 60.2, 100), *HEAVY)
    assert codes(check(page.looked_at(LIMIT).artwork(), LIMIT)) == []


def test_a_long_line_of_a_millimetre_counts() -> None:
    assert codes(check(heavy(20, 30, 100, 31).looked_at(LIMIT).artwork(), LIMIT)) == ["over-limit"]


def test_technical_inks_by_name_do_not_count() -> None:
    page = plates(flyer()).with_inks((20, 30, 60, 40), 70, 70, 70, 70)
    varnished = page.with_ink("Spot Varnish", 100, (0, 0, 148, 210))
    assert codes(check(varnished.looked_at(LIMIT).artwork(), LIMIT)) == ["over-limit"]
    named = LIMIT.model_copy(update={"technical": ("spot varnish",)})
    assert codes(check(varnished.looked_at(named).artwork(), named)) == []


def test_technical_inks_by_layer_do_not_count() -> None:
    varnished = flyer().with_area(20, 30, 60, 40, colour=spot("Gloss"))
    (mark,) = varnished.marks
    page = plates(varnished.with_marks(replace(mark, layers=("Coating",))))
    page = page.with_inks((20, 30, 60, 40), 70, 70, 70, 70).with_ink("Gloss", 100, (20, 30, 60, 40))
    assert codes(check(page.looked_at(LIMIT).artwork(), LIMIT)) == ["over-limit"]
    stepped = replace(page, layers=(Layer("Coating", on_screen=True, on_paper=True, step="Varnish"),))
    assert codes(check(stepped.looked_at(LIMIT).artwork(), LIMIT)) == []


def test_colour_bars_outside_the_bleed_do_not_count() -> None:
    page = plates(flyer().with_bleed_mm(3), room_mm=12).with_inks((-11, 20, -4, 100), *HEAVY)
    assert codes(check(page.looked_at(LIMIT).artwork(), LIMIT)) == []
    reaching = page.with_inks((-3, 20, 5, 100), *HEAVY)
    assert codes(check(reaching.looked_at(LIMIT).artwork(), LIMIT)) == ["over-limit"]


def test_rounding_does_not_count() -> None:
    # 300.6 % asked for; whole 255ths make it up to 0.8 % more or less.
    page = plates(flyer()).with_inks((20, 30, 60, 40), 75, 75, 75, 75.6)
    assert codes(check(page.looked_at(LIMIT).artwork(), LIMIT)) == []


# Limits, and what cannot be judged


def test_a_page_without_a_trim_counts_as_a_whole() -> None:
    page = plates(flyer().with_trim(Unmeasured("trim", "no size fits"))).with_inks((20, 30, 60, 40), *HEAVY)
    assert codes(check(page.looked_at(LIMIT).artwork(), LIMIT)) == ["over-limit"]


def test_unknown_plates_are_not_judged() -> None:
    said = unjudged(check(without_plates(flyer()), LIMIT))
    assert [(item.severity, item.page) for item in said] == [(Severity.MUST_FIX, 1)]
    assert "no press" in said[0].reason


def test_areas_that_nobody_looked_for_are_not_judged() -> None:
    """Plates measured for another rule set tell no areas over this one's figure."""
    said = unjudged(check(heavy(20, 30, 60, 40).looked_at(WANTED).artwork(), TotalInkSettings(limit=250.0)))
    assert [(item.severity, item.page) for item in said] == [(Severity.MUST_FIX, 1)]


def test_an_unread_file_is_not_judged() -> None:
    assert len(unjudged(check(unreadable(), LIMIT))) == 1


def test_a_sheet_of_a2_is_judged_in_a_moment() -> None:
    # A quarter of a million cells, in a chequerboard of 5 mm: 5000 areas.
    page = plates(flyer("A2"))
    row = (b"\xe6" * 5 + b"\x00" * 5) * 50
    cells = b"".join(
        (row if number // 5 % 2 else row[5:] + row[:5])[: page.columns] for number in range(page.rows)
    )
    full = replace(page, coverage=dict.fromkeys(("Cyan", "Magenta", "Yellow", "Black"), cells))
    piece = full.looked_at(LIMIT).artwork()
    started = perf_counter()
    finding = the_only(check(piece, LIMIT))
    assert perf_counter() - started < 2
    assert 0 < len(finding.boxes) <= 40
