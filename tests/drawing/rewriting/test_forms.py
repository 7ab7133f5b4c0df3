# Forms (ISO 32000-2, 8.10) in the state that they are drawn in: what one without a group inherits, and what
# of a form that was drawn once already holds for the next time.
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.model.doubts import KNOCKOUT
from tests.drawing.rewriting.rewritten_page import Plated, cmyk, coated, dictionary

GROUND = b"1 0 0 0 k 0 0 72 72 re f "
FILL = b"0 1 0 0 k 20 20 30 30 re f "
LINE = b"0 1 0 0 K 20 w 20 36 m 50 36 l S "
HERE = (36, 36)


@pytest.fixture
def page(tmp_path: Path) -> Plated:
    made = Plated(tmp_path / "a.pdf", coated())
    made.state("Half", ca=0.5).state("HalfBoth", ca=0.5, CA=0.5).state("Whole", ca=1, CA=1)
    made.state("Multiply", BM=Name.Multiply).state("Normal", BM=Name.Normal)
    grey = made.stream(b"0.5 g 0 0 72 72 re f", Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 72, 72])
    grey.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    made.state("Mask", SMask=dictionary(S=Name.Luminosity, G=grey)).state("Clear", SMask=Name("/None"))
    return made


def nested(page: Plated, content: bytes, depth: int) -> bytes:
    """Draws `content` in a form, in as many others as `depth` says."""
    states = page.page.obj.Resources.ExtGState
    form = page.form("Form0", content, Resources=Dictionary(ExtGState=states))
    for level in range(1, depth + 1):
        inner = Dictionary(ExtGState=states, XObject=Dictionary(Inner=form))
        form = page.form(f"Form{level}", b"/Inner Do", Resources=inner)
    return b" /Form%d Do " % depth


@pytest.mark.parametrize("depth", [0, 1, 2])
@pytest.mark.parametrize(
    ("around", "content", "expected"),
    [
        (b"/Half gs", FILL, cmyk(0.5, 0.5)),
        (b"/Half gs", b"/Whole gs " + FILL, cmyk(0, 1)),
        (b"/Half gs", b"/Half gs " + FILL, cmyk(0.5, 0.5)),
        (b"/Half gs", LINE, cmyk(0, 1)),
        (b"/HalfBoth gs", LINE, cmyk(0.5, 0.5)),
        (b"/Half gs", FILL + b"0 0 1 0 k 20 20 30 30 re f", cmyk(0.25, 0.25, 0.5)),
        (b"/Multiply gs", FILL, cmyk(1, 1)),
        (b"/Multiply gs", b"/Normal gs " + FILL, cmyk(0, 1)),
        (b"/Multiply gs /Half gs", FILL, cmyk(1, 0.5)),
        (b"/Mask gs", FILL, cmyk(0.5, 0.5)),
        (b"/Mask gs", b"/Clear gs " + FILL, cmyk(0, 1)),
        (b"0.5 0 0 0.5 0 0 cm /Mask gs 2 0 0 2 0 0 cm", FILL, cmyk(0.5, 0.5)),
    ],
)
def test_opacity_mask_and_blend_mode_count_once_for_what_forms_in_forms_draw(
    page: Plated, depth: int, around: bytes, content: bytes, expected: object
) -> None:
    drawn = page.draw(GROUND + around + nested(page, content, depth))
    assert drawn.at(*HERE) == expected
    assert not drawn.plates.approximate


def test_opacity_counts_once_for_a_group_in_a_form_without_one(page: Plated) -> None:
    group = page.form("Group", FILL, Group=Dictionary(S=Name.Transparency, I=True))
    page.form("Form", b"/Group Do", Resources=Dictionary(XObject=Dictionary(Group=group)))
    assert page.draw(GROUND + b"/Half gs /Form Do").at(*HERE) == cmyk(0.5, 0.5)


def test_matrix_and_box_of_a_form_drawn_with_opacity_count(page: Plated) -> None:
    page.form("Form", b"0 1 0 0 k 0 0 20 20 re f", Matrix=[2, 0, 0, 2, 20, 20], BBox=[10, 10, 0, 0])
    drawn = page.draw(b"/Half gs /Form Do")
    assert drawn.at(38, 38) == cmyk(0, 0.5)
    assert drawn.at(42, 42) == cmyk()


def test_what_a_form_leaves_open_ends_with_it(page: Plated) -> None:
    page.form("Form", b"q 0 1 0 0 k 2 0 0 2 0 0 cm 0 0 5 5 re f 20 20 10 10 re 0 0 0 0 re W")
    drawn = page.draw(b"/Half gs 1 0 0 0 k /Form Do 40 40 10 10 re f")
    assert drawn.at(5, 5) == cmyk(0, 0.5)
    assert drawn.at(55, 55) == cmyk()
    assert drawn.at(45, 45) == cmyk(0.5)


def test_a_group_of_screen_colours_takes_the_colour_around_it_each_time(page: Plated) -> None:
    page.form("Form", b"0 0 20 20 re f", Group=Dictionary(S=Name.Transparency, I=True, CS=Name.DeviceRGB))
    alone = page.draw(b"1 0 0 0 k 1 0 0 1 40 40 cm /Form Do").at(50, 50)
    drawn = page.draw(b"0 1 1 0 k /Form Do 1 0 0 0 k 1 0 0 1 40 40 cm /Form Do")
    assert drawn.at(10, 10)["Magenta"] > 0.8
    assert drawn.at(50, 50) == alone


def test_a_form_drawn_in_no_ink_first_is_seen_in_another(page: Plated) -> None:
    page.spot("No", "None").form("Form", b"0 0 20 20 re f")
    drawn = page.draw(b"/No cs 1 scn /Form Do 1 0 0 0 k 1 0 0 1 40 40 cm /Form Do")
    assert drawn.at(10, 10) == cmyk()
    assert drawn.at(50, 50) == cmyk(1)


def test_a_turned_stencil_in_a_form_takes_the_colour_around_it_each_time(page: Plated) -> None:
    stencil = page.stream(b"\0\0", Type=Name.XObject, Subtype=Name.Image, Width=2, Height=2, ImageMask=True)
    stencil.BitsPerComponent = 1
    page.form("Form", b"14 14 -14 14 36 20 cm /I Do", Resources=Dictionary(XObject=Dictionary(I=stencil)))
    assert page.draw(b"1 0 0 0 k /Form Do 0 1 0 0 k /Form Do").at(36, 34) == cmyk(0, 1)


def test_letters_of_a_type_3_font_in_a_form_take_the_colour_around_it_each_time(page: Plated) -> None:
    glyph = page.stream(b"20 0 d0 0 0 20 20 re f")
    font = Dictionary(
        Type=Name.Font, Subtype=Name.Type3, FontBBox=[0, 0, 20, 20], FontMatrix=[1, 0, 0, 1, 0, 0],
        CharProcs=Dictionary(a=glyph), Encoding=Dictionary(Differences=Array([97, Name.a])),
        FirstChar=97, LastChar=97, Widths=[20],
    )  # fmt: skip
    resources = Dictionary(Font=Dictionary(T=page.pdf.make_indirect(font)))
    page.form("Form", b"BT /T 1 Tf (a) Tj ET", Resources=resources)
    drawn = page.draw(b"1 0 0 0 k /Form Do 0 1 0 0 k 1 0 0 1 40 40 cm /Form Do")
    assert drawn.at(10, 10) == cmyk(1)
    assert drawn.at(50, 50) == cmyk(0, 1)


def test_lines_of_a_form_that_is_drawn_among_letters_are_seen(page: Plated) -> None:
    page.form("Form", LINE)
    assert page.draw(b"BT /Form Do ET").at(*HERE) == cmyk(0, 1)


@pytest.mark.parametrize("on_page", [False, True])
def test_parts_of_a_knockout_group_that_overprint_are_in_doubt(page: Plated, *, on_page: bool) -> None:
    page.state("Over", OP=True, op=True, OPM=1)
    parts = b"/Over gs " + FILL + b"0 0 1 0 k 20 20 30 30 re f "
    if on_page:
        page.page.obj.Group = Dictionary(S=Name.Transparency, K=True)
    else:
        states = Dictionary(ExtGState=page.page.obj.Resources.ExtGState)
        page.form("Form", parts, Group=Dictionary(S=Name.Transparency, K=True), Resources=states)
    drawn = page.draw(GROUND + (parts if on_page else b"/Form Do"))
    assert KNOCKOUT in drawn.plates.approximate


def multiplying_group(page: Plated) -> pikepdf.Stream:
    resources = Dictionary(ExtGState=Dictionary(M=Dictionary(BM=Name.Multiply)))
    content = b"/M gs 0 1 0 0 k 0 0 20 20 re f"
    return page.form("Group", content, Resources=resources, Group=Dictionary(S=Name.Transparency))


def test_a_group_that_blends_within_a_form_is_as_opaque_as_each_drawing_says(page: Plated) -> None:
    group = multiplying_group(page)
    page.form("Form", b"/Group Do", Resources=Dictionary(XObject=Dictionary(Group=group)))
    drawn = page.draw(GROUND + b"/Form Do /Half gs 1 0 0 1 40 40 cm /Form Do")
    assert drawn.at(10, 10) == cmyk(1, 1)
    assert drawn.at(50, 50) == cmyk(1, 0.5)
