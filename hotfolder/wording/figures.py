"""Figures with their units as people read them, and as findings keep them."""

import math
from typing import Final

from hotfolder.model.findings import Quantity
from hotfolder.model.geometry import Box, Edge
from hotfolder.units import PAPER_SIZES, Length, LengthUnit, Size, plain, pt_to_mm
from hotfolder.wording.lists import counted
from hotfolder.wording.pages import seen_edge

# Decimals by unit; what has none here is shown to two places, which no count ever needs.
_DECIMALS = {"mm": 1, "cm": 2, "in": 3, "pt": 2, "ppi": 0, "px": 0, "%": 0}
_FINEST = 4

# A box this near to a paper size is called by its name: what trim sizes are compared with.
_NAME_TOLERANCE_PT = 1.5


# Decimals by unit in which findings keep a length: what can be told apart.
_FINE_DECIMALS: Final = {LengthUnit.MM: 2, LengthUnit.CM: 3, LengthUnit.INCH: 3, LengthUnit.POINT: 2}


def quantity(like: Length, *points: float) -> Quantity:
    """Lengths in points as a quantity in the unit of `like`, rounded to what can be told apart."""
    decimals = _FINE_DECIMALS[like.unit]
    # Adding zero turns a minus zero, which JSON would keep, into zero.
    values = tuple(round(like.like(value).value, decimals) + 0.0 for value in points)
    return Quantity(values, str(like.unit))


def size_quantity(width: float, height: float, like: Size) -> Quantity:
    """A width and a height in points as a quantity in the unit of `like`."""
    return quantity(Length(0, like.unit), width, height)


def quantity_words(quantity: Quantity, finer: int = 0) -> str:
    """`3 mm`, `148 x 210 mm`, `1 page`, `none`; with `finer` more decimals than the unit usually has.

    Several lengths are the sides of one thing; several counts are a choice (`4 or 8 pages`).
    """
    unit = quantity.unit
    if not quantity.values:
        return ""
    if unit.endswith("s"):  # something that is counted: no unit of measurement here ends so
        if list(quantity.values) == [0]:
            return "none"
        figures = " or ".join(number_words(value, 0) for value in quantity.values)
        return f"{figures} {unit.removesuffix('s') if list(quantity.values) == [1] else unit}"
    decimals = _DECIMALS.get(unit, 2) + finer
    figures = " x ".join(number_words(value, decimals) for value in quantity.values)
    return f"{figures} {unit}".strip()


def number_words(value: float, decimals: int) -> str:
    """A number with at most `decimals` places; one that is none is told so."""
    return plain(value, decimals) if math.isfinite(value) else "unlimited"


def comparison(measured: Quantity | str | None, required: Quantity | str | None) -> str:
    """`0 mm, 3 mm wanted`, or `JPEG; wanted: PDF` where words are wanted; empty where neither is known.

    Two figures that differ are never shown as the same: they get decimals until they differ.
    """
    figure, wanted = measured_words(measured, required)
    if figure and wanted:
        in_words = isinstance(required, str)
        return f"{figure}; wanted: {wanted}" if in_words else f"{figure}, {wanted} wanted"
    return figure or (f"{wanted} wanted" if wanted else "")


def measured_words(measured: Quantity | str | None, required: Quantity | str | None) -> tuple[str, str]:
    """What was measured and what is wanted, each in words; empty where there is none."""
    finer = 0
    if isinstance(measured, Quantity) and isinstance(required, Quantity):
        while (
            finer < _FINEST
            and measured != required
            and quantity_words(measured, finer) == quantity_words(required, finer)
        ):
            finer += 1
    figure, wanted = (
        "" if value is None else value if isinstance(value, str) else quantity_words(value, finer)
        for value in (measured, required)
    )
    return figure, wanted


def size_words(width_pt: float, height_pt: float) -> str:
    """`148 x 210 mm (A5)`: a size as it stands, with the paper's name where it has one."""
    name = next(
        (
            size.name
            for size in PAPER_SIZES
            for way in (size, size.turned())
            if way.distance(width_pt, height_pt) <= _NAME_TOLERANCE_PT
        ),
        "",
    )
    figures = str(Size(width_pt, height_pt))
    return f"{figures} ({name})" if name else figures


def margins_words(inner: Box, outer: Box, rotate: int = 0) -> str:
    """How far `outer` reaches past `inner`: `3 mm on all sides`, or side by side, as the page is seen.

    `rotate`: how far the page is turned, clockwise and in degrees.
    """
    reach_by_side = {seen_edge(edge, rotate): outer.beyond(edge, inner) for edge in Edge}
    sides = (Edge.LEFT, Edge.TOP, Edge.RIGHT, Edge.BOTTOM)
    shown = {side.value: str(Length(reach_by_side[side])) for side in sides}
    if len(set(shown.values())) == 1:
        only = next(iter(shown.values()))
        return "none" if only == "0 mm" else f"{only} on all sides"
    return ", ".join(f"{side} {length}" for side, length in shown.items())


def bytes_words(count: int) -> str:
    """`2.4 MB`: decimal units, as shops and mail programs count."""
    for unit, factor in (("GB", 1e9), ("MB", 1e6), ("kB", 1e3)):
        if count >= factor:
            return f"{plain(count / factor, 1)} {unit}"
    return counted(count, "byte")


def percent_words(value: float) -> str:
    """`34 %`, `0.4 %`: whole above ten, below with a tenth, since a veil of 0.4 % is not nothing."""
    return f"{number_words(value, 0 if value >= 10 else 1)} %"


def mm_words(points: float) -> str:
    """A length in whole or half-seen millimetres: `12.5 mm`."""
    return f"{plain(pt_to_mm(points), 1)} mm"
