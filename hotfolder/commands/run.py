"""`hotfolder run`: puts the daemon together out of its parts and runs it."""

import logging
import threading
from datetime import UTC, datetime
from pathlib import Path

from rich.console import Console
from rich.text import Text

from hotfolder.children.examiner import Examiner, facts_of, give_up
from hotfolder.children.orders import ExamineOrder
from hotfolder.children.result_files import REPORT_HTML, REPORT_JSON
from hotfolder.children.supervisor import Supervisor
from hotfolder.config.studio import load_studio
from hotfolder.daemon import Daemon
from hotfolder.desk.desk import Desk, job_logger
from hotfolder.host.desktop import Desktop
from hotfolder.host.journal import set_up_logging
from hotfolder.host.notices import Notices
from hotfolder.host.systemd import ServiceManager
from hotfolder.model.findings import Verdict
from hotfolder.model.jobs import ChildFailure, JobNotice, JobOrder, JobResult, Obstacle, Summary
from hotfolder.rulebook.binding import Binding, load_rules_of
from hotfolder.store.layout import check_layout
from hotfolder.store.lock import studio_lock
from hotfolder.wording.shown import shown_name

logger = logging.getLogger(__name__)


def run_studio(root: Path, *, once: bool, verbose: bool) -> int:
    """Run the daemon on the studio in `root` until it is told to stop: the exit code, 0.

    ConfigError before anything is touched, where the studio file, a rule set or the folders are
    wrong. StudioBusyError where another daemon holds the studio.
    """
    studio = load_studio(root)
    rules = load_rules_of(studio)
    passed_over = check_layout(studio)
    console = Console(stderr=True)
    set_up_logging(verbose, console if console.is_terminal else None)
    for sentence in passed_over:
        logger.warning("%s", sentence)
    stop_now = threading.Event()
    screen = VerdictScreen(console, quiet_log=not verbose)
    examiner = JobExaminer(Examiner(Supervisor(studio.limits, stop_now)), rules, screen)
    notices = Notices(studio.notices, Desktop())

    def notify(notice: JobNotice) -> None:
        screen.show(notice)
        notices.tell(notice)

    with studio_lock(studio.lock_file) as lock:
        desk = Desk(studio, examiner.examine, examiner.give_up, lambda: datetime.now(UTC), notify)
        logger.info("watching %s: %s", shown_name(studio.name), ", ".join(rules_in_words(rules)))
        left = Daemon(studio, desk, ServiceManager(), stop_now, lock.keep, notices.tell_held).run(once=once)
    notices.close()
    if once:
        for line in left:
            logger.info("left: %s", line)
    return 0


def rules_in_words(rules: Binding) -> list[str]:
    """Each inbox with the name of its rule set."""
    return [
        f"{shown_name(printer)}{f'/{shown_name(product)}' if product else ''} ({rule_set.name})"
        for (printer, product), rule_set in rules.items()
    ]


class JobExaminer:
    """Has the desk's jobs examined in children, each by the rule set of the inbox that it came from."""

    def __init__(self, examiner: Examiner, rules: Binding, screen: "VerdictScreen") -> None:
        self._examiner = examiner
        self._rules = rules
        self._screen = screen

    def examine(self, order: JobOrder) -> JobResult | ChildFailure:
        """Examine the job's copy in a child."""
        self._screen.begin(order)
        rule_set = self._rules[order.printer, order.product]
        outcome = self._examiner.try_once(ExamineOrder(order.file, rule_set, with_page=True))
        if isinstance(outcome, ChildFailure):
            words = "job=%s attempt %d: the child %s"
            detail = {"detail": outcome.log_tail}
            logger.warning(words, order.file.job, order.attempt, outcome.how, extra=detail)
            return outcome
        return _result(outcome, order, None)

    def give_up(self, order: JobOrder, obstacle: Obstacle) -> JobResult:
        """A report that says that the file could not be measured, made without looking into it."""
        file, rule_set = order.file, self._rules[order.printer, order.product]
        facts = facts_of(file.artwork, file.name, file.sha256)
        summary = give_up(facts, rule_set, obstacle, file.folder, file.job)
        return _result(summary, order, obstacle.reason)


def _result(summary: Summary, order: JobOrder, problem: str | None) -> JobResult:
    folder = order.file.folder
    page = folder / REPORT_HTML
    return JobResult(
        summary=summary,
        report_json=folder / REPORT_JSON,
        report_html=page if page.is_file() else None,
        problem=problem,
    )


class VerdictScreen:
    """Verdicts as they come, for whoever sits at the terminal; nothing where there is none.

    quiet_log: leave the log's own line for each job out, since the screen says it in plain words.
    """

    def __init__(self, console: Console, *, quiet_log: bool) -> None:
        self._console = console
        if console.is_terminal and quiet_log:
            job_logger.setLevel(logging.WARNING)

    def begin(self, order: JobOrder) -> None:
        """One line that says what is being measured."""
        again = "once more" if order.attempt > 1 else ""
        self._line("measuring", "dim", order.printer, order.file.name, again)

    def show(self, notice: JobNotice) -> None:
        """One line for the verdict, one for the gravest finding, one for where to look."""
        verdict = notice.summary.verdict
        later = "the later version of a file that went on changing" if notice.continues is not None else ""
        if notice.released_by is not None:
            self._line("released", "bold", notice.printer, notice.name, f"by {notice.released_by}")
        else:
            style = "bold" if verdict is Verdict.READY else "bold red"
            self._line(verdict.words, style, notice.printer, notice.name, later)
        page = None if notice.report is None else str(notice.report)
        for detail in (notice.summary.first_finding, page):
            if detail is not None and self._console.is_terminal:
                self._console.print(Text(f"{'':15}{shown_name(detail)}", style="dim"), soft_wrap=True)

    def _line(self, word: str, style: str, printer: str, name: str, more: str) -> None:
        if self._console.is_terminal:
            parts = (f"{word:>13}  ", style), f"{shown_name(printer)}  ", (shown_name(name), "bold")
            self._console.print(Text.assemble(*parts, f"  {shown_name(more)}"), soft_wrap=True)
