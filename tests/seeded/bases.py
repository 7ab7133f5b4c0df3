"""The sound pages that faults are planted in: one small flyer by each of ten programs.

`make.py` says how each was made. All are A5 with 3 mm of bleed, and nothing is wrong with any of them.
"""

from dataclasses import dataclass
from pathlib import Path
from typing import Final

FILES: Final = Path(__file__).parent / "files"

# What the program that wrote the file calls itself; nothing for the one put together by hand.
PRODUCERS: Final = {
    "chromium": "Skia/PDF",
    "demo": "hotfolder demo",
    "dvipdfmx": "dvipdfmx",
    "ghostscript": "GPL Ghostscript",
    "hand": None,
    "inkscape": "cairo",
    "libreoffice": "LibreOffice",
    "pdftex": "pdfTeX",
    "reportlab": "ReportLab",
    "tiff2pdf": "libtiff",
}


@dataclass(frozen=True, slots=True)
class Base:
    """A sound page. producer: how the program that wrote it begins to name itself."""

    name: str
    producer: str | None

    @property
    def path(self) -> Path:
        """Where the file lies."""
        return FILES / f"{self.name}.pdf"


BASES: Final = tuple(Base(name, producer) for name, producer in PRODUCERS.items())


def some_bases(place: int) -> tuple[Base, ...]:
    """Two of the bases for the case at `place` in its list: each base comes up for two cases in ten."""
    return tuple(BASES[(place + step) % len(BASES)] for step in (0, 7))
