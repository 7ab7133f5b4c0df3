"""Makes the sound pages in `files/` with the programs that flyers come from.

Run as `python -m tests.seeded.make [NAME ...]` where the programs are installed (Debian: chromium,
ghostscript, inkscape, libreoffice-draw, libtiff-tools, texlive-latex-recommended, fonts-dejavu-core;
reportlab in the Python that HOTFOLDER_REPORTLAB_PYTHON names, or in this one).

Each page is an A5 flyer with 3 mm of bleed that keeps `seed.toml`: a coloured area that runs off the page,
a picture of 304 ppi, a heading, a line of text, a rule, and room below them for what `faults.py` plants.
Programs that write CMYK and page boxes do so here. Those that know screen colours and plain pages only go
through `print_ready`, as their files do at a studio. No program's own page is touched otherwise.

Picture, words and colours are made up; the files hold nothing of anyone else's but subsets of free fonts
(DejaVu, Computer Modern, and the URW base fonts that come with Ghostscript).
"""

import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final

import pikepdf
from PIL import Image, ImageDraw

from tests.producers.making import Workshop, run
from tests.seeded.by_hand import by_hand
from tests.seeded.demo_flyer import demo_flyer
from tests.seeded.print_ready import claim, print_ready

FILES: Final = Path(__file__).parent / "files"
SOURCES: Final = Path(__file__).parent / "sources"
PICTURE_PX: Final = (480, 360)


def _draw_picture(folder: Path) -> None:
    """The picture for the press and for the screen: a slope of colour, so that no pixel is like the next."""
    width, height = PICTURE_PX
    slope = [(x * 255 // width, y * 255 // height, 128) for y in range(height) for x in range(width)]
    screen = Image.new("RGB", PICTURE_PX)
    screen.putdata(slope)
    screen.save(folder / "screen.jpg", quality=85, dpi=(304.8, 304.8))
    press = Image.new("CMYK", PICTURE_PX)
    press.putdata([(*pixel, 0) for pixel in slope])
    press.save(folder / "picture.jpg", quality=85, dpi=(304.8, 304.8))


def inkscape(folder: Path) -> Path:
    """Inkscape writes with cairo."""
    run(
        folder, "inkscape", "flyer.svg", "--export-type=pdf", "--export-pdf-version=1.4",
        "--export-filename=made.pdf",
    )  # fmt: skip
    return _made_print_ready(folder / "made.pdf")


def libreoffice(folder: Path) -> Path:
    """LibreOffice Draw, without a window and with a profile of its own."""
    run(
        folder, "soffice", f"-env:UserInstallation=file://{folder}/profile", "--headless", "--convert-to",
        'pdf:draw_pdf_Export:{"ReduceImageResolution":{"type":"boolean","value":"false"}}', "flyer.fodg",
    )  # fmt: skip
    return _made_print_ready(folder / "flyer.pdf")


def chromium(folder: Path) -> Path:
    """Chromium prints with Skia; the page size is the style sheet's."""
    run(
        folder, "chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
        f"--user-data-dir={folder}/profile", "--print-to-pdf=made.pdf", "flyer.html",
    )  # fmt: skip
    return _made_print_ready(folder / "made.pdf")


def pdftex(folder: Path) -> Path:
    """PdfTeX, with boxes, claim and output intent written by its primitives."""
    run(folder, "pdflatex", "-interaction=batchmode", "flyer.tex")
    return folder / "flyer.pdf"


def dvipdfmx(folder: Path) -> Path:
    """LaTeX to DVI, and dvipdfmx from there, with boxes and claim as specials."""
    run(folder, "latex", "-interaction=batchmode", "flyer-dvi.tex")
    run(folder, "dvipdfmx", "-V", "4", "-o", "made.pdf", "flyer-dvi.dvi")
    return folder / "made.pdf"


def ghostscript(folder: Path) -> Path:
    """Ghostscript's pdfwrite, with boxes and claim by pdfmark."""
    run(
        folder, "gs", "-q", "-dBATCH", "-dNOPAUSE", "--permit-file-read=picture.jpg", "-sDEVICE=pdfwrite",
        "-dCompatibilityLevel=1.4", "-sOutputFile=made.pdf", "flyer.ps",
    )  # fmt: skip
    return folder / "made.pdf"


def tiff2pdf(folder: Path) -> Path:
    """Libtiff's tiff2pdf: a page that is one CMYK picture at 300 ppi."""
    picture = Image.new("CMYK", (1819, 2551), (190, 25, 90, 0))
    draw = ImageDraw.Draw(picture)
    draw.rectangle((0, 1200, 1819, 2551), fill=(20, 10, 40, 0))
    draw.ellipse((300, 200, 1200, 1100), fill=(0, 40, 160, 0))
    picture.save(folder / "picture.tif", dpi=(300, 300))
    run(folder, "tiff2pdf", "-z", "-o", "made.pdf", "picture.tif")
    return _made_print_ready(folder / "made.pdf")


def reportlab(folder: Path) -> Path:
    """Reportlab: a program of a studio that fills in flyers."""
    python = os.environ.get("HOTFOLDER_REPORTLAB_PYTHON", sys.executable)
    run(folder, python, "flyer-reportlab.txt")
    return _claimed(folder / "made.pdf")


def demo(folder: Path) -> Path:
    """The demonstration's own writer."""
    return _written(folder, demo_flyer())


def hand(folder: Path) -> Path:
    """Put together object by object, as unlike the others as the standard allows."""
    return _written(folder, by_hand((folder / "picture.jpg").read_bytes()))


MAKERS: Final[dict[str, Callable[[Path], Path]]] = {
    "chromium": chromium,
    "demo": demo,
    "dvipdfmx": dvipdfmx,
    "ghostscript": ghostscript,
    "hand": hand,
    "inkscape": inkscape,
    "libreoffice": libreoffice,
    "pdftex": pdftex,
    "reportlab": reportlab,
    "tiff2pdf": tiff2pdf,
}


def _made_print_ready(made: Path) -> Path:
    with pikepdf.open(made, allow_overwriting_input=True) as pdf:
        print_ready(pdf)
        pdf.save(made, force_version="1.4", object_stream_mode=pikepdf.ObjectStreamMode.disable)
    return made


def _claimed(made: Path) -> Path:
    with pikepdf.open(made, allow_overwriting_input=True) as pdf:
        claim(pdf, "PDF/X-1a:2003")
        pdf.save(made, force_version="1.4")
    return made


def _written(folder: Path, data: bytes) -> Path:
    made = folder / "made.pdf"
    made.write_bytes(data)
    return made


if __name__ == "__main__":
    Workshop(FILES, SOURCES, _draw_picture, MAKERS).make(sys.argv[1:])
