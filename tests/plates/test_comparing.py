# The comparison itself: both sides come to the same cells, and what differs is seen and counted.
from dataclasses import replace
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, String

from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT
from hotfolder.model.plates import PagePlates, PlateFrame
from tests.plates.comparing import Compared, PageCompared, cells_of, most, plain
from tests.plates.copies import has_tagged_press_colours, names_intents, write_copy
from tests.plates.reference_cells import _means, close_frame, most_ink_at, most_ink_of
from tests.plates.summary import Summary

FRAME = PlateFrame(0.0, 2 * CELL_PT, 3, 12, 6)


def page(*plates: Compared, ours: float = 100.0, theirs: float = 100.0, undrawn: str = "") -> PageCompared:
    return PageCompared("made.pdf", 1, "Made by hand", plates, ours, theirs, undrawn=undrawn)


def test_a_cell_is_the_mean_of_its_pixels() -> None:
    picture = np.zeros((6, 12), np.uint8)
    picture[0:3, 0:3] = 255
    picture[3, 3:6] = 255  # a row of three
    cells = cells_of(picture, FRAME)
    assert cells.shape == (2, 4)
    assert cells[0, 0] == pytest.approx(100)
    assert cells[1, 1] == pytest.approx(100 / 3)
    assert cells.sum() == pytest.approx(100 + 100 / 3)


def test_the_most_ink_slides_on_both_sides() -> None:
    """A square millimetre of two full inks, laid across four cells."""
    ours, theirs = np.zeros((6, 12), np.uint8), np.zeros((24, 48), np.uint8)
    ours[1:4, 2:5] = theirs[4:16, 8:20] = 255
    both = ("Cyan", "Black")
    drawn = PagePlates(1, FRAME.box, FRAME, dict.fromkeys(both, ours), {}, None)
    assert most(drawn) == pytest.approx(200)
    total = 2 * theirs.astype(np.int64)
    assert most_ink_of(total, 12) == pytest.approx(200)
    assert most_ink_of(total, drawn.frame.px_per_mm) == pytest.approx(200)


def test_the_most_ink_is_what_the_facts_tell() -> None:
    """Pixels of a third of a millimetre say 200 %; drawn closely, it was found to be 180."""
    ours = np.zeros((6, 12), np.uint8)
    ours[1:4, 2:5] = 255
    drawn = PagePlates(1, FRAME.box, FRAME, {"Cyan": ours, "Black": ours}, {}, None)
    assert most(replace(drawn, most_1mm2=1.8 * 255)) == pytest.approx(180)


def test_squares_of_the_reference_slide_as_finely_as_they_are_asked_to() -> None:
    """One millimetre of full ink, a quarter of one off the corner in both directions."""
    total = np.zeros((36, 36), np.int64)
    total[3:15, 3:15] = 255
    assert most_ink_of(total, 12) == pytest.approx(100)
    assert most_ink_of(total, 3) == pytest.approx(100 * (11 / 12) ** 2)
    assert most_ink_of(total, 1) == pytest.approx(100 * 0.75**2)


def test_a_finer_grid_of_pixels_comes_to_the_same_cells() -> None:
    picture = np.zeros((24, 48), np.uint8)
    picture[:12, 12:18] = 255  # half of the second cell of the first row
    cells = _means({"Cyan": picture, "Black": np.zeros_like(picture)}, 2, 4)
    assert set(cells) == {"Cyan"}
    assert cells["Cyan"][0] == pytest.approx([0, 50, 0, 0])
    assert cells["Cyan"][1] == pytest.approx([0, 0, 0, 0])


def test_a_picture_that_lacks_a_row_is_bare_there() -> None:
    cells = _means({"Cyan": np.full((23, 48), 255, np.uint8)}, 2, 4)["Cyan"]
    assert cells[:, 0] == pytest.approx([100, 100 * 11 / 12])


def test_names_of_inks_are_the_same_however_a_file_system_spells_them() -> None:
    assert plain("Lantern Red") == plain("LANTERN_RED") != plain("Lantern Green")
    assert plain("朱") != plain("藍")


def test_half_a_point_of_a_mean_is_the_same_and_more_is_not() -> None:
    assert Compared("Cyan", 10.0, 10.5).agrees
    assert not Compared("Cyan", 10.0, 10.51).agrees


def test_three_points_of_the_most_ink_are_the_same_and_more_are_not() -> None:
    assert page(ours=300, theirs=303).most_agrees
    assert not page(ours=300, theirs=303.1).most_agrees


def test_what_lies_between_two_means_of_theirs_is_the_same() -> None:
    assert Compared("Cyan", 9.6, 11.0, 10.0).agrees
    assert not Compared("Cyan", 9.4, 11.0, 10.0).agrees
    assert not Compared("Cyan", 11.6, 11.0, 10.0).agrees


def test_what_is_drawn_closely_counts_instead() -> None:
    close = replace(page(ours=300, theirs=306), again=299, ours_again=310)
    assert close.most_agrees
    assert close.apart == pytest.approx(1)
    assert not close.agrees_closely
    assert not replace(close, again=296).most_agrees
    assert not replace(close, again=296).agrees
    agreeing = replace(close, again=296, ours_again=297)
    assert agreeing.agrees_closely
    assert not agreeing.agrees  # as the program draws
    summary = Summary((agreeing, close))
    assert summary.pages_that_agree == pytest.approx(1 / 2)
    assert summary.pages_that_agree_closely == pytest.approx(1)


def test_a_place_drawn_closely_is_the_same_place() -> None:
    total = np.zeros((36, 36), np.int64)
    total[16:28, 8:20] = 255
    found, place = most_ink_at(total, 3)
    assert found == pytest.approx(100)
    assert place == (4, 2)
    box = close_frame(PlateFrame(0.0, 3 * CELL_PT, 3, 9, 9), place, 48).box
    middle = 3 * CELL_PT - 5.5 / 3 * CELL_PT
    assert ((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2) == pytest.approx((3.5 / 3 * CELL_PT, middle))
    assert (box.width, box.height) == pytest.approx((3 * CELL_PT, 3 * CELL_PT))


def test_what_differs_without_a_reason_is_unexplained() -> None:
    good, mean = page(Compared("Cyan", 1, 1)), page(Compared("Cyan", 1, 2))
    high, none = page(ours=300, theirs=350), page(undrawn="ours: no")
    summary = Summary((good, mean, high, none))
    assert summary.unexplained == (mean, high, none)
    assert summary.compared == (good, mean, high)
    assert summary.plates_that_agree == pytest.approx(1 / 2)
    assert summary.pages_that_agree == pytest.approx(2 / 3)
    assert summary.producers == {"Made": 3}


def test_a_copy_is_one_upright_page_without_intent_and_crop(tmp_path: Path) -> None:
    made, copied = tmp_path / "made.pdf", tmp_path / "copy.pdf"
    with pikepdf.new() as pdf:
        for side in (100, 200):
            each = pdf.add_blank_page(page_size=(side, side))
            each.obj.Rotate = 90
            each.obj.CropBox = Array([10, 10, 20, 20])
        pdf.Root.OutputIntents = Array([Dictionary(OutputConditionIdentifier=String("FOGRA29"))])
        pdf.save(made)
    write_copy(made, copied, 2)
    with pikepdf.open(copied) as pdf:
        [each] = pdf.pages
        assert "/OutputIntents" not in pdf.Root
        assert int(each.obj.Rotate) == 0
        assert [float(side) for side in each.mediabox] == [0, 0, 200, 200]
        assert [float(side) for side in each.cropbox] == [0, 0, 200, 200]


@pytest.mark.parametrize(("components", "tagged"), [(1, True), (3, False), (4, True)])
def test_profiles_of_grey_and_cmyk_are_noticed(components: int, tagged: bool, tmp_path: Path) -> None:  # noqa: FBT001 - a case
    path = tmp_path / "made.pdf"
    with pikepdf.new() as pdf:
        sheet = pdf.add_blank_page()
        profile = pdf.make_stream(b"any")
        profile.N = components
        indexed = Array([Name.Indexed, Array([Name.ICCBased, profile]), 0, String(b"abcd")])
        sheet.obj.Resources = Dictionary(ColorSpace=Dictionary(Space=indexed))
        pdf.save(path)
    assert has_tagged_press_colours(path) is tagged


@pytest.mark.parametrize(("intent", "names"), [("Perceptual", True), ("RelativeColorimetric", False)])
def test_intents_that_a_file_asks_for_are_noticed(intent: str, names: bool, tmp_path: Path) -> None:  # noqa: FBT001 - a case
    one, two = tmp_path / "one.pdf", tmp_path / "two.pdf"
    with pikepdf.new() as pdf:
        sheet = pdf.add_blank_page()
        sheet.obj.Contents = pdf.make_stream(f"/{intent} ri 0 0 9 9 re f".encode())
        pdf.save(one)
        sheet.obj.Contents = pdf.make_stream(b"0 0 9 9 re f")
        sheet.obj.Resources = Dictionary(
            ExtGState=Dictionary(G=pdf.make_indirect(Dictionary(RI=Name(f"/{intent}"))))
        )
        pdf.save(two)
    assert names_intents(one) is names_intents(two) is names


def test_a_page_that_is_broken_asks_for_no_intent(tmp_path: Path) -> None:
    path = tmp_path / "made.pdf"
    with pikepdf.new() as pdf:
        sheet = pdf.add_blank_page()
        sheet.obj.Contents = pdf.make_stream(b"no such data", Filter=Name.FlateDecode)
        pdf.save(path)
    assert not names_intents(path)


def test_a_copy_on_a_larger_sheet_is_cut_where_its_own_sheet_ended(tmp_path: Path) -> None:
    made, copied = tmp_path / "made.pdf", tmp_path / "copy.pdf"
    with pikepdf.new() as pdf:
        each = pdf.add_blank_page(page_size=(100, 50))
        each.obj.UserUnit = 2
        pdf.save(made)
    write_copy(made, copied, 1, frame=Box(-4, -2, 204, 102), user_unit=2)
    with pikepdf.open(copied) as pdf:
        [each] = pdf.pages
        assert [float(side) for side in each.mediabox] == [-2, -1, 102, 51]
        content = b"".join(part.read_bytes() for part in each.obj.Contents)
        assert content.split() == b"q 0.0 0.0 100.0 50.0 re W n Q".split()
