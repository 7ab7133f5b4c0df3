# The units: what is shipped, what is printed for a studio, and what systemd itself says of both.
#
# Checked against: systemd-analyze (verify, security), systemd-escape, systemd.syntax(7).
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from hotfolder.commands import unit as unit_command
from hotfolder.commands.unit import print_unit, unit_text, units_folder
from hotfolder.errors import ConfigError, UsageError

PROGRAM = Path("/usr/bin/env")  # it exists everywhere, and systemd-analyze asks for no more
SHARED_WORDS = ("ExecStart", "Description", "RequiresMountsFor", "BindPaths")
ODD_NAME = 'Print $tudio 5%h: "A" \\b ünï;#\'x'

needs_systemd = pytest.mark.skipif(
    shutil.which("systemd-analyze") is None, reason="not installed: systemd-analyze"
)


def studio_at(root: Path, text: str = "") -> Path:
    root.mkdir(parents=True)
    (root / "hotfolder.toml").write_text(f'[printers.quay]\nrules = "office-pdf"\n{text}')
    return root


def values(text: str, key: str) -> list[str]:
    return re.findall(rf"^{re.escape(key)}=(.*)$", text, re.MULTILINE)


def analyze(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        ["systemd-analyze", *arguments], capture_output=True, text=True, timeout=60, check=False
    )


@pytest.fixture
def studio(tmp_path: Path) -> Path:
    return studio_at(tmp_path / ODD_NAME)


# What is printed.


def test_a_user_unit_starts_this_program_for_this_studio(tmp_path: Path) -> None:
    studio = studio_at(tmp_path / "studio")

    text = unit_text(studio, system=False, executable=Path("/opt/hotfolder/bin/hotfolder"))

    assert values(text, "ExecStart") == [f'"/opt/hotfolder/bin/hotfolder" run "{studio}"']
    assert values(text, "WantedBy") == ["default.target"]
    assert values(text, "User") == []
    assert "%h" not in text


def test_a_system_unit_may_write_to_the_studio_and_nowhere_else(tmp_path: Path) -> None:
    studio = studio_at(tmp_path / "studio")

    text = unit_text(studio, system=True, executable=PROGRAM)

    assert values(text, "BindPaths") == [f'"{studio}"']
    assert values(text, "RequiresMountsFor") == [f'"{studio}"']
    assert values(text, "ProtectSystem") == ["strict"]
    assert values(text, "ReadWritePaths") == []
    assert "%f" not in text


def test_odd_characters_of_a_path_are_written_as_systemd_reads_them(studio: Path) -> None:
    text = unit_text(studio, system=True, executable=PROGRAM)
    folder = studio.parent

    # systemd.service(5): "$$" is a dollar sign, in a command line only; "%%" is a percent sign.
    assert values(text, "ExecStart") == [
        f'"{PROGRAM}" run "{folder}/Print $$tudio 5%%h: \\"A\\" \\\\b ünï;#\'x"'
    ]
    assert values(text, "BindPaths") == [f'"{folder}/Print $tudio 5%%h: \\"A\\" \\\\b ünï;#\'x"']


@pytest.mark.parametrize("system", [False, True])
def test_a_printed_unit_differs_from_the_shipped_one_in_its_own_lines_only(
    system: bool,  # noqa: FBT001 - a test's parameter
    studio: Path,
) -> None:
    name = "hotfolder@.service" if system else "hotfolder.service"
    shipped = (units_folder() / name).read_text().splitlines()
    printed = unit_text(studio, system=system, executable=PROGRAM).splitlines()

    added = [line for line in printed[printed.index("") :] if line not in shipped]
    assert {line.split("=")[0] for line in added} <= {*SHARED_WORDS, "WatchdogSec", "BindReadOnlyPaths"}
    lost = [line for line in shipped[shipped.index("") :] if line not in printed]
    assert {line.split("=")[0] for line in lost} <= {*SHARED_WORDS, "WatchdogSec"}


def test_state_and_printers_elsewhere_are_writable_too(tmp_path: Path) -> None:
    studio = studio_at(
        tmp_path / "studio",
        f'[printers.far]\nrules = "office-pdf"\n[studio]\nstate = "{tmp_path / "state"}"\n',
    )
    (tmp_path / "share").mkdir()
    (studio / "far").symlink_to(tmp_path / "share")

    text = unit_text(studio, system=True, executable=PROGRAM)

    assert values(text, "BindPaths") == [
        f'"{tmp_path / "state"}" "{studio}" "-{tmp_path / "share"}"'  # a share may be away
    ]
    assert values(text, "RequiresMountsFor") == [f'"{tmp_path / "state"}" "{studio}"']


def test_a_program_in_a_hidden_place_is_shown_to_the_service(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # A virtual environment in somebody's home, with a Python that lies in a home as well.
    python = tmp_path / "python-3.11" / "bin" / "python3.11"
    program = tmp_path / "environment" / "bin" / "hotfolder"
    for path in (python, program):
        path.parent.mkdir(parents=True)
        path.touch()
    (program.parent / "python").symlink_to(python)
    monkeypatch.setattr(unit_command, "_HIDDEN", (tmp_path,))

    text = unit_text(studio_at(tmp_path / "studio"), system=True, executable=program)

    assert values(text, "BindReadOnlyPaths") == [f'"{tmp_path}/environment" "{tmp_path}/python-3.11"']


def test_a_program_in_a_usual_place_needs_no_window(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(unit_command, "_HIDDEN", (Path("/home"),))

    text = unit_text(
        studio_at(tmp_path / "studio"), system=True, executable=Path("/opt/hotfolder/bin/hotfolder")
    )

    assert values(text, "BindReadOnlyPaths") == []


def test_times_follow_the_studio_file(tmp_path: Path) -> None:
    usual = unit_text(studio_at(tmp_path / "a"), system=False, executable=PROGRAM)
    slow = unit_text(
        studio_at(tmp_path / "b", '[timing]\nscan = "20 s"\nstop = "2 min"\n'),
        system=False,
        executable=PROGRAM,
    )

    assert (values(usual, "WatchdogSec"), values(usual, "TimeoutStopSec")) == (["120s"], ["90s"])
    assert (values(slow, "WatchdogSec"), values(slow, "TimeoutStopSec")) == (["300s"], ["180s"])


def test_a_folder_that_no_unit_can_name_is_refused(tmp_path: Path) -> None:
    studio = studio_at(tmp_path / "a\nExecStartPre=b")

    with pytest.raises(UsageError, match="rename"):
        unit_text(studio, system=False, executable=PROGRAM)


def test_a_folder_that_is_no_studio_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ConfigError):
        unit_text(tmp_path, system=False, executable=PROGRAM)


def test_the_printed_unit_starts_the_program_that_prints_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    program = tmp_path / "bin" / "hotfolder"
    program.parent.mkdir()
    program.touch()
    monkeypatch.setattr("sys.executable", str(tmp_path / "bin" / "python"))

    text = print_unit(studio_at(tmp_path / "studio"), system=False)

    assert values(text, "ExecStart")[0].startswith(f'"{program}" run ')


# What systemd says.


@needs_systemd
@pytest.mark.parametrize("system", [False, True])
def test_systemd_finds_nothing_to_object_to_in_a_printed_unit(
    system: bool,  # noqa: FBT001 - a test's parameter
    studio: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    unit = tmp_path / "hotfolder.service"
    unit.write_text(unit_text(studio, system=system, executable=PROGRAM))

    run = analyze("--system" if system else "--user", "verify", str(unit))

    assert run.stdout + run.stderr == ""
    assert run.returncode == 0


@needs_systemd
@pytest.mark.parametrize("name", ["hotfolder.service", "hotfolder@.service"])
def test_systemd_finds_nothing_to_object_to_in_a_shipped_unit(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_RUNTIME_DIR", str(tmp_path))
    text = (units_folder() / name).read_text()
    text = re.sub(r"^ExecStart=\S+", f"ExecStart={PROGRAM}", text, count=1, flags=re.MULTILINE)
    (tmp_path / name).write_text(text)
    studio = f"/srv/{ODD_NAME}".replace(":", "")  # "verify" takes a colon for the begin of an alias
    instance = subprocess.run(
        ["systemd-escape", "--path", studio], capture_output=True, text=True, check=True, timeout=60
    ).stdout.strip()
    unit = tmp_path / name.replace("@", f"@{instance}")

    run = analyze("--system" if "@" in name else "--user", "verify", str(unit))

    assert run.stdout + run.stderr == ""
    assert run.returncode == 0


@needs_systemd
def test_verifying_would_find_a_mistake(studio: Path, tmp_path: Path) -> None:
    unit = tmp_path / "hotfolder.service"
    unit.write_text(
        unit_text(studio, system=True, executable=PROGRAM).replace("KillMode=mixed", "KillMode=gently")
    )

    assert "gently" in analyze("--system", "verify", str(unit)).stderr


@needs_systemd
@pytest.mark.parametrize("printed", [False, True])
def test_the_system_unit_exposes_little(
    printed: bool,  # noqa: FBT001 - a test's parameter
    studio: Path,
    tmp_path: Path,
) -> None:
    shipped = (units_folder() / "hotfolder@.service").read_text()
    unit = tmp_path / ("hotfolder.service" if printed else "hotfolder@.service")
    unit.write_text(unit_text(studio, system=True, executable=PROGRAM) if printed else shipped)

    run = analyze("security", "--offline=true", "--no-pager", str(unit))

    level = re.search(r"Overall exposure level for \S+: ([0-9.]+)", run.stdout)
    assert level is not None
    assert float(level[1]) <= 1.0
