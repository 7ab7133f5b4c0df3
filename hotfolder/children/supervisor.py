"""Child processes with limits: started, watched, and killed where they take too much.

Only a child interprets what somebody dropped. It is forked from a server that has done the
heavy imports already and nothing else, gets limits of memory, time, open files and file size,
and ends itself when its supervisor is gone. Its time is that of the processor: how long a file takes must not
hang on what else the machine does. What it has to say lies in files of its folder;
its exit status is only used for words. The entry is named as text (`hotfolder.workshop.workshop:work`),
so that this process never imports the code that reads artwork.
"""

import contextlib
import importlib
import math
import multiprocessing
import os
import resource
import signal
import sys
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import Enum
from multiprocessing.connection import Connection, wait
from multiprocessing.context import ForkServerContext, SpawnContext
from pathlib import Path
from typing import Final

from hotfolder.children.endings import ProcessorTime, signal_in_words
from hotfolder.config.studio import ChildLimits
from hotfolder.errors import DaemonStoppingError

# Imported once by the fork server: the way from file to report, and the command line, which
# multiprocessing would import anew in every child because it is the parent's main module.
PRELOADED: Final = (
    "hotfolder.workshop.workshop",
    "hotfolder.drawing.preload",
    "hotfolder.report.preload",
    "hotfolder.cli",
)
LOG_NAME: Final = "child.log"
_LOG_TAIL_BYTES: Final = 2000
# A child that waits takes no time of the processor; this many times its limit it may take by the clock.
CLOCK_TIMES: Final = 10
_BESIDE_DATA_BYTES: Final = 1_000_000_000  # of address space: program code, and files that are mapped
_LOOK_S: Final = 0.2  # how often the supervisor looks whether it should stop
_KILL_WAIT_S: Final = 5.0


class Ending(Enum):
    """How a child ended."""

    RETURNED = "returned"
    DIED = "died"
    OVERRAN = "overran"


@dataclass(frozen=True, slots=True)
class Ended:
    """How a child ended, in words for the log, and the tail of what it wrote to its log."""

    ending: Ending
    how: str
    log_tail: str


class Supervisor:
    """Starts children of one entry, any number at once, each watched by the thread that asks.

    `stop_now` ends every child when it is set: `run` then raises `DaemonStoppingError`.
    """

    def __init__(self, limits: ChildLimits, stop_now: threading.Event | None = None) -> None:
        self._limits = limits
        self._stop_now = stop_now or threading.Event()
        self._context = _context()
        self._starting = threading.Lock()

    def run(self, entry: str, order: object, folder: Path, size: int) -> Ended:
        """Run `entry` (`module:function`) with `order` in a child and wait for its end.

        folder: existing; the child's log is written there, and the child may write nowhere else. size:
        how many bytes it has to look through, by which its time is measured out: time of the
        processor, which a machine that is busy with other things does not use up.
        """
        limits = replace(self._limits, seconds=self._limits.seconds_for(size))
        ours, theirs = multiprocessing.Pipe()
        child = self._context.Process(target=_enter, args=(entry, order, folder, limits, theirs), daemon=True)
        with self._starting:  # multiprocessing polls all children when it starts one
            child.start()
        theirs.close()
        try:
            return self._watch(child, folder, limits.seconds)
        finally:
            if child.is_alive():
                _kill_group(child.pid)
                child.join(_KILL_WAIT_S)
            ours.close()

    def _watch(self, child: multiprocessing.process.BaseProcess, folder: Path, seconds: float) -> Ended:
        deadline = time.monotonic() + CLOCK_TIMES * seconds
        while not wait([child.sentinel], _LOOK_S):
            if self._stop_now.is_set():
                raise DaemonStoppingError("stopped while the file was being measured")
            if time.monotonic() > deadline:
                return _overran(f"{CLOCK_TIMES * seconds:g} s", folder)
        child.join(_KILL_WAIT_S)
        status = child.exitcode
        if status == 0:
            return Ended(Ending.RETURNED, "returned", "")
        if status == -signal.SIGXCPU:
            return _overran(f"{_whole(seconds)} s of processor time", folder)
        return Ended(Ending.DIED, _how_it_ended(status), _tail(folder / LOG_NAME))


def _context() -> ForkServerContext | SpawnContext:
    # One job, one thread: the array library would else start a thread for each core in the fork
    # server, and each would take address space out of every child's limit.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    if "forkserver" in multiprocessing.get_all_start_methods():
        context = multiprocessing.get_context("forkserver")
        context.set_forkserver_preload(list(PRELOADED))
        return context
    return multiprocessing.get_context("spawn")


def _overran(time_taken: str, folder: Path) -> Ended:
    return Ended(Ending.OVERRAN, f"took longer than {time_taken}", _tail(folder / LOG_NAME))


def _whole(seconds: float) -> int:
    """Whole seconds, which is what the system counts processor time in."""
    return max(1, math.ceil(seconds))


def _how_it_ended(status: int | None) -> str:
    if status is not None and status < 0:
        return f"was ended by {signal_in_words(-status)}"
    return f"ended with status {status}"


def _tail(log: Path) -> str:
    try:
        with log.open("rb") as file:
            file.seek(max(0, log.stat().st_size - _LOG_TAIL_BYTES))
            return file.read().decode("utf-8", "replace").strip()
    except OSError:
        return ""


def _kill_group(pid: int | None) -> None:
    """Kill the child and whatever it started; it leads a group of its own."""
    if pid is None:
        return
    for kill in (os.killpg, os.kill):  # the group may not exist yet in a child just born
        with contextlib.suppress(ProcessLookupError, PermissionError):
            kill(pid, signal.SIGKILL)


def _enter(entry: str, order: object, folder: Path, limits: ChildLimits, supervisor: Connection) -> None:
    """In the child: put the limits on, then do the work."""
    os.setpgrp()
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the daemon decides what Ctrl-C means
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    _log_to(folder / LOG_NAME)
    _limit(limits)
    _end_with(supervisor)
    module, _, function = entry.partition(":")
    work: Callable[[object], None] = getattr(importlib.import_module(module), function)
    work(order)


def _log_to(log: Path) -> None:
    descriptor = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_APPEND | os.O_CLOEXEC, 0o600)
    sys.stdout.flush()
    sys.stderr.flush()
    os.dup2(descriptor, 1)
    os.dup2(descriptor, 2)
    os.close(descriptor)


def _limit(limits: ChildLimits) -> None:
    ProcessorTime.of(_whole(limits.seconds)).put_on()
    for kind, most in (
        (resource.RLIMIT_CORE, 0),
        (resource.RLIMIT_DATA, limits.memory_bytes),
        (resource.RLIMIT_AS, limits.memory_bytes + _BESIDE_DATA_BYTES),
        (resource.RLIMIT_FSIZE, limits.file_bytes),
        (resource.RLIMIT_NOFILE, limits.open_files),
    ):
        _, hard = resource.getrlimit(kind)
        most_here = most if hard == resource.RLIM_INFINITY else min(most, hard)
        resource.setrlimit(kind, (most_here, most_here))


def _end_with(supervisor: Connection) -> None:
    """End this process when the supervisor's end of the pipe closes, however it ended."""

    def watch() -> None:
        with contextlib.suppress(EOFError, OSError):
            supervisor.recv_bytes()
        os._exit(1)

    threading.Thread(target=watch, daemon=True).start()
