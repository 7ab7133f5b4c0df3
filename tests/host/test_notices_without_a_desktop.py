# A desktop that is not there, falls silent or talks nonsense costs one line in the log.
import logging
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from hotfolder.host import desktop
from hotfolder.host.desktop import Desktop
from hotfolder.host.notices import Announcement
from hotfolder.model.findings import Verdict

# A desktop that is not there, or does not answer.

READY = Announcement("flyer.pdf is ready", ("For quay",), Verdict.READY, None)
PATIENCE_S = 10.0


def test_a_machine_without_a_session_gets_one_line_in_its_log(caplog: pytest.LogCaptureFixture) -> None:
    now = 1000.0
    nobody = Desktop({}, lambda: now)

    shown = [nobody.show(READY, 0) for _ in range(3)]
    now += 3600
    shown.append(nobody.show(READY, 0))

    assert shown == [0, 0, 0, 0]
    (record,) = caplog.records
    assert record.levelno == logging.WARNING
    assert "there is no session bus" in record.getMessage()


@pytest.mark.parametrize(
    "address",
    ["unix:path=/nonexistent/bus", "tcp:host=localhost,port=1", "autolaunch:", "nonsense", "unix:path"],
)
def test_an_address_that_leads_nowhere_is_no_reason_to_fail(
    address: str, caplog: pytest.LogCaptureFixture
) -> None:
    assert Desktop({"DBUS_SESSION_BUS_ADDRESS": address}).show(READY, 0) == 0
    assert len(caplog.records) == 1


@contextmanager
def bus_that_says(answer: bytes, folder: Path) -> Iterator[str]:
    """A socket that answers the first words with `answer`, and then listens for ever."""
    path = folder / "bus"
    kept: list[socket.socket] = []

    def serve() -> None:
        while True:
            try:
                connection, _ = listener.accept()
            except OSError:
                return
            kept.append(connection)
            heard = b""
            while not heard.endswith(b"\r\n"):
                heard += connection.recv(1024)
            connection.sendall(answer)

    with socket.socket(socket.AF_UNIX) as listener:
        listener.bind(str(path))
        listener.listen()
        thread = threading.Thread(target=serve)
        thread.start()
        yield f"unix:path={path}"
        listener.shutdown(socket.SHUT_RDWR)
        thread.join(PATIENCE_S)
        for connection in kept:
            connection.close()


# D-Bus Specification, "Authentication Protocol": OK and the server's GUID end it.
@pytest.mark.parametrize("answer", [b"", b"OK 0123456789abcdef0123456789abcdef\r\n"])
def test_a_bus_that_falls_silent_is_given_up(
    answer: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    monkeypatch.setattr(desktop, "_LIMIT_S", 0.2)
    with bus_that_says(answer, tmp_path) as address:
        began = time.monotonic()
        number = Desktop({"DBUS_SESSION_BUS_ADDRESS": address}).show(READY, 0)

        assert number == 0
        assert time.monotonic() - began < 2
        assert "no answer within 0.2 s" in caplog.text


def test_a_bus_that_talks_nonsense_is_given_up(tmp_path: Path, caplog: pytest.LogCaptureFixture) -> None:
    with bus_that_says(b"220 mail.example ESMTP\r\n", tmp_path) as address:
        assert Desktop({"DBUS_SESSION_BUS_ADDRESS": address}).show(READY, 0) == 0
        assert len(caplog.records) == 1
