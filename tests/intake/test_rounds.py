"""When one round over all inboxes is over. Time and scans are passed in."""

from pathlib import Path

import pytest

from hotfolder.config.studio import Timing
from hotfolder.intake.rounds import Round
from hotfolder.intake.scanning import Inbox
from hotfolder.intake.settling import SCANS, Waiting
from hotfolder.intake.watching import FolderWatch

TIMING = Timing(scan_s=1.0, quiet_s=5.0)


@pytest.fixture
def folder() -> FolderWatch:
    return FolderWatch(Inbox("quay", None, Path("/studio/quay/inbox")), TIMING)


def test_time_alone_ends_no_round(folder: FolderWatch) -> None:
    one = Round([folder], TIMING, 0.0)
    for now_s in range(0, 500, 10):
        assert not one.is_over(now_s, idle=True), "nothing was listed yet"


def test_a_slow_listing_is_waited_for(folder: FolderWatch) -> None:
    one = Round([folder], TIMING, 0.0)
    for number in range(1, SCANS + 1):
        folder.scans, folder.completed_s = number, number * 20.0
        assert not one.is_over(number * 20.0, idle=True)
    folder.scans, folder.completed_s = SCANS + 1, 100.0
    assert one.is_over(100.0, idle=True)


def test_work_in_hand_begins_the_count_anew(folder: FolderWatch) -> None:
    one = Round([folder], TIMING, 0.0)
    folder.scans = folder.completed_s = 50
    assert not one.is_over(50, idle=False)
    assert not one.is_over(60, idle=True)
    folder.scans = folder.completed_s = 60
    assert not one.is_over(61, idle=True)
    assert one.is_over(70, idle=True)


def test_a_file_that_will_be_judged_in_time_is_waited_for_and_one_without_end_is_not(
    folder: FolderWatch,
) -> None:
    one = Round([folder], TIMING, 0.0)
    folder.waiting = (Waiting("empty.pdf", "empty so far", 3.0, ends=True),)
    for now_s in range(100):
        folder.scans = folder.completed_s = now_s
        assert not one.is_over(now_s, idle=True)
    folder.waiting = (Waiting("growing.pdf", "still arriving", 0.0, ends=False),)
    over = [now_s for now_s in range(100, 120) if advanced(folder, one, now_s)]
    assert over
    assert over[0] <= 110


def advanced(folder: FolderWatch, one: Round, now_s: int) -> bool:
    folder.scans = folder.completed_s = now_s
    return one.is_over(now_s, idle=True)


def test_an_inbox_that_is_never_listed_is_given_up(folder: FolderWatch) -> None:
    one = Round([folder], TIMING, 0.0)
    assert not one.is_over(599.0, idle=True)
    assert not one.is_over(601.0, idle=True)
    assert one.is_over(620.0, idle=True)
