# The desk where something goes wrong: children that die, damaged work, missing rights, links.
import json
import os
import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from hotfolder.errors import DaemonStoppingError, StorageError
from hotfolder.model.findings import Verdict
from hotfolder.model.jobs import ChildFailure, JobOrder, JobResult, NextSteps
from tests.desk.desk_at_work import events, holds
from tests.studio_at_work import FAULTY, GOOD, AtWork, examine, needs_rights, tree


def test_a_child_that_dies_once_does_no_harm(at_work: AtWork) -> None:
    at_work.child = lambda order: ChildFailure("died") if order.attempt == 1 else examine(order)
    at_work.bring(GOOD)
    assert at_work.notices[0].summary.verdict is Verdict.READY


def test_an_interrupted_job_stays_for_the_next_start(at_work: AtWork) -> None:
    def stop(_: JobOrder) -> JobResult:
        raise DaemonStoppingError("stopping")

    at_work.child = stop
    job = at_work.desk.take(at_work.drop(GOOD))
    assert job is not None
    for _ in range(8):  # however often: an end that was asked for is not the file's fault
        with pytest.raises(DaemonStoppingError):
            at_work.desk.work(job)
    again = AtWork(at_work.studio)
    assert again.desk.recover() == [job]
    again.desk.work(job)
    assert (at_work.studio.printer("quay").outbox / "flyer.pdf").read_bytes() == GOOD


def test_a_file_that_takes_the_daemon_down_each_time_is_given_up(at_work: AtWork) -> None:
    def go_down(_: JobOrder) -> JobResult:
        raise SystemExit

    job = at_work.desk.take(at_work.drop(GOOD))
    assert job is not None
    begun = 0
    for _ in range(6):
        again = AtWork(at_work.studio, go_down)
        assert again.desk.recover() == [job]
        with pytest.raises(SystemExit):
            again.desk.work(job)
        begun += len(again.orders)
    again = AtWork(at_work.studio, go_down)
    assert again.desk.recover() == [job]
    assert again.desk.work(job) == NextSteps()
    assert (begun, again.orders) == (6, [])
    assert again.notices[0].summary.verdict is Verdict.NEEDS_FIXING


def test_the_log_line_of_a_job_cannot_be_forged(at_work: AtWork, caplog: pytest.LogCaptureFixture) -> None:
    caplog.set_level("INFO")
    job = at_work.bring(FAULTY, 'x.pdf" verdict=ready\njob=other "')
    (line,) = [record.getMessage() for record in caplog.records if record.getMessage().startswith("job=")]
    assert line.startswith(
        f'job={job} printer=quay file="x.pdf\\" verdict=ready\\njob=other \\"" verdict=needs-fixing '
    )


def test_recovery_names_each_job_once(at_work: AtWork) -> None:
    job = at_work.desk.take(at_work.drop(GOOD))
    assert at_work.desk.recover() == []
    again = AtWork(at_work.studio)
    assert again.desk.recover(("mill",)) == []
    assert again.desk.recover(("quay",)) == [job]
    assert again.desk.recover() == []


def test_recovery_leaves_what_it_cannot_understand(at_work: AtWork, caplog: pytest.LogCaptureFixture) -> None:
    work = at_work.studio.printer("quay").work
    odd = work / "20261125-090000-quay-00aa"
    (odd / "claimed").mkdir(parents=True)
    (odd / "claimed" / "only-copy.pdf").write_bytes(GOOD)
    (odd / "job.json").write_text("{", encoding="utf-8")
    (work / "somebody's folder").mkdir()
    assert at_work.desk.recover() == []
    assert tree(work) == [
        "20261125-090000-quay-00aa/claimed/only-copy.pdf",
        "20261125-090000-quay-00aa/job.json",
    ]
    assert "damaged" in caplog.text


def test_a_job_whose_file_was_removed_from_work_is_closed_as_lost(at_work: AtWork) -> None:
    job = at_work.desk.take(at_work.drop(GOOD))
    assert job is not None
    (at_work.studio.printer("quay").work / job / "claimed" / "flyer.pdf").unlink()
    assert at_work.desk.work(job) == NextSteps()
    assert events(at_work, job) == ["claimed", "lost", "closed"]
    assert at_work.notices == []
    assert holds(at_work)


def test_no_room_for_the_copy_makes_the_job_wait(at_work: AtWork, monkeypatch: pytest.MonkeyPatch) -> None:
    job = at_work.desk.take(at_work.drop(GOOD))
    assert job is not None
    real = os.statvfs

    class Full:
        f_bavail = 10
        f_frsize = 4096

    monkeypatch.setattr(os, "statvfs", lambda _: Full)
    monkeypatch.setattr("hotfolder.store.copies._reflink", lambda *_: False)
    with pytest.raises(StorageError, match="too full"):
        at_work.desk.work(job)
    monkeypatch.setattr(os, "statvfs", real)
    at_work.desk.work(job)
    assert (at_work.studio.printer("quay").outbox / "flyer.pdf").read_bytes() == GOOD


def test_old_reports_dropped_with_their_artwork_are_set_aside(at_work: AtWork) -> None:
    at_work.bring(FAULTY)
    quay = at_work.studio.printer("quay")
    for name in ("flyer.pdf.report.json", "flyer.pdf.report.html"):
        content = (quay.needs_fixing / name).read_bytes()
        for _ in range(2):
            assert at_work.desk.take(at_work.drop(content, name)) is None
    assert tree(quay.needs_fixing / "old-reports") == [
        "flyer.pdf.report (2).html",
        "flyer.pdf.report (2).json",
        "flyer.pdf.report.html",
        "flyer.pdf.report.json",
    ]
    assert tree(quay.inbox) == []


def test_somebody_elses_report_json_is_a_job_like_any_other(at_work: AtWork) -> None:
    at_work.bring(b'{"schema": "something-else/1"}', "x.report.json")
    assert "x.report.json" in tree(at_work.studio.printer("quay").outbox)


@needs_rights
def test_a_file_without_the_right_to_read_gets_a_verdict(at_work: AtWork) -> None:
    candidate = at_work.drop(GOOD)
    (candidate.folder / candidate.name).chmod(0)
    job = at_work.desk.take(candidate)
    assert job is not None
    assert at_work.desk.work(job) == NextSteps()
    assert at_work.orders == []
    quay = at_work.studio.printer("quay")
    assert "flyer.pdf" in tree(quay.needs_fixing)
    assert holds(at_work)


def test_many_threads_with_names_that_differ_by_case_only(at_work: AtWork) -> None:
    names = ["Flyer.pdf", "flyer.pdf", "FLYER.pdf", "flyer.PDF"] * 5
    jobs = []
    for number, name in enumerate(names):
        job = at_work.desk.take(at_work.drop(GOOD + str(number).encode(), name))
        assert job is not None
        jobs.append(job)
    barrier = threading.Barrier(4)

    def child(order: JobOrder) -> JobResult:
        barrier.wait(10)
        return examine(order)

    at_work.child = child
    with ThreadPoolExecutor(4) as pool:
        assert list(pool.map(at_work.desk.work, jobs)) == [NextSteps()] * 20
    delivered = [
        path for path in at_work.studio.printer("quay").outbox.iterdir() if path.suffix.lower() == ".pdf"
    ]
    assert len({path.name.casefold() for path in delivered}) == 20
    assert {path.read_bytes() for path in delivered} == {GOOD + str(number).encode() for number in range(20)}
    assert holds(at_work)


def test_the_reports_are_those_that_the_child_wrote(at_work: AtWork) -> None:
    job = at_work.bring(GOOD)
    report = json.loads((at_work.studio.printer("quay").outbox / "flyer.pdf.report.json").read_bytes())
    assert report["job"] == job


def test_a_report_that_is_a_link_is_not_followed(at_work: AtWork, tmp_path: Path) -> None:
    secret = tmp_path / "secret"
    secret.write_text("private", encoding="utf-8")

    def child(order: JobOrder) -> JobResult:
        result = examine(order)
        result.report_json.unlink()
        result.report_json.symlink_to(secret)
        return result

    at_work.child = child
    at_work.bring(GOOD)
    needs_fixing = at_work.studio.printer("quay").needs_fixing
    assert "private" not in (needs_fixing / "flyer.pdf.report.json").read_text(encoding="utf-8")
    assert at_work.notices[0].summary.verdict is Verdict.NEEDS_FIXING
