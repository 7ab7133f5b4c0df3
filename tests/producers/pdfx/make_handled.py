"""What becomes of PDF/X files when other tools handle them after they were exported.

The files are those of the archive. Debian: qpdf 11.3, ghostscript 10.00, mupdf-tools 1.21,
pdftk-java 3.3, poppler-utils 22.12. Most of the tools know nothing of PDF/X: the claim stays, and what it
stands on may go.
"""

import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Final

from tests.producers.making import run
from tests.producers.pdfx.archive import unpacked


def _handled(*steps: tuple[str, ...]) -> Callable[[Path], Path]:
    """Runs each step in a folder with all files of the archive; the last writes made.pdf."""

    def make(folder: Path) -> Path:
        with tempfile.TemporaryDirectory() as scratch:
            files = Path(scratch)
            unpacked(files)
            for step in steps:
                run(files, *step)
            return (files / "made.pdf").replace(folder / "made.pdf")

    return make


_DISTIL: Final = ("gs", "-q", "-dBATCH", "-dNOPAUSE", "-sDEVICE=pdfwrite", "-sOutputFile=made.pdf")
MAKERS: Final = {
    # qpdf rewrites the file and keeps all that is in it.
    "handled-x1a-web-order": _handled(("qpdf", "--linearize", "scribus-x1a-pictures.pdf", "made.pdf")),
    "handled-x1a-packed": _handled(
        ("qpdf", "--object-streams=generate", "scribus-x1a-pictures.pdf", "made.pdf")
    ),
    "handled-x1a-enciphered": _handled(
        ("qpdf", "--encrypt", "", "owner", "128", "--use-aes=y", "--", "itext-x1a-spot.pdf", "made.pdf")
    ),
    "handled-x3-pages-added": _handled(
        ("qpdf", "ghostscript-x3-pages.pdf", "--pages", ".", "weasyprint-x3-rgb.pdf", "--", "made.pdf")
    ),
    "handled-x4-turned": _handled(("qpdf", "--rotate=+90", "scribus-x4-veil.pdf", "made.pdf")),
    "handled-x3-attached": _handled(
        ("qpdf", "fop-words.pdf", "--add-attachment", "itext-x1a-words.pdf", "--", "made.pdf")
    ),
    # A distiller that was not told of PDF/X.
    "handled-x1a-distilled": _handled((*_DISTIL, "itext-x1a-picture.pdf")),
    "handled-x4-distilled": _handled((*_DISTIL, "scribus-x4-layers.pdf")),
    "handled-x3-distilled-to-screen": _handled(
        (*_DISTIL, "-sColorConversionStrategy=RGB", "-sProcessColorModel=DeviceRGB", "fop-pictures.pdf")
    ),
    # Tools that write pages into a new file.
    "handled-x1a-united": _handled(
        ("pdfunite", "itext-x1a-words.pdf", "itext-x1a-spot.pdf", "made.pdf"),
    ),
    "handled-x3-stamped": _handled(
        ("pdftk", "fop-words.pdf", "stamp", "weasyprint-x4-see-through.pdf", "output", "made.pdf")
    ),
    "handled-x1a-two-joined": _handled(
        ("pdftk", "itext-x1a-words.pdf", "itext-x1a-spot.pdf", "cat", "output", "made.pdf")
    ),
    "handled-x4-cleaned": _handled(("mutool", "clean", "-gggz", "scribus-x4-layers.pdf", "made.pdf")),
    "handled-x4-drawn-anew": _handled(("pdftocairo", "-pdf", "context-x4-veil.pdf", "made.pdf")),
}
