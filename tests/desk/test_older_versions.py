# A corrected file takes the place of the version that came back before it.

from pathlib import Path

import pytest

from hotfolder.commands.audit import audit_studio
from hotfolder.commands.release import release_job
from hotfolder.delivery import groups
from hotfolder.errors import UsageError
from hotfolder.store.audit_log.chained import read_chain
from hotfolder.store.audit_log.verifying import verify
from hotfolder.store.jobs import Step
from tests.studio_at_work import FAULTY, GOOD, AtWork, lay_studio, tree

STILL_FAULTY = FAULTY + b"% a second try\n"
GROUP = ["flyer.pdf", "flyer.pdf.report.html", "flyer.pdf.report.json"]


@pytest.fixture
def at_work(tmp_path: Path) -> AtWork:
    return AtWork(lay_studio(tmp_path / "studio"))


def fixing(at_work: AtWork, printer: str = "quay") -> Path:
    return at_work.studio.printer(printer).needs_fixing


def older(job: str, *names: str) -> list[str]:
    return [f"older-versions/{job}/{name}" for name in names or GROUP]


def chain_line(at_work: AtWork, job: str) -> dict[str, object]:
    lines = read_chain(at_work.studio.audit / "chain.jsonl").records
    return dict(next(line.content for line in lines if line.content["job"] == job))


def test_a_corrected_file_that_is_ready_retires_the_one_that_came_back(at_work: AtWork) -> None:
    first = at_work.bring(FAULTY)
    second = at_work.bring(GOOD)
    assert tree(fixing(at_work)) == older(first)
    assert (fixing(at_work) / f"older-versions/{first}/flyer.pdf").read_bytes() == FAULTY
    assert tree(at_work.studio.printer("quay").outbox) == GROUP
    assert at_work.orders[-1].file.replaces == (first,)  # so that the new report names it
    assert chain_line(at_work, second)["replaces"] == [first]
    assert verify(at_work.studio.audit).troubles == ()


def test_a_correction_that_fails_too_is_the_only_one_that_lies_there_under_its_plain_name(
    at_work: AtWork,
) -> None:
    first, second = at_work.bring(FAULTY), at_work.bring(STILL_FAULTY)
    assert tree(fixing(at_work)) == [*GROUP, *older(first)]
    assert (fixing(at_work) / "flyer.pdf").read_bytes() == STILL_FAULTY
    at_work.bring(GOOD)
    assert tree(fixing(at_work)) == sorted([*older(first), *older(second)])


def test_the_reports_of_a_file_that_was_fetched_to_be_corrected_go_too(at_work: AtWork) -> None:
    first = at_work.bring(FAULTY)
    (fixing(at_work) / "flyer.pdf").unlink()
    at_work.bring(GOOD)
    assert tree(fixing(at_work)) == older(first, *GROUP[1:])


def test_what_was_changed_since_is_left_alone(at_work: AtWork) -> None:
    at_work.bring(FAULTY)
    (fixing(at_work) / "flyer.pdf").write_bytes(b"being worked on")
    second = at_work.bring(GOOD)
    assert tree(fixing(at_work)) == GROUP
    assert (fixing(at_work) / "flyer.pdf").read_bytes() == b"being worked on"
    assert chain_line(at_work, second)["replaces"] == []


def test_somebody_elses_files_of_the_same_names_are_left_alone(at_work: AtWork) -> None:
    first = at_work.bring(FAULTY)
    (fixing(at_work) / "flyer.pdf.report.html").write_text("my notes")
    (fixing(at_work) / "flyer (2).pdf").write_bytes(FAULTY)
    at_work.bring(GOOD)
    assert tree(fixing(at_work)) == sorted(
        ["flyer (2).pdf", "flyer.pdf.report.html", *older(first, GROUP[0], GROUP[2])]
    )


def test_a_link_in_the_place_of_the_file_is_left_alone(at_work: AtWork, tmp_path: Path) -> None:
    at_work.bring(FAULTY)
    mine = tmp_path / "mine.pdf"
    mine.write_bytes(FAULTY)
    (fixing(at_work) / "flyer.pdf").unlink()
    (fixing(at_work) / "flyer.pdf").symlink_to(mine)
    at_work.bring(GOOD)
    assert (fixing(at_work) / "flyer.pdf").is_symlink()
    assert mine.read_bytes() == FAULTY


def test_another_printer_or_product_has_versions_of_its_own(at_work: AtWork) -> None:
    at_work.bring(FAULTY)
    at_work.bring(GOOD, printer="mill")
    job = at_work.desk.take(at_work.drop(GOOD, product="cards"))
    assert job is not None
    at_work.desk.work(job)
    assert tree(fixing(at_work)) == GROUP
    first = tree(fixing(at_work))
    at_work.bring(GOOD)  # of no product again: the one of the product came in between
    assert tree(fixing(at_work)) != first
    assert not (fixing(at_work) / "flyer.pdf").exists()


def test_a_released_file_is_no_older_version(at_work: AtWork) -> None:
    at_work.bring(FAULTY)
    release_job(at_work.studio.root, "flyer.pdf", by="R. Vale", reason="agreed")
    at_work.bring(GOOD)
    assert tree(fixing(at_work)) == []
    assert (at_work.studio.printer("quay").outbox / "flyer.pdf").read_bytes() == FAULTY


def test_a_name_means_the_version_that_is_current_when_a_job_is_released(at_work: AtWork) -> None:
    first = at_work.bring(FAULTY)
    at_work.bring(STILL_FAULTY)
    with pytest.raises(UsageError, match="a newer version of it has come"):
        release_job(at_work.studio.root, first, by="R. Vale", reason="agreed")
    release_job(at_work.studio.root, "flyer.pdf", by="R. Vale", reason="agreed")
    assert (at_work.studio.printer("quay").outbox / "flyer.pdf").read_bytes() == STILL_FAULTY


def test_the_story_of_both_jobs_says_it(at_work: AtWork) -> None:
    first, second = at_work.bring(FAULTY), at_work.bring(GOOD)
    told = "\n".join(audit_studio(at_work.studio.root, "flyer.pdf").lines)
    assert f"takes the place of job {first},\n" in told
    assert f"which was moved to needs-fixing/older-versions/{first}" in told
    assert f"A newer version of it came as job {second}." in told


def test_a_version_that_is_overtaken_lies_among_the_older_ones_at_once(at_work: AtWork) -> None:
    slow = at_work.desk.take(at_work.drop(FAULTY))
    quick = at_work.desk.take(at_work.drop(STILL_FAULTY))
    assert slow is not None
    assert quick is not None
    at_work.desk.work(quick)
    at_work.desk.work(slow)
    assert tree(fixing(at_work)) == [*GROUP, *older(slow)]
    assert (fixing(at_work) / "flyer.pdf").read_bytes() == STILL_FAULTY
    assert chain_line(at_work, slow)["replaced_by"] == quick
    with pytest.raises(UsageError, match="a newer version of it has come"):
        release_job(at_work.studio.root, slow, by="R. Vale", reason="agreed")


@pytest.mark.parametrize("elsewhere", ["", "needs-fixing"])
@pytest.mark.parametrize("step", [Step.JUDGED, Step.STAGED])
def test_a_version_that_is_overtaken_between_its_verdict_and_its_delivery_lies_among_the_older_ones(
    at_work: AtWork, monkeypatch: pytest.MonkeyPatch, step: Step, elsewhere: str
) -> None:
    if elsewhere:  # as where needs-fixing lies on a share of its own: the copy for it waits there
        monkeypatch.setattr(groups, "reaches_by_rename", lambda *_: False)
    slow = at_work.desk.take(at_work.drop(FAULTY))
    assert slow is not None
    at_work.interrupt(slow, step)
    quick = at_work.bring(STILL_FAULTY)
    at_work.desk.work(slow)
    assert tree(fixing(at_work)) == [*GROUP, *older(slow)]
    assert (fixing(at_work) / "flyer.pdf").read_bytes() == STILL_FAULTY
    assert chain_line(at_work, slow)["replaced_by"] == quick


def test_a_newer_version_that_lies_there_and_is_not_recorded_yet_overtakes_too(at_work: AtWork) -> None:
    slow = at_work.desk.take(at_work.drop(FAULTY))
    quick = at_work.desk.take(at_work.drop(STILL_FAULTY))
    assert slow is not None
    assert quick is not None
    at_work.interrupt(quick, Step.DELIVERED)
    at_work = AtWork(at_work.studio)
    assert at_work.desk.recover() == [slow, quick]
    at_work.desk.work(slow)
    at_work.desk.work(quick)
    assert tree(fixing(at_work)) == [*GROUP, *older(slow)]
    assert chain_line(at_work, slow)["replaced_by"] == quick


def test_a_newer_version_is_found_behind_one_of_another_product(at_work: AtWork) -> None:
    slow = at_work.desk.take(at_work.drop(FAULTY))
    quick = at_work.bring(STILL_FAULTY)
    of_a_product = at_work.desk.take(at_work.drop(GOOD, product="cards"))
    assert slow is not None
    assert of_a_product is not None
    at_work.desk.work(of_a_product)
    at_work.desk.work(slow)
    assert chain_line(at_work, slow)["replaced_by"] == quick


def test_a_newer_version_that_was_never_delivered_overtakes_nobody(at_work: AtWork) -> None:
    slow = at_work.desk.take(at_work.drop(FAULTY))
    later = at_work.desk.take(at_work.drop(STILL_FAULTY))
    assert slow is not None
    assert later is not None
    at_work.interrupt(later, Step.JUDGED)
    at_work.desk.work(slow)
    assert tree(fixing(at_work)) == GROUP
    assert chain_line(at_work, slow)["replaced_by"] is None
    at_work.desk.work(later)
    assert tree(fixing(at_work)) == [*GROUP, *older(slow)]
    assert (fixing(at_work) / "flyer.pdf").read_bytes() == STILL_FAULTY


def test_a_folder_that_cannot_be_made_holds_nothing_up(at_work: AtWork, tmp_path: Path) -> None:
    at_work.bring(FAULTY)
    (tmp_path / "elsewhere").mkdir()
    (fixing(at_work) / "older-versions").symlink_to(tmp_path / "elsewhere")
    at_work.bring(GOOD)
    assert tree(at_work.studio.printer("quay").outbox) == GROUP
    assert tree(tmp_path / "elsewhere") == []
    assert (fixing(at_work) / "flyer.pdf").exists()
