"""What a PNG file's header declares (W3C PNG, third edition; chunk names as in its clause 11)."""

import zlib
from contextlib import suppress
from dataclasses import dataclass, field

from hotfolder.colour.icc import ProfileFacts, read_profile
from hotfolder.errors import CutShortError
from hotfolder.model.facts import ProblemKind
from hotfolder.model.raster import RasterFacts, ResolutionOrigin
from hotfolder.raster.headers.exif import ExifFacts, read_exif
from hotfolder.raster.headers.picture import (
    HeaderReading,
    HeaderTrouble,
    PictureHeader,
    PngRows,
    Resolution,
    space,
    unreadable,
)
from hotfolder.raster.headers.source import ByteSource
from hotfolder.raster.limits import MOST_BLOCK_BYTES, MOST_CHUNKS

SIGNATURE = b"\x89PNG\r\n\x1a\n"
# Colour type: family, channels of the colour, whether an alpha channel follows (11.2.1).
_COLOUR_TYPES = {
    0: ("grey", 1, False),
    2: ("RGB", 3, False),
    3: ("indexed", 1, False),
    4: ("grey", 1, True),
    6: ("RGB", 3, True),
}
_KEPT = {b"pHYs", b"iCCP", b"sRGB", b"cICP", b"tRNS", b"eXIf"}
# The seven passes of an interlaced picture: first column and row, steps across and down (8.1).
_PASSES = ((0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2))


@dataclass(slots=True)
class _Chunks:
    """The chunks that matter, and where the pixel data begins."""

    header: bytes = b""
    header_sound: bool = True
    kept: dict[bytes, bytes] = field(default_factory=dict)
    first_data: int | None = None
    animated: bool = False


def read_png(source: ByteSource) -> HeaderReading:
    """The picture of a PNG file; of an animated one its still picture."""
    chunks = _Chunks()
    with suppress(CutShortError):  # whether pixels are missing is seen when they are looked at
        _gather(source, chunks)
    if len(chunks.header) != 13:
        return unreadable("the file ends before the size of the picture")
    width, height = (int.from_bytes(chunks.header[at : at + 4], "big") for at in (0, 4))
    depth, kind, _, _, interlace = chunks.header[8:]
    if not (width and height) or kind not in _COLOUR_TYPES or depth not in {1, 2, 4, 8, 16} or interlace > 1:
        return unreadable("the header declares a picture that PNG does not know")
    return HeaderReading((_picture(width, height, chunks),))


def _gather(source: ByteSource, chunks: _Chunks) -> None:
    """Walks the chunks before the pixels, and over them: `eXIf` may stand behind. Raises CutShortError."""
    place = len(SIGNATURE)
    for _ in range(MOST_CHUNKS):
        length, name = source.number(place, 4), source.read(place + 4, 4)
        if name == b"IHDR" and not chunks.header:
            chunks.header = source.read(place + 8, length)
            chunks.header_sound = _sum_is_right(name + chunks.header, source, place + 8 + length)
        elif name == b"IDAT" and chunks.first_data is None:
            chunks.first_data = place
        elif name == b"IEND":
            return
        elif name == b"acTL":
            chunks.animated = True
        elif name in _KEPT and (name == b"eXIf" or chunks.first_data is None):
            # A chunk with a wrong sum is no fact.
            body = source.read(place + 8, length)
            if _sum_is_right(name + body, source, place + 8 + length):
                chunks.kept.setdefault(name, body)
        place += 12 + length


def _sum_is_right(covered: bytes, source: ByteSource, place: int) -> bool:
    return zlib.crc32(covered) == source.number(place, 4)


def _picture(width: int, height: int, chunks: _Chunks) -> PictureHeader:
    depth, kind, _, _, interlace = chunks.header[8:]
    family, components, alpha = _COLOUR_TYPES[kind]
    troubles: list[HeaderTrouble] = []
    if not chunks.header_sound:
        troubles.append(HeaderTrouble("", "the checksum of the header is wrong", ProblemKind.DAMAGED))
    if chunks.animated:
        troubles.append(
            HeaderTrouble("", "the file is animated; only its still picture counts", ProblemKind.NOTE)
        )
    profile, name = _colours(chunks, troubles)
    exif = ExifFacts()
    if b"eXIf" in chunks.kept:
        exif = read_exif(chunks.kept[b"eXIf"]) or exif
    resolution = _resolution(chunks.kept.get(b"pHYs", b""))
    if depth == 1 and family == "grey":
        family = "bitmap"
    facts = RasterFacts(
        width_px=width,
        height_px=height,
        bits=depth,
        colour=space(family, components, profile=name),
        x_ppi=resolution.x_ppi if resolution else None,
        y_ppi=resolution.y_ppi if resolution else None,
        resolution_origin=resolution.origin if resolution else None,
        compression="Deflate",
        orientation=exif.orientation,
        icc_profile=name,
        icc_space=profile.space if profile else None,
        alpha=alpha or b"tRNS" in chunks.kept,
        extra_channels=int(alpha),
        progressive=bool(interlace),
    )
    pixels = None
    if chunks.first_data is not None:
        bits = depth * (components + alpha)
        pixels = PngRows(chunks.first_data, _passes(width, height, bits, interlaced=bool(interlace)))
    return PictureHeader(facts, pixels, tuple(troubles))


def _passes(width: int, height: int, bits: int, *, interlaced: bool) -> tuple[tuple[int, int], ...]:
    passes = []
    for left, top, across, down in _PASSES if interlaced else ((0, 0, 1, 1),):
        columns, rows = -((left - width) // across), -((top - height) // down)
        if columns > 0 and rows > 0:
            passes.append((rows, 1 + (columns * bits + 7) // 8))
    return tuple(passes)


def _resolution(phys: bytes) -> Resolution | None:
    """What `pHYs` declares; its unit 0 is an aspect ratio and no resolution (11.3.4.3)."""
    if len(phys) != 9 or phys[8] != 1:
        return None
    x, y = (int.from_bytes(phys[at : at + 4], "big") * 0.0254 for at in (0, 4))
    return Resolution.declared(x, y, ResolutionOrigin.PHYS)


def _colours(chunks: _Chunks, troubles: list[HeaderTrouble]) -> tuple[ProfileFacts | None, str | None]:
    """The profile, and the name of the colours: cICP before iCCP before sRGB (4.3)."""
    points = chunks.kept.get(b"cICP", b"")
    if len(points) == 4:
        # ITU-T H.273: primaries and transfer characteristics.
        known = {(1, 13): "sRGB", (12, 13): "Display P3"}
        return None, known.get((points[0], points[1]), f"colour code points {'/'.join(map(str, points))}")
    if b"iCCP" in chunks.kept:
        profile = _unpacked_profile(chunks.kept[b"iCCP"])
        if profile is None:
            troubles.append(
                HeaderTrouble(
                    "icc_profile", "the embedded colour profile cannot be read", ProblemKind.DAMAGED
                )
            )
        return profile, profile.title if profile else None
    return None, "sRGB" if b"sRGB" in chunks.kept else None


def _unpacked_profile(body: bytes) -> ProfileFacts | None:
    _, _, packed = body.partition(b"\0")
    try:
        return read_profile(zlib.decompressobj().decompress(packed[1:], MOST_BLOCK_BYTES))
    except zlib.error:
        return None
