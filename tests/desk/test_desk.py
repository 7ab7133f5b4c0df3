"""The way of a job over the desk, with a child that tests decide about."""

import json
import os
import threading
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest

from hotfolder.errors import DaemonStoppingError, StorageError
from hotfolder.model.findings import Verdict
from hotfolder.model.jobs import ChildFailure, JobOrder, JobResult, NextSteps
from hotfolder.store.audit_log.chained import read_chain
from hotfolder.store.audit_log.verifying import verify
from tests.studio_at_work import FAULTY, GOOD, AtWork, candidate, examine, lay_studio, needs_rights, tree


@pytest.fixture
def at_work(tmp_path: Path) -> AtWork:
    return AtWork(lay_studio(tmp_path / "studio"))


def holds(at_work: AtWork) -> bool:
    return verify(at_work.studio.audit).troubles == ()


def events(at_work: AtWork, job: str) -> list[str]:
    return [record.event for record in read_chain(at_work.studio.audit / "2026/11" / f"{job}.jsonl").records]


def test_a_good_file_reaches_the_outbox_with_its_reports(at_work: AtWork) -> None:
    job = at_work.bring(GOOD)
    quay = at_work.studio.printer("quay")
    assert tree(quay.folder) == [
        "outbox/flyer.pdf",
        "outbox/flyer.pdf.report.html",
        "outbox/flyer.pdf.report.json",
    ]
    assert (quay.outbox / "flyer.pdf").read_bytes() == GOOD
    assert events(at_work, job) == ["claimed", "copied", "judged", "delivering", "delivered", "closed"]
    assert holds(at_work)


def test_a_faulty_file_goes_back_with_its_reports(at_work: AtWork) -> None:
    at_work.bring(FAULTY)
    quay = at_work.studio.printer("quay")
    assert tree(quay.folder) == [
        "needs-fixing/flyer.pdf", "needs-fixing/flyer.pdf.report.html", "needs-fixing/flyer.pdf.report.json",
    ]  # fmt: skip


def test_the_notice_says_what_became_of_the_job(at_work: AtWork) -> None:
    job = at_work.bring(FAULTY)
    (notice,) = at_work.notices
    folder = at_work.studio.printer("quay").needs_fixing
    assert (notice.job, notice.summary.verdict, notice.summary.must_fix) == (job, Verdict.NEEDS_FIXING, 1)
    assert (notice.artwork, notice.report) == (folder / "flyer.pdf", folder / "flyer.pdf.report.html")


def test_reports_of_ready_files_go_to_their_own_folder_where_asked(
    at_work: AtWork,
) -> None:
    at_work.bring(GOOD, "poster.pdf", "mill")
    at_work.bring(FAULTY, "poster.pdf", "mill")
    assert tree(at_work.studio.printer("mill").folder) == [
        "needs-fixing/poster.pdf",
        "needs-fixing/poster.pdf.report.html",
        "needs-fixing/poster.pdf.report.json",
        "outbox/poster.pdf",
        "outbox/reports/poster.pdf.report.html",
        "outbox/reports/poster.pdf.report.json",
    ]


def test_a_product_is_judged_by_its_own_rules(at_work: AtWork) -> None:
    job = at_work.desk.take(at_work.drop(GOOD, "card.pdf", product="cards"))
    assert job is not None
    at_work.desk.work(job)
    (order,) = at_work.orders
    assert (order.rules, order.product, order.printer) == ("business-card", "cards", "quay")


def test_the_child_gets_a_copy_that_is_not_the_claimed_file(at_work: AtWork) -> None:
    at_work.bring(GOOD)
    (order,) = at_work.orders
    assert order.artwork.parent.name == "artwork"
    assert order.try_folder.name == "try-1"


def test_a_vanished_candidate_is_no_job(at_work: AtWork) -> None:
    candidate = at_work.drop(GOOD)
    (candidate.folder / candidate.name).unlink()
    assert at_work.desk.take(candidate) is None
    assert tree(at_work.studio.printer("quay").folder) == []


def test_a_candidate_that_changed_is_no_job_yet(at_work: AtWork) -> None:
    candidate = at_work.drop(GOOD)
    (candidate.folder / candidate.name).write_bytes(GOOD + b"more")
    assert at_work.desk.take(candidate) is None
    assert tree(at_work.studio.printer("quay").folder) == ["inbox/flyer.pdf"]


def test_a_link_in_the_place_of_a_candidate_is_not_followed(at_work: AtWork, tmp_path: Path) -> None:
    candidate = at_work.drop(GOOD)
    secret = tmp_path / "secret"
    secret.write_bytes(GOOD)
    (candidate.folder / candidate.name).unlink()
    (candidate.folder / candidate.name).symlink_to(secret)
    assert at_work.desk.take(candidate) is None
    assert secret.read_bytes() == GOOD


def test_a_file_that_changes_while_it_is_judged_is_judged_again(at_work: AtWork) -> None:
    def child(order: JobOrder) -> JobResult:
        if len(at_work.orders) == 1:
            claimed = order.artwork.parents[1] / "claimed" / "flyer.pdf"
            claimed.write_bytes(FAULTY)
        return examine(order)

    at_work.child = child
    job = at_work.desk.take(at_work.drop(GOOD))
    assert job is not None
    onward = at_work.desk.work(job)
    assert onward == NextSteps((job,), at_work.studio.timing.quiet_s)
    assert at_work.desk.work(job) == NextSteps()
    assert (at_work.studio.printer("quay").needs_fixing / "flyer.pdf").read_bytes() == FAULTY
    assert tree(at_work.studio.printer("quay").outbox) == []
    assert events(at_work, job) == [
        "claimed",
        "copied",
        "judged",
        "copied",
        "judged",
        "delivering",
        "delivered",
        "closed",
    ]


def test_newer_bytes_after_the_delivery_become_a_job_of_their_own(
    at_work: AtWork, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = at_work.desk.take(at_work.drop(GOOD))
    assert job is not None
    claimed = at_work.studio.printer("quay").work / job / "claimed" / "flyer.pdf"
    record = at_work.desk._record

    def write_late(job: object) -> object:
        claimed.write_bytes(FAULTY)
        return record(job)  # type: ignore[arg-type] # the wrapped step's own argument

    monkeypatch.setattr(at_work.desk, "_record", write_late)
    onward = at_work.desk.work(job)
    monkeypatch.undo()
    (following,) = onward.again
    assert onward.wait_s == at_work.studio.timing.quiet_s
    assert at_work.desk.printer_of(following) == "quay"
    at_work.desk.work(following)
    quay = at_work.studio.printer("quay")
    assert (quay.outbox / "flyer.pdf").read_bytes() == GOOD
    assert (quay.needs_fixing / "flyer.pdf").read_bytes() == FAULTY
    assert at_work.orders[1].previous_job == job
    assert holds(at_work)


def test_a_claimed_file_still_being_written_waits(at_work: AtWork) -> None:
    job = at_work.desk.take(at_work.drop(GOOD))
    assert job is not None
    claimed = at_work.studio.printer("quay").work / job / "claimed" / "flyer.pdf"
    claimed.write_bytes(GOOD * 2)
    assert at_work.desk.work(job).again == (job,)
    assert at_work.orders == []
    assert at_work.desk.work(job) == NextSteps()
    assert (at_work.studio.printer("quay").outbox / "flyer.pdf").read_bytes() == GOOD * 2


def test_a_name_that_comes_again_is_numbered_and_linked(at_work: AtWork) -> None:
    first = at_work.bring(GOOD)
    second = at_work.bring(GOOD + b"2", "FLYER.pdf")
    assert [order.previous_job for order in at_work.orders] == [None, first]
    assert at_work.notices[1].previous_job == first
    assert at_work.orders[1].same_bytes_as is None
    assert sorted(path.name for path in at_work.studio.printer("quay").outbox.glob("*.pdf")) == [
        "FLYER (2).pdf", "flyer.pdf",
    ]  # fmt: skip
    at_work.bring(GOOD, "other.pdf")
    assert at_work.orders[2].previous_job is None
    assert at_work.orders[2].same_bytes_as == first
    assert second != first


def test_a_name_is_linked_to_a_job_that_is_still_in_hand(at_work: AtWork) -> None:
    first = at_work.desk.take(at_work.drop(GOOD))
    second = at_work.desk.take(at_work.drop(FAULTY))
    assert first is not None
    assert second is not None
    at_work.desk.work(second)
    assert at_work.orders[0].previous_job == first


def test_links_survive_a_restart_and_a_lost_index(at_work: AtWork) -> None:
    first = at_work.bring(GOOD)
    for path in at_work.studio.state.glob("*.sqlite"):
        path.write_bytes(b"no database at all, but long enough to be taken for one" * 10)
    again = AtWork(at_work.studio)
    again.bring(GOOD)
    assert again.orders[0].previous_job == first
    assert again.orders[0].same_bytes_as == first


def test_a_child_that_dies_is_tried_once_more_then_the_file_needs_fixing(at_work: AtWork) -> None:
    at_work.child = lambda _: ChildFailure("was ended by SIGKILL")
    at_work.bring(GOOD)
    assert [order.attempt for order in at_work.orders] == [1, 2]
    assert [order.try_folder.name for order in at_work.orders] == ["try-1", "try-2"]
    (notice,) = at_work.notices
    assert notice.summary.verdict is Verdict.NEEDS_FIXING
    line = read_chain(at_work.studio.audit / "chain.jsonl").records[0]
    assert line.content["problem"] == "measuring it was ended by SIGKILL, twice"


def test_a_child_that_takes_too_long_is_not_tried_again(at_work: AtWork) -> None:
    at_work.child = lambda _: ChildFailure("took longer than 60 s", again=False)
    at_work.bring(GOOD)
    assert [order.attempt for order in at_work.orders] == [1]
    line = read_chain(at_work.studio.audit / "chain.jsonl").records[0]
    assert line.content["problem"] == "measuring it took longer than 60 s"


def test_a_file_that_is_too_large_is_sent_back_uncopied(at_work: AtWork) -> None:
    limited = replace(at_work.studio, limits=replace(at_work.studio.limits, artwork_bytes=1_000_000))
    again = AtWork(limited)
    again.drop(GOOD, "large.pdf")
    inbox = limited.printer("quay").inbox
    with (inbox / "large.pdf").open("ab") as file:
        file.truncate(12_000_000_000)  # nothing but a hole
        file.write(b"end")
    job = again.desk.take(candidate(inbox / "large.pdf", "quay"))
    assert job is not None
    assert again.desk.work(job) == NextSteps()
    assert again.orders == []
    sent_back = limited.printer("quay").needs_fixing / "large.pdf"
    assert sent_back.stat().st_size >= 12_000_000_000
    assert sent_back.stat().st_blocks * 512 < 1_000_000
    line = read_chain(limited.audit / "chain.jsonl").records[0]
    assert line.content["problem"] == (
        "it is 12 GB, and files larger than 0.001 GB are not examined (artwork_size in the studio file)"
    )
    assert again.notices[0].summary.verdict is Verdict.NEEDS_FIXING
    remedy = again.obstacles[0].remedy or ""
    assert "smaller" in remedy
    assert "artwork_size" in remedy  # whoever may decide finds where


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
