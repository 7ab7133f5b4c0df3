# Soft masks: luminosity by the standard's formulas, alpha, backdrops, transfer functions (ISO 32000-2, 11.5).
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from tests.drawing.rewriting.rewritten_page import AREA, Plated, cmyk, dictionary

HERE = (36, 36)
CYAN = b"1 0 0 0 k 20 20 30 30 re f "


@pytest.fixture
def page(tmp_path: Path) -> Plated:
    return Plated(tmp_path / "a.pdf").state("Clear", SMask=Name("/None"))


def mask(page: Plated, content: bytes, space: str = "DeviceGray", **entries: object) -> None:
    group = Dictionary(S=Name.Transparency, CS=Name(f"/{space}"))
    form = page.stream(content, Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 72, 72], Group=group)
    form.Resources = Dictionary(
        ExtGState=Dictionary(Half=Dictionary(ca=0.5)),
        ColorSpace=Dictionary(All=page.page.obj.Resources.get("/ColorSpace", Dictionary())),
    )
    page.state("Mask", SMask=dictionary(Type=Name.Mask, S=Name.Luminosity, G=form, **entries))


@pytest.mark.parametrize(
    ("space", "colour", "light"),
    [
        ("DeviceGray", b"0.25 g", 0.25),
        ("DeviceRGB", b"0.5 0.2 0.8 rg", 0.3 * 0.5 + 0.59 * 0.2 + 0.11 * 0.8),
        # 10.4.2.2: grey = 1 - min(1, 0.3 c + 0.59 m + 0.11 y + k)
        ("DeviceCMYK", b"0 0 0 0.5 k", 0.5),
        ("DeviceCMYK", b"0.5 0.2 0.1 0.1 k", 1 - (0.3 * 0.5 + 0.59 * 0.2 + 0.11 * 0.1 + 0.1)),
    ],
)
def test_luminosity_is_taken_by_the_formula_of_the_colours(
    page: Plated, space: str, colour: bytes, light: float
) -> None:
    mask(page, colour + b" 0 0 72 72 re f", space)
    drawn = page.draw(b"0 0.8 0 0.4 k " + AREA + b"/Mask gs " + CYAN)
    assert drawn.at(*HERE) == cmyk(light, 0.8 * (1 - light), 0, 0.4 * (1 - light))
    assert drawn.at(15, 15) == cmyk(0, 0.8, 0, 0.4)


def test_what_the_group_leaves_bare_is_as_light_as_its_backdrop(page: Plated) -> None:
    mask(page, b"0.5 g 0 0 36 72 re f", BC=Array([0.75]))
    drawn = page.draw(b"/Mask gs " + CYAN)
    assert drawn.at(30, 36) == cmyk(0.5)
    assert drawn.at(45, 36) == cmyk(0.75)


def test_without_a_backdrop_bare_is_black_and_masks_all(page: Plated) -> None:
    mask(page, b"1 g 0 0 36 72 re f")
    drawn = page.draw(b"/Mask gs " + CYAN)
    assert drawn.at(30, 36) == cmyk(1)
    assert drawn.at(45, 36) == cmyk()


def test_a_transfer_function_of_the_mask_counts(page: Plated) -> None:
    turned = Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=[1], C1=[0])
    mask(page, b"0.25 g 0 0 72 72 re f", TR=turned)
    assert page.draw(b"/Mask gs " + CYAN).at(*HERE) == cmyk(0.75)


def test_alpha_masks_take_opacity_whatever_the_colours(page: Plated) -> None:
    mask(page, b"/Half gs 0 0 0 1 k 0 0 36 72 re f")
    page.page.obj.Resources.ExtGState.Mask.SMask.S = Name.Alpha
    drawn = page.draw(b"/Mask gs " + CYAN)
    assert drawn.at(30, 36) == cmyk(0.5)
    assert drawn.at(45, 36) == cmyk()


def test_a_mask_ends_where_it_is_taken_away(page: Plated) -> None:
    mask(page, b"0.25 g 0 0 72 72 re f")
    drawn = page.draw(
        b"q /Mask gs " + CYAN + b"/Clear gs 0 1 0 0 k 20 20 5 30 re f Q 0 0 1 0 k 45 20 5 30 re f"
    )
    assert drawn.at(*HERE) == cmyk(0.25)
    assert drawn.at(22, 36) == cmyk(0, 1)
    assert drawn.at(47, 36) == cmyk(0, 0, 1)


def test_colours_of_a_mask_lay_no_ink(page: Plated) -> None:
    mask(page, b"0 0 0 0.5 k 0 0 72 72 re f", "DeviceCMYK")
    drawn = page.draw(b"/Mask gs " + CYAN)
    assert list(drawn.plates.inks) == ["Cyan"]


def test_a_mask_that_draws_with_itself_is_not_followed_for_ever(page: Plated) -> None:
    mask(page, b"/Mask gs 1 g 0 0 72 72 re f")
    group = page.page.obj.Resources.ExtGState.Mask.SMask.G
    again = page.pdf.make_indirect(page.page.obj.Resources.ExtGState.Mask)
    page.page.obj.Resources.ExtGState.Mask = again
    group.Resources = Dictionary(ExtGState=Dictionary(Mask=again))
    assert isinstance(group, pikepdf.Stream)
    plates = page.result(b"/Mask gs " + CYAN)
    assert "itself" in getattr(plates, "reason", "")
