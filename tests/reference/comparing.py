"""Compares any file with the reference tool for its kind."""

from pathlib import Path

from hotfolder.measure import measure
from hotfolder.model.facts import Format
from tests.reference.facts import Comparison
from tests.reference.glyphs import caught_runs
from tests.reference.pdf import compare_pdf
from tests.reference.raster import compare_raster


def compare(path: Path) -> Comparison:
    """The facts of the file on which we and its reference tool both have something to say."""
    with caught_runs() as runs:
        artwork = measure(path)
    # A PDF too broken to be known for one is still one to its name.
    if artwork.file.format is Format.PDF or path.suffix.lower() == ".pdf":
        return compare_pdf(path, artwork, runs)
    return compare_raster(path, artwork)
