"""What can be believed of a record that may be damaged: of which kind its parts are, and where they lead."""

import contextlib
import os
from dataclasses import fields, is_dataclass
from datetime import datetime
from pathlib import PurePosixPath
from types import UnionType
from typing import Any, NewType, Union, get_args, get_origin, get_type_hints


def can_be_path(text: str) -> bool:
    """Whether the system can be asked for `text`: no zero byte in it, nothing that stands for no byte."""
    with contextlib.suppress(UnicodeEncodeError):
        return "\0" not in text and bool(os.fsencode(text))
    return False


def is_file_name(text: str) -> bool:
    """Whether `text` can be the name of a file in a folder, and of nothing else."""
    return can_be_path(text) and "/" not in text and text not in {".", ".."}


def is_path_within(text: str) -> bool:
    """Whether `text` is a path that cannot lead out of the folder it is in."""
    path = PurePosixPath(text)
    return can_be_path(text) and not path.is_absolute() and ".." not in path.parts


def is_time(text: str) -> bool:
    """Whether `text` is a time in ISO 8601, with its zone."""
    try:
        return datetime.fromisoformat(text).tzinfo is not None
    except ValueError:
        return False


def fits(value: object, kind: Any) -> bool:  # noqa: ANN401 - any type, as an annotation has it
    """Whether `value` is of the type `kind`, with all parts of dataclasses and tuples; True is no number."""
    if isinstance(kind, NewType):
        return fits(value, kind.__supertype__)
    if get_origin(kind) in {Union, UnionType}:  # the first where a NewType is among them
        return any(fits(value, each) for each in get_args(kind))
    if get_origin(kind) is tuple:
        return isinstance(value, tuple) and all(fits(each, get_args(kind)[0]) for each in value)
    if isinstance(kind, type) and is_dataclass(kind):
        kinds = get_type_hints(kind)
        return isinstance(value, kind) and all(
            fits(getattr(value, part.name), kinds[part.name]) for part in fields(kind)
        )
    return isinstance(value, kind) and (kind is bool or not isinstance(value, bool))
