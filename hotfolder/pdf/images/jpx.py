"""Reads what a JPEG 2000 image says of itself (ISO/IEC 15444-1, annexes A.5 and I): PDF may leave it out.

A JPX image needs no ColorSpace and no BitsPerComponent in its dictionary (ISO 32000-2, 7.4.9); its
own boxes, or the SIZ segment of a bare codestream, have them. No pixel is decoded.
"""

import struct
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from hotfolder.colour.icc import read_profile
from hotfolder.model.colour import ColourKind, ColourSpace
from hotfolder.pdf.colour.colour_spaces import UNKNOWN

_CODESTREAM: Final = b"\xff\x4f\xff\x51"  # SOC, SIZ
_MOST_BOXES: Final = 100  # on one level; files have about ten

# Enumerated colour spaces (15444-1, I.5.3.3; 12 and 14 from 15444-2, M.11.7.3).
_ENUMERATED: Final = {
    12: ("CMYK", ColourKind.CMYK, 4),
    14: ("Lab", ColourKind.LAB, 3),
    16: ("sRGB", ColourKind.RGB, 3),
    17: ("grey", ColourKind.GREY, 1),
    18: ("sYCC", ColourKind.RGB, 3),
}
_ICC: Final = {
    "GRAY": (ColourKind.GREY, 1),
    "RGB": (ColourKind.RGB, 3),
    "Lab": (ColourKind.LAB, 3),
    "CMYK": (ColourKind.CMYK, 4),
}


@dataclass(frozen=True, slots=True)
class JpxFacts:
    """What the image says; None where it does not. channels: components with any opacity among them."""

    width_px: int | None = None
    height_px: int | None = None
    channels: int | None = None
    bits: int | None = None
    colour: ColourSpace | None = None


def read_jpx(data: bytes) -> JpxFacts:
    """The facts of a JP2 or JPX file, or of a bare codestream; all None for anything else."""
    try:
        if data.startswith(_CODESTREAM):
            return _codestream(data)
        return _file(data)
    except struct.error:
        return JpxFacts()


def _codestream(data: bytes) -> JpxFacts:
    # SOC, SIZ, Lsiz, Rsiz, then Xsiz Ysiz XOsiz YOsiz, four of tiles, Csiz, and Ssiz of each component.
    right, bottom, left, top = struct.unpack_from(">4I", data, 8)
    channels, depth = struct.unpack_from(">HB", data, 40)
    return JpxFacts(right - left, bottom - top, channels, (depth & 0x7F) + 1)


def _file(data: bytes) -> JpxFacts:
    header = next((body for kind, body in _boxes(data) if kind == b"jp2h"), b"")
    facts = JpxFacts()
    colours = []
    for kind, body in _boxes(header):
        if kind == b"ihdr":
            height, width, channels, depth = struct.unpack_from(">IIHB", body)
            # 255: the components differ, and say so elsewhere.
            facts = JpxFacts(width, height, channels, None if depth == 255 else (depth & 0x7F) + 1)
        elif kind == b"colr":
            colours.append(_colour(body))
    colour = next((each for each in colours if each is not UNKNOWN), colours[0] if colours else None)
    return replace(facts, colour=colour)


def _colour(body: bytes) -> ColourSpace:
    if body[:1] == b"\x01":
        (number,) = struct.unpack_from(">I", body, 3)
        family = _ENUMERATED.get(number)
        return ColourSpace(f"JPX {family[0]}", family[1], family[2]) if family is not None else UNKNOWN
    profile = read_profile(body[3:]) if body[:1] in {b"\x02", b"\x03"} else None
    known = _ICC.get(profile.space) if profile is not None else None
    if profile is None or known is None:
        return UNKNOWN
    return ColourSpace("JPX ICC", known[0], known[1], profile=profile.name or None)


def _boxes(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """The boxes of one level, kind and content (15444-1, I.4)."""
    at = 0
    for _ in range(_MOST_BOXES):
        if at + 8 > len(data):
            return
        length, kind = struct.unpack_from(">I4s", data, at)
        header = 8
        if length == 1:
            (length,) = struct.unpack_from(">Q", data, at + 8)
            header = 16
        end = at + length if length else len(data)
        if end < at + header:
            return
        yield kind, data[at + header : end]
        at = end
