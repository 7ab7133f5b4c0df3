"""Measures files: artwork in, facts out."""

import math
from pathlib import Path

from hotfolder.digest import sha256_to_end
from hotfolder.measure.pdf.pdf_file import measure_pdf
from hotfolder.measure.raster import measure_raster
from hotfolder.measure.recognise import recognise
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import FileFacts, Format, Problem, ProblemKind, Unmeasured
from hotfolder.pdf.objects.deadline import Deadline

__all__ = ["measure", "recognise"]


def measure(
    path: Path, name: str | None = None, sha256: str | None = None, *, seconds: float = math.inf
) -> Artwork:
    """All facts of the file at `path`.

    `name` is what people call the file where that is not the path's own name; `sha256` saves
    reading the file once more where its hash is known. `seconds` of the processor is how long a PDF's pages
    are read; those beyond are told as not read. Never raises for what a file holds;
    OSError from opening or reading it propagates.
    """
    format_ = recognise(path)
    file = FileFacts(
        name=name if name is not None else path.name,
        bytes=path.stat().st_size,
        sha256=sha256 if sha256 is not None else _hash_of(path),
        format=format_,
    )
    try:
        match format_:
            case Format.PDF:
                return measure_pdf(path, file, Deadline.after(seconds))
            case None:
                return _unknown(file)
            case _:
                return measure_raster(path, file)
    except MemoryError:
        return _too_large(file)


def _unknown(file: FileFacts) -> Artwork:
    what = (
        "the file is empty"
        if file.bytes == 0
        else "the file is of a kind that is not read here; PDF, TIFF, JPEG, PNG and PSD are"
    )
    return Artwork(file, Unmeasured("pages", what), problems=(Problem("file", what, ProblemKind.UNREADABLE),))


def _too_large(file: FileFacts) -> Artwork:
    what = "reading the file takes more memory than there is for one file"
    return Artwork(file, Unmeasured("pages", what), problems=(Problem("pages", what, ProblemKind.LIMIT),))


def _hash_of(path: Path) -> str:
    with path.open("rb") as file:
        return sha256_to_end(file)
