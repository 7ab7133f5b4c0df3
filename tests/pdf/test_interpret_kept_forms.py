# Forms that are drawn again: what is kept of them tells the same as reading them anew.

from dataclasses import replace

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pikepdf import Array, Dictionary, Name

from hotfolder.artwork import Box, Mark, ProblemKind
from hotfolder.pdf import forms as forms_module
from hotfolder.pdf import ledger as ledger_module
from hotfolder.pdf.interpret import PageMarks
from tests.pdf.drawn_page import Drawn, corners, helvetica, kinds

_SYMBOL = b"""0.5 w 0 0 m 10 5 l 5 10 l s 1 0 0 rg 0 0 8 8 re f
q 2 2 20 20 re W n 0 0 1 rg 0 0 9 9 re f Q
BT /F 6 Tf 1 1 Td (Ab) Tj ET q 5 0 0 5 1 1 cm /I Do Q /G gs 3 3 4 4 re f q 0 0 5 5 re W n /S sh Q
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


def _told(mark: Mark) -> tuple[Mark, list[tuple[float, ...] | None]]:
    """A mark without its places and its source, and its places."""
    text = mark.text
    boxes = [mark.box, mark.visible, mark.solid]
    if text is not None:
        boxes += [text.ink, text.visible_ink]
        text = replace(text, ink=None, visible_ink=None)
    nowhere = Box(0, 0, 0, 0)
    bare = replace(
        mark, box=nowhere, visible=None, solid=None, text=text, source=replace(mark.source, object=None)
    )
    return bare, [corners(box) if box is not None else None for box in boxes]


_DRAWINGS = st.lists(
    st.builds(
        lambda scale, x, y, clip, colour, half, form: b"q %s%s%s %s 0 0 %s %d.25 %d cm /%s Do Q "
        % (b"/Half gs " if half else b"", colour, clip, scale, scale, x, y, form),
        st.sampled_from([b"1", b"1", b"0.5", b"-1"]),
        st.integers(-5, 60), st.integers(0, 60),
        st.sampled_from(
            [b"", b"", b"20 20 40 40 re W n", b"20 20 m 60 20 l 40 60 l W n", b"900 0 1 1 re W n"]
        ),
        st.sampled_from([b"", b"", b"0 1 1 0 k ", b"1 0 0 RG 3 w "]),
        st.booleans(), st.sampled_from([b"X", b"X", b"T"]),
    ),
    min_size=1, max_size=12,
)  # fmt: skip


@settings(max_examples=60, deadline=None)
@given(_DRAWINGS)
def test_a_form_drawn_again_gives_the_marks_that_it_would_give_anew(drawings: list[bytes]) -> None:
    content = b"".join(drawings)
    kept, anew = _symbols().read(content), _read_anew(_symbols(), content)
    assert [_told(mark) for mark in kept.marks] == [_told(mark) for mark in anew.marks]
    assert kept.fonts == anew.fonts
    assert kept.problems == anew.problems == ()


def test_a_form_in_ever_other_sizes_is_read_from_its_instructions_alike() -> None:
    drawings = [b"q %d.5 0 0 %d 20 20 cm /X Do Q " % (1 + size % 9, 1 + size) for size in range(20)]
    content = b"".join(drawings)
    kept, anew = _symbols().read(content), _read_anew(_symbols(), content)
    assert [_told(mark) for mark in kept.marks] == [_told(mark) for mark in anew.marks]


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


def test_a_form_with_trouble_in_it_tells_of_it_each_time() -> None:
    drawn = Drawn()
    drawn.resource("XObject", "X", drawn.form(b"zz 0 0 5 5 re f"))
    found = drawn.read(b"/X Do " * 5)
    assert (len(found.marks), kinds(found)) == (5, [ProblemKind.DAMAGED])
    assert found.problems[0].what.endswith("(5 times)")


def test_a_layer_around_a_form_counts_each_time_that_it_is_drawn() -> None:
    drawn = _symbols()
    off = drawn.pdf.make_indirect(Dictionary(Type=Name.OCG, Name=pikepdf.String("Notes")))
    drawn.pdf.Root.OCProperties = Dictionary(OCGs=Array([off]), D=Dictionary(OFF=Array([off])))
    drawn.resource("Properties", "Off", off)
    hidden, shown = b"/OC /Off BDC /X Do EMC ", b"/X Do "
    found = drawn.read((hidden + shown) * 4)
    size = len(found.marks) // 8
    assert size > 5
    printed = [mark.printed for mark in found.marks]
    assert printed == ([False] * size + [True] * size) * 4


def test_what_is_kept_keeps_to_its_limits(monkeypatch: pytest.MonkeyPatch) -> None:
    content = b"q 1 0 0 1 9 9 cm /X Do Q /X Do /X Do /T Do /T Do /T Do"
    wanted = [_told(mark) for mark in _symbols().read(content).marks]
    for limit in ("KEPT_MARKS", "KEPT_OPERATORS"):
        monkeypatch.setattr(ledger_module, limit, 3)
        assert [_told(mark) for mark in _symbols().read(content).marks] == wanted
    monkeypatch.setattr(forms_module, "_STATES_KEPT", 0)
    assert [_told(mark) for mark in _symbols().read(content).marks] == wanted


def test_forms_kept_count_towards_the_limits_of_a_page(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn = Drawn()
    drawn.resource("XObject", "X", drawn.form(b"0 0 5 5 re f " * 10))
    monkeypatch.setattr(ledger_module, "OPERATORS_PER_PAGE", 100)
    found = drawn.read(b"/X Do " * 20)
    assert kinds(found) == [ProblemKind.LIMIT]
    assert 30 <= len(found.marks) <= 50
    monkeypatch.setattr(ledger_module, "MARKS_PER_PAGE", 25)
    assert len(drawn.read(b"/X Do " * 20).marks) == 25
