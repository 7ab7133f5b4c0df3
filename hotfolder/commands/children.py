"""Files are examined and measured in children, for every command; and what is said if all fails."""

import hashlib
import json
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from hotfolder.artwork import FileFacts
from hotfolder.errors import HotfolderError
from hotfolder.outcome import FACTS_JSON, REPORT_JSON, Outcome, collect, has_result, leave
from hotfolder.press import Press
from hotfolder.report import failure_report
from hotfolder.report.strict import JsonObject
from hotfolder.ruleset import RuleSet
from hotfolder.supervise import Supervisor
from hotfolder.workorders import ExamineOrder, MeasureOrder

ENTRY_EXAMINE: Final = "hotfolder.workshop:examine"
ENTRY_MEASURE: Final = "hotfolder.workshop:measure_only"
ATTEMPTS: Final = 2


class Gate:
    """Lets any number through at a time, or one alone."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._inside = 0
        self._alone = False

    @contextmanager
    def together(self) -> Iterator[None]:
        """Be inside with others; waits while somebody is to be alone."""
        with self._changed:
            self._changed.wait_for(lambda: not self._alone)
            self._inside += 1
        try:
            yield
        finally:
            with self._changed:
                self._inside -= 1
                self._changed.notify_all()

    @contextmanager
    def alone(self) -> Iterator[None]:
        """Be inside with nobody else; waits until the others are out."""
        with self._changed:
            self._changed.wait_for(lambda: not self._alone)
            self._alone = True
            self._changed.wait_for(lambda: self._inside == 0)
        try:
            yield
        finally:
            with self._changed:
                self._alone = False
                self._changed.notify_all()


@dataclass(frozen=True, slots=True)
class Failed:
    """An examination that came to no result: how its child ended, and the tail of the child's log."""

    how: str
    log_tail: str


class Examiner:
    """Examines files in children of one supervisor. A second attempt runs alone."""

    def __init__(self, supervisor: Supervisor) -> None:
        self._supervisor = supervisor
        self._gate = Gate()

    def try_once(self, order: ExamineOrder, *, alone: bool) -> Outcome | Failed:
        """Run one child on `order`. Interrupted where the supervisor is told to stop."""
        with self._gate.alone() if alone else self._gate.together():
            ended = self._supervisor.run(ENTRY_EXAMINE, order, order.folder)
        outcome = collect(order.folder)
        return outcome if outcome is not None else Failed(ended.how, ended.log_tail)


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
    failed = Failed("gave no result", "")
    for attempt in range(ATTEMPTS):
        own = folder / str(attempt)
        own.mkdir()
        order = ExamineOrder(file.absolute(), file.name, rule_set, own, with_page=with_page)
        found = examiner.try_once(order, alone=attempt > 0)
        if isinstance(found, Outcome):
            return Examined(_read(own / REPORT_JSON), own)
        failed = found
    last = folder / "failed"
    last.mkdir()
    give_up(facts_of(file, file.name), rule_set, f"measuring it {failed.how}, twice", last)
    return Examined(_read(last / REPORT_JSON), last)


def measure_file_in_child(
    file: Path, folder: Path, supervisor: Supervisor, press: Press | None = None
) -> JsonObject:
    """The facts of `file` as JSON, for `press`. HotfolderError where the child came to no result."""
    order = MeasureOrder(file.absolute(), file.name, folder, press)
    ended = supervisor.run(ENTRY_MEASURE, order, folder)
    if not has_result(folder):
        raise HotfolderError(
            f"measuring {file.name!r} failed: the child {ended.how}\n{ended.log_tail}".strip()
        )
    return _read(folder / FACTS_JSON)


def give_up(file: FileFacts, rule_set: RuleSet, reason: str, folder: Path, job: str | None = None) -> Outcome:
    """Leave a report in `folder` that says that `file` could not be measured, and why."""
    report = failure_report(file, rule_set, reason, datetime.now(UTC), job)
    return leave(report, (), folder)


def facts_of(path: Path, name: str, sha256: str | None = None) -> FileFacts:
    """What can be known of a file without interpreting it. An unreadable one has no hash."""
    try:
        with path.open("rb") as file:
            found = sha256 or hashlib.file_digest(file, "sha256").hexdigest()
        return FileFacts(name, path.stat().st_size, found, None)
    except OSError:
        return FileFacts(name, path.stat().st_size, sha256 or "", None)


def _read(path: Path) -> JsonObject:
    read: JsonObject = json.loads(path.read_text(encoding="utf-8"))
    return read
