"""One group of files, artwork and sidecars, into its folder: all of it under one name, or none of it.

The order: what will become the artwork lies ready (staged), names are chosen that are free for the
whole group, sidecars are laid, and the artwork's rename to its final name is the commit. Where
somebody takes the name meanwhile, the sidecars are withdrawn and the next number is tried.
"""

import contextlib
import os
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from hotfolder.delivery.names import LONGEST_NAME_BYTES, GroupNames, group_names, same_name_key
from hotfolder.delivery.older_versions import older_folder
from hotfolder.delivery.sidecars import read_report
from hotfolder.errors import NameTaken, StorageError
from hotfolder.findings import Verdict
from hotfolder.store.copies import copy_file, read_small
from hotfolder.store.jobs import Group, Job, Staged, Step
from hotfolder.store.moves import look, publish, reaches_by_rename, remove, take_rights_of
from hotfolder.store.refusals import refusals
from hotfolder.store.writing import make_folder, write_file
from hotfolder.studio import Printer


@dataclass(frozen=True, slots=True)
class Places:
    """The folders that a group goes to, both in the printer's folder."""

    folder: Path
    reports: Path


def places(job: Job, printer: Printer) -> Places:
    """Where the group of a judged job goes: on to the printer if ready or released, else back.

    Back among the older versions where a newer one has overtaken it.
    """
    result = job.state.result
    ready = result is not None and result.verdict is Verdict.READY
    if ready or job.state.release is not None:
        return Places(printer.outbox, printer.ready_sidecars)
    if job.state.replaced_by is not None:
        folder = older_folder(printer, job.state.job)
        return Places(folder, folder)
    return Places(printer.needs_fixing, printer.needs_fixing)


def stage(job: Job, printer: Printer) -> Job:
    """Have ready what one rename makes the delivered artwork."""
    to = places(job, printer)
    make_folder(to.folder)
    make_folder(to.reports)
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


def deliver(job: Job, printer: Printer, about_to: Callable[[Job, Group], None]) -> Job:
    """Lay the staged group. One job a printer at a time, or two could choose names that differ by case.

    about_to: called when names are chosen and kept in the job's state, before anything is laid.
    """
    while not job.has(Step.DELIVERED):
        if not job.has(Step.NAMED):
            group = _choose(job, printer)
            job = job.saved(replace(job.state, step=Step.NAMED, group=group))
            about_to(job, group)
        job = _lay(job, printer)
    return job


def _choose(job: Job, printer: Printer) -> Group:
    if look(_staged(job, printer)) is None:
        raise StorageError(f"job {job.state.job}: '{_staged(job, printer)}' is missing")
    to = places(job, printer)
    result = job.state.result
    with_html = result is not None and result.report_html is not None
    came_from = job.state.released_from
    names = _free_names(job.state.name if came_from is None else came_from.artwork, to)
    return Group(
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
    if look(staged) is None:
        # Chosen names and nothing staged: the commit was done before an interruption. Where the final
        # name is absent too, somebody has taken the file away already.
        return job.saved(replace(job.state, step=Step.DELIVERED))
    folder = printer.folder / group.folder
    laid = _sidecars(job, printer.folder / group.reports, group)
    try:
        for number, (path, content) in enumerate(laid):
            _lay_sidecar(path, content, f"{job.state.job}-{number}")
        take_rights_of(folder, staged)
        publish(staged, folder / group.artwork)
    except NameTaken:
        for path, content in laid:
            if _is_ours(path, content):
                remove(path)
        return job.saved(replace(job.state, step=Step.STAGED, group=None))
    return job.saved(replace(job.state, step=Step.DELIVERED))


def _sidecars(job: Job, reports: Path, group: Group) -> list[tuple[Path, bytes]]:
    result = job.state.result
    if result is None:
        raise AssertionError("an unjudged job is not delivered")
    laid = [(reports / group.report_json, read_report(result.report_json))]
    if result.report_html is not None and group.report_html is not None:
        laid.append((reports / group.report_html, read_report(result.report_html)))
    return laid


def _lay_sidecar(path: Path, content: bytes, token: str) -> None:
    temporary = path.with_name(f".hotfolder-{token}.tmp")
    if _is_ours(path, content):  # laid before an interruption
        remove(temporary)
        return
    write_file(temporary, content)
    try:
        publish(temporary, path)
    except NameTaken:
        remove(temporary)
        raise


def _is_ours(path: Path, content: bytes) -> bool:
    """Whether this very sidecar lies at `path`: it names its job, so nobody else's is equal."""
    if look(path) is None:
        return False
    with contextlib.suppress(StorageError):
        return read_small(path, len(content)) == content
    return False


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
