# The most ink on a square millimetre: drawn closely where it may lie, so that it is what geometry makes it.
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.drawing.plates import drawings
from hotfolder.drawing.plates.pdf import PdfPlates
from hotfolder.measure import measure
from hotfolder.measure.inks.heavy_ink import most_ink
from hotfolder.model.inks import CELL_PT
from hotfolder.model.plates import PagePlates
from tests.drawing.rewriting.rewritten_page import Plated, coated

# A frame's pixels are a third of a millimetre on this sheet; eight bits a plate are good for one percent.
LARGE = 620.0
WITHIN = 1.0


@pytest.fixture
def page(tmp_path: Path) -> Plated:
    made = Plated(tmp_path / "a.pdf")
    made.page.obj.MediaBox = Array([0, 0, LARGE, LARGE])
    return made


def most(plates: PagePlates) -> float:
    """The most ink on a square millimetre, in percent."""
    if plates.most_1mm2 is not None:
        return plates.most_1mm2 / 2.55
    return most_ink(list(plates.inks.values()), plates.frame.px_per_mm)[1] / 2.55


def lines(count: int, width_mm: float, step_mm: float, shift_mm: float = 0.13) -> bytes:
    """Level lines of 50 mm, one below the other."""
    left, right, top = 10 * CELL_PT, 60 * CELL_PT, LARGE - (10 + shift_mm) * CELL_PT
    rows = (top - number * step_mm * CELL_PT for number in range(count))
    drawn = b"".join(b"%.5f %.5f m %.5f %.5f l S " % (left, row, right, row) for row in rows)
    return b"%.5f w " % (width_mm * CELL_PT) + drawn


def type_3(page: Plated, glyph: bytes) -> None:
    """A font of one letter, `a`, a square of a thousandth of its size each way."""
    procedure = page.stream(b"1000 0 0 0 1000 1000 d1 " + glyph)
    font = Dictionary(
        Type=Name.Font,
        Subtype=Name.Type3,
        FontBBox=Array([0, 0, 1000, 1000]),
        FontMatrix=Array([0.001, 0, 0, 0.001, 0, 0]),
        CharProcs=Dictionary(a=procedure),
        Encoding=Dictionary(Differences=Array([97, Name.a])),
        FirstChar=97,
        LastChar=97,
        Widths=Array([1000]),
    )
    page.resource("Font", "Drawn", page.pdf.make_indirect(font))


@pytest.mark.parametrize("shift", [0.0, 0.08, 0.13, 0.21, 0.3])
def test_fine_lines_in_black_are_as_heavy_as_they_are_wide(page: Plated, shift: float) -> None:
    """Lines of 0.1 mm every 0.25 mm: four of them in any square millimetre, at 40 %."""
    drawn = page.draw(b"0 0 0 1 K " + lines(40, 0.1, 0.25, shift))
    assert most(drawn.plates) == pytest.approx(40, abs=WITHIN)


def test_rules_painted_twice_are_no_heavier_than_once(page: Plated) -> None:
    """A table's borders of 0.2 mm, once by each of two cells: at a pixel half full, 50 % come out as 75."""
    once = lines(30, 0.2, 0.5)
    drawn = page.draw(b"0 0 0 1 K " + once + once)
    assert most(drawn.plates) == pytest.approx(40, abs=2)


def test_lines_hardly_shine_through_those_that_knock_them_out(page: Plated) -> None:
    """Rules of 0.1 mm in black on others in three inks: 40 % in all, and some of both at their edges.

    At pixels of a third of a millimetre the rules beneath would make it 110 %.
    """
    beneath, above = b"1 1 1 0 K " + lines(40, 0.1, 0.25), b"0 0 0 1 K " + lines(40, 0.1, 0.25)
    drawn = page.draw(beneath + above)
    assert most(drawn.plates) == pytest.approx(40, abs=12)


def test_small_letters_are_as_heavy_as_their_shape(page: Plated) -> None:
    """Letters of 0.5 mm, each a bar of a fifth of its width: 20 % black, and in four inks 80 % in all."""
    type_3(page, b"0 0 200 1000 re f")
    size = 0.5 * CELL_PT
    rows = b"".join(
        b"BT /Drawn %.5f Tf %.5f %.5f Td (%b) Tj ET " % (size, 30.3, 400.3 - size * number, b"a" * 40)
        for number in range(20)
    )
    assert most(page.draw(b"0 0 0 1 k " + rows).plates) == pytest.approx(20, abs=WITHIN)
    assert most(page.draw(b"1 1 1 1 k " + rows).plates) == pytest.approx(80, abs=4 * WITHIN)


def test_letters_that_are_pictures_are_as_heavy_as_their_pixels(page: Plated) -> None:
    """Letters of 0.6 mm, a stencil of 2 x 2 pixels of which one is painted: a quarter of full ink.

    As pictures of whole pixels of a third of a millimetre they would come out a tenth too light.
    """
    stencil = b"1000 0 0 1000 0 0 cm BI /W 2 /H 2 /IM true /BPC 1 ID \x7f\xff EI"
    type_3(page, stencil.replace(b"\x7f\xff", bytes((0b01000000, 0b11000000))))
    size = 0.6 * CELL_PT
    rows = b"".join(
        b"BT /Drawn %.5f Tf %.5f %.5f Td (%b) Tj ET " % (size, 30.3, 400.3 - size * number, b"a" * 40)
        for number in range(20)
    )
    # A square of a millimetre holds 1 to 2 of the painted pixels each way, of 0.3 mm: 0.6 of it at most.
    assert most(page.draw(b"0 0 0 1 k " + rows).plates) == pytest.approx(36, abs=1)


def test_the_heaviest_of_many_places_is_found_though_others_look_heavier(page: Plated) -> None:
    """Rules painted twice, which only seem heavy, over most of it, and bars of 0.45 of each millimetre."""
    twice = b"".join(lines(60, 0.2, 0.5, shift) for shift in (0.13, 30.13, 60.13))
    bars = b"".join(
        b"%.5f %.5f %.5f %.5f re f " % (80 * CELL_PT + n * CELL_PT, 100, 0.45 * CELL_PT, 200)
        for n in range(30)
    )
    drawn = page.draw(b"0 0 0 1 K 0 0 0 1 k " + twice + twice + bars)
    assert most(drawn.plates) == pytest.approx(45, abs=2)


def test_what_is_filled_evenly_is_left_as_it_is(page: Plated, monkeypatch: pytest.MonkeyPatch) -> None:
    def not_again(*_: object) -> None:
        raise AssertionError("drawn once more")

    monkeypatch.setattr(drawings.PageDrawings, "closely", not_again)
    text = b"0 0 0 1 K " + lines(20, 0.1, 0.25)
    drawn = page.draw(text + b"0.7 0.6 0.6 0.9 k 100 100 200 200 re f")
    assert most(drawn.plates) == pytest.approx(280, abs=1.6)


def test_pictures_are_left_as_they_are(page: Plated, monkeypatch: pytest.MonkeyPatch) -> None:
    def not_again(*_: object) -> None:
        raise AssertionError("drawn once more")

    monkeypatch.setattr(drawings.PageDrawings, "closely", not_again)
    page.image("Photo", bytes(range(0, 160, 10)), Name.DeviceCMYK)
    drawn = page.draw(b"q 300 0 0 300 100 100 cm /Photo Do Q")
    assert most(drawn.plates) == pytest.approx((120 + 130 + 140 + 150) / 2.55, abs=1)


def test_a_page_whose_pictures_are_too_large_to_keep_is_drawn_once(
    page: Plated, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(drawings, "_KEPT_BYTES", 100)
    coarse = page.draw(b"0 0 0 1 K " + lines(30, 0.2, 0.5) * 2)
    assert most(coarse.plates) > 42


def test_pages_blended_in_screen_colours_are_drawn_closely_too(page: Plated) -> None:
    """On a sheet so large that it is drawn only a few times finer: fine lines of black."""
    page.press = coated()
    page.page.obj.Group = Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)
    page.state("Half", ca=0.5)
    drawn = page.draw(b"0 g 0 G " + lines(40, 0.1, 0.25) + b"/Half gs 1 g 0 0 5 5 re f").plates
    solid = page.draw(b"0 g 10 10 300 300 re f /Half gs 1 g 0 0 5 5 re f").plates
    assert most(drawn) == pytest.approx(0.4 * most(solid), abs=4)


def test_only_the_heaviest_places_differ_from_the_drawing_of_the_whole_page(page: Plated) -> None:
    text = b"0 0 0 1 K " + lines(40, 0.1, 0.25) + b"0 0 0 0.3 K " + lines(20, 0.1, 0.25, 60)
    drawn = page.draw(text).plates
    ink = drawn.inks["Black"]
    heavy, light = ink[: 40 * 3], ink[60 * 3 :]
    assert heavy.any()
    assert light.any()
    assert float(np.float64(light.sum()) / 255) == pytest.approx(20 * 0.1 * 50 * 9 * 0.3, rel=0.1)


def test_of_a_book_of_light_pages_only_the_first_are_drawn_closely(tmp_path: Path) -> None:
    """Twenty pages of fine lines of black; and one in four inks, which may matter."""
    with pikepdf.new() as book:
        for number in range(21):
            each = book.add_blank_page(page_size=(LARGE, LARGE))
            colour = b"0 0 0 1 K " if number < 20 else b"1 1 1 1 K "
            each.obj.Contents = book.make_stream(colour + lines(40, 0.1, 0.25))
        book.save(tmp_path / "book.pdf")
    artwork = measure(tmp_path / "book.pdf")
    with PdfPlates(tmp_path / "book.pdf", artwork, None) as drawing:
        drawn = [drawing.draw(page.number) for page in artwork.known_pages]
    plates = [each for each in drawn if isinstance(each, PagePlates)]
    assert len(plates) == 21
    assert [each.most_1mm2 is not None for each in plates] == [True] * 16 + [False] * 4 + [True]
    assert most(plates[0]) == pytest.approx(40, abs=WITHIN)
    assert most(plates[-1]) == pytest.approx(160, abs=4 * WITHIN)
