"""CPU time, of this process and of the programs that it starts."""

import resource
import subprocess
import time
from collections.abc import Callable
from pathlib import Path
from typing import Final

_TIMES: Final = 3  # the best of so many is told: what others do on the machine only adds

# Together they tell about what measuring tells: pictures, fonts, boxes, and where text stands.
POPPLER: Final = (
    ("pdfimages", "-list", "{file}"),
    ("pdffonts", "{file}"),
    ("pdfinfo", "-box", "-f", "1", "-l", "999999", "{file}"),
    ("pdftotext", "-bbox", "{file}", "-"),
)


def own_s(work: Callable[[], object], times: int = _TIMES) -> float:
    """The least CPU time, in seconds, that `work` took here and in processes that it started."""
    return min(_once(work) for _ in range(times))


def _once(work: Callable[[], object]) -> float:
    began = _taken_s()
    work()
    return _taken_s() - began


def _taken_s() -> float:
    others = resource.getrusage(resource.RUSAGE_CHILDREN)
    return time.process_time() + others.ru_utime + others.ru_stime


def poppler_s(path: Path, times: int = _TIMES) -> float:
    """The least CPU time, in seconds, that poppler's four tools took together for a file."""
    return min(
        sum(_program_s([part.format(file=path) for part in tool]) for tool in POPPLER) for _ in range(times)
    )


def program_s(command: list[str], times: int = _TIMES) -> float:
    """The least CPU time, in seconds, that a program took."""
    return min(_program_s(command) for _ in range(times))


def _program_s(command: list[str]) -> float:
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
