"""A small studio on the disk, with a child and a clock that tests decide about."""

import tempfile
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from hotfolder.children.result_files import as_text
from hotfolder.config.studio import DELIVERY_MARKER, MARKER, Studio, load_studio
from hotfolder.desk.desk import Desk
from hotfolder.intake.candidate import Candidate
from hotfolder.model.findings import Verdict
from hotfolder.model.jobs import (
    ChildFailure,
    JobId,
    JobNotice,
    JobOrder,
    JobResult,
    NextSteps,
    Obstacle,
    Summary,
)
from hotfolder.store.jobs import Job, JobState, Step

STUDIO_TOML = """
[studio]
name = "Kestrel & Reed"

[printers.quay]
rules = "flyer-offset-coated"

[printers.quay.products.cards]
rules = "business-card"

[printers.mill]
rules = "poster"
reports = "folder"
"""
GOOD = b"%PDF-1.4 good artwork\nstartxref\n0\n%%EOF\n"
FAULTY = b"%PDF-1.4 faulty artwork\nstartxref\n0\n%%EOF\n"
HTML = """<!doctype html><html><head><meta name="generator" content="hotfolder-report/1">
<meta name="job" content="{job}"></head>
<body><!-- hotfolder:released --><p>{job}</p></body></html>"""


class Clock:
    """A clock that goes on by a second each time it is looked at."""

    def __init__(self) -> None:
        self.now = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.now += timedelta(seconds=1)
        return self.now


def lay_studio(root: Path) -> Studio:
    """A studio with two printers, one of them with a product, one with reports in a folder of their own."""
    root.mkdir(parents=True, exist_ok=True)
    (root / "hotfolder.toml").write_text(STUDIO_TOML, encoding="utf-8")
    studio = load_studio(root)
    for printer in studio.printers:
        for inbox in (printer.inbox, *(printer.inbox_of(product) for product in printer.products)):
            inbox.mkdir(parents=True)
            (inbox / MARKER).touch()
        printer.outbox.mkdir()
        printer.needs_fixing.mkdir()
    studio.hidden.mkdir(mode=0o700)
    studio.audit.mkdir()
    return studio


def examine(order: JobOrder) -> JobResult:
    """A child's work in small: what says `faulty` needs fixing, anything else is ready."""
    faulty = b"faulty" in order.file.artwork.read_bytes()
    return written(order, Verdict.NEEDS_FIXING if faulty else Verdict.READY)


def written(order: JobOrder, verdict: Verdict, problem: str | None = None) -> JobResult:
    """The result of a child, with its reports on the disk."""
    report_json, report_html = order.file.folder / "report.json", order.file.folder / "report.html"
    report = {"schema": "hotfolder-report/1", "job": order.file.job, "findings": ["kept"], "released": None}
    report_json.write_text(as_text(report), encoding="utf-8")
    report_html.write_text(HTML.format(job=order.file.job), encoding="utf-8")
    must_fix = 1 if verdict is Verdict.NEEDS_FIXING else 0
    first = "p.1 bleed: 0 mm at the top, 3 mm wanted" if must_fix else None
    summary = Summary(verdict, must_fix, 2, 0, first, "flyer-offset-coated")
    return JobResult(summary, report_json, report_html, problem)


def fail(order: JobOrder, obstacle: Obstacle) -> JobResult:
    """The reports on a file that no child could examine."""
    return written(order, Verdict.NEEDS_FIXING, obstacle.reason)


class AtWork:
    """A desk in its studio, and what it said."""

    def __init__(
        self,
        studio: Studio,
        child: Callable[[JobOrder], JobResult | ChildFailure] = examine,
        clock: Callable[[], datetime] | None = None,
    ) -> None:
        self.studio = studio
        self.notices: list[JobNotice] = []
        self.orders: list[JobOrder] = []
        self.obstacles: list[Obstacle] = []
        self.child = child
        self.desk = Desk(studio, self._run, self._fail, clock or Clock(), self.notices.append)

    def _run(self, order: JobOrder) -> JobResult | ChildFailure:
        self.orders.append(order)
        return self.child(order)

    def _fail(self, order: JobOrder, obstacle: Obstacle) -> JobResult:
        self.obstacles.append(obstacle)
        return fail(order, obstacle)

    def drop(
        self, content: bytes, name: str = "flyer.pdf", printer: str = "quay", product: str | None = None
    ) -> Candidate:
        """Lay a file into an inbox: the candidate that intake would make of it."""
        inbox = self.studio.printer(printer).inbox
        folder = inbox / product if product else inbox
        (folder / name).write_bytes(content)
        return candidate(folder / name, printer, product)

    def bring(self, content: bytes, name: str = "flyer.pdf", printer: str = "quay") -> JobId:
        """Drop a file and work on it to its end."""
        job = self.desk.take(self.drop(content, name, printer))
        assert job is not None
        assert self.desk.work(job) == NextSteps()
        return job

    def interrupt(self, job: JobId, step: Step) -> None:
        """Work on `job` until its state with `step` is saved, as if everything ended there."""
        saved = Job.saved

        def stopping(job: Job, state: JobState) -> Job:
            job = saved(job, state)
            if state.step is step:
                raise KeyboardInterrupt
            return job

        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(Job, "saved", stopping)
            with pytest.raises(KeyboardInterrupt):
                self.desk.work(job)

    def begin(self, step: Step) -> JobId:
        """Drop a good file, whose job is interrupted after `step`."""
        job = self.desk.take(self.drop(GOOD))
        assert job is not None
        self.interrupt(job, step)
        return job


def candidate(path: Path, printer: str, product: str | None = None) -> Candidate:
    """The settled file at `path`."""
    status = path.lstat()
    return Candidate(
        printer,
        product,
        path.parent,
        path.name,
        status.st_dev,
        status.st_ino,
        status.st_size,
        status.st_mtime_ns,
    )


def tree(folder: Path) -> list[str]:
    """All files below `folder`, as paths in it; markers are left out."""
    return sorted(
        str(path.relative_to(folder))
        for path in folder.rglob("*")
        if not path.is_dir() and path.name not in {MARKER, DELIVERY_MARKER}
    )


def names_in(folder: Path) -> list[str]:
    """The names in a folder, sorted; markers are left out."""
    return sorted({path.name for path in folder.iterdir()} - {MARKER, DELIVERY_MARKER})


def _rights_count() -> bool:
    with tempfile.NamedTemporaryFile() as file:
        Path(file.name).chmod(0)
        try:
            Path(file.name).read_bytes()
        except PermissionError:
            return True
    return False


needs_rights = pytest.mark.skipif(not _rights_count(), reason="this user may read and write everything")
"""For tests of a missing right: root, with its usual capabilities, has them all."""
