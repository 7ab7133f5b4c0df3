# Opacity, soft masks and blend modes count once for every kind of object painted in them (ISO 32000-2, 11.6).
from collections.abc import Callable
from pathlib import Path

import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.model.doubts import PATTERN_UNDER_MASK
from tests.drawing.rewriting.rewritten_page import Plated, cmyk, dictionary

GROUND = b"1 0 0 0 k 0 0 72 72 re f "
HERE = (50, 50)
UPRIGHT = b" q 20 0 0 20 40 40 cm /I Do Q "
TURNED = b" q 14 14 -14 14 50 36 cm /I Do Q "
LETTER = b" BT /T 1 Tf 40 40 Td (a) Tj ET "
MAGENTA = b"\0\xff\0\0" * 4

STATES = {
    b"": cmyk(0, 1),
    b"/Half gs": cmyk(0.5, 0.5),
    b"/Mask gs": cmyk(0.5, 0.5),
    b"/Multiply gs": cmyk(1, 1),
    b"/Multiply gs /Half gs": cmyk(1, 0.5),
}


@pytest.fixture
def page(tmp_path: Path) -> Plated:
    made = Plated(tmp_path / "a.pdf").state("Half", ca=0.5).state("Multiply", BM=Name.Multiply)
    grey = made.stream(b"0.5 g 0 0 72 72 re f", Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 72, 72])
    grey.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    return made.state("Mask", SMask=dictionary(S=Name.Luminosity, G=grey))


def stencil(page: Plated) -> object:
    picture = Dictionary(Type=Name.XObject, Subtype=Name.Image, Width=2, Height=2, BitsPerComponent=1)
    return page.stream(b"\0\0", **{key[1:]: value for key, value in picture.items()}, ImageMask=True)


def upright_stencil(page: Plated) -> bytes:
    page.resource("XObject", "I", stencil(page))
    return b"0 1 0 0 k" + UPRIGHT


def turned_stencil(page: Plated) -> bytes:
    page.resource("XObject", "I", stencil(page))
    return b"0 1 0 0 k" + TURNED


def tiles(page: Plated, content: bytes = b"0 1 0 0 k 0 0 6 6 re f", **resources: object) -> bytes:
    cell = page.stream(content, Type=Name.Pattern, PatternType=1, PaintType=1, TilingType=1)
    cell.BBox, cell.XStep, cell.YStep = Array([0, 0, 6, 6]), 6, 6
    cell.Resources = dictionary(ExtGState=page.page.obj.Resources.ExtGState, **resources)
    page.resource("Pattern", "P", cell)
    return b"/Pattern cs /P scn 40 40 20 20 re f"


def stencil_by_tiles(page: Plated) -> bytes:
    page.resource("XObject", "I", stencil(page))
    return tiles(page).replace(b"40 40 20 20 re f", UPRIGHT)


def stencil_in_tiles(page: Plated) -> bytes:
    inner = Dictionary(I=stencil(page))
    return tiles(page, b"0 1 0 0 k q 6 0 0 6 0 0 cm /I Do Q", XObject=inner)


def gradient(page: Plated) -> bytes:
    function = dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=[0, 1, 0, 0], C1=[0, 1, 0, 0])
    shading = dictionary(ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=[0, 0, 72, 0], Function=function)
    page.resource("Shading", "S", shading)
    return b"q 40 40 20 20 re W n /S sh Q"


def picture(page: Plated) -> bytes:
    page.image("I", MAGENTA, Name.DeviceCMYK)
    return UPRIGHT


def turned_picture(page: Plated) -> bytes:
    page.image("I", MAGENTA, Name.DeviceCMYK)
    return TURNED


def picture_with_a_mask(page: Plated) -> bytes:
    page.image("I", MAGENTA, Name.DeviceCMYK, Mask=stencil(page))
    return UPRIGHT


def picture_with_a_key(page: Plated) -> bytes:
    page.image("I", MAGENTA, Name.DeviceCMYK, Mask=Array([9, 10] * 4))
    return UPRIGHT


def coloured_letter(page: Plated, glyph: bytes = b"20 0 d0 0 1 0 0 k 0 0 20 20 re f") -> bytes:
    font = Dictionary(
        Type=Name.Font, Subtype=Name.Type3, FontBBox=[0, 0, 20, 20], FontMatrix=[1, 0, 0, 1, 0, 0],
        CharProcs=Dictionary(a=page.stream(glyph)), Encoding=Dictionary(Differences=Array([97, Name.a])),
        FirstChar=97, LastChar=97, Widths=[20],
    )  # fmt: skip
    page.resource("Font", "T", page.pdf.make_indirect(font))
    return LETTER


@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize(
    "draws",
    [
        upright_stencil, turned_stencil, tiles, stencil_by_tiles, stencil_in_tiles, gradient, picture,
        turned_picture, picture_with_a_mask, picture_with_a_key, coloured_letter,
    ],
)  # fmt: skip
def test_each_object_is_as_opaque_as_the_state_says(
    page: Plated, draws: Callable[[Plated], bytes], state: bytes
) -> None:
    drawn = page.draw(GROUND + state + b" " + draws(page))
    assert drawn.at(*HERE) == STATES[state]


def test_a_soft_mask_of_an_image_counts_in_place_of_that_of_the_state(page: Plated) -> None:
    quarter = page.stream(b"\x40", Type=Name.XObject, Subtype=Name.Image, Width=1, Height=1)
    quarter.BitsPerComponent, quarter.ColorSpace = 8, Name.DeviceGray
    page.image("I", MAGENTA, Name.DeviceCMYK, SMask=quarter)
    for place in (UPRIGHT, TURNED):
        assert page.draw(GROUND + b"/Mask gs" + place).at(*HERE) == cmyk(0.75, 0.25)


def test_lines_of_a_coloured_letter_are_as_opaque_as_lines(page: Plated) -> None:
    line = coloured_letter(page, b"20 0 d0 0 1 0 0 K 20 w 0 10 m 20 10 l S")
    assert page.draw(GROUND + b"/Half gs" + line).at(*HERE) == cmyk(0, 1)
    page.state("Lines", CA=0.5)
    assert page.draw(GROUND + b"/Lines gs" + line).at(*HERE) == cmyk(0.5, 0.5)


@pytest.mark.parametrize("state", [each for each in STATES if each])
def test_tiles_that_blend_are_in_doubt_where_they_are_laid_down_with_more(page: Plated, state: bytes) -> None:
    content = GROUND + state + b" " + tiles(page, b"/Multiply gs 0 1 0 0 k 0 0 6 6 re f")
    assert any("as if nothing lay beneath" in each for each in page.draw(content).plates.approximate)


def test_letters_that_tiles_fill_under_a_mask_are_in_doubt_where_they_lie(page: Plated) -> None:
    page.resource("Font", "F", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    chosen = tiles(page).replace(b"40 40 20 20 re f", b"")
    text = b"BT /F 20 Tf 10 40 Td (HH) Tj ET"
    (doubt,) = page.draw(GROUND + b"/Mask gs " + chosen + text).plates.doubts
    assert doubt.reason == PATTERN_UNDER_MASK
    assert doubt.box.x0 >= 9
    assert doubt.box.y0 >= 30
    assert not page.draw(GROUND + b"/Half gs " + chosen + text).plates.doubts


def test_tiles_that_blend_meet_the_page(page: Plated) -> None:
    drawn = page.draw(GROUND + tiles(page, b"/Multiply gs 0 1 0 0 k 0 0 6 6 re f"))
    assert drawn.at(*HERE) == cmyk(1, 1)
    assert not drawn.plates.approximate


def test_a_pattern_is_chosen_though_a_transfer_function_is_set_behind_its_space(page: Plated) -> None:
    halving = page.stream(b"{0.5 mul}", FunctionType=4, Domain=[0, 1], Range=[0, 1])
    page.state("Transfer", TR=halving)
    content = tiles(page).replace(b"/P scn", b"/Transfer gs /P scn")
    assert page.draw(content).at(*HERE) == cmyk(0, 1)


def test_a_form_that_overprints_on_the_page_does_so_in_tiles_on_later_inks(page: Plated) -> None:
    page.spot("Lantern", "Lantern").state("Over", OP=True, op=True, OPM=1)
    page.form("Form", b"/Over gs 1 0 0 0 k 0 0 6 6 re f")
    # In a knockout group, as in tiles, what lies beneath a form is not the page itself.
    page.form("Group", b"/Form Do", Group=Dictionary(S=Name.Transparency, K=True))
    spot = b" /Lantern cs 1 scn 40 40 20 20 re f "
    cell = page.stream(b"/Form Do", Type=Name.Pattern, PatternType=1, PaintType=1, TilingType=1)
    cell.BBox, cell.XStep, cell.YStep = Array([0, 0, 6, 6]), 6, 6
    page.resource("Pattern", "P", cell)
    fill = b"/Pattern cs /P scn 40 40 20 20 re f"
    drawn = page.draw(b"/Group Do /Pattern cs /P scn 0 0 3 3 re f" + spot + fill)
    assert drawn.at(*HERE) == cmyk(1, Lantern=1)
