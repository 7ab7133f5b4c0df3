"""Reads what an ICC profile says about itself: its header and its name (ICC.1:2022, clauses 7.2 and 9.2)."""

import struct
from dataclasses import dataclass
from typing import Final

from hotfolder.pdf.reading import printable

_HEADER_BYTES: Final = 128
_MOST_TAGS: Final = 100  # ICC.1 knows about fifty


@dataclass(frozen=True, slots=True)
class Profile:
    """An ICC profile's own words.

    space: its data colour space (`CMYK`, `RGB`, `GRAY`, `Lab`, `6CLR`, ...).
    device_class: `prtr`, `mntr`, `scnr`, `spac`, ... name: its description, empty where it has none.
    """

    space: str
    device_class: str
    name: str


def read_profile(data: bytes) -> Profile | None:
    """The header and name of a profile; None where `data` is none."""
    if len(data) < _HEADER_BYTES or data[36:40] != b"acsp":
        return None
    return Profile(
        space=data[16:20].decode("latin-1").strip(),
        device_class=data[12:16].decode("latin-1").strip(),
        name=_description(data),
    )


def _description(data: bytes) -> str:
    """The text of the `desc` tag, of either major version; empty where there is none to be read."""
    try:
        (count,) = struct.unpack_from(">I", data, _HEADER_BYTES)
        for index in range(min(count, _MOST_TAGS)):
            signature, offset, size = struct.unpack_from(">4sII", data, _HEADER_BYTES + 4 + 12 * index)
            if signature == b"desc":
                return printable(_text(data[offset : offset + size]))
    except struct.error:
        pass
    return ""


def _text(tag: bytes) -> str:
    """The text of a textDescriptionType (version 2) or multiLocalizedUnicodeType (version 4), else ''."""
    match tag[:4]:
        case b"desc":
            (length,) = struct.unpack_from(">I", tag, 8)
            return tag[12 : 12 + length].rstrip(b"\0").decode("latin-1")
        case b"mluc":
            length, offset = struct.unpack_from(">II", tag, 20)  # the first record; English in practice
            return tag[offset : offset + length].decode("utf-16-be", "ignore")
        case b"text":
            return tag[8:].rstrip(b"\0").decode("latin-1")
        case _:
            return ""
