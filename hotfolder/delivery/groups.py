"""Delivers a group of files, artwork and sidecars, into its folder: all of it under one name, or none of it.

The order: what will become the artwork lies ready (staged), names are chosen that are free for the
whole group, sidecars are laid, and the artwork's rename to its final name is the commit. Where
somebody takes the name meanwhile, the sidecars are withdrawn and the next number is tried.

That the commit was done is believed where it was recorded, or where the file lies under its final
name. Else what was staged is staged again from the job's copy.
"""

import logging
import os
import stat
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from hotfolder.config.names import same_name_key
from hotfolder.config.studio import Printer
from hotfolder.delivery.names import LONGEST_NAME_BYTES, GroupNames, group_names
from hotfolder.delivery.sidecars import is_report_of, read_report, remove_reports_of, reports_are_whole
from hotfolder.errors import NameTakenError, StorageError
from hotfolder.model.findings import Verdict
from hotfolder.model.jobs import JobId
from hotfolder.store.copies import copy_file, sha256_of
from hotfolder.store.delivery_folders import DeliveryFolders
from hotfolder.store.jobs import FileGroup, Job, Staged, Step
from hotfolder.store.moves import publish, reaches_by_rename, remove, status_of, take_rights_of
from hotfolder.store.refusals import is_across, refusals
from hotfolder.store.writing import make_plain_folder, write_file

logger = logging.getLogger(__name__)

_OLDER_VERSIONS: Final = "older-versions"


@dataclass(frozen=True, slots=True)
class Places:
    """The folders that a group goes to. top: the outbox or needs-fixing that both are or lie in."""

    top: Path
    folder: Path
    reports: Path


def places(job: Job, printer: Printer) -> Places:
    """Where the group of a judged job goes: on to the printer if ready or released, else back.

    Back among the older versions where a newer one has overtaken it.
    """
    result = job.state.result
    ready = result is not None and result.summary.verdict is Verdict.READY
    if ready or job.state.release is not None:
        return Places(printer.outbox, printer.outbox, printer.ready_sidecars)
    if job.state.replaced_by is not None:
        folder = older_folder(printer, job.state.job)
        return Places(printer.needs_fixing, folder, folder)
    return Places(printer.needs_fixing, printer.needs_fixing, printer.needs_fixing)


def older_folder(printer: Printer, job: JobId) -> Path:
    """Where `job` lies once a newer version has come: a folder of its own, so no name can be taken there."""
    return printer.needs_fixing / _OLDER_VERSIONS / job


def stage(job: Job, printer: Printer, folders: DeliveryFolders) -> Job:
    """Have ready what one rename makes the delivered artwork.

    Where the reports are not whole the job comes back to be judged again. StorageError where the share
    of the folder is away: then nothing is laid in its place.
    """
    if not reports_are_whole(job.state):
        return _unstaged(job, printer, Step.COPIED)
    to = places(job, printer)
    folders.ready(printer, to.top)
    for folder in {to.folder, to.reports} - {to.top}:
        make_plain_folder(folder)
    if not job.state.readable:
        return job.saved(replace(job.state, step=Step.STAGED, staged=Staged.CLAIMED))
    if reaches_by_rename(job.folder, to.folder):
        return job.saved(replace(job.state, step=Step.STAGED, staged=Staged.COPY))
    copied = copy_file(job.copy, _temporary(job, to.folder))
    if copied != job.state.sha256:
        raise StorageError(
            f"job {job.state.job}: the copy in '{to.folder}' is not what was read; it is made anew"
        )
    return job.saved(replace(job.state, step=Step.STAGED, staged=Staged.TEMPORARY))


def overtaken(job: Job, printer: Printer, folders: DeliveryFolders, newer: JobId) -> Job:
    """The job, which has no names yet, with the `newer` version that overtook it: to be staged again.

    It goes to another folder than it was staged for. StorageError as in `stage`.
    """
    if job.state.staged is Staged.TEMPORARY:
        folders.ready(printer, places(job, printer).top)
        remove(_staged(job, printer))
    return job.saved(replace(job.state, step=Step.JUDGED, staged=None, replaced_by=newer))


def deliver(
    job: Job, printer: Printer, folders: DeliveryFolders, about_to: Callable[[Job, FileGroup], None]
) -> Job:
    """Lay the staged group. One job a printer at a time, or two could choose names that differ by case.

    The job comes back no longer staged where what was staged is gone, or its reports are not whole:
    then it has to be staged, or judged, again. about_to: called when names are chosen and kept in the
    job's state, before anything is laid.
    """
    while job.has(Step.STAGED) and not job.has(Step.DELIVERED):
        folders.ready(printer, places(job, printer).top)
        if job.has(Step.NAMED):
            job = _lay(job, printer)
        elif status_of(_staged(job, printer)) is None:
            job = _unstaged(job, printer, Step.JUDGED)
        else:
            group = _choose(job, printer)
            job = job.saved(replace(job.state, step=Step.NAMED, group=group))
            about_to(job, group)
    return job


def _choose(job: Job, printer: Printer) -> FileGroup:
    to = places(job, printer)
    result = job.state.result
    with_html = result is not None and result.report_html is not None
    came_from = job.state.released_from
    names = _free_names(job.state.name if came_from is None else came_from.artwork, to)
    return FileGroup(
        folder=str(to.folder.relative_to(printer.folder)),
        reports=str(to.reports.relative_to(printer.folder)),
        artwork=names.artwork,
        report_json=names.report_json,
        report_html=names.report_html if with_html else None,
    )


def _free_names(name: str, to: Places) -> GroupNames:
    with refusals("looking into", to.folder):
        here = {same_name_key(entry.name) for entry in to.folder.iterdir()}
    with refusals("looking into", to.reports):
        there = {same_name_key(entry.name) for entry in to.reports.iterdir()}
    for names in group_names(name, min(_longest(to.folder), _longest(to.reports))):
        sidecars = {same_name_key(names.report_json), same_name_key(names.report_html)}
        if same_name_key(names.artwork) not in here and not sidecars & there:
            return names
    raise AssertionError("the numbers do not end")


def _longest(folder: Path) -> int:
    try:
        return min(os.pathconf(folder, "PC_NAME_MAX"), LONGEST_NAME_BYTES)
    except (OSError, ValueError):
        return LONGEST_NAME_BYTES


def _lay(job: Job, printer: Printer) -> Job:
    """Lay sidecars and artwork under the chosen names; if one is taken, withdraw and choose anew."""
    group = job.state.group
    staged = _staged(job, printer)
    if group is None:
        raise AssertionError("no names were chosen")
    final = group.artwork_in(printer.folder)
    if status_of(staged) is None:
        # The rename was done before an interruption, or somebody removed what was staged. Where the file
        # is not there, nobody can tell; delivered twice is better than lost.
        lies_there = _is_delivered(job, final)
        return (
            job.saved(replace(job.state, step=Step.DELIVERED))
            if lies_there
            else _unstaged(job, printer, Step.JUDGED)
        )
    if not reports_are_whole(job.state):
        return _unstaged(job, printer, Step.COPIED)
    try:
        for number, (path, content) in enumerate(_sidecars(job, printer.folder, group)):
            _lay_sidecar(path, content, job, number)
        take_rights_of(final.parent, staged)
        _publish(job, staged, final)
    except NameTakenError:
        _withdraw(job, printer)
        return job.saved(replace(job.state, step=Step.STAGED, group=None))
    except StorageError as error:
        if job.state.staged is Staged.COPY and is_across(error):  # a share was mounted here meanwhile
            return _unstaged(job, printer, Step.JUDGED)
        raise
    return job.saved(replace(job.state, step=Step.DELIVERED))


def _publish(job: Job, staged: Path, final: Path) -> None:
    try:
        publish(staged, final)
    except NameTakenError:
        # Where a rename has to be a link and an unlink, an interruption leaves both names; and on shares that
        # number files by their names only the bytes tell that they are one file.
        if not (job.state.readable and _is_delivered(job, final)):
            raise
        remove(staged)


def _is_delivered(job: Job, final: Path) -> bool:
    """Whether the job's artwork lies at `final`. One that may not be read is known by size and time."""
    there = status_of(final)
    if there is None or not stat.S_ISREG(there.st_mode):
        return False
    if job.state.readable:
        return sha256_of(final) == job.state.sha256
    return (there.st_size, there.st_mtime_ns) == (job.state.seen.size, job.state.seen.mtime_ns)


def _unstaged(job: Job, printer: Printer, step: Step) -> Job:
    """The job back at `step`, JUDGED to be staged again or COPIED to be judged again, nothing of it laid."""
    if job.state.step is not Step.JUDGED:
        what = (
            "what was laid ready for delivery is gone" if step is Step.JUDGED else "its reports are not whole"
        )
        logger.warning("job=%s: %s; it is made again", job.state.job, what)
    _withdraw(job, printer)
    state = job.state
    keeps_result = step is Step.JUDGED or state.release is not None
    if not state.readable and step is Step.JUDGED:
        step = Step.COPIED  # the claimed file itself was staged, and there is no other
    return job.saved(
        replace(state, step=step, staged=None, group=None, result=state.result if keeps_result else None)
    )


def _withdraw(job: Job, printer: Printer) -> None:
    """Remove the sidecars that this job has laid so far."""
    if job.state.group is not None:
        remove_reports_of(job.state.job, job.state.group.reports_in(printer.folder))


def _sidecars(job: Job, printer_folder: Path, group: FileGroup) -> list[tuple[Path, bytes]]:
    result = job.state.result
    if result is None:
        raise AssertionError("an unjudged job is not delivered")
    sidecars = [(group.json_in(printer_folder), read_report(result.report_json))]
    page = group.page_in(printer_folder)
    if result.report_html is not None and page is not None:
        sidecars.append((page, read_report(result.report_html)))
    return sidecars


def _lay_sidecar(path: Path, content: bytes, job: Job, number: int) -> None:
    """Lay one sidecar; one that this job laid before an interruption is no stranger's."""
    temporary = path.with_name(f".hotfolder-{job.state.job}-{number}.tmp")
    if is_report_of(path, job.state.job):
        if read_report(path) == content:
            remove(temporary)
            return
        remove(path)
    write_file(temporary, content)
    try:
        publish(temporary, path)
    except NameTakenError:
        remove(temporary)
        raise


def _staged(job: Job, printer: Printer) -> Path:
    match job.state.staged:
        case Staged.COPY:
            return job.copy
        case Staged.CLAIMED:
            return job.claimed
        case _:
            return _temporary(job, places(job, printer).folder)


def _temporary(job: Job, folder: Path) -> Path:
    return folder / f".hotfolder-{job.state.job}.tmp"
