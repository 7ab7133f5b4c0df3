# The inks of a page as facts, on plates painted by hand; each figure is worked out beside it.

import time
from dataclasses import dataclass, field, replace

import numpy as np
import pytest

from hotfolder.measure.inks.ink import LEAST_INK, InkBudget, measure_ink, page_ink
from hotfolder.measure.inks.ink_areas import InkLimits
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import FileFacts, Format, Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT, PageInk, Plate
from hotfolder.model.pages import Page
from hotfolder.model.plates import PagePlates
from hotfolder.model.press import Press
from hotfolder.presses.loading import load_press
from tests.measure.inks.hand_plates import laid, mm_box, page_of, painted, plates_of

SHEET, TRIM = mm_box(0, 0, 100, 50), mm_box(3, 3, 97, 47)
PAGE = page_of(SHEET, TRIM)
FRAME = laid(PAGE).frame


def ink_of(page: Page, plates: PagePlates) -> PageInk:
    return page_ink(plates, page, None)


def plates_by_name(ink: PageInk) -> dict[str, Plate]:
    return {plate.ink: plate for plate in ink.plates}


def test_mean_and_maximum_of_each_plate() -> None:
    """Cyan: 60 % on a fifth of the sheet. Black: full on 10 x 10 of 100 x 50 mm."""
    inks = {
        "Cyan": painted(FRAME, (mm_box(0, 0, 20, 50), 60)),
        "Black": painted(FRAME, (mm_box(30, 30, 40, 40), 100)),
    }
    ink = ink_of(PAGE, plates_of(PAGE, inks))
    assert [plate.ink for plate in ink.plates] == ["Cyan", "Black"]
    found = plates_by_name(ink)
    assert found["Cyan"].mean_percent == pytest.approx(12)
    assert found["Cyan"].max_percent == pytest.approx(60)
    assert found["Black"].mean_percent == pytest.approx(2)
    assert found["Black"].max_percent == 100
    assert ink.shift is None


def test_the_total_is_that_of_one_place_and_not_the_sum_of_maxima() -> None:
    """60 C and 100 K lie apart; where 60 C and 70 M overlap, it is 130 %."""
    inks = {
        "Cyan": painted(FRAME, (mm_box(0, 0, 20, 50), 60)),
        "Magenta": painted(FRAME, (mm_box(10, 0, 30, 20), 70)),
        "Black": painted(FRAME, (mm_box(50, 30, 60, 40), 100)),
    }
    ink = ink_of(PAGE, plates_of(PAGE, inks))
    assert ink.max_percent == pytest.approx(130, abs=0.4)
    assert ink.max_1mm2_percent == pytest.approx(130, abs=0.4)


def test_a_crossing_of_hairlines_is_high_in_a_pixel_and_low_over_a_square_millimetre() -> None:
    """Two lines of one pixel (a sixth of a millimetre) in three inks each, which cross in one pixel."""
    lines = np.zeros((FRAME.height_px, FRAME.width_px), np.uint8)
    lines[150, :] = 255
    lines[:, 303] = 255
    inks = dict.fromkeys(("Cyan", "Magenta", "Yellow"), lines)
    ink = ink_of(PAGE, plates_of(PAGE, inks))
    assert FRAME.px_per_mm == 6
    assert ink.max_percent == 300
    assert ink.max_1mm2_percent == pytest.approx(300 * 11 / 36)  # 6 + 6 - 1 of 36 pixels


def test_what_was_drawn_closely_is_the_most_ink_on_a_square_millimetre() -> None:
    """A block that pixels show with 60 %, and that was found to be of 40 % in truth."""
    inks = {"Cyan": painted(FRAME, (mm_box(10, 10, 20, 20), 60)), "Black": painted(FRAME)}
    limits = InkLimits((30.0,), lambda _: True)
    coarse = plates_of(PAGE, inks)
    assert ink_of(PAGE, coarse).max_1mm2_percent == pytest.approx(60)
    close = page_ink(replace(coarse, most_1mm2=0.4 * 255), PAGE, None, limits)
    assert close.max_1mm2_percent == pytest.approx(40)
    assert [area.highest_percent for area in close.heavy[0].areas] == [pytest.approx(40)]
    assert page_ink(replace(coarse, most_1mm2=0.29 * 255), PAGE, None, limits).heavy[0].areas == ()


def test_cells_are_square_millimetres_in_reading_order() -> None:
    """A block of 2.5 x 1 mm, 40 mm from the left and 10 mm from the top of the sheet."""
    black = painted(FRAME, (mm_box(40, 39, 42.5, 40), 100))
    ink = ink_of(PAGE, plates_of(PAGE, {"Black": black}))
    cells = ink.cells
    assert (cells.columns, cells.rows) == (100, 50)
    coverage = np.frombuffer(ink.plates[0].coverage, np.uint8).reshape(cells.rows, cells.columns)
    assert coverage[10, 39:44].tolist() == [0, 255, 255, 128, 0]
    assert int((coverage > 0).sum()) == 3
    where = cells.box(40, 10, columns=3)
    assert [side / CELL_PT for side in (where.x0, where.y0, where.x1, where.y1)] == pytest.approx(
        [40, 39, 43, 40]
    )


def test_the_mean_is_over_the_sheet_and_not_over_its_bare_margin() -> None:
    """A sheet of 85.6 x 53.98 mm whose trim begins 0.4 mm inside: its frame has bare cells on all sides."""
    sheet = mm_box(0, 0, 85.6, 53.98)
    page = page_of(sheet, mm_box(0.4, 0.4, 85.2, 53.58))
    frame = laid(page).frame
    assert frame.box.width > sheet.width + 0.5 * CELL_PT
    ink = ink_of(page, plates_of(page, {"Black": painted(frame, (sheet, 40))}))
    assert ink.plates[0].mean_percent == pytest.approx(40, abs=0.05)
    full = ink_of(page, plates_of(page, {"Black": np.full((frame.height_px, frame.width_px), 255, np.uint8)}))
    assert full.plates[0].mean_percent == 100


def test_a_plate_that_holds_only_the_rounding_of_a_conversion_is_none() -> None:
    traces = np.full((FRAME.height_px, FRAME.width_px), LEAST_INK - 1, np.uint8)
    veil = np.full((FRAME.height_px, FRAME.width_px), LEAST_INK, np.uint8)
    ink = ink_of(PAGE, plates_of(PAGE, {"Cyan": traces, "Magenta": veil, "Black": traces * 0}))
    assert [plate.ink for plate in ink.plates] == ["Magenta"]
    assert ink.max_percent == pytest.approx(100 * LEAST_INK / 255)


def test_a_page_without_ink() -> None:
    ink = ink_of(PAGE, plates_of(PAGE, {}))
    assert (ink.plates, ink.max_percent, ink.max_1mm2_percent) == ((), 0, 0)
    assert not isinstance(ink.edges, Unmeasured)
    assert all(set(paint.reach_pt) == {None} for paint in ink.edges)


def test_technical_inks_count_in_the_totals() -> None:
    inks = {"Black": painted(FRAME, (SHEET, 80)), "Varnish": painted(FRAME, (SHEET, 100))}
    assert ink_of(PAGE, plates_of(PAGE, inks)).max_percent == pytest.approx(180)


def test_edges_of_a_page_whose_trim_is_not_known_are_not_measured() -> None:
    page = page_of(SHEET, None)
    ink = ink_of(page, plates_of(page, {"Black": painted(laid(page).frame, (SHEET, 50))}))
    assert isinstance(ink.edges, Unmeasured)
    assert ink.edges.reason == "it declares none"


def test_what_is_drawn_only_nearly_is_handed_on() -> None:
    plates = plates_of(PAGE, {})
    nearly = PagePlates(1, plates.sheet, plates.frame, {}, {}, None, ("A knockout group.",))
    assert ink_of(PAGE, nearly).approximate == ("A knockout group.",)


@dataclass
class Drawn:
    """A drawer of pages in 50 % black, that notes what it was asked; some it cannot draw."""

    refused: tuple[int, ...] = ()
    asked: list[int] = field(default_factory=list)

    def draw(self, page_number: int) -> PagePlates | Unmeasured:
        self.asked.append(page_number)
        if page_number in self.refused:
            return Unmeasured("ink", "its content could not be read")
        return plates_of(PAGE, {"Black": painted(FRAME, (Box(*_SIDES), 50))})


_SIDES = (SHEET.x0, SHEET.y0, SHEET.x1, SHEET.y1)


def artwork(pages: int) -> Artwork:
    facts = FileFacts("a.pdf", 1, "00" * 32, Format.PDF)
    return Artwork(
        facts, tuple(Page(number, 0, 1.0, PAGE.boxes, PAGE.trim, ()) for number in range(1, pages + 1))
    )


def test_every_page_is_drawn_once_and_the_press_is_named() -> None:
    drawer = Drawn()
    with_ink = measure_ink(drawer, artwork(3), load_press("coated"))
    assert drawer.asked == [1, 2, 3]
    assert with_ink.press == "coated"
    for page in with_ink.known_pages:
        assert isinstance(page.ink, PageInk)
        assert page.ink.plates[0].mean_percent == pytest.approx(50, abs=0.2)


@pytest.mark.parametrize("press", [None, Press("FOGRA51", "known by name only", None)])
def test_without_a_profile_inks_are_measured_all_the_same(press: Press | None) -> None:
    with_ink = measure_ink(Drawn(), artwork(1), press)
    assert isinstance(with_ink.known_pages[0].ink, PageInk)
    assert with_ink.press == (press.name if press else None)


def test_a_page_that_cannot_be_drawn_says_why() -> None:
    with_ink = measure_ink(Drawn(refused=(2,)), artwork(3), None)
    assert [isinstance(page.ink, Unmeasured) for page in with_ink.known_pages] == [False, True, False]
    assert with_ink.known_pages[1].ink == Unmeasured("ink", "its content could not be read")


def test_pages_beyond_the_budget_are_not_drawn_and_say_so() -> None:
    drawer = Drawn()
    with_ink = measure_ink(drawer, artwork(5), None, InkBudget(pages=2))
    assert drawer.asked == [1, 2]
    assert [isinstance(page.ink, Unmeasured) for page in with_ink.known_pages] == [
        False,
        False,
        True,
        True,
        True,
    ]
    last = with_ink.known_pages[-1].ink
    assert isinstance(last, Unmeasured)
    assert "first 2 pages" in last.reason


def test_drawing_stops_when_its_time_is_up() -> None:
    now = iter(range(0, 1000, 25))
    drawer = Drawn()
    with_ink = measure_ink(drawer, artwork(5), None, InkBudget(seconds=60, clock=lambda: float(next(now))))
    assert drawer.asked == [1, 2]  # the clock says 25, 50 and 75 s before the first three pages
    beyond = with_ink.known_pages[2].ink
    assert isinstance(beyond, Unmeasured)
    assert "60 s of processor time" in beyond.reason


def test_how_long_others_keep_the_machine_busy_does_not_count() -> None:
    class Waiting(Drawn):
        def draw(self, page_number: int) -> PagePlates | Unmeasured:
            time.sleep(0.3)
            return super().draw(page_number)

    with_ink = measure_ink(Waiting(), artwork(4), None, InkBudget(seconds=0.6))
    assert [type(page.ink) for page in with_ink.known_pages] == [PageInk] * 4


def test_a_file_that_could_not_be_opened_stays_as_it_is() -> None:
    unopened = Artwork(FileFacts("a.pdf", 1, "00" * 32, None), Unmeasured("pages", "it is no picture"))
    assert measure_ink(Drawn(), unopened, None) == unopened
