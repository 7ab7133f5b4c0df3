"""Bad input gets a verdict in a plain sentence; the daemon goes on and nothing is lost."""

import contextlib
import os
import signal
import socket
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from hotfolder.config.studio import DELIVERY_MARKER
from tests.hostile import bad_files
from tests.journeys.real_studio import HOTFOLDER, RealStudio, office_pdf, run_hotfolder, wait_until

BAD: dict[str, Callable[[], bytes]] = {
    "text.pdf": lambda: b"This is no PDF at all.\n",
    "truncated.pdf": lambda: office_pdf("cut", pages=3)[:700],
    "locked.pdf": lambda: bad_files.encrypted("secret"),
    "tree.pdf": bad_files.page_tree_that_loops,
    "own form.pdf": bad_files.form_that_draws_itself,
    "vast.png": bad_files.vast_png,
    "nothing.bin": lambda: bytes(1000),
}
# Odd, but sound: for office printing these are ready.
ODD_BUT_SOUND: dict[str, Callable[[], bytes]] = {
    "blank password.pdf": lambda: bad_files.encrypted(""),
}
LONG = b"l" * 246 + b".pdf"
NAMES = [
    b"two words.pdf",
    b'it\'s "quoted".pdf',
    "fête 🎉.pdf".encode(),
    "e\u0301te\u0301.pdf".encode(),  # combining characters
    b"-rf.pdf",
    b"new\nline.pdf",
    b"<script>alert(1)<script>.pdf",
    b"%s%n$HOME.pdf",
    LONG,
    b"caf\xe9.pdf",  # no UTF-8
]


@pytest.fixture
def studio(tmp_path: Path) -> RealStudio:
    return RealStudio(tmp_path / "studio", {"quay": "office-pdf"})


def once(studio: RealStudio) -> str:
    done = run_hotfolder("run", studio.root, "--once", timeout=120)
    assert done.returncode == 0, done.stderr
    return done.stderr


def test_every_bad_file_is_sent_back_with_a_sentence_and_the_good_one_goes_on(studio: RealStudio) -> None:
    contents = {name: make() for name, make in (BAD | ODD_BUT_SOUND).items()}
    contents["good.pdf"] = office_pdf("good")
    for name, data in contents.items():
        (studio.inbox("quay") / name).write_bytes(data)
    once(studio)
    delivered = studio.delivered("quay")
    assert {name: path.read_bytes() for name, path in delivered.items()} == contents
    for name, path in delivered.items():
        assert studio.has_sidecars(path)
        report = studio.report(path)
        if name in BAD:
            assert path.parent.name == "needs-fixing", name
            told = [item.get("message") or item["reason"] for item in report["findings"] + report["unjudged"]]
            assert all(len(sentence) > 20 for sentence in told), (name, told)
            assert "Traceback" not in str(report)
        else:
            assert path.parent.name == "outbox", (name, report["findings"], report["unjudged"])


def test_odd_names_are_delivered_as_they_are(studio: RealStudio) -> None:
    inbox, outbox = os.fsencode(studio.inbox("quay")), os.fsencode(studio.root / "quay" / "outbox")
    for name in NAMES:
        write(inbox + b"/" + name, office_pdf(repr(name)))
    once(studio)
    entries = set(os.listdir(outbox)) - {os.fsencode(DELIVERY_MARKER)}  # noqa: PTH208
    found = {entry for entry in entries if not entry.endswith((b".json", b".html"))}
    (shortened,) = found - set(NAMES)  # at its stem, so that the sidecars' names fit
    assert (shortened[:200], shortened[-4:], len(found)) == (b"l" * 200, b".pdf", len(NAMES))
    for name in found:
        original = LONG if name == shortened else name
        assert read(outbox + b"/" + name) == office_pdf(repr(original))
        assert b"<script>alert" not in read(outbox + b"/" + name + b".report.html")
    assert run_hotfolder("audit", studio.root).returncode == 0


def write(path: bytes, data: bytes) -> None:
    with open(path, "wb") as file:  # noqa: PTH123 - the name is bytes
        file.write(data)


def read(path: bytes) -> bytes:
    with open(path, "rb") as file:  # noqa: PTH123 - the name is bytes
        return file.read()


def test_what_is_no_file_stays_and_is_told_once(studio: RealStudio, tmp_path: Path) -> None:
    inbox = studio.inbox("quay")
    outside = tmp_path / "outside.pdf"
    outside.write_bytes(office_pdf("outside"))
    (inbox / "link.pdf").symlink_to(outside)
    os.mkfifo(inbox / "pipe.pdf")
    with socket.socket(socket.AF_UNIX) as server, contextlib.chdir(inbox):
        server.bind("socket.pdf")
    (inbox / "good.pdf").write_bytes(office_pdf("good"))
    said = once(studio)
    assert set(studio.delivered("quay")) == {"good.pdf"}
    assert studio.waiting("quay") == ["link.pdf", "pipe.pdf", "socket.pdf"]
    assert outside.read_bytes() == office_pdf("outside")
    for name in ("link.pdf", "pipe.pdf", "socket.pdf"):
        assert sum("is not taken" in line and name in line for line in said.splitlines()) == 1


def test_an_empty_file_gets_its_verdict_after_its_time(studio: RealStudio) -> None:
    file = studio.root / "hotfolder.toml"
    file.write_text(file.read_text().replace('quiet = "0.7 s"', 'quiet = "0.7 s"\nempty = "1 s"'))
    (studio.inbox("quay") / "empty.pdf").write_bytes(b"")
    with studio.running():
        assert wait_until(lambda: "empty.pdf" in studio.delivered("quay")), studio.logged()
        assert studio.stop() == 0
    (finding, *_) = studio.report(studio.delivered("quay")["empty.pdf"])["findings"]
    assert "empty" in finding["message"]


def children_of_fork_servers(daemon: int) -> Iterator[int]:
    """The children that measure: the daemon's grandchildren, by way of the fork server."""
    parents: dict[int, int] = {}
    for stat in Path("/proc").glob("[0-9]*/stat"):
        with contextlib.suppress(OSError):
            fields = stat.read_text().rsplit(")", 1)[1].split()
            parents[int(stat.parent.name)] = int(fields[1])
    for process, parent in parents.items():
        if parents.get(parent) == daemon:
            yield process


def kill_measuring_child(daemon: int) -> bool:
    for process in children_of_fork_servers(daemon):
        with contextlib.suppress(ProcessLookupError):
            os.kill(process, signal.SIGKILL)
            return True
    return False


def test_a_child_killed_once_is_tried_again(studio: RealStudio) -> None:
    (studio.inbox("quay") / "slow.pdf").write_bytes(bad_files.slow_pdf())
    with studio.running():
        daemon = studio.daemon
        assert daemon is not None
        assert wait_until(lambda: kill_measuring_child(daemon.pid))
        assert wait_until(lambda: "slow.pdf" in studio.delivered("quay"), 90), studio.logged()
        assert studio.stop() == 0
    assert studio.delivered("quay")["slow.pdf"].parent.name == "outbox"
    assert "attempt 1" in studio.logged()


def test_a_child_killed_every_time_sends_the_file_back_and_the_rest_goes_on(studio: RealStudio) -> None:
    slow = bad_files.slow_pdf()
    (studio.inbox("quay") / "slow.pdf").write_bytes(slow)
    with studio.running():
        daemon = studio.daemon
        assert daemon is not None
        for attempt in (1, 2):
            assert wait_until(lambda: kill_measuring_child(daemon.pid))
            assert wait_until(lambda n=attempt: f"attempt {n}" in studio.logged())  # type: ignore[misc]  # binds n now
        assert wait_until(lambda: "slow.pdf" in studio.delivered("quay")), studio.logged()
        (studio.inbox("quay") / "good.pdf").write_bytes(office_pdf("good"))
        assert wait_until(lambda: "good.pdf" in studio.delivered("quay")), studio.logged()
        assert studio.stop() == 0
    path = studio.delivered("quay")["slow.pdf"]
    assert path.parent.name == "needs-fixing"
    assert path.read_bytes() == slow
    assert [finding["code"] for finding in studio.report(path)["findings"]] == ["stopped"]
    assert studio.delivered("quay")["good.pdf"].parent.name == "outbox"


def unprivileged() -> list[str]:
    """What to put before a command so that file rights hold for it: root reads everything."""
    if os.geteuid() != 0:
        return []
    return ["setpriv", "--bounding-set=-all", "--inh-caps=-all", "--no-new-privs"]


def test_a_file_that_the_daemon_may_not_read_is_sent_back_with_that_word(studio: RealStudio) -> None:
    secret, good = studio.inbox("quay") / "secret.pdf", studio.inbox("quay") / "good.pdf"
    good.write_bytes(office_pdf("good"))
    secret.write_bytes(office_pdf("secret"))
    secret.chmod(0)
    file = studio.root / "hotfolder.toml"
    file.write_text(file.read_text().replace('quiet = "0.7 s"', 'quiet = "0.7 s"\nunreadable = "1 s"'))
    check = subprocess.run([*unprivileged(), "cat", str(secret)], capture_output=True, check=False)
    assert check.returncode != 0, "this test needs a user whom file rights hold"
    command = [*unprivileged(), *HOTFOLDER]
    with studio.running(command):
        assert wait_until(lambda: set(studio.delivered("quay")) == {"good.pdf", "secret.pdf"}, 90), (
            studio.logged()
        )
        assert studio.stop() == 0
    path = studio.delivered("quay")["secret.pdf"]
    assert path.parent.name == "needs-fixing"
    path.chmod(0o600)
    assert path.read_bytes() == office_pdf("secret")
    assert "read" in studio.report(path)["findings"][0]["message"]
    checked = subprocess.run(
        [*command, "check", str(secret), "--rules", "office-pdf"], capture_output=True, check=False
    )
    assert checked.returncode == 2  # it is gone from there


def test_check_of_a_file_that_may_not_be_read_is_a_verdict(tmp_path: Path) -> None:
    secret = tmp_path / "secret.pdf"
    secret.write_bytes(office_pdf("secret"))
    secret.chmod(0)
    done = subprocess.run(
        [*unprivileged(), *HOTFOLDER, "check", str(secret), "--rules", "office-pdf"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 1, done.stderr
    assert "Permission denied" in done.stdout
