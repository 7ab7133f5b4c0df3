# Covered marks: what hides a mark beneath, what does not, and that pictures agree.

import io
from collections.abc import Callable

import pikepdf
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pikepdf import Array, Dictionary, Name, String

from hotfolder.measure.pdf import covering
from hotfolder.measure.pdf.covering import mark_covered
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind, Source
from tests.pdf.drawn_page import Drawn, helvetica

_UNDER = b"1 0 0 rg 20 20 40 40 re f "
_PLACE = b"10 10 60 60 re "
_GREEN = b"0 1 0 0 k "


def _page() -> Drawn:
    """A page with one of each thing that could cover or fail to."""
    drawn = Drawn()
    grey = {"ColorSpace": Name.DeviceGray}
    drawn.resource("XObject", "Photo", drawn.image(1, 1, b"\0\0\0"))
    drawn.resource("XObject", "Empty", drawn.image(1, 1, b""))
    drawn.resource("XObject", "Soft", drawn.image(1, 1, b"\0\0\0", SMask=drawn.image(1, 1, b"\xff", **grey)))
    drawn.resource("XObject", "Keyed", drawn.image(1, 1, b"\0\0\0", Mask=Array([9, 9, 9, 9, 9, 9])))
    drawn.resource("XObject", "Stencil", drawn.image(1, 1, b"\0", ImageMask=True, BitsPerComponent=1))
    box = {"BBox": Array([10, 10, 70, 70])}
    drawn.resource("XObject", "Form", drawn.form(_GREEN + b"0 0 99 99 re f", **box))
    isolated = Dictionary(S=Name.Transparency, I=True)
    drawn.resource("XObject", "Group", drawn.form(_GREEN + b"0 0 99 99 re f", Group=isolated, **box))
    knockout = Dictionary(S=Name.Transparency, K=True)
    drawn.resource("XObject", "Knockout", drawn.form(_GREEN + b"0 0 99 99 re f", Group=knockout, **box))
    parameters: dict[str, dict[str, object]] = {
        "Half": {"ca": 0.5},
        "HalfLine": {"CA": 0.5},
        "Multiply": {"BM": Name.Multiply},
        "Over": {"op": True},
        "OverLine": {"OP": True, "op": False},
        "Masked": {"SMask": Dictionary(S=Name.Alpha, G=drawn.form(b""))},
    }
    for key, entries in parameters.items():
        drawn.resource("ExtGState", key, Dictionary({f"/{each}": value for each, value in entries.items()}))
    ramp = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([0, 0, 0]), C1=Array([1, 1, 1]), N=1)
    axial = Dictionary(ShadingType=2, ColorSpace=Name.DeviceRGB, Coords=Array([0, 0, 9, 0]), Function=ramp)
    endless = Dictionary(
        ShadingType=2, ColorSpace=Name.DeviceRGB, Coords=Array([0, 0, 9, 0]), Function=ramp,
        Extend=Array([True, True]),
    )  # fmt: skip
    drawn.resource("Shading", "Ends", axial).resource("Shading", "Endless", endless)
    drawn.resource("Pattern", "Ends", Dictionary(PatternType=2, Shading=axial))
    drawn.resource("Pattern", "Endless", Dictionary(PatternType=2, Shading=endless))
    tiling = {"PatternType": 1, "PaintType": 1, "TilingType": 1, "XStep": 5, "YStep": 5}
    cell = drawn.stream(_GREEN + b"0 0 4 4 re f", BBox=Array([0, 0, 5, 5]), Resources=Dictionary(), **tiling)
    drawn.resource("Pattern", "Tiling", cell)
    for key, ink in {"Spot": Name.Moss, "None": Name("/None"), "All": Name.All}.items():
        tint = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([1]), C1=Array([0]), N=1)
        drawn.resource("ColorSpace", key, Array([Name.Separation, ink, Name.DeviceGray, tint]))
    off = drawn.pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String("Notes")))
    drawn.pdf.Root.OCProperties = Dictionary(OCGs=Array([off]), D=Dictionary(OFF=Array([off])))
    drawn.resource("Properties", "Notes", off)
    drawn.resource("Font", "F", helvetica())
    return drawn


def _marks(content: bytes) -> tuple[Mark, ...]:
    return mark_covered(_page().read(content).marks)


@pytest.mark.parametrize(
    "cover",
    [
        _GREEN + _PLACE + b"f",
        _GREEN + _PLACE + b"f*",
        _GREEN + _PLACE + b"B",
        b"0 0 0 0 k " + _PLACE + b"f",  # paper white knocks out
        _GREEN + b"10 10 m 70 10 l 70 70 l 10 70 l f",
        _GREEN + b"10 10 m 10 70 l 70 70 l 70 10 l 10 10 l h f",
        _GREEN + b"0 1 -1 0 80 0 cm 10 10 60 60 re f",  # a quarter turn
        _GREEN + b"q 15 15 50 50 re W n 0 0 200 200 re f Q",
        b"q 60 0 0 60 10 10 cm /Photo Do Q",
        b"q 0 60 60 0 10 10 cm /Photo Do Q",
        b"q 60 0 0 60 10 10 cm BI /W 1 /H 1 /BPC 8 /CS /G ID x EI Q",
        b"/Form Do",
        # The third time it is told from what was kept of it.
        b"q 1 0 0 1 100 100 cm /Form Do 1 0 0 1 100 0 cm /Form Do Q /Form Do",
        b"/Group Do",
        b"/OverLine gs /HalfLine gs " + _GREEN + _PLACE + b"f",
        b"q 10 10 60 60 re W n /Endless sh Q",
        b"/Pattern cs /Endless scn " + _PLACE + b"f",
        b"/Spot cs 1 scn " + _PLACE + b"f",
        b"/All cs 1 scn " + _PLACE + b"f",
        # Tiles, in rows and in columns.
        _GREEN + b"10 10 30 60 re f 40 10 30 60 re f",
        b"q 20 0 0 60 10 10 cm /Photo Do 1 0 0 1 1 0 cm /Photo Do 1 0 0 1 1 0 cm /Photo Do Q",
        _GREEN + b"10 40 30 30 re f 40 40 30 30 re f 10 10 30 30 re f 40 10 30 30 re f",
    ],
)
def test_an_opaque_area_hides_what_it_is_painted_over(cover: bytes) -> None:
    under, *rest = _marks(_UNDER + cover)
    assert under.covered
    assert (under.on_paper, under.shows) == (True, False)
    assert all(mark.shows for mark in rest)


@pytest.mark.parametrize(
    "no_cover",
    [
        _GREEN + b"21 10 60 60 re f",  # a point too far to the right
        b"/Half gs " + _GREEN + _PLACE + b"f",
        b"/HalfLine gs " + _GREEN + _PLACE + b"B",
        b"/Multiply gs " + _GREEN + _PLACE + b"f",
        b"/Masked gs " + _GREEN + _PLACE + b"f",
        b"/Over gs " + _GREEN + _PLACE + b"f",
        b"/Half gs /Group Do",
        b"/Knockout Do",
        b"/OC /Notes BDC " + _GREEN + _PLACE + b"f EMC",
        _GREEN + _PLACE + b"S",
        _GREEN + b"0 0 m 200 0 l 0 200 l f",
        _GREEN + b"-100 0 m 0 200 150 200 200 0 c f",
        _GREEN + b"0.7 0.7 -0.7 0.7 40 -40 cm 0 0 200 200 re f",
        _GREEN + b"10 10 60 60 re 30 30 10 10 re f*",
        _GREEN + b"q 10 10 m 70 10 l 70 70 l h W n 0 0 200 200 re f Q",
        _GREEN + b"q 30 30 10 10 re W n 0 0 200 200 re f Q",
        _GREEN + b"BT /F 200 Tf 7 Tr (MMM) Tj ET 0 0 300 400 re f",
        b"q 60 0 0 60 10 10 cm /Soft Do Q",
        b"q 60 0 0 60 10 10 cm /Keyed Do Q",
        b"q 60 0 0 60 10 10 cm /Stencil Do Q",
        b"q 60 0 0 60 10 10 cm /Empty Do Q",
        b"q 60 20 -20 60 10 10 cm /Photo Do Q",
        b"q 10 10 60 60 re W n /Ends sh Q",
        b"/Pattern cs /Ends scn " + _PLACE + b"f",
        b"/Pattern cs /Tiling scn " + _PLACE + b"f",
        b"/None cs 1 scn " + _PLACE + b"f",
        # Two that hide it only together, and leave a notch where they meet.
        _GREEN + b"10 10 30 60 re f 40 11 30 59 re f",
        # Tiles with a gap between them that can be seen.
        _GREEN + b"10 10 30 60 re f 40.1 10 30 60 re f",
    ],
)
def test_what_lets_through_hides_nothing(no_cover: bytes) -> None:
    under = _marks(_UNDER + no_cover)[0]
    assert (under.covered, under.shows) == (False, True)


def test_what_comes_first_hides_nothing() -> None:
    [cover, over] = _marks(_GREEN + _PLACE + b"f " + _UNDER)
    assert (cover.shows, over.shows) == (True, True)


def test_only_what_is_left_of_a_mark_has_to_be_hidden() -> None:
    [clipped, _] = _marks(b"q 20 20 40 40 re W n 0 0 300 300 re f Q " + _GREEN + _PLACE + b"f")
    assert clipped.covered


def test_what_is_not_on_paper_is_not_covered_either() -> None:
    [hidden, _] = _marks(b"/OC /Notes BDC " + _UNDER + b"EMC " + _GREEN + _PLACE + b"f")
    assert (hidden.on_paper, hidden.covered, hidden.shows) == (False, False, False)


def test_an_appearance_that_prints_covers_and_one_that_does_not_print_does_not() -> None:
    drawn = _page()
    drawn.page.obj.Contents = drawn.pdf.make_stream(_UNDER)
    patch = drawn.form(_GREEN + b"0 0 60 60 re f", BBox=Array([0, 0, 60, 60]))
    note = Dictionary(Subtype=Name.Square, Rect=Array([10, 10, 70, 70]), AP=Dictionary(N=patch), F=4)
    drawn.page.obj.Annots = Array([note])
    assert mark_covered(drawn.read_as_is().marks)[0].covered
    note.F = 0
    assert not mark_covered(drawn.read_as_is().marks)[0].covered


def test_a_line_as_thin_as_the_device_draws_sticks_out_of_its_box() -> None:
    assert not _marks(b"0 w 10 10 m 70 10 l S " + _GREEN + _PLACE + b"f")[0].covered
    assert _marks(b"0 w 10 11 m 70 11 l S " + _GREEN + b"9 10 62 60 re f")[0].covered


def test_letters_of_unknown_outline_have_to_be_hidden_with_room_to_spare() -> None:
    text = b"BT /F 10 Tf 30 30 Td (Hamburg) Tj ET "
    assert _marks(text + _GREEN + b"20 20 70 30 re f")[0].covered
    [mark, _] = _marks(text + _GREEN + b"30 20 70 30 re f")
    assert mark.box.x0 == 30
    assert not mark.covered


def test_what_a_glyph_is_told_of_for_all_its_places_is_never_covered() -> None:
    drawn = _page()
    dot = drawn.image(9, 9, b"\0" * 18, ImageMask=True, BitsPerComponent=1)
    glyph = drawn.stream(b"10 0 0 0 10 10 d1 q 10 0 0 10 0 0 cm /Dot Do Q")
    font = Dictionary(
        Type=Name.Font, Subtype=Name.Type3, FontBBox=Array([0, 0, 10, 10]), FirstChar=97, LastChar=97,
        FontMatrix=Array([0.1, 0, 0, 0.1, 0, 0]), Widths=Array([10]), CharProcs=Dictionary(a=glyph),
        Encoding=Dictionary(Differences=Array([97, Name.a])),
        Resources=Dictionary(XObject=Dictionary(Dot=dot)),
    )  # fmt: skip
    drawn.resource("Font", "T", font)
    shown = b"BT /T 20 Tf 20 20 Td (a) Tj 200 0 Td (a) Tj ET " + _GREEN + b"10 10 50 50 re f"
    marks = mark_covered(drawn.read(shown).marks)
    pictures = [mark for mark in marks if mark.kind is MarkKind.IMAGE]
    assert [(mark.repeated, mark.covered) for mark in pictures] == [(True, False)]
    assert [mark.covered for mark in marks if mark.kind is MarkKind.TEXT] == [True, False]


def test_beyond_the_limit_marks_count_as_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    # Areas at one place that do not hide one another, and a last one to hide what the others do not.
    crossing = b"".join(b"%d %d %d %d re f " % (5 + n, 5, 60, 60 + n) for n in range(10, 0, -1))
    content = _UNDER + _GREEN + crossing
    assert _marks(content)[0].covered
    monkeypatch.setattr(covering, "COVERS_AT_A_PLACE", 0)
    assert not _marks(content)[0].covered


_INSIDE = st.integers(0, 12)
_RECTANGLES = st.tuples(_INSIDE, _INSIDE, st.integers(1, 12), st.integers(1, 12), st.booleans())


@settings(max_examples=200, deadline=None)
@given(st.lists(_RECTANGLES, min_size=2, max_size=40))
def test_each_pair_of_areas_is_told_as_comparing_them_all_tells(
    rectangles: list[tuple[int, int, int, int, bool]],
) -> None:
    marks = []
    for x, y, width, height, hides in rectangles:
        # Far from another in size, so that several grids are in use.
        box = Box(x, y, x + 2.1**width, y + 1.7**height)
        marks.append(Mark(MarkKind.PATH, box, box, Source("f"), solid=box if hides else None))
    found = mark_covered(marks)
    for order, mark in enumerate(found):
        alone = any(later.solid and later.solid.holds(mark.box, 0.006) for later in marks[order + 1 :])
        # Areas that make one together may hide more; the picture below is the judge of that.
        assert mark.covered or not alone


_COLOURS = st.sampled_from([b"0 g", b"1 0 0 rg", b"0 1 0 rg", b"0 0 1 rg", b"1 g"])
_PAINTERS = st.sampled_from([b"f", b"f*", b"B", b"S", b"W n 2 2 12 12 re f"])
_THINGS = st.builds(
    lambda colour, x, y, width, height, painter, half: b"q %s%s %d %d %d %d re %s Q\n"
    % (b"/Half gs " if half else b"", colour, x, y, width, height, painter),
    _COLOURS, _INSIDE, _INSIDE, st.integers(1, 12), st.integers(1, 12), _PAINTERS, st.booleans(),
)  # fmt: skip


@settings(max_examples=120, deadline=None)
@given(st.lists(_THINGS, min_size=2, max_size=25))
def test_a_page_looks_the_same_without_its_covered_marks(things: list[bytes]) -> None:
    # Outside judge: what pdfium draws. Coordinates are whole pixels, so that edges are not blended.
    marks = mark_covered(_page().read(b"".join(things)).marks)
    assert len(marks) == len(things)
    left = [thing for thing, mark in zip(things, marks, strict=True) if not mark.covered]
    assert _picture(b"".join(things)) == _picture(b"".join(left))


def _picture(content: bytes) -> bytes:
    drawn = _page()
    drawn.page.obj.MediaBox = Array([0, 0, 30, 30])
    drawn.page.obj.Contents = drawn.pdf.make_stream(content)
    file = io.BytesIO()
    drawn.pdf.save(file)
    with pypdfium2.PdfDocument(file.getvalue()) as document:
        return bytes(document[0].render(scale=1).to_pil().tobytes())


@pytest.mark.parametrize("turn", [lambda box: box, lambda box: Box(box.y0, box.x0, box.y1, box.x1)])
def test_tiles_of_a_picture_hide_together_in_both_directions(turn: Callable[[Box], Box]) -> None:
    tiles = [turn(Box(column * 8.0, row * 5.0, column * 8.0 + 8, row * 5.0 + 5)) for row in range(9)
             for column in range(7)]  # fmt: skip
    under = Mark(MarkKind.IMAGE, box := turn(Box(3, 3, 50, 40)), box, Source("Do"))
    marks = [under, *(Mark(MarkKind.IMAGE, tile, tile, Source("Do"), solid=tile) for tile in tiles)]
    assert [mark.covered for mark in mark_covered(marks)].index(False) == 1
    marks[30:31] = []  # one is missing
    assert not mark_covered(marks)[0].covered


def test_a_page_without_areas_that_hide_is_left_as_it_is() -> None:
    with pikepdf.new() as pdf:
        assert mark_covered(Drawn(pdf).read(b"10 10 m 20 20 l S").marks)[0].covered is False
