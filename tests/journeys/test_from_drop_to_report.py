"""A real daemon, real folders, real files: dropped in every way, stopped in the middle, started again."""

import os
import random
import signal
import threading
import time
from pathlib import Path

import pytest

from tests.journeys.real_studio import RealStudio, office_pdf, run_hotfolder, sha256, wait_until

PRINTERS = {"quay": "office-pdf", "mill": "flyer-offset-coated", "press": "office-pdf"}


@pytest.fixture
def studio(tmp_path: Path) -> RealStudio:
    return RealStudio(tmp_path / "studio", PRINTERS)


def drop_slowly(target: Path, data: bytes) -> None:
    """Copy as slow programs do: piece by piece, straight into the inbox."""
    with target.open("wb") as file:
        for start in range(0, len(data), 300):
            file.write(data[start : start + 300])
            file.flush()
            time.sleep(0.25)


def drop_by_rename(target: Path, data: bytes) -> None:
    """Save as careful programs do: under a hidden name, then renamed."""
    temporary = target.with_name(f".{target.name}.part")
    temporary.write_bytes(data)
    os.rename(temporary, target)  # noqa: PTH104 - names the system call that is meant


def thirty_pieces() -> dict[tuple[str, str], bytes]:
    """Good PDFs of one to three pages, three torn ones and three that are none, spread over the printers."""
    pieces: dict[tuple[str, str], bytes] = {}
    choice = random.Random(5)
    for number in range(30):
        name = f"piece {number:02}.pdf"
        data = office_pdf(f"{number} {choice.random()}", pages=1 + number % 3)
        if number % 10 == 9:
            data, name = data[: len(data) // 2], f"torn {number}.pdf"
        if number % 10 == 8:
            data, name = f"not a PDF {number}".encode(), f"text {number}.pdf"
        pieces[list(PRINTERS)[number % 3], name] = data
    return pieces


def test_thirty_files_a_stop_and_a_kill_in_the_middle_and_nothing_is_lost(studio: RealStudio) -> None:
    dropped = thirty_pieces()
    with studio.running():
        pieces = list(dropped.items())
        slow = [
            threading.Thread(target=drop_slowly, args=(studio.inbox(printer) / name, data))
            for (printer, name), data in pieces[:5]
        ]
        for thread in slow:
            thread.start()
        for (printer, name), data in pieces[5:12]:
            drop_by_rename(studio.inbox(printer) / name, data)
        assert wait_until(lambda: any(studio.delivered(printer) for printer in PRINTERS))
        for (printer, name), data in pieces[12:22]:  # a burst
            (studio.inbox(printer) / name).write_bytes(data)
        assert wait_until(lambda: any(studio.in_work(printer) for printer in PRINTERS))
        assert studio.stop(signal.SIGTERM) == 0

        for (printer, name), data in pieces[22:]:
            (studio.inbox(printer) / name).write_bytes(data)
        studio.start()
        assert wait_until(lambda: any(studio.in_work(printer) for printer in PRINTERS))
        studio.stop(signal.SIGKILL)

        studio.start()
        for thread in slow:
            thread.join(60)
        assert wait_until(
            lambda: not any(studio.waiting(printer) or studio.in_work(printer) for printer in PRINTERS), 120
        ), studio.logged()
        assert studio.stop(signal.SIGTERM) == 0

    found = {
        (printer, name): path for printer in PRINTERS for name, path in studio.delivered(printer).items()
    }
    assert {key: path.read_bytes() for key, path in found.items()} == dropped
    for (printer, name), path in found.items():
        faulty = name.startswith(("torn", "text")) or printer == "mill"
        assert path.parent.name == ("needs-fixing" if faulty else "outbox"), path
        assert studio.has_sidecars(path), path
        report = studio.report(path)
        assert report["verdict"] == ("needs-fixing" if faulty else "ready")
        assert report["file"]["sha256"] == sha256(path)
    audit = run_hotfolder("audit", studio.root)
    assert audit.returncode == 0, audit.stdout + audit.stderr
    jobs = [path for path in (studio.root / "audit").rglob("*.jsonl") if path.name != "chain.jsonl"]
    assert len(jobs) == 30


def test_once_handles_what_lies_there_names_what_it_left_and_ends(studio: RealStudio) -> None:
    inbox = studio.inbox("quay")
    (inbox / "good.pdf").write_bytes(office_pdf("good"))
    (inbox / "half.pdf.part").write_bytes(b"%PDF-1.7")
    (inbox / "a folder").mkdir()
    (inbox / "a folder" / "inside.pdf").write_bytes(office_pdf("inside"))
    (inbox / "good.pdf.job.toml").write_text("")
    (inbox / "empty.pdf").write_bytes(b"")
    file = studio.root / "hotfolder.toml"
    file.write_text(file.read_text().replace('quiet = "0.7 s"', 'quiet = "0.7 s"\nempty = "8 s"'))
    done = run_hotfolder("run", studio.root, "--once")
    assert done.returncode == 0, done.stderr
    assert set(studio.delivered("quay")) == {"good.pdf", "empty.pdf"}  # its time was waited for
    assert studio.waiting("quay") == ["a folder", "good.pdf.job.toml", "half.pdf.part"]
    assert (inbox / "a folder" / "inside.pdf").exists()
    left = [line for line in done.stderr.splitlines() if "left: " in line]
    for name in ("a folder", "good.pdf.job.toml", "half.pdf.part"):
        assert any(name in line for line in left), (name, left)


def test_a_second_daemon_on_the_same_studio_is_refused(studio: RealStudio) -> None:
    with studio.running():
        assert wait_until(lambda: "watching" in studio.logged())
        second = run_hotfolder("run", studio.root, "--once")
        assert second.returncode == 2
        assert "another hotfolder" in second.stderr


def test_a_mistake_in_the_studio_file_stops_the_start_and_nothing_is_touched(studio: RealStudio) -> None:
    (studio.inbox("quay") / "good.pdf").write_bytes(office_pdf("good"))
    file = studio.root / "hotfolder.toml"
    file.write_text(file.read_text().replace('rules = "office-pdf"', 'rules = "ofice-pdf"'))
    done = run_hotfolder("run", studio.root, "--once")
    assert done.returncode == 2
    assert "hotfolder.toml:" in done.stderr
    assert "office-pdf" in done.stderr
    assert studio.waiting("quay") == ["good.pdf"]


def test_an_inbox_that_is_away_is_waited_for_and_nothing_is_laid_into_it(studio: RealStudio) -> None:
    inbox = studio.inbox("quay")
    away = inbox.with_name("inbox-elsewhere")
    os.rename(inbox, away)  # noqa: PTH104 - as above
    inbox.mkdir()  # an empty mount point
    with studio.running():
        assert wait_until(lambda: "is not available" in studio.logged())
        assert list(inbox.iterdir()) == []
        inbox.rmdir()
        (away / "good.pdf").write_bytes(office_pdf("good"))
        os.rename(away, inbox)  # noqa: PTH104 - as above
        assert wait_until(lambda: set(studio.delivered("quay")) == {"good.pdf"}), studio.logged()
        assert studio.stop() == 0


def test_a_name_and_bytes_that_come_again_are_linked_to_the_former_job(studio: RealStudio) -> None:
    first, second = office_pdf("first"), office_pdf("second")
    with studio.running():
        for data in (first, second, first):
            delivered = len(studio.delivered("quay"))
            (studio.inbox("quay") / "flyer.pdf").write_bytes(data)
            assert wait_until(lambda count=delivered: len(studio.delivered("quay")) > count)  # type: ignore[misc]
        assert studio.stop() == 0
    delivered_by_name = studio.delivered("quay")
    assert set(delivered_by_name) == {"flyer.pdf", "flyer (2).pdf", "flyer (3).pdf"}
    reports = [
        studio.report(delivered_by_name[name]) for name in ("flyer.pdf", "flyer (2).pdf", "flyer (3).pdf")
    ]
    jobs = [report["job"] for report in reports]
    assert [report["previous_job"] for report in reports] == [None, jobs[0], jobs[1]]
    assert [report["same_bytes_as"] for report in reports] == [None, None, jobs[0]]
