"""The desktop's notifications, as the Desktop Notifications Specification 1.2 has them.

Source: specifications.freedesktop.org, Desktop Notifications Specification 1.2 (methods, hints,
markup), and the D-Bus Specification (session bus address).

Nobody may be at the desk, or the desk may be another machine: then one line goes to the log, and
a later notice tries again. Two seconds are the limit for all that one notification takes, since a
bus may accept a connection and then say nothing.
"""

import html
import logging
import os
import time
from collections.abc import Callable, Mapping
from typing import Any, Final

from jeepney import DBusAddress, DBusErrorResponse, HeaderFields, Message, new_method_call
from jeepney.bus import get_bus
from jeepney.io.blocking import DBusConnection, prep_socket
from jeepney.wrappers import unwrap_msg

from hotfolder.host.notices import Announcement
from hotfolder.model.findings import Verdict

logger = logging.getLogger(__name__)

_SERVER: Final = DBusAddress(
    "/org/freedesktop/Notifications",
    bus_name="org.freedesktop.Notifications",
    interface="org.freedesktop.Notifications",
)
_APP_NAME: Final = "hotfolder"
_NORMAL: Final = 1  # urgency; critical ones break into presentations, and no artwork is worth that
_CATEGORIES: Final = {Verdict.READY: "transfer.complete", Verdict.NEEDS_FIXING: "transfer.error"}
_SERVER_DECIDES: Final = -1  # how long it is shown
_NEW: Final = 0
_LIMIT_S: Final = 2.0
_RETRY_S: Final = 60.0

# What a bus, a server or their absence can do to us: sockets and time limits are OSErrors,
# addresses and answers out of shape ValueErrors, an unknown transport is a RuntimeError.
_TROUBLES: Final = (OSError, ValueError, RuntimeError, DBusErrorResponse)


class Desktop:
    """The desktop of whoever runs this program; a `notices.Sender`."""

    def __init__(
        self, environ: Mapping[str, str] = os.environ, clock: Callable[[], float] = time.monotonic
    ) -> None:
        self._environ = environ
        self._clock = clock
        self._bus: _Bus | None = None
        self._server = ""  # the unique bus name of the server that gave the last number
        self._quiet_until: float | None = None

    def show(self, announcement: Announcement, replaces: int) -> int:
        """Show it in the place of notification `replaces`; return its number, 0 if nobody shows it."""
        if self._quiet_until is not None and self._clock() < self._quiet_until:
            return _NEW
        deadline = time.monotonic() + _LIMIT_S
        try:
            number = self._show(announcement, replaces, deadline)
        except _TROUBLES as trouble:
            self.close()
            if self._quiet_until is None:
                logger.warning(
                    "no desktop notifications (%s); files, reports and the audit log work as usual",
                    _in_words(trouble),
                )
            self._quiet_until = self._clock() + _RETRY_S
            return _NEW
        if self._quiet_until is not None:
            logger.info("desktop notifications are shown again")
            self._quiet_until = None
        return number

    def close(self) -> None:
        """Leave the bus; the next `show` connects anew."""
        if self._bus is not None:
            self._bus.close()
            self._bus = None

    def _show(self, announcement: Announcement, replaces: int, deadline: float) -> int:
        try:
            return self._notify(announcement, replaces, deadline)
        except ConnectionError:
            # The bus went away since the last notice, as it does at the end of a session.
            if self._bus is None:
                raise
            self.close()
            return self._notify(announcement, replaces, deadline)

    def _notify(self, announcement: Announcement, replaces: int, deadline: float) -> int:
        if self._bus is None:
            self._bus = _Bus(_session_bus(self._environ), deadline)
        answer = self._bus.ask(new_method_call(_SERVER, "GetCapabilities"), deadline)
        server = str(answer.header.fields.get(HeaderFields.sender, ""))
        if server != self._server:
            replaces = _NEW  # the number was another server's, and may be another program's now
            self._server = server
        (capabilities,) = answer.body
        answer = self._bus.ask(_notification(announcement, replaces, frozenset(capabilities)), deadline)
        (number,) = answer.body
        return int(number)


def _notification(announcement: Announcement, replaces: int, capabilities: frozenset[str]) -> Message:
    hints = {
        "urgency": ("y", _NORMAL),
        "category": ("s", _CATEGORIES[announcement.verdict]),
        "desktop-entry": ("s", _APP_NAME),
    }
    body = _body(announcement, capabilities)
    return new_method_call(
        _SERVER,
        "Notify",
        "susssasa{sv}i",
        (_APP_NAME, replaces, "", announcement.title, body, [], hints, _SERVER_DECIDES),
    )


def _body(announcement: Announcement, capabilities: frozenset[str]) -> str:
    """The body as this server reads it: escaped where it reads markup, as it stands where not."""
    if "body-markup" not in capabilities:
        return "\n".join(announcement.lines)
    lines = [html.escape(line, quote=False) for line in announcement.lines]
    if announcement.link is not None and "body-hyperlinks" in capabilities:
        lines.append(f'<a href="{html.escape(announcement.link.absolute().as_uri())}">Open the report</a>')
    return "\n".join(lines)


def _session_bus(environ: Mapping[str, str]) -> str:
    """The socket of the session bus; FileNotFoundError where there is no session."""
    address = environ.get("DBUS_SESSION_BUS_ADDRESS")
    if not address:
        # Where the variable did not reach us the bus of a systemd session still has its usual place.
        place = f"{environ.get('XDG_RUNTIME_DIR', '')}/bus"
        if not os.path.exists(place):  # noqa: PTH110 - an address of a socket, not one of our files
            message = "there is no session bus"
            raise FileNotFoundError(message)
        return place
    return str(get_bus(address))


def _in_words(trouble: Exception) -> str:
    if isinstance(trouble, DBusErrorResponse):
        return f"the bus answers {trouble.name}"
    if isinstance(trouble, TimeoutError):
        return f"no answer within {_LIMIT_S:g} s"
    return str(trouble) or type(trouble).__name__


class _Bus:
    """A connection to a message bus on which nothing waits beyond a deadline (monotonic seconds)."""

    def __init__(self, address: str, deadline: float) -> None:
        socket = prep_socket(address, timeout=_left(deadline))
        socket.settimeout(_LIMIT_S)  # a bus that reads nothing must not hold up our writing
        try:
            self._connection = _LimitedConnection(socket)
        except BaseException:
            socket.close()
            raise

    def ask(self, message: Message, deadline: float) -> Message:
        """The answer to `message`; DBusErrorResponse where it is an error."""
        answer: Message = self._connection.send_and_get_reply(message, timeout=_left(deadline))
        unwrap_msg(answer)
        return answer

    def close(self) -> None:
        """Close the socket."""
        self._connection.close()


class _LimitedConnection(DBusConnection):  # type: ignore[misc]  # jeepney ships no types
    """jeepney's connection says hello without a limit of time; this one has one for everything."""

    def receive(self, *, timeout: float | None = None) -> Any:  # noqa: ANN401 - jeepney ships no types
        """The next message; TimeoutError where none comes in time."""
        return super().receive(timeout=_LIMIT_S if timeout is None else timeout)


def _left(deadline: float) -> float:
    left = deadline - time.monotonic()
    if left <= 0:
        raise TimeoutError
    return left
