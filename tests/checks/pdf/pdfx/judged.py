"""Judges files that tests make, through the reader of files."""

from pathlib import Path

from hotfolder.checks.pdf.pdfx.judging import Conformance, judge_level
from hotfolder.checks.pdf.pdfx.requirement import Subject
from hotfolder.checks.shared.pdfx_levels import Level
from hotfolder.measure.pdf.pdf_file import measure_pdf
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import FileFacts, Format
from hotfolder.model.inventory.inventory import Inventory


def measured(data: bytes, folder: Path) -> Artwork:
    """The facts of a file of these bytes."""
    path = folder / "made.pdf"
    path.write_bytes(data)
    return measure_pdf(path, FileFacts(path.name, len(data), "", Format.PDF))


def judged(data: bytes, level: Level, folder: Path) -> Conformance:
    """What judging a file of these bytes against `level` comes to."""
    artwork = measured(data, folder)
    assert artwork.pdf is not None
    assert isinstance(artwork.pdf.inventory, Inventory)
    return judge_level(Subject(artwork, artwork.pdf.inventory), level)


def broken(conformance: Conformance) -> dict[str, list[str]]:
    """The requirements that are broken, by id, each with what breaks it."""
    return {each.requirement.id: [breach.what for breach in each.breaches] for each in conformance.broken}


def left_open(conformance: Conformance) -> list[str]:
    """The requirements that are left open, by id."""
    return [each.requirement.id for each in conformance.left_open]
