"""What a run cost, function by function."""

import cProfile
import os
import pstats
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hotfolder.children.forked import run_forked


@dataclass(frozen=True, slots=True)
class Cost:
    """A function's cost. own_s: what it took itself; whole_s: with all that it called, per caller's name."""

    name: str
    place: str
    calls: int
    own_s: float
    whole_s: dict[str, float]


def profiled_into(folder: Path) -> Callable[[Callable[[], None], int], str | None]:
    """`run_forked`, with a profile of what the forked process did, as a file in `folder`."""

    def run(work: Callable[[], None], seconds: int) -> str | None:
        def profiled() -> None:
            sys.setprofile(None)  # that of the process which forked this one
            profile = cProfile.Profile(time.process_time)
            profile.runcall(work)
            profile.dump_stats(folder / f"{os.getpid()}.profile")

        return run_forked(profiled, seconds)

    return run


def costs_of(work: Callable[[], object], forked: Path | None = None) -> list[Cost]:
    """Runs `work` under the profiler; its functions, those that took most themselves first.

    forked: the folder with profiles of the processes that `work` forks.
    """
    profile = cProfile.Profile(time.process_time)
    profile.enable()
    work()
    profile.disable()
    # By file, line and name: calls, primitive calls, own time, whole time, and the same for each caller.
    # `get_stats_profile` would keep one function only of all that have the same name.
    found: dict[tuple[str, int, str], tuple[int, int, float, float, dict[tuple[str, int, str], Any]]]
    stats = pstats.Stats(profile)
    if forked is not None:
        stats.add(*map(str, forked.glob("*.profile")))
    found = stats.stats  # type: ignore[attr-defined]  # documented nowhere
    costs = [
        Cost(
            name,
            f"{Path(file).name}:{line}" if line else "built in",
            calls,
            own_s,
            {caller[2]: took[3] for caller, took in callers.items()},
        )
        for (file, line, name), (_, calls, own_s, _, callers) in found.items()
    ]
    return sorted(costs, key=lambda cost: -cost.own_s)


def whole_s(costs: list[Cost]) -> float:
    """What the run took in all."""
    return sum(cost.own_s for cost in costs)


def told(costs: list[Cost], most: int) -> str:
    """The costliest functions, a line each."""
    whole = whole_s(costs)
    lines = [
        f"  {cost.own_s / whole:>6.1%}  {cost.name} ({cost.place}), called {cost.calls} times\n"
        for cost in costs[:most]
    ]
    return "".join(lines)
