"""`hotfolder release`: sends a job on against its findings, by the daemon or, where none runs, at once."""

import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Final, NoReturn

from hotfolder.config.studio import Studio, load_studio
from hotfolder.desk.desk import Desk
from hotfolder.errors import StorageError, StudioBusyError, UsageError
from hotfolder.model.jobs import JobId, JobNotice, JobOrder, Obstacle
from hotfolder.store.lock import studio_lock
from hotfolder.store.requests import Answer, ReleaseRequest, fetch_answer, lay_request, withdraw_request
from hotfolder.wording.shown import shown_name

PATIENCE_S: Final = 15.0
_LOOK_S: Final = 0.2


def release_job(
    root: Path,
    job: str,
    *,
    by: str,
    reason: str,
    clock: Callable[[], datetime] = lambda: datetime.now(UTC),
    wait: Callable[[float], None] = time.sleep,
) -> tuple[str, ...]:
    """Release `job` (its id, or the name of one file in needs-fixing); what was done, in lines.

    UsageError where that cannot be done, with the reason; nothing has moved then. wait: waits some
    seconds for the daemon.
    """
    studio = load_studio(root)
    if not by.strip() or not reason.strip():
        raise UsageError("a release needs a name and a reason; both go into the audit log")
    path = lay_request(studio.hidden, ReleaseRequest(job, by.strip(), reason.strip()))
    try:
        with studio_lock(studio.lock_file):
            return _at_once(studio, path, clock)
    except StudioBusyError:
        return _by_the_daemon(path, wait)


def _at_once(studio: Studio, path: Path, clock: Callable[[], datetime]) -> tuple[str, ...]:
    """Do what the daemon would do; we hold its lock."""
    notices: list[JobNotice] = []
    desk = Desk(studio, _examine_nothing, _examine_nothing, clock, notices.append)
    waits = [why for job in desk.carry_out_requests() if (why := _work(desk, job))]
    answer = fetch_answer(path)
    lines = [] if answer is None else [_accepted(answer)]
    lines += [f"{why}: the file waits, and goes on when the daemon runs" for why in waits]
    lines += [f"delivered as {shown_name(str(notice.artwork))}" for notice in notices]
    return tuple(lines)


def _work(desk: Desk, job: JobId) -> str:
    """Why the job has to wait; nothing where it came to its end."""
    try:
        return desk.work(job).why
    except StorageError as error:
        return str(error)


def _by_the_daemon(path: Path, wait: Callable[[float], None]) -> tuple[str, ...]:
    for _ in range(round(PATIENCE_S / _LOOK_S)):
        answer = fetch_answer(path)
        if answer is not None:
            return (_accepted(answer),)
        wait(_LOOK_S)
    if withdraw_request(path):
        raise StudioBusyError(
            "the daemon that runs this studio did not answer; nothing was released. Look at its log, or "
            "try again"
        )
    return ("the daemon is working on it; 'hotfolder audit' will tell what became of it",)


def _accepted(answer: Answer) -> str:
    if answer.refused:
        raise UsageError(answer.text)
    return answer.text


def _examine_nothing(order: JobOrder, obstacle: Obstacle | None = None) -> NoReturn:
    raise AssertionError(f"a released job is not examined again: {order.file.job} {obstacle}")
