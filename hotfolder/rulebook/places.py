"""Where rule sets lie, and which file a name means.

A studio's own sets lie in `rules/` beside its `hotfolder.toml` and come before the shipped
ones, so that a studio can keep a printer's specification under the name that it is used to.
"""

from collections.abc import Iterator
from pathlib import Path

from hotfolder.errors import NoSuchRuleSetError
from hotfolder.wording.nearest import choose


def rules_folder() -> Path:
    """The folder of the shipped rule sets: data of an installed package, or a checkout's `rules/`."""
    package = Path(__file__).parent.parent
    installed = package / "data" / "rules"
    return installed if installed.is_dir() else package.parent / "rules"


def shipped_rule_sets() -> tuple[str, ...]:
    """The names of the shipped rule sets, sorted."""
    return _names_in(rules_folder())


def own_rule_sets(studio: Path) -> tuple[str, ...]:
    """The names of the rule sets in the studio's own `rules/`, sorted."""
    return _names_in(studio / "rules")


def find_rule_set(name_or_path: str, beside: Path | None) -> Path:
    """The file that `name_or_path` means for the studio folder `beside`, or for no studio.

    A name is looked for in the studio's own `rules/`, then among the shipped sets. A path ends
    in `.toml`; it counts from the studio's folder, without one from the working folder.
    """
    if name_or_path.endswith(".toml"):
        return (beside or Path()) / Path(name_or_path).expanduser()
    if "/" in name_or_path:
        problem = f"'{name_or_path}' is neither a rule set's name nor a path that ends in .toml"
        raise NoSuchRuleSetError(problem, "A name has no '/'; a path has the ending '.toml'.")
    folders = _folders(beside)
    for candidate in _candidates(name_or_path, folders):
        return candidate
    raise _unknown(name_or_path, folders)


def find_base(extends: str, extending: tuple[Path, ...], beside: Path | None) -> Path:
    """The file that `extends` means in the last of `extending`, each of which extends the next.

    A name is looked for beside that file first. Files of the chain are passed over, so that a
    studio's `poster.toml` may build on the shipped `poster`.
    """
    folder = extending[-1].parent
    chain = {path.resolve() for path in extending}
    if extends.endswith(".toml"):
        candidates = [folder / Path(extends).expanduser()]
    elif "/" in extends:
        problem = f"'{extends}' is neither a rule set's name nor a path that ends in .toml"
        raise NoSuchRuleSetError(problem, "A name has no '/'; a path has the ending '.toml'.")
    else:
        folders = (folder, *_folders(beside))
        candidates = list(_candidates(extends, folders))
        if not candidates:
            raise _unknown(extends, folders)
    for candidate in candidates:
        if candidate.resolve() not in chain:
            return candidate
    way = " -> ".join((*(path.stem for path in extending), extends.removesuffix(".toml")))
    raise NoSuchRuleSetError(
        f"the rule sets extend each other in a circle: {way}", "Let one of them stand alone."
    )


def _folders(beside: Path | None) -> tuple[Path, ...]:
    own = () if beside is None else (beside / "rules",)
    return (*own, rules_folder())


def _candidates(name: str, folders: tuple[Path, ...]) -> Iterator[Path]:
    for folder in folders:
        path = folder / f"{name}.toml"
        if path.is_file():
            yield path


def _unknown(name: str, folders: tuple[Path, ...]) -> NoSuchRuleSetError:
    known = {own for folder in folders for own in _names_in(folder)}
    return NoSuchRuleSetError(f"no rule set is called '{name}'", choose(name, known))


def _names_in(folder: Path) -> tuple[str, ...]:
    return tuple(sorted(path.stem for path in folder.glob("*.toml")))
