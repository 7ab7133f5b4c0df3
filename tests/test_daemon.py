"""The daemon's main loop in this process, with a child that tests decide about."""

import threading
from dataclasses import replace
from pathlib import Path

import pytest

from hotfolder.config.studio import Timing
from hotfolder.daemon import Daemon
from hotfolder.errors import StudioBusy
from hotfolder.host.systemd import ServiceManager
from hotfolder.model.jobs import ChildOrder, ChildResult, HeldNotice, JobId
from tests.studio_at_work import GOOD, AtWork, examine, lay_studio

QUICK = Timing(scan_s=0.5, quiet_s=0.5, stop_s=5)


def run_once(at_work: AtWork) -> tuple[str, ...]:
    studio = replace(at_work.studio, timing=QUICK)
    return Daemon(studio, at_work.desk, ServiceManager({}), threading.Event()).run(once=True)


def test_a_fault_of_ours_with_a_request_does_not_end_the_daemon(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))
    at_work.drop(GOOD)

    def faulty() -> list[JobId]:
        raise ZeroDivisionError("nobody expected this")

    monkeypatch.setattr(at_work.desk, "carry_out_requests", faulty)
    run_once(at_work)
    assert (at_work.studio.printer("quay").outbox / "flyer.pdf").read_bytes() == GOOD
    assert "nobody expected this" in caplog.text


def test_a_daemon_whose_studio_another_one_holds_stops(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))

    def lost() -> None:
        raise StudioBusy("the studio is already watched by another hotfolder")

    studio = replace(at_work.studio, timing=QUICK)
    Daemon(studio, at_work.desk, ServiceManager({}), threading.Event(), lost).run(once=False)
    assert "already watched by another hotfolder: this one stops" in caplog.text


def test_two_files_that_take_for_ever_do_not_stop_the_other_printers(tmp_path: Path) -> None:
    released = threading.Event()

    def child(order: ChildOrder) -> ChildResult:
        if order.printer == "quay":
            assert released.wait(30), "the other printer's file was never examined"
        else:
            released.set()
        return examine(order)

    at_work = AtWork(lay_studio(tmp_path / "studio"), child)
    for number in range(3):
        at_work.drop(GOOD + b"%d" % number, f"slow {number}.pdf")
    at_work.drop(GOOD, "poster.pdf", "mill")
    run_once(at_work)
    assert released.is_set()
    assert len(at_work.orders) == 4
    assert (at_work.studio.printer("mill").outbox / "poster.pdf").exists()


def test_a_dropped_folder_is_told_to_people(tmp_path: Path) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))
    (at_work.studio.printer("quay").inbox / "all my posters").mkdir()
    told: list[HeldNotice] = []
    studio = replace(at_work.studio, timing=QUICK)
    Daemon(studio, at_work.desk, ServiceManager({}), threading.Event(), tell_held=told.extend).run(once=True)
    assert [(held.printer, held.name) for held in told] == [("quay", "all my posters")]
    assert "drop its files one by one" in told[0].why
