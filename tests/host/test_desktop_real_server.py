# Notifications on a real server (dunst) on a real session bus, on a screen that nobody sees.
#
# Checked against: what the server itself says it was given (its history, read over its own D-Bus
# interface), as the Desktop Notifications Specification 1.2 asks for it.
import html
import logging
import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from jeepney import DBusAddress, MessageType, Properties, new_method_call
from jeepney.bus import get_bus
from jeepney.io.blocking import DBusConnection, prep_socket

from hotfolder.config.studio import NoticeSettings
from hotfolder.host.desktop import Desktop
from hotfolder.host.notices import Announcement, Notices
from hotfolder.model.findings import Verdict
from hotfolder.model.jobs import JobId, JobNotice, Summary
from hotfolder.store.audit_log.audit import AuditLog

MISSING = [tool for tool in ("Xvfb", "dbus-daemon", "dunst") if shutil.which(tool) is None]
pytestmark = pytest.mark.skipif(bool(MISSING), reason=f"not installed: {', '.join(MISSING)}")

PATIENCE_S = 20.0
NOTIFICATIONS = DBusAddress(
    "/org/freedesktop/Notifications", "org.freedesktop.Notifications", "org.freedesktop.Notifications"
)
DUNST = DBusAddress(
    "/org/freedesktop/Notifications", "org.freedesktop.Notifications", "org.dunstproject.cmd0"
)
BUS = DBusAddress("/org/freedesktop/DBus", "org.freedesktop.DBus", "org.freedesktop.DBus")

# A bus that starts no servers by itself, so that a test decides who is there.
BUS_CONFIG = """\
<!DOCTYPE busconfig PUBLIC "-//freedesktop//DTD D-Bus Bus Configuration 1.0//EN"
 "http://www.freedesktop.org/standards/dbus/1.0/busconfig.dtd">
<busconfig>
  <type>session</type>
  <listen>unix:dir={folder}</listen>
  <policy context="default">
    <allow send_destination="*" eavesdrop="true"/>
    <allow eavesdrop="true"/>
    <allow own="*"/>
  </policy>
</busconfig>
"""
DUNST_CONFIG = """\
[global]
markup = {markup}
history_length = 50
"""


@contextmanager
def running(command: list[str], **options: Any) -> Iterator[subprocess.Popen[str]]:  # noqa: ANN401 - Popen's own
    process = subprocess.Popen(command, text=True, **options)
    try:
        yield process
    finally:
        process.kill()
        process.wait(PATIENCE_S)


def wait_for(what: Callable[[], bool]) -> None:
    until = time.monotonic() + PATIENCE_S
    while not what():
        assert time.monotonic() < until
        time.sleep(0.02)


@dataclass
class Session:
    """A screen and a session bus; a notification server comes and goes."""

    environ: dict[str, str]
    folder: Path
    watcher: DBusConnection

    def ask(self, address: DBusAddress, method: str, signature: str = "", *values: object) -> tuple[Any, ...]:
        message = new_method_call(address, method, signature or None, values)
        answer = self.watcher.send_and_get_reply(message, timeout=PATIENCE_S)
        assert answer.header.message_type is MessageType.method_return, answer.body
        body: tuple[Any, ...] = answer.body
        return body

    def has_server(self) -> bool:
        return bool(self.ask(BUS, "NameHasOwner", "s", "org.freedesktop.Notifications")[0])

    @contextmanager
    def server(self, markup: str = "full") -> Iterator[subprocess.Popen[str]]:
        config = self.folder / "dunstrc"
        config.write_text(DUNST_CONFIG.format(markup=markup))
        command = ["dunst", "-conf", str(config)]
        with running(
            command, env=self.environ, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        ) as dunst:
            wait_for(self.has_server)
            yield dunst
        wait_for(lambda: not self.has_server())

    def displayed(self) -> int:
        answer = self.watcher.send_and_get_reply(Properties(DUNST).get("displayedLength"), timeout=PATIENCE_S)
        return int(answer.body[0][1])

    def shown(self) -> list[dict[str, Any]]:
        """All notifications, as the server has them, oldest first; they are closed by this."""
        while self.displayed():
            self.ask(DUNST, "NotificationCloseLast")
        (history,) = self.ask(DUNST, "NotificationListHistory")
        return [{key: value for key, (_, value) in entry.items()} for entry in history]


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    config = tmp_path / "session.conf"
    config.write_text(BUS_CONFIG.format(folder=tmp_path))
    with ExitStack() as stack:
        reading, writing = os.pipe()
        screen = ["Xvfb", "-displayfd", str(writing), "-screen", "0", "640x480x24", "-nolisten", "tcp"]
        stack.enter_context(running(screen, pass_fds=[writing], stderr=subprocess.DEVNULL))
        os.close(writing)
        with os.fdopen(reading) as number:
            display = number.readline().strip()
        daemon = ["dbus-daemon", f"--config-file={config}", "--nofork", "--print-address=1"]
        bus = stack.enter_context(running(daemon, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL))
        assert bus.stdout is not None
        with bus.stdout:
            address = bus.stdout.readline().strip()
        environ = {
            **os.environ,
            "DISPLAY": f":{display}",
            "DBUS_SESSION_BUS_ADDRESS": address,
            "HOME": str(tmp_path),
        }
        watcher = stack.enter_context(DBusConnection(prep_socket(get_bus(address))))
        yield Session(environ, tmp_path, watcher)


@pytest.fixture
def desktop(session: Session) -> Iterator[Desktop]:
    desktop = Desktop(session.environ)
    yield desktop
    desktop.close()


def notice(name: str, verdict: Verdict, first: str | None = None, report: Path | None = None) -> JobNotice:
    return JobNotice(
        job=JobId("20260102-030405-0001"),
        printer="quay",
        product=None,
        name=name,
        summary=Summary(verdict, 0 if first is None else 1, 0, 0, first, "flyer-offset-coated"),
        artwork=Path("/studio/quay") / name,
        report=report,
        at=datetime(2026, 1, 2, 3, 4, 5, tzinfo=UTC),
    )


def test_title_and_body_arrive_as_they_were_meant(session: Session, desktop: Desktop) -> None:
    notices = Notices(NoticeSettings(desktop=True, gather_s=0), desktop)
    with session.server():
        notices.tell(
            notice("Plakät \N{GREEK SMALL LETTER OMEGA}.pdf", Verdict.NEEDS_FIXING, "Bleed: 0 mm at the top.")
        )
        notices.close()
        (shown,) = session.shown()

    assert shown["summary"] == "Plakät \N{GREEK SMALL LETTER OMEGA}.pdf needs fixing"
    assert shown["body"] == "Bleed: 0 mm at the top.\nFor quay"
    assert shown["appname"] == "hotfolder"
    assert shown["category"] == "transfer.error"


def test_several_files_are_one_notification(session: Session, desktop: Desktop) -> None:
    notices = Notices(NoticeSettings(desktop=True, gather_s=600), desktop)
    with session.server():
        for number in range(7):
            notices.tell(notice(f"r{number}.pdf", Verdict.READY))
        for number in range(2):
            notices.tell(notice(f"f{number}.pdf", Verdict.NEEDS_FIXING, "Bleed: 0 mm at the top."))
        notices.close()
        (shown,) = session.shown()

    assert shown["summary"] == "7 ready, 2 need fixing"
    assert shown["body"] == "Needs fixing: f0.pdf, f1.pdf\nReady: r0.pdf, r1.pdf, r2.pdf and 4 more\nFor quay"


def test_a_burst_updates_its_notification_in_place(session: Session, desktop: Desktop) -> None:
    notices = Notices(NoticeSettings(desktop=True, gather_s=0), desktop)
    with session.server():
        notices.tell(notice("a.pdf", Verdict.READY))
        wait_for(lambda: session.displayed() == 1)
        notices.tell(notice("b.pdf", Verdict.READY))
        notices.close()
        (shown,) = session.shown()

    assert shown["summary"] == "2 ready"
    assert shown["category"] == "transfer.complete"


@pytest.mark.parametrize("name", ["<b>&amp;.pdf", "a\"<a href=x>'.pdf", "&lt;&#65;"])
def test_a_name_that_looks_like_markup_is_text(name: str, session: Session, desktop: Desktop) -> None:
    first = announcement_of(name)
    with session.server("full"):
        assert desktop.show(first, 0) > 0
        (with_markup,) = session.shown()
    with session.server("no"):
        # This server says that it reads no markup, so nothing may be escaped for it.
        assert desktop.show(first, 0) > 0
        (without_markup,) = session.shown()

    assert html.unescape(with_markup["body"]) == name
    assert "<" not in with_markup["body"]
    assert without_markup["body"] == name
    assert with_markup["summary"] == name


def announcement_of(text: str) -> Announcement:
    return Announcement(text, (text,), Verdict.READY, None)


def test_the_report_can_be_opened_from_the_body(session: Session, desktop: Desktop) -> None:
    page = Path("/studio/quay/needs fixing/ü & <i>.pdf.report.html")
    with session.server():
        desktop.show(Announcement("a.pdf needs fixing", ("Bleed",), Verdict.NEEDS_FIXING, page), 0)
        (shown,) = session.shown()

    address = "file:///studio/quay/needs%20fixing/%C3%BC%20%26%20%3Ci%3E.pdf.report.html"
    assert shown["body"] == f'Bleed\n<a href="{address}">Open the report</a>'


def test_the_work_goes_on_while_the_server_is_gone(
    session: Session, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.INFO)
    now = 1000.0
    desktop = Desktop(session.environ, lambda: now)
    with session.server():
        number = desktop.show(announcement_of("first"), 0)

    gone = [desktop.show(announcement_of("second"), number) for _ in range(2)]
    now += 61
    gone.append(desktop.show(announcement_of("third"), number))
    with session.server():
        assert desktop.show(announcement_of("too soon"), number) == 0
        now += 61
        back = desktop.show(announcement_of("fourth"), number)
        shown = session.shown()
    desktop.close()

    assert number > 0
    assert gone == [0, 0, 0]
    assert back > 0
    assert [entry["summary"] for entry in shown] == ["fourth"]
    assert [record.levelno for record in caplog.records] == [logging.WARNING, logging.INFO]
    assert "ServiceUnknown" in caplog.records[0].getMessage()


def test_a_number_of_a_former_server_replaces_nothing_on_the_next(session: Session, desktop: Desktop) -> None:
    with session.server():
        number = desktop.show(announcement_of("ours"), 0)
    with session.server():
        other = session.ask(NOTIFICATIONS, "Notify", "susssasa{sv}i", "else", 0, "", "theirs", "", [], {}, 0)
        desktop.show(announcement_of("ours again"), number)
        shown = session.shown()

    assert other == (number,)
    assert {entry["summary"] for entry in shown} == {"theirs", "ours again"}


def test_tell_shows_what_another_daemon_does(session: Session) -> None:
    root = session.folder / "studio"
    root.mkdir()
    (root / "hotfolder.toml").write_text(
        '[printers.quay]\nrules = "office-pdf"\n[notices]\ndesktop = false\ngather = "1 s"\n'
    )
    audit = AuditLog(root / "audit", lambda: datetime(2026, 1, 2, 3, 4, 5, tzinfo=UTC))
    log = session.folder / "tell.log"
    command = [sys.executable, "-m", "hotfolder", "tell", str(root)]
    with (
        session.server(),
        log.open("w") as errors,
        running(command, env=session.environ, stderr=errors) as tell,
    ):
        wait_for(lambda: "from now on" in log.read_text())
        content = {
            "printer": "quay", "product": None, "name": "flyer.pdf", "verdict": "needs-fixing",
            "must_fix": 1, "advice": 1, "unjudged": 0, "first": "Bleed: 0 mm at the top.",
            "folder": "needs-fixing", "delivered": "flyer.pdf",
            "reports": "needs-fixing", "report_html": "flyer.pdf.report.html",
        }  # fmt: skip
        audit.close(JobId("20260102-030405-0001"), content, "closed", 0)
        wait_for(lambda: session.displayed() == 1)
        (shown,) = session.shown()
        tell.send_signal(signal.SIGTERM)
        status = tell.wait(PATIENCE_S)

    page = root / "quay" / "needs-fixing" / "flyer.pdf.report.html"
    assert shown["summary"] == "flyer.pdf needs fixing"
    assert shown["body"] == (
        "Bleed: 0 mm at the top.\nFor quay; 2 findings in the report\n"
        f'<a href="{page.as_uri()}">Open the report</a>'
    )
    assert status == 0
