"""Reads the headers of JPEG 2000 data (ISO/IEC 15444-1, annexes A.5 and I): size, components, bits, colours.

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

_CODESTREAM: Final = b"\xff\x4f\xff\x51"  # the markers SOC and SIZ (A.4.1 and A.5.1)
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
    """What the data declare; None for what they do not. channels: components, those of opacity included."""

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


def component_depths(data: bytes) -> tuple[int, ...]:
    """How many bits each component has, by the first codestream in `data`; empty where there is none."""
    start = data.find(_CODESTREAM)
    try:
        siz = _read_siz(data, start) if start >= 0 else None
    except struct.error:
        return ()
    return siz.depths if siz is not None and len(siz.depths) == siz.components else ()


def colour_channels(data: bytes) -> int | None:
    """How many channels carry colour, those of opacity left out; None where the data do not tell.

    A palette gives its columns (15444-1, I.5.3.4); the channel definitions tell opacity (I.5.3.6).
    """
    components = len(component_depths(data))
    header = {}
    if not data.startswith(_CODESTREAM):
        try:
            outer = next((body for kind, body in _boxes(data) if kind == b"jp2h"), b"")
            header = dict(_boxes(outer))
            if b"pclr" in header:
                (components,) = struct.unpack_from(">xxB", header[b"pclr"])
        except struct.error:
            return None
    return components - _opacity_channels(header.get(b"cdef", b"")) if components else None


def _opacity_channels(definitions: bytes) -> int:
    """How many channels are of opacity: each is told by three numbers, the second of which is its type."""
    (count,) = struct.unpack_from(">H", definitions.ljust(2, b"\0"))
    types = [definitions[at : at + 2] for at in range(4, min(2 + 6 * count, len(definitions)), 6)]
    return sum(each in {b"\0\1", b"\0\2"} for each in types)


@dataclass(frozen=True, slots=True)
class _Siz:
    """The SIZ segment of a codestream (A.5.1). depths: bits by component, as far as the data go."""

    width_px: int
    height_px: int
    components: int
    depths: tuple[int, ...]


def _read_siz(data: bytes, start: int) -> _Siz:
    """The SIZ segment of the codestream at `start`; struct.error where the data end before Ssiz."""
    # SOC, SIZ, Lsiz, Rsiz, then Xsiz Ysiz XOsiz YOsiz, four of tiles, Csiz, and Ssiz XRsiz YRsiz of each.
    right, bottom, left, top = struct.unpack_from(">4I", data, start + 8)
    (count,) = struct.unpack_from(">H", data, start + 40)
    depths = tuple((depth & 0x7F) + 1 for depth in data[start + 42 : start + 42 + 3 * count : 3])
    if not depths:
        raise struct.error
    return _Siz(right - left, bottom - top, count, depths)


def _codestream(data: bytes) -> JpxFacts:
    siz = _read_siz(data, 0)
    return JpxFacts(siz.width_px, siz.height_px, siz.components, siz.depths[0])


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
