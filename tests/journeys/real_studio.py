"""A real studio with a real daemon process, for the journeys."""

import hashlib
import json
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Self

import pikepdf

HOTFOLDER = (sys.executable, "-m", "hotfolder")
QUICK = """[timing]
scan = "0.2 s"
quiet = "0.7 s"
unfinished = "1.5 s"
keep = "2 s"
stop = "10 s"
[notices]
desktop = false
"""
MM = 72 / 25.4


def run_hotfolder(*arguments: str | Path, timeout: float = 60) -> subprocess.CompletedProcess[str]:
    """Run a command of ours to its end."""
    return subprocess.run(
        [*HOTFOLDER, *map(str, arguments)], capture_output=True, text=True, timeout=timeout, check=False
    )


def wait_until(true: Callable[[], bool], seconds: float = 60.0) -> bool:
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        if true():
            return True
        time.sleep(0.05)
    return False


def office_pdf(text: str, pages: int = 1) -> bytes:
    """A small PDF that nothing is asked of: an A4 page with a grey bar; `text` makes its bytes unique."""
    pdf = pikepdf.new()
    for number in range(pages):
        page = pdf.add_blank_page(page_size=(210 * MM, 297 * MM))
        page.trimbox = page.mediabox
        page.contents_add(f"% {text} {number}\n0.5 g 100 100 200 50 re f\n".encode())
    folder = Path(os.environ.get("TMPDIR", "/tmp"))
    target = folder / f"hotfolder-test-{os.getpid()}.pdf"
    pdf.save(target, deterministic_id=True)
    try:
        return target.read_bytes()
    finally:
        target.unlink()


def sha256(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def _is_sidecar(path: Path) -> bool:
    return path.name.endswith((".report.json", ".report.html"))


class RealStudio:
    """A studio folder, its daemon, and how to look at both."""

    def __init__(self, root: Path, printers: dict[str, str]) -> None:
        self.root = root
        options = [f"--printer={name}={rules}" for name, rules in printers.items()]
        laid = run_hotfolder("init", root, *options)
        assert laid.returncode == 0, laid.stderr
        file = root / "hotfolder.toml"
        kept = re.sub(r"(?m)^\[(timing|limits|notices)\]$", r"# [\1]", file.read_text())
        kept = re.sub(r"(?m)^(scan|quiet|empty|stop|desktop|gather)\b", r"# \1", kept)
        file.write_text(f"{kept}\n{QUICK}")
        self.daemon: subprocess.Popen[str] | None = None
        self.log = root.parent / "daemon.log"

    def start(self, command: Sequence[str] = HOTFOLDER) -> Self:
        with self.log.open("a") as log:
            self.daemon = subprocess.Popen([*command, "run", str(self.root)], stderr=log, text=True)
        return self

    def stop(self, number: int = signal.SIGTERM) -> int:
        assert self.daemon is not None
        self.daemon.send_signal(number)
        status = self.daemon.wait(30)
        self.daemon = None
        return status

    @contextmanager
    def running(self, command: Sequence[str] = HOTFOLDER) -> Iterator[Self]:
        self.start(command)
        try:
            yield self
        finally:
            if self.daemon is not None:
                self.daemon.kill()
                self.daemon.wait(30)

    def inbox(self, printer: str) -> Path:
        return self.root / printer / "inbox"

    def delivered(self, printer: str) -> dict[str, Path]:
        """Artwork by name in outbox and needs-fixing, without sidecars."""
        found: dict[str, Path] = {}
        for place in ("outbox", "needs-fixing"):
            for path in (self.root / printer / place).iterdir():
                if path.is_file() and not path.name.startswith(".") and not _is_sidecar(path):
                    assert path.name not in found, f"{path.name} was delivered twice"
                    found[path.name] = path
        return found

    def waiting(self, printer: str) -> list[str]:
        """What lies in the inbox, but for the marker."""
        return sorted(path.name for path in self.inbox(printer).iterdir() if not path.name.startswith("."))

    def in_work(self, printer: str) -> list[str]:
        return sorted(path.name for path in (self.root / printer / ".work").iterdir())

    def report(self, artwork: Path) -> dict[str, Any]:
        found: dict[str, Any] = json.loads(artwork.with_name(f"{artwork.name}.report.json").read_text())
        return found

    def has_sidecars(self, artwork: Path) -> bool:
        return all(artwork.with_name(f"{artwork.name}.report.{kind}").is_file() for kind in ("json", "html"))

    def logged(self) -> str:
        return self.log.read_text() if self.log.exists() else ""
