"""What happens to a piece of artwork: measured, placed, judged, drawn, reported.

Runs in a child process only, and writes only into the folder that its order names.
"""

from datetime import UTC, datetime
from pathlib import Path

from hotfolder.artwork import Artwork, FileFacts, Problem, ProblemKind, Unmeasured
from hotfolder.checks import NOT_MEASURED
from hotfolder.checks.judge import judge
from hotfolder.drawing import draw_pages
from hotfolder.measure import measure
from hotfolder.outcome import FACTS_JSON, as_text, leave, leave_result
from hotfolder.placing import place
from hotfolder.report import Report, artwork_json
from hotfolder.workorders import ExamineOrder, MeasureOrder


def examine(order: ExamineOrder) -> None:
    """From a file to its report."""
    artwork = place(_facts(order.artwork, order.name, order.sha256), order.rule_set.product)
    judgement = judge(artwork, order.rule_set)
    report = Report(
        artwork=artwork,
        rule_set=order.rule_set,
        judgement=judgement,
        not_measured=NOT_MEASURED,
        job=order.job,
        previous_job=order.previous_job,
        same_bytes_as=order.same_bytes_as,
        made_at=datetime.now(UTC),
    )
    told = sorted({place.page for finding in judgement.findings for place in finding.places})
    pictures = draw_pages(order.artwork, artwork, pages=told) if order.with_page else None
    leave(report, pictures, order.folder)


def measure_only(order: MeasureOrder) -> None:
    """From a file to its facts."""
    facts = artwork_json(_facts(order.artwork, order.name, None))
    (order.folder / FACTS_JSON).write_text(as_text(facts), encoding="utf-8")
    leave_result({}, order.folder)


def _facts(path: Path, name: str, sha256: str | None) -> Artwork:
    """The facts of a file; one that the system does not let us read is all problem."""
    try:
        return measure(path, name, sha256)
    except OSError as error:
        reason = f"the system does not let this program read the file: {error.strerror}"
        problem = Problem("pages", reason, ProblemKind.UNREADABLE)
        file = FileFacts(name, path.stat().st_size, sha256 or "", None)
        return Artwork(file, Unmeasured("pages", reason), problems=(problem,))
