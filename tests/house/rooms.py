"""Who may import whom: the one table of the program's rooms, from top to bottom.

A room is a module or a package at the top of `hotfolder/`. It may import the rooms named beside it and no
others; all of them stand below it. DEVELOPERS.md shows this table: `python -m tests.house` prints it.
"""

import ast
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import hotfolder

HERE: Final = Path(hotfolder.__file__).parent

MAY_IMPORT: Final[dict[str, str]] = {
    "__main__": "cli",
    "cli": "demo commands wording errors",
    "demo": "commands desk delivery store config wording model errors units",
    "commands": "daemon desk intake host delivery store children rulebook presses checks report config"
    " wording model errors units",
    "daemon": "desk intake host config wording model errors",
    "desk": "intake delivery store report config wording model errors",
    "intake": "config wording",
    "host": "config wording model",
    "delivery": "store report config model errors",
    "store": "config wording model digest errors",
    "workshop": "children drawing measure checks report model units",
    "children": "report config model digest errors",
    "rulebook": "presses checks config wording model errors",
    "presses": "colour wording model errors",
    "drawing": "measure pdf raster colour model errors units",
    "measure": "pdf raster colour model digest units",
    "pdf": "raster colour model errors units",
    "raster": "colour model errors",
    "checks": "colour wording model units",
    "report": "colour wording model units",
    "colour": "model errors",
    "config": "wording errors units",
    "wording": "model units",
    "model": "units",
    "digest": "",
    "errors": "",
    "units": "",
}


def room_of(module: str) -> str:
    """The room of a module: `hotfolder.pdf.fonts.sfnt` lies in `pdf`."""
    return module.split(".")[1]


def modules() -> dict[str, ast.Module]:
    """Every module of the program but `hotfolder` itself, by its dotted name."""
    found = {}
    for path in sorted(HERE.rglob("*.py")):
        parts = ["hotfolder", *path.relative_to(HERE).with_suffix("").parts]
        name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
        if name != "hotfolder":
            found[name] = ast.parse(path.read_text(encoding="utf-8"))
    return found


def imports(tree: ast.Module, known: set[str]) -> Iterator[str]:
    """The modules of the program that `tree` imports, wherever in it; `known` are all there are."""
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("hotfolder"):
            for alias in node.names:
                whole = f"{node.module}.{alias.name}"
                target = whole if whole in known else node.module or ""
                if target != "hotfolder":  # its version
                    yield target
        elif isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names if alias.name.startswith("hotfolder."))


def table() -> str:
    """The table as DEVELOPERS.md shows it: what a room holds is the first line of its docstring."""
    lines = ["| room | holds | may import |", "| --- | --- | --- |"]
    trees = modules()
    for room, below in MAY_IMPORT.items():
        if room == "__main__":
            continue
        holds = _first_line(trees[f"hotfolder.{room}"])
        title = f"`{room}/`" if (HERE / room).is_dir() else f"`{room}.py`"
        lines.append(f"| {title} | {holds} | {', '.join(below.split()) or 'nothing'} |")
    return "\n".join(lines) + "\n"


def packages() -> str:
    """What each package within a room holds, a line each."""
    trees = modules()
    lines = [
        f"- `{name.removeprefix('hotfolder.').replace('.', '/')}/`: {_first_line(tree)}"
        for name, tree in trees.items()
        if name.count(".") > 1 and (HERE.parent / name.replace(".", "/")).is_dir()
    ]
    return "\n".join(lines) + "\n"


def _first_line(tree: ast.Module) -> str:
    return (ast.get_docstring(tree) or "").split("\n", 1)[0]
