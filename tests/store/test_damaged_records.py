"""Records of ours that were damaged: nothing stops for them, and what is missing is told."""

import json
import random
import shutil
import tempfile
import tracemalloc
from collections.abc import Iterator
from pathlib import Path

import pytest

from hotfolder.commands.audit import audit_studio
from hotfolder.delivery.sidecars import is_own_report
from hotfolder.desk.closed_jobs import closed_jobs
from hotfolder.errors import StorageError
from hotfolder.model.jobs import NextSteps
from hotfolder.store.audit_log.audit import CHAIN, log_of
from hotfolder.store.requests import ReleaseRequest, lay_request
from tests.studio_at_work import FAULTY, GOOD, AtWork, lay_studio, names_in


@pytest.fixture
def at_work() -> Iterator[AtWork]:
    """A studio in memory where there is such a place: each file of it is synced often."""
    memory = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=memory if memory.is_dir() else None) as folder:
        yield AtWork(lay_studio(Path(folder) / "studio"))


def chain_of(at_work: AtWork) -> Path:
    return at_work.studio.audit / CHAIN


def with_value(line: bytes, key: str, value: object) -> bytes:
    return json.dumps({**json.loads(line), key: value}).encode()


ODD_VALUES = ["", "\ud800", "\udcff", "a\0b", "../../etc", "zz", "2f", "00", None, 10**100, ["x"], {"a": [1]}]


def test_a_line_with_any_value_of_any_kind_stops_nothing(at_work: AtWork) -> None:
    at_work.bring(FAULTY, "caf\udce9.pdf")
    chain = chain_of(at_work)
    whole = chain.read_bytes()
    keys = [*json.loads(whole), "name_hex", "delivered_hex", "report_json_hex", "report_html_hex"]
    for number, key in enumerate(dict.fromkeys(keys)):
        for value in ODD_VALUES:
            chain.write_bytes(with_value(whole, key, value) + b"\n")
            for index in at_work.studio.state.glob("*.sqlite"):
                index.unlink()
            goes_on(AtWork(at_work.studio), f"flyer-{number}.pdf")


def test_bytes_that_were_altered_anywhere_stop_nothing(at_work: AtWork) -> None:
    for number in range(3):
        at_work.bring(FAULTY, f"flyer-{number}.pdf")
    chain = chain_of(at_work)
    whole = chain.read_bytes()
    chance = random.Random(4)
    for number in range(60):
        content = bytearray(whole)
        for _ in range(chance.randint(1, 12)):
            content[chance.randrange(len(content))] = chance.randrange(256)
        chain.write_bytes(content[: chance.randint(1, len(content))])
        goes_on(AtWork(at_work.studio), f"other-{number}.pdf")


def goes_on(at_work: AtWork, name: str) -> None:
    """Files are taken and delivered, requests are answered, and the record can be read."""
    job = at_work.desk.take(at_work.drop(GOOD, name))
    assert job is not None
    assert at_work.desk.work(job) == NextSteps()
    lay_request(at_work.studio.hidden, ReleaseRequest("caf\udce9.pdf", "R. Vale", "why"))
    for released in at_work.desk.carry_out_requests():
        at_work.desk.work(released)
    shutil.rmtree(at_work.studio.hidden / "requests")
    audit_studio(at_work.studio.root, job)
    assert job in closed_jobs(at_work.studio.audit)


def test_a_record_leads_nobody_out_of_the_printers_folder(at_work: AtWork) -> None:
    job = at_work.bring(FAULTY)
    chain = chain_of(at_work)
    whole = chain.read_bytes()
    for key, value in (("folder", "../mill/inbox"), ("delivered", "../x"), ("reports", "/etc")):
        chain.write_bytes(with_value(whole, key, value) + b"\n")
        assert closed_jobs(at_work.studio.audit)[job].group is None


def test_the_last_log_and_its_line_cannot_be_cut_off_unseen(at_work: AtWork) -> None:
    at_work.bring(GOOD)
    job = at_work.bring(FAULTY)
    assert audit_studio(at_work.studio.root).exit_code == 0
    (at_work.studio.audit / log_of(job)).unlink()
    chain = chain_of(at_work)
    chain.write_bytes(b"".join(chain.read_bytes().splitlines(keepends=True)[:-1]))
    missing = f"{log_of(job)}: is missing, and so is its line in chain.jsonl; the index of jobs knows it"
    result = audit_studio(at_work.studio.root)
    assert (result.lines[0], result.exit_code) == (missing, 1)
    later = AtWork(at_work.studio)
    later.bring(GOOD, "later.pdf")  # the index has read the shorter chain now
    result = audit_studio(at_work.studio.root)
    assert (result.lines[0], result.exit_code) == (missing, 1)


def test_a_missing_audit_folder_is_told(at_work: AtWork) -> None:
    job = at_work.bring(GOOD)
    shutil.rmtree(at_work.studio.audit)
    result = audit_studio(at_work.studio.root)
    assert result.lines[0] == "audit: is missing: the whole folder of the audit log"
    assert result.lines[1].startswith(f"{log_of(job)}: is missing")
    assert result.exit_code == 1
    AtWork(at_work.studio).bring(GOOD, "later.pdf")
    assert audit_studio(at_work.studio.root).exit_code == 1


def test_a_large_file_called_a_report_is_known_by_its_beginning(tmp_path: Path) -> None:
    path = tmp_path / "x.report.json"
    path.write_bytes(b'{"schema": "something-else/1", "a": ' + b"[" * 30_000_000)
    tracemalloc.start()
    try:
        assert not is_own_report(path)
        path.write_bytes(b'{\n "schema": "hotfolder-report/1", "a": ' + b"[" * 30_000_000)
        tracemalloc.reset_peak()
        assert is_own_report(path)
        assert tracemalloc.get_traced_memory()[1] < 1_000_000  # bytes; the file has 30 MB
    finally:
        tracemalloc.stop()


@pytest.mark.parametrize("content", [b'{"a": {"schema": "hotfolder-report/1"}}', b"", b"\0" * 100])
def test_somebodys_own_json_is_no_report(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "x.report.json"
    path.write_bytes(content)
    assert not is_own_report(path)


def test_old_reports_are_not_laid_through_a_link(at_work: AtWork) -> None:
    at_work.bring(FAULTY)
    quay = at_work.studio.printer("quay")
    report = (quay.needs_fixing / "flyer.pdf.report.json").read_bytes()
    with tempfile.TemporaryDirectory() as elsewhere:
        (quay.needs_fixing / "old-reports").symlink_to(elsewhere)
        with pytest.raises(StorageError, match="is a link, and is not followed"):
            at_work.desk.take(at_work.drop(report, "flyer.pdf.report.json"))
        assert names_in(Path(elsewhere)) == []
    assert names_in(quay.inbox) == ["cards", "flyer.pdf.report.json"]


def test_reports_are_not_laid_through_a_link(at_work: AtWork) -> None:
    mill = at_work.studio.printer("mill")
    job = at_work.desk.take(at_work.drop(GOOD, "poster.pdf", "mill"))
    assert job is not None
    with tempfile.TemporaryDirectory() as elsewhere:
        (mill.outbox / "reports").symlink_to(elsewhere)
        with pytest.raises(StorageError, match="is a link, and is not followed"):
            at_work.desk.work(job)
        assert names_in(Path(elsewhere)) == []
    (mill.outbox / "reports").unlink()
    assert at_work.desk.work(job) == NextSteps()
    assert names_in(mill.outbox / "reports") == ["poster.pdf.report.html", "poster.pdf.report.json"]
