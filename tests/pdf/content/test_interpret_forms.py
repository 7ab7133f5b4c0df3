# Forms: matrices, boxes, resources, transparency groups, layers, and forms that draw themselves.

import pytest
from pikepdf import Array, Dictionary, Name, Object, String

from hotfolder.model.facts import ProblemKind
from tests.pdf.drawn_page import Drawn, corners, helvetica, kinds, only

_BOX = b" 10 10 20 20 re f "
_GROUP = Dictionary(S=Name.Transparency)


def test_a_form_is_transformed_and_clipped_to_its_box() -> None:
    drawn = Drawn()
    form = drawn.form(b"0 0 100 100 re f", Matrix=Array([2, 0, 0, 2, 5, 5]), BBox=Array([0, 0, 20, 30]))
    drawn.resource("XObject", "F", form)
    mark = only(drawn.read(b"1 0 0 1 100 0 cm /F Do"))
    assert corners(mark.box) == (105, 5, 305, 205)
    assert corners(mark.visible) == (105, 5, 145, 65)


@pytest.mark.parametrize("box", [None, 5, Array([0, 0, 9])])
def test_a_form_without_a_box_is_damaged_and_drawn_whole(box: object) -> None:
    """BBox is required (ISO 32000-2, table 93); poppler and Ghostscript leave it out, pdfium draws it."""
    drawn = Drawn()
    form = drawn.form(_BOX)
    del form.BBox
    if box is not None:
        form.BBox = box
    page = drawn.resource("XObject", "F", form).read(b"/F Do")
    assert kinds(page) == [ProblemKind.DAMAGED]
    assert corners(only(page).visible) == (10, 10, 30, 30)


def test_nested_forms_multiply_their_matrices() -> None:
    drawn = Drawn()
    inner = drawn.form(_BOX, Matrix=Array([1, 0, 0, 1, 7, 0]))
    outer = drawn.form(
        b"2 0 0 2 0 0 cm /In Do",
        Matrix=Array([0, 1, -1, 0, 200, 0]),
        Resources=Dictionary(XObject=Dictionary(In=inner)),
    )
    drawn.resource("XObject", "Out", outer)
    # (10, 10) moves to (17, 10), grows to (34, 20), turns to (200 - 20, 34).
    assert corners(only(drawn.read(b"/Out Do")).box) == (140, 34, 180, 74)


def test_a_form_inherits_the_state_and_gives_it_back() -> None:
    drawn = Drawn()
    drawn.resource("XObject", "F", drawn.form(_BOX + b"0 1 0 rg q 5 w"))
    inside, after = drawn.read(b"1 0 0 rg /F Do" + _BOX).marks
    assert inside.fill is not None
    assert after.fill is not None
    assert inside.fill.components == after.fill.components == (1, 0, 0)


def test_marks_name_the_form_that_they_stand_in() -> None:
    drawn = Drawn()
    form = drawn.form(b"q Q" + _BOX)
    drawn.resource("XObject", "F", form)
    source = only(drawn.read(b"/F Do")).source
    assert (source.operator, source.object, source.index) == ("f", f"{form.objgen[0]} 0", 3)


def test_a_form_without_resources_uses_those_of_the_page() -> None:
    drawn = Drawn()
    drawn.resource("XObject", "I", drawn.image(10, 10))
    drawn.resource("XObject", "F", drawn.form(b"/I Do"))
    page = drawn.read(b"/F Do")
    assert only(page).image is not None
    assert page.problems == ()


def test_resources_are_inherited_from_the_page_tree() -> None:
    drawn = Drawn()
    drawn.resource("XObject", "I", drawn.image(10, 10))
    drawn.pdf.Root.Pages.Resources = drawn.page.obj.Resources
    del drawn.page.obj["/Resources"]
    assert only(drawn.read(b"/I Do")).image is not None


def test_a_form_that_draws_itself_is_drawn_once_and_told() -> None:
    drawn = Drawn()
    form = drawn.form(_BOX + b"/F Do")
    form.Resources = Dictionary(XObject=Dictionary(F=form))
    drawn.resource("XObject", "F", form)
    page = drawn.read(b"/F Do /F Do")
    assert len(page.marks) == 2
    assert kinds(page) == [ProblemKind.DAMAGED]


def test_forms_that_draw_each_other_come_to_an_end() -> None:
    drawn = Drawn()
    first, second = drawn.form(_BOX + b"/B Do"), drawn.form(_BOX + b"/A Do")
    drawn.resource("XObject", "A", first).resource("XObject", "B", second)
    page = drawn.read(b"/A Do")
    assert len(page.marks) == 2
    assert kinds(page) == [ProblemKind.DAMAGED]


def test_a_groups_opacity_and_blend_mode_reach_the_marks_inside() -> None:
    drawn = Drawn()
    resources = Dictionary(ExtGState=Dictionary(Inner=Dictionary(ca=0.5, CA=0.25)))
    form = drawn.form(_BOX + b"/Inner gs" + _BOX, Group=_GROUP, Resources=resources)
    drawn.resource("XObject", "F", form)
    drawn.resource("ExtGState", "Outer", Dictionary(ca=0.5, CA=0.1, BM=Name.Multiply))
    plain, inner, after = drawn.read(b"/Outer gs /F Do" + _BOX).marks
    assert (plain.state.fill_opacity, plain.state.stroke_opacity) == (0.5, 0.5)
    assert (plain.state.blend_mode, plain.state.group) == ("Multiply", True)
    assert (inner.state.fill_opacity, inner.state.stroke_opacity) == (0.25, 0.125)
    assert (after.state.fill_opacity, after.state.group) == (0.5, False)


def test_groups_in_groups_multiply_their_opacities() -> None:
    drawn = Drawn()
    half = Dictionary(H=Dictionary(ca=0.5))
    inner = drawn.form(_BOX, Group=_GROUP)
    outer = drawn.form(
        b"/H gs /In Do", Group=_GROUP, Resources=Dictionary(XObject=Dictionary(In=inner), ExtGState=half)
    )
    drawn.resource("XObject", "Out", outer).resource("ExtGState", "H", Dictionary(ca=0.5))
    assert only(drawn.read(b"/H gs /Out Do")).state.fill_opacity == 0.25


def test_a_form_that_is_no_group_inherits_opacity_as_state() -> None:
    drawn = Drawn()
    resources = Dictionary(ExtGState=Dictionary(Full=Dictionary(ca=1)))
    drawn.resource("XObject", "F", drawn.form(_BOX + b"/Full gs" + _BOX, Resources=resources))
    drawn.resource("ExtGState", "Half", Dictionary(ca=0.5))
    first, second = drawn.read(b"/Half gs /F Do").marks
    assert (first.state.fill_opacity, second.state.fill_opacity) == (0.5, 1.0)
    assert not first.state.group


def test_white_in_a_group_that_is_see_through_is_paint() -> None:
    drawn = Drawn()
    drawn.resource("XObject", "F", drawn.form(b"1 g" + _BOX, Group=_GROUP))
    drawn.resource("ExtGState", "Half", Dictionary(ca=0.5))
    knocked_out, see_through = drawn.read(b"/F Do /Half gs /F Do").marks
    assert (knocked_out.white, see_through.white) == (True, False)


@pytest.fixture
def layered() -> Drawn:
    """A page with one layer that is on in print (`On`), and one that is not (`Off`)."""
    drawn = Drawn()
    on, off = (
        drawn.pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String(name)))
        for name in ("Cut marks", "Notes")
    )
    drawn.pdf.Root.OCProperties = Dictionary(OCGs=Array([on, off]), D=Dictionary(OFF=Array([off])))
    drawn.resource("Properties", "On", on).resource("Properties", "Off", off)
    return drawn


def test_marks_know_their_layers(layered: Drawn) -> None:
    page = layered.read(
        b"/OC /On BDC" + _BOX + b"/OC /Off BDC" + _BOX + b"EMC EMC /P BMC" + _BOX + b"EMC" + _BOX
    )
    assert [mark.layers for mark in page.marks] == [("Cut marks",), ("Cut marks", "Notes"), (), ()]
    assert [mark.printed for mark in page.marks] == [True, False, True, True]


def test_xobjects_may_belong_to_a_layer(layered: Drawn) -> None:
    off = layered.page.obj.Resources.Properties.Off
    layered.resource("XObject", "F", layered.form(_BOX, OC=off))
    layered.resource("XObject", "I", layered.image(10, 10, OC=off))
    page = layered.read(b"/F Do /I Do" + _BOX)
    assert [mark.printed for mark in page.marks] == [False, False, True]
    assert [mark.layers for mark in page.marks] == [("Notes",), ("Notes",), ()]


def test_sequences_on_layers_nest_and_end_each_by_itself(layered: Drawn) -> None:
    content = (
        b"/OC /Off BDC /OC /On BDC /Span << /A 1 >> BDC"
        + _BOX
        + b"EMC"
        + _BOX
        + b"EMC"
        + _BOX
        + b"EMC"
        + _BOX
    )
    page = layered.read(content)
    assert [mark.printed for mark in page.marks] == [False, False, False, True]
    assert [mark.layers for mark in page.marks] == [
        ("Notes", "Cut marks"), ("Notes", "Cut marks"), ("Notes",), (),
    ]  # fmt: skip


def test_a_layer_that_prints_although_it_is_off_on_the_screen(layered: Drawn) -> None:
    # ISO 32000-2, 8.11.4.4 and 8.11.4.5: the Print event applies the usage's print state.
    off = layered.page.obj.Resources.Properties.Off
    off.Usage = Dictionary(Print=Dictionary(PrintState=Name.ON))
    use = Dictionary(Event=Name.Print, Category=Array([Name.Print]), OCGs=Array([off]))
    layered.pdf.Root.OCProperties.D.AS = Array([use])
    assert only(layered.read(b"/OC /Off BDC" + _BOX + b"EMC")).printed


@pytest.mark.parametrize(
    ("policy", "printed"), [("AllOn", False), ("AnyOn", True), ("AnyOff", True), ("AllOff", False)]
)
def test_a_membership_decides_by_its_groups(layered: Drawn, policy: str, printed: bool) -> None:  # noqa: FBT001 - a column
    properties = layered.page.obj.Resources.Properties
    groups = Array([properties.On, properties.Off])
    member = layered.pdf.make_indirect(Dictionary(Type=Name.OCMD, OCGs=groups, P=Name(f"/{policy}")))
    layered.resource("Properties", "Both", member).resource("XObject", "I", layered.image(10, 10, OC=member))
    page = layered.read(b"/OC /Both BDC" + _BOX + b"EMC /I Do")
    assert [mark.printed for mark in page.marks] == [printed, printed]
    assert {mark.layers for mark in page.marks} == {("Cut marks", "Notes")}


def test_text_and_inline_images_and_shadings_have_their_layers_too(layered: Drawn) -> None:
    layered.resource("Font", "F", helvetica())
    shading = Dictionary(ShadingType=2, ColorSpace=Name.DeviceGray, Coords=Array([0, 0, 9, 9]))
    layered.resource("Shading", "S", shading)
    things = b"BT /F 9 Tf (a) Tj ET BI /W 1 /H 1 /BPC 8 /CS /G ID x EI /S sh 5 5 m 9 9 l S "
    page = layered.read(b"/OC /Off BDC " + things + b"EMC " + things)
    assert [mark.printed for mark in page.marks] == [False] * 4 + [True] * 4


def test_a_page_may_be_a_knockout_group() -> None:
    drawn = Drawn()
    drawn.resource("XObject", "F", drawn.form(_BOX)).resource("XObject", "T", drawn.form(_BOX, Group=_GROUP))
    drawn.page.obj.Group = Dictionary(S=Name.Transparency, K=True)
    page = drawn.read(_BOX + b"/F Do /T Do")
    assert [(mark.state.knockout_group, mark.state.group) for mark in page.marks] == [
        (True, False), (True, False), (True, True),
    ]  # fmt: skip
    assert [mark.solid for mark in page.marks] == [None] * 3


def test_knockout_groups_are_known_and_hold_for_what_is_inside() -> None:
    drawn = Drawn()
    inner = drawn.form(_BOX, Group=_GROUP)
    knockout = Dictionary(S=Name.Transparency, K=True)
    outer = drawn.form(_BOX + b"/In Do", Group=knockout, Resources=Dictionary(XObject=Dictionary(In=inner)))
    drawn.resource("XObject", "Out", outer).resource("XObject", "In", inner)
    page = drawn.read(b"/Out Do /In Do" + _BOX)
    assert [mark.state.knockout_group for mark in page.marks] == [True, True, False, False]


def test_a_form_drawn_on_a_layer_is_on_it(layered: Drawn) -> None:
    layered.resource("XObject", "F", layered.form(_BOX))
    mark = only(layered.read(b"/OC /Off BDC /F Do EMC"))
    assert (mark.printed, mark.layers) == (False, ("Notes",))


@pytest.mark.parametrize(
    ("entries", "on_screen"),
    [
        ({"CS": Name.DeviceRGB, "I": True}, True),
        ({"CS": Array([Name.CalRGB, Dictionary(WhitePoint=[0.9505, 1, 1.089])]), "I": True}, True),
        ({"CS": Name.DeviceCMYK, "I": True}, False),
        ({"I": True}, False),  # it has the space of what is around it
        ({"CS": Name.DeviceRGB}, False),  # one that is not isolated as well, whatever it says
    ],
)
def test_marks_know_that_they_stand_in_an_isolated_group_of_screen_colours(
    entries: dict[str, object],
    on_screen: bool,  # noqa: FBT001
) -> None:
    # ISO 32000-2, 11.6.6.
    drawn = Drawn()
    inner = drawn.form(_BOX, Group=_GROUP)
    group = Dictionary({"/S": Name.Transparency, **{f"/{key}": value for key, value in entries.items()}})
    outer = drawn.form(b"/In Do" + _BOX, Group=group, Resources=Dictionary(XObject=Dictionary(In=inner)))
    drawn.resource("XObject", "Out", outer)
    marks = drawn.read(b"/Out Do /Out Do" + _BOX).marks
    assert [mark.state.on_screen for mark in marks] == [on_screen] * 4 + [False]


def test_the_parts_of_each_knockout_group_are_known() -> None:
    drawn = Drawn()
    area = b"10 10 20 20 re f"

    def group(content: bytes, *, knockout: bool = False) -> Object:
        entries = Dictionary(S=Name.Transparency, K=knockout)
        return drawn.pdf.make_indirect(drawn.form(content, Group=entries, Resources=drawn.page.obj.Resources))

    drawn.resource("XObject", "Plain", group(area))
    drawn.resource("XObject", "Inner", group(area, knockout=True))
    drawn.resource("XObject", "Outer", group(area + b" /Inner Do /Plain Do", knockout=True))
    page = drawn.read(area + b" /Outer Do /Plain Do /Inner Do " + area + b" /Inner Do")
    assert [mark.knockout for mark in page.marks] == [0, 1, 1, 1, 0, 2, 0, 3]
    assert [mark.state.knockout_group for mark in page.marks] == [bool(mark.knockout) for mark in page.marks]
