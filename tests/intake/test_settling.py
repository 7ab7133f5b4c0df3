"""When a file in an inbox counts as whole. Time is passed in, never waited for."""

from dataclasses import replace
from pathlib import Path

import pytest

from hotfolder.config.studio import Timing
from hotfolder.intake.scanning import Inbox, Listing, SeenFile
from hotfolder.intake.settling import Settling
from hotfolder.intake.unfinished import Unfinished

TIMING = Timing(scan_s=1.0, quiet_s=5.0, empty_s=600.0, unreadable_s=60.0)
FLYER = SeenFile("flyer.pdf", 1, 42, 1000, 7, 7, readable=True)


@pytest.fixture
def settling() -> Settling:
    return Settling(Inbox("quay", None, Path("/studio/quay/inbox")), TIMING)


def names(settling: Settling, now_s: float, *files: SeenFile) -> list[str]:
    settled, _ = settling.observe(Listing(files, ()), now_s)
    return [candidate.name for candidate in settled]


def test_a_file_that_stays_the_same_settles_after_the_quiet_time(settling: Settling) -> None:
    assert [names(settling, now_s, FLYER) for now_s in (0, 2, 4, 5)] == [[], [], [], ["flyer.pdf"]]


def test_two_looks_are_never_enough_however_far_apart(settling: Settling) -> None:
    assert [names(settling, now_s, FLYER) for now_s in (0, 100, 200)] == [[], [], ["flyer.pdf"]]


@pytest.mark.parametrize(
    "changed",
    [
        replace(FLYER, size=2000),
        replace(FLYER, mtime_ns=8),
        replace(FLYER, ctime_ns=8),
        replace(FLYER, inode=43),
    ],
)
def test_any_change_starts_the_wait_anew(settling: Settling, changed: SeenFile) -> None:
    for now_s in (0, 1, 2, 3, 4):
        names(settling, now_s, FLYER)
    assert [names(settling, now_s, changed) for now_s in (5, 6, 9, 10)] == [[], [], [], ["flyer.pdf"]]


def test_a_growing_file_is_waited_for_without_end(settling: Settling) -> None:
    for now_s in range(10_000):
        assert names(settling, now_s, replace(FLYER, size=now_s)) == []


def test_an_empty_file_waits_ten_minutes(settling: Settling) -> None:
    empty = replace(FLYER, size=0)
    assert [names(settling, now_s, empty) for now_s in (0, 10, 599, 600)] == [[], [], [], ["flyer.pdf"]]


def test_a_file_that_may_not_be_read_waits_for_its_rights(settling: Settling) -> None:
    locked = replace(FLYER, readable=False)
    times = (0, 10, 59, 60)
    assert [names(settling, now_s, locked) for now_s in times] == [[], [], [], ["flyer.pdf"]]


def test_a_file_that_vanished_starts_anew_when_it_returns(settling: Settling) -> None:
    for now_s in (0, 1, 2, 3, 4):
        names(settling, now_s, FLYER)
    names(settling, 5)
    assert names(settling, 6, FLYER) == []


@pytest.mark.parametrize("held", [True, False])
def test_what_is_unfinished_waits_longer_and_what_is_open_for_writing_without_end(held: bool) -> None:  # noqa: FBT001 - pytest passes by name
    timing = replace(TIMING, unfinished_s=120.0)
    asked: list[Path] = []

    def ask(path: Path) -> Unfinished:
        asked.append(path)
        return Unfinished(held, "not whole yet: the end marker of a PDF is missing")

    settling = Settling(Inbox("quay", None, Path("/studio/quay/inbox")), timing, ask)
    assert [names(settling, now_s, FLYER) for now_s in (0, 2, 4)] == [[], [], []]
    assert asked == []  # nothing is opened before it is quiet
    settled, (waiting,) = settling.observe(Listing((FLYER,), ()), 119)
    assert (settled, waiting.ends) == ([], not held)
    assert waiting.why.startswith("not whole yet")
    assert asked == [Path("/studio/quay/inbox/flyer.pdf")]
    assert names(settling, 120, FLYER) == ([] if held else ["flyer.pdf"])
    assert names(settling, 10_000, FLYER) == ([] if held else ["flyer.pdf"])


def test_files_settle_each_in_its_own_time(settling: Settling) -> None:
    other = replace(FLYER, name="poster.pdf", inode=43)
    for now_s in (0, 1, 2):
        names(settling, now_s, FLYER)
    names(settling, 3, FLYER, other)
    assert names(settling, 5, FLYER, other) == ["flyer.pdf"]
    assert names(settling, 8, FLYER, other) == ["flyer.pdf", "poster.pdf"]
