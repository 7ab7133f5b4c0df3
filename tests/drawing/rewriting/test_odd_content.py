# Content that is rarely written, or that nobody should write: drawn as the standard has it, and with an end.
from pathlib import Path

import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.model.facts import Unmeasured
from tests.drawing.rewriting.rewritten_page import Plated, cmyk, coated


@pytest.fixture
def page(tmp_path: Path) -> Plated:
    return Plated(tmp_path / "a.pdf")


def test_a_font_that_a_graphics_state_sets_is_drawn_with(page: Plated) -> None:
    font = page.pdf.make_indirect(Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    page.state("Large", Font=Array([font, 40])).resource("Font", "F", font)
    text = b" BT 10 20 Td (HH) Tj ET"
    by_state, by_operator = (
        page.draw(b"0 0 0 1 k " + choice + text).share("Black") for choice in (b"/Large gs", b"/F 40 Tf")
    )
    assert by_state == pytest.approx(by_operator)
    assert by_state > 400


def test_a_comment_between_the_numbers_of_a_rectangle_hides_nothing(page: Plated) -> None:
    drawn = page.draw(b"1 0 0 0 k 10 20 %c\n 30 1 re f 0 1 0 0 k 40 40 20 20 re f")
    assert drawn.at(20, 20.5) == cmyk(1)
    assert drawn.at(50, 50) == cmyk(0, 1)


def test_an_inline_image_of_a_negative_height_in_a_hidden_layer_is_not_read_forever(page: Plated) -> None:
    off = page.pdf.make_indirect(Dictionary(Type=Name.OCG, Name="off"))
    page.pdf.Root.OCProperties = Dictionary(OCGs=[off], D=Dictionary(OFF=[off]))
    page.resource("Properties", "Off", off)
    before = b"/OC /Off BDC EI "
    # By its height, its data would end at an EI that stands before it.
    height = len(before + b"BI /W 1 /H -00 /BPC 8 /CS /G ID ") - before.index(b" EI")
    image = b"BI /W 1 /H -%02d /BPC 8 /CS /G ID x EI EMC " % height
    assert page.draw(before + image + b"1 0 0 0 k 0 0 30 30 re f").at(10, 10) == cmyk(1)


@pytest.mark.parametrize("stray", [b")", b"}", b">"])
def test_a_stray_bracket_parts_what_stands_on_both_sides_of_it(page: Plated, stray: bytes) -> None:
    content = b"1 0 0 0 k 0 0 30 30 re f%b2 w 0 1 0 0 k 40 40 20 20 re f" % stray
    drawn = page.draw(content)
    assert drawn.at(15, 15) == cmyk(1)
    assert drawn.at(50, 50) == cmyk(0, 1)


def test_a_rendering_mode_without_end_is_passed_over(page: Plated) -> None:
    assert page.draw(b"9" * 400 + b" Tr 1 0 0 0 k 0 0 30 30 re f").at(10, 10) == cmyk(1)


@pytest.mark.parametrize(
    "intent", ["Perceptual", "RelativeColorimetric", "Saturation", "AbsoluteColorimetric"]
)
def test_the_rendering_intent_of_a_picture_goes_before_that_of_the_state(page: Plated, intent: str) -> None:
    page.press = coated()
    place = b" q 40 0 0 40 10 10 cm /I Do Q"
    page.image("I", bytes([0, 40, 255]) * 4, Name.DeviceRGB)
    by_state = page.draw(b"/%b ri" % intent.encode() + place).at(30, 30)
    page.image("I", bytes([0, 40, 255]) * 4, Name.DeviceRGB, Intent=Name(f"/{intent}"))
    for other in (b"/Perceptual", b"/RelativeColorimetric"):
        assert page.draw(other + b" ri" + place).at(30, 30) == by_state


def test_a_picture_whose_colours_are_patterns_is_told_as_not_drawn(page: Plated) -> None:
    page.image("I", bytes(12), Name.Pattern)
    plates = page.result(b"30 0 0 30 10 10 cm /I Do")
    assert isinstance(plates, Unmeasured)
    assert "patterns" in plates.reason
