"""A claimed file whose writer nobody can see is kept after its delivery, and compared again."""

import os
import time
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from hotfolder.desk import claimed_files, desk
from hotfolder.intake import unfinished
from hotfolder.intake.writers import Writers
from hotfolder.model.jobs import JobId, NextSteps
from hotfolder.store.audit_log.chained import read_chain
from hotfolder.store.audit_log.verifying import verify
from hotfolder.store.requests import ReleaseRequest, lay_request
from tests.studio_at_work import FAULTY, GOOD, AtWork, lay_studio, tree


class SetClock:
    def __init__(self) -> None:
        self.now = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)

    def __call__(self) -> datetime:
        self.now += timedelta(milliseconds=1)
        return self.now


class Seen:
    """What the system says of a file's writers."""

    def __init__(self) -> None:
        self.writers = Writers.UNKNOWN

    def __call__(self, _: Path) -> Writers:
        return self.writers


@pytest.fixture
def seen(monkeypatch: pytest.MonkeyPatch) -> Seen:
    answer = Seen()
    for module in (desk, claimed_files, unfinished):
        monkeypatch.setattr(module, "writers_of", answer)
    return answer


@pytest.fixture
def clock() -> SetClock:
    return SetClock()


@pytest.fixture
def at_work(tmp_path: Path, clock: SetClock) -> AtWork:
    return AtWork(lay_studio(tmp_path / "studio"), clock=clock)


def delivered(at_work: AtWork) -> tuple[JobId, JobId, Path]:
    """A job of a writer nobody can see, the kept one, and the kept file."""
    job = at_work.desk.take(at_work.drop(GOOD))
    assert job is not None
    (kept,) = at_work.desk.work(job).again
    quay = at_work.studio.printer("quay")
    assert (quay.outbox / "flyer.pdf").read_bytes() == GOOD
    assert len(at_work.notices) == 1
    return job, kept, quay.work / kept / "claimed" / "flyer.pdf"


@pytest.mark.usefixtures("seen")
def test_what_stays_the_same_is_dropped_after_its_time(at_work: AtWork, clock: SetClock) -> None:
    _, kept, file = delivered(at_work)
    assert at_work.desk.work(kept).again == (kept,)
    clock.now += timedelta(minutes=14)
    assert at_work.desk.work(kept).again == (kept,)
    assert file.read_bytes() == GOOD
    clock.now += timedelta(minutes=1)
    assert at_work.desk.work(kept) == NextSteps()
    assert tree(at_work.studio.printer("quay").work) == []
    assert len(at_work.orders) == len(at_work.notices) == 1
    assert verify(at_work.studio.audit).troubles == ()


@pytest.mark.usefixtures("seen")
def test_looks_at_a_kept_file_are_not_counted_as_jobs(at_work: AtWork, clock: SetClock) -> None:
    job = at_work.desk.take(at_work.drop(GOOD))
    assert job is not None
    onward = at_work.desk.work(job)
    assert onward.ended
    (kept,) = onward.again
    assert not at_work.desk.work(kept).ended
    clock.now += timedelta(hours=1)
    onward = at_work.desk.work(kept)
    assert (onward.again, onward.ended) == ((), False)


@pytest.mark.usefixtures("seen")
def test_what_grows_is_a_new_job_that_names_the_old_one(at_work: AtWork) -> None:
    job, kept, file = delivered(at_work)
    with file.open("ab") as late:
        late.write(FAULTY)
    assert at_work.desk.work(kept) == NextSteps((kept,), at_work.studio.timing.quiet_s)
    (again,) = at_work.desk.work(kept).again  # nobody can see its writer either: it is kept in its turn
    assert again not in {job, kept}
    quay = at_work.studio.printer("quay")
    assert (quay.needs_fixing / "flyer.pdf").read_bytes() == GOOD + FAULTY
    assert at_work.orders[1].file.previous_job == job
    assert at_work.notices[1].continues == job
    (claimed, *_) = read_chain(at_work.studio.audit / "2026/11" / f"{kept}.jsonl").records
    assert claimed.content["continues"] == job
    assert verify(at_work.studio.audit).troubles == ()


@pytest.mark.usefixtures("seen")
def test_bytes_that_change_and_leave_size_and_time_as_they_were_are_found(
    at_work: AtWork, clock: SetClock
) -> None:
    """As a share may show them, whose times come late."""
    _, kept, file = delivered(at_work)
    before = file.stat()
    file.write_bytes(GOOD.replace(b"good", b"evil"))
    os.utime(file, ns=(before.st_atime_ns, before.st_mtime_ns))
    clock.now += timedelta(minutes=16)
    assert at_work.desk.work(kept).again == (kept,)
    at_work.desk.work(kept)
    assert len(at_work.orders) == 2


@pytest.mark.usefixtures("seen")
def test_a_new_time_alone_is_no_change(at_work: AtWork, clock: SetClock) -> None:
    _, kept, file = delivered(at_work)
    file.touch()
    clock.now += timedelta(minutes=16)
    assert at_work.desk.work(kept) == NextSteps()
    assert len(at_work.orders) == 1


@pytest.mark.usefixtures("seen")
def test_a_kept_file_survives_a_restart_and_what_was_written_meanwhile_is_found(
    at_work: AtWork, clock: SetClock
) -> None:
    job, kept, file = delivered(at_work)
    with file.open("ab") as late:
        late.write(FAULTY)
    clock.now += timedelta(days=3)
    again = AtWork(at_work.studio, clock=clock)
    assert again.desk.recover() == [kept]
    again.desk.work(kept)
    again.desk.work(kept)
    assert again.orders[0].file.previous_job == job
    assert (at_work.studio.printer("quay").needs_fixing / "flyer.pdf").read_bytes() == GOOD + FAULTY


@pytest.mark.usefixtures("seen")
def test_a_clock_that_was_set_back_keeps_nothing_for_years(at_work: AtWork, clock: SetClock) -> None:
    _, kept, _ = delivered(at_work)
    clock.now -= timedelta(days=1000)
    assert at_work.desk.work(kept) == NextSteps()


def test_what_somebody_has_open_is_kept_beyond_its_time(at_work: AtWork, clock: SetClock, seen: Seen) -> None:
    _, kept, _ = delivered(at_work)
    seen.writers = Writers.SOME
    clock.now += timedelta(hours=5)
    assert at_work.desk.work(kept).again == (kept,)
    seen.writers = Writers.NONE
    assert at_work.desk.work(kept) == NextSteps()


def test_what_nobody_has_open_is_dropped_at_once(at_work: AtWork, seen: Seen) -> None:
    seen.writers = Writers.NONE
    at_work.bring(GOOD)
    assert tree(at_work.studio.printer("quay").work) == []


def test_a_file_that_somebody_has_open_is_not_taken_and_a_claimed_one_not_copied(
    at_work: AtWork, seen: Seen
) -> None:
    candidate = at_work.drop(GOOD)
    seen.writers = Writers.SOME
    assert at_work.desk.take(candidate) is None
    assert (candidate.folder / candidate.name).exists()
    seen.writers = Writers.NONE
    job = at_work.desk.take(candidate)
    assert job is not None
    seen.writers = Writers.SOME
    onward = at_work.desk.work(job)
    assert (onward.again, onward.why) == ((job,), "a program still has it open for writing")
    assert at_work.orders == []
    seen.writers = Writers.NONE
    assert at_work.desk.work(job) == NextSteps()


@pytest.mark.usefixtures("seen")
def test_a_kept_job_does_not_stand_against_a_release(at_work: AtWork) -> None:
    job = at_work.desk.take(at_work.drop(FAULTY))
    assert job is not None
    assert at_work.desk.work(job).again
    lay_request(at_work.studio.hidden, ReleaseRequest("flyer.pdf", "R. Vale", "agreed"))
    assert at_work.desk.carry_out_requests() == [job]
    assert at_work.desk.work(job) == NextSteps()
    assert (at_work.studio.printer("quay").outbox / "flyer.pdf").read_bytes() == FAULTY


def test_a_claimed_file_that_is_not_whole_waits_for_its_time(at_work: AtWork) -> None:
    """A job found in work at a start, whose file does not end as a PDF ends."""
    job = at_work.desk.take(at_work.drop(b"%PDF-1.4 half of it"))
    assert job is not None
    timing = replace(at_work.studio.timing, unfinished_s=0.05)
    again = AtWork(replace(at_work.studio, timing=timing))
    assert again.desk.recover() == [job]
    assert again.desk.work(job).why == "not whole yet: the end marker of a PDF is missing"
    time.sleep(0.1)
    assert again.desk.work(job) == NextSteps()
    assert len(again.orders) == 1
