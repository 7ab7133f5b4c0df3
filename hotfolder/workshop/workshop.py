"""What happens to a piece of artwork: measured, placed, drawn as plates, judged, reported.

Runs in a child process only, and writes only into the folder that its order names.
"""

import os
from collections.abc import Callable, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from functools import partial
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
from hotfolder.model.inks import PageInk
from hotfolder.model.pages import NOT_DRAWN, Page
from hotfolder.model.pictures import PagePicture, PageProof
from hotfolder.model.press import Press
from hotfolder.report import Report, artwork_json
from hotfolder.workshop.finished_pages import FinishedPages
from hotfolder.workshop.placing import place
from hotfolder.workshop.rule_figures import ink_limits, proof_rules

_NOT_DRAWN: Final = "its pages were not drawn: too heavy"
_PAGE_NOT_DRAWN: Final = "the page was not drawn: too heavy"

# What the examination of a file may take of the processor, in seconds: reading it, its plates and its report
# together. Plates get what the reading leaves, and where that is too little none is drawn; a page is given up
# some seconds before the end, so that there is time for judging. What comes to its end without leaving a
# report has to be judged again, without plates; that and what nothing can interrupt fit into twenty.
CPU_SECONDS: Final = 16
READING_SECONDS: Final = 12
_LEAST_FOR_PLATES_S: Final = 3
_FOR_JUDGING_S: Final = 3.0
_FOR_JUDGING_A_PAGE_S: Final = 0.0004
_FOR_ONE_PAGE_S: Final = 2

# Each page that ends the process that draws it takes one; a file with more of them is made so.
_MOST_PROCESSES: Final = 4


@dataclass(frozen=True, slots=True)
class _ToDraw:
    """What a process has to draw.

    artwork: the inks of some pages may be known, or given up. until: the processor time of the process at
    which it gives up the page in hand. finished: takes each page as soon as it has its ink.
    """

    artwork: Artwork
    until: float
    finished: Callable[[Page], None]

    @property
    def budget(self) -> InkBudget:
        """No page is begun when the end is near."""
        return InkBudget(seconds=self.until - _FOR_ONE_PAGE_S)


def examine(order: ExamineOrder) -> None:
    """From a file to its report.

    Drawing runs in a process of its own: what it cannot cope with leaves the inks of a page open, and
    nothing else.
    """
    began = _taken()
    rules = order.rule_set
    placed = place(_facts(order.file.artwork, order.file.name, order.file.sha256), rules.product)
    artwork = _draw(partial(_draw_and_report, order), placed, order.file.folder, began)
    if artwork is not None:
        artwork = _for_press(artwork, rules.press)
        _report(order, artwork, judge(artwork, rules), () if order.with_page else None)


def _draw_and_report(order: ExamineOrder, work: _ToDraw) -> None:
    rules, placed = order.rule_set, work.artwork
    with PlateDrawer(order.file.artwork, placed, rules.press, until=work.until) as plates:
        limits = ink_limits(placed, rules)
        artwork = measure_ink(plates, placed, rules.press, work.budget, limits, work.finished)
        judgement = judge(artwork, rules)
        pictures = (
            page_proofs(plates, order.file.artwork, artwork, proof_rules(artwork, rules, judgement))
            if order.with_page
            else None
        )
    _report(order, artwork, judgement, pictures)


def _taken() -> float:
    """The seconds of the processor that this process took, and those that it waited for."""
    times = os.times()
    return times.user + times.system + times.children_user + times.children_system


def _draw(draw: Callable[[_ToDraw], None], artwork: Artwork, folder: Path, began: float) -> Artwork | None:
    """Draw in a process of its own, with what is left of the time: None where it came to its end.

    Else what is known of the artwork: the page at which it ended is given up, and those after it are drawn
    in another process while there is time. began: what was taken when the examination began.
    """
    trouble = ""
    for _ in range(_MOST_PROCESSES):
        taken = round(_taken() - began)
        left = CPU_SECONDS - taken
        until = left - _FOR_JUDGING_S - _FOR_JUDGING_A_PAGE_S * len(artwork.known_pages)
        if until < _LEAST_FOR_PLATES_S:
            trouble = trouble or f"reading the file took {taken} s of processor time"
            break
        with closing(FinishedPages(artwork, folder)) as finished:
            work = _ToDraw(artwork, until, finished.add)
            ended = run_forked(partial(draw, work), left)
            if ended is None:
                return None
            artwork, trouble = _without_next(finished.taken_over(), ended), ended
        if all(page.ink != NOT_DRAWN for page in artwork.known_pages):
            break
    return without_ink(artwork, f"{_NOT_DRAWN}, {trouble}")


def _without_next(artwork: Artwork, trouble: str) -> Artwork:
    """The artwork without the inks of the first page that was not drawn, as that is what came in between."""
    for order, page in enumerate(artwork.known_pages):
        if page.ink == NOT_DRAWN:
            pages = list(artwork.known_pages)
            pages[order] = replace(page, ink=Unmeasured("ink", f"{_PAGE_NOT_DRAWN}, {trouble}"))
            return replace(artwork, pages=tuple(pages))
    return artwork


def _for_press(artwork: Artwork, press: Press | None) -> Artwork:
    """The artwork with the press that its pages were drawn for, where any was."""
    drawn = any(isinstance(page.ink, PageInk) for page in artwork.known_pages)
    return replace(artwork, press=press.name) if drawn and press is not None else artwork


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
        job=order.file.job,
        previous_job=order.file.previous_job,
        same_bytes_as=order.file.same_bytes_as,
        replaces=order.file.replaces,
        made_at=datetime.now(UTC),
    )
    leave(report, pictures, order.file.folder)


def measure_only(order: MeasureOrder) -> None:
    """From a file to its facts."""
    began = _taken()
    measured = _facts(order.artwork, order.name, None)
    artwork = _draw(partial(_draw_and_leave_facts, order), measured, order.folder, began)
    if artwork is not None:
        _leave_facts(order, _for_press(artwork, order.press))


def _draw_and_leave_facts(order: MeasureOrder, work: _ToDraw) -> None:
    with PlateDrawer(order.artwork, work.artwork, order.press, until=work.until) as plates:
        _leave_facts(
            order, measure_ink(plates, work.artwork, order.press, work.budget, finished=work.finished)
        )


def _leave_facts(order: MeasureOrder, artwork: Artwork) -> None:
    (order.folder / FACTS_JSON).write_text(as_text(artwork_json(artwork)), encoding="utf-8")
    leave_result({}, order.folder)


def _facts(path: Path, name: str, sha256: str | None) -> Artwork:
    """The facts of a file; one that the system does not let us read is all problem."""
    try:
        return measure(path, name, sha256, seconds=READING_SECONDS)
    except OSError as error:
        reason = f"the system does not let this program read the file: {error.strerror}"
        problem = Problem("pages", reason, ProblemKind.UNREADABLE)
        file = FileFacts(name, path.stat().st_size, sha256 or "", None)
        return Artwork(file, Unmeasured("pages", reason), problems=(problem,))
