# The house: who imports whom, how large a room is, one name for one thing, and who moves files.
import ast
from collections import Counter, defaultdict
from graphlib import CycleError, TopologicalSorter

import pytest

from tests.house.rooms import HERE, MAY_IMPORT, imports, modules, packages, room_of, table

TREES = modules()
IMPORTED = {name: tuple(imports(tree, set(TREES))) for name, tree in TREES.items()}
PACKAGES = sorted({name.rpartition(".")[0] for name in TREES})
MOST_MODULES = 16  # in a folder: what a reader takes in at a glance is about fifteen
MOST_LINES = 400

# Classes that bear the same name with reason: the same thing on two sides of a wall, or in two formats.
SAME_NAME = {
    "Settings": "each rule's own, never seen outside its module",
}


def test_each_room_imports_only_what_its_line_names() -> None:
    arrows = defaultdict(set)
    for name, targets in IMPORTED.items():
        for target in targets:
            if room_of(target) != room_of(name):
                arrows[room_of(name)].add(room_of(target))
    assert {room: set(below.split()) for room, below in MAY_IMPORT.items()} == {
        room: arrows[room] for room in {room_of(name) for name in TREES}
    }


def test_rooms_stand_in_order_so_that_no_import_runs_up() -> None:
    order = list(MAY_IMPORT)
    for room, below in MAY_IMPORT.items():
        assert all(order.index(each) > order.index(room) for each in below.split()), room


def test_no_modules_import_each_other_in_a_circle() -> None:
    graph = {name: set(targets) - {name} for name, targets in IMPORTED.items()}
    try:
        order = list(TopologicalSorter(graph).static_order())
    except CycleError as error:
        pytest.fail(f"a circle: {error.args[1]}")
    assert set(IMPORTED) <= set(order)


@pytest.mark.parametrize("package", PACKAGES)
def test_what_lies_in_a_package_is_imported_in_one_direction(package: str) -> None:
    """Modules and packages side by side; the package's own front imports what it shows."""
    depth = package.count(".") + 2
    graph: dict[str, set[str]] = defaultdict(set)
    for name, targets in IMPORTED.items():
        for target in targets:
            one, other = (".".join(each.split(".")[:depth]) for each in (name, target))
            beside = all(each.startswith(f"{package}.") for each in (one, other))
            if beside and one != other:
                graph[one].add(other)
    try:
        list(TopologicalSorter(graph).static_order())
    except CycleError as error:
        pytest.fail(f"a circle: {error.args[1]}")


def test_no_folder_holds_more_modules_than_a_reader_takes_in() -> None:
    held = Counter(str(path.parent.relative_to(HERE)) for path in HERE.rglob("[!_]*.py"))
    assert {folder: count for folder, count in held.items() if count > MOST_MODULES} == {}


def test_no_module_is_longer_than_a_reader_follows() -> None:
    files = [*HERE.rglob("*.py"), *(HERE.parent / "tests").rglob("*.py")]
    lines = {str(path.relative_to(HERE.parent)): len(path.read_text().splitlines()) for path in files}
    assert {name: count for name, count in lines.items() if count > MOST_LINES} == {}


def test_one_class_name_has_one_meaning() -> None:
    defined = defaultdict(list)
    for name, tree in TREES.items():
        for node in tree.body:
            if isinstance(node, ast.ClassDef) and node.name.lstrip("_") not in SAME_NAME:
                defined[node.name.lstrip("_")].append(name)
    assert {name: where for name, where in defined.items() if len(where) > 1} == {}


def test_only_store_moves_files() -> None:
    """`Path.rename`, and `Path.replace`, which takes one argument where that of strings takes two."""
    own_folder = "hotfolder.children.result_files"  # a child's last file, in the folder that is its alone
    movers = [
        f"{name}:{node.lineno}"
        for name, tree in TREES.items()
        if room_of(name) != "store" and name != own_folder
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)
        if node.func.attr == "rename"
        or (node.func.attr == "replace" and len(node.args) + len(node.keywords) == 1)
        if not any(keyword.arg for keyword in node.keywords)  # dates are replaced by what is named
    ]
    assert movers == []


def test_the_contributors_page_shows_the_table_and_the_packages() -> None:
    page = (HERE.parent / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert table() in page
    assert packages() in page
