# Placing: which trim a PDF page is meant to have that declares none.

import pytest

from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.pages import PageBoxes, Trim, TrimOrigin
from hotfolder.model.ruleset import Product
from hotfolder.units import mm_to_pt
from hotfolder.workshop.placing import place
from tests.workshop.placed_pages import FILE, NO_TRIM, approx_mm, pdf, placed, product, trim_mm


def box_mm(width: float, height: float, x: float = 0, y: float = 0) -> Box:
    return Box(mm_to_pt(x), mm_to_pt(y), mm_to_pt(x + width), mm_to_pt(y + height))


def near(box: Box, other: Box) -> bool:
    return box.holds(other, 1e-6) and other.holds(box, 1e-6)


@pytest.mark.parametrize(
    ("media", "trim"),
    [
        (box_mm(154, 216), box_mm(148, 210, 3, 3)),
        (box_mm(216, 154), box_mm(210, 148, 3, 3)),
        (box_mm(148, 210), box_mm(148, 210)),
        (box_mm(154, 216, -20, 35), box_mm(148, 210, -17, 38)),  # an origin that is not zero
        (box_mm(154.4, 215.6), box_mm(148, 210, 3.2, 2.8)),  # off by less than half a millimetre: centred
    ],
)
def test_the_trim_of_a_pdf_page_is_inferred(media: Box, trim: Box) -> None:
    page = placed(pdf(media, rotate=90), product("A5"))
    assert isinstance(page.trim, Trim)
    assert page.trim.origin is TrimOrigin.INFERRED
    assert near(page.trim.box, trim)
    assert "A5" in page.trim.note
    assert page.boxes == PageBoxes(media)


@pytest.mark.parametrize(("room", "told"), [(1, "1 mm bleed"), (5, "5 mm bleed"), (12, "12 mm around it")])
def test_the_same_room_on_every_side_is_bleed_of_another_width(room: float, told: str) -> None:
    page = placed(pdf(box_mm(148 + 2 * room, 210 + 2 * room)), product("A5", "A4", "A6", "DL"))
    assert isinstance(page.trim, Trim)
    assert page.trim.origin is TrimOrigin.INFERRED
    assert near(page.trim.box, box_mm(148, 210, room, room))
    assert f"which is A5 with {told}" in page.trim.note


def test_room_that_may_be_around_two_sizes_is_a_question() -> None:
    page = placed(pdf(box_mm(160, 222)), product("A5", "154 x 216 mm", bleed_mm=2))
    assert isinstance(page.trim, Unmeasured)
    assert "may be" in page.trim.reason


def test_a4_as_office_programs_round_it() -> None:
    page = placed(pdf(Box(0, 0, 595, 842)), product("A4"))
    assert trim_mm(page) == approx_mm(210, 297)


@pytest.mark.parametrize(
    "media",
    [
        box_mm(154.6, 216),
        box_mm(160, 223),
        box_mm(149.5, 211.5),
        box_mm(188, 250),
        box_mm(100, 100),
        box_mm(0, 0),
    ],
)
def test_another_page_is_not_guessed_at(media: Box) -> None:
    page = placed(pdf(media), product("A5", "A4"))
    assert isinstance(page.trim, Unmeasured)
    assert "A5" in page.trim.reason
    assert page.marks == ()  # what is painted stays known


def test_a_declared_trim_stays() -> None:
    declared = Trim(box_mm(100, 100, 10, 10), TrimOrigin.TRIM_BOX)
    assert placed(pdf(box_mm(154, 216), trim=declared), product("A5")).trim is declared


def test_without_sizes_nothing_is_inferred() -> None:
    page = placed(pdf(box_mm(154, 216)), Product())
    assert isinstance(page.trim, Unmeasured)
    assert "154 x 216 mm" in page.trim.reason


def test_a_visible_area_that_agrees_changes_nothing() -> None:
    media = box_mm(154, 216)
    for crop in (media, box_mm(148, 210, 3, 3), box_mm(500, 500, -100, -100)):
        page = placed(pdf(media, crop), product("A5"))
        assert isinstance(page.trim, Trim)
        assert near(page.trim.box, box_mm(148, 210, 3, 3))


def test_a_visible_area_in_a_larger_sheet_is_the_page() -> None:
    page = placed(pdf(box_mm(200, 260), box_mm(154, 216, 23, 22)), product("A5"))
    assert isinstance(page.trim, Trim)
    assert near(page.trim.box, box_mm(148, 210, 26, 25))


def test_a_visible_area_of_another_size_is_a_question() -> None:
    page = placed(pdf(box_mm(210, 297), box_mm(148, 210, 10, 10)), product("A4", "A5"))
    assert isinstance(page.trim, Unmeasured)


def test_the_nearest_size_wins_on_pdf_pages() -> None:
    page = placed(pdf(box_mm(148.1, 210)), product("148.4 x 210 mm", "148 x 210 mm", bleed_mm=0))
    assert trim_mm(page) == approx_mm(148, 210)


def test_a_file_without_pages_stays_as_it_is() -> None:
    broken = Artwork(FILE, Unmeasured("pages", "unreadable"))
    assert place(broken, product("A5")) is broken


def test_a_page_without_a_media_box_stays_as_it_is() -> None:
    assert placed(pdf(None), product("A5")).trim is NO_TRIM
