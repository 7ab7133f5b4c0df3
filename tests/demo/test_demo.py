# The demonstration as a newcomer starts it, and that it fails where a verdict is not what it promised.

import json
import os
import shlex
import shutil
import subprocess
import sys
import time
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from hotfolder.config.studio import Studio, load_studio
from hotfolder.demo import demonstration
from hotfolder.demo.artwork.pieces import COPIES, DemoPiece, pieces
from hotfolder.demo.result import result_of
from hotfolder.demo.studio import demo_folder
from hotfolder.desk.closed_jobs import ClosedJob, closed_jobs
from hotfolder.errors import UsageError
from hotfolder.model.findings import Verdict
from hotfolder.store.audit_log.verifying import verify

NOTES = next(piece for piece in pieces() if piece.name == "notes-for-the-printer.pdf")


@dataclass(frozen=True)
class Shown:
    """A demonstration that ran to its end as a process of its own, where nobody sits at a terminal."""

    folder: Path
    status: int
    seconds: float
    said: str

    @property
    def studio(self) -> Studio:
        return load_studio(self.folder)

    def closed(self, piece: DemoPiece) -> ClosedJob:
        jobs = closed_jobs(self.studio.audit).values()
        wanted = (piece.printer, piece.product, piece.name)
        (job_found,) = (job for job in jobs if (job.printer, job.product, job.name) == wanted)
        return job_found


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> Shown:
    folder = tmp_path_factory.mktemp("demo") / "studio"
    began = time.monotonic()
    command = [sys.executable, "-m", "hotfolder", "demo", str(folder)]
    anywhere = {name: value for name, value in os.environ.items() if name != "COLUMNS"}
    done = subprocess.run(command, capture_output=True, text=True, timeout=150, check=False, env=anywhere)
    return Shown(folder, done.returncode, time.monotonic() - began, done.stdout + done.stderr)


def test_it_ends_well_in_less_than_half_a_minute(shown: Shown) -> None:
    assert shown.status == 0, shown.said
    assert shown.seconds < 30


def test_every_piece_lies_where_it_belongs_with_its_reports(shown: Shown) -> None:
    for piece in pieces():
        printer = shown.studio.printer(piece.printer)
        home, reports = (
            (printer.outbox, printer.ready_sidecars)
            if piece.is_to_be_ready
            else (printer.needs_fixing, printer.needs_fixing)
        )
        assert (home / piece.name).is_file(), piece.name
        report = json.loads((reports / f"{piece.name}.report.json").read_text())
        codes = {f"{finding['rule']}.{finding['code']}" for finding in report["findings"]}
        assert codes >= piece.must_fix | piece.advice, piece.name
        assert report["job"] == shown.closed(piece).job
        assert (reports / f"{piece.name}.report.html").is_file(), piece.name
        assert not (shown.folder / piece.inbox / piece.name).exists()


def test_the_record_holds_and_knows_every_piece(shown: Shown) -> None:
    report = verify(shown.studio.audit)
    assert report.troubles == ()
    assert report.jobs == len(pieces())


def test_it_names_every_report_and_the_commands_to_go_on_with(shown: Shown) -> None:
    for path in shown.folder.rglob("*.report.html"):
        assert str(path) in shown.said
    for command in ("audit", "release", "run"):
        assert f"-m hotfolder {command} {shown.folder}" in shown.said


def test_a_narrow_terminal_gets_no_longer_lines(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", "60")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "argv", ["hotfolder"])
    monkeypatch.setattr(demonstration, "pieces", lambda: (NOTES,))
    assert demonstration.run_demo(None) == 0
    said = capsys.readouterr().out
    assert [line for line in said.splitlines() if len(line) > 60] == []
    # What is joined in several lines is still one command for a shell.
    joined = said.replace("\\\n", " ")
    (release,) = (line for line in joined.splitlines() if line.startswith("  hotfolder release"))
    assert shlex.split(release) == [
        *("hotfolder", "release", "hotfolder-demo", NOTES.name),
        *("--by", "your name", "--reason", "why"),
    ]


def test_a_piece_copied_in_bit_by_bit_is_taken_only_when_it_is_whole(shown: Shown) -> None:
    (slow,) = (piece for piece in pieces() if piece.slowly)
    delivered = shown.studio.printer(slow.printer).outbox / slow.name
    assert delivered.read_bytes() == (shown.folder / "artwork" / slow.name).read_bytes()


@pytest.mark.parametrize(
    ("promised", "differs"),
    [
        ({"must_fix": frozenset({"bleed.cut-off"})}, {"bleed.cut-off", "file-type.unknown"}),
        ({"must_fix": frozenset()}, {"ready was expected", "file-type.unknown"}),
        ({"advice": frozenset({"file-name.too-long"})}, {"file-name.too-long (advice) was not found"}),
    ],
)
def test_a_piece_that_came_otherwise_than_promised_is_told(
    shown: Shown, promised: dict[str, frozenset[str]], differs: set[str]
) -> None:
    piece = replace(NOTES, **promised)  # type: ignore[arg-type] # a piece's own fields
    result = result_of(shown.studio, piece, shown.closed(piece))
    assert result.verdict is Verdict.NEEDS_FIXING
    assert all(words in result.differs for words in differs), result.differs


def test_the_verdict_must_be_the_same_in_report_and_record(shown: Shown) -> None:
    closed = shown.closed(NOTES)
    assert closed.summary is not None
    altered = replace(closed, summary=replace(closed.summary, verdict=Verdict.READY))
    assert "audit log says ready" in result_of(shown.studio, NOTES, altered).differs


def test_a_wrong_promise_makes_the_demonstration_fail(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    good = DemoPiece(COPIES, NOTES.name, "promised to be good", NOTES.make)
    monkeypatch.setattr(demonstration, "pieces", lambda: (good,))
    assert demonstration.run_demo(tmp_path / "studio") == 3
    assert "ready was expected" in " ".join(capsys.readouterr().out.split())


def test_a_daemon_that_dies_makes_the_demonstration_fail(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    ends_at_once = shutil.which("false")
    assert ends_at_once is not None
    monkeypatch.setattr(demonstration, "pieces", lambda: (NOTES,))
    monkeypatch.setattr(sys, "executable", ends_at_once)
    assert demonstration.run_demo(tmp_path / "studio") == 3
    said = " ".join(capsys.readouterr().out.split())
    assert "it was not finished" in said
    assert "ended with status 1" in said


def test_a_folder_that_is_not_empty_is_refused_and_left_alone(tmp_path: Path) -> None:
    (tmp_path / "kept.txt").write_text("mine")
    with pytest.raises(UsageError):
        demonstration.run_demo(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["kept.txt"]
    assert (tmp_path / "kept.txt").read_text() == "mine"


def test_without_a_folder_each_demonstration_gets_a_new_one_here(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "hotfolder-demo-2").symlink_to(tmp_path / "nowhere")  # a name that is taken, too
    assert [demo_folder(None).name for _ in range(2)] == ["hotfolder-demo", "hotfolder-demo-3"]
    assert demo_folder(tmp_path / "hotfolder-demo") == tmp_path / "hotfolder-demo"  # empty
