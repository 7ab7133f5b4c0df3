# Technical inks: they lie over and under the picture without knocking anything out, or being knocked out.
from dataclasses import replace

import pytest

from hotfolder.checks.ink.technical_inks import TechnicalInksSettings, check
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import Colour
from hotfolder.model.document import Layer
from hotfolder.model.findings import Severity
from hotfolder.model.marks import MarkState
from tests.artwork.colours import BLACK, DEVICE_CMYK, spot
from tests.artwork.files import unreadable
from tests.artwork.flyer import Flyer, flyer, mm_box
from tests.artwork.plates import Plates, plates, without_plates
from tests.checks.said import codes, the_only, unjudged

CUT = TechnicalInksSettings(technical=("Cut", "White"))
OVER = MarkState(overprint_fill=True, overprint_stroke=True)
AREA = (20, 30, 60, 70)


def lined(state: MarkState | None = None, ink: str = "Cut") -> Flyer:
    """A picture over the page, and a line in a technical ink through it."""
    piece = flyer().with_background(3)
    return piece.with_outline(20, 30, 100, 30, 0.3, spot(ink), state=state or MarkState())


def underlaid(*, tint: float = 1.0) -> Flyer:
    """White laid first, and a picture on top of a part of it."""
    white = flyer().with_area(*AREA, colour=spot("White", tint=tint), state=OVER)
    (mark,) = white.marks
    return white.with_marks(replace(mark, even=True)).with_image((30, 40, 60, 60), (400, 300))


def test_a_cutting_line_that_knocks_out_is_found() -> None:
    finding = the_only(check(plates(lined()).artwork(), CUT))
    assert (finding.code, finding.severity, len(finding.boxes)) == ("knocks-out", Severity.MUST_FIX, 1)
    assert "'Cut'" in finding.message


def test_a_cutting_line_that_overprints_passes() -> None:
    assert codes(check(plates(lined(OVER)).artwork(), CUT)) == []


def test_a_layer_says_what_is_technical() -> None:
    (ground, line) = lined(ink="Line").marks
    piece = plates(flyer().with_marks(ground, replace(line, layers=("Steps",)))).artwork()
    assert codes(check(piece, CUT)) == []
    assert codes(check(stepped(piece), CUT)) == ["knocks-out"]


def stepped(piece: Artwork) -> Artwork:
    assert piece.pdf is not None
    layer = Layer("Steps", on_screen=True, on_paper=True, step="Structural, Cutting")
    return replace(piece, pdf=replace(piece.pdf, layers=(layer,)))


def test_an_ink_that_is_used_on_other_layers_too_is_no_technical_one() -> None:
    (ground, line) = lined(ink="Line").marks
    piece = plates(flyer().with_marks(ground, replace(line, layers=("Steps",)), line)).artwork()
    assert codes(check(stepped(piece), CUT)) == []


def test_a_hole_that_the_picture_knocks_into_white_is_advice() -> None:
    page = plates(underlaid()).with_ink("White", 100, AREA).with_ink("White", 0, (30, 40, 60, 60))
    finding = the_only(check(page.artwork(), CUT))
    assert (finding.code, finding.severity) == ("knocked-out", Severity.ADVICE)
    (box,) = finding.boxes
    hole = mm_box(30, 40, 60, 60)
    assert box.holds(hole, 3)
    assert hole.grown(3).holds(box)


def test_white_that_is_whole_passes() -> None:
    assert codes(check(plates(underlaid()).with_ink("White", 100, AREA).artwork(), CUT)) == []


def test_a_plate_that_is_missing_altogether_is_all_hole() -> None:
    (box,) = the_only(check(plates(underlaid()).artwork(), CUT)).boxes
    assert mm_box(*AREA).holds(box, 0.01)
    assert box.width * box.height > 0.8 * mm_box(*AREA).width * mm_box(*AREA).height


# What is not flagged


def both(name: str) -> Colour:
    """A colour that lays a technical ink and a process ink."""
    colour = spot(name, "Cyan")
    return replace(colour, space=replace(colour.space, base=DEVICE_CMYK))


@pytest.mark.parametrize(
    "piece",
    [
        pytest.param(flyer().with_outline(20, 30, 100, 30, 0.3, spot("Cut")), id="on bare paper"),
        pytest.param(lined(ink="Leaf Green"), id="an ink that is none"),
        pytest.param(lined(MarkState(stroke_opacity=0.5, fill_opacity=0.5)), id="see-through"),
        pytest.param(
            flyer().with_background(3).with_outline(20, 30, 100, 30, 0.3, both("Cut")), id="mixed with cyan"
        ),
        pytest.param(
            flyer().with_background(3).with_outline(20, 30, 100, 30, 0.3, spot("Cut", tint=0)), id="no tint"
        ),
        pytest.param(
            flyer().with_area(*AREA, colour=spot("White")).with_outline(20, 30, 60, 30, 0.3, spot("Cut")),
            id="over another technical ink",
        ),
    ],
)
def test_not_flagged(piece: Flyer) -> None:
    assert codes(check(plates(piece).artwork(), CUT)) == []


def test_small_holes_do_not_count() -> None:
    page = plates(underlaid()).with_ink("White", 100, AREA).with_ink("White", 0, (30, 40, 33, 44))
    assert codes(check(page.artwork(), CUT)) == []


def lettered(state: MarkState | None = None, colour: Colour = BLACK) -> Flyer:
    """White laid first, and large letters on top: their strokes are two or three millimetres wide."""
    white = flyer().with_area(*AREA, colour=spot("White"), state=OVER)
    (mark,) = white.marks
    white = white.with_marks(replace(mark, even=True))
    return white.with_area(24, 34, 56, 66, colour=colour, state=state or MarkState())


def strokes(piece: Flyer) -> Plates:
    """Its plate of white, with a stroke of a millimetre and a half missing that fills no cell wholly."""
    page = plates(piece).with_ink("White", 100, AREA)
    for left in (24.0, 30.0, 36.0):
        for at in (left, left + 1):
            page = page.with_ink("White", 25, (at, 36, at + 1, 56))
    return page


def test_holes_as_fine_as_letters_count_by_what_is_missing() -> None:
    finding = the_only(check(strokes(lettered()).artwork(), CUT))
    assert (finding.code, len(finding.boxes)) == ("knocked-out", 3)


@pytest.mark.parametrize(
    "piece",
    [
        pytest.param(lettered(state=OVER), id="what lies there overprints"),
        pytest.param(lettered(state=MarkState(fill_opacity=0.5)), id="see-through"),
        pytest.param(lettered(colour=spot("White", tint=0.25)), id="a paler tint of the ink itself"),
    ],
)
def test_an_ink_that_is_paler_for_another_reason_has_no_holes(piece: Flyer) -> None:
    assert codes(check(strokes(piece).artwork(), CUT)) == []


def test_a_pale_tint_has_no_holes() -> None:
    assert codes(check(plates(underlaid(tint=0.1)).artwork(), CUT)) == []


# What cannot be judged


def test_without_plates_holes_are_not_judged_and_lines_are() -> None:
    said = unjudged(check(without_plates(underlaid()), CUT))
    assert [(item.severity, item.page) for item in said] == [(Severity.ADVICE, 1)]
    assert codes(check(without_plates(lined()), CUT)) == ["knocks-out"]


def test_an_unread_file_is_not_judged() -> None:
    said = unjudged(check(unreadable(), CUT))
    assert [item.severity for item in said] == [Severity.MUST_FIX]
