# Type 3 fonts: glyphs are content streams that may bring colours and images of their own.

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.model.colour import ColourKind
from hotfolder.model.facts import ProblemKind
from hotfolder.model.marks import MarkKind, Masking
from hotfolder.pdf.content import ledger as ledger_module
from tests.pdf.drawn_page import Drawn, corners, kinds, only


def _font(drawn: Drawn, **glyphs: bytes) -> Dictionary:
    """A font with an em of one unit of glyph space, each glyph half an em wide; `a` is the first one."""
    procedures = Dictionary()
    for name, content in glyphs.items():
        procedures[f"/{name}"] = drawn.stream(content)
    font = Dictionary(
        Type=Name.Font,
        Subtype=Name.Type3,
        FontBBox=Array([0, 0, 1, 1]),
        FontMatrix=Array([1, 0, 0, 1, 0, 0]),
        CharProcs=procedures,
        FirstChar=97,
        LastChar=96 + len(glyphs),
        Widths=Array([0.5] * len(glyphs)),
        Encoding=Dictionary(Differences=Array([97, *(Name(f"/{name}") for name in glyphs)])),
        Resources=Dictionary(),
    )
    drawn.resource("Font", "F", font)
    return font


_SHOW = b"BT /F 20 Tf 50 60 Td (aab) Tj ET"


def test_a_run_is_one_mark_whatever_its_glyphs_draw() -> None:
    drawn = Drawn()
    _font(drawn, a=b"0.5 0 0 0 1 1 d1 0 0 0.5 0.5 re f", b=b"0.5 0 0 0 1 1 d1 0 0 0.2 0.2 re f")
    mark = only(drawn.read(b"1 0 0 0 k " + _SHOW))
    assert mark.kind is MarkKind.TEXT
    assert corners(mark.box) == (50, 60, 80, 80)
    assert mark.fill is not None
    assert mark.fill.space.kind is ColourKind.CMYK


def test_coloured_glyphs_add_their_marks_once_a_run() -> None:
    drawn = Drawn()
    _font(drawn, a=b"0.5 0 d0 1 0 0 rg 0 0 0.5 0.5 re f", b=b"0.5 0 d0 0 1 0 rg 0 0 0.2 0.2 re f")
    run, first, second = drawn.read(_SHOW).marks
    assert [mark.fill and mark.fill.components for mark in (first, second)] == [(1, 0, 0), (0, 1, 0)]
    assert corners(first.box) == (50, 60, 60, 70)
    assert corners(second.box) == (70, 60, 74, 64)
    assert first.source.object != run.source.object


def test_colours_do_not_count_in_a_glyph_that_is_a_shape() -> None:
    drawn = Drawn()
    bitmap = (
        b"0.5 0 0 0 1 1 d1 1 0 0 rg 0.4 0 0 0.2 0 0 cm BI /W 20 /H 10 /IM true ID " + b"\xaa" * 30 + b" EI"
    )
    _font(drawn, a=bitmap, b=bitmap)
    page = drawn.read(b"0 1 0 0 k " + _SHOW + _SHOW)
    images = [mark for mark in page.marks if mark.image is not None]
    assert len(images) == 2
    assert images[0].image is not None
    assert images[0].image.masking is Masking.STENCIL
    assert images[0].image.x_ppi == pytest.approx(20 * 72 / 8)
    assert images[0].fill is not None
    assert images[0].fill.components == (0, 1, 0, 0)


def test_a_glyph_that_shows_itself_comes_to_an_end() -> None:
    drawn = Drawn()
    font = _font(drawn, a=b"0.5 0 d0 BT /F 1 Tf (a) Tj ET")
    font.Resources = Dictionary(Font=Dictionary(F=font))
    drawn.resource("Font", "F", drawn.pdf.make_indirect(font))
    inner = drawn.page.obj.Resources.Font.F
    inner.Resources = Dictionary(Font=Dictionary(F=inner))
    page = drawn.read(b"BT /F 20 Tf (a) Tj ET")
    assert kinds(page) == [ProblemKind.DAMAGED]


def test_an_invisible_run_shows_no_glyphs() -> None:
    drawn = Drawn()
    _font(drawn, a=b"0.5 0 d0 1 0 0 rg 0 0 0.5 0.5 re f")
    mark = only(drawn.read(b"3 Tr BT /F 20 Tf (a) Tj ET"))
    assert not mark.printed


def test_missing_procedures_are_borne() -> None:
    drawn = Drawn()
    font = _font(drawn, a=b"0.5 0 d0")
    font.CharProcs = Dictionary(a=pikepdf.String("junk"))
    drawn.resource("Font", "F", font)
    assert only(drawn.read(b"BT /F 20 Tf (a) Tj ET")).kind is MarkKind.TEXT


def test_what_is_read_to_measure_a_glyph_counts_for_the_page_with_all_that_it_draws(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    drawn = Drawn()
    _font(drawn, a=b"0.5 0 d0 /X Do")
    form = drawn.form(b"0 0 0.5 0.5 re f " * 50)
    drawn.page.obj.Resources.Font.F.Resources = Dictionary(XObject=Dictionary(X=form))
    assert drawn.read(b"BT /F 20 Tf (a) Tj ET").operators >= 2 * 100
    monkeypatch.setattr(ledger_module, "OPERATORS_PER_PAGE", 50)
    page = drawn.read(b"BT /F 20 Tf (a) Tj ET")
    assert [each.what for each in page.problems] == ["reading stopped after 50 drawing instructions"]
