# Words for a place on a page, and one cause that is told once for all its pages.
import pytest

from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.model.facts import Unmeasured
from hotfolder.model.findings import Finding, Place, Severity
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page
from hotfolder.wording.places import place_words
from tests.artwork.flyer import flyer, mm_box


def on_page(*boxes: tuple[float, float, float, float], rotate: int = 0) -> str:
    """Words for places on an upright A5 page (148 x 210 mm)."""
    return place_words(flyer("A5").rotated(rotate).page(), [mm_box(*box) for box in boxes])


@pytest.mark.parametrize(
    ("box", "words"),
    [
        ((5, 2, 50, 8), "bottom left corner"),
        ((130, 200, 146, 208), "top right corner"),
        ((40, 2, 60, 8), "bottom edge, left of the middle"),
        ((70, 200, 78, 208), "top edge, in the middle"),
        ((90, 200, 110, 208), "top edge, right of the middle"),
        ((2, 150, 10, 160), "left edge, above the middle"),
        ((140, 30, 147, 50), "right edge, below the middle"),
        ((140, 100, 147, 110), "right edge, in the middle"),
        ((70, 100, 78, 110), "in the middle of the page"),
        ((30, 100, 40, 110), "left of the middle"),
        ((100, 100, 110, 110), "right of the middle"),
        ((70, 150, 78, 160), "upper half, in the middle"),
        ((30, 40, 40, 50), "lower half, left of the middle"),
        ((0, 0, 148, 210), "over the whole page"),
        ((-3, -3, 151, 213), "over the whole page"),
        ((0, 100, 148, 110), "across the page, in the middle"),
        ((5, 2, 143, 9), "along the bottom edge"),
        ((2, 5, 9, 200), "along the left edge"),
        ((70, 5, 75, 200), "from top to bottom, in the middle"),
        ((20, 215, 30, 220), "beyond the top edge"),
        ((-10, -10, -5, -5), "beyond the bottom left corner"),
    ],
)
def test_a_place_is_told_as_a_person_would(box: tuple[float, float, float, float], words: str) -> None:
    assert on_page(box) == words


@pytest.mark.parametrize(
    ("rotate", "words"),
    [
        (0, "bottom left corner"),
        (90, "top left corner"),
        (180, "top right corner"),
        (270, "bottom right corner"),
    ],
)
def test_a_page_is_told_as_it_is_shown(rotate: int, words: str) -> None:
    # ISO 32000-2, 7.7.3.3: the page is turned clockwise, so that its lower left corner goes to the top left.
    assert on_page((2, 2, 9, 9), rotate=rotate) == words


def test_a_strip_along_an_edge_turns_with_the_page() -> None:
    assert on_page((5, 2, 143, 9), rotate=90) == "along the left edge"


def test_a_few_places_are_named_and_many_are_not() -> None:
    corners = [(2, 2, 9, 9), (139, 2, 146, 9), (2, 200, 9, 208), (139, 200, 146, 208)]
    assert on_page(*corners[:2]) == "bottom left corner; bottom right corner"
    assert on_page(*corners) == "in several places"
    assert on_page(*corners[:1] * 40) == "bottom left corner"


def test_without_a_size_there_are_no_words() -> None:
    nothing = Page(1, 0, 1.0, flyer().boxes, Unmeasured("trim", "no trim box"), ())
    assert place_words(nothing, [mm_box(2, 2, 9, 9)]) == "bottom left corner"  # the media box will do
    assert place_words(nothing, []) == ""
    flat = flyer().with_trim(Unmeasured("trim", "no trim box"))
    boxless = flat.with_boxes(type(flat.boxes)(media=Box(0, 0, 0, 0))).page()
    assert place_words(boxless, [mm_box(2, 2, 9, 9)]) == ""


FINDING = Finding("lines", "thin", Severity.ADVICE, "two lines are thin.", "Make them wider.")


def test_one_cause_on_one_page_is_told_with_its_place() -> None:
    places = Occurrences()
    assert not places
    places.add(flyer().page(), mm_box(2, 2, 9, 9))
    places.add(flyer().page(), mm_box(3, 3, 8, 8))
    words = places.located(FINDING)
    assert (words.page, words.boxes, words.further, places.count) == (
        1,
        (mm_box(2, 2, 9, 9), mm_box(3, 3, 8, 8)),
        (),
        2,
    )
    assert words.message == "Page 1, bottom left corner: two lines are thin."


def test_one_cause_on_many_pages_is_one_finding() -> None:
    places = Occurrences()
    for number in (7, 3):
        page = flyer().page()
        places.add(Page(number, 0, 1.0, page.boxes, page.trim, ()), mm_box(2, 2, 9, 9))
    words = places.located(FINDING)
    assert words.places == (Place(3, (mm_box(2, 2, 9, 9),)), Place(7, (mm_box(2, 2, 9, 9),)))
    assert words.message == "Pages 3 and 7 (on page 3: bottom left corner): two lines are thin."
    assert places.located(FINDING, words_for_place=False).message == "Pages 3 and 7: two lines are thin."


def test_in_a_book_the_later_pages_are_only_named() -> None:
    places = Occurrences()
    page = flyer().page()
    for number in range(1, 101):
        places.add(Page(number, 0, 1.0, page.boxes, page.trim, ()), mm_box(2, 2, 9, 9))
    words = places.located(FINDING)
    assert [place.page for place in words.places] == list(range(1, 101))
    assert [len(place.boxes) for place in words.places] == [1] * 40 + [0] * 60


def test_a_page_as_a_whole_has_no_boxes() -> None:
    places = Occurrences()
    places.add(flyer().page())
    words = places.located(FINDING)
    assert (words.page, words.boxes, words.message) == (1, (), "Page 1: two lines are thin.")


def test_a_finding_about_the_file_has_no_places() -> None:
    assert FINDING.places == ()
