"""Has files examined or measured in child processes, and reports on those whose children gave no result."""

import json
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from hotfolder.children.orders import ExamineOrder, MeasureOrder
from hotfolder.children.result_files import FACTS_JSON, REPORT_JSON, collect, has_result, leave
from hotfolder.children.supervisor import Ending, Supervisor
from hotfolder.digest import sha256_to_end
from hotfolder.errors import HotfolderError
from hotfolder.model.facts import FileFacts
from hotfolder.model.jobs import ChildFailure, Failures, FileToExamine, Obstacle, Summary
from hotfolder.model.press import Press
from hotfolder.model.ruleset import RuleSet
from hotfolder.report import failure_report
from hotfolder.report.as_json.strict import JsonObject

ENTRY_EXAMINE: Final = "hotfolder.workshop.workshop:examine"
ENTRY_MEASURE: Final = "hotfolder.workshop.workshop:measure_only"


class Examiner:
    """Examines files in children of one supervisor."""

    def __init__(self, supervisor: Supervisor) -> None:
        self._supervisor = supervisor

    def try_once(self, order: ExamineOrder) -> Summary | ChildFailure:
        """Run one child on `order`. DaemonStoppingError where the supervisor is told to stop."""
        folder = order.file.folder
        ended = self._supervisor.run(ENTRY_EXAMINE, order, folder, _size(order.file.artwork))
        summary = collect(folder)
        if summary is not None:
            return summary
        return ChildFailure(ended.how, ended.ending is not Ending.OVERRAN, ended.log_tail)


@dataclass(frozen=True, slots=True)
class Examined:
    """The report on a file as JSON, and the folder in which the child left its files."""

    report: JsonObject
    folder: Path


def examine_file(
    file: Path, rule_set: RuleSet, folder: Path, supervisor: Supervisor, *, with_page: bool = False
) -> Examined:
    """The report on `file`. folder: empty, for the child to write in. with_page: pictures too."""
    examiner = Examiner(supervisor)
    failures = Failures()
    while (obstacle := failures.obstacle) is None:
        own = folder / str(failures.attempt)
        own.mkdir()
        asked = FileToExamine(file.absolute(), file.name, own)
        order = ExamineOrder(asked, rule_set, with_page=with_page)
        outcome = examiner.try_once(order)
        if isinstance(outcome, Summary):
            return Examined(_read(own / REPORT_JSON), own)
        failures = failures.and_then(outcome)
    last = folder / "failed"
    last.mkdir()
    give_up(facts_of(file, file.name), rule_set, obstacle, last)
    return Examined(_read(last / REPORT_JSON), last)


def measure_file_in_child(
    file: Path, folder: Path, supervisor: Supervisor, press: Press | None = None
) -> JsonObject:
    """The facts of `file` as JSON, for `press`. HotfolderError where the child came to no result."""
    order = MeasureOrder(file.absolute(), file.name, folder, press)
    ended = supervisor.run(ENTRY_MEASURE, order, folder, _size(file))
    if not has_result(folder):
        raise HotfolderError(
            f"measuring {file.name!r} failed: the child {ended.how}\n{ended.log_tail}".strip()
        )
    return _read(folder / FACTS_JSON)


def give_up(
    file: FileFacts, rule_set: RuleSet, obstacle: Obstacle, folder: Path, job: str | None = None
) -> Summary:
    """Leave a report in `folder` that says that `file` could not be measured, and why."""
    report = failure_report(file, rule_set, obstacle.reason, datetime.now(UTC), job, obstacle.remedy)
    return leave(report, (), folder)


def facts_of(path: Path, name: str, sha256: str | None = None) -> FileFacts:
    """What can be known of a file without interpreting it. An unreadable one has no hash.

    sha256: its hash; None where it is to be made here, empty where the file is too large for that.
    """
    try:
        with path.open("rb") as file:
            digest = sha256 if sha256 is not None else sha256_to_end(file)
        return FileFacts(name, path.stat().st_size, digest, None)
    except OSError:
        return FileFacts(name, path.stat().st_size, sha256 or "", None)


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except OSError:  # the child will say why
        return 0


def _read(path: Path) -> JsonObject:
    content: JsonObject = json.loads(path.read_text(encoding="utf-8"))
    return content
