"""A child has limits, its end is told in words, and it never outlives its supervisor."""

import errno
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from hotfolder.children.supervisor import Ending, Supervisor
from hotfolder.config.studio import ChildLimits
from hotfolder.errors import DaemonStoppingError

LARGE = 10**9  # bytes: the whole time there is
LIMITS = ChildLimits(seconds=20.0, memory_bytes=2_000_000_000, open_files=64, file_bytes=10_000_000)


def wait_until(true: Callable[[], bool], seconds: float = 15.0) -> bool:
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        if true():
            return True
        time.sleep(0.02)
    return False


def alive(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except FileNotFoundError:
        return False


def run(entry: str, folder: Path, limits: ChildLimits = LIMITS) -> tuple[Ending, str, str]:
    ended = Supervisor(limits).run(f"tests.child_entries:{entry}", folder / "out", folder, LARGE)
    return ended.ending, ended.how, ended.log_tail


def test_a_child_does_its_work_in_a_process_group_of_its_own(tmp_path: Path) -> None:
    assert run("write_and_return", tmp_path)[0] is Ending.RETURNED
    pid, group = map(int, (tmp_path / "out").read_text().split())
    assert pid == group != os.getpgrp()


def test_an_exception_ends_the_child_and_its_traceback_is_kept(tmp_path: Path) -> None:
    ending, how, log = run("say_and_raise", tmp_path)
    assert (ending, how) == (Ending.DIED, "ended with status 1")
    assert "about to fail over out" in log
    assert "ValueError: no such thing" in log


def test_a_killed_child_is_told_by_its_signal(tmp_path: Path) -> None:
    ending, how, _ = run("kill_itself", tmp_path)
    assert ending is Ending.DIED
    words = "was ended by SIGKILL, which the system sends where memory runs short"
    assert how in {words, "ended with status 255"}
    assert (tmp_path / "out").read_text() == "begun"


def test_the_next_child_runs_after_one_was_killed(tmp_path: Path) -> None:
    supervisor = Supervisor(LIMITS)
    supervisor.run("tests.child_entries:kill_itself", tmp_path / "a", tmp_path, LARGE)
    ended = supervisor.run("tests.child_entries:write_and_return", tmp_path / "b", tmp_path, LARGE)
    assert ended.ending is Ending.RETURNED


def test_a_child_that_overruns_is_killed(tmp_path: Path) -> None:
    limits = replace(LIMITS, seconds=0.2)
    ending, how, _ = run("sleep_long", tmp_path, limits)
    assert (ending, how) == (Ending.OVERRAN, "took longer than 2 s")
    pid = int((tmp_path / "out").read_text())
    assert wait_until(lambda: not alive(pid))


def test_a_child_that_takes_too_much_of_the_processor_is_ended(tmp_path: Path) -> None:
    ending, how, _ = run("work_without_end", tmp_path, replace(LIMITS, seconds=1.7))
    assert (ending, how) == (Ending.OVERRAN, "took longer than 2 s of processor time")


def test_a_machine_that_is_busy_with_other_things_takes_no_time_from_a_child(tmp_path: Path) -> None:
    """The child gets a fourth of the time that goes by, as on a machine with four times too much to do."""
    limits = replace(LIMITS, seconds=1.0)
    ending, how, _ = run("work_a_fourth_of_two_seconds", tmp_path, limits)
    assert (ending, how) == (Ending.RETURNED, "returned")
    assert float((tmp_path / "out").read_text()) > limits.seconds


def test_memory_is_limited(tmp_path: Path) -> None:
    run("take_memory", tmp_path)
    assert (tmp_path / "out").read_text() == "refused"


def test_the_size_of_files_is_limited(tmp_path: Path) -> None:
    run("write_much", tmp_path)
    assert (tmp_path / "out.refused").read_text() == str(errno.EFBIG)


def test_stopping_ends_the_child_and_is_told_apart_from_its_death(tmp_path: Path) -> None:
    stop_now = threading.Event()
    supervisor = Supervisor(LIMITS, stop_now)
    threading.Timer(0.5, stop_now.set).start()
    with pytest.raises(DaemonStoppingError):
        supervisor.run("tests.child_entries:sleep_long", tmp_path / "out", tmp_path, LARGE)


def test_a_child_ends_itself_when_its_supervisor_is_killed(tmp_path: Path) -> None:
    code = (
        "from pathlib import Path; from hotfolder.children.supervisor import Supervisor; "
        "from tests.children.test_supervisor import LARGE, LIMITS; import sys; folder = Path(sys.argv[1]); "
        "Supervisor(LIMITS).run('tests.child_entries:sleep_long', folder / 'out', folder, LARGE)"
    )
    parent = subprocess.Popen([sys.executable, "-c", code, str(tmp_path)])
    out = tmp_path / "out"
    assert wait_until(lambda: out.exists() and out.read_text() != "")
    child = int(out.read_text())
    assert alive(child)
    parent.send_signal(signal.SIGKILL)
    parent.wait(10)
    assert wait_until(lambda: not alive(child))


def test_several_threads_may_each_watch_a_child(tmp_path: Path) -> None:
    supervisor = Supervisor(LIMITS)
    endings: list[Ending] = []

    def one(number: int) -> None:
        out = tmp_path / str(number)
        endings.append(supervisor.run("tests.child_entries:write_and_return", out, tmp_path, LARGE).ending)

    threads = [threading.Thread(target=one, args=(number,)) for number in range(12)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(30)
    assert [ending for ending in endings if ending is Ending.RETURNED] == endings
    assert len(endings) == 12
