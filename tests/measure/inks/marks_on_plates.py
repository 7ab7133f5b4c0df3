"""Marks on plates painted by hand."""

from dataclasses import replace
from pathlib import Path

from hotfolder.drawing import PlateDrawer
from hotfolder.measure import measure
from hotfolder.measure.inks.ink import measure_ink
from hotfolder.measure.inks.mark_inks import marks_with_inks
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.marks import Mark
from hotfolder.model.pages import Page
from hotfolder.model.plates import Bytes
from hotfolder.model.press import Press
from hotfolder.presses.loading import load_press
from tests.measure.inks.hand_plates import mm_box, page_of, plates_of

SHEET = mm_box(0, 0, 200, 300)


BARE = page_of(SHEET, SHEET)


def inks(inks: dict[str, Bytes], *marks: Mark, page: Page = BARE) -> list[tuple[str, ...] | None]:
    """What the plates tell of each mark."""
    told = marks_with_inks(replace(page, marks=marks), plates_of(page, inks))
    assert not isinstance(told, Unmeasured)
    return [mark.inks for mark in told]


def told(path: Path) -> Artwork:
    """The facts of a file with its inks."""
    artwork, press = measure(path), coated()
    with PlateDrawer(path, artwork, press) as drawer:
        return measure_ink(drawer, artwork, press)


def coated() -> Press:
    return load_press("coated")
