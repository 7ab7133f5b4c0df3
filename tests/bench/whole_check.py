"""A whole check in a process that is warm, from measuring to the report, against other tools together.

The others: `pdfimages -list`, `pdffonts`, `pdfinfo -box` and Ghostscript's `tiffsep` at 72 ppi, which
together tell pictures, fonts, boxes and plates, and judge nothing.
"""

import statistics
import sys
import tempfile
from functools import partial
from pathlib import Path
from typing import Final

import pytest

from hotfolder.children.orders import ExamineOrder
from hotfolder.model.jobs import FileToExamine
from hotfolder.rulebook import load_rule_set
from hotfolder.workshop import workshop
from hotfolder.workshop.workshop import examine
from tests.bench.profiling import costs_of, profiled_into, told, whole_s
from tests.bench.timing import own_s, program_s
from tests.bench.whole_pieces import Job, write_jobs

TOOLS: Final = ("pdfimages", "pdffonts", "pdfinfo", "gs")
_COSTS: Final = 8
_LEAST_FELT: Final = 0.005


def print_whole_checks(folder: Path, share: float, times: int) -> None:
    """Prints a line for each piece, the median of the ratios, and what costs most."""
    jobs = write_jobs(folder, share)
    write = sys.stdout.write
    check(jobs[0])  # what a warm process has behind it: imports, and profiles once read
    write(f"{'whole check, CPU seconds':<40}{'bytes':>12}{'ours':>8}{'theirs':>8}{'ratio':>7}\n")
    ratios = []
    for job in jobs:
        ours_s, theirs_s = own_s(partial(check, job), times), _theirs_s(job.path, times)
        ratios.append(ours_s / theirs_s)
        write(
            f"{job.what:<40}{job.path.stat().st_size:>12,}{ours_s:>8.2f}{theirs_s:>8.2f}{ratios[-1]:>7.2f}\n"
        )
        sys.stdout.flush()
    write(f"{'median':<68}{statistics.median(ratios):>7.2f}\n")
    _print_costs(jobs)


def check(job: Job) -> int:
    """One whole check; the size of its report with pictures, in bytes."""
    with tempfile.TemporaryDirectory() as folder:
        examine(
            ExamineOrder(
                FileToExamine(job.path, job.path.name, Path(folder)),
                load_rule_set(job.rules),
                with_page=True,
            )
        )
        return max(path.stat().st_size for path in Path(folder).glob("*.html"))


def _theirs_s(path: Path, times: int) -> float:
    with tempfile.TemporaryDirectory() as folder:
        commands = (
            ["pdfimages", "-list", str(path)],
            ["pdffonts", str(path)],
            ["pdfinfo", "-box", "-f", "1", "-l", "9999", str(path)],
            [
                "gs", "-q", "-dBATCH", "-dNOPAUSE", "-dSAFER", "-sDEVICE=tiffsep", "-r72",
                f"-sOutputFile={folder}/page%d.tif", str(path),
            ],
        )  # fmt: skip
        return sum(program_s(command, times) for command in commands)


def _print_costs(jobs: tuple[Job, ...]) -> None:
    """Prints how the time over all pieces is shared by the steps of a check, and the costliest functions."""
    with tempfile.TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as patch:
        patch.setattr(workshop, "run_forked", profiled_into(Path(folder)))
        costs = costs_of(lambda: [check(job) for job in jobs], Path(folder))
    whole = whole_s(costs)
    # Before the fork a step is called by the one, after it by the other.
    callers = (examine.__name__, "_draw_and_report")
    steps = [(sum(cost.whole_s.get(caller, 0.0) for caller in callers), cost.name) for cost in costs]
    sys.stdout.write(f"\nsteps of all whole checks, of {whole:.1f} s under the profiler\n")
    for took_s, name in sorted(steps, reverse=True):
        if took_s > _LEAST_FELT * whole:
            sys.stdout.write(f"  {took_s / whole:>6.1%}  {name}\n")
    sys.stdout.write(f"\nmost costly functions themselves\n{told(costs, _COSTS)}")
