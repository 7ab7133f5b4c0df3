"""The way of a job over the desk, with a child that tests decide about."""

from dataclasses import replace
from pathlib import Path

import pytest

from hotfolder.model.findings import Verdict
from hotfolder.model.jobs import ChildFailure, JobOrder, JobResult, NextSteps
from hotfolder.store.audit_log.chained import read_chain
from tests.desk.desk_at_work import events, holds
from tests.studio_at_work import FAULTY, GOOD, AtWork, candidate, examine, tree


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
    assert order.file.artwork.parent.name == "artwork"
    assert order.file.folder.name == "try-1"


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
            claimed = order.file.artwork.parents[1] / "claimed" / "flyer.pdf"
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
    assert at_work.orders[1].file.previous_job == job
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
    assert [order.file.previous_job for order in at_work.orders] == [None, first]
    assert at_work.notices[1].previous_job == first
    assert at_work.orders[1].file.same_bytes_as is None
    assert sorted(path.name for path in at_work.studio.printer("quay").outbox.glob("*.pdf")) == [
        "FLYER (2).pdf", "flyer.pdf",
    ]  # fmt: skip
    at_work.bring(GOOD, "other.pdf")
    assert at_work.orders[2].file.previous_job is None
    assert at_work.orders[2].file.same_bytes_as == first
    assert second != first


def test_a_name_is_linked_to_a_job_that_is_still_in_hand(at_work: AtWork) -> None:
    first = at_work.desk.take(at_work.drop(GOOD))
    second = at_work.desk.take(at_work.drop(FAULTY))
    assert first is not None
    assert second is not None
    at_work.desk.work(second)
    assert at_work.orders[0].file.previous_job == first


def test_links_survive_a_restart_and_a_lost_index(at_work: AtWork) -> None:
    first = at_work.bring(GOOD)
    for path in at_work.studio.state.glob("*.sqlite"):
        path.write_bytes(b"no database at all, but long enough to be taken for one" * 10)
    again = AtWork(at_work.studio)
    again.bring(GOOD)
    assert again.orders[0].file.previous_job == first
    assert again.orders[0].file.same_bytes_as == first


def test_a_child_that_dies_is_tried_once_more_then_the_file_needs_fixing(at_work: AtWork) -> None:
    at_work.child = lambda _: ChildFailure("was ended by SIGKILL")
    at_work.bring(GOOD)
    assert [order.attempt for order in at_work.orders] == [1, 2]
    assert [order.file.folder.name for order in at_work.orders] == ["try-1", "try-2"]
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
