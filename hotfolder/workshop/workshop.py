"""What happens to a piece of artwork: measured, placed, drawn as plates, judged, reported.

Runs in a child process only, and writes only into the folder that its order names.
"""

import time
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from hotfolder.checks import NOT_MEASURED
from hotfolder.checks.judge import judge
from hotfolder.children.forked import run_forked
from hotfolder.children.orders import ExamineOrder, MeasureOrder
from hotfolder.children.result_files import FACTS_JSON, as_text, leave, leave_result
from hotfolder.drawing import PlateDrawer, page_proofs
from hotfolder.measure import measure
from hotfolder.measure.inks.ink import InkBudget, measure_ink, without_ink
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import FileFacts, Problem, ProblemKind, Unmeasured
from hotfolder.model.findings import Judgement
from hotfolder.model.pictures import PagePicture, PageProof
from hotfolder.report import Report, artwork_json
from hotfolder.workshop.placing import place
from hotfolder.workshop.rule_figures import ink_limits, proof_rules

_NOT_DRAWN: Final = "its pages were not drawn: too heavy"

# What the examination of a file may take of the processor, in seconds: for its facts, its plates and its
# report together. Plates get what the facts leave, a little in any case; a page is given up some seconds
# before the end, so that there is time for judging, and none is begun when those are near.
CPU_SECONDS: Final = 16
_LEAST_LEFT_S: Final = 8
_FOR_JUDGING_S: Final = 3.0
_FOR_JUDGING_A_PAGE_S: Final = 0.0004
_FOR_ONE_PAGE_S: Final = 2


def examine(order: ExamineOrder) -> None:
    """From a file to its report.

    Drawing runs in a process of its own: what it cannot cope with leaves the inks open, and nothing else.
    """
    began = time.process_time()
    rules = order.rule_set
    placed = place(_facts(order.artwork, order.name, order.sha256), rules.product)
    left = _left(began)
    trouble = run_forked(lambda: _draw_and_report(order, placed, left), left)
    if trouble is not None:
        artwork = without_ink(placed, f"{_NOT_DRAWN}, {trouble}")
        _report(order, artwork, judge(artwork, rules), () if order.with_page else None)


def _draw_and_report(order: ExamineOrder, placed: Artwork, seconds: int) -> None:
    rules = order.rule_set
    until = _until(placed, seconds)
    with PlateDrawer(order.artwork, placed, rules.press, until=until) as plates:
        budget = InkBudget(seconds=until - _FOR_ONE_PAGE_S)
        artwork = measure_ink(plates, placed, rules.press, budget, ink_limits(placed, rules))
        judgement = judge(artwork, rules)
        pictures = (
            page_proofs(plates, order.artwork, artwork, proof_rules(artwork, rules, judgement))
            if order.with_page
            else None
        )
    _report(order, artwork, judgement, pictures)


def _left(began: float) -> int:
    """How many seconds of the processor are left for plates and report."""
    return max(_LEAST_LEFT_S, CPU_SECONDS - round(time.process_time() - began))


def _until(artwork: Artwork, seconds: int) -> float:
    """The second at which the page in hand is given up."""
    return seconds - _FOR_JUDGING_S - _FOR_JUDGING_A_PAGE_S * len(artwork.known_pages)


def _report(
    order: ExamineOrder,
    artwork: Artwork,
    judgement: Judgement,
    pictures: Sequence[PageProof | PagePicture | Unmeasured] | None,
) -> None:
    rules = order.rule_set
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
    began = time.process_time()
    artwork = _facts(order.artwork, order.name, None)
    left = _left(began)
    trouble = run_forked(lambda: _draw_and_leave_facts(order, artwork, left), left)
    if trouble is not None:
        _leave_facts(order, without_ink(artwork, f"{_NOT_DRAWN}, {trouble}"))


def _draw_and_leave_facts(order: MeasureOrder, artwork: Artwork, seconds: int) -> None:
    until = _until(artwork, seconds)
    with PlateDrawer(order.artwork, artwork, order.press, until=until) as plates:
        _leave_facts(
            order, measure_ink(plates, artwork, order.press, InkBudget(seconds=until - _FOR_ONE_PAGE_S))
        )


def _leave_facts(order: MeasureOrder, artwork: Artwork) -> None:
    (order.folder / FACTS_JSON).write_text(as_text(artwork_json(artwork)), encoding="utf-8")
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
