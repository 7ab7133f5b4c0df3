"""PDF/X-1a and X-3 by the class novel of LaTeX (Debian: texlive-publishers, texlive-luatex, lmodern).

The class is for books: it writes words in black, names a common condition of printing
without a profile.
"""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from tests.producers.making import run


@dataclass(frozen=True, slots=True)
class _Book:
    """A book. condition: as the class calls it; media, trim: width and height, as TeX writes them."""

    level: str
    condition: str = "CGATSTR001"
    media: str = "{6.5in}{9.5in}"
    trim: str = "{5.5in}{8.5in}"
    font: str = "Latin Modern Roman"
    body: str = ""

    def make(self, folder: Path) -> Path:
        document = (folder / "novel.tex.txt").read_text(encoding="utf-8") % {
            "condition": self.condition, "level": self.level, "media": self.media,
            "trim": self.trim, "font": self.font, "body": self.body,
        }  # fmt: skip
        (folder / "book.tex").write_text(document, encoding="utf-8")
        for _ in range(2):
            run(folder, "lualatex", "-interaction=nonstopmode", "book.tex")
        return folder / "book.pdf"


_LONG: Final = r"\clearpage A page more. \clearpage And the last one."
_BOOKS: Final = {
    "x1a2001-words": _Book("X-1a:2001"),
    "x1a2003-words": _Book("X-1a:2003", body=_LONG),
    "x3-2002-words": _Book("X-3:2002", media="{5.25in}{8in}", trim="{5.25in}{8in}"),
    "x3-2003-words": _Book("X-3:2003", font="Latin Modern Sans"),
}
MAKERS: Final[dict[str, Callable[[Path], Path]]] = {
    f"novel-{name}": book.make for name, book in _BOOKS.items()
}
