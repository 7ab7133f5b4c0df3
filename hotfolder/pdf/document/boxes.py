"""Reads the geometry of a page: its boxes, how it is turned, and its user unit.

Source: ISO 32000-2, 14.11.2 (page boundaries), 7.7.3.4 (inheritance), table 31 (UserUnit, Rotate).
"""

from dataclasses import dataclass
from typing import Final

import pikepdf

from hotfolder.model.facts import Problem, ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.model.pages import PageBoxes
from hotfolder.pdf.objects.inheritance import page_value, page_values
from hotfolder.pdf.objects.reading import entry, number, numbers

# ISO 32000-1, Annex C: readers keep coordinates within about 14 400 units; a few times that is
# met with large-format work. A box a kilometre wide is a broken number.
_LARGEST_UNITS: Final = 3_000_000.0

_WORDS: Final = {
    "/MediaBox": "media box",
    "/CropBox": "crop box",
    "/BleedBox": "bleed box",
    "/TrimBox": "trim box",
    "/ArtBox": "art box",
}


@dataclass(frozen=True, slots=True)
class Geometry:
    """The geometry of a page.

    boxes: in points, scaled by the user unit, before rotation. rotate: clockwise, in degrees (0, 90, 180 or
    270). user_unit: points in one unit of user space. problems: entries that were left out or replaced.
    """

    boxes: PageBoxes
    rotate: int
    user_unit: float
    problems: tuple[Problem, ...] = ()


def read_geometry(page: pikepdf.Dictionary, where: str) -> Geometry:
    """The geometry of a page dictionary; `where` is the path of the page's facts (`pages[2]`).

    An entry that is no rectangle with an area is left out, with a problem. Of a box that can be inherited,
    the nearest sound one counts.
    """
    problems: list[Problem] = []
    unit = _user_unit(page, where, problems)

    def box(key: str) -> Box | None:
        for value in page_values(page, key):
            rectangle = read_rectangle(value, unit)
            if rectangle is not None and rectangle.width > 0 and rectangle.height > 0:
                return rectangle
            what = f"the {_WORDS[key]} is written in a way that gives no rectangle; it was left out"
            problems.append(Problem(f"{where}.boxes", what, ProblemKind.DAMAGED))
        return None

    boxes = PageBoxes(
        media=box("/MediaBox"),
        crop=box("/CropBox"),
        bleed=box("/BleedBox"),
        trim=box("/TrimBox"),
        art=box("/ArtBox"),
    )
    if boxes.media is None:
        what = "the page does not say how large it is (no media box)"
        problems.append(Problem(f"{where}.boxes", what, ProblemKind.DAMAGED))
    return Geometry(boxes, _rotate(page, where, problems), unit, tuple(problems))


def read_rectangle(value: object, unit: float) -> Box | None:
    """A rectangle (7.9.5) in points, `unit` of them a unit of user space, its corners put in order.

    It may have no area. None for anything else, and for coordinates beyond `_LARGEST_UNITS`.
    """
    corners = numbers(value, 4)
    if corners is None or max(map(abs, corners)) > _LARGEST_UNITS:
        return None
    x0, y0, x1, y1 = (corner * unit for corner in corners)
    return Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))


def _user_unit(page: pikepdf.Dictionary, where: str, problems: list[Problem]) -> float:
    """Points in a unit of user space; 1 where the page gives none, or none above zero."""
    value = entry(page, "/UserUnit")
    if value is None:
        return 1.0
    unit = number(value)
    if unit is None or not 0 < unit <= _LARGEST_UNITS:
        what = "the page's unit of measure is not a number above zero; points were taken"
        problems.append(Problem(f"{where}.user_unit", what, ProblemKind.DAMAGED))
        return 1.0
    return unit


def _rotate(page: pikepdf.Dictionary, where: str, problems: list[Problem]) -> int:
    """The page's rotation in degrees, clockwise; 0 where it is no multiple of 90."""
    value = page_value(page, "/Rotate")
    if value is None:
        return 0
    degrees = number(value)
    if degrees is None or degrees % 90:
        what = (
            "the page is turned by something that is not a multiple of 90 degrees; it was read as not turned"
        )
        problems.append(Problem(f"{where}.rotate", what, ProblemKind.NOTE))
        return 0
    return int(degrees % 360)
