"""The daemon's main loop in this process, with a child that tests decide about."""

import threading
from dataclasses import replace
from pathlib import Path

import pytest

from hotfolder.daemon import Daemon
from hotfolder.errors import StudioBusy
from hotfolder.orders import JobId
from hotfolder.service import ServiceManager
from hotfolder.studio import Timing
from tests.studio_at_work import GOOD, AtWork, lay_studio

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
        raise StudioBusy("the studio is in the hands of another hotfolder")

    studio = replace(at_work.studio, timing=QUICK)
    Daemon(studio, at_work.desk, ServiceManager({}), threading.Event(), lost).run(once=False)
    assert "in the hands of another hotfolder: this one stops" in caplog.text
