"""What pydantic says about a TOML file, in the words of the person who wrote the file."""

import typing
from collections.abc import Callable, Iterator, Mapping
from typing import Final

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from hotfolder.config.tomlfile import KeyPath, quoted
from hotfolder.errors import ConfigTrouble
from hotfolder.wording.nearest import choose

Place = Callable[[KeyPath, str, str], ConfigTrouble]
"""Makes a trouble of a key path, a problem and a remedy: it knows which file and line that is."""

_LIST: Final = 'Write a list in brackets, such as ["A4", "A5"].'
_TABLE: Final = "Write a table, with its name in [brackets] above it."
# What would do where pydantic found a value of the wrong kind; the keys begin its error types.
_KINDS: Final[Mapping[str, str]] = {
    "bool": "Write true or false, without quotation marks.",
    "int": "Write a whole number, without quotation marks.",
    "float": "Write a number, without quotation marks.",
    "string": "Write a text in quotation marks.",
    "list": _LIST,
    "tuple": _LIST,
    "set": _LIST,
    "frozen_set": _LIST,
    "dict": _TABLE,
    "mapping": _TABLE,
    "model": _TABLE,
    "date": "Write the day as 2026-11-25, without quotation marks.",
    "date_from_datetime": "Write the day as 2026-11-25, without quotation marks.",
}


def troubles_of(
    error: ValidationError, model: type[BaseModel], data: object, place: Place
) -> tuple[ConfigTrouble, ...]:
    """The mistakes that pydantic found with `model` in `data`, each placed by `place`; one for each key.

    Where a value may be of several kinds, pydantic says why it is none of them: the first
    reason is enough.
    """
    troubles: dict[KeyPath, ConfigTrouble] = {}
    for details in error.errors(include_url=False):
        path = details["loc"] if details["type"] == "missing" else _written(details["loc"], data)
        troubles.setdefault(path, place(path, *_words(details, path, model)))
    return tuple(troubles.values())


def _written(path: KeyPath, data: object) -> KeyPath:
    """`path` as far as it stands in the file: pydantic adds which of several kinds it tried last."""
    for length, part in enumerate(path):
        inner = data[part] if isinstance(data, Mapping) and part in data else None
        if isinstance(data, list) and isinstance(part, int):
            inner = data[part]
        if inner is None:
            return path[:length]
        data = inner
    return path


def _words(details: ErrorDetails, path: KeyPath, model: type[BaseModel]) -> tuple[str, str]:
    """The problem and what would do."""
    context = details.get("ctx", {})
    name = str(path[-1]) if path else ""
    kind, _, ending = details["type"].rpartition("_")
    match details["type"]:
        case "missing":
            return f"'{name}' is missing", _example(model, path)
        case "extra_forbidden":
            return f"there is no setting '{name}' here", choose(name, _names_at(model, path[:-1]))
        case "value_error":
            problem, _, remedy = str(context["error"]).partition("; ")
            return problem, _sentence(remedy or "Choose another value")
        case "enum" | "literal_error":
            return f"{_shown(details['input'])} does not belong here", f"Write {context['expected']}."
        case _ if ending in {"type", "parsing", "inexact"} and kind in _KINDS:
            return f"{_shown(details['input'])} does not belong here", _KINDS[kind]
        case _:
            remedy = details["msg"].replace("Input should", "It should")
            return f"{_shown(details['input'])} will not do", _sentence(remedy)


def _example(model: type[BaseModel], path: KeyPath) -> str:
    """What to add where the key at `path` is missing."""
    for owner in _models_at(model, path[:-1]):
        field = owner.model_fields.get(str(path[-1]))
        if field is not None and field.examples:
            return f"Add a line such as {path[-1]} = {field.examples[0]}"
    return "Add it to this table."


def _names_at(model: type[BaseModel], path: KeyPath) -> list[str]:
    """The keys that the table at `path` may have."""
    return [name for owner in _models_at(model, path) for name in owner.model_fields]


def _models_at(model: type[BaseModel], path: KeyPath) -> list[type[BaseModel]]:
    """The models of the table at `path`: a table may be a model, or hold models by free names."""
    here: object = model
    for part in path:
        if isinstance(here, type) and issubclass(here, BaseModel):
            here = here.model_fields[str(part)].annotation
        else:  # a free name (`printers.quay`) or a place in a list: what it may hold stands last
            *_, here = typing.get_args(here) or (object,)
    return list(_models_in(here))


def _models_in(annotation: object) -> Iterator[type[BaseModel]]:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for inner in typing.get_args(annotation):
        yield from _models_in(inner)


def _shown(value: object) -> str:
    """`value` as it stands in TOML, shortened."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return quoted(value if len(value) <= 60 else f"{value[:57]}...")
    if isinstance(value, Mapping):
        return "a table"
    if isinstance(value, list):
        return "a list"
    return str(value)


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:].removesuffix('.')}."
