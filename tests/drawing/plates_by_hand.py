"""Plates put together in numpy: an invented flyer with a photo, a heavy shadow, a spot ink and a cut line."""

import math

import numpy as np

from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.inks import CELL_PT, Cells, ColourShift, EdgePaint, MovedColour, PageInk, Plate
from hotfolder.model.pages import Page, PageBoxes, Trim, TrimOrigin
from hotfolder.model.plates import Bytes, PagePlates, PlateFrame

SPOT, CUT, WHITE = "Harbour Blue", "Cut", "White"
LOOKS = {SPOT: (35.0, -8.0, -42.0), CUT: (55.0, 80.0, 20.0), WHITE: (97.0, 0.0, 0.0)}


def mm_box(x0: float, y0: float, x1: float, y1: float) -> Box:
    return Box(*(side * CELL_PT for side in (x0, y0, x1, y1)))


SHEET, TRIM = mm_box(0, 0, 154, 216), mm_box(3, 3, 151, 213)


def frame_of(sheet: Box, px_per_mm: int = 6) -> PlateFrame:
    """The frame of a sheet whose sides lie on whole millimetres, as its trim does."""
    columns, rows = math.ceil(sheet.width / CELL_PT - 1e-6), math.ceil(sheet.height / CELL_PT - 1e-6)
    return PlateFrame(sheet.x0, sheet.y1, px_per_mm, columns * px_per_mm, rows * px_per_mm)


def fill(plate: Bytes, frame: PlateFrame, box: Box, percent: float) -> None:
    """Lays `percent` of the ink over `box`."""
    left, right = (round((x - frame.left) / frame.pixel_pt) for x in (box.x0, box.x1))
    top, bottom = (round((frame.top - y) / frame.pixel_pt) for y in (box.y1, box.y0))
    plate[max(0, top) : bottom, max(0, left) : right] = round(percent * 2.55)


def plates_of(
    inks: dict[str, Bytes],
    frame: PlateFrame,
    *,
    sheet: Box = SHEET,
    page: int = 1,
    screen: Bytes | None = None,
) -> PagePlates:
    looks = {name: LOOKS[name] for name in inks if name not in PROCESS_INKS}
    return PagePlates(page, sheet, frame, inks, looks, screen)


def flyer_plates(page: int = 1, *, px_per_mm: int = 6, grain: int = 0) -> PagePlates:
    """A photo to the bleed but for the right edge, a shadow of 340 %, a band in a spot ink, text-like lines.

    grain: how much noise lies on the photo (of 255), as in a real one.
    """
    frame = frame_of(SHEET, px_per_mm)
    names = (*PROCESS_INKS, SPOT, CUT)
    inks = {name: np.zeros((frame.height_px, frame.width_px), np.uint8) for name in names}
    _photo(inks, frame, grain)
    fill(inks["Cyan"], frame, mm_box(20, 20, 60, 50), 90)
    fill(inks["Magenta"], frame, mm_box(20, 20, 60, 50), 85)
    fill(inks["Yellow"], frame, mm_box(20, 20, 60, 50), 80)
    fill(inks["Black"], frame, mm_box(20, 20, 60, 50), 85)
    fill(inks[SPOT], frame, mm_box(0, 70, 154, 90), 100)
    fill(inks[SPOT], frame, mm_box(80, 20, 140, 50), 40)
    for line in range(12):
        fill(inks["Black"], frame, mm_box(80, 22 + line * 2.2, 134 - line % 3 * 9, 23 + line * 2.2), 100)
    for x in (3.0, 151.0):
        fill(inks[CUT], frame, mm_box(x - 0.25, 3, x + 0.25, 213), 100)
    return plates_of(inks, frame, page=page, screen=_as_meant(inks))


def _photo(inks: dict[str, Bytes], frame: PlateFrame, grain: int) -> None:
    """Sky over hills, the upper part of the sheet; it stops at the trim on the right."""
    noise = np.random.default_rng(7)
    down, across = np.mgrid[0 : frame.height_px, 0 : frame.width_px] / (frame.px_per_mm * 100)
    hills = 0.75 + 0.12 * np.sin(across * 5) + 0.05 * np.sin(across * 17 + down * 3)
    land = down > hills
    sky = np.clip(1 - down, 0, 1)
    amount = {
        "Cyan": np.where(land, 0.55 + 0.3 * np.sin(down * 9 + across * 4), 0.9 * sky),
        "Magenta": np.where(land, 0.3 + 0.2 * np.sin(across * 11), 0.5 * sky**2),
        "Yellow": np.where(land, 0.85, 0.15 * (1 - sky)),
        "Black": np.where(land, 0.25 + 0.25 * np.sin(down * 21 + across * 9), 0.0),
    }
    photo = (down < (216 - 90) / 100) & (across < 151 / 100)
    for name, share in amount.items():
        values = np.clip(share, 0, 1) * 255 + noise.normal(size=share.shape) * grain
        inks[name][photo] = np.clip(values, 0, 255)[photo].astype(np.uint8)


def _as_meant(inks: dict[str, Bytes]) -> Bytes:
    """A brighter original than any press can print: plain complements, no ink's own impurity."""
    light = [255 - np.clip(inks[name].astype(int) * 0.9 + inks["Black"], 0, 255) for name in PROCESS_INKS[:3]]
    return np.stack(light, axis=2).astype(np.uint8)


def page_of(number: int, ink: PageInk | Unmeasured, *, rotate: int = 0) -> Page:
    boxes = PageBoxes(media=SHEET, bleed=SHEET, trim=TRIM)
    return Page(number, rotate, 1.0, boxes, Trim(TRIM, TrimOrigin.TRIM_BOX), (), ink=ink)


def ink_of(plates: PagePlates, shift: ColourShift | None = None) -> PageInk:
    """The facts of plates made by hand, by the plainest sums."""
    frame = plates.frame
    step = frame.px_per_mm
    rows, columns = frame.height_px // step, frame.width_px // step
    means = {
        name: plate.reshape(rows, step, columns, step).mean(axis=(1, 3))
        for name, plate in plates.inks.items()
    }
    total = sum(plate.astype(int) for plate in plates.inks.values())
    return PageInk(
        cells=Cells(frame.left, frame.top, columns, rows),
        plates=tuple(
            Plate(
                name,
                float(plate.mean()) / 2.55,
                float(plate.max()) / 2.55,
                np.rint(means[name]).astype(np.uint8).tobytes(),
            )
            for name, plate in plates.inks.items()
            if plate.any()
        ),
        max_percent=float(np.max(total)) / 2.55,
        max_1mm2_percent=float(np.max(sum(means.values()))) / 2.55,
        edges=edges_short_on_the_right(),
        shift=shift,
    )


def edges_short_on_the_right() -> tuple[EdgePaint, ...]:
    """The reach of the flyer's photo: it stops at the trim on the right, and runs on elsewhere."""
    full, none = 3 * CELL_PT, None
    side = (none,) * 67 + (full,) * 20 + (full,) * 123
    right = (none,) * 67 + (full,) * 20 + (0.0,) * 123
    return (
        EdgePaint(Edge.LEFT, TRIM.y0, CELL_PT, side, full),
        EdgePaint(Edge.BOTTOM, TRIM.x0, CELL_PT, (none,) * 148, full),
        EdgePaint(Edge.RIGHT, TRIM.y0, CELL_PT, right, full),
        EdgePaint(Edge.TOP, TRIM.x0, CELL_PT, (full,) * 148, full),
    )


MOVED = ColourShift(
    over_5_percent=41.0,
    over_10_percent=22.5,
    over_20_percent=6.1,
    moved=(
        MovedColour(mm_box(20, 180, 60, 210), 12.0, (60.0, -20.0, -60.0), (52.0, -25.0, -38.0), 14.2),
        MovedColour(mm_box(90, 130, 120, 140), 6.5, (85.0, -70.0, 70.0), (70.0, -45.0, 45.0), 17.8),
        MovedColour(mm_box(120, 95, 150, 105), 2.1, (60.0, 92.0, -60.0), (48.0, 60.0, -25.0), 21.9),
    ),
)
