"""Whole groups under odd names and clashing ones, on a real file system."""

import json
import os
import tempfile
from pathlib import Path

import pytest

from hotfolder.commands.audit import audit_studio
from hotfolder.delivery.sidecars import is_report_of
from hotfolder.model.jobs import JobOrder, JobResult, NextSteps
from hotfolder.store.audit_log.audit import name_in
from hotfolder.store.audit_log.chained import read_chain
from hotfolder.store.audit_log.verifying import verify
from hotfolder.store.jobs import Step
from tests.studio_at_work import FAULTY, GOOD, AtWork, examine, lay_studio, names_in, tree

ODD_NAMES = [
    "two words.pdf",
    'it\'s "quoted".pdf',
    "\U0001f9c1 cupcake.pdf",
    "-rf.pdf",
    "line\nbreak.pdf",
    "cafe\u0301.pdf",
    "\u202egpj.exe.pdf",
    "<b>bold&amp;.pdf",
    "$(echo) `x`; %s {0}.pdf",
    "no suffix",
    "trailing space .pdf ",
    os.fsdecode(b"\xff\xfe caf\xe9.pdf"),
]


@pytest.fixture
def at_work(tmp_path: Path) -> AtWork:
    return AtWork(lay_studio(tmp_path / "studio"))


@pytest.mark.parametrize("name", ODD_NAMES, ids=ascii)
def test_an_odd_name_is_kept_byte_for_byte(at_work: AtWork, name: str) -> None:
    job = at_work.bring(GOOD, name)
    outbox = at_work.studio.printer("quay").outbox
    assert names_in(outbox) == sorted([name, f"{name}.report.html", f"{name}.report.json"])
    assert (outbox / name).read_bytes() == GOOD
    line = read_chain(at_work.studio.audit / "chain.jsonl").records[0].content
    assert (name_in(line), name_in(line, "delivered")) == (name, name)
    story = audit_studio(at_work.studio.root, job)
    assert story.exit_code == 0
    assert all(text.isprintable() for text in story.lines)


@pytest.mark.parametrize("name", ODD_NAMES, ids=ascii)
def test_an_odd_name_survives_a_restart(at_work: AtWork, name: str) -> None:
    job = at_work.desk.take(at_work.drop(GOOD, name))
    assert job is not None
    again = AtWork(at_work.studio)
    assert again.desk.recover() == [job]
    again.desk.work(job)
    assert (at_work.studio.printer("quay").outbox / name).read_bytes() == GOOD


def test_a_name_of_255_bytes_keeps_its_beginning_and_its_suffix(at_work: AtWork) -> None:
    name = "\u00e9" * 125 + "x.pdf"
    assert len(os.fsencode(name)) == 255
    for number in range(3):
        at_work.bring(GOOD + bytes([number]), name)
    delivered = sorted(path.name for path in at_work.studio.printer("quay").outbox.glob("*.pdf"))
    assert delivered == sorted(
        ["\u00e9" * 119 + ".pdf", "\u00e9" * 117 + " (2).pdf", "\u00e9" * 117 + " (3).pdf"]
    )
    assert verify(at_work.studio.audit).troubles == ()


@pytest.mark.parametrize(
    "there", ["flyer.pdf", "FLYER.PDF", "flyer.pdf.report.json", "Flyer.pdf.Report.HTML"]
)
def test_a_number_is_free_for_the_whole_group(at_work: AtWork, there: str) -> None:
    outbox = at_work.studio.printer("quay").outbox
    (outbox / there).write_bytes(b"somebody else's")
    at_work.bring(GOOD)
    assert tree(outbox) == sorted(
        [there, "flyer (2).pdf", "flyer (2).pdf.report.html", "flyer (2).pdf.report.json"]
    )
    assert (outbox / there).read_bytes() == b"somebody else's"


def test_composed_and_decomposed_names_do_not_lie_side_by_side(at_work: AtWork) -> None:
    at_work.bring(GOOD, "caf\u00e9.pdf")
    at_work.bring(FAULTY.replace(b"faulty", b"fine"), "cafe\u0301.pdf")
    assert sorted(path.name for path in at_work.studio.printer("quay").outbox.glob("*.pdf")) == sorted(
        ["caf\u00e9.pdf", "cafe\u0301 (2).pdf"]
    )


def test_new_files_take_the_rights_that_the_folder_gives(at_work: AtWork) -> None:
    candidate = at_work.drop(GOOD)
    (candidate.folder / candidate.name).chmod(0o600)
    before = os.umask(0o027)
    try:
        job = at_work.desk.take(candidate)
        assert job is not None
        at_work.desk.work(job)
    finally:
        os.umask(before)
    outbox = at_work.studio.printer("quay").outbox
    assert {path.stat().st_mode & 0o777 for path in outbox.iterdir()} == {0o640}


def test_the_time_of_the_file_is_kept(at_work: AtWork) -> None:
    candidate = at_work.drop(GOOD)
    os.utime(candidate.folder / candidate.name, (1_000_000_000, 1_000_000_000))
    again = at_work.drop(GOOD, "other.pdf")  # its own time, for comparison
    for seen in (candidate, again):
        path = seen.folder / seen.name
        status = path.stat()
        job = at_work.desk.take(type(seen)(
            seen.printer, seen.product, seen.folder, seen.name,
            status.st_dev, status.st_ino, status.st_size, status.st_mtime_ns,
        ))  # fmt: skip
        assert job is not None
        at_work.desk.work(job)
    outbox = at_work.studio.printer("quay").outbox
    assert (outbox / "flyer.pdf").stat().st_mtime == 1_000_000_000
    assert (outbox / "other.pdf").stat().st_mtime != 1_000_000_000


def test_a_missing_outbox_is_made_again(at_work: AtWork) -> None:
    outbox = at_work.studio.printer("quay").outbox
    outbox.rmdir()
    at_work.bring(GOOD)
    assert (outbox / "flyer.pdf").read_bytes() == GOOD


def test_names_are_cut_to_what_the_folder_can_hold(at_work: AtWork, monkeypatch: pytest.MonkeyPatch) -> None:
    def pathconf(_: object, name: str) -> int:
        return {"PC_NAME_MAX": 143}[name]  # an encrypted folder's limit: ecryptfs, 143 bytes

    monkeypatch.setattr(os, "pathconf", pathconf)
    at_work.bring(GOOD, "x" * 140 + ".pdf")
    (name,) = [path.name for path in at_work.studio.printer("quay").outbox.glob("*.pdf")]
    assert len(f"{name}.report.json") == 143


def test_a_sidecar_of_the_same_job_is_no_strangers(at_work: AtWork) -> None:
    job = at_work.begin(Step.NAMED)
    quay = at_work.studio.printer("quay")
    # Laid before the interruption; the reports are made again, since a power cut emptied one of them.
    reports = quay.work / job / "try-1"
    earlier = (reports / "report.json").read_bytes().replace(b"kept", b"made earlier")
    (quay.outbox / "flyer.pdf.report.json").write_bytes(earlier)
    (reports / "report.html").write_bytes(b"")
    again = AtWork(at_work.studio)
    assert again.desk.recover() == [job]
    while again.desk.work(job).again:
        pass
    assert len(again.orders) == 1
    assert names_in(quay.outbox) == ["flyer.pdf", "flyer.pdf.report.html", "flyer.pdf.report.json"]
    assert b"kept" in (quay.outbox / "flyer.pdf.report.json").read_bytes()


@pytest.mark.parametrize("damaged", [b"", b"\0" * 400, b'{\n "schema": "hotfolder-report/1",\n "find'])
def test_a_report_that_is_not_whole_is_made_again(at_work: AtWork, damaged: bytes) -> None:
    job = at_work.begin(Step.JUDGED)
    quay = at_work.studio.printer("quay")
    (quay.work / job / "try-1" / "report.json").write_bytes(damaged)
    again = AtWork(at_work.studio)
    assert again.desk.recover() == [job]
    while again.desk.work(job).again:
        pass
    assert json.loads((quay.outbox / "flyer.pdf.report.json").read_bytes())["findings"] == ["kept"]


def test_a_child_that_left_half_a_report_is_tried_again(at_work: AtWork) -> None:
    def child(order: JobOrder) -> JobResult:
        result = examine(order)
        if order.attempt == 1:
            result.report_json.write_bytes(result.report_json.read_bytes()[:-30])
        return result

    at_work.child = child
    at_work.bring(GOOD)
    assert [order.attempt for order in at_work.orders] == [1, 2]


def test_a_file_fetched_before_its_delivery_was_recorded_is_told_as_fetched(at_work: AtWork) -> None:
    job = at_work.begin(Step.DELIVERED)
    (at_work.studio.printer("quay").outbox / "flyer.pdf").unlink()
    again = AtWork(at_work.studio)
    assert again.desk.recover() == [job]
    assert again.desk.work(job) == NextSteps()
    story = "\n".join(audit_studio(at_work.studio.root, job).lines)
    assert "delivered as outbox/flyer.pdf, and fetched from there at once" in story


def test_a_share_mounted_after_staging_gets_its_copy(at_work: AtWork, tmp_path: Path) -> None:
    memory = Path("/dev/shm")
    if not memory.is_dir() or memory.stat().st_dev == tmp_path.stat().st_dev:
        pytest.skip("no second file system: /dev/shm")
    job = at_work.begin(Step.NAMED)
    outbox = at_work.studio.printer("quay").outbox
    with tempfile.TemporaryDirectory(dir=memory) as share:
        outbox.rename(outbox.with_name("beneath"))
        outbox.symlink_to(share)
        again = AtWork(at_work.studio)
        assert again.desk.recover() == [job]
        while again.desk.work(job).again:
            pass
        assert (Path(share) / "flyer.pdf").read_bytes() == GOOD
        assert names_in(Path(share)) == ["flyer.pdf", "flyer.pdf.report.html", "flyer.pdf.report.json"]


def test_the_report_of_a_later_job_is_not_this_jobs(at_work: AtWork, tmp_path: Path) -> None:
    first = at_work.bring(FAULTY)
    report = (at_work.studio.printer("quay").needs_fixing / "flyer.pdf.report.json").read_bytes()
    later = tmp_path / "flyer.pdf.report.json"
    later.write_bytes(report)
    assert is_report_of(later, first)
    later.write_bytes(report.replace(b'"job": "', b'"previous_job": "'))
    assert not is_report_of(later, first)


def test_a_file_that_was_linked_before_an_interruption_is_delivered_once(at_work: AtWork) -> None:
    """Where a rename is a link and an unlink, and the file system gives each name a number of its own."""
    job = at_work.begin(Step.NAMED)
    outbox = at_work.studio.printer("quay").outbox
    (outbox / "flyer.pdf").write_bytes(GOOD)
    again = AtWork(at_work.studio)
    assert again.desk.recover() == [job]
    assert again.desk.work(job) == NextSteps()
    assert names_in(outbox) == ["flyer.pdf", "flyer.pdf.report.html", "flyer.pdf.report.json"]
