"""Lengths, sizes, resolutions, percentages, time and bytes, and how people write them.

Points inside (1 pt = 1/72 in, ISO 32000-2, 8.3.2.3); a `Length` remembers the
unit it was written in, so that figures are shown to people in their own unit.
"""

import math
import re
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

POINTS_PER_INCH: Final = 72.0
MM_PER_INCH: Final = 25.4


class LengthUnit(StrEnum):
    """The units that a length may be written in."""

    MM = "mm"
    CM = "cm"
    INCH = "in"
    POINT = "pt"


_POINTS: Final = {
    LengthUnit.MM: POINTS_PER_INCH / MM_PER_INCH,
    LengthUnit.CM: 10 * POINTS_PER_INCH / MM_PER_INCH,
    LengthUnit.INCH: POINTS_PER_INCH,
    LengthUnit.POINT: 1.0,
}
_DECIMALS: Final = {
    LengthUnit.MM: 1,
    LengthUnit.CM: 2,
    LengthUnit.INCH: 3,
    LengthUnit.POINT: 1,
}


def mm_to_pt(mm: float) -> float:
    """Points in `mm` millimetres."""
    return mm * POINTS_PER_INCH / MM_PER_INCH


def pt_to_mm(points: float) -> float:
    """Millimetres in `points` points."""
    return points * MM_PER_INCH / POINTS_PER_INCH


def plain(value: float, decimals: int) -> str:
    """`value` rounded to `decimals` places, without trailing zeros or a minus zero.

    >>> plain(3.04, 1), plain(2.96, 1), plain(-0.01, 1)
    ('3', '3', '0')
    """
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """A length in points that remembers the unit in which it was written."""

    points: float
    unit: LengthUnit = LengthUnit.MM

    @classmethod
    def of_mm(cls, mm: float) -> "Length":
        """A length of `mm` millimetres."""
        return cls(mm_to_pt(mm), LengthUnit.MM)

    @property
    def value(self) -> float:
        """The length as a number of its own unit."""
        return self.points / _POINTS[self.unit]

    def like(self, points: float) -> "Length":
        """Another length of `points` points, to be shown in this one's unit."""
        return Length(points, self.unit)

    def finely(self) -> str:
        """The length with one decimal more than `str` shows, for small differences."""
        return f"{plain(self.value, _DECIMALS[self.unit] + 1)} {self.unit}"

    def __str__(self) -> str:
        return f"{plain(self.value, _DECIMALS[self.unit])} {self.unit}"


@dataclass(frozen=True, slots=True)
class Size:
    """A width and a height in points, with the name it goes by (`A5`), if any."""

    width: float
    height: float
    name: str = ""
    unit: LengthUnit = LengthUnit.MM

    def turned(self) -> "Size":
        """The same size with width and height exchanged."""
        return Size(self.height, self.width, self.name, self.unit)

    def grown(self, margin: float) -> "Size":
        """The size with `margin` points added on each of the four sides; it loses its name."""
        return Size(self.width + 2 * margin, self.height + 2 * margin, "", self.unit)

    def distance(self, width: float, height: float) -> float:
        """How far `width` x `height` points is from this size as it stands: the larger deviation."""
        return max(abs(self.width - width), abs(self.height - height))

    def __str__(self) -> str:
        width, height = Length(self.width, self.unit), Length(self.height, self.unit)
        figures = f"{str(width).removesuffix(f' {self.unit}')} x {height}"
        return f"{self.name} ({figures})" if self.name else figures


def _mm(name: str, width: float, height: float) -> Size:
    return Size(mm_to_pt(width), mm_to_pt(height), name)


def _inches(name: str, width: float, height: float) -> Size:
    return Size(width * POINTS_PER_INCH, height * POINTS_PER_INCH, name, LengthUnit.INCH)


# A and B: ISO 216. C and DL as an envelope are ISO 269 and left out on purpose: a "DL"
# flyer is a third of A4 (99 x 210 mm, common practice). ID-1: ISO/IEC 7810. US sizes:
# ASME Y14.1 for the letter series. Business cards and books: common practice.
PAPER_SIZES: Final = tuple(
    _mm(name, width, height)
    for name, width, height in (
        ("A0", 841, 1189), ("A1", 594, 841), ("A2", 420, 594), ("A3", 297, 420),
        ("A4", 210, 297), ("A5", 148, 210), ("A6", 105, 148), ("A7", 74, 105), ("A8", 52, 74),
        ("B0", 1000, 1414), ("B1", 707, 1000), ("B2", 500, 707), ("B3", 353, 500),
        ("B4", 250, 353), ("B5", 176, 250), ("B6", 125, 176), ("B7", 88, 125),
        ("SRA1", 640, 900), ("SRA2", 450, 640), ("SRA3", 320, 450),
        ("DL", 99, 210), ("ID-1", 85.6, 53.98),
    )
) + tuple(
    _inches(name, width, height)
    for name, width, height in (
        ("Letter", 8.5, 11), ("Legal", 8.5, 14), ("Tabloid", 11, 17), ("Half Letter", 5.5, 8.5),
    )
)  # fmt: skip

_NUMBER: Final = r"(\d+(?:\.\d+)?)"
_LENGTH: Final = re.compile(rf"\s*{_NUMBER}\s*(mm|cm|in|pt)\s*", re.ASCII)
_SIZE: Final = re.compile(rf"\s*{_NUMBER}\s*[x\u00d7]\s*{_NUMBER}\s*(mm|cm|in|pt)\s*", re.ASCII)
_PPI: Final = re.compile(rf"\s*{_NUMBER}\s*ppi\s*", re.ASCII)
_PERCENT: Final = re.compile(rf"\s*{_NUMBER}\s*%\s*", re.ASCII)
_TIME: Final = re.compile(rf"\s*{_NUMBER}\s*(ms|s|min|h)\s*", re.ASCII)
_SECONDS: Final = {"ms": 0.001, "s": 1.0, "min": 60.0, "h": 3600.0}
# Decimal multiples, as file managers and disks count (IEC 80000-13 keeps kilo for 1000).
_WEIGHT: Final = re.compile(rf"\s*{_NUMBER}\s*(B|kB|MB|GB)\s*", re.ASCII)
_BYTES: Final = {"B": 1, "kB": 1000, "MB": 1000**2, "GB": 1000**3}


def parse_length(text: str) -> Length:
    """The length written as `3 mm`, `0.125 in`, `9 pt` or `2.5 cm`.

    Raises ValueError, with what would do, for anything else.
    """
    match = _LENGTH.fullmatch(text)
    if match is None:
        message = f"'{text}' is not a length; write a number with its unit, such as '3 mm' or '0.125 in'"
        raise ValueError(message)
    unit = LengthUnit(match[2])
    return Length(float(match[1]) * _POINTS[unit], unit)


def parse_size(text: str) -> Size:
    """The size written as a paper's name (`A5`) or as `85 x 55 mm`.

    Raises ValueError, with what would do, for anything else.
    """
    for size in PAPER_SIZES:
        if size.name.casefold() == text.strip().casefold():
            return size
    match = _SIZE.fullmatch(text)
    if match is None:
        message = f"'{text}' is not a size; write a paper's name such as 'A5', or '85 x 55 mm'"
        raise ValueError(message)
    unit = LengthUnit(match[3])
    width, height = float(match[1]), float(match[2])
    if not (width and height):
        message = f"'{text}' has no extent; both sides must be more than zero"
        raise ValueError(message)
    return Size(width * _POINTS[unit], height * _POINTS[unit], "", unit)


def parse_ppi(text: str) -> float:
    """The pixels per inch written as `300 ppi`. Raises ValueError for anything else."""
    match = _PPI.fullmatch(text)
    if match is None:
        message = f"'{text}' is not a resolution; write it as '300 ppi'"
        raise ValueError(message)
    return float(match[1])


def parse_percent(text: str) -> float:
    """The number written as `300 %`. Raises ValueError for anything else."""
    match = _PERCENT.fullmatch(text)
    if match is None:
        message = f"'{text}' is not a percentage; write it as '300 %'"
        raise ValueError(message)
    return float(match[1])


def parse_seconds(text: str) -> float:
    """The seconds written as `2 s`, `500 ms`, `10 min` or `1 h`. Raises ValueError for anything else."""
    match = _TIME.fullmatch(text)
    if match is None:
        message = f"'{text}' is not a span of time; write a number with its unit, such as '2 s' or '10 min'"
        raise ValueError(message)
    return float(match[1]) * _SECONDS[match[2]]


def parse_bytes(text: str) -> int:
    """The bytes written as `100 MB` or `2 GB` (decimal multiples). Raises ValueError for anything else."""
    match = _WEIGHT.fullmatch(text)
    if match is None:
        message = f"'{text}' is not a size of a file or of memory; write it as '100 MB' or '2 GB'"
        raise ValueError(message)
    return round(float(match[1]) * _BYTES[match[2]])


def keeps_ppi(pixels: float, length_pt: float, wanted_ppi: float) -> bool:
    """Whether `pixels` over `length_pt` points reach `wanted_ppi`, within rounding.

    Half a pixel, because a pixel count is a whole number and the exact one seldom is: 2551 px over 216 mm are
    299.98 ppi, and are what 300 ppi means there. A row of pixels more, because programs round down, or leave
    out the row that is covered in part; but no more than a hundredth, which matters where pixels are few.
    And half a pixel an inch, or a hundredth: 299.6 are told as 300.
    """
    exact = wanted_ppi * length_pt / POINTS_PER_INCH
    spared = max(0.5 + min(1.0, exact / 100), exact * min(0.5 / wanted_ppi, 0.01) if wanted_ppi > 0 else 0.0)
    return pixels + spared >= exact or math.isclose(pixels + spared, exact)
