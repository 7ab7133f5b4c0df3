# What soft masks of the graphics state take away, by the boxes of what is light in them.
#
# ISO 32000-2, 11.5.3 and 11.6.5.2: a luminosity mask lets through as much as its group is light, laid on
# black unless BC says otherwise; an alpha mask as much as its group is opaque.
import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.model.geometry import Box
from hotfolder.model.marks import MarkKind
from tests.pdf.drawn_page import Drawn, corners, only

_AREA = b"/M gs 10 10 80 80 re f"


def seen(
    mask: bytes,
    content: bytes = _AREA,
    *,
    kind: str = "Luminosity",
    space: str = "DeviceGray",
    **entries: object,
) -> Box | None:
    """What is seen of a square of 80 points from 10, 10, with this in the mask's group."""
    drawn = Drawn()
    resources = Dictionary(ExtGState=Dictionary(Half=Dictionary(ca=0.5)))
    group = drawn.form(mask, Group=Dictionary(S=Name.Transparency, CS=Name(f"/{space}")), Resources=resources)
    soft = Dictionary({"/S": Name(f"/{kind}"), "/G": drawn.pdf.make_indirect(group)})
    for key, value in entries.items():
        soft[f"/{key}"] = value
    drawn.resource("ExtGState", "M", Dictionary(SMask=soft))
    drawn.resource("ExtGState", "None", Dictionary(SMask=Name("/None")))
    drawn.resource("ExtGState", "W", Dictionary(LW=2))
    form = drawn.form(b"10 10 80 80 re f", Group=Dictionary(S=Name.Transparency))
    drawn.resource("XObject", "G", drawn.pdf.make_indirect(form))
    mark = only(drawn.read(content), MarkKind.PATH)
    assert mark.on_paper  # it lies there, seen or not
    return mark.visible if mark.shows else None


def test_nothing_is_seen_where_a_mask_paints_nothing() -> None:
    assert seen(b"") is None
    assert seen(b"", kind="Alpha") is None
    assert seen(b"1 g 200 200 50 50 re f") is None


@pytest.mark.parametrize("mask", [b"1 g", b"0.2 g", b"1 0 0 rg", b"0 0 0 0.5 k", b"/Half gs 1 g"])
def test_what_lies_in_the_light_is_seen(mask: bytes) -> None:
    assert corners(seen(mask + b" 50 0 100 60 re f")) == (50, 10, 90, 60)


@pytest.mark.parametrize("mask", [b"0 g", b"0 0 0 rg", b"0 0 0 1 k", b"/Half gs 0 g"])
def test_what_is_black_in_a_luminosity_mask_lets_nothing_through(mask: bytes) -> None:
    assert seen(mask + b" 0 0 100 100 re f") is None
    assert seen(mask + b" 0 0 100 100 re f", kind="Alpha") is not None


def test_black_laid_over_the_light_takes_it_away() -> None:
    assert seen(b"1 g 0 0 300 300 re f 0 g 5 5 90 90 re f") is None
    assert corners(seen(b"1 g 0 0 300 300 re f 0 g 5 5 60 90 re f")) == (10, 10, 90, 90)  # not all of it
    assert seen(b"1 g 0 0 300 300 re f /Half gs 0 g 5 5 90 90 re f") is not None
    assert seen(b"1 g 0 0 300 300 re f 0 g 50 50 m 95 5 l 5 5 l f") is not None


def test_the_ground_of_a_mask_may_be_light() -> None:
    assert seen(b"", BC=Array([1])) is not None
    assert seen(b"", BC=Array([0])) is None
    assert seen(b"0 g 0 0 100 100 re f", BC=Array([1])) is None
    assert seen(b"", space="DeviceRGB", BC=Array([0, 0, 0])) is None
    assert seen(b"", space="DeviceCMYK", BC=Array([0, 0, 0, 0])) is not None
    assert seen(b"", BC=Array([1]), kind="Alpha") is None  # it has no colour


def test_a_function_may_turn_a_mask_inside_out() -> None:
    inverted = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([1]), C1=Array([0]), N=1)
    assert seen(b"", TR=inverted) is not None
    assert seen(b"", TR=Name.Identity) is None


def test_a_mask_holds_until_another_one_or_none_is_set() -> None:
    assert seen(b"", b"/M gs /None gs 10 10 80 80 re f") is not None
    assert seen(b"", b"q /M gs Q 10 10 80 80 re f") is not None
    assert seen(b"", b"/M gs /W gs 10 10 80 80 re f") is None


def test_a_mask_holds_for_all_of_a_group() -> None:
    assert seen(b"", b"/M gs /G Do") is None
    assert seen(b"1 g 0 0 300 300 re f", b"/M gs /G Do") is not None


def test_a_mask_lies_where_it_was_set() -> None:
    mask = b"1 g 0 0 60 60 re f"
    assert corners(seen(mask, b"/M gs 1 0 0 1 40 0 cm 10 10 80 80 re f")) == (50, 10, 60, 60)
    assert corners(seen(mask, b"q /M gs Q 1 0 0 1 40 0 cm /M gs 10 10 80 80 re f")) == (50, 10, 100, 60)
    turned = b"q /M gs Q 0.8 0.6 -0.6 0.8 0 0 cm /M gs 10 10 20 20 re f"
    assert (
        seen(b"1 g 0 0 60 60 re f 0 g 0 0 60 60 re f", turned) is not None
    )  # dark boxes are not known there


def test_what_a_clip_in_the_mask_leaves_is_light() -> None:
    assert corners(seen(b"q 20 20 30 30 re W n 1 g 0 0 300 300 re f Q")) == (20, 20, 50, 50)


def test_what_could_not_be_read_may_let_everything_through() -> None:
    assert seen(b"1 g 200 200 50 50 re f nonsense") is not None


def test_lines_without_extent_are_seen_in_the_light() -> None:
    assert seen(b"1 g 0 0 300 300 re f", b"/M gs 0 w 10 20 m 90 20 l S") is not None
    assert seen(b"1 g 200 200 50 50 re f", b"/M gs 0 w 10 20 m 90 20 l S") is None
