"""Runs a scenario in a process that ends itself at its n-th call that changes the disk; for every n.

`python -m tests.crashing SCENARIO ROOT ELSEWHERE` lays a studio in ROOT/1, ROOT/2, ... and runs the
scenario in each, in a child that is gone without any clean-up just before its n-th such call. It ends
when the scenario came to its end. ELSEWHERE is a folder on another file system, or empty.

The calls are those that change names or bytes. What a power cut does besides is done by `cut_power`: the
bytes of files that were never synced are lost, or the files themselves. The child leaves a list of what it
synced beside its studio, in ROOT/<n>.synced.
"""

import errno
import json
import os
import stat
import sys
from collections.abc import Callable
from pathlib import Path
from typing import ParamSpec, TypeVar

from hotfolder.commands.release import release_job
from hotfolder.desk import record
from hotfolder.store import exclusive
from hotfolder.store.audit_log.audit import AuditLog
from hotfolder.store.jobs import FileGroup, Job, JobState
from tests.studio_at_work import FAULTY, GOOD, AtWork, lay_studio

CALLS = ("fsync", "rename", "replace", "link", "unlink", "mkdir", "rmdir")
CRASHED = 77
NEWER_WRITTEN = "newer-bytes-were-written"
P = ParamSpec("P")
R = TypeVar("R")


class Crash:
    """Counts calls that change the disk, and ends the process before the n-th; a write is torn in half."""

    def __init__(self, at: int, synced: Path) -> None:
        self._left = at
        self._synced: dict[int, int] = {}
        self._list = synced

    def watch(self) -> None:
        setattr(os, "fsync", self._noted(os.fsync))  # noqa: B010 - mypy knows the name as a function
        for name in CALLS:
            setattr(os, name, self._counted(getattr(os, name)))
        setattr(os, "write", self._torn(os.write))  # noqa: B010 - mypy knows the name as a function
        setattr(os, "open", self._creating(os.open))  # noqa: B010 - as above
        setattr(exclusive, "_renameat2", self._counted(exclusive._renameat2))  # noqa: B010 - as above

    def _noted(self, fsync: Callable[[int], None]) -> Callable[[int], None]:
        def noted(descriptor: int) -> None:
            fsync(descriptor)
            status = os.fstat(descriptor)
            self._synced[status.st_ino] = status.st_size

        return noted

    def _crash(self) -> None:
        self._list.write_text(json.dumps(self._synced), encoding="ascii")
        os._exit(CRASHED)

    def _is_due(self) -> bool:
        self._left -= 1
        return self._left == 0

    def _counted(self, call: Callable[P, R]) -> Callable[P, R]:
        def counted(*arguments: P.args, **options: P.kwargs) -> R:
            if self._is_due():
                self._crash()
            return call(*arguments, **options)

        return counted

    def _torn(self, write: Callable[[int, memoryview], int]) -> Callable[[int, memoryview], int]:
        def torn(descriptor: int, content: memoryview) -> int:
            if self._is_due():
                write(descriptor, content[: len(content) // 2])
                self._crash()
            return write(descriptor, content)

        return torn

    def _creating(self, call: Callable[P, R]) -> Callable[P, R]:
        counted = self._counted(call)

        def opened(*arguments: P.args, **options: P.kwargs) -> R:
            flags = arguments[1]
            assert isinstance(flags, int)
            return (counted if flags & os.O_CREAT else call)(*arguments, **options)

        return opened


def cut_power(root: Path, *, with_names: bool) -> int:
    """Do to the studio `root` of a crashed child what a power cut may do; how many files it met.

    Bytes that were not synced are lost; with_names: a file that was never synced is lost itself. What
    was dropped, by somebody else, is not.
    """
    synced = json.loads(root.with_name(f"{root.name}.synced").read_text(encoding="ascii"))
    met = 0
    for path in sorted(root.rglob("*")):
        status = path.lstat()
        is_theirs = path.parent.name in {"inbox", "claimed"} or path.parent == root
        if not stat.S_ISREG(status.st_mode) or is_theirs:
            continue
        safe = synced.get(str(status.st_ino))
        if safe is None and with_names:
            path.unlink()
        elif (safe or 0) < status.st_size:
            os.truncate(path, safe or 0)
        else:
            continue
        met += 1
    return met


def deliver(at_work: AtWork) -> None:
    """One good file from inbox to outbox."""
    job = at_work.desk.take(at_work.drop(GOOD))
    assert job is not None
    at_work.desk.work(job)


def name_taken(at_work: AtWork) -> None:
    """Somebody lays a file of the chosen name into the outbox just before the group is laid."""
    real = record.delivering

    def delivering(audit: AuditLog, state: JobState, group: FileGroup) -> None:
        real(audit, state, group)
        if group.artwork == "flyer.pdf":
            with open(at_work.studio.printer("quay").outbox / "flyer.pdf", "xb") as file:  # noqa: PTH123 - x mode
                file.write(b"somebody else's")

    setattr(record, "delivering", delivering)  # noqa: B010 - mypy knows the name as a function
    deliver(at_work)


def changed_late(at_work: AtWork) -> None:
    """A writer that still holds the file writes newer bytes after the delivery."""
    desk, real = at_work.desk, at_work.desk._record

    def recorded(job: Job) -> Job:
        if job.claimed.read_bytes() == GOOD and not job.has(job.state.step.RECORDED):
            with job.claimed.open("wb") as file:
                file.write(FAULTY)
            with (at_work.studio.root / NEWER_WRITTEN).open("wb"):
                pass
        return real(job)

    setattr(desk, "_record", recorded)  # noqa: B010 - mypy knows the name as a method
    job = desk.take(at_work.drop(GOOD))
    assert job is not None
    for following in desk.work(job).again:
        desk.work(following)


def release(at_work: AtWork) -> None:
    """A faulty file that lies in needs-fixing is released by a command, without a daemon."""
    release_job(at_work.studio.root, "flyer.pdf", by="R. Vale", reason="agreed by telephone")


def no_renameat2(at_work: AtWork) -> None:
    setattr(exclusive, "_renameat2", lambda *_: errno.EINVAL)  # noqa: B010 - as above
    deliver(at_work)


def no_links_either(at_work: AtWork) -> None:
    def link(*_: object, **__: object) -> None:
        raise PermissionError(errno.EPERM, "no links here")

    setattr(os, "link", link)  # noqa: B010 - as above
    no_renameat2(at_work)


SCENARIOS: dict[str, Callable[[AtWork], None]] = {
    "deliver": deliver,
    "across": deliver,
    "taken": name_taken,
    "late": changed_late,
    "release": release,
    "correct": deliver,
    "link": no_renameat2,
    "placeholder": no_links_either,
}


def prepared(scenario: str, root: Path, elsewhere: Path) -> AtWork:
    """A studio as the scenario finds it."""
    studio = lay_studio(root)
    at_work = AtWork(studio)
    if scenario == "across":
        outbox = studio.printer("quay").outbox
        outbox.rmdir()
        target = elsewhere / root.name
        target.mkdir()
        outbox.symlink_to(target)
        at_work.desk.recover()  # a start: the share is remembered
    if scenario in {"release", "correct"}:
        at_work.bring(FAULTY)
    return at_work


def main(scenario: str, root: Path, elsewhere: Path) -> None:
    for number in range(1, 1000):
        at_work = prepared(scenario, root / str(number), elsewhere)
        child = os.fork()
        if child == 0:
            Crash(number, root / f"{number}.synced").watch()
            SCENARIOS[scenario](at_work)
            os._exit(0)
        _, status = os.waitpid(child, 0)
        code = os.waitstatus_to_exitcode(status)
        if code == 0:
            return
        if code != CRASHED:
            sys.exit(f"{scenario} {number}: ended with {code}")


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]), Path(sys.argv[3]))
