# All pictures of a page out of its plates: what they show, how they are turned, what they weigh.

from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from hotfolder.colour.soft_proof import InkColours
from hotfolder.drawing.proofs.coverage import coverage_picture
from hotfolder.drawing.proofs.edges import edge_pictures
from hotfolder.drawing.proofs.pictures import ProofWanted, page_proof
from hotfolder.drawing.proofs.separations import plate_pictures
from hotfolder.drawing.proofs.sheet import Cut, SheetPlates
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.inks import CELL_PT, PageInk
from hotfolder.model.pictures import EncodedPicture, PageProof
from hotfolder.model.plates import PagePlates, PlateFrame
from tests.drawing.plates_by_hand import (
    CUT,
    LOOKS,
    SHEET,
    SPOT,
    TRIM,
    WHITE,
    fill,
    flyer_plates,
    frame_of,
    ink_of,
    mm_box,
    page_of,
    plates_of,
)

BLEED_PT = 3 * CELL_PT
COLOURS = InkColours(None, LOOKS)


def blank(frame: PlateFrame, *names: str) -> dict[str, np.ndarray[tuple[int, ...], np.dtype[np.uint8]]]:
    return {name: np.zeros((frame.height_px, frame.width_px), np.uint8) for name in names}


def sheet(plates: PagePlates, rotate: int = 0, left_out: frozenset[str] = frozenset()) -> SheetPlates:
    return SheetPlates(page_of(plates.page, ink_of(plates), rotate=rotate), plates, left_out)


def pixels(picture: EncodedPicture) -> np.ndarray[tuple[int, ...], np.dtype[np.uint8]]:
    image = Image.open(BytesIO(picture.data))
    assert image.size == (picture.width_px, picture.height_px)
    return np.asarray(image.convert("RGB"))


def at(
    picture: EncodedPicture, x_mm: float, y_mm: float, sheet_mm: tuple[float, float]
) -> tuple[int, int, int]:
    """The pixel at a place in millimetres from the picture's bottom left."""
    shown = pixels(picture)
    column = min(shown.shape[1] - 1, int(x_mm / sheet_mm[0] * shown.shape[1]))
    row = min(shown.shape[0] - 1, int((1 - y_mm / sheet_mm[1]) * shown.shape[0]))
    red, green, blue = (int(value) for value in shown[row, column])
    return red, green, blue


def hex_of(colour: tuple[int, int, int]) -> str:
    return "#{:02x}{:02x}{:02x}".format(*colour)


A5 = (154.0, 216.0)


def patches(**percents: float) -> PagePlates:
    """Squares of 20 mm from the left, 10 mm above the bottom: one for each total in percent."""
    frame = frame_of(SHEET)
    inks = blank(frame, *PROCESS_INKS)
    for place, total in enumerate(percents.values()):
        box = mm_box(5 + 25 * place, 10, 25 + 25 * place, 30)
        for number, name in enumerate(PROCESS_INKS):
            fill(inks[name], frame, box, min(100.0, max(0.0, total - 100 * number)))
    return plates_of(inks, frame)


def test_coverage_has_a_tone_for_each_half_ink_darker_for_more() -> None:
    plates = patches(one=40, two=90, three=190, four=240, five=340)
    shown = coverage_picture(sheet(plates), None)
    steps = {step.tone: step.up_to_percent for step in shown.scale}
    found = [steps[hex_of(at(shown.picture, 15 + 25 * place, 20, A5))] for place in range(5)]
    assert found == [50, 100, 200, 250, 350]
    lightness = [sum(bytes.fromhex(step.tone[1:])) for step in shown.scale]
    assert lightness == sorted(lightness, reverse=True)
    assert len(set(lightness)) == len(shown.scale) == 10
    assert shown.scale[0].tone == hex_of(at(shown.picture, 75, 100, A5)) == "#ffffff"
    assert shown.scale[-1].up_to_percent is None


def hatched(shown: EncodedPicture, box_mm: tuple[float, float, float, float], tone: str) -> bool:
    """Whether there is white in the box beside `tone`."""
    x0, y0, x1, y1 = box_mm
    image = pixels(shown)
    per_mm = image.shape[1] / A5[0]
    rows = slice(round((A5[1] - y1) * per_mm) + 1, round((A5[1] - y0) * per_mm) - 1)
    columns = slice(round(x0 * per_mm) + 1, round(x1 * per_mm) - 1)
    colours = {
        hex_of((int(r), int(g), int(b))) for r, g, b in np.unique(image[rows, columns].reshape(-1, 3), axis=0)
    }
    assert colours <= {"#ffffff", tone}
    return "#ffffff" in colours


def test_what_is_over_the_limit_is_hatched_and_nothing_else() -> None:
    plates = patches(over=340, at=300)
    shown = coverage_picture(sheet(plates), 300)
    assert hatched(shown.picture, (5, 10, 25, 30), shown.scale[7].tone)
    assert not hatched(shown.picture, (32, 12, 48, 28), shown.scale[6].tone)
    assert shown.limit_percent == 300
    assert not hatched(coverage_picture(sheet(plates), 345).picture, (7, 12, 23, 28), shown.scale[7].tone)


def test_rounding_is_not_over_the_limit() -> None:
    plates = patches(near=300.6)
    shown = coverage_picture(sheet(plates), 300)
    assert not hatched(shown.picture, (7, 12, 23, 28), shown.scale[7].tone)


def test_colour_bars_outside_of_the_bleed_are_not_hatched() -> None:
    plates = patches(over=340)
    inside, outside = mm_box(0, 0, 154, 216), mm_box(0, 50, 154, 216)
    for within, expected in ((inside, True), (outside, False)):
        shown = coverage_picture(sheet(plates), 300, within)
        assert hatched(shown.picture, (7, 12, 23, 28), shown.scale[7].tone) is expected


def test_one_square_millimetre_over_the_limit_can_be_seen_on_a_poster() -> None:
    poster = mm_box(0, 0, 600, 840)
    frame = frame_of(poster, 3)
    inks = blank(frame, *PROCESS_INKS)
    for name in PROCESS_INKS:
        fill(inks[name], frame, mm_box(300, 400, 301, 401), 100)
    plates = plates_of(inks, frame, sheet=poster)
    shown = pixels(coverage_picture(sheet(plates), 300).picture)
    assert 9 <= np.count_nonzero((shown == 0).all(axis=2)) <= 100  # the rim around it


def test_technical_inks_count_neither_in_the_tones_nor_in_the_hatching() -> None:
    frame = frame_of(SHEET)
    inks = blank(frame, *PROCESS_INKS, CUT)
    for name in inks:
        fill(inks[name], frame, mm_box(5, 10, 25, 30), 70)
    plates = plates_of(inks, frame)
    with_cut = coverage_picture(sheet(plates), 300)
    without = coverage_picture(sheet(plates, left_out=frozenset({CUT})), 300)
    assert hatched(with_cut.picture, (7, 12, 23, 28), with_cut.scale[7].tone)
    assert not hatched(without.picture, (7, 12, 23, 28), without.scale[6].tone)


def test_each_plate_is_shown_in_its_own_colour() -> None:
    frame = frame_of(SHEET)
    inks = blank(frame, "Cyan", "Yellow", SPOT)
    for name in ("Cyan", SPOT):
        fill(inks[name], frame, mm_box(10, 10, 60, 60), 100)
    plates = plates_of(inks, frame)
    shown = plate_pictures(sheet(plates), COLOURS)
    assert [plate.ink for plate in shown] == ["Cyan", SPOT]  # the yellow plate carries nothing
    for plate in shown:
        full = tuple(int(value) for value in COLOURS.tints(plate.ink)[255])
        assert at(plate.picture, 35, 35, A5) == pytest.approx(full, abs=6)
        assert at(plate.picture, 120, 150, A5) == (255, 255, 255)
        assert plate.own_colour
        assert plate.ink in plate.picture.alt


def test_a_plate_of_white_is_shown_in_grey() -> None:
    frame = frame_of(SHEET)
    inks = blank(frame, WHITE)
    fill(inks[WHITE], frame, mm_box(10, 10, 60, 60), 100)
    (shown,) = plate_pictures(sheet(plates_of(inks, frame)), COLOURS)
    assert not shown.own_colour
    assert at(shown.picture, 35, 35, A5) == (0, 0, 0)


def corners() -> PagePlates:
    """Cyan in the top left corner of the sheet, magenta in the top right one."""
    frame = frame_of(SHEET)
    inks = blank(frame, "Cyan", "Magenta")
    fill(inks["Cyan"], frame, mm_box(0, 186, 30, 216), 100)
    fill(inks["Magenta"], frame, mm_box(124, 186, 154, 216), 100)
    return plates_of(inks, frame, screen=np.full((frame.height_px, frame.width_px, 3), 255, np.uint8))


# ISO 32000-2, Table 31: Rotate is clockwise. Where the top left corner of the page comes to lie, as
# shares of the picture from its left and top, and where the top right one does.
TURNED = {0: ((0, 0), (1, 0)), 90: ((1, 0), (1, 1)), 180: ((1, 1), (0, 1)), 270: ((0, 1), (0, 0))}


@pytest.mark.parametrize("rotate", TURNED)
def test_every_picture_of_the_page_is_turned_as_it_is_seen(rotate: int) -> None:
    plates = corners()
    page = page_of(1, ink_of(plates), rotate=rotate)
    proof = page_proof(plates, page, COLOURS, ProofWanted("", BLEED_PT))
    upright = rotate in {0, 180}
    assert proof.printed.rotate == rotate
    assert proof.coverage is not None
    assert proof.meant is not None
    whole = EncodedPicture(
        proof.printed.data, proof.printed.media_type, proof.printed.width_px, proof.printed.height_px, ""
    )
    cyan, magenta = (tuple(int(v) for v in COLOURS.tints(ink)[255]) for ink in ("Cyan", "Magenta"))
    for picture in (whole, proof.coverage.picture, proof.meant, *(plate.picture for plate in proof.plates)):
        assert (picture.height_px > picture.width_px) is upright
    shown = pixels(whole)
    for (right, down), colour in zip(TURNED[rotate], (cyan, magenta), strict=True):
        row = 5 + down * (shown.shape[0] - 11)
        column = 5 + right * (shown.shape[1] - 11)
        assert tuple(int(value) for value in shown[row, column]) == pytest.approx(colour, abs=6)


def test_the_picture_says_what_it_shows_to_the_pixel() -> None:
    odd = Box(1.0, 2.0, 300.3, 401.7)
    columns, rows = 107, 143
    frame = PlateFrame(0.0, 142 * CELL_PT, 3, columns * 3, rows * 3)
    inks = blank(frame, "Black")
    plates = plates_of(inks, frame, sheet=odd)
    proof = page_proof(plates, page_of(1, ink_of(plates)), COLOURS, ProofWanted("", 0))
    box = proof.printed.box
    assert box is not None
    for side in ("x0", "y0", "x1", "y1"):
        assert getattr(box, side) == pytest.approx(getattr(odd, side), abs=frame.pixel_pt / 2)
    assert proof.printed.width_px == round(box.width / frame.pixel_pt)


def edged() -> PagePlates:
    """Ink over the whole sheet, of another kind at each edge: 2 mm wide strips inside the trim."""
    frame = frame_of(SHEET)
    inks = blank(frame, *PROCESS_INKS)
    fill(inks["Cyan"], frame, mm_box(3, 211, 151, 216), 100)  # top
    fill(inks["Magenta"], frame, mm_box(149, 3, 154, 213), 100)  # right
    fill(inks["Yellow"], frame, mm_box(3, 0, 151, 5), 100)  # bottom
    fill(inks["Black"], frame, mm_box(0, 3, 5, 213), 100)  # left
    return plates_of(inks, frame)


def test_the_edges_lie_with_their_outside_up_clockwise_from_the_top() -> None:
    shown = edge_pictures(sheet(edged()), TRIM, BLEED_PT, COLOURS)
    assert [strip.edge for strip in shown] == [Edge.TOP, Edge.RIGHT, Edge.BOTTOM, Edge.LEFT]
    for strip, ink in zip(shown, ("Cyan", "Magenta", "Yellow", "Black"), strict=True):
        image = pixels(strip.picture)
        assert image.shape[1] > 5 * image.shape[0]
        outer = image[3, image.shape[1] // 2]
        full = tuple(int(value) for value in COLOURS.tints(ink)[255])
        assert tuple(int(value) for value in outer) == pytest.approx(full, abs=10), ink
        # 3 mm of bleed and 5 mm inside the trim are shown, of which 2 mm carry ink.
        assert tuple(image[-3, image.shape[1] // 2]) == (255, 255, 255)
    right = shown[1]
    assert (right.box.x0, right.box.x1) == pytest.approx((146 * CELL_PT, 154 * CELL_PT))


def test_a_strip_runs_clockwise_along_its_edge() -> None:
    frame = frame_of(SHEET)
    inks = blank(frame, "Cyan")
    fill(inks["Cyan"], frame, mm_box(146, 150, 154, 216), 100)  # the upper part of the right edge
    strips = {
        strip.edge: pixels(strip.picture)
        for strip in edge_pictures(sheet(plates_of(inks, frame)), TRIM, BLEED_PT, COLOURS)
    }
    right, bottom = strips[Edge.RIGHT], strips[Edge.BOTTOM]
    assert tuple(right[10, 20]) != (255, 255, 255)
    assert tuple(right[10, -20]) == (255, 255, 255)
    assert (bottom == 255).all()
    top = strips[Edge.TOP]
    assert tuple(top[10, -20]) != (255, 255, 255)
    assert tuple(top[10, 20]) == (255, 255, 255)


@pytest.mark.parametrize(
    ("rotate", "seen"), [(0, Edge.TOP), (90, Edge.RIGHT), (180, Edge.BOTTOM), (270, Edge.LEFT)]
)
def test_an_edge_is_called_as_the_page_is_seen(rotate: int, seen: Edge) -> None:
    strips = edge_pictures(sheet(edged(), rotate), TRIM, BLEED_PT, COLOURS)
    (top,) = (strip for strip in strips if strip.edge is Edge.TOP)
    assert top.seen is seen
    assert seen.value in top.picture.alt


def test_a_cut_is_held_in_its_frame() -> None:
    frame = frame_of(SHEET)
    assert Cut.of(frame, SHEET.grown(50)) == Cut(0, 0, frame.width_px, frame.height_px)
    assert Cut.of(frame, mm_box(-20, -20, -10, -10)) is None
    assert Cut.of(frame, mm_box(10, 206, 20, 216)) == Cut(60, 0, 120, 60)


def weight(proof: PageProof) -> int:
    pictures = [proof.meant, proof.coverage.picture if proof.coverage else None]
    pictures += [plate.picture for plate in proof.plates] + [strip.picture for strip in proof.edges]
    return len(proof.printed.data) + sum(len(picture.data) for picture in pictures if picture is not None)


def test_a_page_of_a_flyer_is_light() -> None:
    plates = flyer_plates(grain=8)
    ink = ink_of(plates)
    proof = page_proof(plates, page_of(1, ink), COLOURS, ProofWanted("", BLEED_PT, 300, frozenset({CUT})))
    assert proof.left_out == (CUT,)
    assert len(proof.plates) == 6
    assert len(proof.edges) == 4
    assert weight(proof) < 200_000


def test_no_page_is_heavier_than_half_of_what_two_may_weigh() -> None:
    """1.5 MB as base64 (RFC 4648: four characters for three bytes), less 80 kB for the words."""
    frame = frame_of(SHEET)
    chance = np.random.default_rng(11)
    names = (*PROCESS_INKS, SPOT, CUT, WHITE)
    inks = {
        name: chance.integers(0, 256, (frame.height_px, frame.width_px), dtype=np.uint8) for name in names
    }
    screen = chance.integers(0, 256, (frame.height_px, frame.width_px, 3), dtype=np.uint8)
    plates = plates_of(inks, frame, screen=screen)
    ink = ink_of(plates)
    proof = page_proof(plates, page_of(1, ink), COLOURS, ProofWanted("", BLEED_PT, 100))
    assert 100_000 < weight(proof) < (1_500_000 - 80_000) * 3 / 4 / 2


def test_a_page_that_is_not_among_the_first_has_its_proof_only() -> None:
    plates = flyer_plates(px_per_mm=3)
    ink = ink_of(plates)
    proof = page_proof(plates, page_of(1, ink), COLOURS, ProofWanted("", BLEED_PT, whole=False, edges=False))
    assert (proof.coverage, proof.plates, proof.edges) == (None, (), ())
    assert proof.printed.width_px == 154 * 3


def test_facts_of_plates_that_carry_nothing_still_make_pictures() -> None:
    frame = frame_of(SHEET)
    plates = PagePlates(1, SHEET, frame, {}, {}, None)
    ink = PageInk(ink_of(patches(a=10)).cells, (), 0.0, 0.0, ())
    proof = page_proof(plates, page_of(1, ink), COLOURS, ProofWanted("", BLEED_PT, 300))
    assert (
        pixels(EncodedPicture(proof.printed.data, "", proof.printed.width_px, proof.printed.height_px, ""))
        == 255
    ).all()
    assert proof.plates == ()
