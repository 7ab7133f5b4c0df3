"""Profiles of presses that are called as a test wants it."""

import struct
from functools import cache

from pikepdf import Name, String

from hotfolder.presses.loading import load_press
from tests.seeded.planting import Sheet

_HEADER_BYTES = 128
_TAG_BYTES = 12


@cache
def press_profile(name: str) -> bytes:
    """The profile for coated paper that comes with the program, called `name` (ICC.1:2001-04, 6.5.17)."""
    path = load_press("coated").profile
    assert path is not None
    data = bytearray(path.read_bytes())
    words = name.encode() + b"\0"
    text = b"desc" + struct.pack(">4xI", len(words)) + words + bytes(4 + 4 + 2 + 1 + 67)
    (count,) = struct.unpack_from(">I", data, _HEADER_BYTES)
    places = [_HEADER_BYTES + 4 + _TAG_BYTES * index for index in range(count)]
    (place,) = [each for each in places if data[each : each + 4] == b"desc"]
    data += bytes(-len(data) % 4)
    struct.pack_into(">II", data, place + 4, len(data), len(text))
    data += text
    struct.pack_into(">I", data, 0, len(data))
    return bytes(data)


def meant_for(sheet: Sheet, condition: str, profile: str) -> None:
    """Lets the file's output intent name a condition and bring a profile."""
    intent = sheet.pdf.Root.OutputIntents[0]
    stream = sheet.pdf.make_stream(press_profile(profile))
    stream.N = 4
    intent.OutputConditionIdentifier, intent.DestOutputProfile = String(condition), stream
    intent.Type = Name.OutputIntent
