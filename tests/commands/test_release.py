"""`hotfolder release`: a job goes on against its findings, with a name and a reason."""

import json
from pathlib import Path

import pytest

from hotfolder.commands.audit import audit_studio
from hotfolder.commands.release import PATIENCE_S, release_job
from hotfolder.errors import StudioBusyError, UsageError
from hotfolder.model.jobs import NextSteps
from hotfolder.store.audit_log.chained import read_chain
from hotfolder.store.audit_log.verifying import verify
from hotfolder.store.lock import studio_lock
from hotfolder.store.requests import ReleaseRequest, lay_request
from tests.studio_at_work import FAULTY, GOOD, AtWork, Clock, lay_studio, needs_rights, tree

OUTBOX = ["outbox/flyer.pdf", "outbox/flyer.pdf.report.html", "outbox/flyer.pdf.report.json"]


@pytest.fixture
def at_work(tmp_path: Path) -> AtWork:
    return AtWork(lay_studio(tmp_path / "studio"))


def release(at_work: AtWork, job: str) -> tuple[str, ...]:
    return release_job(
        at_work.studio.root,
        job,
        by="R. Vale",
        reason="agreed <by> telephone",
        clock=Clock(),
        wait=lambda _: None,
    )


@pytest.mark.parametrize("by", ["id", "name"])
def test_without_a_daemon_the_group_goes_on_at_once(at_work: AtWork, by: str) -> None:
    job = at_work.bring(FAULTY)
    lines = release(at_work, job if by == "id" else "flyer.pdf")
    quay = at_work.studio.printer("quay")
    assert tree(quay.folder) == OUTBOX
    assert (quay.outbox / "flyer.pdf").read_bytes() == FAULTY
    assert lines[-1] == f"delivered as {quay.outbox / 'flyer.pdf'}"
    assert tree(at_work.studio.hidden / "requests") == []


def test_the_report_says_who_released_it_and_keeps_its_findings(at_work: AtWork) -> None:
    at_work.bring(FAULTY)
    release(at_work, "flyer.pdf")
    outbox = at_work.studio.printer("quay").outbox
    report = json.loads((outbox / "flyer.pdf.report.json").read_bytes())
    assert report["findings"] == ["kept"]
    assert (report["released"]["by"], report["released"]["reason"]) == ("R. Vale", "agreed <by> telephone")
    page = (outbox / "flyer.pdf.report.html").read_text(encoding="utf-8")
    assert "agreed &lt;by&gt; telephone" in page
    assert "R. Vale" in page


def test_the_record_has_the_release_and_still_holds(at_work: AtWork) -> None:
    job = at_work.bring(FAULTY)
    release(at_work, job)
    log = read_chain(at_work.studio.audit / "2026/11" / f"{job}.jsonl")
    assert [record.event for record in log.records][6:] == [
        "copied", "released", "delivering", "delivered", "closed",
    ]  # fmt: skip
    lines = read_chain(at_work.studio.audit / "chain.jsonl").records
    assert [line.content["released_by"] for line in lines] == [None, "R. Vale"]
    assert [line.content["folder"] for line in lines] == ["needs-fixing", "outbox"]
    assert verify(at_work.studio.audit).troubles == ()
    story = "\n".join(audit_studio(at_work.studio.root, job).lines)
    assert "released by R. Vale despite its findings" in story


def test_reports_of_a_released_file_go_where_those_of_ready_files_go(at_work: AtWork) -> None:
    job = at_work.bring(FAULTY, "poster.pdf", "mill")
    release(at_work, job)
    assert tree(at_work.studio.printer("mill").folder) == [
        "outbox/poster.pdf", "outbox/reports/poster.pdf.report.html", "outbox/reports/poster.pdf.report.json",
    ]  # fmt: skip


def test_a_taken_name_gets_a_number(at_work: AtWork) -> None:
    at_work.bring(GOOD)
    job = at_work.bring(FAULTY)
    release(at_work, job)
    outbox = at_work.studio.printer("quay").outbox
    assert (outbox / "flyer.pdf").read_bytes() == GOOD
    assert (outbox / "flyer (2).pdf").read_bytes() == FAULTY


def refused(at_work: AtWork, job: str, words: str) -> None:
    before = tree(at_work.studio.root)
    with pytest.raises(UsageError, match=words):
        release(at_work, job)
    kept = [name for name in tree(at_work.studio.root) if not name.startswith(".hotfolder")]
    assert kept == [name for name in before if not name.startswith(".hotfolder")]
    assert tree(at_work.studio.hidden / "requests") == []


def test_an_unknown_job_is_refused_with_the_nearest(at_work: AtWork) -> None:
    at_work.bring(FAULTY)
    refused(at_work, "flier.pdf", r"did you mean 'flyer\.pdf'")


def test_a_name_of_several_jobs_is_refused_with_their_ids(at_work: AtWork) -> None:
    jobs = [at_work.bring(FAULTY, printer=printer) for printer in ("quay", "mill")]
    refused(at_work, "flyer.pdf", f"{jobs[0]}, {jobs[1]}")


def test_the_one_of_several_that_still_needs_fixing_is_meant(at_work: AtWork) -> None:
    at_work.bring(GOOD)
    at_work.bring(FAULTY)
    release(at_work, "flyer.pdf")
    assert (at_work.studio.printer("quay").outbox / "flyer (2).pdf").read_bytes() == FAULTY


def test_a_ready_job_is_refused(at_work: AtWork) -> None:
    refused(at_work, at_work.bring(GOOD), "it is ready")


def test_a_released_job_is_refused(at_work: AtWork) -> None:
    job = at_work.bring(FAULTY)
    release(at_work, job)
    refused(at_work, job, "R. Vale has released it already")


def test_a_file_that_was_taken_away_is_refused(at_work: AtWork) -> None:
    job = at_work.bring(FAULTY)
    (at_work.studio.printer("quay").needs_fixing / "flyer.pdf").unlink()
    refused(at_work, job, "no longer there")


def test_a_file_that_was_changed_is_refused(at_work: AtWork) -> None:
    job = at_work.bring(FAULTY)
    (at_work.studio.printer("quay").needs_fixing / "flyer.pdf").write_bytes(FAULTY + b"later")
    refused(at_work, job, "was changed after it was judged")


def test_a_file_without_its_report_is_refused(at_work: AtWork) -> None:
    job = at_work.bring(FAULTY)
    (at_work.studio.printer("quay").needs_fixing / "flyer.pdf.report.json").unlink()
    refused(at_work, job, "report .* is no longer there")


def test_an_altered_report_is_refused(at_work: AtWork) -> None:
    job = at_work.bring(FAULTY)
    (at_work.studio.printer("quay").needs_fixing / "flyer.pdf.report.json").write_text("{}", encoding="utf-8")
    refused(at_work, job, "was altered")


def test_a_release_goes_on_without_a_page_that_was_removed(at_work: AtWork) -> None:
    job = at_work.bring(FAULTY)
    (at_work.studio.printer("quay").needs_fixing / "flyer.pdf.report.html").unlink()
    release(at_work, job)
    assert tree(at_work.studio.printer("quay").folder) == ["outbox/flyer.pdf", "outbox/flyer.pdf.report.json"]


def test_a_release_that_has_to_wait_for_the_outbox_says_so_and_the_next_daemon_finishes_it(
    at_work: AtWork,
) -> None:
    job = at_work.bring(FAULTY)
    outbox = at_work.studio.printer("quay").outbox
    for path in outbox.iterdir():
        path.unlink()
    outbox.rmdir()
    outbox.symlink_to(outbox.with_name("share"))  # of which nothing is mounted now
    lines = release(at_work, job)
    assert lines[0].startswith(f"job {job} goes on")
    assert "is not available" in lines[1]
    assert lines[1].endswith("the file waits, and goes on when the daemon runs")
    outbox.with_name("share").mkdir()
    again = AtWork(at_work.studio)
    assert again.desk.recover() == [job]
    again.desk.work(job)
    assert (outbox / "flyer.pdf").read_bytes() == FAULTY


def test_a_release_without_a_reason_is_refused(at_work: AtWork) -> None:
    job = at_work.bring(FAULTY)
    with pytest.raises(UsageError, match="a name and a reason"):
        release_job(at_work.studio.root, job, by="R. Vale", reason=" ")


def test_a_file_that_changes_while_it_is_released_goes_back(at_work: AtWork) -> None:
    job = at_work.bring(FAULTY)
    quay = at_work.studio.printer("quay")
    lay_request(at_work.studio.hidden, ReleaseRequest(job, "R. Vale", "agreed"))
    with (quay.needs_fixing / "flyer.pdf").open("ab") as writer:
        assert at_work.desk.carry_out_requests() == [job]
        writer.write(b"later")
    assert at_work.desk.work(job).again == (job,)  # somebody wrote: wait until that is over
    assert at_work.desk.work(job) == NextSteps()
    assert tree(quay.outbox) == []
    assert (quay.needs_fixing / "flyer.pdf").read_bytes() == FAULTY + b"later"
    assert verify(at_work.studio.audit).jobs == 1


def test_a_running_daemon_carries_it_out(at_work: AtWork) -> None:
    job = at_work.bring(FAULTY)
    worked: list[str] = []

    def daemon_turns(_: float) -> None:
        for accepted in at_work.desk.carry_out_requests():
            at_work.desk.work(accepted)
            worked.append(accepted)

    with studio_lock(at_work.studio.lock_file):
        (line,) = release_job(at_work.studio.root, job, by="R. Vale", reason="agreed", wait=daemon_turns)
    assert worked == [job]
    assert line == f"job {job} goes on to quay's outbox; its findings stay in the report"
    assert tree(at_work.studio.printer("quay").folder) == OUTBOX
    assert at_work.notices[-1].released_by == "R. Vale"


def test_a_daemon_that_does_not_answer_leaves_everything_as_it_was(at_work: AtWork) -> None:
    job = at_work.bring(FAULTY)
    waited: list[float] = []
    with (
        studio_lock(at_work.studio.lock_file),
        pytest.raises(StudioBusyError, match="nothing was released"),
    ):
        release_job(at_work.studio.root, job, by="R. Vale", reason="agreed", wait=waited.append)
    assert sum(waited) == pytest.approx(PATIENCE_S)
    assert at_work.desk.carry_out_requests() == []


def test_a_request_that_is_none_is_answered_and_removed(at_work: AtWork) -> None:
    requests = at_work.studio.hidden / "requests"
    requests.mkdir()
    (requests / "20261125-000000-00.json").write_text("[]", encoding="utf-8")
    assert at_work.desk.carry_out_requests() == []
    assert tree(requests) == ["20261125-000000-00.answer"]


@needs_rights
def test_another_user_is_told_whose_business_it_is(at_work: AtWork) -> None:
    job = at_work.bring(FAULTY)
    at_work.studio.hidden.chmod(0o500)
    try:
        with pytest.raises(UsageError, match="the user that runs the daemon"):
            release(at_work, job)
    finally:
        at_work.studio.hidden.chmod(0o700)
