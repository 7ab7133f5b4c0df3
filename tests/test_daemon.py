"""The daemon's main loop in this process, with a child that tests decide about."""

import logging
import signal
import threading
import time
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from hotfolder import daemon
from hotfolder.config.studio import MARKER
from hotfolder.daemon import Daemon
from hotfolder.desk.studio_view import StudioView, write_view
from hotfolder.errors import DaemonStoppingError, StudioBusyError
from hotfolder.intake import watching
from hotfolder.intake.scanning import Away, Inbox, Listing, scan
from hotfolder.model.jobs import HeldNotice, JobOrder, JobResult
from hotfolder.store.jobs import Step
from hotfolder.store.requests import ReleaseRequest, fetch_answer, lay_request
from tests.daemon_at_work import PATIENCE_S, QUICK, Manager, outbox_of, run_once, run_until, view_of
from tests.studio_at_work import FAULTY, GOOD, AtWork, examine, lay_studio, names_in, tree

# The start.


def test_it_is_ready_when_every_inbox_has_been_scanned(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))
    scanned: list[str] = []

    def slowly(inbox: Inbox) -> Listing | Away:
        if inbox.printer == "mill":
            time.sleep(0.3)
        scanned.append(inbox.folder.name)
        return scan(inbox)

    at_start: list[str] = []
    monkeypatch.setattr(watching, "scan", slowly)
    manager = Manager(lambda: at_start.extend(scanned))
    run_until(at_work, lambda: True, manager=manager)
    assert {"inbox", "cards"} <= set(at_start)
    assert at_start.count("inbox") >= 2
    assert manager.heard[:2] == ["extend 30", "ready"]
    assert manager.heard[-1] == "stopping"


def test_an_inbox_that_never_answers_holds_up_neither_the_start_nor_the_others_and_starves_the_watchdog(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))
    at_work.drop(GOOD, "poster.pdf", "mill")
    answers = threading.Event()

    def hanging(inbox: Inbox) -> Listing | Away:
        if inbox.printer == "quay":
            answers.wait(PATIENCE_S)
        return scan(inbox)

    monkeypatch.setattr(watching, "scan", hanging)
    monkeypatch.setattr(daemon, "_LATE_S", 0.3)
    manager = Manager()
    try:
        run_until(at_work, lambda: outbox_of(at_work, "mill") == ["poster.pdf"], manager=manager)
    finally:
        answers.set()
    assert "ready" in manager.heard
    assert "alive" not in manager.heard


def test_the_watchdog_is_fed_and_told_what_goes_on(tmp_path: Path) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))
    at_work.drop(GOOD)
    manager = Manager()
    run_until(at_work, lambda: "2 printers, 0 waiting, 0 in hand, 1 done" in manager.heard, manager=manager)
    assert "2 printers, 0 waiting, 0 in hand, 0 done" in manager.heard
    assert manager.heard.count("alive") >= 2


# Recovery.


@pytest.mark.parametrize("step", [Step.CLAIMED, Step.COPIED, Step.JUDGED, Step.STAGED, Step.DELIVERED])
def test_a_job_that_lies_in_work_at_the_start_is_brought_to_its_end(
    tmp_path: Path, step: Step, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO, "hotfolder")
    studio = lay_studio(tmp_path / "studio")
    job = AtWork(studio).begin(step)
    at_work = AtWork(studio)
    run_until(at_work, lambda: bool(at_work.notices))
    assert f"job={job} goes on where it was left" in caplog.text
    assert [notice.job for notice in at_work.notices] == [job]
    quay = at_work.studio.printer("quay")
    assert (quay.outbox / "flyer.pdf").read_bytes() == GOOD
    assert tree(quay.work) == []


def test_a_release_that_is_asked_for_while_it_runs_is_carried_out(tmp_path: Path) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))
    job = at_work.bring(FAULTY)
    request = lay_request(at_work.studio.hidden, ReleaseRequest(job, "R. Vale", "agreed by telephone"))
    run_until(at_work, lambda: outbox_of(at_work) == ["flyer.pdf"])
    answer = fetch_answer(request)
    assert answer is not None
    assert not answer.refused


# Fairness.


def test_two_files_that_take_for_ever_do_not_stop_the_other_printers(tmp_path: Path) -> None:
    released = threading.Event()

    def child(order: JobOrder) -> JobResult:
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


# Shares.


def test_a_share_that_is_away_at_the_start_is_served_when_it_comes_back(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    studio = lay_studio(tmp_path / "studio")
    AtWork(studio).begin(Step.COPIED)
    at_work = AtWork(studio)
    at_work.drop(GOOD + b"2", "second.pdf")
    at_work.drop(GOOD, "poster.pdf", "mill")
    quay, aside = at_work.studio.printer("quay"), tmp_path / "not mounted"
    quay.folder.rename(aside)

    def the_others_are_served() -> bool:
        if outbox_of(at_work, "mill") != ["poster.pdf"]:
            return False
        away = {(entry["printer"], entry["product"]) for entry in view_of(at_work).get("away", ())}
        if away != {("quay", None), ("quay", "cards")}:
            return False
        assert not quay.folder.exists()  # nothing is laid where the share will be
        aside.rename(quay.folder)
        return True

    caplog.set_level(logging.INFO, "hotfolder")
    left = run_until(
        at_work, the_others_are_served, lambda: outbox_of(at_work) == ["flyer.pdf", "second.pdf"]
    )
    assert left == ()
    assert "inbox of quay is not available, trying again: cannot be opened" in caplog.text
    assert "inbox of quay is available again" in caplog.text


def test_what_is_left_at_the_end_of_one_round_is_named(tmp_path: Path) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))
    (at_work.studio.printer("mill").inbox / MARKER).unlink()
    (at_work.studio.printer("quay").inbox / "all my posters").mkdir()
    left = run_once(at_work)
    assert [line.split(": ")[:2] for line in left] == [["quay", "all my posters"], ["mill", "not available"]]


# The stop.


@pytest.mark.parametrize("stop_with", [signal.SIGTERM, signal.SIGINT])
def test_what_is_being_measured_at_the_stop_is_finished_and_nothing_more_is_taken(
    tmp_path: Path, stop_with: signal.Signals
) -> None:
    handlers = [signal.getsignal(number) for number in (signal.SIGTERM, signal.SIGINT)]
    begun = threading.Semaphore(0)
    manager = Manager()

    def child(order: JobOrder) -> JobResult:
        begun.release()
        until_s = time.monotonic() + PATIENCE_S
        while "stopping" not in manager.heard and time.monotonic() < until_s:
            time.sleep(0.01)
        time.sleep(0.2)
        return examine(order)

    at_work = AtWork(lay_studio(tmp_path / "studio"), child)
    for number in range(3):
        at_work.drop(GOOD + b"%d" % number, f"{number}.pdf")
    stop_now = threading.Event()
    run_until(
        at_work,
        lambda: begun.acquire(blocking=False),
        lambda: begun.acquire(blocking=False),
        manager=manager,
        stop_now=stop_now,
        stop_with=stop_with,
    )
    assert len(outbox_of(at_work)) == 2
    assert (
        len(names_in(at_work.studio.printer("quay").inbox)) == 2
    )  # the third file, and the product's folder
    assert tree(at_work.studio.printer("quay").work) == []
    assert [signal.getsignal(number) for number in (signal.SIGTERM, signal.SIGINT)] == handlers


def test_what_takes_longer_than_a_stop_may_stays_in_work_for_the_next_start(tmp_path: Path) -> None:
    begun, stop_now = threading.Event(), threading.Event()

    def child(order: JobOrder) -> JobResult:  # noqa: ARG001 - it comes to nothing
        begun.set()
        assert stop_now.wait(PATIENCE_S), "the child was never told to end"
        raise DaemonStoppingError

    studio = lay_studio(tmp_path / "studio")
    at_work = AtWork(studio, child)
    at_work.drop(GOOD)
    began_s = time.monotonic()
    run_until(at_work, begun.is_set, timing=replace(QUICK, stop_s=0.3), stop_now=stop_now)
    assert time.monotonic() - began_s < PATIENCE_S
    assert outbox_of(at_work) == []
    assert any(path.endswith("claimed/flyer.pdf") for path in tree(studio.printer("quay").work))
    run_once(AtWork(studio))
    assert (studio.printer("quay").outbox / "flyer.pdf").read_bytes() == GOOD


def test_a_daemon_whose_studio_another_one_holds_stops(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))

    def lost() -> None:
        raise StudioBusyError("the studio is already watched by another hotfolder")

    studio = replace(at_work.studio, timing=QUICK)
    Daemon(studio, at_work.desk, Manager(), threading.Event(), lost).run(once=False)
    assert "already watched by another hotfolder: this one stops" in caplog.text


# What the daemon tells.


def test_the_status_file_says_what_is_seen_and_goes_with_the_daemon(tmp_path: Path) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))
    inbox = at_work.studio.printer("quay").inbox
    (inbox / "all my posters").mkdir()
    (inbox / "empty.pdf").touch()
    seen: list[dict[str, Any]] = []

    def the_file_waits() -> bool:
        seen[:] = [view_of(at_work)]
        return [entry["why"] for entry in seen[0].get("waiting", ())] == ["empty so far"]

    run_until(at_work, the_file_waits)
    assert [entry["name"] for entry in seen[0]["left"]] == ["all my posters"]
    assert (seen[0]["away"], seen[0]["jobs"]) == ([], [])
    assert view_of(at_work) == {}


def test_a_status_file_that_cannot_be_written_is_told_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))
    at_work.drop(GOOD)
    refused: list[StudioView] = []

    def refuse(hidden: Path, view: StudioView) -> None:
        refused.append(view)
        write_view(hidden / "gone", view)

    monkeypatch.setattr(daemon, "write_view", refuse)
    run_until(at_work, lambda: len(refused) >= 3 and outbox_of(at_work) == ["flyer.pdf"])
    assert caplog.text.count("what 'hotfolder status' shows cannot be written") == 1


def test_a_dropped_folder_is_told_to_people(tmp_path: Path) -> None:
    at_work = AtWork(lay_studio(tmp_path / "studio"))
    (at_work.studio.printer("quay").inbox / "all my posters").mkdir()
    told: list[HeldNotice] = []

    def tell(held: Sequence[HeldNotice]) -> None:
        told.extend(held)

    studio = replace(at_work.studio, timing=QUICK)
    Daemon(studio, at_work.desk, Manager(), threading.Event(), tell_held=tell).run(once=True)
    assert [(held.printer, held.name) for held in told] == [("quay", "all my posters")]
    assert "drop its files one by one" in told[0].why
