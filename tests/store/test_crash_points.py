"""A process that is gone at any call that changes the disk: after recovery, each file is there once."""

import errno
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from hotfolder.commands.release import release_job
from hotfolder.config.studio import Studio, load_studio
from hotfolder.errors import StorageError, UsageError
from hotfolder.model.jobs import JobId, NextSteps
from hotfolder.store import exclusive
from hotfolder.store.audit_log.chained import read_chain
from hotfolder.store.audit_log.verifying import verify
from tests.crashing import NEWER_WRITTEN, cut_power
from tests.studio_at_work import FAULTY, GOOD, AtWork, candidate, tree

OUTBOX = ["outbox/flyer.pdf", "outbox/flyer.pdf.report.html", "outbox/flyer.pdf.report.json"]
NEEDS_FIXING = [name.replace("outbox", "needs-fixing") for name in OUTBOX]


MEMORY = Path("/dev/shm")


@pytest.fixture
def root(tmp_path: Path) -> Iterator[Path]:
    """A folder for many studios; in memory where there is such a place, since each is synced often."""
    if not MEMORY.is_dir():
        yield tmp_path / "studios"
        return
    with tempfile.TemporaryDirectory(dir=MEMORY) as folder:
        yield Path(folder) / "studios"


def no_links(*_: object, **__: object) -> None:
    raise PermissionError(errno.EPERM, "no links here")


def crash_everywhere(scenario: str, root: Path, elsewhere: Path | None = None) -> list[Studio]:
    """The studios as the process left them that was gone at its first, second, ... call."""
    root.mkdir()
    subprocess.run(
        [sys.executable, "-m", "tests.crashing", scenario, root, elsewhere or ""], check=True, timeout=300
    )
    folders = [path for path in root.iterdir() if path.is_dir()]
    studios = [load_studio(folder) for folder in sorted(folders, key=lambda path: int(path.name))]
    assert len(studios) > 30  # else nothing was crashed
    return studios


def recover(studio: Studio) -> AtWork:
    """Start again: take up what lies in work, take what lies in the inbox, bring all of it to its end."""
    at_work = AtWork(studio)
    jobs = take_up(at_work)
    while jobs:
        jobs.extend(at_work.desk.work(jobs.pop(0)).again)
    return at_work


def take_up(at_work: AtWork) -> list[JobId]:
    """The jobs that lie in work, and those of what lies in the inbox."""
    jobs = at_work.desk.recover()
    inbox = at_work.studio.printer("quay").inbox
    for path in sorted(inbox.glob("*.pdf")):
        job = at_work.desk.take(candidate(path, "quay"))
        assert job is not None
        jobs.append(job)
    return jobs


def assert_the_record_holds(studio: Studio, jobs: int) -> None:
    report = verify(studio.audit)
    assert (report.troubles, report.jobs) == ((), jobs), studio.root
    closed = [
        line.content["closing"]
        for line in read_chain(studio.audit / "chain.jsonl").records
        if line.event == ""
    ]
    assert len(closed) == len(set(closed))
    for log in studio.audit.glob("2026/*/*.jsonl"):
        marks = [
            record.content.get("mark") for record in read_chain(log).records if record.event != "torn-line"
        ]
        assert len(marks) == len(set(marks)), log


def files(studio: Studio) -> list[str]:
    quay = studio.printer("quay").folder
    outbox = [f"outbox/{name}" for name in tree(studio.printer("quay").outbox.resolve())]
    return sorted({*tree(quay), *outbox} - {"outbox"})


@pytest.mark.parametrize("scenario", ["deliver", "link", "placeholder"])
def test_a_file_is_delivered_once(root: Path, scenario: str, monkeypatch: pytest.MonkeyPatch) -> None:
    studios = crash_everywhere(scenario, root)
    # The file system is the same one after the crash.
    if scenario != "deliver":
        monkeypatch.setattr(exclusive, "_renameat2", lambda *_: errno.EINVAL)
    if scenario == "placeholder":
        monkeypatch.setattr(os, "link", no_links)
    for studio in studios:
        recover(studio)
        assert files(studio) == OUTBOX, studio.root
        assert (studio.printer("quay").outbox / "flyer.pdf").read_bytes() == GOOD
        assert_the_record_holds(studio, jobs=1)


def test_a_file_is_delivered_once_across_file_systems(root: Path, tmp_path: Path) -> None:
    if root.parent.stat().st_dev == tmp_path.stat().st_dev:
        pytest.skip("no second file system: /dev/shm")
    for studio in crash_everywhere("across", root, tmp_path):
        recover(studio)
        assert files(studio) == OUTBOX, studio.root
        assert (studio.printer("quay").outbox / "flyer.pdf").read_bytes() == GOOD
        assert_the_record_holds(studio, jobs=1)


@pytest.mark.parametrize("with_names", [False, True], ids=["bytes", "files"])
def test_after_a_power_cut_whole_reports_are_delivered(root: Path, *, with_names: bool) -> None:
    met = 0
    for studio in crash_everywhere("deliver", root):
        if (root / f"{studio.root.name}.synced").exists():  # the last one came to its end
            met += cut_power(studio.root, with_names=with_names)
        recover(studio)
        outbox = studio.printer("quay").outbox
        assert files(studio) == OUTBOX, studio.root
        assert (outbox / "flyer.pdf").read_bytes() == GOOD
        assert json.loads((outbox / "flyer.pdf.report.json").read_bytes())["findings"] == ["kept"]
        assert (outbox / "flyer.pdf.report.html").read_text("utf-8").endswith("</html>")
        assert_the_record_holds(studio, jobs=1)
    assert met > 10


def test_nothing_is_lost_or_laid_elsewhere_while_a_share_is_away(root: Path, tmp_path: Path) -> None:
    if root.parent.stat().st_dev == tmp_path.stat().st_dev:
        pytest.skip("no second file system: /dev/shm")
    waited = 0
    for studio in crash_everywhere("across", root, tmp_path):
        outbox = studio.printer("quay").outbox
        share = outbox.readlink()
        outbox.unlink()
        outbox.mkdir()  # the folder that a share is mounted on
        at_work = AtWork(studio)
        in_hand = take_up(at_work)
        for job in in_hand:
            try:
                assert at_work.desk.work(job) == NextSteps()
            except StorageError as error:
                assert "is not available" in str(error), studio.root  # noqa: PT017 - some came to their end before
                waited += 1
        assert list(outbox.iterdir()) == [], studio.root
        outbox.rmdir()
        outbox.symlink_to(share)
        for job in in_hand:
            while at_work.desk.work(job).again:
                pass
        assert files(studio) == OUTBOX, studio.root
        assert (outbox / "flyer.pdf").read_bytes() == GOOD
        assert_the_record_holds(studio, jobs=1)
    assert waited > 30


def test_a_name_taken_meanwhile_gets_a_number_and_nothing_is_overwritten(root: Path) -> None:
    numbered = [name.replace("flyer", "flyer (2)") for name in OUTBOX]
    for studio in crash_everywhere("taken", root):
        recover(studio)
        outbox = studio.printer("quay").outbox
        if (outbox / "flyer.pdf").read_bytes() == GOOD:  # gone before somebody took the name
            assert files(studio) == OUTBOX
        else:
            assert files(studio) == sorted([*numbered, "outbox/flyer.pdf"]), studio.root
            assert (outbox / "flyer.pdf").read_bytes() == b"somebody else's"
            assert (outbox / "flyer (2).pdf").read_bytes() == GOOD
        assert_the_record_holds(studio, jobs=1)


def test_newer_bytes_are_delivered_once_too(root: Path) -> None:
    for studio in crash_everywhere("late", root):
        recover(studio)
        quay = studio.printer("quay")
        if not (studio.root / NEWER_WRITTEN).exists():
            assert files(studio) == OUTBOX, studio.root
            assert_the_record_holds(studio, jobs=1)
            continue
        assert files(studio) == sorted([*OUTBOX, *NEEDS_FIXING]), studio.root
        assert (quay.outbox / "flyer.pdf").read_bytes() == GOOD
        assert (quay.needs_fixing / "flyer.pdf").read_bytes() == FAULTY
        assert_the_record_holds(studio, jobs=2)


def test_a_corrected_file_retires_the_version_before_it(root: Path) -> None:
    for studio in crash_everywhere("correct", root):
        recover(studio)
        lines = [
            line.content for line in read_chain(studio.audit / "chain.jsonl").records if line.event == ""
        ]
        first, second = lines[0]["job"], lines[1]["job"]
        older = [
            name.replace("needs-fixing", f"needs-fixing/older-versions/{first}") for name in NEEDS_FIXING
        ]
        assert files(studio) == sorted([*OUTBOX, *older]), studio.root
        assert (
            studio.printer("quay").needs_fixing / f"older-versions/{first}/flyer.pdf"
        ).read_bytes() == FAULTY
        assert_the_record_holds(studio, jobs=2)
        assert (first != second, lines[1]["replaces"]) == (True, [first]), studio.root


def test_a_released_file_lies_in_one_of_two_places(root: Path) -> None:
    for studio in crash_everywhere("release", root):
        recover(studio)
        quay = studio.printer("quay")
        if files(studio) == NEEDS_FIXING:  # gone before it was begun: the request may still lie there
            recovered = AtWork(studio)
            jobs = recovered.desk.carry_out_requests()
            if not jobs:
                release_job(studio.root, "flyer.pdf", by="R. Vale", reason="agreed by telephone")
            for job in jobs:
                assert recovered.desk.work(job) == NextSteps()
        assert files(studio) == OUTBOX, studio.root
        assert (quay.outbox / "flyer.pdf").read_bytes() == FAULTY
        assert_the_record_holds(studio, jobs=1)
        with pytest.raises(UsageError, match="released it already"):
            release_job(studio.root, "flyer.pdf", by="R. Vale", reason="again")
