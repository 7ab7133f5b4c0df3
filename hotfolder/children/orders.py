"""What a child process is asked to do: plain, frozen, picklable; all that it is given."""

from dataclasses import dataclass
from pathlib import Path

from hotfolder.model.jobs import FileToExamine
from hotfolder.model.press import Press
from hotfolder.model.ruleset import RuleSet


@dataclass(frozen=True, slots=True)
class ExamineOrder:
    """Measure and judge one file, and report on it. with_page: whether on a page with pictures as well."""

    file: FileToExamine
    rule_set: RuleSet
    with_page: bool


@dataclass(frozen=True, slots=True)
class MeasureOrder:
    """Measure one file and write its facts into the empty folder `folder`.

    press: the printing condition to draw its plates for; None for none.
    """

    artwork: Path
    name: str
    folder: Path
    press: Press | None = None
