# Overprint by the rules of ISO 32000-2, 8.6.7 and 11.7.4.3 (tables 147 and 148): what touches which plate.
from pathlib import Path

import pytest
from pikepdf import Array, Dictionary, Name

from tests.drawing.rewriting.rewritten_page import AREA, Plated, cmyk, coated, device_n, separation

# Beneath: process inks and a spot, side by side and one over the other.
GROUND = b"/Over0 gs 0.2 0.4 0.6 0.1 k " + AREA + b"/Lantern cs 0.5 scn 10 10 52 10 re f /None gs "
TOP = b"20 15 30 30 re f "
ON_SPOT, ON_BOTH = (36, 18), (36, 36)
PROCESS = {"Cyan": 0.2, "Magenta": 0.4, "Yellow": 0.6, "Black": 0.1}
SPOT = {"Lantern": 0.5}


@pytest.fixture
def page(tmp_path: Path) -> Plated:
    made = Plated(tmp_path / "a.pdf")
    made.spot("Lantern", "Lantern").spot("Meadow", "Meadow").spot("C", "Cyan").spot("All", "All")
    made.spot("Nothing", "None").resource("ColorSpace", "N", device_n(made.pdf, "Cyan", "Meadow"))
    made.state("Over0", op=True, OP=True, OPM=0).state("Over1", op=True, OP=True, OPM=1)
    return made.state("None", op=False, OP=False)


@pytest.mark.parametrize(
    ("state", "colour", "on_both"),
    [
        # Without overprint all plates are knocked out.
        (b"/None", b"0.5 0 0 0 k", {"Cyan": 0.5}),
        (b"/None", b"/Meadow cs 0.7 scn", {"Meadow": 0.7}),
        (b"/None", b"/N cs 0.7 0 scn", {"Cyan": 0.7}),
        # Process colours leave spots alone, and knock out all process inks.
        (b"/Over0", b"0.5 0 0 0 k", {"Cyan": 0.5, **SPOT}),
        (b"/Over0", b"0 0 0 1 k", {"Black": 1, **SPOT}),
        (b"/Over0", b"0.3 g", {"Black": 0.7, **SPOT}),
        (b"/Over1", b"0.3 g", {"Black": 0.7, **SPOT}),
        # In mode 1, inks of DeviceCMYK with nothing are left alone.
        (b"/Over1", b"0.5 0 0 0 k", {**PROCESS, "Cyan": 0.5, **SPOT}),
        (b"/Over1", b"0 0 0 1 k", {**PROCESS, "Black": 1, **SPOT}),
        (b"/Over1", b"0 0 0 0 k", {**PROCESS, **SPOT}),
        # Named inks touch their plates only, nothing laid on one of them included.
        (b"/Over0", b"/Meadow cs 0.7 scn", {**PROCESS, **SPOT, "Meadow": 0.7}),
        (b"/Over0", b"/Lantern cs 0 scn", PROCESS),
        (b"/Over1", b"/C cs 0.7 scn", {**PROCESS, "Cyan": 0.7, **SPOT}),
        (b"/Over0", b"/N cs 0.7 0 scn", {**PROCESS, "Cyan": 0.7, **SPOT}),
        # Registration colour goes on every plate, None on none, overprint or not (8.6.6.4).
        (b"/Over0", b"/All cs 0.9 scn", dict.fromkeys([*PROCESS, "Lantern"], 0.9)),
        (b"/None", b"/Nothing cs 1 scn", {**PROCESS, **SPOT}),
    ],
)
def test_a_fill_touches_the_plates_of_its_colour(
    page: Plated, state: bytes, colour: bytes, on_both: dict[str, float]
) -> None:
    drawn = page.draw(GROUND + state + b" gs " + colour + b" " + TOP)
    assert drawn.at(*ON_SPOT) == cmyk(**on_both)


def test_fill_and_stroke_have_parameters_of_their_own(page: Plated) -> None:
    page.state("FillOnly", op=True, OP=False, OPM=1).state("StrokeOnly", op=False, OP=True, OPM=1)
    both = b"0 0 0 1 k 0 1 0 0 K 6 w 20 25 30 20 re B "
    inside, edge = (36, 36), (36, 25.5)
    filled = page.draw(GROUND + b"/FillOnly gs " + both)
    assert filled.at(*inside) == cmyk(**{**PROCESS, "Black": 1})
    assert filled.at(*edge) == cmyk(Magenta=1)
    stroked = page.draw(GROUND + b"/StrokeOnly gs " + both)
    assert stroked.at(*inside) == cmyk(Black=1)
    assert stroked.at(36, 23) == cmyk(**{**PROCESS, "Magenta": 1})


def test_where_only_op_for_strokes_is_given_it_counts_for_fills(page: Plated) -> None:
    page.state("OP", OP=True, OPM=1)
    assert page.draw(GROUND + b"/OP gs 0 0 0 1 k " + TOP).at(*ON_BOTH) == cmyk(**{**PROCESS, "Black": 1})


def test_pictures_never_take_mode_1(page: Plated) -> None:
    page.image("I", bytes([128, 0, 0, 0] * 4), Name.DeviceCMYK)
    drawn = page.draw(GROUND + b"/Over1 gs q 30 0 0 30 20 15 cm /I Do Q")
    assert drawn.at(*ON_BOTH) == cmyk(Cyan=0.5)
    assert drawn.at(*ON_SPOT) == cmyk(Cyan=0.5, Lantern=0.5)


def test_pictures_in_a_spot_overprint_as_it_does(page: Plated) -> None:
    page.image("I", bytes([128] * 4), separation("Meadow"))
    drawn = page.draw(GROUND + b"/Over0 gs q 30 0 0 30 20 15 cm /I Do Q")
    assert drawn.at(*ON_BOTH) == cmyk(**PROCESS, Meadow=0.5)


def test_a_stencil_takes_the_colour_it_is_painted_with(page: Plated) -> None:
    stencil = page.image("I", b"\0\0", Name.DeviceGray, ImageMask=True)
    stencil.BitsPerComponent = 1
    del stencil.ColorSpace
    drawn = page.draw(GROUND + b"/Over1 gs 0 0 0 1 k q 30 0 0 30 20 15 cm /I Do Q")
    assert drawn.at(*ON_BOTH) == cmyk(**{**PROCESS, "Black": 1})


def test_gradients_overprint_by_their_space_and_never_by_mode_1(page: Plated) -> None:
    def gradient(space: object, colour: list[float]) -> Dictionary:
        function = Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=colour, C1=colour)
        return Dictionary(ShadingType=2, ColorSpace=space, Coords=[0, 0, 72, 0], Function=function)

    page.resource("Shading", "C", gradient(Name.DeviceCMYK, [0.5, 0, 0, 0]))
    page.resource("Shading", "S", gradient(separation("Meadow"), [0.7]))
    clip = b" gs q 20 15 30 30 re W n "
    assert page.draw(GROUND + b"/Over1" + clip + b"/C sh Q").at(*ON_SPOT) == cmyk(Cyan=0.5, Lantern=0.5)
    assert page.draw(GROUND + b"/Over1" + clip + b"/S sh Q").at(*ON_BOTH) == cmyk(**PROCESS, Meadow=0.7)
    pattern = Dictionary(PatternType=2, Shading=gradient(separation("Meadow"), [0.7]))
    page.resource("Pattern", "P", pattern)
    drawn = page.draw(GROUND + b"/Over0 gs /Pattern cs /P scn " + TOP)
    assert drawn.at(*ON_BOTH) == cmyk(**PROCESS, Meadow=0.7)


def test_text_that_is_left_out_of_plates_goes_on_where_it_would(page: Plated) -> None:
    page.resource("Font", "F", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    content = GROUND + b"/Over1 gs BT /F 60 Tf 0 0 0 1 k 10 -5 Td (.) Tj 0 1 0 0 k (.) Tj ET"
    drawn = page.draw(content)
    magenta = drawn.plates.inks["Magenta"]
    black = drawn.plates.inks["Black"]
    # The full stop in magenta lies one advance (0.278 em in Helvetica's metrics) right of that in black.
    advance_px = 60 * 0.278 / drawn.plates.frame.pixel_pt
    left_of = [int((plate > 200).any(axis=0).argmax()) for plate in (black, magenta)]
    assert left_of[1] - left_of[0] == pytest.approx(advance_px, abs=1)


def test_a_form_overprints_as_the_state_it_is_drawn_in(page: Plated) -> None:
    page.form("F", TOP)
    drawn = page.draw(GROUND + b"/Over1 gs 0 0 0 1 k /F Do")
    assert drawn.at(*ON_BOTH) == cmyk(**{**PROCESS, "Black": 1})
    twice = page.draw(GROUND + b"0 0 0 1 k q 0.3 0 0 0.3 0 0 cm /F Do Q /Over1 gs /F Do")
    assert twice.at(*ON_BOTH) == cmyk(**{**PROCESS, "Black": 1})
    assert twice.at(11.5, 11.5) == cmyk(Black=1)


@pytest.mark.parametrize(
    ("group", "on_ground"),
    [
        (Dictionary(S=Name.Transparency), {**PROCESS, "Black": 1}),
        # Nothing lies beneath in an isolated group, so white is laid there (11.4.5, 11.7.4.3).
        (Dictionary(S=Name.Transparency, I=True), {"Black": 1}),
    ],
)
def test_overprint_reaches_through_groups_that_are_not_isolated(
    page: Plated, group: Dictionary, on_ground: dict[str, float]
) -> None:
    content = b"0 0.5 0 0 k 30 10 10 40 re f /Over1 gs 0 0 0 1 k " + TOP
    resources = Dictionary(ExtGState=page.page.obj.Resources.ExtGState)
    page.form("F", content, Group=group, Resources=resources)
    drawn = page.draw(GROUND + b"/F Do")
    assert drawn.at(25, 36) == cmyk(**on_ground)
    assert drawn.at(36, 36) == cmyk(Magenta=0.5, Black=1)  # something of the group lies beneath here


def test_glyphs_that_bring_colours_overprint_each_thing_for_itself(page: Plated) -> None:
    glyph = page.stream(b"1000 0 d0 1 0 0 0 k 0 0 1000 1000 re f")
    font = Dictionary(
        Type=Name.Font,
        Subtype=Name.Type3,
        FontBBox=[0, 0, 1000, 1000],
        FontMatrix=[0.001, 0, 0, 0.001, 0, 0],
        FirstChar=65,
        LastChar=65,
        Widths=[1000],
        Encoding=Dictionary(Type=Name.Encoding, Differences=Array([65, Name.a])),
        CharProcs=Dictionary(a=glyph),
        Resources=Dictionary(),
    )
    page.resource("Font", "T", font)
    drawn = page.draw(GROUND + b"/Over1 gs 0 0 0.5 0 k BT /T 30 Tf 20 15 Td (A) Tj ET")
    assert drawn.at(*ON_BOTH) == cmyk(**{**PROCESS, "Cyan": 1})


def test_screen_colours_show_overprinting_inks_as_multiplied(tmp_path: Path) -> None:
    # Common practice for overprint on screens: ink on ink is darker than either.
    page = Plated(tmp_path / "a.pdf", coated()).spot("Lantern", "Lantern")
    page.state("Over0", op=True, OP=True, OPM=0)
    ground = b"0.8 0.4 0.2 rg " + AREA
    alone = page.draw(b"1 0 0 rg 0 0 5 5 re f /Lantern cs 0.5 scn " + TOP).screen_at(*ON_BOTH)
    over = page.draw(ground + b"/Over0 gs /Lantern cs 0.5 scn " + TOP).screen_at(*ON_BOTH)
    multiplied = [each * beneath for each, beneath in zip(alone, (0.8, 0.4, 0.2), strict=True)]
    assert over == pytest.approx(multiplied, abs=2)
    knocked_out = page.draw(ground + b"/Lantern cs 0.5 scn " + TOP).screen_at(*ON_BOTH)
    assert knocked_out == pytest.approx(alone, abs=1)
