"""`hotfolder unit`: a systemd unit with the right paths for a studio.

The units in `systemd/` are the template, so that what people read there and what is printed
here never part: only the lines whose values belong to this studio are set anew.
Source for the quoting: systemd.syntax(7), systemd.service(5) "Command lines", systemd.exec(5).
"""

import math
import shutil
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Final

import hotfolder
from hotfolder.config.studio import Studio, load_studio
from hotfolder.errors import UsageError

# Where the template has other people's files hidden (ProtectHome=, PrivateTmp=).
_HIDDEN: Final = tuple(map(Path, ("/home", "/root", "/run/user", "/tmp", "/var/tmp")))  # noqa: S108 - nothing is written there

_USER_HEAD: Final = """\
# Printed by "hotfolder unit" for one studio.
# Save as ~/.config/systemd/user/hotfolder.service, then:
#   systemctl --user daemon-reload
#   systemctl --user enable --now hotfolder
"""
_SYSTEM_HEAD: Final = """\
# Printed by "hotfolder unit --system" for one studio.
# Save as /etc/systemd/system/hotfolder.service, then:
#   useradd --system --user-group --home-dir /nonexistent --shell /usr/sbin/nologin hotfolder
#   systemctl daemon-reload
#   systemctl enable --now hotfolder
# The studio's folders must be writable for that user.
"""


def print_unit(studio: Path, *, system: bool) -> str:
    """The unit for `studio`, run by the program that prints it."""
    return unit_text(studio, system=system, executable=this_executable())


def this_executable() -> Path:
    """The `hotfolder` beside the running Python, else the one on the search path."""
    beside = Path(sys.executable).absolute().with_name("hotfolder")
    if beside.exists():
        return beside
    program = shutil.which("hotfolder")
    if program is None:
        message = "a unit needs an installed 'hotfolder' program to start; install it, then ask again"
        raise UsageError(message)
    return Path(program).absolute()


def unit_text(studio_root: Path, *, system: bool, executable: Path) -> str:
    """The unit that runs `executable` for the studio in `studio_root`.

    system: for a server, with a user of its own; else for one person's session. ConfigError where
    the studio file is wrong, UsageError where a path cannot be written into a unit.
    """
    studio = load_studio(studio_root.resolve())
    name = "hotfolder@.service" if system else "hotfolder.service"
    unit = _UnitLines((units_folder() / name).read_text(encoding="utf-8"))
    unit.set_head(_SYSTEM_HEAD if system else _USER_HEAD)
    unit.set("Description", f'hotfolder: checks the artwork that is dropped into "{_percent(studio.root)}"')
    unit.set("ExecStart", f"{_quoted(executable)} run {_quoted(studio.root).replace('$', '$$')}")
    # The daemon calls an inbox late after five scans, and waits half a minute for its threads.
    unit.set("WatchdogSec", f"{max(120, math.ceil(15 * studio.timing.scan_s))}s")
    unit.set("TimeoutStopSec", f"{max(90, math.ceil(studio.timing.stop_s) + 60)}s")
    if system:
        needed = _outermost([studio.root, studio.state.resolve()])
        unit.set("RequiresMountsFor", _list(needed))
        unit.set("BindPaths", _list(needed, _shares_elsewhere(studio, needed)))
        hidden = _outermost(place for place in _program(executable) if _is_hidden(place))
        if hidden:
            unit.add_after("BindPaths", f"BindReadOnlyPaths={_list(hidden)}")
    return unit.text()


def units_folder() -> Path:
    """Where the units lie that people read: in the package once installed, else in the checkout."""
    package = Path(hotfolder.__file__).parent
    installed = package / "data" / "systemd"
    return installed if installed.is_dir() else package.parent / "systemd"


class _UnitLines:
    """The lines of a unit, of which single ones are set anew."""

    def __init__(self, text: str) -> None:
        self._lines = text.splitlines()

    def set_head(self, head: str) -> None:
        """Put `head` in the place of the comment at the top."""
        self._lines[: self._lines.index("")] = head.splitlines()

    def set(self, key: str, value: str) -> None:
        """Give the one line of `key` another value."""
        self._lines[self._place(key)] = f"{key}={value}"

    def add_after(self, key: str, line: str) -> None:
        """Add `line` behind the one line of `key`."""
        self._lines.insert(self._place(key) + 1, line)

    def text(self) -> str:
        """The whole unit."""
        return "\n".join(self._lines) + "\n"

    def _place(self, key: str) -> int:
        (place,) = (number for number, line in enumerate(self._lines) if line.startswith(f"{key}="))
        return place


def _shares_elsewhere(studio: Studio, needed: Iterable[Path]) -> list[Path]:
    """Printers' folders that are links out of the studio; they may be away when the unit starts."""
    folders = _outermost(printer.folder.resolve() for printer in studio.printers)
    return [folder for folder in folders if not any(folder.is_relative_to(place) for place in needed)]


def _program(executable: Path) -> tuple[Path, ...]:
    """The folders without which `executable` does not run: environment, Python, our own code."""
    python = executable.with_name("python")
    return (
        executable.parent.parent,
        python.resolve().parent.parent,
        Path(hotfolder.__file__).resolve().parent.parent,
    )


def _is_hidden(path: Path) -> bool:
    return any(path.is_relative_to(place) for place in _HIDDEN)


def _outermost(paths: Iterable[Path]) -> list[Path]:
    """`paths` without those that lie in another one, each once, in order."""
    kept: list[Path] = []
    for path in sorted(set(paths)):
        if not any(path.is_relative_to(outer) for outer in kept):
            kept.append(path)
    return kept


def _list(paths: Iterable[Path], optional: Iterable[Path] = ()) -> str:
    """`paths` as one setting; the `optional` ones may be missing."""
    return " ".join([*map(_quoted, paths), *(f'"-{_quoted(path)[1:]}' for path in optional)])


def _quoted(path: Path) -> str:
    text = _percent(path).replace("\\", "\\\\").replace('"', '\\"')
    return f'"{text}"'


def _percent(path: Path) -> str:
    """`path` with its percent signs doubled, for they begin systemd's specifiers."""
    text = str(path)
    if not text.isprintable():
        message = f"{text!r} has characters that a systemd unit cannot hold; rename the folder"
        raise UsageError(message)
    return text.replace("%", "%%")
