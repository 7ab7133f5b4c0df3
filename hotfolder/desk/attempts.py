"""Has a job's copy examined: how often a child is tried, and what is reported where none has a result.

Each attempt gets a fresh folder, and is counted in the job's state before it begins, so that a file
that takes the whole daemon down with it cannot do so for ever.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from hotfolder.config.studio import Printer
from hotfolder.delivery.sidecars import is_whole
from hotfolder.errors import DaemonStoppingError, StorageError
from hotfolder.model.jobs import ChildFailure, Failures, FileToExamine, JobOrder, JobResult, Obstacle
from hotfolder.store.jobs import Job, JobState
from hotfolder.store.refusals import owner_of
from hotfolder.store.writing import make_folder

# Children begun on one copy whose end nobody saw, since the daemon or the machine went down with them.
# Once may be anybody's fault; this often it is the file's.
_BEGUN: Final = 6

_SAVE_SMALLER: Final = (
    "Make the file smaller and drop the new one: scale its pictures down to the resolution that the print "
    "needs, flatten layers that nobody needs any more, and save it with compression. If it has to be as "
    "large as it is, ask whoever looks after hotfolder to raise artwork_size in the studio file."
)
_GIVE_RIGHTS: Final = (
    "Allow the group that hotfolder belongs to, or everybody, to read the file, and drop it again. If you "
    "cannot do that yourself, show this page to whoever looks after the studio's computers."
)


@dataclass(frozen=True, slots=True)
class Attempts:
    """Examines copies. The two functions are those that the desk is given.

    artwork_bytes: the largest artwork that is examined.
    """

    run_child: Callable[[JobOrder], JobResult | ChildFailure]
    write_failure_report: Callable[[JobOrder, Obstacle], JobResult]
    artwork_bytes: int

    def examine(self, job: Job, printer: Printer) -> Job:
        """The job with a result in its state, which is not saved yet. DaemonStoppingError passes through."""
        while True:
            obstacle = self._obstacle(job)
            state = job.state
            job = job.saved(replace(state, tries=state.tries + 1, begun=state.begun + 1))
            order = _order(job, printer)
            if obstacle is not None:
                result = self.write_failure_report(order, obstacle)
                return replace(job, state=replace(job.state, result=result))
            outcome = self._try(job, order)
            if isinstance(outcome, JobResult):
                return replace(job, state=replace(job.state, result=outcome))
            failures = _failures(job.state).and_then(outcome)
            job = job.saved(replace(job.state, failures=failures.count, how=failures.how))

    def _try(self, job: Job, order: JobOrder) -> JobResult | ChildFailure:
        try:
            outcome = self.run_child(order)
        except DaemonStoppingError:
            job.saved(replace(job.state, begun=job.state.begun - 1))  # an end that was asked for
            raise
        return _checked(outcome) if isinstance(outcome, JobResult) else outcome

    def _obstacle(self, job: Job) -> Obstacle | None:
        """Why no child is started for this copy; None where one may be."""
        state: JobState = job.state
        if state.too_large:
            reason = (
                f"it is {_gb(state.seen.size)}, and files larger than {_gb(self.artwork_bytes)} are not "
                "examined (artwork_size in the studio file)"
            )
            return Obstacle(reason, _SAVE_SMALLER)
        if not state.readable:
            return Obstacle(f"hotfolder has no permission to read it{owner_of(job.claimed)}", _GIVE_RIGHTS)
        died = _failures(state).obstacle
        if died is None and state.begun >= _BEGUN:
            return Obstacle(f"measuring it was started {_BEGUN} times, and hotfolder broke off each time")
        return died


def _failures(state: JobState) -> Failures:
    return Failures(state.failures, state.how)


def _gb(size: int) -> str:
    return f"{size / 1e9:.3g} GB"


def _checked(result: JobResult) -> JobResult | ChildFailure:
    """The result, if the reports that it names are whole files that can be delivered."""
    try:
        for path in (result.report_json, result.report_html):
            if path is not None and not is_whole(path):
                return ChildFailure("left a report that is not whole")
    except StorageError:
        return ChildFailure("left no report that can be read")
    return result


def _order(job: Job, printer: Printer) -> JobOrder:
    state = job.state
    folder = job.try_folder(state.tries)
    make_folder(folder)
    file = FileToExamine(
        artwork=job.copy if state.readable else job.claimed,
        name=state.name,
        folder=folder,
        sha256=state.sha256,
        job=state.job,
        previous_job=state.previous_job,
        same_bytes_as=state.same_bytes_as,
        replaces=state.replaces,
    )
    rules, attempt = _rules_for(printer, state.product), _failures(state).attempt
    return JobOrder(file, state.printer, state.product, rules, attempt)


def _rules_for(printer: Printer, product: str | None) -> str:
    if product is None:
        return printer.rules
    for known in printer.products:
        if known.name == product:
            return known.rules
    raise StorageError(
        f"{printer.name} has no product '{product}' any more; name it in the studio file again"
    )
