# Areas of cells: found as a slow flood fill finds them; totals and windows as counted by hand.
from array import array

from hypothesis import given
from hypothesis import strategies as st

from hotfolder.checks.shared.plates.cells import (
    areas,
    is_more_than_rim,
    rimless,
    totals,
    window,
    without_boxes,
)
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT, Cells, PageInk, Plate

COLUMNS, ROWS = 9, 7
GRID = Cells(0, ROWS * CELL_PT, COLUMNS, ROWS)
ALL = window(GRID, None)


def ink(*plates: tuple[str, bytes]) -> PageInk:
    made = tuple(Plate(name, 0, 0, coverage) for name, coverage in plates)
    return PageInk(GRID, made, 0, 0, Unmeasured("edges", "not asked"))


def flooded(flags: bytes) -> set[frozenset[int]]:
    """The cells that hang together, corners included: the slow and obvious way."""
    left = {at for at, flag in enumerate(flags) if flag}
    found: set[frozenset[int]] = set()
    while left:
        waiting, group = [left.pop()], set[int]()
        while waiting:
            at = waiting.pop()
            group.add(at)
            row, column = divmod(at, COLUMNS)
            for down in (-1, 0, 1):
                for across in (-1, 0, 1):
                    near = (row + down) * COLUMNS + column + across
                    if 0 <= column + across < COLUMNS and near in left:
                        left.remove(near)
                        waiting.append(near)
        found.add(frozenset(group))
    return found


@given(
    st.binary(min_size=COLUMNS * ROWS, max_size=COLUMNS * ROWS).map(lambda data: bytes(b & 1 for b in data))
)
def test_areas_are_what_a_flood_fill_finds(flags: bytes) -> None:
    heavy_areas = areas(GRID, flags, ALL, 1)
    cells = {
        frozenset(run.row * COLUMNS + at for run in area.runs for at in range(run.start, run.stop))
        for area in heavy_areas
    }
    assert cells == flooded(flags)
    assert sum(area.mm2 for area in heavy_areas) == sum(flags)
    assert [area.mm2 for area in heavy_areas] == sorted((area.mm2 for area in heavy_areas), reverse=True)
    for area in heavy_areas:
        assert set(area.values(flags)) == {1}


@given(st.lists(st.binary(min_size=COLUMNS * ROWS, max_size=COLUMNS * ROWS), max_size=6))
def test_totals_are_sums_cell_by_cell(plates: list[bytes]) -> None:
    page = ink(*((f"Ink {number}", coverage) for number, coverage in enumerate(plates)))
    assert list(totals(page)) == [sum(cell) for cell in zip(bytes(COLUMNS * ROWS), *plates, strict=True)]


def test_inks_are_left_out_of_the_total() -> None:
    page = ink(("Cyan", b"\x05" * 63), ("Varnish", b"\xff" * 63))
    assert totals(page, frozenset({"Varnish"})) == array("H", [5] * 63)


def test_a_window_holds_the_cells_whose_middle_lies_in_it() -> None:
    box = Box(1.4 * CELL_PT, 2.0 * CELL_PT, 4.6 * CELL_PT, 7.0 * CELL_PT)
    found = window(GRID, box)
    assert (found.columns, found.rows) == (range(1, 5), range(5))
    beyond = window(GRID, Box(-90, -90, 900, 900))
    assert (beyond.columns, beyond.rows) == (range(COLUMNS), range(ROWS))
    nowhere = window(GRID, Box(900, 900, 990, 990))
    assert (len(nowhere.columns), len(nowhere.rows)) == (0, 0)


def test_areas_outside_the_window_are_cut_off() -> None:
    (area,) = areas(GRID, b"\x01" * 63, window(GRID, GRID.box(2, 1, 3, 4)), 1)
    assert area.mm2 == 12
    assert area.box == GRID.box(2, 1, 3, 4)


def test_the_cells_that_a_box_touches_are_taken_out() -> None:
    left = without_boxes(
        b"\x01" * 63, GRID, [Box(2.2 * CELL_PT, 2.2 * CELL_PT, 3.8 * CELL_PT, 3.8 * CELL_PT)]
    )
    assert sum(left) == 63 - 4


def test_without_its_rim_a_block_is_smaller_and_a_line_is_gone() -> None:
    rows = ["000000000", "011111000", "011111000", "011111000", "000000000", "111111110", "000000000"]
    flags = bytes(int(cell) for row in rows for cell in row)
    inner = rimless(flags, GRID)
    assert [at for at, flag in enumerate(inner) if flag] == [2 * 9 + 2, 2 * 9 + 3, 2 * 9 + 4]
    block, line = areas(GRID, flags, ALL, 1)
    assert (block.mm2, line.mm2) == (15, 8)
    assert not is_more_than_rim(block, inner)  # 3 cells of 15
    assert not is_more_than_rim(line, inner)
    whole = b"\x01" * 63
    (page,) = areas(GRID, whole, ALL, 1)
    assert is_more_than_rim(page, rimless(whole, GRID))
