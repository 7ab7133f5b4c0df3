# Numbers and sizes as people read them.

import math

import pytest

from hotfolder.model.findings import Quantity
from hotfolder.model.geometry import Box
from hotfolder.units import mm_to_pt
from hotfolder.wording.figures import bytes_words, comparison, margins_words, quantity_words, size_words
from hotfolder.wording.pages import page_numbers


@pytest.mark.parametrize(
    ("quantity", "words"),
    [
        (Quantity.of(3, unit="mm"), "3 mm"),
        (Quantity.of(148, 210.04, unit="mm"), "148 x 210 mm"),
        (Quantity.of(1, unit="pages"), "1 page"),
        (Quantity.of(2, unit="pages"), "2 pages"),
        (Quantity.of(1, 2, unit="pages"), "1 or 2 pages"),
        (Quantity.of(0, unit="layers"), "none"),
        (Quantity.of(1, unit="spot colours"), "1 spot colour"),
        (Quantity.of(0.125, unit="in"), "0.125 in"),
        (Quantity.of(299.98, unit="ppi"), "300 ppi"),
        (Quantity.of(math.inf, unit="ppi"), "unlimited ppi"),
        (Quantity.of(1.25, unit=""), "1.25"),
    ],
)
def test_quantities(quantity: Quantity, words: str) -> None:
    assert quantity_words(quantity) == words


def test_figures_that_differ_never_look_the_same() -> None:
    assert comparison(Quantity.of(2.96, unit="mm"), Quantity.of(3, unit="mm")) == "2.96 mm, 3 mm wanted"
    assert comparison(Quantity.of(299.4, unit="ppi"), Quantity.of(299.6, unit="ppi")) == (
        "299 ppi, 300 ppi wanted"
    )
    assert (
        comparison(Quantity.of(224.9, unit="ppi"), Quantity.of(225, unit="ppi"))
        == "224.9 ppi, 225 ppi wanted"
    )


def test_comparisons_with_words_and_with_one_side_only() -> None:
    assert comparison("RGB", "CMYK or grey") == "RGB; wanted: CMYK or grey"
    assert comparison(Quantity.of(4, unit="pages"), None) == "4 pages"
    assert comparison(None, "PDF/X-4") == "PDF/X-4 wanted"
    assert comparison(None, None) == ""


def test_sizes_are_called_by_their_paper() -> None:
    """A5 is 148 x 210 mm (ISO 216); it arrives as 419.53 x 595.28 pt."""
    assert size_words(419.53, 595.28) == "148 x 210 mm (A5)"
    assert size_words(595.28, 419.53) == "210 x 148 mm (A5)"
    assert size_words(mm_to_pt(150), mm_to_pt(210)) == "150 x 210 mm"


def test_margins_side_by_side() -> None:
    trim = Box(10, 10, 100, 100)
    three = mm_to_pt(3)
    assert margins_words(trim, trim.grown(three)) == "3 mm on all sides"
    assert margins_words(trim, trim) == "none"
    assert (
        margins_words(trim, Box(10, 10, 100 + three, 100)) == "left 0 mm, top 0 mm, right 3 mm, bottom 0 mm"
    )


@pytest.mark.parametrize(("rotate", "side"), [(90, "bottom"), (180, "left"), (270, "top")])
def test_margins_of_a_turned_page_are_told_as_it_is_seen(rotate: int, side: str) -> None:
    trim = Box(10, 10, 100, 100)
    assert f"{side} 3 mm" in margins_words(trim, Box(10, 10, 100 + mm_to_pt(3), 100), rotate)


def test_runs_of_pages_and_sizes_of_files() -> None:
    assert page_numbers([1, 2, 3, 7, 9, 10]) == "1 to 3, 7, 9 to 10"
    assert page_numbers([]) == ""
    assert [bytes_words(count) for count in (0, 1, 999, 2_400_000, 3_000_000_000)] == [
        "0 bytes", "1 byte", "999 bytes", "2.4 MB", "3 GB",
    ]  # fmt: skip
