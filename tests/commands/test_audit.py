"""`hotfolder audit`: whether the record holds, and a job's story."""

import shutil
from pathlib import Path

import pytest

from hotfolder.commands.audit import audit_studio
from hotfolder.errors import UsageError
from hotfolder.store.audit_log.audit import log_of
from hotfolder.store.jobs import Step
from tests.studio_at_work import FAULTY, GOOD, AtWork, lay_studio


@pytest.fixture
def at_work(tmp_path: Path) -> AtWork:
    return AtWork(lay_studio(tmp_path / "studio"))


def test_an_empty_studio_holds(at_work: AtWork) -> None:
    result = audit_studio(at_work.studio.root)
    assert (result.lines, result.exit_code) == (("0 jobs, 0 records: the audit log is intact.",), 0)


def test_a_whole_record_holds(at_work: AtWork) -> None:
    at_work.bring(GOOD)
    at_work.bring(FAULTY, "other.pdf")
    at_work.desk.take(at_work.drop(GOOD, "third.pdf"))
    result = audit_studio(at_work.studio.root)
    # Six records for each closed job, and one line for it in the chain; the third has no record yet.
    assert (result.lines, result.exit_code) == (("2 jobs, 14 records: the audit log is intact.",), 0)


def test_jobs_in_work_on_a_share_that_is_away_are_no_damage(at_work: AtWork, tmp_path: Path) -> None:
    at_work.bring(GOOD)
    at_work.begin(Step.JUDGED)
    quay = at_work.studio.printer("quay").folder
    quay.rename(tmp_path / "share")
    quay.mkdir()  # its mount point
    result = audit_studio(at_work.studio.root)
    assert result.lines == (
        "quay is not available: which of its jobs are in work cannot be seen",
        "2 jobs, 1 of them still in work, 10 records: the audit log is intact.",
    )
    assert result.exit_code == 0


def test_a_removed_work_folder_is_told(at_work: AtWork) -> None:
    job = at_work.begin(Step.JUDGED)
    shutil.rmtree(at_work.studio.printer("quay").work)
    result = audit_studio(at_work.studio.root)
    assert result.lines[0].startswith(f"{log_of(job)}: is not in chain.jsonl")
    assert result.exit_code == 1


def test_a_broken_chain_is_told_with_its_place(at_work: AtWork) -> None:
    job = at_work.bring(GOOD)
    log = at_work.studio.audit / log_of(job)
    log.write_bytes(log.read_bytes().replace(b'"verdict": "ready"', b'"verdict": "needs"', 1))
    result = audit_studio(at_work.studio.root)
    assert result.exit_code == 1
    assert result.lines[0].startswith(f"{log_of(job)}:4: ")
    assert result.lines[-1] == "1 job, 7 records: the audit log is damaged in 1 place."


@pytest.mark.parametrize("by", ["id", "name", "other case"])
def test_the_story_of_a_job(at_work: AtWork, by: str) -> None:
    first = at_work.bring(FAULTY)
    job = at_work.bring(FAULTY, "flyer.pdf")
    wanted = {"id": str(job), "name": "flyer.pdf", "other case": "FLYER.pdf"}[by]
    result = audit_studio(at_work.studio.root, wanted)
    text = "\n".join(result.lines)
    assert result.exit_code == 0
    assert f"Job {job}, flyer.pdf for quay" in text
    assert f"the last file of this name was job {first}" in text
    assert f"exactly the bytes of job {first}" in text
    assert "judged by flyer-offset-coated: needs fixing (1 must be fixed, 2 advice)" in text
    assert f"takes the place of job {first}" in text
    assert "delivered as needs-fixing/flyer.pdf" in text
    assert (f"Job {first}" in text) is (by != "id")


def test_the_story_of_a_job_in_hand(at_work: AtWork) -> None:
    def stop(_: object) -> None:
        raise KeyboardInterrupt

    at_work.child = stop  # type: ignore[assignment] # it never returns
    job = at_work.desk.take(at_work.drop(GOOD))
    assert job is not None
    with pytest.raises(KeyboardInterrupt):
        at_work.desk.work(job)
    result = audit_studio(at_work.studio.root, job)
    assert f"taken from the inbox: {len(GOOD)} bytes" in result.lines[1]
    assert result.lines[-1] == "1 job, 1 of them still in work, 2 records: the audit log is intact."


def test_an_unknown_job_suggests_the_nearest(at_work: AtWork) -> None:
    at_work.bring(GOOD)
    with pytest.raises(UsageError, match=r"did you mean 'flyer\.pdf'"):
        audit_studio(at_work.studio.root, "flier.pdf")
