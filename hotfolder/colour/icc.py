"""Reads what an ICC profile says about itself: its header and its name.

Source: ICC.1:2022, clauses 7.2 (header), 9.2.41 (`desc`), 10.15 (multi-localised text). Profiles of
version 2 keep their name as a `desc` element (ICC.1:2001-04, 6.5.17).
"""

import struct
from dataclasses import dataclass
from typing import Final

_HEADER_BYTES: Final = 128
_MOST_TAGS: Final = 1_000  # a profile has a few dozen
_MOST_RECORDS: Final = 1_000  # languages of one text
_MOST_CHARACTERS: Final = 200


@dataclass(frozen=True, slots=True)
class ProfileFacts:
    """An ICC profile's own words.

    name: its description, empty where it has none. space: its data colour space (`CMYK`, `RGB`,
    `GRAY`, `Lab`, `6CLR`, ...). device_class: `prtr`, `mntr`, `scnr`, `spac`, ...
    """

    name: str
    space: str
    device_class: str

    @property
    def title(self) -> str:
        """The name, or words that say that there is none."""
        return self.name or "unnamed profile"


def clean_name(text: str) -> str:
    """`text` up to its first NUL, without control characters, cut to a sensible length."""
    kept = "".join(char for char in text.split("\0", 1)[0] if char.isprintable())
    return " ".join(kept.split())[:_MOST_CHARACTERS]


def read_profile(data: bytes) -> ProfileFacts | None:
    """What the profile in `data` says of itself; None where it is no ICC profile, or cut in its header."""
    if len(data) < _HEADER_BYTES or data[36:40] != b"acsp":  # the profile file signature, 7.2.11
        return None
    try:
        name = _description(data)
    except struct.error:  # cut short
        name = ""
    return ProfileFacts(name, _signature(data, 16), _signature(data, 12))


def tags_of(data: bytes) -> frozenset[str]:
    """The signatures in the tag table of a profile that `read_profile` takes (`A2B0`, `desc`, `wtpt`, ...).

    Those of elements that do not lie wholly in the data are left out.
    """
    tags = set()
    try:
        (count,) = struct.unpack_from(">I", data, _HEADER_BYTES)
        for index in range(min(count, _MOST_TAGS)):
            _, offset, length = struct.unpack_from(">4sII", data, _HEADER_BYTES + 4 + 12 * index)
            if offset + length <= len(data):
                tags.add(_signature(data, _HEADER_BYTES + 4 + 12 * index))
    except struct.error:  # cut short
        pass
    return frozenset(tags)


def _signature(data: bytes, offset: int) -> str:
    return clean_name(data[offset : offset + 4].decode("latin-1"))


def _description(data: bytes) -> str:
    (count,) = struct.unpack_from(">I", data, _HEADER_BYTES)
    for index in range(min(count, _MOST_TAGS)):
        signature, offset = struct.unpack_from(">4sI", data, _HEADER_BYTES + 4 + 12 * index)
        if signature == b"desc":
            return _text(data, offset)
    return ""


def _text(data: bytes, offset: int) -> str:
    """The text of an element of type `desc`, `mluc` or `text`; empty for any other."""
    match data[offset : offset + 4]:
        case b"desc":
            (length,) = struct.unpack_from(">I", data, offset + 8)
            return clean_name(_whole(data, offset + 12, length).decode("latin-1"))
        case b"mluc":
            return _localised(data, offset)
        case b"text":
            return clean_name(data[offset + 8 :].decode("latin-1"))
        case _:
            return ""


def _localised(data: bytes, offset: int) -> str:
    """The English record of a multi-localised text, else its first that says something."""
    records, size = struct.unpack_from(">II", data, offset + 8)
    first = ""
    for index in range(min(records, _MOST_RECORDS)):
        language, length, place = struct.unpack_from(">2s2xII", data, offset + 16 + index * size)
        text = clean_name(_whole(data, offset + place, length).decode("utf-16-be", "replace"))
        if language == b"en":
            return text
        first = first or text
    return first


def _whole(data: bytes, offset: int, length: int) -> bytes:
    part = data[offset : offset + length]
    if len(part) < length:
        raise struct.error("cut short")
    return part
