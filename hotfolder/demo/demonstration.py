"""`hotfolder demo`: the studio of an invented festival, artwork made by code, the real daemon at work on it.

What is shown is read from the folders, the reports and the audit log, as anybody could. Each piece
says beforehand what is to come of it; the demonstration fails where something else comes.
"""

import contextlib
import io
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Final

import hotfolder
from hotfolder.commands.audit import AuditResult, audit_studio
from hotfolder.demo.artwork.pieces import pieces
from hotfolder.demo.day import OVER, DemoDay
from hotfolder.demo.result import PieceResult, result_of
from hotfolder.demo.screen import DemoScreen
from hotfolder.demo.studio import demo_folder, lay_demo_studio
from hotfolder.wording.shown import shown_name

DAEMON_LOG: Final = "daemon.log"
AS_EXPECTED: Final = 0
NOT_AS_EXPECTED: Final = 3
_PATIENCE_S: Final = 120.0
_LOOK_S: Final = 0.1
_STOP_S: Final = 30.0


def run_demo(folder: Path | None) -> int:
    """Show a day of a studio in `folder`, or in a new one here: 0, or 3 where something came otherwise.

    UsageError where `folder` is not empty.
    """
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="backslashreplace")  # not every terminal can show every name
    root = demo_folder(folder)
    studio, dropped = lay_demo_studio(root), pieces()
    day, screen = DemoDay(studio, dropped), DemoScreen(studio)
    screen.begin(dropped)
    with _daemon(root) as daemon, screen.board():
        _follow(day, screen, daemon)
        status = _stop(daemon)
    closed = day.closed()
    results = [result_of(studio, piece, closed.get(piece)) for piece in dropped]
    record = audit_studio(root)
    troubles = list(_troubles(results, record, status))
    screen.end(results, record.lines, troubles)
    return NOT_AS_EXPECTED if troubles else AS_EXPECTED


@contextmanager
def _daemon(root: Path) -> Iterator[subprocess.Popen[bytes]]:
    """The daemon as a process of its own; it is killed where it was not stopped."""
    # From the folder of the package, so that it runs the same code as this process does.
    package = Path(hotfolder.__file__).parent.parent
    command = [sys.executable, "-m", "hotfolder", "run", str(root)]
    with (root / DAEMON_LOG).open("wb") as log:
        daemon = subprocess.Popen(command, cwd=package, stdin=subprocess.DEVNULL, stdout=log, stderr=log)  # noqa: S603 - our own program
    try:
        yield daemon
    finally:
        if daemon.poll() is None:
            daemon.kill()
            daemon.wait()


def _follow(day: DemoDay, screen: DemoScreen, daemon: subprocess.Popen[bytes]) -> None:
    """Show how the pieces go on, until all came to their end, the daemon died, or patience did."""
    until_s = time.monotonic() + _PATIENCE_S
    day.begin()
    with contextlib.closing(day):
        while daemon.poll() is None and time.monotonic() < until_s:
            stages = day.look()
            screen.show(stages)
            if OVER.issuperset(stages.values()):
                return
            time.sleep(_LOOK_S)


def _stop(daemon: subprocess.Popen[bytes]) -> int | None:
    """Tell the daemon to stop, as a service manager does: its exit code; None where it does not end."""
    daemon.send_signal(signal.SIGTERM)
    with contextlib.suppress(subprocess.TimeoutExpired):
        return daemon.wait(_STOP_S)
    return None


def _troubles(results: Sequence[PieceResult], record: AuditResult, status: int | None) -> Iterator[str]:
    for result in results:
        if result.differs:
            yield shown_name(f"{result.piece.inbox}/{result.piece.name}: {result.differs}")
    if record.exit_code != 0:
        yield "the audit log is damaged"
    if status != 0:
        how = "did not stop" if status is None else f"ended with status {status}"
        yield f"the daemon {how}; {DAEMON_LOG} in the studio says more"
