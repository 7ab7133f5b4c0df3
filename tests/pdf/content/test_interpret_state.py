# The graphics state: saving and restoring, graphics state parameters, colours.

import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.model.colour import ColourKind
from hotfolder.model.facts import ProblemKind
from hotfolder.model.marks import MarkKind, MarkState
from hotfolder.pdf.objects.limits import SAVED_STATES
from tests.pdf.drawn_page import Drawn, corners, helvetica, kinds, marks, only, read

_BOX = b" 10 10 20 20 re f "


def test_restore_brings_everything_back() -> None:
    [inner, outer] = marks(b"q 2 0 0 2 0 0 cm 1 0 0 rg 0 0 5 5 re W n" + _BOX + b"Q" + _BOX)
    assert corners(inner.box) == (20, 20, 60, 60)
    assert inner.visible is None
    assert corners(outer.visible) == (10, 10, 30, 30)
    assert outer.fill is not None
    assert outer.fill.space.kind is ColourKind.GREY


def test_one_restore_too_many_does_nothing_and_is_noted() -> None:
    page = read(b"1 0 0 rg Q Q" + _BOX)
    mark = only(page)
    assert mark.fill is not None
    assert mark.fill.space.kind is ColourKind.RGB
    assert kinds(page) == [ProblemKind.NOTE]


def test_a_state_that_is_never_restored_is_noted() -> None:
    assert kinds(read(b"q q q" + _BOX)) == [ProblemKind.NOTE]


def test_states_kept_beyond_the_limit_end_the_reading() -> None:
    page = read(_BOX + b"q " * (SAVED_STATES + 1) + _BOX)
    assert len(page.marks) == 1
    assert kinds(page) == [ProblemKind.LIMIT]
    assert page.problems[0].where == "pages[1].marks"


def test_the_user_unit_scales_everything() -> None:
    drawn = Drawn()
    plain, scaled = drawn.read(b"3 w 10 10 20 20 re S"), drawn.read(b"3 w 10 10 20 20 re S", user_unit=2.5)
    assert corners(only(scaled).box) == tuple(2.5 * each for each in corners(only(plain).box))
    assert only(scaled).line_width_pt == pytest.approx(7.5)


def _state(content: bytes, **dictionaries: Dictionary) -> MarkState:
    drawn = Drawn()
    for key, value in dictionaries.items():
        drawn.resource("ExtGState", key, value)
    return only(drawn.read(content + _BOX)).state


def test_op_counts_for_both_where_only_one_is_given() -> None:
    # ISO 32000-2, 8.6.7, table 57: OP without op sets both.
    assert _state(b"/A gs", A=Dictionary(OP=True)).overprint_fill
    both = _state(b"/A gs", A=Dictionary(OP=True, op=False, OPM=1))
    assert (both.overprint_stroke, both.overprint_fill, both.overprint_mode) == (True, False, 1)
    only_fill = _state(b"/A gs", A=Dictionary(op=True))
    assert (only_fill.overprint_stroke, only_fill.overprint_fill) == (False, True)


@pytest.mark.parametrize(
    ("dictionaries", "stroke", "fill", "mode"),
    [
        ([{"OP": True}], True, True, 0),
        ([{"op": True}], False, True, 0),
        ([{"OP": False, "op": True}], False, True, 0),
        ([{"OP": True, "op": False}], True, False, 0),
        # What a dictionary leaves out stays; OP without op sets both again.
        ([{"OP": True, "op": False}, {"OPM": 1}], True, False, 1),
        ([{"op": True, "OPM": 1}, {"OP": False}], False, False, 1),
        ([{"OP": True}, {"op": False}], True, False, 0),
        ([{"OP": True, "OPM": 1}, {"OPM": 0}], True, True, 0),
        ([{"OP": True}, {"ca": 0.5}], True, True, 0),
        # What makes no sense changes nothing.
        ([{"OP": True, "op": Name.Yes}], True, True, 0),
        ([{"OP": True, "op": False, "OPM": 1}, {"OP": 1, "OPM": Name.X}], True, False, 1),
    ],
)
def test_overprint_is_inherited_as_the_table_says(
    dictionaries: list[dict[str, object]],
    stroke: bool,  # noqa: FBT001 - a column of the table
    fill: bool,  # noqa: FBT001 - a column of the table
    mode: int,
) -> None:
    # ISO 32000-2, table 57 (OP, op, OPM) and 8.6.7.
    drawn = Drawn()
    for number, entries in enumerate(dictionaries):
        drawn.resource(
            "ExtGState", f"G{number}", Dictionary({f"/{key}": each for key, each in entries.items()})
        )
    content = b" ".join(b"/G%d gs" % number for number in range(len(dictionaries)))
    state = only(drawn.read(content + _BOX)).state
    assert (state.overprint_stroke, state.overprint_fill, state.overprint_mode) == (stroke, fill, mode)


def test_overprint_lasts_as_long_as_the_state_and_reaches_into_forms_and_groups() -> None:
    drawn = Drawn().resource("ExtGState", "G", Dictionary(OP=True, OPM=1))
    drawn.resource("XObject", "F", drawn.form(_BOX))
    drawn.resource("XObject", "T", drawn.form(_BOX, Group=Dictionary(S=Name.Transparency)))
    states = [mark.state for mark in drawn.read(b"q /G gs /F Do /T Do Q /F Do").marks]
    assert [(state.overprint_fill, state.overprint_mode) for state in states] == [
        (True, 1),
        (True, 1),
        (False, 0),
    ]


def test_a_soft_masks_group_adds_no_mark_and_its_fonts_count() -> None:
    drawn = Drawn()
    text = b"BT /F 10 Tf 10 10 Td (Mask) Tj ET"
    group = drawn.form(text, Resources=Dictionary(Font=Dictionary(F=helvetica())))
    drawn.resource("ExtGState", "A", Dictionary(SMask=Dictionary(S=Name.Alpha, G=group)))
    page = drawn.read(b"/A gs" + _BOX + b"/A gs" + _BOX)
    assert len(page.marks) == 2
    assert [(font.name, font.printed) for font in page.fonts] == [("Helvetica", True)]


def test_a_picture_in_a_soft_mask_is_told_apart_from_those_that_are_painted() -> None:
    """Once for its group, however often that masks; in a mask within a mask too (11.6.5.2)."""
    drawn = Drawn()
    outer, inner = drawn.image(30, 30), drawn.image(20, 20)
    within = drawn.form(b"50 0 0 50 0 0 cm /Im Do", Resources=Dictionary(XObject=Dictionary(Im=inner)))
    group = drawn.form(
        b"/A gs 72 0 0 72 10 10 cm /Im Do",
        Resources=Dictionary(
            XObject=Dictionary(Im=outer),
            ExtGState=Dictionary(A=Dictionary(SMask=Dictionary(S=Name.Luminosity, G=within))),
        ),
    )
    drawn.resource("ExtGState", "A", Dictionary(SMask=Dictionary(S=Name.Luminosity, G=group)))
    page = drawn.read(b"/A gs" + _BOX + b"/A gs" + _BOX)
    assert [mark.kind for mark in page.marks] == [MarkKind.PATH, MarkKind.PATH]
    pictures = [mark.image for mark in page.mask_pictures if mark.image is not None]
    assert [(image.width_px, round(image.x_ppi)) for image in pictures] == [(20, 29), (30, 30)]


def test_a_soft_mask_that_masks_itself_comes_to_an_end() -> None:
    drawn = Drawn()
    group = drawn.form(b"/A gs" + _BOX)
    mask = Dictionary(SMask=Dictionary(S=Name.Luminosity, G=group))
    group.Resources = Dictionary(ExtGState=Dictionary(A=mask))
    drawn.resource("ExtGState", "A", mask)
    page = drawn.read(b"/A gs" + _BOX)
    assert (len(page.marks), page.problems) == (1, ())


def test_a_dictionary_changes_only_what_it_has() -> None:
    state = _state(b"/A gs /B gs", A=Dictionary(op=True, ca=0.5), B=Dictionary(CA=0.25))
    assert (state.overprint_fill, state.fill_opacity, state.stroke_opacity) == (True, 0.5, 0.25)


@pytest.mark.parametrize(
    ("mode", "name"),
    [
        (Name.Multiply, "Multiply"),
        (Name.Compatible, "Normal"),
        (Array([Name.Unheard, Name.Screen, Name.Multiply]), "Screen"),
        (Name.Unheard, "Normal"),
    ],
)
def test_blend_modes(mode: object, name: str) -> None:
    assert _state(b"/A gs", A=Dictionary(BM=mode)).blend_mode == name


def test_soft_masks_are_in_force_until_none() -> None:
    drawn = Drawn()
    drawn.resource("ExtGState", "A", Dictionary(SMask=Dictionary(S=Name.Alpha, G=drawn.form(b""))))
    drawn.resource("ExtGState", "B", Dictionary(SMask=Name("/None")))
    masked, plain = drawn.read(b"/A gs" + _BOX + b"/B gs" + _BOX).marks
    assert (masked.state.soft_mask, plain.state.soft_mask) == (True, False)


def test_line_style_and_font_may_come_from_parameters() -> None:
    drawn = Drawn().resource("ExtGState", "A", Dictionary(LW=20, LC=2))
    assert corners(only(drawn.read(b"/A gs 50 50 m 150 50 l S")).box) == (40, 40, 160, 60)


def test_missing_parameters_are_told() -> None:
    assert kinds(read(b"/Missing gs" + _BOX)) == [ProblemKind.DAMAGED]


@pytest.mark.parametrize(
    ("content", "family", "components"),
    [
        (b"0.5 g", "DeviceGray", (0.5,)),
        (b"1 0 0.5 rg", "DeviceRGB", (1, 0, 0.5)),
        (b"1 0 0.5 0 k", "DeviceCMYK", (1, 0, 0.5, 0)),
        (b"/DeviceCMYK cs", "DeviceCMYK", (0, 0, 0, 1)),
        (b"/DeviceRGB cs 1 0 0.5 sc", "DeviceRGB", (1, 0, 0.5)),
        (b"/Spot cs 0.25 scn", "Separation", (0.25,)),
        (b"/Spot cs", "Separation", (1,)),
    ],
)
def test_fill_colours(content: bytes, family: str, components: tuple[float, ...]) -> None:
    spot = Array([Name.Separation, Name.Moss, Name.DeviceCMYK, Dictionary(FunctionType=2)])
    drawn = Drawn().resource("ColorSpace", "Spot", spot)
    fill = only(drawn.read(content + _BOX)).fill
    assert fill is not None
    assert (fill.space.family, fill.components) == (family, components)


@pytest.mark.parametrize(
    ("content", "family"),
    [
        (b"0.5 G", "DeviceGray"),
        (b"1 0 0.5 RG", "DeviceRGB"),
        (b"1 0 0.5 0 K", "DeviceCMYK"),
        (b"/DeviceRGB CS 1 0 0 SC", "DeviceRGB"),
        (b"/DeviceCMYK CS 1 0 0 0 SCN", "DeviceCMYK"),
    ],
)
def test_stroke_colours(content: bytes, family: str) -> None:
    stroke = only(Drawn().read(content + b" 10 10 20 20 re S")).stroke
    assert stroke is not None
    assert stroke.space.family == family


def test_default_colour_spaces_stand_for_device_ones() -> None:
    default = Array([Name.CalRGB, Dictionary(WhitePoint=Array([0.9505, 1, 1.089]))])
    drawn = Drawn().resource("ColorSpace", "DefaultRGB", default)
    rgb, cmyk = drawn.read(b"1 0 0 rg" + _BOX + b"0 0 0 1 k" + _BOX).marks
    assert rgb.fill is not None
    assert cmyk.fill is not None
    assert (rgb.fill.space.family, rgb.fill.components) == ("CalRGB", (1, 0, 0))
    assert cmyk.fill.space.family == "DeviceCMYK"
