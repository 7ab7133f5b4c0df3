# Paths: the box around what they paint, clips, colours and widths.

import math
import shutil
import subprocess
from itertools import chain
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pikepdf import Dictionary, Name

from hotfolder.model.facts import ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.model.marks import MarkKind
from hotfolder.pdf.objects.outline import curve_extremes
from tests.pdf.drawn_page import Drawn, corners, kinds, marks, only, read

_POINT = st.tuples(st.floats(-100, 100), st.floats(-100, 100))


@pytest.mark.parametrize(
    ("content", "box"),
    [
        (b"10 20 30 40 re f", (10, 20, 40, 60)),
        (b"40 60 -30 -40 re f", (10, 20, 40, 60)),
        (b"2 0 0 3 5 6 cm 10 20 30 40 re f", (25, 66, 85, 186)),
        (b"0 1 -1 0 100 0 cm 10 20 30 40 re f", (40, 10, 80, 40)),
        (b"10 10 m 50 90 l 90 10 l f", (10, 10, 90, 90)),
        (b"10 10 m 50 90 l 90 10 l f 999 999 m", (10, 10, 90, 90)),
        # A circle of Bezier curves has its extremes at the ends of its quarters.
        (b"0 50 m 0 77.6 22.4 100 50 100 c 77.6 100 100 77.6 100 50 c f", (0, 50, 100, 100)),
        # One arch: its top lies at 3/4 of the control points' height.
        (b"0 0 m 0 100 100 100 100 0 c f", (0, 0, 100, 75)),
        (b"0 0 m 0 100 100 0 v f", (0, 0, 100, 44.4444)),
        (b"0 0 m 0 100 100 0 y f", (0, 0, 100, 44.4444)),
    ],
)
def test_a_filled_path_lies_in_its_bounds(content: bytes, box: tuple[float, ...]) -> None:
    [mark] = marks(content)
    assert mark.kind is MarkKind.PATH
    assert corners(mark.box) == pytest.approx(box, abs=1e-3)


@given(_POINT, _POINT, _POINT, _POINT)
def test_extremes_of_a_curve_hold_all_of_it(
    start: tuple[float, float],
    first: tuple[float, float],
    second: tuple[float, float],
    end: tuple[float, float],
) -> None:
    box = Box.around([start, end, *chain(*curve_extremes(start, first, second, end))])
    sampled = []
    for step in range(201):
        t = step / 200
        weights = ((1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t * t, t**3)
        points = (start, first, second, end)
        x, y = (sum(w * p[axis] for w, p in zip(weights, points, strict=True)) for axis in (0, 1))
        sampled.append((x, y))
    slow = Box.around(sampled)
    assert box.holds(slow, tolerance=1e-9)
    # The sampled curve misses its true extreme by less than a two hundredth of its size, squared.
    assert slow.holds(box, tolerance=0.05)


@pytest.mark.parametrize(
    ("content", "box"),
    [
        # A wide line is a bar: butt caps end where the line ends (8.4.3.3).
        (b"20 w 50 50 m 150 50 l S", (50, 40, 150, 60)),
        (b"20 w 2 J 50 50 m 150 50 l S", (40, 40, 160, 60)),
        (b"20 w 1 J 50 50 m 150 50 l S", (40, 40, 160, 60)),
        (b"20 w 50 50 100 30 re S", (40, 40, 160, 90)),
        (b"2 0 0 1 0 0 cm 20 w 50 50 m 50 90 l S", (80, 50, 120, 90)),
        (b"0 w 50 50 m 150 50 l S", (50, 50, 150, 50)),
        # A right-angled corner has its miter at half a width both ways, or none where joins are bevelled.
        (b"20 w 50 50 m 150 50 l 150 100 l S", (50, 40, 160, 100)),
        (b"20 w 1 j 50 50 m 150 50 l 150 100 l S", (50, 40, 160, 100)),
        # 60 degrees: the tip reaches a whole width beyond the corner; a limit of 1.9 cuts it off.
        (b"10 w 50 50 m 100 136.6025 l 150 50 l S", (45.6699, 47.5, 154.3301, 146.6025)),
        (b"10 w 1.9 M 50 50 m 100 136.6025 l 150 50 l S", (45.6699, 47.5, 154.3301, 139.1025)),
        # Closing takes the caps away.
        (b"10 w 2 J 50 50 m 100 50 l 100 100 l 50 100 l s", (45, 45, 105, 105)),
        # A point shows with round caps, and not with butt ones (8.5.3.2).
        (b"10 w 1 J 50 50 m 50 50 l S", (45, 45, 55, 55)),
    ],
)
def test_a_stroke_counts_its_width(content: bytes, box: tuple[float, ...]) -> None:
    [mark] = marks(content)
    assert corners(mark.box) == pytest.approx(box, abs=1e-3)


@pytest.mark.parametrize(
    "content", [b"10 w 50 50 m 50 50 l S", b"10 10 m S", b"10 10 m f", b"S", b"10 20 30 40 re n"]
)
def test_what_paints_nothing_is_no_mark(content: bytes) -> None:
    assert marks(content) == ()


@pytest.mark.skipif(shutil.which("gs") is None, reason="Ghostscript is missing")
@pytest.mark.parametrize(
    "content",
    [
        b"12 w 60 60 m 100 200 l 220 90 l S",
        b"12 w 1 j 1 J 60 60 m 100 200 l 220 90 l S",
        b"12 w 2 j 2 J 60 60 m 100 200 l 220 90 l S",
        b"1 0.4 -0.3 0.8 60 10 cm 14 w 40 60 100 120 re S",
        b"8 w 60 60 m 60 160 200 260 220 90 c S",
        b"0.9 0.4 -0.4 0.9 90 10 cm 60 60 m 60 160 160 260 160 90 c f",
        b"2 0 0 0.5 0 0 cm 20 w 40 100 m 100 400 l 120 200 l s",
        # A curve that turns back just before its end, which has no cap to reach further.
        b"30 w 24.75 202.5 m 49.5 216 132.66 143.63 198 143.64 c S",
        b"0 1 -1 0 260 20 cm 30 w 24.75 202.5 m 49.5 216 132.66 143.63 198 143.64 c S",
        b"30 w 20 100 m 90 100 90 20 160 20 c S",
    ],
)
def test_boxes_are_those_of_ghostscript(tmp_path: Path, content: bytes) -> None:
    drawn = Drawn()
    box = only(drawn.read(content)).box
    drawn.pdf.save(tmp_path / "drawn.pdf")
    command = ["gs", "-q", "-dNOPAUSE", "-dBATCH", "-sDEVICE=bbox", "-r720", str(tmp_path / "drawn.pdf")]
    done = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60)
    line = next(line for line in done.stderr.splitlines() if line.startswith("%%HiResBoundingBox:"))
    wanted = tuple(float(word) for word in line.split()[1:])
    # 720 ppi: whole pixels of a tenth of a point, on either side.
    assert corners(box) == pytest.approx(wanted, abs=0.21)


@pytest.mark.parametrize(
    ("path", "width"),
    [
        (b"10 10 m 20 10 l", 1.5),  # along the axis that is stretched, it has the other's thickness
        (b"10 10 m 10 20 l", 12),
        (b"10 10 m 20 20 l", 3 * 2 * math.hypot(10, 10) / math.hypot(40, 5)),  # its area over its length
        (b"10 10 20 20 re", 1.5),  # the narrowest side counts
        (b"10 10 m 10 20 20 20 20 10 c", 1.5),  # the top of the arch
        (b"10 10 m 10 20 l 10 10 l h", 12),
    ],
)
def test_a_line_is_as_wide_as_its_direction_makes_it(path: bytes, width: float) -> None:
    [mark] = marks(b"4 0 0 0.5 0 0 cm 3 w " + path + b" S")
    assert mark.line_width_pt == pytest.approx(width)


def test_what_is_only_filled_has_no_line_width() -> None:
    [filled] = marks(b"10 10 20 20 re f")
    assert filled.line_width_pt is None


def test_each_painting_operator_fills_or_strokes() -> None:
    for operator in (b"f", b"F", b"f*"):
        [mark] = marks(b"1 0 0 rg 0 1 0 RG 10 10 20 20 re " + operator)
        assert (mark.fill is not None, mark.stroke is not None) == (True, False)
    for operator in (b"S", b"s"):
        [mark] = marks(b"10 10 20 20 re " + operator)
        assert (mark.fill is not None, mark.stroke is not None) == (False, True)
    for operator in (b"B", b"B*", b"b", b"b*"):
        [mark] = marks(b"10 10 20 20 re " + operator)
        assert (mark.fill is not None, mark.stroke is not None) == (True, True)
        assert corners(mark.box) == (9.5, 9.5, 30.5, 30.5)


def test_a_clip_cuts_what_is_visible_and_not_the_box() -> None:
    [mark] = marks(b"50 50 100 100 re W n 0 0 300 80 re f")
    assert corners(mark.box) == (0, 0, 300, 80)
    assert corners(mark.visible) == (50, 50, 150, 80)


def test_a_clip_counts_from_after_its_path_is_painted() -> None:
    [first, second] = marks(b"50 50 100 100 re W f 0 0 300 80 re f")
    assert corners(first.visible) == (50, 50, 150, 150)
    assert corners(second.visible) == (50, 50, 150, 80)


def test_clips_narrow_one_another_until_restored() -> None:
    [inner, outer] = marks(b"q 0 0 100 100 re W n 50 50 100 100 re W* n 0 0 300 300 re f Q 0 0 300 300 re f")
    assert corners(inner.visible) == (50, 50, 100, 100)
    assert corners(outer.visible) == (0, 0, 300, 300)


def test_nothing_is_visible_where_clips_leave_nothing() -> None:
    [mark] = marks(b"0 0 10 10 re W n 50 50 10 10 re W n 0 0 300 300 re f")
    assert mark.visible is None
    assert not mark.on_paper


def test_a_clip_that_only_shares_an_edge_shows_nothing() -> None:
    [mark] = marks(b"0 0 100 100 re W n 100 0 50 50 re f")
    assert mark.visible is None


def test_the_media_box_cuts_what_is_visible() -> None:
    [mark] = marks(b"-50 -50 100 100 re f")
    assert corners(mark.visible) == (0, 0, 50, 50)
    [beyond] = marks(b"400 10 20 20 re f")
    assert beyond.visible is None


@pytest.mark.parametrize(
    ("content", "white"),
    [
        (b"1 g 10 10 20 20 re f", True),
        (b"0 0 0 0 k 10 10 20 20 re f", True),
        (b"1 1 1 rg 10 10 20 20 re f", True),
        (b"1 g 10 10 20 20 re B", False),
        (b"1 g 1 G 10 10 20 20 re B", True),
        (b"0.9 g 10 10 20 20 re f", False),
    ],
)
def test_white_is_no_paint(content: bytes, white: bool) -> None:  # noqa: FBT001 - a column of the table
    [mark] = marks(content)
    assert mark.white is white


@pytest.mark.parametrize("entries", [{"op": True}, {"ca": 0.5}, {"BM": Name.Multiply}])
def test_white_that_does_not_simply_knock_out_is_paint(entries: dict[str, object]) -> None:
    drawn = Drawn().resource("ExtGState", "G", Dictionary({f"/{k}": v for k, v in entries.items()}))
    assert not only(drawn.read(b"/G gs 0 0 0 0 k 10 10 20 20 re f")).white


def test_a_line_from_nowhere_is_left_out_and_told() -> None:
    page = read(b"10 10 l 20 20 l S 10 10 20 20 re f")
    assert len(page.marks) == 1
    assert kinds(page) == [ProblemKind.DAMAGED]


def test_the_boxes_of_subpaths_are_kept_where_there_are_some() -> None:
    squares = b" ".join(b"%d 0 1 1 re" % x for x in range(0, 20, 4))
    [mark] = marks(squares + b" f")
    assert [(piece.x0, piece.x1) for piece in mark.pieces] == [(x, x + 1) for x in range(0, 20, 4)]
    [mark] = marks(b"0 0 1 1 re f")
    assert mark.pieces == ()


def test_the_sides_of_a_path_are_counted() -> None:
    found = marks(
        b"0 0 1 1 re f 0 0 m 5 0 l 0 5 l h f 0 0 m 5 0 l 0 5 l 0 0 l h f 0 0 m 5 0 l 0 5 l f "
        b"0 0 m 1 1 2 2 5 0 c 3 3 0 0 v h f 0 0 1 1 re 3 0 m 5 0 l 3 5 l h f"
    )
    assert [mark.sides for mark in found] == [4, 3, 3, 3, 2, 7]
