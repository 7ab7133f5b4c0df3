# Thin lines and rules are as heavy as they are wide, though the renderer draws none thinner than a pixel.
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from pikepdf import Dictionary, Name

from tests.drawing.rewriting.rewritten_page import Plated

# Coverage by geometry: length times width. Eight-bit opacities and edges are good for 3 %.
EXACT = 0.03


def finer_share(path: Path) -> float:
    """Square points of black on a page of 600 x 600 points, drawn 16 times finer."""
    document = pypdfium2.PdfDocument(path)
    finer = np.asarray(document[0].render(scale=16 * 76.2 / 72, grayscale=True).to_numpy(), np.float64)
    document.close()
    # The renderer's own black for 100 % K is not quite black; what is drawn with it is.
    return float(((255 - finer) / (255 - finer.min())).mean()) * 600 * 600


@pytest.fixture
def page(tmp_path: Path) -> Plated:
    made = Plated(tmp_path / "a.pdf")
    made.page.obj.MediaBox = [0, 0, 600, 600]  # three pixels a millimetre: one is 0.94 pt
    return made


@pytest.mark.parametrize("width", [0.15, 0.25, 0.5, 0.9, 1.0, 2.0, 5.0])
def test_a_line_is_as_heavy_as_it_is_wide(page: Plated, width: float) -> None:
    drawn = page.draw(b"0 0 0 1 K %g w 100 100.3 m 500 100.3 l S" % width)
    assert drawn.share("Black") == pytest.approx(400 * width, rel=EXACT)


def test_scaling_counts(page: Plated) -> None:
    drawn = page.draw(
        b"0 0 0 1 K q 0.1 0 0 0.1 0 0 cm 5 w 1000 1003 m 5000 1003 l S Q 5 w 100 200 m 500 200 l S"
    )
    assert drawn.share("Black") == pytest.approx(400 * 0.5 + 400 * 5, rel=EXACT)


def test_width_and_opacity_of_a_graphics_state_count(page: Plated) -> None:
    page.state("G", LW=0.5, CA=0.5)
    drawn = page.draw(b"/G gs 0 0 0 1 K 100 100.3 m 500 100.3 l S 4 w 100 200 m 500 200 l S")
    assert drawn.share("Black") == pytest.approx(0.5 * 400 * (0.5 + 4), rel=EXACT)


def test_width_in_a_form_is_that_of_the_place_it_is_drawn_in(page: Plated) -> None:
    page.form("F", b"0 0 0 1 K 1 w 0 10 m 100 10 l S", BBox=[0, 0, 1000, 1000])
    drawn = page.draw(b"q 4 0 0 4 0 100.3 cm /F Do Q q 0.4 0 0 0.4 0 300.3 cm /F Do Q")
    assert drawn.share("Black") == pytest.approx(400 * 4 + 40 * 0.4, rel=EXACT)


@pytest.mark.parametrize("width", [0.1, 0.3, 0.6, 1.3])
@pytest.mark.parametrize("shape", [b"100 100.3 400 %g re f", b"100.3 100 %g 400 re f"])
def test_a_rule_drawn_as_a_rectangle_is_as_heavy_as_it_is(page: Plated, shape: bytes, width: float) -> None:
    assert page.draw(b"0 0 0 1 k " + shape % width).share("Black") == pytest.approx(400 * width, rel=EXACT)


@pytest.mark.parametrize("width", [0.3, 1.3, 20.3])
@pytest.mark.parametrize(
    "shape",
    [
        b"100 100.3 m 500 100.3 l 500 {0} l 100 {0} l h f",
        b"100.3 100 m\n100.3 500 l\n{0} 500 l\n{0} 100 l\n100.3 100 l\nf*",
        b"/Over gs 500 100.3 m 100 100.3 l 100 {0} l 500 {0} l h f",
    ],
)
def test_a_rectangle_drawn_by_lines_is_as_heavy_as_it_is(page: Plated, shape: bytes, width: float) -> None:
    page.state("Over", op=True, OPM=1)
    path = shape.replace(b"{0}", b"%g" % (100.3 + width))
    assert page.draw(b"0 0 0 1 k " + path).share("Black") == pytest.approx(400 * width, rel=EXACT)


@pytest.mark.parametrize("width", [0.1, 0.48, 2.3])
@pytest.mark.parametrize("decode", [b"/D [0 1] ID \x20", b"/D [1 0] ID \xa0"])
def test_a_rule_drawn_as_a_stencil_of_one_sample_is_as_heavy_as_it_is(
    page: Plated, decode: bytes, width: float
) -> None:
    # As ISO 32000-2, 8.9.6.2 has it: a sample of 0 is painted, or one of 1 where Decode turns them.
    picture = b" BI /IM true /W 1 /H 1 /BPC 1 " + decode + b" EI Q "
    drawn = page.draw(b"0 0 0 1 k q 400 0 0 -%g 100.3 300.3 cm" % width + picture)
    assert drawn.share("Black") == pytest.approx(400 * width, rel=EXACT)


def test_a_stencil_of_one_sample_may_paint_nothing(page: Plated) -> None:
    drawn = page.draw(b"0 0 0 1 k q 400 0 0 4 100 300 cm BI /IM true /W 1 /H 1 /BPC 1 ID \x80 EI Q")
    assert drawn.plates.inks == {}


def test_text_that_reads_like_a_rectangle_is_still_that_text(page: Plated) -> None:
    page.resource("Font", "F", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    text = b"0 0 0 1 k BT /F 20 Tf 50 300 Td (%b 1 1 m 9 1 l 9 9 l 1 9 l f) Tj ET"
    plain = page.draw(text % b"").share("Black")
    beside = page.draw(b"1 1 m 9 1 l 9 9 l 1 9 l n " + text % b"").share("Black")
    assert plain == beside > 0


@pytest.mark.parametrize("form", [b"%g %g %g %g re f ", b"%g %g m %g %g l %g %g l %g %g l h f "])
def test_rules_that_meet_at_their_ends_are_as_heavy_as_they_are(page: Plated, form: bytes) -> None:
    # The borders of a table's cells as word processors draw them: a square at each corner, rules between.
    boxes = [(100.3 + 60 * column, 100.3 + 20 * row, 0.48, 0.48) for row in range(9) for column in range(6)]
    boxes += [(x + 0.48, y, 59.52, 0.48) for x, y, _, _ in boxes]
    boxes.sort(key=lambda box: (box[1], box[0]))
    if b"re" in form:
        rules = b"".join(form % box for box in boxes)
    else:
        rules = b"".join(form % (x, y, x + w, y, x + w, y + h, x, y + h) for x, y, w, h in boxes)
    drawn = page.draw(b"0 0 0 1 k " + rules)
    assert drawn.share("Black") == pytest.approx(9 * 360 * 0.48, rel=EXACT)


def test_strips_side_by_side_have_no_seams(page: Plated) -> None:
    # A gradient made of strips half a pixel wide, as drawing programs write them.
    strips = b"".join(b"%g 100 0.5 400 re f " % (100 + each / 2) for each in range(200))
    assert page.draw(b"0 0 0 1 k " + strips).share("Black") >= 400 * 100 * (1 - EXACT)
    drawn = b"".join(
        b"%g 100 m %g 500 l %g 500 l %g 100 l h f " % (x, x, x + 0.5, x + 0.5)
        for x in (100 + each / 2 for each in range(200))
    )
    assert page.draw(b"0 0 0 1 k " + drawn).share("Black") >= 400 * 100 * (1 - EXACT)


def test_a_line_of_no_width_is_the_thinnest_of_a_digital_press(page: Plated) -> None:
    # 1/600 inch; common practice for what a width of 0 means (ISO 32000-2, 8.4.3.2: the thinnest line).
    drawn = page.draw(b"0 0 0 1 K 0 w 100 100.3 m 500 100.3 l S")
    assert drawn.share("Black") == pytest.approx(400 * 0.12, rel=0.1)


def test_the_last_pixel_of_the_sheet_is_as_full_as_the_sheet(page: Plated) -> None:
    page.page.obj.MediaBox = [0, 0, 71, 71]  # 150.5 pixels of 6 a millimetre
    drawn = page.draw(b"1 0 0 0 k 0 0 100 100 re f")
    assert drawn.share("Cyan") == pytest.approx(71 * 71, rel=0.003)


# A digit one of a plain typeface is a rectangle in parts; small letters are where renderers round most.
@pytest.mark.parametrize("size", [6, 10, 14])
def test_letters_are_as_heavy_as_drawn_twelve_times_finer(page: Plated, size: int) -> None:
    font = Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica)
    page.resource("Font", "F", font)
    lines = b"".join(
        b"1 0 0 1 50.3 %.2f Tm (Illinois 1101 HHTL - letters) Tj " % (100 + 20.3 * row) for row in range(20)
    )
    drawn = page.draw(b"0 0 0 1 k BT /F %d Tf " % size + lines + b"ET")
    assert drawn.share("Black") == pytest.approx(finer_share(page.path), rel=0.015)
    assert any("font" in reason for reason in drawn.plates.approximate)


def test_a_dash_in_text_is_as_heavy_as_it_is(page: Plated) -> None:
    page.resource("Font", "F", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    lines = b"".join(
        b"1 0 0 1 %.2f %.2f Tm (________) Tj " % (50.3 + 0.13 * row, 100 + 20.31 * row) for row in range(20)
    )
    text = b"0 0 0 1 k BT /F 9 Tf " + lines + b"ET"
    # Turned by a tenth, no part of a letter is an upright rectangle that the renderer could widen.
    page.save(b"0.995037 0.099504 -0.099504 0.995037 60 -20 cm " + text)
    heavy = finer_share(page.path)
    assert page.draw(text).share("Black") == pytest.approx(heavy, rel=0.015)


def test_letters_made_bold_by_a_thin_line_are_as_bold_as_that(page: Plated) -> None:
    page.resource("Font", "F", Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica))
    text = b"BT /F 40 Tf 50 300 Td (Outline) Tj ET"
    plain = page.draw(b"0 0 0 1 k 0 0 0 1 K " + text).share("Black")
    thin = page.draw(b"0 0 0 1 k 0 0 0 1 K 0.3 w 2 Tr " + text).share("Black")
    wide = page.draw(b"0 0 0 1 k 0 0 0 1 K 3 w 2 Tr " + text).share("Black")
    # Half of the line lies outside of the letter: the growth is about in proportion to its width.
    assert thin - plain == pytest.approx((wide - plain) / 10, rel=0.3)


@pytest.mark.parametrize("width", [0.2, 0.5, 2.0])
@pytest.mark.parametrize("path", [b"100 100.3 m 150 100.3 l 120 150 l h B", b"100.2 100.2 50 40 re b*"])
def test_an_outline_takes_nothing_away_from_what_it_surrounds(
    page: Plated, path: bytes, width: float
) -> None:
    drawn = page.draw(b"0 0 0 1 k 0 0 0 1 K %g w " % width + path)
    assert drawn.share("Black") == pytest.approx(finer_share(page.path), rel=0.005)
