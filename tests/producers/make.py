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

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Final

from PIL import Image, ImageDraw

FILES: Final = Path(__file__).parent / "files"
SOURCES: Final = Path(__file__).parent / "sources"
PICTURE_PX: Final = (300, 200)


def main(names: list[str]) -> None:
    """Makes the files named, or all of them; what a program says goes to the terminal."""
    FILES.mkdir(exist_ok=True)
    for name in names or MAKERS:
        with tempfile.TemporaryDirectory() as scratch:
            folder = Path(scratch)
            for source in SOURCES.iterdir():
                shutil.copy(source, folder)
            _draw_picture(folder)
            made = MAKERS[name](folder)
            shutil.copyfile(made, FILES / f"{name}.pdf")


def _draw_picture(folder: Path) -> None:
    """The picture, as PNG and JPEG: a slope of colour, so that no pixel is like its neighbours."""
    width, height = PICTURE_PX
    picture = Image.new("RGB", PICTURE_PX)
    picture.putdata([(x * 255 // width, y * 255 // height, 128) for y in range(height) for x in range(width)])
    picture.save(folder / "picture.png", dpi=(96, 96))
    picture.save(folder / "picture.jpg", quality=80)


def inkscape(folder: Path) -> Path:
    """Inkscape writes with cairo."""
    _run(folder, "inkscape", "leaflet.svg", "--export-type=pdf", "--export-filename=made.pdf")
    return folder / "made.pdf"


def libreoffice(folder: Path) -> Path:
    """LibreOffice Draw, without a window and with a profile of its own."""
    _run(
        folder, "soffice", f"-env:UserInstallation=file://{folder}/profile", "--headless",
        "--convert-to", "pdf", "leaflet.fodg",
    )  # fmt: skip
    return folder / "leaflet.pdf"


def chromium(folder: Path) -> Path:
    """Chromium prints with Skia; the page size is the style sheet's."""
    _run(
        folder, "chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
        f"--user-data-dir={folder}/profile", "--print-to-pdf=made.pdf", "leaflet.html",
    )  # fmt: skip
    return folder / "made.pdf"


def pdflatex(folder: Path) -> Path:
    """PdfTeX, with a trim and a bleed box written as page attributes."""
    _run(folder, "pdflatex", "-interaction=batchmode", "leaflet.tex")
    return folder / "leaflet.pdf"


def dvipdfmx(folder: Path) -> Path:
    """LaTeX to DVI, and dvipdfmx from there."""
    _run(folder, "latex", "-interaction=batchmode", "leaflet-dvi.tex")
    _run(folder, "dvipdfmx", "-o", "made.pdf", "leaflet-dvi.dvi")
    return folder / "made.pdf"


def ghostscript(folder: Path) -> Path:
    """Ghostscript's pdfwrite, with boxes by pdfmark."""
    _run(
        folder, "gs", "-q", "-dBATCH", "-dNOPAUSE", "--permit-file-read=picture.jpg", "-sDEVICE=pdfwrite",
        "-sOutputFile=made.pdf", "leaflet.ps",
    )  # fmt: skip
    return folder / "made.pdf"


def tiff2pdf(folder: Path) -> Path:
    """Libtiff's tiff2pdf: a page that is one picture of 910 x 1276 px at 150 ppi."""
    picture = Image.new("RGB", (910, 1276), "#2a6f77")
    ImageDraw.Draw(picture).ellipse((117, 300, 793, 976), fill="#f4d35e")
    picture.save(folder / "picture.tif", dpi=(150, 150))
    _run(folder, "tiff2pdf", "-z", "-o", "made.pdf", "picture.tif")
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


def _run(folder: Path, program: str, *arguments: str) -> None:
    # The epoch keeps the date of making out of the files of those programs that know of it.
    known = os.environ | {"HOME": str(folder), "SOURCE_DATE_EPOCH": "1767225600"}
    subprocess.run([program, *arguments], cwd=folder, check=True, env=known)


if __name__ == "__main__":
    main(sys.argv[1:])
