"""A real daemon and real writers that pause: nothing is taken before it is whole, and no byte is lost."""

import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from PIL import Image

from tests.journeys.real_studio import HOTFOLDER, RealStudio, office_pdf, run_hotfolder, wait_until

PAUSE_S = 4.0  # several quiet times, and longer than what is not whole is waited for
WRITER = """
import os, sys, time
source, target, pause, full = sys.argv[1], sys.argv[2], float(sys.argv[3]), sys.argv[4] == "full"
data = open(source, "rb").read()
with open(target, "wb", buffering=0) as file:
    if full:
        file.truncate(len(data))
    file.write(data[: len(data) // 2])
    until = time.monotonic() + pause
    while time.monotonic() < until and not (len(sys.argv) > 5 and os.path.exists(sys.argv[5])):
        time.sleep(0.05)
    file.write(data[len(data) // 2 :])
"""
REOPENING = """
import sys, time
data = open(sys.argv[1], "rb").read()
open(sys.argv[2], "wb").write(data[: len(data) // 2])
time.sleep(float(sys.argv[3]))
open(sys.argv[2], "ab").write(data[len(data) // 2 :])
"""
# As if the writer sat at another machine: no lease and no process shows it.
UNSEEN = """
import sys
from hotfolder.intake import writers
for module in ("hotfolder.desk.desk", "hotfolder.desk.claimed_files", "hotfolder.intake.unfinished"):
    __import__(module)
    sys.modules[module].writers_of = lambda path: writers.Writers.UNKNOWN
from hotfolder.cli import main
if __name__ == "__main__":
    main(sys.argv[1:])
"""


@pytest.fixture
def studio(tmp_path: Path) -> RealStudio:
    return RealStudio(tmp_path / "studio", {"quay": "office-pdf"})


@pytest.fixture
def source(tmp_path: Path) -> Path:
    path = tmp_path / "source.pdf"
    path.write_bytes(office_pdf("slow", pages=3))
    return path


def only_whole(studio: RealStudio, name: str, data: bytes) -> None:
    """One job, of all the bytes."""
    assert wait_until(lambda: name in studio.delivered("quay"), 40), studio.logged()
    assert wait_until(lambda: not studio.in_work("quay")), studio.logged()
    assert {each: path.read_bytes() for each, path in studio.delivered("quay").items()} == {name: data}


def everywhere(studio: RealStudio, name: str) -> list[Path]:
    """All versions of the artwork, smallest first: a newer one puts an older one aside."""
    stem = name.removesuffix(".pdf")
    found = (path for path in (studio.root / "quay").rglob(f"{stem}*.pdf") if ".work" not in path.parts)
    return sorted(found, key=lambda path: path.stat().st_size)


@pytest.mark.parametrize("full", ["grows", "full"])
def test_a_writer_that_pauses_is_waited_for(studio: RealStudio, source: Path, full: str) -> None:
    target = studio.inbox("quay") / "slow.pdf"
    with studio.running():
        writer = subprocess.Popen(
            [sys.executable, "-c", WRITER, str(source), str(target), str(2 * PAUSE_S), full]
        )
        status = "a program still has it open for writing"
        assert wait_until(lambda: status in run_hotfolder("status", studio.root, "--json").stdout, 15)
        assert writer.wait(30) == 0
        only_whole(studio, "slow.pdf", source.read_bytes())
        assert studio.stop() == 0


def test_a_picture_of_full_size_whose_lower_half_comes_later(studio: RealStudio, tmp_path: Path) -> None:
    source, target = tmp_path / "source.tif", studio.inbox("quay") / "poster.tif"
    Image.effect_noise((600, 800), 90).convert("CMYK").save(source, dpi=(300, 300))
    with studio.running():
        writer = subprocess.Popen(
            [sys.executable, "-c", WRITER, str(source), str(target), str(PAUSE_S), "full"]
        )
        assert writer.wait(30) == 0
        only_whole(studio, "poster.tif", source.read_bytes())
        assert studio.stop() == 0


def test_a_copy_that_stalls(studio: RealStudio, tmp_path: Path) -> None:
    """`cp` out of a pipe, stopped in the middle by a signal."""
    target, pipe = studio.inbox("quay") / "slow.pdf", tmp_path / "pipe"
    os.mkfifo(pipe)
    data = office_pdf("stalls", pages=3)
    with studio.running():
        copy = subprocess.Popen(["cp", str(pipe), str(target)])
        with pipe.open("wb", buffering=0) as feed:
            feed.write(data[: len(data) // 2])
            assert wait_until(lambda: target.exists() and target.stat().st_size > 0)
            copy.send_signal(signal.SIGSTOP)
            time.sleep(PAUSE_S)
            assert studio.delivered("quay") == {}
            copy.send_signal(signal.SIGCONT)
            feed.write(data[len(data) // 2 :])
        assert copy.wait(30) == 0
        only_whole(studio, "slow.pdf", data)
        assert studio.stop() == 0


@pytest.mark.skipif(shutil.which("gs") is None, reason="needs Ghostscript")
def test_ghostscript_on_a_page_that_takes_long(studio: RealStudio, tmp_path: Path) -> None:
    target, page = studio.inbox("quay") / "heavy.pdf", tmp_path / "heavy.ps"
    page.write_text(
        "0 0 400 300 rectfill showpage\n"
        f"usertime {int(PAUSE_S * 1000)} add {{ dup usertime lt {{ exit }} if }} loop pop\n"
        "10 10 50 50 rectfill showpage\n"
    )
    with studio.running():
        made = subprocess.Popen(
            ["gs", "-q", "-dBATCH", "-dNOPAUSE", "-sDEVICE=pdfwrite", f"-sOutputFile={target}", str(page)]
        )
        assert wait_until(target.exists)
        assert made.wait(60) == 0
        data = target.read_bytes() if target.exists() else None
        assert wait_until(lambda: "heavy.pdf" in studio.delivered("quay"), 40), studio.logged()
        delivered = studio.delivered("quay")
        assert set(delivered) == {"heavy.pdf"}
        assert data is None or delivered["heavy.pdf"].read_bytes() == data
        assert b"%%EOF" in delivered["heavy.pdf"].read_bytes()[-10:]
        assert studio.stop() == 0


def test_a_file_that_is_not_whole_is_told_so_waited_for_and_then_judged(studio: RealStudio) -> None:
    data = office_pdf("torn", pages=3)[:900]
    (studio.inbox("quay") / "torn.pdf").write_bytes(data)
    with studio.running():
        missing = "not whole yet: the end marker of a PDF is missing"
        assert wait_until(lambda: missing in run_hotfolder("status", studio.root, "--json").stdout, 15)
        only_whole(studio, "torn.pdf", data)
        assert studio.stop() == 0
    assert studio.delivered("quay")["torn.pdf"].parent.name == "needs-fixing"
    assert studio.logged().count(f"torn.pdf waits: {missing}") == 1


def test_a_writer_that_opens_the_file_again_is_waited_for(studio: RealStudio, source: Path) -> None:
    target = studio.inbox("quay") / "slow.pdf"
    with studio.running():
        writer = subprocess.Popen([sys.executable, "-c", REOPENING, str(source), str(target), "1.2"])
        assert writer.wait(30) == 0
        only_whole(studio, "slow.pdf", source.read_bytes())
        assert studio.stop() == 0


def test_a_writer_that_nobody_can_see_gives_a_second_job_and_no_byte_is_lost(
    studio: RealStudio, source: Path, tmp_path: Path
) -> None:
    """It pauses for longer than what is not whole is waited for, as one at another machine may."""
    program = tmp_path / "unseen.py"
    program.write_text(UNSEEN)
    file = studio.root / "hotfolder.toml"
    file.write_text(file.read_text().replace('keep = "2 s"', 'keep = "8 s"'))
    target = studio.inbox("quay") / "slow.pdf"
    with studio.running([HOTFOLDER[0], str(program)]):
        first_half = studio.root / "quay/needs-fixing/slow.pdf"  # goes on when this is there
        writer = subprocess.Popen(
            [sys.executable, "-c", WRITER, str(source), str(target), "60", "grows", str(first_half)]
        )
        assert writer.wait(70) == 0
        whole = source.read_bytes()
        assert wait_until(
            lambda: whole in [path.read_bytes() for path in studio.delivered("quay").values()], 40
        ), studio.logged()
        assert wait_until(lambda: not studio.in_work("quay"), 40), studio.logged()
        assert studio.stop() == 0
    first, second = everywhere(studio, "slow.pdf")
    assert whole.startswith(first.read_bytes())
    assert studio.report(second)["previous_job"] == studio.report(first)["job"]
    assert "changed after it was delivered; it goes on as" in studio.logged()
    assert run_hotfolder("audit", studio.root).returncode == 0


def test_what_is_kept_when_the_daemon_stops_is_compared_at_the_next_start(
    studio: RealStudio, source: Path, tmp_path: Path
) -> None:
    program = tmp_path / "unseen.py"
    program.write_text(UNSEEN)
    (studio.inbox("quay") / "flyer.pdf").write_bytes(source.read_bytes())
    done = subprocess.run(
        [HOTFOLDER[0], str(program), "run", str(studio.root), "--once"],
        capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert set(studio.delivered("quay")) == {"flyer.pdf"}, done.stderr
    (kept,) = studio.in_work("quay") or [""]
    if kept:
        with (studio.root / "quay/.work" / kept / "claimed/flyer.pdf").open("ab") as late:
            late.write(b"% more\n")
    assert run_hotfolder("run", studio.root, "--once").returncode == 0
    assert studio.in_work("quay") == []
    sizes = [path.stat().st_size for path in everywhere(studio, "flyer.pdf")]
    assert sizes == ([len(source.read_bytes())] + ([len(source.read_bytes()) + 7] if kept else []))
