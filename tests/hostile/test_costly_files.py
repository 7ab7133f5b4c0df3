"""A small file that is made to cost ends at a limit of ours, with a sentence that names it.

Twenty seconds of the processor and a gigabyte are what the examination of any file may take: figures of this
project, well within the child's own limits, which end a file without any judgement.
"""

import json
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.hostile.costly_files import LONG, SOON_OVER, Costly

MOST_CPU_S = 20
MOST_BYTES = 1_000_000_000
SMALL_BYTES = 200_000


@dataclass(frozen=True)
class Taken:
    cpu_s: float
    memory_bytes: int
    told: str


def examined(path: Path, folder: Path) -> Taken:
    """What the examination of a file takes, and all that its report says."""
    command = [sys.executable, "-m", "tests.hostile.examine", str(path), str(folder)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    seconds, memory = done.stdout.split()
    report = json.loads((folder / "report.json").read_text())
    told = [item.get("message") or item["reason"] for item in report["findings"] + report["unjudged"]]
    assert report["verdict"] == "needs-fixing"
    return Taken(float(seconds), int(memory), "\n".join(told))


def judged_within_its_limits(costly: Costly, folder: Path) -> None:
    make, sentence = costly
    path, left = folder / "costly.pdf", folder / "left"
    path.write_bytes(make())
    left.mkdir()
    assert path.stat().st_size < SMALL_BYTES
    taken = examined(path, left)
    assert sentence in taken.told
    assert taken.cpu_s < MOST_CPU_S
    assert taken.memory_bytes < MOST_BYTES


@pytest.mark.parametrize("costly", SOON_OVER.values(), ids=SOON_OVER.keys())
def test_a_small_file_with_too_much_of_something_is_judged_within_its_limits(
    tmp_path: Path, costly: Costly
) -> None:
    judged_within_its_limits(costly, tmp_path)


@pytest.mark.slow
@pytest.mark.parametrize("costly", LONG.values(), ids=LONG.keys())
def test_a_small_file_that_keeps_the_processor_busy_is_judged_within_its_limits(
    tmp_path: Path, costly: Costly
) -> None:
    judged_within_its_limits(costly, tmp_path)
