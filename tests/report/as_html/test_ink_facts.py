# The inks of a page, told to programs and in a terminal.

import json
from dataclasses import replace

import pytest

from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.inks import CELL_PT, Cells, ColourShift, EdgePaint, MovedColour, PageInk, Plate
from hotfolder.report import artwork_json, facts_lines
from tests.report.samples import flyer, page

SHORT = (None, 3 * CELL_PT, 2 * CELL_PT, 3 * CELL_PT)
MOVED = MovedColour(Box(0, 0, 72, 36), 12.5, (87.8, -79.3, 81.0), (60.0, -55.0, 40.0), 22.5)
INK = PageInk(
    cells=Cells(0, 100, 1, 1),
    plates=(Plate("Cyan", 12.34567, 100, b"\x10"), Plate("Harbour Blue", 1, 40.2, b"\x00")),
    max_percent=287.4,
    max_1mm2_percent=255.5,
    edges=(
        EdgePaint(Edge.LEFT, 0, 1, SHORT, 3 * CELL_PT),
        EdgePaint(Edge.TOP, 0, 1, (None, None), 3 * CELL_PT),
    ),
    shift=ColourShift(20, 12.5, 4.25, (MOVED,)),
    approximate=("A knockout group was drawn as a plain one.",),
)


def inked(ink: PageInk | Unmeasured) -> Artwork:
    return replace(flyer(), pages=(replace(page(1), ink=ink),), press="coated")


def test_plates_and_totals() -> None:
    facts = artwork_json(inked(INK))
    assert facts["press"] == "coated"
    found = facts["pages"][0]["ink"]
    assert found["plates"] == {
        "Cyan": {"mean_percent": 12.3457, "max_percent": 100},
        "Harbour Blue": {"mean_percent": 1, "max_percent": 40.2},
    }
    assert (found["max_1mm2_percent"], found["max_percent"]) == (255.5, 287.4)
    assert found["approximate"] == ["A knockout group was drawn as a plain one."]
    json.dumps(facts, allow_nan=False)


def test_edges_tell_how_much_of_them_is_painted_and_how_far_that_reaches_at_least() -> None:
    edges = artwork_json(inked(INK))["pages"][0]["ink"]["edges"]
    assert set(edges) == {"left", "top"}
    assert edges["left"]["touched_percent"] == 75
    assert edges["left"]["least_reach"] == pytest.approx(2 * CELL_PT, abs=1e-4)
    assert edges["left"]["sheet"] == pytest.approx(3 * CELL_PT, abs=1e-4)
    assert (edges["top"]["touched_percent"], edges["top"]["least_reach"]) == (0, None)


def test_colours_that_move() -> None:
    shift = artwork_json(inked(INK))["pages"][0]["ink"]["shift"]
    assert [shift[f"over_{limit}_percent"] for limit in (5, 10, 20)] == [20, 12.5, 4.25]
    assert shift["moved"] == [
        {
            "place": [0, 0, 72, 36],
            "share_percent": 12.5,
            "before": [87.8, -79.3, 81],
            "after": [60, -55, 40],
            "delta_e": 22.5,
        }
    ]
    assert artwork_json(inked(replace(INK, shift=None)))["pages"][0]["ink"]["shift"] is None


def reasons(artwork: Artwork) -> dict[str, str]:
    return {problem["where"]: problem["what"] for problem in artwork_json(artwork)["problems"]}


def test_plates_that_could_not_be_drawn_are_null_with_the_reason() -> None:
    artwork = inked(Unmeasured("ink", "a colour space could not be read"))
    assert artwork_json(artwork)["pages"][0]["ink"] is None
    assert reasons(artwork)["pages[0].ink"] == "a colour space could not be read"


def test_edges_without_a_trim_are_null_with_the_reason() -> None:
    artwork = inked(replace(INK, edges=Unmeasured("trim", "the page declares none")))
    assert artwork_json(artwork)["pages"][0]["ink"]["edges"] is None
    assert reasons(artwork)["pages[0].ink.edges"] == "the page declares none"
    assert "pages[0].ink" not in reasons(artwork)


def test_the_terminal_tells_the_same() -> None:
    lines = "\n".join(facts_lines(artwork_json(inked(INK))))
    for told in (
        "plates drawn for: coated",
        "plate Cyan: 12.3 % of the sheet, 100 % at most",
        "plate Harbour Blue: 1 % of the sheet, 40 % at most",
        "256 % over 1 mm2, 287 % in one spot",
        "75 % of the left edge, 2 mm beyond",
        "20 / 12.5 / 4.2 % of the sheet",
        "A knockout group was drawn as a plain one.",
    ):
        assert told in lines
    assert "top edge" not in lines  # no paint touches it


def test_the_terminal_says_where_there_is_no_ink() -> None:
    empty = PageInk(Cells(0, 100, 1, 1), (), 0, 0, edges=())
    assert "no ink on paper" in "\n".join(facts_lines(artwork_json(inked(empty))))
