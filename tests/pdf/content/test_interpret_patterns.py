# Tiling patterns: what their cells paint lies all over the painted area.

import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.model.colour import ColourKind
from hotfolder.model.facts import ProblemKind
from hotfolder.model.marks import MarkKind
from tests.pdf.drawn_page import Drawn, corners, kinds, only

_SPOT = Array([Name.Separation, Name.Moss, Name.DeviceCMYK, Dictionary(FunctionType=2)])


def _tiling(drawn: Drawn, content: bytes, paint_type: int = 1, **entries: object) -> None:
    entries.setdefault("BBox", Array([0, 0, 10, 10]))
    entries.setdefault("Resources", Dictionary())
    pattern = drawn.stream(
        content,
        Type=Name.Pattern,
        PatternType=1,
        PaintType=paint_type,
        TilingType=1,
        XStep=10,
        YStep=10,
        **entries,
    )
    drawn.resource("Pattern", "P", pattern)


def test_a_cells_marks_lie_where_the_area_is_painted() -> None:
    drawn = Drawn()
    _tiling(drawn, b"0 1 0 0 k 0 0 5 5 re f 1 0 0 0 k 5 5 5 5 re f")
    page = drawn.read(b"0 0 100 100 re W n /Pattern cs /P scn 50 50 200 200 re f")
    area, *cells = page.marks
    assert area.fill is not None
    assert area.fill.space.kind is ColourKind.PATTERN
    assert [cell.fill and cell.fill.components for cell in cells] == [(0, 1, 0, 0), (1, 0, 0, 0)]
    assert [corners(cell.visible) for cell in cells] == [(50, 50, 100, 100)] * 2


def test_a_pattern_without_a_box_paints_nothing_and_is_told() -> None:
    """BBox is required (ISO 32000-2, table 74); poppler, Ghostscript and pdfium paint nothing without it."""
    drawn = Drawn()
    _tiling(drawn, b"0 1 0 0 k 0 0 5 5 re f", BBox=5)
    page = drawn.read(b"/Pattern cs /P scn 50 50 200 200 re f")
    assert len(page.marks) == 1
    assert kinds(page) == [ProblemKind.DAMAGED]


def test_marks_that_differ_by_their_place_alone_are_told_once() -> None:
    drawn = Drawn()
    _tiling(drawn, b"0 0 1 1 re f 3 3 1 1 re f 6 6 1 1 re f 50 50 1 1 re f 0 G 0 0 m 5 5 l S")
    page = drawn.read(b"/Pattern cs /P scn 50 50 200 200 re f")
    assert [mark.kind for mark in page.marks] == [MarkKind.PATH] * 3


def test_the_pattern_matrix_builds_on_the_page_not_on_the_current_matrix() -> None:
    # ISO 32000-2, 8.7.3.1: the parent content stream's initial matrix.
    drawn = Drawn()
    image = drawn.image(100, 100)
    _tiling(
        drawn,
        b"q 36 0 0 72 0 0 cm /I Do Q",
        BBox=Array([0, 0, 100, 100]),
        Matrix=Array([2, 0, 0, 2, 0, 0]),
        Resources=Dictionary(XObject=Dictionary(I=image)),
    )
    page = drawn.read(b"5 0 0 5 0 0 cm /Pattern cs /P scn 5 5 20 20 re f", user_unit=2.0)
    facts = only(page, MarkKind.IMAGE).image
    assert facts is not None
    assert (facts.x_ppi, facts.y_ppi) == pytest.approx((50, 25))


def test_a_pattern_used_in_a_form_builds_on_the_form() -> None:
    drawn = Drawn()
    image = drawn.image(100, 100)
    _tiling(
        drawn,
        b"72 0 0 72 0 0 cm /I Do",
        BBox=Array([0, 0, 100, 100]),
        Resources=Dictionary(XObject=Dictionary(I=image)),
    )
    content = b"7 0 0 7 0 0 cm /Pattern cs /P scn 5 5 20 20 re f"
    drawn.resource("XObject", "F", drawn.form(content, Matrix=Array([2, 0, 0, 2, 0, 0])))
    facts = only(drawn.read(b"/F Do"), MarkKind.IMAGE).image
    assert facts is not None
    assert facts.x_ppi == pytest.approx(50)


def test_an_uncoloured_pattern_is_painted_in_the_colour_given() -> None:
    drawn = Drawn().resource("ColorSpace", "PS", Array([Name.Pattern, _SPOT]))
    _tiling(drawn, b"1 0 0 rg 0 0 5 5 re f", paint_type=2)
    area, cell = drawn.read(b"/PS cs 0.5 /P scn 50 50 20 20 re f").marks
    assert area.fill is not None
    assert cell.fill is not None
    assert (cell.fill.space.inks, cell.fill.components) == (("Moss",), (0.5,))


def test_strokes_and_text_are_painted_with_patterns_too() -> None:
    drawn = Drawn()
    _tiling(drawn, b"0 1 0 0 k 0 0 5 5 re f")
    stroked = drawn.read(b"/Pattern CS /P SCN 10 w 50 50 m 90 50 l S").marks
    assert [mark.fill and mark.fill.space.kind for mark in stroked] == [None, ColourKind.CMYK]
    assert corners(stroked[1].box) == (50, 45, 90, 55)


def test_a_cell_is_read_once_however_often_it_is_used() -> None:
    drawn = Drawn()
    _tiling(drawn, b"0 1 0 0 k 0 0 5 5 re f zz")
    page = drawn.read(b"/Pattern cs /P scn " + b"50 50 20 20 re f " * 10)
    assert len(page.marks) == 20
    assert not page.problems[0].what.endswith("times)")


def test_a_cell_that_is_painted_with_itself_comes_to_an_end() -> None:
    drawn = Drawn()
    _tiling(drawn, b"/Pattern cs /P scn 0 0 5 5 re f")
    pattern = drawn.page.obj.Resources.Pattern.P
    pattern.Resources = Dictionary(Pattern=Dictionary(P=pattern))
    page = drawn.read(b"/Pattern cs /P scn 50 50 20 20 re f")
    assert len(page.marks) == 2
    assert kinds(page) == [ProblemKind.DAMAGED]


def test_opacity_around_reaches_the_cell() -> None:
    drawn = Drawn().resource("ExtGState", "G", Dictionary(ca=0.5, op=True, OP=False))
    _tiling(drawn, b"0 1 0 0 k 0 0 5 5 re f")
    cell = drawn.read(b"/G gs /Pattern cs /P scn 50 50 20 20 re f").marks[1]
    assert (cell.state.fill_opacity, cell.state.overprint_fill) == (0.5, True)


def test_a_missing_pattern_is_told() -> None:
    page = Drawn().read(b"/Pattern cs /Nope scn 50 50 20 20 re f")
    assert len(page.marks) == 1
    assert kinds(page) == [ProblemKind.DAMAGED]


def test_a_stroked_pattern_has_the_opacity_of_strokes() -> None:
    drawn = Drawn().resource("ExtGState", "G", Dictionary(ca=0.5, CA=0.25))
    _tiling(drawn, b"0 1 0 0 k 0 0 5 5 re f")
    cell = drawn.read(b"/G gs /Pattern CS /P SCN 10 w 50 50 m 90 50 l S").marks[1]
    assert cell.state.fill_opacity == 0.25
