"""The verbs that move files of a studio: claim, take in, publish, move, set aside, remove.

Nobody else renames. Nothing is ever overwritten. Whether a rename will do is believed from its
result alone: device numbers say nothing about bind mounts and subvolumes.
"""

import contextlib
import errno
import os
import shutil
import stat
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from hotfolder.errors import NameTakenError, StorageError
from hotfolder.store.copies import copy_file, sha256_of
from hotfolder.store.exclusive import rename_exclusively
from hotfolder.store.refusals import is_across, refusals
from hotfolder.store.writing import make_folder, sync_folder
from hotfolder.wording.shown import shown_name


@dataclass(frozen=True, slots=True)
class Fingerprint:
    """By what a file is known without reading it. `mtime_ns` is only compared with itself."""

    inode: int
    size: int
    mtime_ns: int

    @classmethod
    def of(cls, status: os.stat_result) -> "Fingerprint":
        """The fingerprint in `status`."""
        return cls(status.st_ino, status.st_size, status.st_mtime_ns)


def status_of(path: Path) -> os.stat_result | None:
    """The status of `path` itself, links not followed; None where nothing has that name."""
    with refusals("looking at", path):
        try:
            return path.lstat()
        except (FileNotFoundError, NotADirectoryError):
            return None


def claim(source: Path, target: Path, expected: Fingerprint) -> Fingerprint | None:
    """Rename `source` to `target` in a job's own folder; None where it is gone or not as `expected`.

    A plain rename, since no name can be taken there, and one step: the file is never in both places.
    What was got is told by the answer: a file that somebody swapped in at the last moment may differ
    from `expected`; a link or pipe swapped in goes back. StorageError where the rename is refused;
    then nothing has moved.
    """
    status = status_of(source)
    if status is None or not stat.S_ISREG(status.st_mode) or Fingerprint.of(status) != expected:
        return None
    with refusals("claiming", source):
        try:
            source.rename(target)
        except FileNotFoundError:
            if status_of(source.parent) is None or status_of(target.parent) is None:
                raise
            return None
        got = target.lstat()
        if not stat.S_ISREG(got.st_mode):
            rename_exclusively(target, source)
            return None
        sync_folder(target.parent)
        sync_folder(source.parent)
        return Fingerprint.of(got)


def take_in(source: Path, target: Path) -> None:
    """Rename `source` into a job's own folder: nobody else knows that place, so no name can be taken."""
    with refusals("taking", source):
        source.rename(target)
        sync_folder(target.parent)
        sync_folder(source.parent)


def publish(source: Path, final: Path) -> None:
    """Give a whole, synced file its final name on the same file system. NameTakenError if that exists."""
    with refusals("delivering", final):
        try:
            rename_exclusively(source, final)
        except FileExistsError as error:
            raise NameTakenError(f"'{shown_name(str(final))}' exists already") from error
        sync_folder(final.parent)
        sync_folder(source.parent)


def reaches_by_rename(folder: Path, target: Path) -> bool:
    """Whether a file in `folder` can get into the folder `target` by a rename: tried, not guessed."""
    probe, there = folder / ".hotfolder-probe", target / f".hotfolder-probe-{folder.name}"
    with refusals("renaming into", target):
        descriptor = os.open(probe, os.O_WRONLY | os.O_CREAT | os.O_CLOEXEC, 0o600)
        os.close(descriptor)
        try:
            probe.rename(there)
        except OSError as error:
            probe.unlink()
            if error.errno == errno.EXDEV:
                return False
            raise
        there.unlink()
    return True


def move(source: Path, target: Path) -> None:
    """Move a file to `target`, across file systems too; NameTakenError if that exists.

    After a crash on the way the same call again finishes it; the source is removed last.
    """
    try:
        with refusals("moving", source):
            rename_exclusively(source, target)
    except StorageError as error:
        cause = error.__cause__
        if isinstance(cause, FileExistsError):
            raise NameTakenError(f"'{shown_name(str(target))}' exists already") from error
        if not is_across(error):
            raise
        _copy_across(source, target)
    with refusals("moving", source):
        sync_folder(target.parent)
        sync_folder(source.parent)


def _copy_across(source: Path, target: Path) -> None:
    temporary = target.with_name(f".hotfolder-{os.lstat(source).st_ino:x}.tmp")
    copied = copy_file(source, temporary)
    publish(temporary, target)
    if sha256_of(source) != copied:
        raise StorageError(f"'{shown_name(str(source))}' changed while it was moved; it was kept")
    remove(source)


def set_aside(source: Path, folder: Path, names: Iterable[str]) -> Path:
    """Move a file of no further use into `folder`, under the first free one of `names`; where it lies now."""
    make_folder(folder)
    for name in names:
        with contextlib.suppress(NameTakenError):
            move(source, folder / name)
            return folder / name
    raise StorageError(f"no free name for '{shown_name(str(source))}' in '{shown_name(str(folder))}'")


def remove(path: Path) -> None:
    """Remove one file of ours; no matter if it is gone already."""
    with refusals("removing", path), contextlib.suppress(FileNotFoundError):
        path.unlink()
        sync_folder(path.parent)


DONE_PREFIX: Final = ".done-"


def set_done(folder: Path) -> Path:
    """Rename a job's work folder so that it can never be taken for a job again; its new place."""
    done = folder if folder.name.startswith(DONE_PREFIX) else folder.with_name(DONE_PREFIX + folder.name)
    with refusals("removing", folder), contextlib.suppress(FileNotFoundError):
        if done != folder:
            folder.rename(done)
            sync_folder(folder.parent)
    return done


def remove_work_folder(folder: Path) -> None:
    """Remove a job's work folder with everything in it; links in it are not followed."""
    done = set_done(folder)
    with refusals("removing", done), contextlib.suppress(FileNotFoundError):
        shutil.rmtree(done)


def take_rights_of(folder: Path, path: Path) -> None:
    """Give a file of ours the group that new files in `folder` get; best effort, shares may refuse."""
    with contextlib.suppress(OSError):
        above = folder.stat()
        if above.st_mode & stat.S_ISGID:
            os.chown(path, -1, above.st_gid, follow_symlinks=False)
