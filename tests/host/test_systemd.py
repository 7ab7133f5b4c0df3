# What systemd is told, read from a real datagram socket as systemd opens it.
#
# Checked against: sd_notify(3) and sd_watchdog_enabled(3) of systemd, and systemd's own reader.
import os
import socket
from collections.abc import Iterator
from pathlib import Path

import pytest

from hotfolder.host.systemd import ServiceManager


@pytest.fixture
def manager(tmp_path: Path) -> Iterator[socket.socket]:
    with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as listener:
        listener.bind(str(tmp_path / "notify"))
        listener.settimeout(5)
        yield listener


def heard(listener: socket.socket) -> str:
    return listener.recv(4096).decode()


def test_each_message_is_one_datagram(manager: socket.socket) -> None:
    service = ServiceManager({"NOTIFY_SOCKET": manager.getsockname()})

    service.ready()
    service.alive()
    service.extend(30)
    service.extend(0.25)
    service.stopping()

    assert [heard(manager) for _ in range(5)] == [
        "READY=1",
        "WATCHDOG=1",
        "EXTEND_TIMEOUT_USEC=30000000",
        "EXTEND_TIMEOUT_USEC=250000",
        "STOPPING=1",
    ]


def test_a_status_is_one_line_whatever_it_names(manager: socket.socket) -> None:
    service = ServiceManager({"NOTIFY_SOCKET": manager.getsockname()})

    service.status("flyer\nREADY=1\udcff.pdf für Quay")

    assert heard(manager) == "STATUS=flyer\\nREADY=1\\xff.pdf für Quay"


def test_an_abstract_socket_is_reached() -> None:
    name = f"hotfolder-test-{os.getpid()}"
    with socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM) as listener:
        listener.bind(f"\0{name}")
        listener.settimeout(5)
        ServiceManager({"NOTIFY_SOCKET": f"@{name}"}).ready()

        assert heard(listener) == "READY=1"


@pytest.mark.parametrize(
    "environ",
    [
        {},
        {"NOTIFY_SOCKET": ""},
        # Only a virtual machine's manager is spoken to like this.
        {"NOTIFY_SOCKET": "vsock:2:1234"},
    ],
)
def test_without_a_manager_nothing_is_sent_and_nothing_fails(
    environ: dict[str, str], monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def no_socket(*arguments: object) -> None:
        raise AssertionError(arguments)

    monkeypatch.setattr(socket, "socket", no_socket)
    service = ServiceManager(environ)

    service.ready()
    service.status("nothing waiting")
    service.alive()
    service.stopping()
    service.extend(1)

    assert caplog.records == []


def test_a_manager_that_is_gone_is_told_in_the_log_only(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    ServiceManager({"NOTIFY_SOCKET": str(tmp_path / "nobody")}).ready()

    assert [record.levelname for record in caplog.records] == ["WARNING"]


@pytest.mark.parametrize(
    ("environ", "interval_s"),
    [
        ({"WATCHDOG_USEC": "120000000"}, 60.0),
        ({"WATCHDOG_USEC": "3000000", "WATCHDOG_PID": str(os.getpid())}, 1.5),
        ({"WATCHDOG_USEC": "3000000", "WATCHDOG_PID": "1"}, None),
        ({"WATCHDOG_USEC": "0"}, None),
        ({"WATCHDOG_USEC": "soon"}, None),
        ({}, None),
    ],
)
def test_the_watchdog_is_fed_at_half_its_time_and_only_if_it_is_ours(
    environ: dict[str, str], interval_s: float | None
) -> None:
    assert ServiceManager(environ).watchdog_interval_s == interval_s
