"""Makes the small PDFs in `files/` with the programs that designers and their tools write PDFs with.

Run as `python -m tests.producers.make [NAME ...]` where the programs are installed (Debian:
chromium, ghostscript, inkscape, libreoffice-draw, libtiff-tools, texlive-latex-recommended,
fonts-dejavu-core). What each file must measure stands in `expected.toml`, from the figures here:

- the page is an A5 leaflet with 3 mm of bleed: 154 x 216 mm (ISO 216; bleed: common practice);
- a picture of 300 x 200 px lies upright, 50.8 mm wide: 150 ppi;
- the same picture lies turned by 30 degrees, 25.4 mm wide: 300 ppi along its own axes;
- a line of text of 12 pt.

The picture, the words and the colours are made up here; the files hold nothing of anyone else's but
subsets of free fonts (DejaVu, Computer Modern, and the URW base fonts that come with Ghostscript).
"""

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final

from PIL import Image, ImageDraw

from tests.producers.making import Workshop, run

FILES: Final = Path(__file__).parent / "files"
SOURCES: Final = Path(__file__).parent / "sources"
PICTURE_PX: Final = (300, 200)


def _draw_picture(folder: Path) -> None:
    """The picture, as PNG and JPEG: a slope of colour, so that no pixel is like its neighbours."""
    width, height = PICTURE_PX
    picture = Image.new("RGB", PICTURE_PX)
    picture.putdata([(x * 255 // width, y * 255 // height, 128) for y in range(height) for x in range(width)])
    picture.save(folder / "picture.png", dpi=(96, 96))
    picture.save(folder / "picture.jpg", quality=80)


def inkscape(folder: Path) -> Path:
    """Inkscape writes with cairo."""
    run(folder, "inkscape", "leaflet.svg", "--export-type=pdf", "--export-filename=made.pdf")
    return folder / "made.pdf"


def libreoffice(folder: Path) -> Path:
    """LibreOffice Draw, without a window and with a profile of its own."""
    run(
        folder, "soffice", f"-env:UserInstallation=file://{folder}/profile", "--headless",
        "--convert-to", "pdf", "leaflet.fodg",
    )  # fmt: skip
    return folder / "leaflet.pdf"


def chromium(folder: Path) -> Path:
    """Chromium prints with Skia; the page size is the style sheet's."""
    run(
        folder, "chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
        f"--user-data-dir={folder}/profile", "--print-to-pdf=made.pdf", "leaflet.html",
    )  # fmt: skip
    return folder / "made.pdf"


def pdflatex(folder: Path) -> Path:
    """PdfTeX, with a trim and a bleed box written as page attributes."""
    run(folder, "pdflatex", "-interaction=batchmode", "leaflet.tex")
    return folder / "leaflet.pdf"


def dvipdfmx(folder: Path) -> Path:
    """LaTeX to DVI, and dvipdfmx from there."""
    run(folder, "latex", "-interaction=batchmode", "leaflet-dvi.tex")
    run(folder, "dvipdfmx", "-o", "made.pdf", "leaflet-dvi.dvi")
    return folder / "made.pdf"


def ghostscript(folder: Path) -> Path:
    """Ghostscript's pdfwrite, with boxes by pdfmark."""
    run(
        folder, "gs", "-q", "-dBATCH", "-dNOPAUSE", "--permit-file-read=picture.jpg", "-sDEVICE=pdfwrite",
        "-sOutputFile=made.pdf", "leaflet.ps",
    )  # fmt: skip
    return folder / "made.pdf"


def tiff2pdf(folder: Path) -> Path:
    """Libtiff's tiff2pdf: a page that is one picture of 910 x 1276 px at 150 ppi."""
    picture = Image.new("RGB", (910, 1276), "#2a6f77")
    ImageDraw.Draw(picture).ellipse((117, 300, 793, 976), fill="#f4d35e")
    picture.save(folder / "picture.tif", dpi=(150, 150))
    run(folder, "tiff2pdf", "-z", "-o", "made.pdf", "picture.tif")
    return folder / "made.pdf"


MAKERS: Final[dict[str, Callable[[Path], Path]]] = {
    "chromium": chromium,
    "dvipdfmx": dvipdfmx,
    "ghostscript": ghostscript,
    "inkscape": inkscape,
    "libreoffice": libreoffice,
    "pdflatex": pdflatex,
    "tiff2pdf": tiff2pdf,
}


if __name__ == "__main__":
    Workshop(FILES, SOURCES, _draw_picture, MAKERS).make(sys.argv[1:])
