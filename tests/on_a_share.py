"""Mounts and unmounts an outbox while a job is on its way; needs the right to mount, in a namespace.

`unshare -m python -m tests.on_a_share ROOT SHARES`: for each step of a job, a studio in ROOT whose outbox
is a mount of a folder in SHARES, which lies on another file system. The share goes away after that step,
and comes back; ends with an error where a file was lost, laid twice, or laid under the mount point.
"""

import subprocess
import sys
from pathlib import Path

from hotfolder.config.studio import DELIVERY_MARKER, Studio
from hotfolder.errors import StorageError
from hotfolder.model.jobs import JobId
from hotfolder.store.audit_log.verifying import verify
from hotfolder.store.jobs import Step
from tests.studio_at_work import GOOD, AtWork, lay_studio, names_in

GROUP = ["flyer.pdf", "flyer.pdf.report.html", "flyer.pdf.report.json"]
BEFORE_COMMIT = (Step.CLAIMED, Step.COPIED, Step.JUDGED, Step.STAGED, Step.NAMED)


def mount(share: Path, folder: Path) -> None:
    subprocess.run(["mount", "--bind", share, folder], check=True)


def unmount(folder: Path) -> None:
    subprocess.run(["umount", folder], check=True)


def go_through(studio: Studio, share: Path, step: Step, *, restarted: bool, wiped: bool) -> None:
    """One job whose share goes away after `step`.

    restarted: the daemon was, while the share was away. wiped: the share comes back with nothing but its
    marker.
    """
    quay = studio.printer("quay")
    if restarted:
        AtWork(studio).desk.recover()  # lays a marker beneath: the share was away at the first start
    beneath = all_names(quay.outbox)
    mount(share, quay.outbox)
    at_work, job = begun(studio, step)
    unmount(quay.outbox)
    if restarted:
        at_work = AtWork(studio)
        assert at_work.desk.recover() == [job]
    for _ in range(2):
        assert waits_for_its_share(at_work, job) == (step in BEFORE_COMMIT), step
    assert all_names(quay.outbox) == beneath, step
    if wiped:
        wipe(share)
    mount(share, quay.outbox)
    while at_work.desk.work(job).again:
        pass
    if step in BEFORE_COMMIT or not wiped:
        assert names_in(quay.outbox) == GROUP, (step, names_in(quay.outbox))
        assert (quay.outbox / "flyer.pdf").read_bytes() == GOOD
    unmount(quay.outbox)
    assert names_in(quay.inbox) == ["cards"]
    assert verify(studio.audit).troubles == ()


def begun(studio: Studio, step: Step) -> tuple[AtWork, JobId]:
    """A desk, and its job that is interrupted after `step`."""
    at_work = AtWork(studio)
    at_work.desk.recover()
    return at_work, at_work.begin(step)


def waits_for_its_share(at_work: AtWork, job: JobId) -> bool:
    try:
        at_work.desk.work(job)
    except StorageError as error:
        if "is not available" not in str(error):
            raise
        return True
    return False


def wipe(share: Path) -> None:
    for path in share.iterdir():
        if path.name != DELIVERY_MARKER:
            path.unlink()


def all_names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def main(root: Path, shares: Path) -> None:
    subprocess.run(["mount", "--make-rprivate", "/"], check=True)
    number = 0
    for step in list(Step)[1:-1]:
        for restarted in (False, True):
            for wiped in (False, True):
                number += 1
                share = shares / str(number)
                share.mkdir()
                studio = lay_studio(root / str(number))
                go_through(studio, share, step, restarted=restarted, wiped=wiped)
    sys.stdout.write(f"{number}\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
