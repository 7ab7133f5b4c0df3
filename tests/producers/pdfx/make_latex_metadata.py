"""PDF/X-4 by LaTeX's own management of PDF (Debian: texlive-latex-recommended, pdfmanagement-testphase).

It knows what to say of two profiles, FOGRA39L_coated.icc and sRGB.icc, and nothing of any other.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Final

from tests.producers.making import run


def _leaflet(profile: str) -> Callable[[Path], Path]:
    def make(folder: Path) -> Path:
        document = (folder / "swings.tex.txt").read_text(encoding="utf-8") % {"profile": profile}
        (folder / "swings.tex").write_text(document, encoding="utf-8")
        for _ in range(2):
            run(folder, "pdflatex", "-interaction=nonstopmode", "swings.tex")
        return folder / "swings.pdf"

    return make


MAKERS: Final = {
    "latexmetadata-x4-common-press": _leaflet("FOGRA39L_coated.icc"),
    "latexmetadata-x4-own-press": _leaflet("press.icc"),
}
