"""Asks `pdftotext -bbox` for the words of a PDF, and lays our pages out as poppler does."""

import html
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page
from tests.reference.tools import run_tool

_PAGE: Final = re.compile(r'<page width="[^"]*" height="[^"]*">(.*?)</page>', re.DOTALL)
_WORD: Final = re.compile(
    r'<word xMin="([^"]*)" yMin="([^"]*)" xMax="([^"]*)" yMax="([^"]*)">(.*?)</word>', re.DOTALL
)


@dataclass(frozen=True, slots=True)
class Word:
    """A word of poppler's: what it says, and its box on the sheet."""

    says: str
    box: Box


@dataclass(frozen=True, slots=True)
class Sheet:
    """A page as poppler sees it: turned for display, y downwards from the top left of the media box.

    It does not apply the user unit; our own lengths have it. A point (x, y) of the page comes to lie at
    (a x + c y + e, b x + d y + f).
    """

    width: float
    height: float
    matrix: tuple[float, float, float, float, float, float]

    @classmethod
    def of(cls, page: Page) -> "Sheet | None":
        """The sheet of a page; None where it has no media box."""
        media, unit = page.boxes.media, 1 / page.user_unit
        if media is None:
            return None
        width, height = media.width * unit, media.height * unit
        x0, y0, x1, y1 = (corner * unit for corner in (media.x0, media.y0, media.x1, media.y1))
        match page.rotate:
            case 0:
                return cls(width, height, (unit, 0, 0, -unit, -x0, y1))
            case 90:
                return cls(height, width, (0, unit, unit, 0, -y0, -x0))
            case 180:
                return cls(width, height, (-unit, 0, 0, unit, x1, -y0))
            case _:
                return cls(height, width, (0, -unit, -unit, 0, y1, x1))

    def point(self, x: float, y: float) -> tuple[float, float]:
        """Where a point of the page comes to lie on the sheet."""
        a, b, c, d, e, f = self.matrix
        return a * x + c * y + e, b * x + d * y + f

    def box(self, box: Box) -> Box:
        """Where an upright box of the page comes to lie on the sheet."""
        (x0, y0), (x1, y1) = self.point(box.x0, box.y0), self.point(box.x1, box.y1)
        return Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))


def words_of(path: Path) -> list[tuple[Word, ...]]:
    """The words of each page, invisible ones included; layers that are off and clipping do not count."""
    pages = _PAGE.findall(run_tool("pdftotext", "-bbox", str(path), "-").text)
    return [
        tuple(Word(html.unescape(says), Box(*map(float, corners))) for *corners, says in _WORD.findall(page))
        for page in pages
    ]
