"""A corrected file takes the place of the version that came back before it.

`needs-fixing` shows what has to be fixed now. So before a file of the same name is delivered, what still
lies there of earlier ones, artwork and reports, moves to `needs-fixing/older-versions/<job>/`. Only files
that the audit log knows as delivered by us are touched, and no artwork that was changed since. Every
function may be called again after a crash: each file is then in one of the two places, and the rest follows.
"""

import logging
import stat
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from hotfolder.config.studio import Printer
from hotfolder.delivery.groups import older_folder
from hotfolder.delivery.sidecars import is_report_of
from hotfolder.desk import record
from hotfolder.desk.closed_jobs import group_in
from hotfolder.errors import NameTakenError, StorageError
from hotfolder.model.jobs import JobId
from hotfolder.store.audit_log.audit import AuditLog
from hotfolder.store.audit_log.chained import text_of
from hotfolder.store.copies import sha256_of
from hotfolder.store.jobs import FileGroup, Job, JobState, Step, is_job_id
from hotfolder.store.moves import move, remove, status_of
from hotfolder.store.writing import make_folder

logger = logging.getLogger(__name__)

_MOST_VERSIONS: Final = 50  # how far back is looked; what is older was moved by one of those between


@dataclass(frozen=True, slots=True)
class _Version:
    """What the log of a former job says of it. sha256: empty where its artwork could not be read."""

    job: JobId
    product: str | None
    previous_job: JobId | None
    group: FileGroup | None
    sha256: str


def versions_to_replace(state: JobState, audit: AuditLog, printer: Printer) -> tuple[JobId, ...]:
    """Earlier jobs of this name and product of which something still lies in needs-fixing, as delivered.

    None where that cannot be looked at.
    """
    try:
        return tuple(
            version.job
            for version in _earlier(state.previous_job, audit)
            if version.product == state.product and _lying(version, printer)
        )
    except StorageError as error:
        logger.warning("job=%s: earlier versions cannot be looked at: %s", state.job, error)
        return ()


def newer_version(
    state: JobState, newest: JobId | None, audit: AuditLog, has_laid: Callable[[JobId], bool]
) -> JobId | None:
    """The newest job of the same name and product that came after this one and was delivered before it.

    newest: the last job of this name, in hand or closed. has_laid: whether a job in hand lies where it was
    delivered to, though its log may not say so yet.
    """
    delivered = None
    for version in _earlier(newest, audit):
        if version.job == state.job:
            return delivered
        if (
            delivered is None
            and version.product == state.product
            and _was_delivered(version, audit, has_laid)
        ):
            delivered = version.job
    return None  # `newest` did not come after this one


def _was_delivered(version: _Version, audit: AuditLog, has_laid: Callable[[JobId], bool]) -> bool:
    if version.group is not None or has_laid(version.job):
        return True
    now = _read(version.job, audit)  # it may have come to its end between the two questions
    return now is not None and now.group is not None


def make_room(job: Job, printer: Printer, audit: AuditLog) -> Job:
    """Move earlier versions that came back out of the way, before names are chosen for `job`.

    What refuses to be moved is logged and holds nothing up.
    """
    if job.has(Step.NAMED) or job.state.release is not None or job.state.replaced_by is not None:
        return job
    older = tuple(dict.fromkeys((*job.state.replaces, *versions_to_replace(job.state, audit, printer))))
    if not older:
        return job
    # Kept before anything moves, so that after a crash it is known what was begun.
    job = job.saved(replace(job.state, replaces=older))
    moved = []
    for version in older:
        try:
            if not _move_version(version, audit, printer):
                continue
        except StorageError as error:
            logger.warning("job=%s: the version before it stays where it is: %s", job.state.job, error)
            continue
        folder = older_folder(printer, version).relative_to(printer.folder)
        record.replaced(audit, job.state, version, str(folder))
        logger.info("job=%s takes the place of job=%s, now in %s", job.state.job, version, folder)
        moved.append(version)
    return job.saved(replace(job.state, replaces=tuple(moved)))


def _move_version(job: JobId, audit: AuditLog, printer: Printer) -> bool:
    """Move what still lies in needs-fixing of `job`; whether all of it lies among the older versions now.

    Reports go first: while the artwork lies where it was, the move can be gone on with.
    """
    version = _read(job, audit)
    folder = older_folder(printer, job)
    if version is None:
        return False
    lying = _lying(version, printer)
    if not lying:
        return status_of(folder) is not None
    _make(folder)
    for path in lying:
        _move(path, folder / path.name)
    return True


def _earlier(job: JobId | None, audit: AuditLog) -> Iterator[_Version]:
    """`job` and those of the same name before it, newest first."""
    seen: set[JobId] = set()
    while job is not None and job not in seen and len(seen) < _MOST_VERSIONS:
        seen.add(job)
        version = _read(job, audit)
        if version is None:
            return
        yield version
        job = version.previous_job


def _read(job: JobId, audit: AuditLog) -> _Version | None:
    """What the log of `job` says; None where it says nothing of use, damaged or not yet written."""
    product, previous, group = None, "", None
    sha256 = ""
    claimed = False
    for line in audit.story(job).records:
        content = line.content
        if line.event == "claimed":
            claimed = True
            product, previous = text_of(content, "product") or None, text_of(content, "previous_job")
        elif line.event == "delivered":  # once more where it was released: the last one counts
            group, sha256 = group_in(content), text_of(content, "sha256")
    if not claimed:
        return None
    return _Version(job, product, JobId(previous) if is_job_id(previous) else None, group, sha256)


def _lying(version: _Version, printer: Printer) -> tuple[Path, ...]:
    """The files of `version` that lie in needs-fixing as they were delivered, its artwork last.

    None where the artwork is there and is no longer what was delivered: somebody works on it.
    """
    group = version.group
    if group is None or printer.folder / group.folder != printer.needs_fixing:
        return ()
    artwork = printer.needs_fixing / group.artwork
    status = status_of(artwork)
    if status is not None and not (
        stat.S_ISREG(status.st_mode) and version.sha256 and sha256_of(artwork) == version.sha256
    ):
        return ()
    own = [path for path in group.reports_in(printer.folder) if is_report_of(path, version.job)]
    return (*own, *([] if status is None else [artwork]))


def _make(folder: Path) -> None:
    status = status_of(folder.parent)
    if status is not None and not stat.S_ISDIR(status.st_mode):
        raise StorageError(f"'{folder.parent}' is not a folder; the older version stays where it is")
    make_folder(folder)


def _move(path: Path, target: Path) -> None:
    try:
        move(path, target)
    except NameTakenError:
        # A move across file systems that was interrupted after its copy; anything else stays where it is.
        if sha256_of(target) != sha256_of(path):
            raise
        remove(path)
