# Forms that are drawn again: what is kept of them tells the same as reading them anew.

from dataclasses import replace

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pikepdf import Array, Dictionary, Name

from hotfolder.model.facts import ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark
from hotfolder.pdf.content import ledger as ledger_module
from hotfolder.pdf.content.interpret import PageMarks
from hotfolder.pdf.content.operators import forms as forms_module
from tests.pdf.drawn_page import Drawn, helvetica, kinds

_SYMBOL = b"""0.5 w 0 0 m 10 5 l 5 10 l s 1 1 3 3 re f 0 2 m 5 9 8 1 9 4 c B 1 0 0 rg 0 0 8 8 re f
q 2 2 20 20 re W n 0 0 1 rg 0 0 9 9 re f Q
BT /F 6 Tf 1 1 Td (Ab) Tj 1 Tr (c) Tj ET q 5 0 0 5 1 1 cm /I Do Q /G gs 3 3 4 4 re f q 0 0 5 5 re W n /S sh Q
q 0.5 0 0 0.5 4 4 cm /Inner Do Q /Inner Do /Pattern cs /P scn 0 0 3 3 re f"""


def _symbols() -> Drawn:
    """A page with a form of some of everything, `X`, and one that is a transparency group, `T`."""
    drawn = Drawn()
    ramp = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([0, 0, 0]), C1=Array([1, 1, 1]), N=1)
    axial = Dictionary(ShadingType=2, ColorSpace=Name.DeviceRGB, Coords=Array([0, 0, 3, 0]), Function=ramp)
    inner = drawn.form(b"0 1 0 0 k 0 0 4 4 re f 0 0 m 9 9 l S", BBox=Array([0, 0, 6, 6]))
    resources = Dictionary(
        Font=Dictionary(F=helvetica()), ExtGState=Dictionary(G=Dictionary(ca=0.5)),
        XObject=Dictionary(I=drawn.image(10, 10, b"\0" * 300), Inner=inner), Shading=Dictionary(S=axial),
        Pattern=Dictionary(P=Dictionary(PatternType=2, Shading=axial)),
    )  # fmt: skip
    entries = {"BBox": Array([-1, -1, 12, 12]), "Resources": resources}
    drawn.resource("XObject", "X", drawn.form(_SYMBOL, **entries))
    group = Dictionary(S=Name.Transparency)
    drawn.resource("XObject", "T", drawn.form(_SYMBOL, Group=group, **entries))
    drawn.resource("ExtGState", "Half", Dictionary(ca=0.5, BM=Name.Multiply))
    # One that can be drawn in other proportions, with one in it that is drawn twice, in two colours.
    plain = b"0 0 m 9 2 l S 1 1 4 4 re f q 0.5 0 0 2 1 1 cm /Inner Do Q 0.5 g 0 0.5 0.5 RG /Inner Do"
    plain += b" BT /F 6 Tf 1 1 Td (Ab) Tj ET q 5 0 0 5 1 1 cm /I Do Q 2 2 3 3 re B"
    resources.XObject.Inner = drawn.form(b"0 0 m 3 1 2 5 6 5 c S 1 1 2 2 re b*", BBox=Array([-1, -1, 5, 5]))
    drawn.resource("XObject", "P", drawn.form(plain, **entries))
    cell = drawn.stream(b"0 0 5 5 re f", PatternType=1, PaintType=1, TilingType=1, XStep=9, YStep=9)
    cell.BBox, cell.Resources = Array([0, 0, 9, 9]), Dictionary()
    drawn.resource("Pattern", "Cells", cell)
    return drawn


def _read_anew(drawn: Drawn, content: bytes) -> PageMarks:
    """The page, with nothing kept of any form: each is an object of its own."""
    pieces = content.split(b" Do")
    written = [pieces[0]]
    for number, piece in enumerate(pieces[1:]):
        before, key = written[-1].rsplit(b"/", 1)
        form = drawn.page.obj.Resources.XObject[f"/{key.decode()}"]
        copy = drawn.pdf.make_stream(form.read_bytes())
        for entry, value in form.items():
            if entry != "/Length":
                copy[entry] = value
        drawn.resource("XObject", f"Copy{number}", copy)
        written[-1] = before + b"/Copy%d Do" % number
        written.append(piece)
    return drawn.read(b"".join(written))


def _bare(mark: Mark) -> Mark:
    """A mark without its places, its measures and its source."""
    text, image, nowhere = mark.text, mark.image, Box(0, 0, 0, 0)
    return replace(
        mark,
        box=nowhere,
        visible=nowhere if mark.visible is not None else None,
        solid=nowhere if mark.solid is not None else None,
        text=replace(text, ink=None, visible_ink=None, size_pt=0) if text is not None else None,
        image=replace(image, x_ppi=0, y_ppi=0) if image is not None else None,
        line_width_pt=0 if mark.line_width_pt is not None else None,
        sliver_pt=0 if mark.sliver_pt is not None else None,
        source=replace(mark.source, object=None),
    )


def _measures(mark: Mark) -> list[float]:
    """The places and measures of a mark, one after the other."""
    text, image = mark.text, mark.image
    boxes = [mark.box, mark.visible, mark.solid]
    found = [mark.line_width_pt or 0.0]
    if text is not None:
        boxes += [text.ink, text.visible_ink]
        found.append(text.size_pt)
    if image is not None:
        found += [image.x_ppi, image.y_ppi]
    return found + [side for box in boxes if box is not None for side in (box.x0, box.y0, box.x1, box.y1)]


def assert_same(some: tuple[Mark, ...], others: tuple[Mark, ...]) -> None:
    assert [_bare(mark) for mark in some] == [_bare(mark) for mark in others]
    for one, other in zip(some, others, strict=True):
        assert _measures(one) == pytest.approx(_measures(other), abs=1e-6)


# Enlarged, mirrored, stretched, turned, skewed.
_LYING = (
    b"1 0 0 1", b"1 0 0 1", b"0.5 0 0 0.5", b"-1 0 0 -1", b"2 0 0 0.5", b"0.25 0 0 3", b"-1 0 0 2",
    b"0 1 -1 0", b"0 2 -3 0", b"0.8 0.6 -0.6 0.8", b"1.6 1.2 -1.2 1.6", b"1 0 0.5 1",
)  # fmt: skip
_COLOURS = (
    b"", b"", b"0 1 1 0 k ", b"0 0 0 0 k ", b"0.5 0 0 0 k ", b"0.25 g ", b"0.75 g ", b"1 g ",
    b"1 0 0 RG 3 w ", b"0 1 0 RG ", b"1 1 1 RG ", b"/Pattern cs /Cells scn ",
)  # fmt: skip
_DRAWINGS = st.lists(
    st.builds(
        lambda lying, x, y, clip, colour, half, form: b"q %s%s%s %s %d.25 %d cm /%s Do Q "
        % (b"/Half gs " if half else b"", colour, clip, lying, x, y, form),
        st.sampled_from(_LYING),
        st.integers(-5, 60), st.integers(0, 60),
        st.sampled_from(
            [b"", b"", b"20 20 40 40 re W n", b"20 20 m 60 20 l 40 60 l W n", b"900 0 1 1 re W n"]
        ),
        st.sampled_from(_COLOURS),
        st.booleans(), st.sampled_from([b"X", b"X", b"T", b"P"]),
    ),
    min_size=1, max_size=12,
)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(_DRAWINGS)
def test_a_form_drawn_again_gives_the_marks_that_it_would_give_anew(drawings: list[bytes]) -> None:
    content = b"".join(drawings)
    kept, anew = _symbols().read(content), _read_anew(_symbols(), content)
    assert_same(kept.marks, anew.marks)
    assert kept.fonts == anew.fonts
    assert kept.problems == anew.problems == ()


def test_a_form_in_ever_other_sizes_is_read_from_its_instructions_alike() -> None:
    drawings = [b"q %d.5 0 0 %d 20 20 cm /X Do Q " % (1 + size % 9, 1 + size) for size in range(20)]
    content = b"".join(drawings)
    kept, anew = _symbols().read(content), _read_anew(_symbols(), content)
    assert_same(kept.marks, anew.marks)


@pytest.mark.parametrize("form", [b"P", b"X"])
@pytest.mark.parametrize("change", [b"%d.5 0 0 %d", b"0.5 0 0 0.%d%d", b"-%d 0 0 -1.%d", b"0 %d -%d.5 0"])
def test_a_form_in_other_proportions_and_colours_gives_what_it_would_anew(form: bytes, change: bytes) -> None:
    drawings = [
        b"q 0.%d g 0 0.%d 0 RG %s 60 60 cm /%s Do Q "
        % (step, step, change % (1 + step % 4, 1 + step % 3), form)
        for step in range(1, 10)
    ]
    content = b"".join(drawings)
    kept, anew = _symbols().read(content), _read_anew(_symbols(), content)
    assert_same(kept.marks, anew.marks)


def test_a_form_takes_its_components_for_those_of_the_space_that_holds_around_it() -> None:
    """`sc` sets a colour in the space that was chosen last, which may have been outside."""
    drawn = Drawn()
    drawn.resource("XObject", "X", drawn.form(b"0 0 5 5 re f 1 sc 0 0 2 2 re f"))
    drawings = (b"0.5 g", b"0.2 g", b"/DeviceCMYK cs 1 0 0 0 sc", b"0.3 g", b"1 0 0 rg", b"0.4 g")
    page = drawn.read(b" ".join(b"q %s /X Do Q" % colour for colour in drawings))
    fills = [mark.fill.components for mark in page.marks if mark.fill is not None]
    grey = [[(value,), (1.0,)] for value in (0.5, 0.2, 0.3, 0.4)]
    assert fills == [*grey[0], *grey[1], *[(1, 0, 0, 0)] * 2, *grey[2], *[(1, 0, 0)] * 2, *grey[3]]
    assert [mark.white for mark in page.marks if mark.fill and mark.fill.components == (1.0,)] == [True] * 4


def test_knockout_groups_within_a_form_are_others_each_time_that_it_is_drawn() -> None:
    drawn = Drawn()
    knockout = Dictionary(S=Name.Transparency, K=True)
    parts = drawn.form(b"0 0 20 20 re f 5 5 10 10 re f", BBox=Array([0, 0, 50, 50]), Group=knockout)
    resources = Dictionary(XObject=Dictionary(Parts=parts))
    form = drawn.form(b"/Parts Do q 0.5 0 0 0.5 9 9 cm /Parts Do Q", Resources=resources)
    drawn.resource("XObject", "X", form)
    page = drawn.read(b"q 0.1 0 0 0.1 0 0 cm /X Do /X Do /X Do /X Do Q")
    numbers = [mark.knockout for mark in page.marks]
    assert numbers[::2] == numbers[1::2]
    assert len(set(numbers)) == 8


def test_a_font_counts_as_printed_where_its_text_is_on_paper() -> None:
    away, here = b"q 1 0 0 1 900 0 cm /X Do Q ", b"q 1 0 0 1 9 0 cm /X Do Q "
    for content, printed in (
        (away * 4, False),
        (here, True),
        (here * 4 + away, True),
        (away * 4 + here, True),
    ):
        [font] = _symbols().read(content).fonts
        assert font.printed is printed


@pytest.mark.parametrize(
    "content", [b"--5 0 10 10 re f", b"-5 0 10 10re f", b"BX unheard EX -5 0 10 10 re f"]
)
def test_a_form_with_a_broken_number_or_an_unknown_instruction_can_be_drawn_again(content: bytes) -> None:
    drawn = Drawn()
    drawn.resource("XObject", "X", drawn.form(content, BBox=Array([-20, -20, 50, 50])))
    page = drawn.read(b"q 0 0 20 20 re W n /X Do /X Do /X Do /X Do Q")
    assert page.problems == ()
    assert [mark.box for mark in page.marks] == [Box(-5, 0, 5, 10)] * 4


def test_a_form_with_trouble_in_it_tells_of_it_each_time() -> None:
    drawn = Drawn()
    drawn.resource("XObject", "X", drawn.form(b"zz 0 0 5 5 re f"))
    page = drawn.read(b"/X Do " * 5)
    assert (len(page.marks), kinds(page)) == (5, [ProblemKind.DAMAGED])
    assert page.problems[0].what.endswith("(5 times)")


def test_a_layer_around_a_form_counts_each_time_that_it_is_drawn() -> None:
    drawn = _symbols()
    off = drawn.pdf.make_indirect(Dictionary(Type=Name.OCG, Name=pikepdf.String("Notes")))
    drawn.pdf.Root.OCProperties = Dictionary(OCGs=Array([off]), D=Dictionary(OFF=Array([off])))
    drawn.resource("Properties", "Off", off)
    hidden, shown = b"/OC /Off BDC /X Do EMC ", b"/X Do "
    page = drawn.read((hidden + shown) * 4)
    size = len(page.marks) // 8
    assert size > 5
    printed = [mark.printed for mark in page.marks]
    assert printed == ([False] * size + [True] * size) * 4


def test_what_is_kept_keeps_to_its_limits(monkeypatch: pytest.MonkeyPatch) -> None:
    content = b"q 1 0 0 1 9 9 cm /X Do Q /X Do /X Do /T Do /T Do /T Do"
    wanted = _symbols().read(content).marks
    for limit in ("KEPT_MARKS", "KEPT_OPERATORS"):
        monkeypatch.setattr(ledger_module, limit, 3)
        assert_same(_symbols().read(content).marks, wanted)
    monkeypatch.setattr(forms_module, "_STATES_KEPT", 0)
    assert_same(_symbols().read(content).marks, wanted)


def test_forms_kept_count_towards_the_limits_of_a_page(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn = Drawn()
    drawn.resource("XObject", "X", drawn.form(b"0 0 5 5 re f " * 10))
    monkeypatch.setattr(ledger_module, "OPERATORS_PER_PAGE", 100)
    page = drawn.read(b"/X Do " * 20)
    assert kinds(page) == [ProblemKind.LIMIT]
    assert 30 <= len(page.marks) <= 50
    monkeypatch.setattr(ledger_module, "MARKS_PER_PAGE", 25)
    assert len(drawn.read(b"/X Do " * 20).marks) == 25
