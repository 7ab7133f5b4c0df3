"""Measures raster files: JPEG, TIFF, PNG and layered files become the same `Artwork` as a PDF.

The facts are what the header declares, read in `raster/headers`; then the pixels are decoded, so that a
file that is cut short is known before it is printed. The size of a page is the declared one; whether
that is the size meant is decided in `workshop/placing`.
"""

from collections.abc import Callable, Iterator
from pathlib import Path

from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import FileFacts, Format, Problem, ProblemKind, Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page, PageBoxes
from hotfolder.model.raster import RasterFacts, raster_mark
from hotfolder.raster.headers.jpeg import read_jpeg
from hotfolder.raster.headers.picture import HeaderReading, HeaderTrouble, PictureHeader
from hotfolder.raster.headers.png import read_png
from hotfolder.raster.headers.psd import read_psd
from hotfolder.raster.headers.source import ByteSource
from hotfolder.raster.headers.tiff_picture import read_tiff
from hotfolder.raster.opacity import with_opacity
from hotfolder.raster.pixels import look_at_pixels
from hotfolder.units import POINTS_PER_INCH

_READERS: dict[Format, Callable[[ByteSource], HeaderReading]] = {
    Format.JPEG: read_jpeg,
    Format.TIFF: read_tiff,
    Format.PNG: read_png,
    Format.PSD: read_psd,
}

_UNKNOWN_EXTENT = Unmeasured(
    "marks", "the header declares no resolution, so the size of the picture on paper is not known"
)


def measure_raster(path: Path, file: FileFacts) -> Artwork:
    """The facts of the raster file at `path`, whose format is `file.format`.

    Whatever the bytes are, this gives an `Artwork`; trouble with them is in its problems.
    Raises OSError where the file cannot be opened.
    """
    reader = _READERS.get(file.format) if file.format is not None else None
    if reader is None:
        return _unreadable(
            file, HeaderTrouble("", "this is none of the picture formats", ProblemKind.UNREADABLE)
        )
    with path.open("rb") as stream:
        source = ByteSource(stream)
        reading = reader(source)
        if not reading.pictures:
            return _unreadable(file, reading.troubles[0])
        problems = [_problem("pages", trouble) for trouble in reading.troubles]
        pages = []
        for number, picture in enumerate(reading.pictures, start=1):
            troubles = (*picture.troubles, *look_at_pixels(path, source, picture))
            pages.append(_page(number, with_opacity(path, source, file.format, number, picture)))
            problems += [_problem(f"pages[{number}].images[1]", trouble) for trouble in troubles]
            problems += _resolution_note(number, picture)
    return Artwork(file, tuple(pages), problems=tuple(problems))


def _unreadable(file: FileFacts, trouble: HeaderTrouble) -> Artwork:
    return Artwork(
        file, Unmeasured("pages", trouble.what), problems=(Problem("pages", trouble.what, trouble.kind),)
    )


def _problem(where: str, trouble: HeaderTrouble) -> Problem:
    return Problem(f"{where}.{trouble.part}" if trouble.part else where, trouble.what, trouble.kind)


def _resolution_note(number: int, picture: PictureHeader) -> Iterator[Problem]:
    if picture.facts.x_ppi is None:
        yield Problem(
            f"pages[{number}].images[1].x_ppi",
            "the header declares no resolution, and so no size",
            ProblemKind.NOTE,
        )


def _page(number: int, facts: RasterFacts) -> Page:
    media = declared_box(facts)
    return Page(
        number=number,
        rotate=0,
        user_unit=1.0,
        boxes=PageBoxes(media=media),
        trim=Unmeasured("trim", "a picture file has no trim of its own; the product's sizes tell it"),
        marks=_UNKNOWN_EXTENT if media is None else (raster_mark(facts, media),),
        raster=facts,
    )


def declared_box(facts: RasterFacts) -> Box | None:
    """The page that the declared resolution makes of the picture, as it is meant to be seen."""
    if facts.x_ppi is None or facts.y_ppi is None:
        return None
    width = facts.width_px / facts.x_ppi * POINTS_PER_INCH
    height = facts.height_px / facts.y_ppi * POINTS_PER_INCH
    turned = facts.orientation in {5, 6, 7, 8}
    return Box(0.0, 0.0, *((height, width) if turned else (width, height)))
