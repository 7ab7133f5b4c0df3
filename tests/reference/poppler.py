"""Asks poppler's command-line tools for the images, fonts and boxes of a PDF."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from hotfolder.model.geometry import Box
from tests.reference.tools import run_tool


@dataclass(frozen=True, slots=True)
class PaintedImage:
    """A row of `pdfimages -list`: an image that a page paints.

    kind: `image`, `stencil`; `mask` and `smask` follow the image that they mask.
    object: `12 0`; None for an inline image. x_ppi, y_ppi: along the page, not along the image.
    """

    page: int
    kind: str
    width_px: int
    height_px: int
    components: int
    bits: int
    object: str | None
    x_ppi: float
    y_ppi: float

    @property
    def is_mask(self) -> bool:
        """Whether the row is the mask of the image before it."""
        return self.kind in {"mask", "smask"}


@dataclass(frozen=True, slots=True)
class ListedFont:
    """A row of `pdffonts`: a font in a page's resources, used or not. object: None where it has none."""

    name: str
    embedded: bool
    subset: bool
    object: str | None


@dataclass(frozen=True, slots=True)
class PageGeometry:
    """What `pdfinfo -box` prints for a page: boxes by PDF's names, and its turn in degrees."""

    boxes: dict[str, Box]
    rotate: int


class Opening(StrEnum):
    """Whether a program gets a file open."""

    OPEN = "opens"
    LOCKED = "needs a password"
    BROKEN = "cannot be read"


# page num type width height color comp bpc enc interp (object ID | [inline]) x-ppi y-ppi size ratio
_IMAGE = re.compile(
    r"\s*(?P<page>\d+)\s+\d+\s+(?P<kind>\w+)\s+(?P<width>\d+)\s+(?P<height>\d+)\s+\S+\s+(?P<components>\d+)"
    r"\s+(?P<bits>\d+)\s+\w+\s+\w+\s+(?:(?P<object>\d+)\s+(?P<generation>\d+)|\[inline\]|\[none\])"
    r"\s+(?P<x>\S+)\s+(?P<y>\S+)\s+\S+\s+\S+\s*"
)
_FONT = re.compile(  # a name may be wider than its column
    r"(?P<name>.*?)\s+(?:Type 1C?|Type 3|TrueType|CID Type 0C?|CID TrueType|unknown)(?: \(OT\))?\s.*?"
    r"(?P<embedded>yes|no)\s+(?P<subset>yes|no)\s+(?:yes|no)\s+"
    r"(?:(?P<object>\d+)\s+(?P<generation>\d+)|\[none\])\s*"
)
_BOX = re.compile(r"Page\s+(\d+) (\w+Box):" + r"\s+(-?[\d.]+)" * 4)
_ROTATE = re.compile(r"Page\s+(\d+) rot:\s+(-?\d+)")


def opening(path: Path) -> tuple[Opening, int]:
    """Whether poppler gets the file open, and how many pages it finds in it."""
    said = run_tool("pdfinfo", str(path))
    if "Incorrect password" in said.complaints:
        return Opening.LOCKED, 0
    pages = re.search(r"^Pages:\s+(\d+)", said.text, re.MULTILINE)
    if said.failed or pages is None:
        return Opening.BROKEN, 0
    return Opening.OPEN, int(pages[1])


def complaints_on(path: Path, page: int) -> str:
    """What poppler says about broken content of one page."""
    return run_tool("pdfimages", "-list", "-f", str(page), "-l", str(page), str(path)).complaints


def painted_images(path: Path) -> tuple[PaintedImage, ...]:
    """The images that the pages of the file paint, in painting order."""
    lines = run_tool("pdfimages", "-list", str(path)).text.splitlines()[2:]
    return tuple(
        PaintedImage(
            page=int(row["page"]),
            kind=row["kind"],
            width_px=int(row["width"]),
            height_px=int(row["height"]),
            components=int(row["components"]),
            bits=int(row["bits"]),
            object=_object(row),
            x_ppi=float(row["x"]),
            y_ppi=float(row["y"]),
        )
        for row in _rows(_IMAGE, lines)
    )


def listed_fonts(path: Path) -> list[ListedFont]:
    """The fonts in the resources of the file's pages."""
    return [
        ListedFont(
            name=row["name"].strip(),
            embedded=row["embedded"] == "yes",
            subset=row["subset"] == "yes",
            object=_object(row),
        )
        for row in _rows(_FONT, run_tool("pdffonts", str(path)).text.splitlines()[2:])
    ]


def knows_no_cmap(path: Path) -> bool:
    """Whether poppler complains of a code map (CMap) that it does not know."""
    return "Unknown CMap" in run_tool("pdffonts", str(path)).complaints


def page_geometries(path: Path, pages: int) -> dict[int, PageGeometry]:
    """Boxes and turn of each page, by its number."""
    text = run_tool("pdfinfo", "-box", "-f", "1", "-l", str(pages), str(path)).text
    turns = {int(page): int(turn) % 360 for page, turn in _ROTATE.findall(text)}
    found = {page: PageGeometry({}, turn) for page, turn in turns.items()}
    for page, name, *corners in _BOX.findall(text):
        found[int(page)].boxes[name] = Box(*map(float, corners))
    return found


def _rows(pattern: re.Pattern[str], lines: list[str]) -> Iterator[re.Match[str]]:
    for line in lines:
        row = pattern.fullmatch(line)
        if row is None:
            message = f"a line of poppler's that is not understood here: {line!r}"
            raise ValueError(message)
        yield row


def _object(row: re.Match[str]) -> str | None:
    return f"{row['object']} {row['generation']}" if row["object"] else None
