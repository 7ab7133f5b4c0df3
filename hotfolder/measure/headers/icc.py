"""The name and the colour space of an embedded ICC profile (ICC.1:2022, clauses 7.2, 9.2.41, 10.15).

Profiles of version 2 keep their name as a `desc` element of type `desc` (ICC.1:2001-04,
6.5.17), those of version 4 as `mluc`.
"""

from dataclasses import dataclass

from hotfolder.measure.headers.source import ByteSource, CutShort
from hotfolder.measure.raster_limits import MOST_NAME_CHARACTERS

UNNAMED = "unnamed profile"
_MOST_TAGS = 1_000  # a profile has a few dozen
_MOST_RECORDS = 1_000  # languages of one text


@dataclass(frozen=True, slots=True)
class Profile:
    """description: as a person reads it. space, device_class: four-letter signatures, without blanks."""

    description: str
    space: str
    device_class: str


def clean_name(text: str) -> str:
    """`text` up to its first NUL, without control characters, cut to a sensible length."""
    kept = "".join(char for char in text.split("\0", 1)[0] if char.isprintable())
    return " ".join(kept.split())[:MOST_NAME_CHARACTERS]


def read_profile(block: bytes) -> Profile | None:
    """What the profile in `block` says of itself; None where it is no ICC profile."""
    source = ByteSource.of(block)
    try:
        if source.read(36, 4) != b"acsp":  # the profile file signature, 7.2.11
            return None
        space = clean_name(source.read(16, 4).decode("latin-1"))
        device_class = clean_name(source.read(12, 4).decode("latin-1"))
    except CutShort:
        return None
    try:
        description = _description(source)
    except CutShort:
        description = ""
    return Profile(description or UNNAMED, space, device_class)


def _description(source: ByteSource) -> str:
    for index in range(min(source.number(128, 4), _MOST_TAGS)):
        entry = 132 + 12 * index
        if source.read(entry, 4) == b"desc":
            offset = source.number(entry + 4, 4)
            match source.read(offset, 4):
                case b"desc":
                    length = source.number(offset + 8, 4)
                    return clean_name(source.read(offset + 12, length).decode("latin-1"))
                case b"mluc":
                    return _localised(source, offset)
                case _:
                    return ""
    return ""


def _localised(source: ByteSource, offset: int) -> str:
    """The English record of a multi-localised text, else its first."""
    records, size = source.number(offset + 8, 4), source.number(offset + 12, 4)
    found = ""
    for index in range(min(records, _MOST_RECORDS)):
        record = offset + 16 + index * size
        language = source.read(record, 2)
        length, place = source.number(record + 4, 4), source.number(record + 8, 4)
        text = clean_name(source.read(offset + place, length).decode("utf-16-be", "replace"))
        if language == b"en":
            return text
        found = found or text
    return found
