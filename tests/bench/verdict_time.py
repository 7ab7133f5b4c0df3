"""How long a designer waits in a studio at work: from a file that has settled to its verdict in a folder."""

import json
import shutil
import statistics
import sys
import tempfile
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Final

from tests.bench.whole_pieces import write_jobs
from tests.journeys.real_studio import RealStudio, wait_until

_PRINTER: Final = "gullwick"
_RULES: Final = "flyer-offset-coated"
_LONGEST_S: Final = 60.0


def print_verdict_time(share: float, times: int) -> None:
    """Drops an A5 flyer into a real daemon's inbox so many times, one after the other, and tells how long."""
    with tempfile.TemporaryDirectory() as folder:
        flyer = write_jobs(Path(folder), share)[0]
        waits = waits_s(Path(folder), flyer.path, times)
    figures = ", ".join(f"{wait:.2f}" for wait in waits)
    sys.stdout.write(
        f"\nfrom settled to verdict, {flyer.what}: {figures} s; median {statistics.median(waits):.2f} s\n"
    )


def waits_s(folder: Path, artwork: Path, times: int) -> list[float]:
    """Seconds between two lines of each job's audit log: the claim of a settled file, and its delivery."""
    studio = RealStudio(folder / "studio", {_PRINTER: _RULES})
    with studio.running():
        for number in range(times):
            name = f"flyer{number}.pdf"
            shutil.copy(artwork, studio.inbox(_PRINTER) / name)
            if not wait_until(partial(_is_closed, studio, name), _LONGEST_S):
                message = f"{name} was not delivered: {studio.logged()}"
                raise TimeoutError(message)
    logs = sorted(path for path in (studio.root / "audit").rglob("*.jsonl") if path.name != "chain.jsonl")
    return [_wait_s(log) for log in logs]


def _is_closed(studio: RealStudio, name: str) -> bool:
    return name in studio.delivered(_PRINTER) and not studio.in_work(_PRINTER)


def _wait_s(log: Path) -> float:
    lines = [json.loads(line) for line in log.read_text(encoding="utf-8").splitlines()]
    at = {line["event"]: datetime.fromisoformat(line["at"]) for line in lines}
    return (at["delivered"] - at["claimed"]).total_seconds()
