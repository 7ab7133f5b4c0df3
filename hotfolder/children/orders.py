"""What a child process is asked to do: plain, frozen, picklable; all that it is given."""

from dataclasses import dataclass
from pathlib import Path

from hotfolder.model.press import Press
from hotfolder.model.ruleset import RuleSet


@dataclass(frozen=True, slots=True)
class ExamineOrder:
    """Measure and judge one file, and report on it into the empty folder `folder`.

    artwork: where its bytes lie. name: what people call it. sha256: its hash where it is known.
    with_page: whether to write the report with pictures as well.
    """

    artwork: Path
    name: str
    rule_set: RuleSet
    folder: Path
    with_page: bool
    sha256: str | None = None
    job: str | None = None
    previous_job: str | None = None
    same_bytes_as: str | None = None
    replaces: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MeasureOrder:
    """Measure one file and write its facts into the empty folder `folder`.

    press: the printing condition to draw its plates for; None for none.
    """

    artwork: Path
    name: str
    folder: Path
    press: Press | None = None
