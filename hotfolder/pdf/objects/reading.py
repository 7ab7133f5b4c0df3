"""Reads pikepdf objects without trusting them.

A file may hold anything in any place, so each function narrows what it finds to one
type and gives None for everything else; none of them raises for what a file says.
"""

import hashlib
import math
from collections.abc import Iterator
from decimal import Decimal
from typing import Final

import pikepdf

# What pikepdf raises while it reads objects of a broken file: its own exceptions; a plain
# ValueError or RuntimeError where nanobind cannot convert; TypeError for a value of another
# type than it was a moment ago (an object that qpdf gave up on becomes null).
READING_ERRORS: Final = (pikepdf.PikepdfError, ValueError, TypeError, RuntimeError, OverflowError)

# Titles as long as a page are met, and a file could give one of a gigabyte.
_MOST_CHARACTERS: Final = 4_000


def entry(holder: object, key: str) -> object:
    """The value at `key` of a dictionary or stream; None where there is none."""
    if not isinstance(holder, pikepdf.Dictionary | pikepdf.Stream):
        return None
    try:
        return holder.get(key)
    except READING_ERRORS:
        return None


def item(holder: object, index: int) -> object:
    """The value at `index` of an array; None where there is none."""
    if not isinstance(holder, pikepdf.Array):
        return None
    try:
        return holder[index] if 0 <= index < len(holder) else None
    except READING_ERRORS:
        return None


def items(holder: object, most: int) -> Iterator[object]:
    """The values of an array, `most` at the utmost; nothing for anything else."""
    if isinstance(holder, pikepdf.Array):
        for index in range(min(len(holder), most)):
            yield item(holder, index)


def keys(holder: object, most: int) -> tuple[str, ...]:
    """The keys of a dictionary or stream with their slash, in order, `most` at the utmost."""
    if not isinstance(holder, pikepdf.Dictionary | pikepdf.Stream):
        return ()
    try:
        return tuple(sorted(holder.keys()))[:most]
    except READING_ERRORS:
        return ()


def number(value: object) -> float | None:
    """A finite number as float; None for anything else, true and false included."""
    if isinstance(value, bool) or not isinstance(value, int | float | Decimal):
        return None
    try:
        finite = float(value)
    except OverflowError:
        return None
    return finite if math.isfinite(finite) else None


def whole(value: object) -> int | None:
    """A whole number; None for anything else."""
    figure = number(value)
    return int(figure) if figure is not None and figure == int(figure) else None


def numbers(value: object, count: int) -> tuple[float, ...] | None:
    """Exactly `count` numbers from an array; None where it holds fewer or anything else."""
    values = [number(each) for each in items(value, count)]
    figures = tuple(each for each in values if each is not None)
    return figures if len(figures) == count else None


def name(value: object) -> str | None:
    """A name without its slash, #xx resolved; None for anything else.

    Names are to be UTF-8 (ISO 32000-2, 7.3.5); what is not is taken for Latin-1, which older programs wrote.
    """
    if not isinstance(value, pikepdf.Name):
        return None
    try:
        return str(value).removeprefix("/")
    except UnicodeDecodeError:
        return bytes(value).decode("latin-1").removeprefix("/")
    except READING_ERRORS:
        return None


def text(value: object) -> str | None:
    """A text string (ISO 32000-2, 7.9.2.2) for people; None for anything else.

    Control characters, and halves of surrogate pairs that nothing could print, are left out.
    """
    if not isinstance(value, pikepdf.String):
        return None
    try:
        words = str(value)
    except READING_ERRORS:
        return None
    return printable(words)


def printable(words: str) -> str:
    """`words` without control characters, lone surrogates and white space at the ends; cut if very long."""
    beginning = words[:_MOST_CHARACTERS]
    return "".join(each for each in beginning if each.isprintable() or each in "\n\t").strip()


def identity(value: object) -> str | None:
    """The object's number as `12 0`; None for a direct object."""
    if not isinstance(value, pikepdf.Object):
        return None
    number_, generation = value.objgen
    return f"{number_} {generation}" if number_ else None


def fingerprint(value: object) -> str:
    """A key that is the same for the same object: its number, or the hash of a direct object's text."""
    key = identity(value)
    if key is not None or not isinstance(value, pikepdf.Object):
        return key or ""
    try:
        return hashlib.sha256(value.unparse()).hexdigest()
    except READING_ERRORS:
        return ""
