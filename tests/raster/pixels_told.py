"""What is told of the pixels of a file."""

from pathlib import Path

from hotfolder.model.facts import Format, Problem, ProblemKind
from tests.raster.raster_bytes import (
    measured,
    noise,
)

NOISE = noise("RGB", (64, 48))


def told(folder: Path, data: bytes, form: Format) -> list[Problem]:
    """The problems of a file, but for notes."""
    return [
        problem for problem in measured(folder, data, form).problems if problem.kind is not ProblemKind.NOTE
    ]


def kinds(folder: Path, data: bytes, form: Format) -> set[ProblemKind]:
    return {problem.kind for problem in told(folder, data, form)}
