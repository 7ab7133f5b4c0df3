"""Work is handed out fairly over printers, once at a time, and refused work waits."""

from pathlib import Path

from hotfolder.desk.dispatch import FIRST_PAUSE_S, Dispatch, WaitingJob
from hotfolder.intake.candidate import Candidate
from hotfolder.model.jobs import JobId


def candidate(printer: str, number: int) -> Candidate:
    return Candidate(printer, None, Path("/studio") / printer / "inbox", f"{number}.pdf", 1, number, 10, 0)


def taken(dispatch: Dispatch, count: int, now_s: float = 0.0) -> list[str]:
    found = []
    for _ in range(count):
        work = dispatch.next(now_s, 0.0)
        if work is None:
            break
        found.append(f"{work.printer}/{work.name if isinstance(work, Candidate) else work.job}")
    return found


def test_a_printer_with_many_files_does_not_hold_up_the_others() -> None:
    dispatch = Dispatch()
    for number in range(1000):
        dispatch.offer(candidate("quay", number))
    dispatch.offer(candidate("mill", 1))
    assert taken(dispatch, 3) == ["quay/0.pdf", "mill/1.pdf", "quay/1.pdf"]


def test_what_is_in_hand_is_not_handed_out_again() -> None:
    dispatch = Dispatch()
    work = candidate("quay", 1)
    for _ in range(2):
        dispatch.offer(work)
    assert taken(dispatch, 2) == ["quay/1.pdf"]
    dispatch.offer(work)
    assert taken(dispatch, 1) == []
    dispatch.done(work)
    dispatch.offer(work)
    assert taken(dispatch, 1) == ["quay/1.pdf"]


def test_refused_work_is_tried_again_after_a_pause_that_doubles_and_is_told_once() -> None:
    dispatch = Dispatch()
    work = WaitingJob("quay", JobId("j1"))
    dispatch.offer(work)
    assert taken(dispatch, 1) == ["quay/j1"]
    assert dispatch.pause(work, 0.0) is True
    assert taken(dispatch, 1, FIRST_PAUSE_S - 1) == []
    assert taken(dispatch, 1, FIRST_PAUSE_S) == ["quay/j1"]
    assert dispatch.pause(work, FIRST_PAUSE_S) is False
    assert taken(dispatch, 1, FIRST_PAUSE_S * 2.5) == []
    assert taken(dispatch, 1, FIRST_PAUSE_S * 3) == ["quay/j1"]


def test_a_paused_job_does_not_hold_up_the_rest_of_its_printer() -> None:
    dispatch = Dispatch()
    work = candidate("quay", 1)
    dispatch.offer(work)
    taken(dispatch, 1)
    dispatch.pause(work, 0.0)
    dispatch.offer(candidate("quay", 2))
    assert taken(dispatch, 2) == ["quay/2.pdf"]


def test_a_file_that_the_scan_no_longer_sees_is_forgotten() -> None:
    dispatch = Dispatch()
    dispatch.offer(candidate("quay", 1))
    dispatch.offer(candidate("quay", 2))
    dispatch.keep_only("quay", None, [candidate("quay", 2)])
    assert taken(dispatch, 2) == ["quay/2.pdf"]


def test_closed_hands_out_nothing() -> None:
    dispatch = Dispatch()
    dispatch.offer(candidate("quay", 1))
    dispatch.close()
    assert taken(dispatch, 1) == []


def test_idle_means_nothing_waits_and_nothing_is_in_hand() -> None:
    dispatch = Dispatch()
    work = candidate("quay", 1)
    idle = [dispatch.idle]
    dispatch.offer(work)
    idle.append(dispatch.idle)
    taken(dispatch, 1)
    idle.append(dispatch.idle)
    dispatch.done(work)
    idle.append(dispatch.idle)
    assert idle == [True, False, False, True]


def test_one_printer_never_holds_every_worker() -> None:
    dispatch = Dispatch(most_each=2)
    slow = [candidate("quay", number) for number in range(3)]
    for work in slow:
        dispatch.offer(work)
    assert taken(dispatch, 3) == ["quay/0.pdf", "quay/1.pdf"]
    dispatch.offer(candidate("mill", 1))
    assert taken(dispatch, 3) == ["mill/1.pdf"]
    dispatch.done(slow[0])
    assert taken(dispatch, 3) == ["quay/2.pdf"]
