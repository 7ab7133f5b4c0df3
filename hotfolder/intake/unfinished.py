"""Whether somebody may still be writing a file that has not changed for a while, and how that is known.

A program that pauses for longer than the quiet time leaves a file that is quiet and not whole. Two things
tell it apart: somebody has it open for writing, or it does not end as its format ends. The first is waited
for without end, as a growing file is; the second for a named time, since it may be damaged for good.
"""

from dataclasses import dataclass
from pathlib import Path

from hotfolder.intake.endings import why_not_whole
from hotfolder.intake.writers import Writers, writers_of

HELD = "a program still has it open for writing"


@dataclass(frozen=True, slots=True)
class Unfinished:
    """Why a file may not be finished. held: somebody has it open for writing."""

    held: bool
    why: str


def why_unfinished(path: Path) -> Unfinished | None:
    """What speaks against taking the file `path` now; None where nothing does. Never raises."""
    if writers_of(path) is Writers.SOME:
        return Unfinished(held=True, why=HELD)
    missing = why_not_whole(path)
    return None if missing is None else Unfinished(held=False, why=f"not whole yet: {missing}")
