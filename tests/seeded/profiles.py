"""Profiles of presses that say no more than what they are called."""

import struct

from pikepdf import Name, String

from tests.seeded.planting import Sheet


def press_profile(name: str) -> bytes:
    """The head of a profile for CMYK that is called `name` (ICC.1:2001-04, 6.5.17)."""
    head = bytearray(128)
    head[12:16], head[16:20], head[36:40] = b"prtr", b"CMYK", b"acsp"
    text = b"desc" + bytes(4) + struct.pack(">I", len(name) + 1) + name.encode() + b"\0"
    return bytes(head) + struct.pack(">I4sII", 1, b"desc", 144, len(text)) + text


def meant_for(sheet: Sheet, condition: str, profile: str) -> None:
    """Lets the file's output intent name a condition and bring a profile."""
    intent = sheet.pdf.Root.OutputIntents[0]
    stream = sheet.pdf.make_stream(press_profile(profile))
    stream.N = 4
    intent.OutputConditionIdentifier, intent.DestOutputProfile = String(condition), stream
    intent.Type = Name.OutputIntent
