# Forms, patterns, gradients, pictures, glyphs, layers and annotations on plates (ISO 32000-2, 8 and 12.5).
import zlib
from pathlib import Path

import numpy as np
import pytest
from pikepdf import Array, Dictionary, Name, String

from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from tests.drawing.rewriting.rewritten_page import AREA, Plated, cmyk, device_n, plates_of, separation

HERE = (36, 36)
PLACE = b"q 30 0 0 30 20 20 cm "


@pytest.fixture
def page(tmp_path: Path) -> Plated:
    return Plated(tmp_path / "a.pdf").spot("Lantern", "Lantern")


# Colours and states


@pytest.mark.parametrize(
    ("colour", "wanted"),
    [
        (b"0.1 0.2 0.3 0.4 k", cmyk(0.1, 0.2, 0.3, 0.4)),
        (b"0.3 g", cmyk(0, 0, 0, 0.7)),
        (b"/DeviceCMYK cs", cmyk(0, 0, 0, 1)),  # the initial colour (8.6.5.1)
        (b"/DeviceCMYK cs 1 0 0 0 sc", cmyk(1)),
        (b"/Lantern cs", cmyk(Lantern=1)),
        (b"/Lantern cs 0.4 scn", cmyk(Lantern=0.4)),
        (b"", cmyk(0, 0, 0, 1)),  # black, where nothing is said (8.6.8)
    ],
)
def test_a_colour_lays_the_inks_that_it_names(page: Plated, colour: bytes, wanted: object) -> None:
    assert page.draw(colour + b" " + AREA).at(*HERE) == wanted


@pytest.mark.parametrize(
    ("damaged", "sound"),
    [
        (b"10 10 m 30 l 60 10 l 60 60 l f", b"10 10 m 60 10 l 60 60 l f"),
        (b"10 10 m 60 10l 60 60l f", b"10 10 m 60 10 l 60 60 l f"),
        (b"10 10 m /A 30 l 60 10 l 60 60 l f", b"10 10 m 60 10 l 60 60 l f"),
        (b"9 w 3 0 w 10 10 m 60 10 l w S", b"0 w 10 10 m 60 10 l S"),
        (b"9 w 10 10 m 60 10 l 1 J J [3] d [8 4] 0 d S", b"9 w 10 10 m 60 10 l 1 J [8 4] 0 d S"),
        (b"0.5 g 0.1 0.2 rg " + AREA, b"0.5 g " + AREA),
        (b"1e1 10 52 52 re 20 20 9 9 re f", b"20 20 9 9 re f"),
        (b"/DeviceCMYK cs 1 0 0 0 sc sc " + AREA, b"1 0 0 0 k " + AREA),
    ],
)
def test_an_operator_that_lacks_operands_changes_nothing(page: Plated, damaged: bytes, sound: bytes) -> None:
    wanted = page.draw(sound).plates.inks
    inks = page.draw(damaged).plates.inks
    assert inks.keys() == wanted.keys() != set()
    assert all((inks[ink] == wanted[ink]).all() for ink in inks)


def test_a_saved_colour_comes_back(page: Plated) -> None:
    drawn = page.draw(b"1 0 0 0 k q 0 1 0 0 k Q Q " + AREA)
    assert drawn.at(*HERE) == cmyk(1)


def test_plates_that_get_no_ink_are_left_out(page: Plated) -> None:
    drawn = page.draw(b"0 1 0 0 k " + AREA)
    assert list(drawn.plates.inks) == ["Magenta"]
    assert page.draw(b"").plates.inks == {}


def test_spots_come_with_their_look(page: Plated) -> None:
    drawn = page.draw(b"/Lantern cs 1 scn " + AREA)
    assert list(drawn.plates.looks) == ["Lantern"]


# Forms


def test_a_form_takes_the_colour_around_it_each_time(page: Plated) -> None:
    page.form("F", AREA)
    content = b"0.1 0.2 0.3 0.4 k /F Do 0 1 0 0 k q 0.2 0 0 0.2 0 0 cm /F Do Q"
    drawn = page.draw(content)
    assert drawn.at(*HERE) == cmyk(0.1, 0.2, 0.3, 0.4)
    assert drawn.at(5, 5) == cmyk(0, 1)


def test_matrix_and_box_of_a_form_count(page: Plated) -> None:
    page.form("F", b"1 0 0 0 k 0 0 20 20 re f", Matrix=[2, 0, 0, 2, 20, 20], BBox=[0, 0, 10, 10])
    drawn = page.draw(b"/F Do")
    assert drawn.at(38, 38) == cmyk(1)
    assert drawn.at(42, 42) == cmyk()


def test_a_form_finds_names_that_it_lacks_on_the_page(page: Plated) -> None:
    page.form("F", b"/Lantern cs 1 scn " + AREA, Resources=Dictionary(Font=Dictionary()))
    assert page.draw(b"/F Do").at(*HERE) == cmyk(Lantern=1)


def test_a_form_that_draws_itself_is_drawn_once(page: Plated) -> None:
    form = page.form("F", b"1 0 0 0 k " + AREA + b"/F Do")
    form.Resources = Dictionary(XObject=Dictionary(F=form))
    assert page.draw(b"/F Do").at(*HERE) == cmyk(1)


def test_forms_that_multiply_without_end_are_not_drawn(page: Plated) -> None:
    inner = page.form("F0", AREA)
    for level in range(1, 12):
        content = b"/Inner Do " * 40
        inner = page.form(f"F{level}", content, Resources=Dictionary(XObject=Dictionary(Inner=inner)))
    plates = page.result(b"/F11 Do")
    assert isinstance(plates, Unmeasured)


# Patterns and gradients


def tile(page: Plated, content: bytes, paint: int = 1, step: int = 6) -> None:
    made = page.stream(content, Type=Name.Pattern, PatternType=1, PaintType=paint, TilingType=1)
    made.BBox, made.XStep, made.YStep = Array([0, 0, step, step]), step, step
    made.Resources = Dictionary(ColorSpace=page.page.obj.Resources.ColorSpace)
    page.resource("Pattern", "P", made)


def test_a_cell_brings_its_colours(page: Plated) -> None:
    tile(page, b"/Lantern cs 0.5 scn 0 0 6 6 re f")
    assert page.draw(b"/Pattern cs /P scn " + AREA).at(*HERE) == cmyk(Lantern=0.5)


def test_a_cell_begins_black_whatever_is_around(page: Plated) -> None:
    tile(page, b"0 0 6 6 re f")
    assert page.draw(b"1 0 0 0 k /Pattern cs /P scn " + AREA).at(*HERE) == cmyk(0, 0, 0, 1)


def test_an_uncoloured_cell_takes_the_colour_given(page: Plated) -> None:
    page.resource("ColorSpace", "PC", Array([Name.Pattern, Name.DeviceCMYK]))
    tile(page, b"0 1 0 0 k 0 0 6 6 re f", paint=2)  # it may not set one, and what it sets counts for nothing
    assert page.draw(b"/PC cs 0.3 0.2 0.1 0 /P scn " + AREA).at(*HERE) == cmyk(0.3, 0.2, 0.1)


def test_half_a_tile_is_half_the_ink(page: Plated) -> None:
    tile(page, b"1 0 0 0 k 0 0 6 3 re f")
    drawn = page.draw(b"/Pattern cs /P scn 12 12 48 48 re f")
    assert drawn.share("Cyan") == pytest.approx(48 * 48 / 2, rel=0.03)


def test_cells_that_would_be_laid_without_end_are_not(page: Plated) -> None:
    tile(page, b"0 0 6 6 re f")
    page.page.obj.Resources.Pattern.P.XStep = 1e-6
    page.page.obj.Resources.Pattern.P.YStep = 1e-6
    assert isinstance(page.result(b"/Pattern cs /P scn " + AREA), Unmeasured)


def test_a_gradient_lays_what_its_place_says(page: Plated) -> None:
    function = Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=[0, 0, 0, 0], C1=[1, 0.5, 0, 0.2])
    gradient = Dictionary(ShadingType=2, ColorSpace=Name.DeviceCMYK, Coords=[0, 0, 72, 0], Function=function)
    page.resource("Shading", "S", gradient)
    drawn = page.draw(b"q 10 10 52 52 re W n /S sh Q")
    for x in (12.1, 36.1, 60.1):
        assert drawn.at(x, 36) == cmyk(x / 72, 0.5 * x / 72, 0, 0.2 * x / 72)
    page.resource("Pattern", "P", Dictionary(PatternType=2, Shading=gradient))
    assert page.draw(b"/Pattern cs /P scn " + AREA).at(36.1, 36) == drawn.at(36.1, 36)


# Pictures


def test_pictures_lay_the_inks_of_their_samples(page: Plated) -> None:
    page.image("C", bytes([128, 0, 64, 26] * 4), Name.DeviceCMYK)
    page.image("G", bytes([100] * 4), Name.DeviceGray)
    page.image("S", bytes([100] * 4), separation("Lantern"))
    page.image("N", bytes([100, 50] * 4), device_n(page.pdf, "Cyan", "Lantern"))
    palette = String(bytes([0, 0, 0, 0, 64, 80, 96, 112]).decode("latin-1"))
    page.image("I", bytes([1] * 4), Array([Name.Indexed, Name.DeviceCMYK, 1, palette]))
    page.image("D", bytes([100] * 4), Name.DeviceGray, Decode=[1, 0])
    wanted = {
        b"C": cmyk(128 / 255, 0, 64 / 255, 26 / 255),
        b"G": cmyk(0, 0, 0, 155 / 255),
        b"S": cmyk(Lantern=100 / 255),
        b"N": cmyk(100 / 255, Lantern=50 / 255),
        b"I": cmyk(64 / 255, 80 / 255, 96 / 255, 112 / 255),
        b"D": cmyk(0, 0, 0, 100 / 255),
    }
    for key, laid in wanted.items():
        assert page.draw(PLACE + b"/%b Do Q" % key).at(*HERE) == laid, key


def test_a_turned_picture_is_as_heavy_as_an_upright_one(page: Plated) -> None:
    page.image("C", bytes([128, 0, 64, 0] * 4), Name.DeviceCMYK)
    upright = page.draw(b"q 30 0 0 30 20 20 cm /C Do Q")
    turned = page.draw(b"q 21.2132 21.2132 -21.2132 21.2132 36 15 cm /C Do Q")
    assert turned.at(*HERE) == upright.at(*HERE)
    assert turned.share("Cyan") == pytest.approx(30 * 30 * 128 / 255, rel=0.005)
    assert upright.share("Cyan") == pytest.approx(30 * 30 * 128 / 255, rel=0.005)


@pytest.mark.parametrize("turn", [b"1 0 0 1 0 0", b"-1 0 0 1 72 0", b"0 1 -1 0 72 0", b"0 -1 -1 0 72 72"])
def test_a_large_upright_picture_takes_no_more_pixels_than_it_covers(page: Plated, turn: bytes) -> None:
    # 20.07 to 52.05 points of 6 pixels a millimetre (0.472 pt): pixels 42.5 to 110.2, the nearest 43 to 110.
    page.image("C", bytes([255, 0, 128, 0] * 4), Name.DeviceCMYK)
    drawn = page.draw(b"q %b cm q 31.98 0 0 31.98 20.07 20.07 cm /C Do Q Q" % turn)
    columns = (drawn.plates.inks["Cyan"] > 0).any(axis=0)
    rows = (drawn.plates.inks["Cyan"] > 0).any(axis=1)
    # 31.98 points are 67.7 pixels.
    assert 67 <= columns.sum() <= 68
    assert 67 <= rows.sum() <= 68
    assert drawn.at(36, 36) == cmyk(1, 0, 128 / 255)


def test_strips_of_a_picture_meet_without_seam_or_overlap(page: Plated) -> None:
    page.image("C", bytes([128, 0, 0, 0] * 4), Name.DeviceCMYK)
    page.state("M", BM=Name.Multiply)
    strips = b"".join(b"q 52 0 0 10.37 10 %.2f cm /C Do Q " % (10 + 10.37 * each) for each in range(5))
    cyan = page.draw(b"/M gs " + strips).plates.inks["Cyan"]
    assert set(np.unique(cyan)) == {0, 128}


def test_a_picture_on_a_form_of_its_own_is_no_wider_than_it_is(page: Plated) -> None:
    page.image("C", bytes([255, 0, 0, 0] * 4), Name.DeviceCMYK)
    page.form(
        "F", b"q 16 0 0 16 0 0 cm /C Do Q", Resources=Dictionary(XObject=page.page.obj.Resources.XObject)
    )
    drawn = page.draw(b"q 2 0 0 2 20.07 20.07 cm /F Do Q")
    assert drawn.share("Cyan") == pytest.approx(32 * 32, rel=0.025)


def test_samples_of_a_coarse_picture_are_all_as_wide_as_they_are(page: Plated) -> None:
    # 31 samples on 50.04 points, 3.4 pixels each: every fourth is black, the first of them too.
    page.image("G", bytes([0, 255, 255, 255] * 8)[:31] * 31, Name.DeviceGray).Width = 31
    page.page.obj.Resources.XObject.G.Height = 31
    drawn = page.draw(b"q 50.04 0 0 50.04 10 10 cm /G Do Q")
    assert drawn.share("Black") == pytest.approx(50.04**2 * 8 / 31, rel=0.012)


def test_the_same_picture_in_many_places_is_drawn_in_all(page: Plated) -> None:
    page.image("C", bytes([128, 0, 64, 0] * 4), Name.DeviceCMYK)
    content = b"".join(b"q 4 0 0 4 %d %d cm /C Do Q " % (x, y) for x in range(5, 65, 6) for y in (10, 30, 50))
    drawn = page.draw(content)
    assert all(
        drawn.at(x + 2, y + 2) == cmyk(128 / 255, 0, 64 / 255) for x in range(5, 65, 6) for y in (10, 50)
    )


def test_a_symbol_with_a_picture_is_drawn_wherever_it_stands(page: Plated) -> None:
    page.image("C", bytes([128, 0, 64, 0] * 4), Name.DeviceCMYK)
    page.form("F", b"q 4 0 0 4 0 0 cm /C Do Q", Resources=Dictionary(XObject=page.page.obj.Resources.XObject))
    content = b"".join(b"q 1 0 0 1 %d 30 cm /F Do Q " % x for x in range(5, 65, 6))
    drawn = page.draw(content)
    assert all(drawn.at(x + 2, 32) == cmyk(128 / 255, 0, 64 / 255) for x in range(5, 65, 6))


def test_a_soft_mask_of_a_picture_lets_what_lies_beneath_through(page: Plated) -> None:
    image = page.image("C", bytes([255, 0, 0, 0] * 4), Name.DeviceCMYK)
    mask = page.image("M", bytes([64] * 4), Name.DeviceGray)
    image.SMask = mask
    drawn = page.draw(b"0 0.8 0 0 k " + AREA + PLACE + b"/C Do Q")
    assert drawn.at(*HERE) == cmyk(64 / 255, 0.8 * (1 - 64 / 255))


@pytest.mark.parametrize(
    "spelling", [b"/W 2 /H 2 /BPC 8 /CS /G", b"/Width 2/Height 2/BitsPerComponent 8/ColorSpace/DeviceGray"]
)
def test_an_inline_picture_ends_where_its_data_do(page: Plated, spelling: bytes) -> None:
    content = PLACE + b"BI " + spelling + b" ID @ EI EI Q 0 0 1 0 k 20 20 5 5 re f"
    drawn = page.draw(content)  # its four bytes are `@ EI`, which looks like its end
    assert drawn.at(22, 22) == cmyk(0, 0, 1)
    assert drawn.at(28, 42) == cmyk(0, 0, 0, 1 - ord("@") / 255)


def test_a_compressed_inline_picture_is_found_to_its_end(page: Plated) -> None:
    data = zlib.compress(bytes([51] * 4))
    content = PLACE + b"BI /W 2 /H 2 /BPC 8 /CS /G /F /Fl ID " + data + b" EI Q 0 0 1 0 k 20 20 5 5 re f"
    drawn = page.draw(content)
    assert drawn.at(*HERE) == cmyk(0, 0, 0, 0.8)
    assert drawn.at(22, 22) == cmyk(0, 0, 1)


def test_a_stencil_is_painted_in_the_colour_for_filling(page: Plated) -> None:
    drawn = page.draw(b"0.2 0 0 0 k " + PLACE + b"BI /W 2 /H 2 /IM true ID \0\0 EI Q")
    assert drawn.at(*HERE) == cmyk(0.2)
    turned = b"q 21 21 -21 21 36 15 cm BI /W 2 /H 2 /IM true ID \0\0 EI Q"
    assert page.draw(b"0.2 0 0 0 k " + turned).at(*HERE) == cmyk(0.2)


# Glyphs that are drawings


def type_3(page: Plated) -> None:
    glyphs = Dictionary(
        a=page.stream(b"1000 0 d0 1 0 0 0 k 0 0 1000 1000 re f"),
        b=page.stream(b"1000 0 0 0 1000 1000 d1 0 1 0 0 k 0 0 1000 1000 re f"),
        c=page.stream(b"1000 0 d0 0 0 1000 1000 re f"),
    )
    font = Dictionary(Type=Name.Font, Subtype=Name.Type3, FontBBox=[0, 0, 1000, 1000], CharProcs=glyphs)
    font.FontMatrix, font.Widths = Array([0.001, 0, 0, 0.001, 0, 0]), Array([1000] * 3)
    font.FirstChar, font.LastChar, font.Resources = 65, 67, Dictionary()
    font.Encoding = Dictionary(Type=Name.Encoding, Differences=[65, Name.a, Name.b, Name.c])
    page.resource("Font", "T", font)


@pytest.mark.parametrize(
    ("letter", "wanted"),
    [
        (b"A", cmyk(1)),  # brings its colour
        (b"B", cmyk(0, 0, 0.5)),  # a shape: what it sets counts for nothing
        (b"C", cmyk(0, 0, 0.5)),  # may bring colours, and does not
    ],
)
def test_glyphs_of_type_3_take_or_bring_their_colours(page: Plated, letter: bytes, wanted: object) -> None:
    type_3(page)
    assert page.draw(b"0 0 0.5 0 k BT /T 30 Tf 20 20 Td (%b) Tj ET" % letter).at(*HERE) == wanted


def test_a_glyph_that_takes_its_colour_takes_each_in_turn(page: Plated) -> None:
    type_3(page)
    drawn = page.draw(b"BT 0 0 0.5 0 k /T 15 Tf 20 20 Td (C) Tj 0 0.7 0 0 k (C) Tj ET")
    assert drawn.at(27, 27) == cmyk(0, 0, 0.5)
    assert drawn.at(42, 27) == cmyk(0, 0.7)


# Layers and annotations


def layers(page: Plated) -> tuple[Dictionary, Dictionary]:
    on, off = (page.pdf.make_indirect(Dictionary(Type=Name.OCG, Name=name)) for name in ("on", "off"))
    page.pdf.Root.OCProperties = Dictionary(OCGs=[on, off], D=Dictionary(OFF=[off]))
    page.resource("Properties", "On", on).resource("Properties", "Off", off)
    return on, off


def test_a_layer_that_is_off_paints_nothing_but_its_state_holds(page: Plated) -> None:
    layers(page)
    page.resource("Font", "F", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    hidden = (
        b"/OC /Off BDC 1 0 0 0 k " + AREA + b"BT /F 60 Tf 10 20 Td (OO) Tj ET /Span BMC " + AREA + b"EMC EMC "
    )
    drawn = page.draw(hidden + b"20 20 5 5 re f /OC /On BDC 0 1 0 0 k 30 20 5 5 re f EMC")
    assert drawn.at(*HERE) == cmyk()
    assert drawn.at(22, 22) == cmyk(1)
    assert drawn.at(32, 22) == cmyk(0, 1)


def test_forms_and_pictures_of_a_layer_that_is_off_are_not_drawn(page: Plated) -> None:
    on, off = layers(page)
    page.form("Hidden", b"1 0 0 0 k " + AREA, OC=off)
    page.form("Shown", b"0 1 0 0 k " + AREA, OC=on)
    page.image("I", bytes([255, 0, 0, 0] * 4), Name.DeviceCMYK, OC=off)
    drawn = page.draw(b"/Shown Do /Hidden Do " + PLACE + b"/I Do Q")
    assert drawn.at(*HERE) == cmyk(0, 1)


@pytest.mark.parametrize(("flags", "prints"), [(4, True), (0, False), (6, False), (4 | 32, True)])
def test_annotations_that_print_are_part_of_the_plates(page: Plated, flags: int, prints: bool) -> None:  # noqa: FBT001
    look = page.stream(b"1 0 0 0 k 0 0 10 10 re f", Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 10, 10])
    stamp = Dictionary(
        Type=Name.Annot, Subtype=Name.Stamp, Rect=[20, 20, 60, 40], F=flags, AP=Dictionary(N=look)
    )
    page.page.obj.Annots = Array([page.pdf.make_indirect(stamp)])
    drawn = page.draw(b"0 1 0 0 k 0 0 15 15 re f")
    assert drawn.at(55, 22) == (cmyk(1) if prints else cmyk())
    assert drawn.at(65, 22) == cmyk()


def test_what_is_beside_an_annotation_that_does_not_say_what_it_looks_like_is_known(page: Plated) -> None:
    field = Dictionary(
        Type=Name.Annot, Subtype=Name.Widget, FT=Name.Tx, T="a", V="text", Rect=[20, 20, 60, 40], F=4
    )
    page.page.obj.Annots = Array([page.pdf.make_indirect(field)])
    page.pdf.Root.AcroForm = Dictionary(Fields=page.page.obj.Annots)
    plates = page.draw(b"0 1 0 0 k 0 0 15 15 re f")
    assert plates.at(5, 10) == cmyk(0, 1)
    (doubt,) = plates.plates.doubts
    assert doubt.undrawn
    assert doubt.box == Box(19, 19, 61, 41)
    assert "does not say what it looks like" in doubt.reason
    assert doubt.reason in plates.plates.approximate


def test_an_annotation_whose_border_is_less_than_nothing_wide_is_in_doubt_all_the_same(page: Plated) -> None:
    square = Dictionary(Type=Name.Annot, Subtype=Name.Square, Rect=[20, 20, 60, 40], F=4)
    square.BS = Dictionary(W=-1000)
    page.page.obj.Annots = Array([page.pdf.make_indirect(square)])
    (doubt,) = page.draw(b"0 1 0 0 k 0 0 15 15 re f").plates.doubts
    assert doubt.box == Box(20, 20, 60, 40)


def test_user_units_count(page: Plated) -> None:
    page.page.obj.UserUnit = 2.0
    page.page.obj.MediaBox = Array([0, 0, 36, 36])
    plates = plates_of(page.save(b"1 0 0 0 k 10 10 10 10 re f"))
    assert not isinstance(plates, Unmeasured)
    assert plates.sheet.width == 72
    size = plates.frame.pixel_pt
    assert float(plates.inks["Cyan"].sum()) / 255 * size * size == pytest.approx(
        400, rel=0.05
    )  # edges on whole pixels
