"""Names of delivered files: kept as they came, but for a number where the name is taken.

A name that leaves no room for the sidecars' endings gets a shorter stem.
"""

import os
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from typing import Final

JSON_ENDING: Final = ".report.json"
HTML_ENDING: Final = ".report.html"
LONGEST_NAME_BYTES: Final = 255  # NAME_MAX of Linux, <linux/limits.h>; a folder may say less
# A "suffix" longer than this is the end of a sentence with a full stop in it.
_LONGEST_SUFFIX_BYTES: Final = 16
_JOINER: Final = "\u200d"  # joins emoji: nothing is cut before or after it


@dataclass(frozen=True, slots=True)
class GroupNames:
    """The names of one group: all of them are the artwork's name, with an ending."""

    artwork: str

    @property
    def report_json(self) -> str:
        """The sidecar for programs."""
        return self.artwork + JSON_ENDING

    @property
    def report_html(self) -> str:
        """The sidecar for people."""
        return self.artwork + HTML_ENDING


def group_names(name: str, longest_bytes: int) -> Iterator[GroupNames]:
    """Names for the group of `name`, best first: itself, then with a number: `flyer (2).pdf`.

    longest_bytes: the longest name that the target folder can hold. Sidecars have to fit too.
    """
    room = longest_bytes - max(len(JSON_ENDING), len(HTML_ENDING))
    return (GroupNames(artwork) for artwork in numbered_names(name, room))


def numbered_names(name: str, room_bytes: int) -> Iterator[str]:
    """`name`, then the same with the numbers from 2 on, each cut to fit `room_bytes`; without end."""
    return (numbered(name, number, room_bytes) for number in count(1))


def numbered(name: str, number: int, room_bytes: int) -> str:
    """`name` with its number before the suffix (none for 1), its stem cut to fit `room_bytes`."""
    stem, suffix = split_suffix(name)
    ending = suffix if number == 1 else f" ({number}){suffix}"
    return _cut(stem, room_bytes - len(os.fsencode(ending))) + ending


def split_suffix(name: str) -> tuple[str, str]:
    """`name` as stem and suffix; the suffix is empty, or begins with the last full stop."""
    stem, dot, suffix = name.rpartition(".")
    if not stem.strip(".") or not suffix or len(os.fsencode(suffix)) > _LONGEST_SUFFIX_BYTES:
        return name, ""
    return stem, dot + suffix


def _cut(stem: str, room_bytes: int) -> str:
    """The longest beginning of `stem` that fits, never within what people see as one character."""
    if len(os.fsencode(stem)) <= room_bytes:
        return stem
    length = 0
    used = 0
    for character in stem:
        used += len(os.fsencode(character))
        if used > room_bytes:
            break
        length += 1
    while length > 1 and _belongs_together(stem[length - 1], stem[length]):
        length -= 1
    return stem[:length].rstrip(" ") or stem[:length]


def _belongs_together(before: str, after: str) -> bool:
    joined = _JOINER in (before, after)
    # Variation selectors are marks too (Mn); emoji modifiers are symbols (Sk).
    return (
        joined or unicodedata.combining(after) != 0 or unicodedata.category(after) in {"Mn", "Me", "Mc", "Sk"}
    )
