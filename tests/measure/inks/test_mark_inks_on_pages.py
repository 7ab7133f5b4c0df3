# Inks of small text and thin lines on drawn pages, worked out by hand from ISO 32000-2.
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from hotfolder.drawing import PlateDrawer
from hotfolder.measure import measure
from hotfolder.measure.inks.ink import measure_ink
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT
from hotfolder.model.marks import MarkKind
from hotfolder.model.press import Press
from hotfolder.presses.loading import load_press
from tests.plates import tiffsep
from tests.seeded.colours import separation
from tests.seeded.planting import Sheet


def told(path: Path) -> Artwork:
    """The facts of a file with its inks."""
    artwork, press = measure(path), coated()
    with PlateDrawer(path, artwork, press) as drawer:
        return measure_ink(drawer, artwork, press)


def coated() -> Press:
    return load_press("coated")


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
    inks = inks_of(told(set_in_type(setting, tmp_path / "type.pdf")), MarkKind.TEXT)
    assert inks[3:] == [on_paper] * 3
    assert all(each in {on_tint, None} for each in inks[:3])
    if on_tint is not None:
        assert on_tint in inks[:3]
