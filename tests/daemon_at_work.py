"""A daemon at work in this process, with a child that tests decide about."""

import json
import signal
import threading
import time
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from hotfolder.config.studio import Timing
from hotfolder.daemon import Daemon
from hotfolder.desk.studio_view import VIEW_FILE
from hotfolder.errors import StudioBusyError
from hotfolder.host.systemd import ServiceManager
from tests.studio_at_work import AtWork, names_in

QUICK = Timing(scan_s=0.2, quiet_s=0.2, stop_s=5)
PATIENCE_S = 20.0


class Manager(ServiceManager):
    """A service manager that keeps what it is told, and the moment as well where a test asks for it.

    Its watchdog wants to be fed every 0.1 seconds.
    """

    def __init__(self, at_ready: Callable[[], None] = lambda: None) -> None:
        super().__init__({})
        self.watchdog_interval_s = 0.1
        self.heard: list[str] = []
        self._at_ready = at_ready

    def ready(self) -> None:
        self.heard.append("ready")
        self._at_ready()

    def status(self, text: str) -> None:
        self.heard.append(text)

    def alive(self) -> None:
        self.heard.append("alive")

    def stopping(self) -> None:
        self.heard.append("stopping")

    def extend(self, seconds: float) -> None:
        self.heard.append(f"extend {seconds:g}")


def run_once(at_work: AtWork, manager: ServiceManager | None = None) -> tuple[str, ...]:
    studio = replace(at_work.studio, timing=QUICK)
    return Daemon(studio, at_work.desk, manager or Manager(), threading.Event()).run(once=True)


def run_until(
    at_work: AtWork,
    *conditions: Callable[[], bool],
    timing: Timing = QUICK,
    manager: ServiceManager | None = None,
    stop_now: threading.Event | None = None,
    stop_with: signal.Signals = signal.SIGTERM,
) -> tuple[str, ...]:
    """Run until each condition in turn has come about, then stop it as a service manager or a terminal does.

    They are asked by the main loop itself, one a turn, so nothing runs beside the daemon but its own threads.
    """
    ahead = list(conditions)
    give_up_s = time.monotonic() + PATIENCE_S

    def each_turn() -> None:
        if ahead and ahead[0]():
            del ahead[0]
        if not ahead:
            signal.raise_signal(stop_with)
        elif time.monotonic() > give_up_s:
            raise StudioBusyError("it never came about")  # the one error that ends the loop

    studio = replace(at_work.studio, timing=timing)
    running = Daemon(studio, at_work.desk, manager or Manager(), stop_now or threading.Event(), each_turn)
    left = running.run(once=False)
    assert not ahead, "it never came about"
    return left


def view_of(at_work: AtWork) -> dict[str, Any]:
    """The status file, empty where there is none."""
    path = at_work.studio.hidden / VIEW_FILE
    content: dict[str, Any] = json.loads(path.read_bytes()) if path.exists() else {}
    return content


def outbox_of(at_work: AtWork, printer: str = "quay") -> list[str]:
    names = names_in(at_work.studio.printer(printer).outbox)
    return [name for name in names if name.endswith(".pdf")]
