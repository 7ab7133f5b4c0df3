# The daemon's main loop where something goes wrong: it goes on, and says so.
from pathlib import Path
from typing import Any

import pytest

from hotfolder.errors import StorageError
from hotfolder.model.jobs import JobId, JobOrder, JobResult
from tests.daemon_at_work import outbox_of, run_once, run_until, view_of
from tests.studio_at_work import GOOD, AtWork, examine, lay_studio

# What goes wrong.


@pytest.mark.parametrize(
    ("trouble", "told"),
    [
        (ZeroDivisionError("nobody expected this"), "error in hotfolder itself, in the main loop"),
        (StorageError("'requests' cannot be looked into"), "'requests' cannot be looked into"),
    ],
)
def test_an_error_in_the_main_loop_does_not_end_the_daemon(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
    trouble: Exception,
    told: str,
) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))
    at_work.drop(GOOD)

    def faulty() -> list[JobId]:
        raise trouble

    monkeypatch.setattr(at_work.desk, "carry_out_requests", faulty)
    run_once(at_work)
    assert (at_work.studio.printer("quay").outbox / "flyer.pdf").read_bytes() == GOOD
    assert told in caplog.text
    assert str(trouble) in caplog.text


@pytest.mark.parametrize(
    ("trouble", "why"),
    [
        (ZeroDivisionError("nobody expected this"), "an error in hotfolder itself; its log says which"),
        (StorageError("no room on the disk"), "no room on the disk"),
    ],
)
def test_an_error_with_one_job_keeps_it_for_later_and_the_others_are_served(
    tmp_path: Path, caplog: pytest.LogCaptureFixture, trouble: Exception, why: str
) -> None:
    def child(order: JobOrder) -> JobResult:
        if b"trouble" in order.file.artwork.read_bytes():
            raise trouble
        return examine(order)

    studio = lay_studio(tmp_path / "studio")
    at_work = AtWork(studio, child)
    at_work.drop(b"trouble " + GOOD, "first.pdf")
    at_work.drop(GOOD, "second.pdf")
    seen: list[dict[str, Any]] = []

    def it_waits() -> bool:
        seen[:] = view_of(at_work).get("jobs", ())
        return bool(seen) and outbox_of(at_work) == ["second.pdf"]

    run_until(at_work, it_waits)
    assert [(job["printer"], job["why"]) for job in seen] == [("quay", why)]
    assert str(trouble) in caplog.text
    run_once(AtWork(studio))
    assert outbox_of(at_work) == ["first.pdf", "second.pdf"]


def test_a_file_that_cannot_be_taken_stays_in_its_inbox_and_the_status_says_why(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))
    at_work.drop(GOOD)

    def refuse(_: object) -> JobId | None:
        raise StorageError("no room on the disk")

    monkeypatch.setattr(at_work.desk, "take", refuse)
    run_until(
        at_work,
        lambda: (
            ("flyer.pdf", "no room on the disk")
            in [(file["name"], file["why"]) for file in view_of(at_work).get("waiting", ())]
        ),
    )
    assert (at_work.studio.printer("quay").inbox / "flyer.pdf").read_bytes() == GOOD
