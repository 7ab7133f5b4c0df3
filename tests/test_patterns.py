# Python 3.11.2, which Debian 12 ships, gets possessive repeats and atomic groups wrong: `(?:ab?c)*+d?` on
# b"abcabcab" gives b"abcabca". Later releases are right; no pattern may rely on which one it is.
import ast
import importlib
import pkgutil
import re
from collections.abc import Iterator
from pathlib import Path
from re import _parser as parser  # type: ignore[attr-defined] # the library's own reading of a pattern

import pytest

import hotfolder

UNSOUND = {"POSSESSIVE_REPEAT", "ATOMIC_GROUP"}
FOLDER = Path(hotfolder.__file__).parent


def operations(parsed: object) -> Iterator[str]:
    """The names of all operations of a parsed pattern, however deep."""
    if isinstance(parsed, parser.SubPattern):
        for operation, argument in parsed:
            yield str(operation)
            yield from operations(argument)
    elif isinstance(parsed, (tuple, list)):
        for each in parsed:
            yield from operations(each)


def is_unsound(pattern: str | bytes) -> bool:
    return not UNSOUND.isdisjoint(operations(parser.parse(pattern)))


def compiled_patterns() -> Iterator[tuple[str, str | bytes]]:
    """All patterns that stand in a module of the program, with its name."""
    for module in pkgutil.walk_packages([str(FOLDER)], "hotfolder."):
        if module.name.endswith("__main__"):
            continue
        for name, value in vars(importlib.import_module(module.name)).items():
            if isinstance(value, re.Pattern):
                yield f"{module.name}.{name}", value.pattern


def patterns_in_calls() -> Iterator[tuple[str, str | bytes]]:
    """All patterns that are written out in a call of `re`, with their place."""
    for path in FOLDER.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text())):
            if (
                isinstance(node, ast.Call)
                and ast.unparse(node.func).startswith("re.")
                and node.args
                and isinstance(node.args[0], ast.Constant)
                and isinstance(node.args[0].value, str | bytes)
            ):
                yield f"{path.name}:{node.lineno}", node.args[0].value


@pytest.mark.parametrize("pattern", [rb"(?:ab?c)*+d?", r"a++", r"(x(?>ab|a)c)", r"a?+", r"(?:y|a{1,3}+)"])
def test_an_unsound_pattern_is_known(pattern: str | bytes) -> None:
    assert is_unsound(pattern)
    assert not is_unsound(r"(?:ab?c)*d?")


def test_no_pattern_relies_on_what_debians_python_gets_wrong() -> None:
    patterns = [*compiled_patterns(), *patterns_in_calls()]
    assert len(patterns) > 20
    assert [place for place, pattern in patterns if is_unsound(pattern)] == []
