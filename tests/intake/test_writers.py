"""Who has a file open for writing, as real processes see it."""

import errno
import fcntl
import mmap
import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from hotfolder.intake import writers
from hotfolder.intake.writers import Writers, writers_of

HOLD = "import sys, time; file = open(sys.argv[1], sys.argv[2]); print('open', flush=True); time.sleep(60)"


@pytest.fixture
def laid(tmp_path: Path) -> Path:
    path = tmp_path / "two words.pdf"
    path.write_bytes(b"%PDF-1.7")
    return path


@pytest.fixture
def no_lease(monkeypatch: pytest.MonkeyPatch) -> None:
    """As for a file of somebody else's: fcntl(2) gives EACCES."""
    real = fcntl.fcntl

    def refuse(descriptor: int, command: int, argument: Any = 0) -> Any:  # noqa: ANN401 - fcntl's own
        if command == fcntl.F_SETLEASE:
            raise OSError(errno.EACCES, "Permission denied")
        return real(descriptor, command, argument)

    monkeypatch.setattr(fcntl, "fcntl", refuse)


@pytest.fixture(autouse=True)
def fresh(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each look is a new one."""
    monkeypatch.setattr(writers, "_FRESH_S", -1.0)


class Holder:
    """Another process that has a file open."""

    def __init__(self, path: Path, mode: str) -> None:
        self._process = subprocess.Popen(
            [sys.executable, "-c", HOLD, str(path), mode], stdout=subprocess.PIPE, text=True
        )
        assert self._process.stdout is not None
        assert self._process.stdout.readline() == "open\n"

    def __enter__(self) -> None:
        pass

    def __exit__(self, *_: object) -> None:
        self._process.kill()
        self._process.communicate()


def test_a_file_that_nobody_has_open_has_no_writer(laid: Path) -> None:
    assert writers_of(laid) is Writers.NONE
    assert laid.read_bytes() == b"%PDF-1.7"


def test_a_reader_is_no_writer(laid: Path) -> None:
    with Holder(laid, "rb"):
        assert writers_of(laid) is Writers.NONE


@pytest.mark.parametrize("mode", ["ab", "r+b"])
def test_a_writer_is_seen_and_its_end_too(laid: Path, mode: str) -> None:
    with Holder(laid, mode):
        assert writers_of(laid) is Writers.SOME
        renamed = laid.rename(laid.with_name("claimed.pdf"))
        assert writers_of(renamed) is Writers.SOME
    assert writers_of(renamed) is Writers.NONE


def test_a_file_that_is_only_mapped_for_writing_has_a_writer(laid: Path) -> None:
    with laid.open("r+b") as file:
        mapped = mmap.mmap(file.fileno(), 8)
    assert writers_of(laid) is Writers.SOME
    mapped.close()
    assert writers_of(laid) is Writers.NONE


@pytest.mark.usefixtures("no_lease")
def test_without_a_lease_the_processes_are_looked_at(laid: Path) -> None:
    assert writers_of(laid) is Writers.UNKNOWN
    with Holder(laid, "rb"):
        assert writers_of(laid) is Writers.UNKNOWN
    with Holder(laid, "ab"):
        assert writers_of(laid) is Writers.SOME
        assert writers_of(laid.rename(laid.with_name("claimed.pdf"))) is Writers.SOME


@pytest.mark.usefixtures("no_lease")
def test_another_file_of_the_same_name_is_another_file(laid: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    other = tmp_path / "elsewhere" / laid.name
    other.write_bytes(b"")
    with Holder(other, "ab"):
        assert writers_of(laid) is Writers.UNKNOWN


def test_of_a_share_nothing_is_known(laid: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The writer may sit at another machine, and a lease is granted all the same."""
    table = tmp_path / "mountinfo"
    escaped = str(laid.parent).replace(" ", "\\040")
    table.write_text(
        "27 1 254:0 / / rw - ext4 /dev/vda rw\n"
        f"40 27 0:50 / {escaped} rw shared:1 - cifs //server/studio rw\n"
    )
    monkeypatch.setattr(writers, "_MOUNTS", table)
    assert writers_of(laid) is Writers.UNKNOWN
    with Holder(laid, "ab"):
        assert writers_of(laid) is Writers.SOME


def test_of_a_folder_that_this_machine_lends_to_others_nothing_is_known(
    laid: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    table = tmp_path / "etab"
    table.write_text(f"{tmp_path}\t*(rw,sync,wdelay)\n")  # as exportfs(8) writes it
    monkeypatch.setattr(writers, "_EXPORTED", table)
    assert writers_of(laid) is Writers.UNKNOWN


def test_what_is_no_file_is_not_opened(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "link").symlink_to(tmp_path / "pipe")
    for name in ("pipe", "link", "nothing"):
        assert writers_of(tmp_path / name) is not Writers.SOME


ASK = """
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from hotfolder.intake.writers import writers_of
print(writers_of(Path(sys.argv[1])).name)
"""
UNIT = Path(__file__).parents[2] / "systemd" / "hotfolder@.service"
needs_other_users = pytest.mark.skipif(
    os.geteuid() != 0 or shutil.which("setpriv") is None, reason="needs root, and setpriv"
)


def asked_as_service(path: Path, capabilities: Sequence[str]) -> str:
    """What a service is told that runs as a user of its own, with these capabilities and no others."""
    kept = "".join(f",+{name.removeprefix('CAP_').lower()}" for name in capabilities)
    rights = (f"--inh-caps=-all{kept}", f"--ambient-caps=-all{kept}", f"--bounding-set=-all{kept}")
    command = ("setpriv", "--reuid=12345", "--regid=12345", "--clear-groups", "--no-new-privs", *rights)
    done = subprocess.run(
        [*command, sys.executable, "-c", ASK, str(path)],
        capture_output=True, text=True, check=True, cwd="/", env={"PYTHONPATH": str(UNIT.parents[1])},
    )  # fmt: skip
    return done.stdout.strip()


@needs_other_users
def test_a_service_with_the_capabilities_of_its_unit_knows_of_other_users_files() -> None:
    granted = re.findall(r"^AmbientCapabilities=(.*)$", UNIT.read_text(encoding="utf-8"), re.MULTILINE)
    with tempfile.TemporaryDirectory() as folder:  # pytest's own folders are for one user alone
        Path(folder).chmod(0o755)
        laid = Path(folder) / "flyer.pdf"
        laid.write_bytes(b"%PDF-1.7")
        laid.chmod(0o644)
        assert asked_as_service(laid, []) == "UNKNOWN"
        assert asked_as_service(laid, granted) == "NONE"
        with Holder(laid, "ab"):
            assert asked_as_service(laid, []) == "UNKNOWN"  # nor may it look into that process
            assert asked_as_service(laid, granted) == "SOME"
