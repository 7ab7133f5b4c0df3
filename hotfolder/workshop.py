"""What happens to a piece of artwork: measured, placed, drawn as plates, judged, reported.

Runs in a child process only, and writes only into the folder that its order names.
"""

from datetime import UTC, datetime
from pathlib import Path

from hotfolder.artwork import Artwork, FileFacts, Problem, ProblemKind, Unmeasured
from hotfolder.checks import NOT_MEASURED
from hotfolder.checks.judge import judge
from hotfolder.drawing import PlateDrawer, page_proofs
from hotfolder.inking import ink_limits
from hotfolder.measure import measure
from hotfolder.measure.ink import measure_ink
from hotfolder.outcome import FACTS_JSON, as_text, leave, leave_result
from hotfolder.placing import place
from hotfolder.proofing import proof_rules
from hotfolder.report import Report, artwork_json
from hotfolder.workorders import ExamineOrder, MeasureOrder


def examine(order: ExamineOrder) -> None:
    """From a file to its report."""
    rules = order.rule_set
    placed = place(_facts(order.artwork, order.name, order.sha256), rules.product)
    with PlateDrawer(order.artwork, placed, rules.press) as plates:
        artwork = measure_ink(plates, placed, rules.press, limits=ink_limits(placed, rules))
        judgement = judge(artwork, rules)
        pictures = (
            page_proofs(plates, order.artwork, artwork, proof_rules(artwork, rules, judgement))
            if order.with_page
            else None
        )
    report = Report(
        artwork=artwork,
        rule_set=rules,
        judgement=judgement,
        not_measured=NOT_MEASURED,
        job=order.job,
        previous_job=order.previous_job,
        same_bytes_as=order.same_bytes_as,
        replaces=order.replaces,
        made_at=datetime.now(UTC),
    )
    leave(report, pictures, order.folder)


def measure_only(order: MeasureOrder) -> None:
    """From a file to its facts."""
    artwork = _facts(order.artwork, order.name, None)
    with PlateDrawer(order.artwork, artwork, order.press) as plates:
        facts = artwork_json(measure_ink(plates, artwork, order.press))
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
