"""The record: chains, torn lines, and what an alteration does to them."""

import hashlib
import json
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotfolder.model.jobs import JobId
from hotfolder.store.audit_log.audit import CHAIN, AuditLog, log_of, records_since
from hotfolder.store.audit_log.chained import check_chain, extend, read_chain, read_end
from hotfolder.store.audit_log.verifying import verify
from tests.studio_at_work import FAULTY, GOOD, AtWork, Clock, lay_studio

JOB = JobId("20261125-093011-quay-4f2a")


@pytest.fixture
def audit(tmp_path: Path) -> AuditLog:
    return AuditLog(tmp_path, Clock())


def close(audit: AuditLog, job: JobId, mark: str = "closed") -> None:
    audit.close(job, {"verdict": "ready", "printer": "quay", "name": "flyer.pdf"}, mark, 0)


def test_each_line_has_the_hash_of_the_line_before(audit: AuditLog, tmp_path: Path) -> None:
    for event in ("claimed", "copied", "judged"):
        audit.note(JOB, event, {"bytes": 12})
    lines = (tmp_path / "2026/11" / f"{JOB}.jsonl").read_bytes().split(b"\n")
    assert lines.pop() == b""
    previous = ["0" * 64, *(hashlib.sha256(line).hexdigest() for line in lines)]
    assert [json.loads(line)["previous"] for line in lines] == previous[:3]
    assert [json.loads(line)["step"] for line in lines] == [1, 2, 3]


def test_an_event_is_never_written_twice(audit: AuditLog, tmp_path: Path) -> None:
    for _ in range(3):
        audit.note(JOB, "claimed", {})
        audit.note(JOB, "copied", {}, "copied-1")
        close(audit, JOB)
    audit.note(JOB, "copied", {}, "copied-2")
    assert [record.event for record in read_chain(tmp_path / log_of(JOB)).records] == [
        "claimed", "copied", "closed", "copied",
    ]  # fmt: skip
    assert len(read_chain(tmp_path / CHAIN).records) == 1


def test_the_chain_holds_each_closing_hash(audit: AuditLog, tmp_path: Path) -> None:
    audit.note(JOB, "claimed", {})
    close(audit, JOB)
    last = (tmp_path / log_of(JOB)).read_bytes().splitlines()[-1]
    (line,) = read_chain(tmp_path / CHAIN).records
    assert line.content["closing"] == hashlib.sha256(last).hexdigest()
    assert line.content["log"] == "2026/11/20261125-093011-quay-4f2a.jsonl"
    report = verify(tmp_path)
    assert (report.jobs, report.records, report.troubles) == (1, 3, ())


@given(st.integers(1, 200))
def test_a_torn_line_is_closed_by_a_record_that_says_so(cut: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "log.jsonl"
        for number in range(3):
            extend(path, read_chain(path), {"event": f"event-{number}", "text": "x" * 100}, "now")
        content = path.read_bytes()
        path.write_bytes(content[:-cut])
        cut_short = read_chain(path)
        assert cut_short.broken == ()
        extend(path, cut_short, {"event": "after"}, "now")
        after = read_chain(path)
        assert (after.broken, after.unfinished) == ((), b"")
        events = [record.event for record in after.records]
        if cut == 1:  # only the newline is missing: the line is whole
            assert events == ["event-0", "event-1", "event-2", "after"]
        else:
            assert events == ["event-0", "event-1", "torn-line", "after"]
            lost = content.splitlines(keepends=True)[2][:-cut] + b"\n"
            assert after.records[2].content["torn_sha256"] == hashlib.sha256(lost).hexdigest()


def test_a_torn_closing_of_a_torn_line_is_closed_too(tmp_path: Path) -> None:
    path = tmp_path / "log.jsonl"
    for number in range(2):
        extend(path, read_chain(path), {"event": f"event-{number}"}, "now")
    whole = path.read_bytes()
    path.write_bytes(whole[:-10])
    extend(path, read_chain(path), {"event": "after"}, "now")
    closed = path.read_bytes()
    for length in range(len(whole) - 10, len(closed)):
        path.write_bytes(closed[:length])
        extend(path, read_chain(path), {"event": "again"}, "now")
        after = read_chain(path)
        assert (after.broken, after.unfinished) == ((), b"")
        assert after.records[0].event == "event-0"
        assert after.records[-1].event == "again"


def alter_a_word(path: Path) -> None:
    path.write_bytes(path.read_bytes().replace(b'"printer": "quay"', b'"printer": "mill"', 1))


def remove_a_line(path: Path) -> None:
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join(lines[:1] + lines[2:]))


def remove_the_end(path: Path) -> None:
    path.write_bytes(b"".join(path.read_bytes().splitlines(keepends=True)[:-1]))


def exchange_lines(path: Path) -> None:
    first, second, *rest = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join([second, first, *rest]))


def spoil_a_line(path: Path) -> None:
    first, *rest = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join([first, b"scribble\n", *rest]))


@pytest.mark.parametrize(
    "harm", [alter_a_word, remove_a_line, remove_the_end, exchange_lines, spoil_a_line, Path.unlink]
)
@pytest.mark.parametrize("which", ["log", "chain"])
def test_what_is_altered_is_found(tmp_path: Path, harm: Callable[[Path], None], which: str) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))
    job = at_work.bring(GOOD)
    at_work.bring(FAULTY, "other.pdf")
    at_work.bring(GOOD, "third.pdf")
    folder = at_work.studio.audit
    path = folder / log_of(job) if which == "log" else folder / CHAIN
    before = path.read_bytes()
    harm(path)
    assert not path.exists() or path.read_bytes() != before
    assert verify(folder).troubles != ()


def test_the_place_of_an_alteration_is_told_once(tmp_path: Path) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))
    job = at_work.bring(GOOD)
    alter_a_word(at_work.studio.audit / log_of(job))
    (trouble,) = verify(at_work.studio.audit).troubles
    assert (trouble.file, trouble.line) == (log_of(job), 2)


def test_an_open_log_is_only_fine_while_its_job_is_in_hand(audit: AuditLog, tmp_path: Path) -> None:
    audit.note(JOB, "claimed", {})
    assert verify(tmp_path, {JOB}).troubles == ()
    assert verify(tmp_path, {JOB}).open_jobs == (JOB,)
    assert len(verify(tmp_path).troubles) == 1


def test_the_end_of_a_long_chain_is_read_without_the_rest(tmp_path: Path) -> None:
    path = tmp_path / CHAIN
    reading = read_chain(path)
    for number in range(40):
        extend(path, reading, {"event": "x", "number": number, "text": "y" * 9000}, "now")
        reading = read_end(path)
    whole = read_chain(path)
    assert whole.broken == ()
    assert whole.last is not None
    assert reading.last is not None
    assert (reading.last.hash, reading.last.end, reading.last.step) == (
        whole.last.hash,
        path.stat().st_size,
        40,
    )


@given(st.integers(0, 5), st.integers(-3, 3))
def test_records_since_a_byte_are_those_that_begin_there(count: int, shift: int) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / CHAIN
        ends = [0]
        for number in range(5):
            extend(path, read_chain(path), {"number": number}, "now")
            ends.append(path.stat().st_size)
        since = max(0, ends[count] + shift)
        found = [record.content["number"] for record in records_since(path, since)]
        assert found == [number for number in range(5) if ends[number] >= since]


@given(st.binary(max_size=300))
def test_no_bytes_make_the_reader_fail(content: bytes) -> None:
    reading = check_chain(content)
    assert content.endswith(reading.unfinished)
    assert bool(reading.records or reading.broken or reading.unfinished) is bool(content)
