"""What systemd is told: that we are ready, what we do, that we are alive, that we stop.

Source: systemd's sd_notify(3) and sd_watchdog_enabled(3): one datagram of `KEY=VALUE` lines to
the socket that `NOTIFY_SOCKET` names. Without that variable nothing is sent, and nothing fails.
"""

import logging
import os
import socket
from collections.abc import Mapping
from typing import Final

from hotfolder.wording.shown import shown_name

logger = logging.getLogger(__name__)

_SEND_S: Final = 2.0  # a manager that does not read must not stop us from working


class ServiceManager:
    """The service manager that started us, if there is one.

    watchdog_interval_s: how often `alive` must be called, half of what systemd allows;
    None where nobody watches.
    """

    def __init__(self, environ: Mapping[str, str] = os.environ) -> None:
        self._address = _address(environ.get("NOTIFY_SOCKET", ""))
        self.watchdog_interval_s = _watchdog_interval_s(environ)

    def ready(self) -> None:
        """Say that the start is over: the inboxes have been scanned once."""
        self._send("READY=1")

    def status(self, text: str) -> None:
        """Say in one line what goes on, for `systemctl status`."""
        self._send(f"STATUS={shown_name(text)}")

    def alive(self) -> None:
        """Feed the watchdog. Call this for work that was done, never from a mere timer."""
        self._send("WATCHDOG=1")

    def stopping(self) -> None:
        """Say that the stop has begun."""
        self._send("STOPPING=1")

    def extend(self, seconds: float) -> None:
        """Ask for `seconds` more, from now, to start or to stop; for a long recovery."""
        self._send(f"EXTEND_TIMEOUT_USEC={round(seconds * 1_000_000)}")

    def _send(self, message: str) -> None:
        if not self._address:
            return
        try:
            with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as channel:
                channel.settimeout(_SEND_S)
                channel.sendto(message.encode(), self._address)
        except OSError as trouble:
            logger.warning("the service manager could not be told: %s", trouble)


def _address(notify_socket: str) -> str:
    """The socket's address; empty for none, and for the kinds that only virtual machines have."""
    if notify_socket.startswith("@"):
        return f"\0{notify_socket[1:]}"
    return notify_socket if notify_socket.startswith("/") else ""


def _watchdog_interval_s(environ: Mapping[str, str]) -> float | None:
    limit = environ.get("WATCHDOG_USEC", "")
    watched = environ.get("WATCHDOG_PID", str(os.getpid()))
    if not limit.isdecimal() or int(limit) == 0 or watched != str(os.getpid()):
        return None
    return int(limit) / 2 / 1_000_000
