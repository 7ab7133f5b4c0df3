"""A TOML file and the line on which each of its keys stands.

The standard library's reader tells values without their places. A mistake in a studio file
or a rule set must be told by its line, so a small scanner of our own walks the same text
once more and notes where keys begin. It runs only on text that the reader has accepted and
relies on that. Source: TOML v1.0.0 (toml.io).
"""

import bisect
import json
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from hotfolder.errors import ConfigError, ConfigTrouble

# A studio file with a thousand printers has about 100 kB; more is a file of another kind.
MAX_BYTES: Final = 1_000_000

KeyPath = tuple[str | int, ...]
"""Where a value stands: `("printers", "quay", "rules")`; a number counts in an array, from 0."""


@dataclass(frozen=True, slots=True)
class TomlFile:
    """What a TOML file says, and where it says it."""

    path: Path
    data: Mapping[str, Any]  # the values are the file's own; pydantic narrows them
    lines: Mapping[KeyPath, int] = field(repr=False)

    def line_of(self, key_path: KeyPath) -> int | None:
        """The 1-based line on which the key stands; None where the file has no such key."""
        return self.lines.get(key_path)

    def trouble(self, key_path: KeyPath, problem: str, remedy: str) -> ConfigTrouble:
        """The mistake at `key_path`; its line is that of the key, or of the table that lacks it."""
        place = key_path
        while place and place not in self.lines:
            place = place[:-1]
        return ConfigTrouble(self.path, self.lines.get(place), dotted(key_path), problem, remedy)


def read_toml(path: Path) -> TomlFile:
    """The TOML file at `path`.

    Raises ConfigError where there is no such file, where it cannot be read, is larger than
    `MAX_BYTES`, is not UTF-8, or breaks TOML's syntax.
    """
    text = _text(path)
    try:
        return TomlFile(path, tomllib.loads(text), _Scanner(text.replace("\r\n", "\n")).scan())
    except RecursionError:
        raise _broken(path, None, "the arrays or tables are nested too deeply") from None
    except ValueError as error:
        # tomllib tells the line only inside its text (attributes come with Python 3.14).
        place = re.search(r" \(at (?:line (\d+), column \d+|end of document)\)$", str(error))
        line = int(place[1]) if place and place[1] else text.count("\n") + 1 if place else None
        problem = str(error)[: place.start()] if place else str(error)
        raise _broken(path, line, problem[:1].lower() + problem[1:]) from None


def dotted(key_path: KeyPath) -> str:
    """The key as it is written in TOML: `printers.quay.rules`, `sizes[1]`, `"a b".c`."""
    text = ""
    for part in key_path:
        if isinstance(part, int):
            text += f"[{part}]"
        else:
            text += ("." if text else "") + key_text(part)
    return text


def key_text(name: str) -> str:
    """`name` as a TOML key: bare where TOML allows it, else in quotation marks."""
    return name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else quoted(name)


def quoted(value: str) -> str:
    """`value` as a TOML basic string. JSON's escapes are TOML's too, but for the delete character."""
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def _text(path: Path) -> str:
    try:
        if path.exists() and not path.is_file():  # a folder, or a pipe, whose opening would wait
            raise _broken(path, None, "this is not a file", "Give the path of a TOML file.")
        with path.open("rb") as file:
            raw = file.read(MAX_BYTES + 1)
    except FileNotFoundError:
        raise _broken(path, None, "there is no such file", "Check the path.") from None
    except OSError as error:
        problem = f"the file cannot be read: {error.strerror or error}"
        raise _broken(path, None, problem, "Give its reader the right to read it.") from error
    if len(raw) > MAX_BYTES:
        problem = f"the file is larger than {MAX_BYTES // 1000} kB"
        raise _broken(path, None, problem, "This is probably another kind of file; check the path.")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise _broken(path, line, "the text is not UTF-8", "Save the file as UTF-8.") from None


def _broken(path: Path, line: int | None, problem: str, remedy: str = "") -> ConfigError:
    remedy = remedy or "Texts need quotation marks, tables stand in [brackets], each key occurs once."
    return ConfigError((ConfigTrouble(path, line, "", problem, remedy),))


_BARE: Final = re.compile(r"[A-Za-z0-9_-]+")
_STRING: Final = re.compile(
    r'"""(?:[^\\]|\\.)*?"""(?!")|\'\'\'.*?\'\'\'(?!\')|"(?:[^"\\]|\\.)*"|\'[^\']*\'', re.DOTALL
)
_SPACE: Final = re.compile(r"[ \t]*")
_GAP: Final = re.compile(r"(?:[ \t\n]|#[^\n]*)*")
_PLAIN_VALUE: Final = re.compile(r"[^,\]}#\n]*")


class _Scanner:
    """Walks accepted TOML text and notes the line of each key, table and array element."""

    def __init__(self, text: str) -> None:
        self._text = text
        self._at = 0
        self._lines: dict[KeyPath, int] = {}
        self._line_ends = [match.start() for match in re.finditer("\n", text)]
        self._elements: dict[KeyPath, int] = {}  # how many tables each array of tables has so far

    def scan(self) -> Mapping[KeyPath, int]:
        """The line of each key path."""
        table: KeyPath = ()
        self._skip(_GAP)
        while self._at < len(self._text):
            if self._next("[["):
                table = self._new_element(self._key(()))
                self._take("]]")
            elif self._next("["):
                table = self._header(self._key(()))
                self._take("]")
            else:
                self._pair(table)
            self._skip(_GAP)
        return self._lines

    def _pair(self, table: KeyPath) -> None:
        path = table + self._key(())
        for length in range(len(table) + 1, len(path) + 1):
            self._note(path[:length])
        self._take("=")
        self._value(path)

    def _value(self, path: KeyPath) -> None:
        self._skip(_SPACE)
        if self._next("["):
            self._array(path)
        elif self._next("{"):
            self._inline_table(path)
        elif _STRING.match(self._text, self._at):
            self._skip(_STRING)
        else:
            self._skip(_PLAIN_VALUE)

    def _array(self, path: KeyPath) -> None:
        index = 0
        self._skip(_GAP)
        while not self._next("]"):
            self._note((*path, index))
            self._value((*path, index))
            index += 1
            self._skip(_GAP)
            self._next(",")
            self._skip(_GAP)

    def _inline_table(self, path: KeyPath) -> None:
        self._skip(_GAP)
        while not self._next("}"):
            self._pair(path)
            self._skip(_GAP)
            self._next(",")
            self._skip(_GAP)

    def _key(self, so_far: KeyPath) -> KeyPath:
        """A key with all its dotted parts."""
        self._skip(_SPACE)
        match = _BARE.match(self._text, self._at) or _STRING.match(self._text, self._at)
        assert match is not None, "tomllib accepted this text"  # noqa: S101 - see the class
        self._at = match.end()
        # A quoted key may hold escapes; the reader knows how to resolve them.
        part = match[0] if _BARE.fullmatch(match[0]) else str(tomllib.loads(f"k={match[0]}")["k"])
        self._skip(_SPACE)
        if self._next("."):
            return self._key((*so_far, part))
        return (*so_far, part)

    def _resolved(self, header: KeyPath) -> KeyPath:
        """`header` with the number of the latest element after each array of tables in it."""
        path: KeyPath = ()
        for part in header:
            path = (*path, part)
            if path in self._elements:
                path = (*path, self._elements[path] - 1)
        return path

    def _header(self, key: KeyPath) -> KeyPath:
        table = self._resolved(key)
        for length in range(1, len(table)):
            self._note(table[:length])
        self._lines[table] = self._line(self._at)  # its own header, even where a subtable came first
        return table

    def _new_element(self, header: KeyPath) -> KeyPath:
        array = (*self._resolved(header[:-1]), header[-1])
        index = self._elements.get(array, 0)
        self._elements[array] = index + 1
        self._note(array)
        self._note((*array, index))
        return (*array, index)

    def _note(self, path: KeyPath) -> None:
        """Notes that `path` stands on this line, unless it stood on an earlier one: the first counts."""
        self._lines.setdefault(path, self._line(self._at))

    def _line(self, at: int) -> int:
        return bisect.bisect_left(self._line_ends, at) + 1

    def _skip(self, pattern: re.Pattern[str]) -> None:
        match = pattern.match(self._text, self._at)
        if match is not None:
            self._at = match.end()

    def _next(self, token: str) -> bool:
        """Whether `token` comes next; it is then taken."""
        if self._text.startswith(token, self._at):
            self._at += len(token)
            return True
        return False

    def _take(self, token: str) -> None:
        self._skip(_SPACE)
        self._next(token)
