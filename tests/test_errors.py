"""Every error stands in one module, is named in one way, and the tree that its docstring shows is true."""

import ast
import builtins
import inspect
import re

from hotfolder import errors
from tests.house.rooms import modules

CLASSES = {
    name: value
    for name, value in vars(errors).items()
    if inspect.isclass(value) and issubclass(value, Exception)
}
LINE = re.compile(r"(?P<before>[│├└─ ]*)(?P<name>\w+Error)\b {2,}\S")


def is_error(bases: list[str]) -> bool:
    built_in = (getattr(builtins, base, None) for base in bases)
    return any(inspect.isclass(base) and issubclass(base, BaseException) for base in built_in) or any(
        base.removeprefix("errors.").endswith("Error") for base in bases
    )


def test_errors_of_more_than_one_module_stand_in_one_and_all_are_named_alike() -> None:
    elsewhere = {
        f"{module}.{node.name}"
        for module, tree in modules().items()
        for node in ast.walk(tree)
        if isinstance(node, ast.ClassDef) and is_error([ast.unparse(base) for base in node.bases])
        if module != "hotfolder.errors" or not node.name.endswith("Error")
    }
    own = {name for name in elsewhere if re.fullmatch(r"[\w.]+\._\w+Error", name)}
    assert elsewhere - own == set()
    assert "hotfolder.raster.pixels._BrokenDataError" in own  # they are looked for


def test_an_error_of_a_module_alone_is_named_in_no_other() -> None:
    trees = modules()
    for module, tree in trees.items():
        imported = {
            alias.name
            for node in ast.walk(tree)
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("hotfolder")
            for alias in node.names
        }
        assert not {name for name in imported if re.fullmatch(r"_\w+Error", name)}, module


def test_the_tree_in_the_docstring_names_every_error_below_the_one_that_it_is_a_kind_of() -> None:
    shown: dict[str, str | None] = {}
    path: list[str] = []
    for line in (errors.__doc__ or "").splitlines():
        match = LINE.fullmatch(line) or LINE.match(line) or re.fullmatch(r"()(HotfolderError)", line)
        if match is not None:
            depth, name = len(match[1]) // 4, match[2]
            del path[depth:]
            shown[name] = path[-1] if path else None
            path.append(name)
    above = {name: cls.__bases__[0].__name__ for name, cls in CLASSES.items()}
    assert shown == {name: base if base in CLASSES else None for name, base in above.items()}
