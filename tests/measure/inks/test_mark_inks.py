# Inks of small text and thin lines: on plates painted by hand, and on those drawn of real pages.

import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.drawing import PlateDrawer
from hotfolder.measure import measure
from hotfolder.measure.inks.ink import measure_ink
from hotfolder.measure.inks.mark_inks import MOST_PIXELS_AT_ONCE, marks_with_inks
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import PROCESS_INKS, Colour, ColourKind, ColourSpace
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT
from hotfolder.model.marks import Mark, MarkKind, MarkState, Source, TextFacts
from hotfolder.model.pages import Page
from hotfolder.model.plates import Bytes
from hotfolder.model.press import Press
from hotfolder.presses.loading import load_press
from tests.artwork.colours import BLACK, CMYK_WHITE
from tests.measure.inks.hand_plates import laid, mm_box, page_of, painted, plates_of
from tests.plates import tiffsep
from tests.seeded.colours import separation
from tests.seeded.planting import Sheet

SHEET = mm_box(0, 0, 200, 300)
BARE = page_of(SHEET, SHEET)
FRAME = laid(BARE).frame

HALF = MarkState(fill_opacity=0.5, stroke_opacity=0.5)
LETTERS = mm_box(20, 30, 40, 32)


def text(box: Box = LETTERS, state: MarkState = HALF, size_pt: float = 6, colour: Colour = BLACK) -> Mark:
    facts = TextFacts(size_pt, "Plain", ink=box, visible_ink=box)
    return Mark(MarkKind.TEXT, box.grown(1), box.grown(1), Source("Tj"), colour, state=state, text=facts)


def line(box: Box, width_pt: float = 0.5, state: MarkState = HALF) -> Mark:
    return Mark(MarkKind.PATH, box, box, Source("S"), stroke=BLACK, state=state, line_width_pt=width_pt)


def strip(box: Box, state: MarkState = HALF) -> Mark:
    return Mark(MarkKind.PATH, box, box, Source("f"), BLACK, state=state)


def bars(box: Box, percent: float) -> list[tuple[Box, float]]:
    """Upright strokes of 0.3 mm every millimetre, which fill no pixel of a third of a millimetre."""
    places = np.arange(box.x0, box.x1 - 0.3 * CELL_PT, CELL_PT)
    return [(Box(x, box.y0, x + 0.3 * CELL_PT, box.y1), percent) for x in places]


def cyan_and_black(*boxes: Box, cyan: float, black: float, ground: float = 60) -> dict[str, Bytes]:
    """Letters in these percentages on cyan ground."""
    strokes = [bars(box, 1) for box in boxes]
    return {
        "Cyan": painted(FRAME, (SHEET, ground), *((bar, cyan) for each in strokes for bar, _ in each)),
        "Black": painted(FRAME, *((bar, black) for each in strokes for bar, _ in each)),
    }


def inks(inks: dict[str, Bytes], *marks: Mark, page: Page = BARE) -> list[tuple[str, ...] | None]:
    """What the plates tell of each mark."""
    told = marks_with_inks(replace(page, marks=marks), plates_of(page, inks))
    assert not isinstance(told, Unmeasured)
    return [mark.inks for mark in told]


HALF_BLACK = cyan_and_black(LETTERS, cyan=30, black=50)


def test_the_inks_that_differ_inside_the_letters_are_theirs() -> None:
    assert inks(HALF_BLACK, text()) == [("Cyan", "Black")]
    assert inks(cyan_and_black(LETTERS, cyan=60, black=100), text()) == [("Black",)]
    assert inks(cyan_and_black(LETTERS, cyan=30, black=0), text(colour=CMYK_WHITE)) == [("Cyan",)]
    assert inks(cyan_and_black(LETTERS, cyan=60, black=0), text(colour=CMYK_WHITE)) == [()]


@pytest.mark.parametrize(
    ("state", "told"),
    [
        (MarkState(), False), (MarkState(blend_mode="Compatible"), False),
        (MarkState(overprint_stroke=True, stroke_opacity=0.5), False),  # and nothing is stroked
        (MarkState(fill_opacity=0.99), True), (MarkState(blend_mode="Multiply"), True),
        (MarkState(soft_mask=True), True),
    ],
)  # fmt: skip
def test_only_marks_that_mix_with_what_lies_beneath_are_looked_at(state: MarkState, *, told: bool) -> None:
    assert inks(HALF_BLACK, text(state=state)) == [("Cyan", "Black") if told else None]


def test_an_opaque_mark_that_takes_ink_away_knocks_out_and_has_the_inks_of_its_colour() -> None:
    overprint = text(state=MarkState(overprint_fill=True))
    assert inks(HALF_BLACK, overprint) == [None]
    assert inks(cyan_and_black(LETTERS, cyan=60, black=100), overprint) == [("Black",)]


def test_text_of_any_size_is_told_and_wide_lines_are_left_to_their_colour() -> None:
    for size_pt in (6, 14, 14.1, 100):
        assert inks(HALF_BLACK, text(size_pt=size_pt)) == [("Cyan", "Black")]
    plates = cyan_and_black(mm_box(20, 30, 20.5, 60), cyan=30, black=50)
    stroke = mm_box(20, 30, 20.3, 60)
    assert inks(plates, line(stroke, 2.8)) == [("Cyan", "Black")]
    assert inks(plates, line(stroke, 2.9)) == [None]
    assert inks(plates, strip(stroke)) == [("Cyan", "Black")]
    assert inks(HALF_BLACK, strip(LETTERS)) == [None]


@pytest.mark.parametrize(
    "changes", [{"printed": False}, {"visible": None}, {"covered": True}, {"repeated": True}]
)
def test_what_does_not_show_or_stands_for_many_is_not_looked_at(changes: dict[str, object]) -> None:
    hidden = replace(text(), **changes)  # type: ignore[arg-type] # a mark's own fields
    assert inks(HALF_BLACK, hidden) == [None]


def test_a_line_that_leaves_no_trace_may_be_too_thin_for_these_plates() -> None:
    stroke = mm_box(20, 30, 60, 30.02)
    assert inks({"Cyan": painted(FRAME, (SHEET, 60))}, line(stroke, 0.05)) == [None]
    drawn = {"Cyan": painted(FRAME, (SHEET, 60)), "Black": painted(FRAME, (stroke, 100))}
    assert inks(drawn, line(stroke, 0.05)) == [("Black",)]


def test_words_and_lines_of_a_paragraph_are_told_together() -> None:
    """Lines 2.8 mm apart whose letters leave 0.4 mm between them: no ground around each one alone."""
    boxes = [mm_box(x, 30 + 2.4 * row, x + 18.5, 32 + 2.4 * row) for row in range(4) for x in (20, 39, 58)]
    marks = [text(box) for box in boxes]
    plates = cyan_and_black(*boxes, cyan=30, black=50)
    assert inks(plates, *marks) == [("Cyan", "Black")] * 12
    assert (
        inks(plates, *(replace(mark, printed=number == 4) for number, mark in enumerate(marks)))
        == [None] * 12
    )


def test_each_piece_is_told_alone_where_not_all_stand_on_the_same_ground() -> None:
    one, two = mm_box(20, 30, 40, 32), mm_box(44, 30, 64, 32)
    plates = cyan_and_black(one, cyan=30, black=50)
    plates["Cyan"] = painted(FRAME, (mm_box(0, 0, 42, 300), 60), *((bar, 30) for bar, _ in bars(one, 1)))
    plates["Black"] = painted(FRAME, *((bar, 50) for box in (one, two) for bar, _ in bars(box, 1)))
    assert inks(plates, text(one), text(two)) == [("Cyan", "Black"), ("Black",)]
    touching = mm_box(41, 30, 64, 32)
    assert inks(plates, text(one), text(touching)) == [("Cyan", "Black"), None]


def test_nothing_is_told_on_a_photo_or_beside_other_things() -> None:
    photo = HALF_BLACK | {"Magenta": _slope()}
    assert inks(photo, text()) == [None]
    ruled = dict(HALF_BLACK)
    ruled["Black"] = np.maximum(ruled["Black"], painted(FRAME, (mm_box(0, 30.8, 200, 31.1), 80)))
    assert inks(ruled, text()) == [None]


def _slope() -> Bytes:
    columns = np.linspace(0, 255, FRAME.width_px).astype(np.uint8)
    return np.broadcast_to(columns, (FRAME.height_px, FRAME.width_px)).copy()


def test_at_the_edge_of_the_sheet_the_ground_on_the_other_sides_counts() -> None:
    at_edge = mm_box(0, 0, 20, 2)
    assert inks(cyan_and_black(at_edge, cyan=30, black=50), text(at_edge)) == [("Cyan", "Black")]
    for beside in (mm_box(200, 20, 200, 22), mm_box(20, 300, 40, 300), mm_box(-9, 20, -5, 22)):
        assert inks(HALF_BLACK, text(beside)) == [None]


def test_on_a_page_blended_in_screen_colours_only_opaque_gradients_are_told() -> None:
    screen = ColourSpace("DeviceRGB", ColourKind.RGB, 3)
    assert inks(HALF_BLACK, text(), page=replace(BARE, blend_space=screen)) == [None]
    process = ColourSpace("DeviceCMYK", ColourKind.CMYK, 4)
    gradient = replace(text(), fill=Colour(process))
    assert inks(HALF_BLACK, gradient, page=replace(BARE, blend_space=screen)) == inks(HALF_BLACK, gradient)
    assert inks(HALF_BLACK, text(), page=replace(BARE, blend_space=process)) == [("Cyan", "Black")]


def test_pages_without_marks_or_plates_stay_as_they_are() -> None:
    unread = Unmeasured("marks", "it ends too early")
    assert marks_with_inks(replace(BARE, marks=unread), plates_of(BARE, HALF_BLACK)) == unread
    assert inks({}, text()) == [None]
    assert inks(HALF_BLACK) == []


def test_a_line_across_the_whole_sheet_is_not_searched_for_in_it() -> None:
    diagonal = line(mm_box(10, 10, 190, 290))
    pixels = 180 * 280 * FRAME.px_per_mm**2
    assert pixels > MOST_PIXELS_AT_ONCE
    assert inks(HALF_BLACK, diagonal) == [None]


def test_thousands_of_pieces_are_told_in_a_moment() -> None:
    boxes = [
        mm_box(4 + 9.5 * (n % 20), 4 + 2.8 * (n // 20), 10 + 9.5 * (n % 20), 6 + 2.8 * (n // 20))
        for n in range(2002)
    ]
    plates = {
        "Cyan": painted(FRAME, (SHEET, 60)),
        "Black": np.zeros((FRAME.height_px, FRAME.width_px), np.uint8),
    }
    # Two kinds in turn, so that none can be told together with its neighbour.
    marks = [text(box, HALF if n % 2 else MarkState(blend_mode="Multiply")) for n, box in enumerate(boxes)]
    page = replace(BARE, marks=tuple(marks))
    started = time.process_time()
    told = marks_with_inks(page, plates_of(BARE, plates))
    took = time.process_time() - started
    assert not isinstance(told, Unmeasured)
    assert [mark.inks for mark in told] == [()] * len(boxes)
    assert took < 1  # a tenth of a second, on a machine at rest


# Real pages

WIDE, HIGH = 70.0, 60.0  # mm

TINT = "0.6 0.4 0 0 k"  # on the left half of the page; the right half is bare
BLACK_INK = "0 0 0 1 k"

Setting = Callable[[Sheet], str]


def how(colour: str, **state: object) -> Setting:
    """Sets a colour and a graphics state."""
    return lambda sheet: f"{sheet.state(**state)} {colour}"


def overprinting_spot(sheet: Sheet) -> str:
    return f"{sheet.state(op=True, OPM=0)} {separation(sheet, 'Lantern Red', 0, 0.9, 0.8, 0)} cs 0.9 scn"


# What is set, and the plates that carry it on a tint of cyan and magenta, and on bare paper. Worked out by
# hand from ISO 32000-2 (clauses from memory): overprint 8.6.7; opacity 11.3.3, each ink is a mean of both;
# Multiply and Screen 11.3.5.2, taken of what the inks leave of the paper (11.3.4), and on bare paper, where
# nothing lies to be blended with, each colour as it is.
SETTINGS: dict[str, tuple[Setting, tuple[str, ...] | None, tuple[str, ...] | None]] = {
    "black at half strength": (how(BLACK_INK, ca=0.5), ("Cyan", "Magenta", "Black"), ("Black",)),
    "black that multiplies": (how(BLACK_INK, BM=Name.Multiply), ("Black",), ("Black",)),
    "black that overprints": (how(BLACK_INK, op=True, OPM=1), ("Black",), ("Black",)),
    "white at half strength": (how("0 0 0 0 k", ca=0.5), ("Cyan", "Magenta"), ()),
    "white that multiplies": (how("0 0 0 0 k", BM=Name.Multiply), (), ()),
    "white that overprints": (how("0 0 0 0 k", op=True, OPM=1), (), ()),
    "yellow that overprints": (how("0 0 1 0 k", op=True, OPM=1), ("Yellow",), ("Yellow",)),
    "pale yellow, not quite opaque": (
        how("0 0 0.3 0 k", ca=0.9), ("Cyan", "Magenta", "Yellow"), ("Yellow",),
    ),
    "the tint's magenta and more cyan": (how("1 0.4 0 0 k", op=True, OPM=1), ("Cyan",), ("Cyan", "Magenta")),
    "cyan that lightens": (how("0.3 0 0 0 k", BM=Name.Screen), ("Cyan", "Magenta"), ("Cyan",)),
    "a spot ink that overprints": (overprinting_spot, ("Lantern Red",), ("Lantern Red",)),
    "black of a screen": (
        how("0 0 0 rg", ca=0.5), PROCESS_INKS, PROCESS_INKS,
    ),
    # Opaque: it knocks the tint out, as all black does that does not overprint.
    "overprint without its mode": (how(BLACK_INK, op=True, OPM=0), None, ("Black",)),
}  # fmt: skip


def blank_sheet() -> Sheet:
    pdf = pikepdf.new()
    corner = WIDE * CELL_PT, HIGH * CELL_PT
    page = pdf.add_blank_page(page_size=corner)
    page.obj.TrimBox = Array([0, 0, *corner])
    return Sheet(pdf, page, Box(0, 0, *corner))


def set_in_type(setting: Setting, path: Path, size_pt: float = 6) -> Path:
    """A page with the same words on the tint and on bare paper, three lines of each."""
    sheet = blank_sheet()
    sheet.area(-1, -1, WIDE / 2, HIGH + 1, TINT)
    for x in (5.0, 5 + WIDE / 2):
        for line_number in range(3):
            sheet.text(x, 30 - line_number * size_pt * 0.42, "Terms and conditions", size_pt, setting(sheet))
    sheet.pdf.save(path)
    return path


def told(path: Path) -> Artwork:
    """The facts of a file with its inks."""
    artwork, press = measure(path), coated()
    with PlateDrawer(path, artwork, press) as drawer:
        return measure_ink(drawer, artwork, press)


def coated() -> Press:
    return load_press("coated")


def inks_of(artwork: Artwork, kind: MarkKind) -> list[tuple[str, ...] | None]:
    return [mark.inks for mark in artwork.known_pages[0].known_marks if mark.kind is kind]


@pytest.mark.parametrize("name", SETTINGS)
@pytest.mark.parametrize("size_pt", [4.0, 7.0])
def test_letters_on_a_drawn_page(name: str, size_pt: float, tmp_path: Path) -> None:
    setting, on_tint, on_paper = SETTINGS[name]
    artwork = told(set_in_type(setting, tmp_path / "a.pdf", size_pt))
    assert inks_of(artwork, MarkKind.TEXT) == [on_tint] * 3 + [on_paper] * 3


def test_lines_on_a_drawn_page(tmp_path: Path) -> None:
    sheet = blank_sheet()
    sheet.area(-1, -1, WIDE + 1, HIGH + 1, TINT)
    half, over = sheet.state(CA=0.5, ca=0.5), sheet.state(OP=True, OPM=1)
    sheet.draw(f"{half} 0 0 0 1 K 0.1 w 10 10 m 60 10 l S")
    sheet.draw(f"{over} 0 0 0 1 K 0.1 w 10 20 m 60 24 l S")
    sheet.draw(f"{half} 0 0 0 0 k 10 30 50 0.2 re f")
    sheet.draw(f"{half} 0 0 0 1 K 0 w 10 40 m 60 40 l S")
    sheet.draw("0 0 0 1 K 0.1 w 10 50 m 60 50 l S")
    sheet.pdf.save(tmp_path / "a.pdf")
    spread = ("Cyan", "Magenta", "Black")
    assert inks_of(told(tmp_path / "a.pdf"), MarkKind.PATH) == [
        None, spread, ("Black",), ("Cyan", "Magenta"), spread, None,
    ]  # fmt: skip


@pytest.mark.skipif(not tiffsep.is_installed(), reason="Ghostscript is not installed")
@pytest.mark.parametrize("name", [name for name in SETTINGS if SETTINGS[name][1] is not None])
def test_ghostscript_separates_the_letters_on_the_same_plates(name: str, tmp_path: Path) -> None:
    """At 305 ppi a stroke of these letters fills pixels: where a plate has them, it is far from even."""
    path = set_in_type(SETTINGS[name][0], tmp_path / "a.pdf", 7)
    plates = tiffsep.draw_plates(path, finer=2)[0]
    found = inks_of(told(path), MarkKind.TEXT)
    per_mm = tiffsep.PX_PER_MM
    for half, marks in ((0.0, found[:3]), (WIDE / 2, found[3:])):
        rows = slice(int((HIGH - 34) * per_mm), int((HIGH - 17) * per_mm))
        columns = slice(int((half + 3) * per_mm), int((half + WIDE / 2 - 2) * per_mm))
        uneven = {name for name, plate in plates.items() if np.ptp(plate[rows, columns]) >= _SHOWN}
        assert [set(inks or ()) for inks in marks] == [uneven] * 3


_SHOWN = 20  # of 255: far above the rounding, and far below all that these letters change


def test_large_letters_are_told_too(tmp_path: Path) -> None:
    sheet = blank_sheet()
    sheet.area(-1, -1, WIDE + 1, HIGH + 1, TINT)
    sheet.text(5, 20, "Sale", 40, f"{sheet.state(ca=0.5)} {BLACK_INK}")
    sheet.pdf.save(tmp_path / "a.pdf")
    assert inks_of(told(tmp_path / "a.pdf"), MarkKind.TEXT) == [("Cyan", "Magenta", "Black")]


def two_colour_gradient(sheet: Sheet, *ends: list[float], space: object = Name.DeviceCMYK) -> str:
    """Chooses a gradient across the page, from one colour to the other."""
    function = Dictionary(FunctionType=2, N=1, Domain=[0, 1], C0=ends[0], C1=ends[1])
    shading = Dictionary(
        ShadingType=2, ColorSpace=space, Coords=Array([0, 0, WIDE * CELL_PT, 0]), Function=function
    )
    pattern = Dictionary(Type=Name.Pattern, PatternType=2, Shading=shading)
    return f"/Pattern cs {sheet.resource('Pattern', sheet.pdf.make_indirect(pattern))} scn"


def tiles(content: str) -> Setting:
    """Chooses a pattern of tiles of 1 mm."""
    return lambda sheet: f"/Pattern cs {sheet.cell(content, 1)} scn"


# What is set, and the inks of each of the six lines: three on the tint, three on bare paper. Opaque, text has
# its own inks alone; on ground that has one of the inks the plates do not always tell.
IN_SEVERAL_COLOURS: dict[str, tuple[Setting, tuple[str, ...] | None, tuple[str, ...] | None]] = {
    "yellow to black": (
        lambda sheet: two_colour_gradient(sheet, [0, 0, 1, 0.4], [0, 0, 0.4, 1]),
        ("Yellow", "Black"),
        ("Yellow", "Black"),
    ),
    "cyan to magenta": (
        lambda sheet: two_colour_gradient(sheet, [1, 0.3, 0, 0], [0.3, 1, 0, 0]),
        ("Cyan", "Magenta"),
        ("Cyan", "Magenta"),
    ),
    "one ink": (
        lambda sheet: two_colour_gradient(sheet, [0, 0, 0, 0.4], [0, 0, 0, 1]), None, ("Black",),
    ),
    "grey": (
        lambda sheet: two_colour_gradient(sheet, [0.6], [0.0], space=Name.DeviceGray), None, ("Black",),
    ),
    "tiles in two inks": (
        tiles("0 0 1 0 k 0 0 0.5 1 re f 0 0 0 1 k 0.5 0 0.5 1 re f"),
        ("Yellow", "Black"),
        ("Yellow", "Black"),
    ),
    "tiles in one ink": (tiles("0 0 0 1 k 0 0 0.5 1 re f"), None, ("Black",)),
    # A press's profile makes greys of a screen of all four inks; on the tint, those that it has more of show.
    "red to blue of a screen": (
        lambda sheet: two_colour_gradient(sheet, [0.8, 0, 0], [0, 0, 0.8], space=Name.DeviceRGB),
        ("Magenta", "Yellow", "Black"),
        ("Cyan", "Magenta", "Black"),
    ),
    "greys of a screen": (
        lambda sheet: two_colour_gradient(sheet, [0.6] * 3, [0.1] * 3, space=Name.DeviceRGB),
        ("Yellow", "Black"),
        PROCESS_INKS,
    ),
    "tiles in greys of a screen": (
        tiles("0.4 0.4 0.4 rg 0 0 0.5 1 re f 0.1 0.1 0.1 rg 0.5 0 0.5 1 re f"), PROCESS_INKS, PROCESS_INKS,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", IN_SEVERAL_COLOURS)
def test_text_in_a_pattern_or_gradient_has_all_of_its_inks(name: str, tmp_path: Path) -> None:
    setting, on_tint, on_paper = IN_SEVERAL_COLOURS[name]
    found = inks_of(told(set_in_type(setting, tmp_path / "type.pdf")), MarkKind.TEXT)
    assert found[3:] == [on_paper] * 3
    assert all(each in {on_tint, None} for each in found[:3])
    if on_tint is not None:
        assert on_tint in found[:3]
