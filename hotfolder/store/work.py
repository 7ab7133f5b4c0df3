"""The work folders of all printers, `<printer>/.work/<job>/`, and which jobs are in hand. For any thread.

A job is in hand from when this daemon has laid its work folder, or found it there, until it is done with:
it is worked on, or waits for its turn. So no two threads take up the same job.
"""

import contextlib
import logging
import threading
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Final

from hotfolder.config.studio import WORK, Printer
from hotfolder.errors import StorageError
from hotfolder.model.jobs import JobId
from hotfolder.store.jobs import STATE_FILE, Job, JobState, Step, is_job_id, load_job
from hotfolder.store.moves import DONE_PREFIX, remove_work_folder, set_done, status_of
from hotfolder.store.refusals import refusals
from hotfolder.store.writing import make_folder
from hotfolder.wording.shown import shown_name

logger = logging.getLogger(__name__)
_STILL_OPEN: Final = (".nfs", ".fuse_hidden")  # what shares call a file that was removed while it was open


class WorkFolders:
    """Lays, finds and removes work folders. folders: the `.work` of each printer, by its name."""

    def __init__(self, folders: Mapping[str, Path]) -> None:
        self._folders = dict(folders)
        self._lock = threading.Lock()
        self._printers_in_hand: dict[JobId, str] = {}

    def lay(self, state: JobState) -> Job | None:
        """A new work folder that holds `state`, in hand; None where there is one of this id already."""
        above = self._folders[state.printer]
        folder = above / state.job
        if status_of(above.parent) is None:  # never lay a folder where a share is not mounted
            raise StorageError(f"'{above.parent}' is not available")
        make_folder(above)
        with self._lock:
            if state.job in self._printers_in_hand or status_of(folder) is not None:
                return None
            self._printers_in_hand[state.job] = (
                state.printer
            )  # before anything lies there: `recover` may run beside
        try:
            for part in ("claimed", "artwork"):
                make_folder(folder / part)
            return Job(folder, state).saved(state)
        except StorageError:
            with contextlib.suppress(StorageError):
                remove_work_folder(folder)
            with self._lock:
                del self._printers_in_hand[state.job]
            raise

    def open(self, job: JobId) -> Job:
        """The job in hand called `job`, as its state file has it."""
        return load_job(self._folders[self.printer_of(job)] / job)

    def printer_of(self, job: JobId) -> str:
        """The printer that a job in hand belongs to. KeyError for any other."""
        with self._lock:
            return self._printers_in_hand[job]

    def holds(self, job: JobId) -> bool:
        """Whether `job` is in hand."""
        with self._lock:
            return job in self._printers_in_hand

    def remove(self, job: Job) -> None:
        """Remove the work folder of `job`, which is done with.

        Once it has the name of one that is done with, the job is out of hand: what cannot be removed
        then is tried again at the next start.
        """
        done = set_done(job.folder)
        with self._lock:
            self._printers_in_hand.pop(job.state.job, None)
        try:
            remove_work_folder(done)
        except StorageError as error:
            logger.warning("job=%s is done, and its work folder is left: %s", job.state.job, error)

    def recover(self, printer: str) -> list[Job]:
        """The jobs in the work folder of `printer` that are not in hand; they are in hand now.

        What an interruption left without a job in it is removed. What cannot be understood is logged and
        left where it is: it may hold somebody's only copy.
        """
        above = self._folders[printer]
        if status_of(above) is None:
            return []
        with refusals("looking into", above):
            names = sorted(entry.name for entry in above.iterdir())
        jobs: list[Job] = []
        for name in names:
            try:
                if name.startswith(DONE_PREFIX):
                    remove_work_folder(above / name)
                elif is_job_id(name):
                    jobs.extend(self._recover_one(above / name, printer))
            except StorageError as error:
                logger.error("%s", error)  # noqa: TRY400 - for whoever looks after the studio, no fault of ours
        return jobs

    def _recover_one(self, folder: Path, printer: str) -> tuple[Job, ...]:
        with self._lock:
            job = None if JobId(folder.name) in self._printers_in_hand else _job_in(folder)
            if job is None:
                return ()
            if job.state.printer != printer:  # its folder was renamed, and the studio file with it
                before = shown_name(job.state.printer)  # a damaged record may name anything
                logger.warning("job=%s was for %s, and lies with %s now", folder.name, before, printer)
                job = job.saved(replace(job.state, printer=printer))
            self._printers_in_hand[job.state.job] = printer
            return (job,)


def left_behind(root: Path, printers: Iterable[Printer]) -> dict[Path, tuple[JobId, ...]]:
    """Jobs in work folders of printers that the studio file no longer names, by the folder they lie in.

    Folders that cannot be looked into are passed over.
    """
    known = {printer.work for printer in printers}
    left: dict[Path, tuple[JobId, ...]] = {}
    with contextlib.suppress(OSError):
        for work in sorted(path / WORK for path in root.iterdir() if path / WORK not in known):
            with contextlib.suppress(OSError):
                jobs = sorted(path.name for path in work.iterdir() if is_job_id(path.name))
                if jobs:
                    left[work] = tuple(JobId(job) for job in jobs)
    return left


def _job_in(folder: Path) -> Job | None:
    """The job in `folder`; None where there is none. StorageError where it cannot be understood."""
    claimed = _names_in(folder / "claimed")
    if status_of(folder / STATE_FILE) is None and not claimed:
        remove_work_folder(folder)
        return None
    job = load_job(folder)
    strange = [name for name in claimed if name != job.state.name and not name.startswith(_STILL_OPEN)]
    if strange:
        raise StorageError(f"'{shown_name(str(folder))}' holds another file than its state names; it is kept")
    if job.state.step is Step.CLAIMING and status_of(job.claimed) is None:
        remove_work_folder(folder)  # the file is still where it was
        return None
    return job


def _names_in(folder: Path) -> list[str]:
    with refusals("looking into", folder):
        try:
            return [path.name for path in folder.iterdir()]
        except FileNotFoundError:
            return []
