"""Work folders: a job that is done stays done, and no job is left without a word."""

import shutil
from pathlib import Path

import pytest

from hotfolder.commands.audit import audit_studio
from hotfolder.config.studio import load_studio
from hotfolder.errors import StorageError
from hotfolder.model.jobs import NextSteps
from hotfolder.store.jobs import Step
from tests.studio_at_work import GOOD, STUDIO_TOML, AtWork, lay_studio, names_in


@pytest.fixture
def at_work(tmp_path: Path) -> AtWork:
    return AtWork(lay_studio(tmp_path / "studio"))


def test_a_work_folder_that_cannot_be_removed_is_no_job_any_more(
    at_work: AtWork, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def rmtree(_: Path) -> None:
        raise OSError(16, "Device or resource busy")  # as where a share still has a file of it open

    monkeypatch.setattr(shutil, "rmtree", rmtree)
    job = at_work.bring(GOOD)
    assert not at_work.desk._work.holds(job)
    assert at_work.desk.work(job) == NextSteps()
    work = at_work.studio.printer("quay").work
    assert names_in(work) == [f".done-{job}"]
    assert "its work folder is left" in caplog.text
    monkeypatch.undo()
    assert AtWork(at_work.studio).desk.recover() == []
    assert names_in(work) == []


def test_a_job_goes_on_with_the_new_name_of_its_printer(at_work: AtWork) -> None:
    job = at_work.desk.take(at_work.drop(GOOD))
    assert job is not None
    root = at_work.studio.root
    (root / "quay").rename(root / "harbour")
    (root / "hotfolder.toml").write_text(STUDIO_TOML.replace("quay", "harbour"), encoding="utf-8")
    again = AtWork(load_studio(root))
    assert again.desk.recover() == [job]
    assert again.desk.work(job) == NextSteps()
    assert (root / "harbour" / "outbox" / "flyer.pdf").read_bytes() == GOOD
    assert [notice.printer for notice in again.notices] == ["harbour"]


def test_jobs_of_a_printer_that_is_not_named_any_more_are_told(
    at_work: AtWork, caplog: pytest.LogCaptureFixture
) -> None:
    job = at_work.desk.take(at_work.drop(GOOD))
    assert job is not None
    root = at_work.studio.root
    (root / "hotfolder.toml").write_text(STUDIO_TOML.replace("quay", "harbour"), encoding="utf-8")
    again = AtWork(load_studio(root))
    assert again.desk.recover() == []
    assert f"'{root / 'quay' / '.work'}' holds 1 job," in caplog.text
    result = audit_studio(root)
    assert "quay/.work holds 1 job, and the studio file names no such printer any more: name it again" in (
        result.lines
    )
    assert result.exit_code == 0


def test_a_product_that_is_not_named_any_more_makes_its_jobs_wait(at_work: AtWork) -> None:
    job = at_work.desk.take(at_work.drop(GOOD, product="cards"))
    assert job is not None
    root = at_work.studio.root
    without = STUDIO_TOML.replace('[printers.quay.products.cards]\nrules = "business-card"\n', "")
    (root / "hotfolder.toml").write_text(without, encoding="utf-8")
    again = AtWork(load_studio(root))
    assert again.desk.recover() == [job]
    with pytest.raises(StorageError, match="has no product 'cards' any more"):
        again.desk.work(job)


@pytest.mark.parametrize("step", [Step.JUDGED, Step.STAGED, Step.NAMED])
def test_a_copy_that_somebody_removed_is_made_again(at_work: AtWork, step: Step) -> None:
    job = at_work.begin(step)
    shutil.rmtree(at_work.studio.printer("quay").work / job / "artwork")
    (at_work.studio.printer("quay").work / job / "artwork").mkdir()
    again = AtWork(at_work.studio)
    assert again.desk.recover() == [job]
    while again.desk.work(job).again:
        pass
    outbox = at_work.studio.printer("quay").outbox
    assert (outbox / "flyer.pdf").read_bytes() == GOOD
    assert names_in(outbox) == ["flyer.pdf", "flyer.pdf.report.html", "flyer.pdf.report.json"]
    assert again.orders == []  # the bytes are the same: nothing is judged again
    assert audit_studio(at_work.studio.root).exit_code == 0
