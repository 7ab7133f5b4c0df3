# Connected regions, against a slow search cell by cell.

import numpy as np
import pytest
from numpy.typing import NDArray

from hotfolder.measure.inks.regions import Region, Regions, largest_region


def drawn(text: str) -> NDArray[np.bool_]:
    return np.array([[cell == "#" for cell in line.strip()] for line in text.strip().splitlines()])


def slow_sizes(marked: NDArray[np.bool_]) -> list[int]:
    """The size of each region, found by walking from cell to neighbouring cell."""
    left = {(int(row), int(column)) for row, column in np.argwhere(marked)}
    sizes = []
    while left:
        waiting, size = [left.pop()], 0
        while waiting:
            row, column = waiting.pop()
            size += 1
            for near in ((row - 1, column), (row + 1, column), (row, column - 1), (row, column + 1)):
                if near in left:
                    left.remove(near)
                    waiting.append(near)
        sizes.append(size)
    return sizes


def test_nothing_marked_has_no_region() -> None:
    assert largest_region(np.zeros((3, 4), np.bool_)) is None


def test_the_larger_of_two() -> None:
    marked = drawn("""
        ##...
        ##.##
        ...##
        ...##
    """)
    assert largest_region(marked) == Region(column=3, row=1, columns=2, rows=3, cells=6)


def test_corners_do_not_join() -> None:
    assert largest_region(drawn("#.\n.#")) == Region(0, 0, 1, 1, 1)


def test_corners_join_where_that_is_asked() -> None:
    regions = Regions.of(drawn("#..\n.#.\n..#"), corners=True)
    assert (regions.cells.tolist(), regions.right.tolist(), regions.bottom.tolist()) == ([3], [3], [3])


def test_of_several_of_one_size_the_first_counts() -> None:
    assert largest_region(drawn(".##\n...\n##.")) == Region(column=1, row=0, columns=2, rows=1, cells=2)


def test_a_spiral_is_one_region() -> None:
    marked = drawn("""
        #####
        #...#
        #.#.#
        #.###
        #....
    """)
    assert largest_region(marked) == Region(0, 0, 5, 5, 15)


@pytest.mark.parametrize("density", [0.2, 0.5, 0.6, 0.9])
def test_as_large_as_a_slow_search_finds_it(density: float) -> None:
    random = np.random.default_rng(11)
    for _ in range(30):
        marked = random.random((random.integers(1, 25), random.integers(1, 25))) < density
        region = largest_region(marked)
        sizes = slow_sizes(marked)
        assert (region.cells if region else 0) == max(sizes, default=0)
