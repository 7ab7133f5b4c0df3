"""A rule set file with the files that it extends, merged key by key.

Each key keeps its place: a mistake is told in the file in which the value stands.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hotfolder.config.tomlfile import KeyPath, TomlFile, dotted, read_toml
from hotfolder.errors import ConfigError, ConfigTrouble, NoSuchRuleSetError
from hotfolder.rulebook.places import find_base

Table = Mapping[str, Any]  # a file's own values; pydantic narrows them


@dataclass(frozen=True, slots=True)
class RuleSetLayers:
    """The files of one rule set: first the set itself, each followed by the one it extends."""

    files: tuple[TomlFile, ...]

    @property
    def merged(self) -> Table:
        """All keys of all files; of a key that several files have, the first one's value."""
        merged: Table = {}
        for file in reversed(self.files):
            merged = _over(merged, file.data)
        return merged

    def trouble(self, key_path: KeyPath, problem: str, remedy: str) -> ConfigTrouble:
        """The mistake at `key_path`, in the first file that has the key, or the table that lacks it."""
        for length in range(len(key_path), 0, -1):
            for file in self.files:
                line = file.line_of(key_path[:length])
                if line is not None:
                    return ConfigTrouble(file.path, line, dotted(key_path), problem, remedy)
        return self.files[0].trouble(key_path, problem, remedy)


def read_layers(path: Path, beside: Path | None) -> RuleSetLayers:
    """The rule set file at `path` with all that it extends, in a studio folder `beside` or in none.

    Raises ConfigError where a file cannot be read as TOML, is not found, or extends itself.
    """
    files = [read_toml(path)]
    while "extends" in files[-1].data:
        extends = files[-1].data["extends"]
        if not isinstance(extends, str):
            remedy = 'Write a rule set\'s name in quotation marks, such as "poster".'
            raise ConfigError((files[-1].trouble(("extends",), "this is not a text", remedy),))
        try:
            base = find_base(extends, tuple(file.path for file in files), beside)
        except NoSuchRuleSetError as error:
            raise ConfigError((files[-1].trouble(("extends",), error.problem, error.remedy),)) from None
        files.append(read_toml(base))
    return RuleSetLayers(tuple(files))


def _over(base: Table, own: Table) -> Table:
    """`base` with the keys of `own` laid over it, tables key by key.

    A figure answers a question: `wanted = "3 mm"` over a table that asks is asked no more.
    """
    merged = dict(base)
    for key, value in own.items():
        below = merged.get(key)
        if isinstance(value, Mapping) and isinstance(below, Mapping):
            answered = set(value) - {"ask", "apply", "severity"} and "ask" not in value
            kept = {name: each for name, each in below.items() if name != "ask"} if answered else below
            merged[key] = _over(kept, value)
        else:
            merged[key] = value
    return merged
