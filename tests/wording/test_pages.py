# Counts, lists, pages and edges as people read them, and quantities as findings keep them.

import doctest

import pytest

from hotfolder.model.findings import Quantity
from hotfolder.model.geometry import Edge
from hotfolder.units import Length, LengthUnit
from hotfolder.wording import lists, pages
from hotfolder.wording.figures import quantity
from hotfolder.wording.pages import edges_words, pages_words, seen_edge


def test_the_examples_of_wording_hold() -> None:
    for module in (lists, pages):
        results = doctest.testmod(module)
        assert results.attempted >= 2
        assert results.failed == 0


@pytest.mark.parametrize(("rotate", "seen"), [(0, "left"), (90, "top"), (180, "right"), (270, "bottom")])
def test_turning_a_page_clockwise_turns_its_left_edge(rotate: int, seen: str) -> None:
    # ISO 32000-2, 7.7.3.3: Rotate is the number of degrees by which the page is turned clockwise.
    assert seen_edge(Edge.LEFT, rotate) == seen


def test_edges_and_pages_are_named_together() -> None:
    assert edges_words(list(Edge), 90) == "all four edges"
    assert pages_words([5, 3, 4, 1]) == "pages 1 and 3 to 5"
    assert pages_words([1, 2]) == "pages 1 and 2"


def test_quantities_have_no_minus_zero() -> None:
    assert str(quantity(Length.of_mm(3), -0.001)) == str(Quantity((0.0,), "mm"))
    assert quantity(Length(9, LengthUnit.INCH), 9) == Quantity((0.125,), "in")
