# Stretches along an edge, and boxes drawn together where there are many.
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from hotfolder.checks.shared.marks.edges import Stretch, meet, merged, shared, without
from hotfolder.checks.shared.marks.on_product import overlaps
from hotfolder.checks.shared.occurrences import MOST_BOXES, drawn_together
from hotfolder.model.geometry import Box

boxes = st.builds(
    lambda x, y, w, h: Box(x, y, x + w, y + h),
    *[st.integers(0, 1000)] * 2,
    *[st.integers(0, 100)] * 2,
)


@given(st.lists(boxes, max_size=200))
def test_gathered_boxes_are_few_and_cover_all(given: list[Box]) -> None:
    few = drawn_together(given)
    assert len(few) <= MOST_BOXES
    assert all(any(each.holds(box) for each in few) for box in given)


def test_touching_is_no_overlap_and_a_line_inside_is() -> None:
    area = Box(0, 0, 10, 10)
    assert not overlaps(Box(10, 0, 20, 10), area)
    assert overlaps(Box(2, 5, 8, 5), area)


points = st.integers(0, 60)
stretches = st.lists(st.tuples(points, points).filter(lambda pair: pair[0] < pair[1]), max_size=8)


def cells(given: list[Stretch]) -> set[int]:
    """The unit cells that stretches with whole ends cover: the slow and obvious way."""
    return {cell for start, end in given for cell in range(int(start), int(end))}


@given(stretches, stretches)
def test_taking_stretches_away_is_taking_cells_away(one: list[Stretch], other: list[Stretch]) -> None:
    left = without(merged(one), merged(other), 0.5)
    assert cells(left) == cells(one) - cells(other)


@given(stretches, stretches)
def test_what_stretches_share_are_the_cells_of_both(one: list[Stretch], other: list[Stretch]) -> None:
    assert cells(shared(merged(one), merged(other))) == cells(one) & cells(other)


@given(st.tuples(points, points).filter(lambda pair: pair[0] < pair[1]), stretches)
def test_stretches_meet_where_they_share_a_cell(one: Stretch, others: list[Stretch]) -> None:
    assert meet(one, merged(others)) is bool(cells([one]) & cells(others))


@given(stretches)
def test_merged_stretches_are_apart_and_in_order(given: list[Stretch]) -> None:
    whole = merged(given)
    assert cells(whole) == cells(given)
    assert all(first[1] < second[0] for first, second in pairwise(whole))
