"""The printing conditions that hotfolder knows, and those that a profile file tells of.

The known ones stand in `presses.toml` here, with the origin of each profile.
"""

import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, Final

from hotfolder.colour.icc import read_profile, tags_of
from hotfolder.colour.littlecms_library import library
from hotfolder.errors import ConfigError, ConfigTrouble
from hotfolder.model.press import Press
from hotfolder.wording.nearest import nearest

_FOLDER: Final = Path(__file__).parent
_ENDINGS: Final = (".icc", ".icm")
_MOST_BYTES: Final = 50_000_000  # press profiles have up to a few megabytes


def shipped_presses() -> tuple[Press, ...]:
    """The conditions that hotfolder brings a profile for, in the order of their table."""
    return tuple(press for press, _ in _known() if press.profile is not None)


def conditions_without_profile() -> tuple[Press, ...]:
    """The conditions of the ICC's registry that hotfolder knows by name only."""
    return tuple(press for press, _ in _known() if press.profile is None)


def load_press(name_or_path: str, beside: Path | None = None) -> Press:
    """The press that `name_or_path` means.

    It is the name of a shipped press, or that of a condition in the ICC's registry, whose case, spaces and
    hyphens do not count; or the path of a profile file that ends in .icc or .icm and counts from the folder
    `beside`, without one from the working folder. A condition without a profile here is a Press all the
    same, whose `profile` is None.

    Raises ConfigError, its trouble without a line, where nothing is known by that name (it tells the
    nearest), where there is no such file, or where it is no output profile for CMYK that colours can be
    converted to. MissingColourEngineError where it has a profile, and nothing installed can convert with
    one: so that is known before the first file is measured.
    """
    press = _named(name_or_path)
    if press is None and name_or_path.casefold().endswith(_ENDINGS):
        press = _own_profile((beside or Path()) / Path(name_or_path).expanduser())
    if press is None:
        raise _unknown(name_or_path)
    if press.profile is not None:
        library()
    return press


def _named(name: str) -> Press | None:
    """The press or condition that is known by a name; None where none is."""
    return next((press for press, names in _known() if _plain(name) in map(_plain, names)), None)


@cache
def _known() -> tuple[tuple[Press, tuple[str, ...]], ...]:
    """Every known press, each with all names that mean it."""
    table = tomllib.loads((_FOLDER / "presses.toml").read_text(encoding="utf-8"))
    return tuple(_read(table))


def _read(table: dict[str, Any]) -> Iterator[tuple[Press, tuple[str, ...]]]:
    made = table["made"]
    for entry in table["press"]:
        name = entry["name"]
        press = Press(
            name=name,
            title=entry["title"],
            profile=_FOLDER / f"{name}.icc",
            total_ink_percent=float(entry["total_ink_percent"]),
            origin=f"made by {made['with']} from the characterisation data {entry['measured']}",
        )
        yield press, (name, entry["condition"], *entry["aliases"])
    for entry in table["condition"]:
        yield Press(entry["name"], entry["title"], None), (entry["name"], *entry.get("aliases", ()))


def _unknown(name: str) -> ConfigError:
    meant = nearest(name, [known for _, names in _known() for known in names])
    guess = f"Did you mean '{meant}'? " if meant is not None else ""
    shipped = ", ".join(press.name for press in shipped_presses())
    remedy = f"{guess}There are {shipped}; or give the path of a profile, ending in .icc or .icm."
    return _trouble(Path(name), f"no printing condition is called '{name}'", remedy)


def _own_profile(path: Path) -> Press:
    try:
        with path.open("rb") as file:
            data = file.read(_MOST_BYTES + 1)
    except OSError as error:
        raise _trouble(path, f"the profile cannot be read: {error.strerror}", "Check the path.") from None
    profile = read_profile(data)
    if profile is None or len(data) > _MOST_BYTES:
        raise _trouble(path, "this is no ICC profile", "Give the printer's profile file.")
    if profile.space != "CMYK":
        problem = f"the profile '{profile.title}' is for {profile.space} colours, not for the inks of a press"
        raise _trouble(path, problem, "Give an output profile for CMYK, that of the paper and the press.")
    tags = tags_of(data)
    # Tables to the device and from it, for the media-relative intent or for all (ICC.1:2022, 8.4.2).
    if profile.device_class != "prtr" or not ({"B2A0", "B2A1"} & tags and {"A2B0", "A2B1"} & tags):
        problem = f"the profile '{profile.title}' has no tables that lead to a press's inks and back"
        raise _trouble(path, problem, "Give an output profile: others serve for reading colours only.")
    return Press(path.name, profile.title, path.absolute(), origin=f"the profile file {path.name}")


def _plain(name: str) -> str:
    """`name` as it is compared."""
    return "".join(char for char in name.casefold() if char not in " -_/")


def _trouble(file: Path, problem: str, remedy: str) -> ConfigError:
    return ConfigError((ConfigTrouble(file, None, "", problem, remedy),))
