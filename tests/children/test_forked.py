"""Work in a process of its own: what ends it is told in words, and ends nothing else."""

import faulthandler
import os
import signal
from collections.abc import Callable
from pathlib import Path

import pytest

from hotfolder.children.forked import run_forked


def for_ever() -> None:
    while True:
        pass


def out_of_memory() -> None:
    raise MemoryError


def crash() -> None:
    faulthandler.disable()  # a crash that is meant is not worth a page of the test log
    os.kill(os.getpid(), signal.SIGSEGV)


def killed() -> None:
    os.kill(os.getpid(), signal.SIGKILL)


def end_by_a_signal_without_a_name() -> None:
    os.kill(os.getpid(), 40)  # one of those for real time, of which only the first and the last are named


def fault() -> None:
    raise ValueError("no such thing")


def test_work_that_returns_leaves_its_files_and_nothing_in_this_process(tmp_path: Path) -> None:
    changed: list[int] = []

    def work() -> None:
        changed.append(1)
        (tmp_path / "pid").write_text(str(os.getpid()))

    assert run_forked(work, 5) is None
    assert int((tmp_path / "pid").read_text()) != os.getpid()
    assert changed == []


@pytest.mark.parametrize(
    ("work", "words"),
    [
        (for_ever, "it took more than 1 s of processor time"),
        (out_of_memory, "it took more memory than there may be"),
        (crash, "it ended by SIGSEGV"),
        (killed, "it ended by SIGKILL, which the system sends where memory runs short"),
        (end_by_a_signal_without_a_name, "it ended by signal 40"),
        (fault, "it ended with status 1"),
    ],
)
def test_work_that_ends_before_its_time_is_told_why(work: Callable[[], None], words: str) -> None:
    assert run_forked(work, 1) == words


def test_time_that_is_up_is_told_where_a_process_above_ignores_its_signal() -> None:
    before = signal.signal(signal.SIGXCPU, signal.SIG_IGN)
    try:
        assert run_forked(for_ever, 1) == "it took more than 1 s of processor time"
    finally:
        signal.signal(signal.SIGXCPU, before)


def test_a_lower_limit_of_the_process_above_is_told(tmp_path: Path) -> None:
    """At its higher limit, 3 s, the system kills; a second before, the time of the process in it is up."""

    def work() -> None:
        (tmp_path / "told").write_text(run_forked(for_ever, 100) or "")

    assert run_forked(work, 1) is None
    assert (tmp_path / "told").read_text() == "it took more than 2 s of processor time"
