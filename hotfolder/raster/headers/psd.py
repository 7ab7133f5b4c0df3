"""What the header of a layered file (PSD, and its large form PSB) declares.

Layout: Adobe Photoshop File Formats Specification, "Photoshop File Format". Layers are
counted and never read: what prints is the flat picture that is saved beside them.
"""

from dataclasses import dataclass

from hotfolder.colour.icc import read_profile
from hotfolder.errors import CutShortError
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.facts import ProblemKind
from hotfolder.model.raster import RasterFacts
from hotfolder.raster.headers.photoshop import ICC_PROFILE, ImageResources, read_resources
from hotfolder.raster.headers.picture import (
    HeaderReading,
    HeaderTrouble,
    PackedRows,
    Packing,
    PictureHeader,
    Pieces,
    space,
    unreadable,
)
from hotfolder.raster.headers.source import ByteSource

# Mode number: family and the number of channels that make its colours.
_MODES = {
    0: ("bitmap", 1), 1: ("grey", 1), 2: ("indexed", 1), 3: ("RGB", 3),
    4: ("CMYK", 4), 7: ("multichannel", 0), 8: ("duotone", 1), 9: ("Lab", 3),
}  # fmt: skip
_COMPRESSIONS = {0: "none", 1: "PackBits", 2: "Deflate", 3: "Deflate"}
_MOST_LAYER_BLOCKS = 1_000  # blocks of further layer information before the one that counts layers


@dataclass(frozen=True, slots=True)
class _PsdHeader:
    """The fixed header: 26 bytes. large: the form for more than 30,000 px (PSB)."""

    large: bool
    channels: int
    width: int
    height: int
    depth: int
    mode: int


@dataclass(frozen=True, slots=True)
class _PsdLayers:
    """count: layers in the file. transparency: the flat picture keeps it in its first extra channel."""

    count: int = 0
    transparency: bool = False


def read_psd(source: ByteSource) -> HeaderReading:
    """The flat picture of a layered file, and the number of its layers."""
    try:
        header = _header(source)
        resources_at = 26 + 4 + source.number(26, 4)
        layers_at = resources_at + 4 + source.number(resources_at, 4)
    except CutShortError:
        return unreadable("the file ends inside its header")
    if header is None:
        return unreadable("the header declares a picture that this format does not know")
    resources = read_resources(source, resources_at + 4, min(layers_at, source.size))
    troubles: list[HeaderTrouble] = []
    if not resources.whole:
        troubles.append(
            HeaderTrouble("", "the block with resolution and profile is not complete", ProblemKind.DAMAGED)
        )
    layers = _PsdLayers()
    compression: str | None = None
    pixels: Pieces | PackedRows | None = None
    try:
        length = source.number(layers_at, 8 if header.large else 4)
        flat_at = layers_at + (8 if header.large else 4) + length
        layers = _layers(source, layers_at, flat_at, header)
        code = source.number(flat_at, 2)
        compression = _COMPRESSIONS.get(code)
        pixels = _pixels(code, flat_at + 2, header)
    except CutShortError:
        troubles.append(HeaderTrouble("", "the file ends before its flat picture", ProblemKind.DAMAGED))
    else:
        troubles += _unknown_packing(code)
    facts = _facts(header, resources, layers, compression or "unknown", troubles)
    return HeaderReading((PictureHeader(facts, pixels, tuple(troubles)),))


def _header(source: ByteSource) -> _PsdHeader | None:
    """The fixed header; None where its values cannot be. Raises CutShortError."""
    version, depth, mode = source.number(4, 2), source.number(22, 2), source.number(24, 2)
    header = _PsdHeader(
        large=version == 2,
        channels=source.number(12, 2),
        height=source.number(14, 4),
        width=source.number(18, 4),
        depth=depth,
        mode=mode,
    )
    possible = (
        version in {1, 2}
        and depth in {1, 8, 16, 32}
        and mode in _MODES
        and header.width > 0
        and header.height > 0
        and header.channels >= max(_MODES[mode][1], 1)
    )
    return header if possible else None


def _facts(
    header: _PsdHeader,
    resources: ImageResources,
    layers: _PsdLayers,
    compression: str,
    troubles: list[HeaderTrouble],
) -> RasterFacts:
    family, base = _MODES[header.mode]
    block = resources.blocks.get(ICC_PROFILE)
    profile = read_profile(block) if block is not None else None
    if block is not None and profile is None:
        troubles.append(
            HeaderTrouble("icc_profile", "the embedded colour profile cannot be read", ProblemKind.DAMAGED)
        )
    name = profile.title if profile else None
    inks: tuple[str, ...] = ()
    if family == "multichannel":
        base = header.channels
        names = resources.channel_names
        inks = names if len(names) == header.channels else ()
    elif family == "CMYK" and resources.spot_channels():
        inks = PROCESS_INKS + resources.spot_channels()
    resolution = resources.resolution
    return RasterFacts(
        width_px=header.width,
        height_px=header.height,
        bits=header.depth,
        colour=space(family, base, inks=inks, profile=name),
        x_ppi=resolution.x_ppi if resolution else None,
        y_ppi=resolution.y_ppi if resolution else None,
        resolution_origin=resolution.origin if resolution else None,
        compression=compression,
        icc_profile=name,
        icc_space=profile.space if profile else None,
        alpha=layers.transparency and header.channels > base,
        extra_channels=header.channels - base,
        layers=layers.count,
        flat_picture_valid=resources.flat_picture_valid,
    )


def _unknown_packing(code: int) -> list[HeaderTrouble]:
    if code in {0, 1}:
        return []
    if code in _COMPRESSIONS:
        what = "the flat picture is packed in a way that this version does not read"
        return [HeaderTrouble("", what, ProblemKind.UNSUPPORTED)]
    return [HeaderTrouble("", "no flat picture stands where the file says it does", ProblemKind.DAMAGED)]


def _pixels(code: int, place: int, header: _PsdHeader) -> Pieces | PackedRows | None:
    """Where the flat picture's rows lie: plane after plane; None for other packings."""
    row_bytes = (header.width * header.depth + 7) // 8
    rows = header.height * header.channels
    if code == 0:
        total = rows * row_bytes
        return Pieces(Packing.NONE, (place,), (total,), (total,))
    if code == 1:
        return PackedRows(place, 4 if header.large else 2, rows, row_bytes)
    return None


def _layers(source: ByteSource, start: int, end: int, header: _PsdHeader) -> _PsdLayers:
    """The number of layers; pictures of 16 and 32 bits keep them in a block of their own.

    Raises CutShortError where the information is not all there.
    """
    wide = 8 if header.large else 4
    place = start + wide
    if end - place < wide:
        return _PsdLayers()
    length = source.number(place, wide)
    if length >= 2:
        return _counted(source.number(place + wide, 2, signed=True))
    place += wide + length
    if place + 4 > end:
        return _PsdLayers()
    place += 4 + source.number(place, 4)  # the global layer mask
    layers, merged = _PsdLayers(), False
    for _ in range(_MOST_LAYER_BLOCKS):
        if place + 12 > end or source.read(place, 4) not in {b"8BIM", b"8B64"}:
            break
        key = source.read(place + 4, 4)
        # The large form widens the length of blocks that may grow large; layer blocks are among them.
        width = 8 if header.large and key in _WIDE_KEYS else 4
        size = source.number(place + 8, width)
        if key in {b"Lr16", b"Lr32", b"Layr"} and size >= 2:
            layers = _counted(source.number(place + 8 + width, 2, signed=True))
        merged = merged or key in _MERGED_TRANSPARENCY
        place += 8 + width + (size + 3 & ~3)
    return _PsdLayers(layers.count, layers.transparency or merged)


# An empty block says that the first extra channel is the transparency of the flat picture, as a negative
# count of layers does (file format specification, additional layer information).
_MERGED_TRANSPARENCY = {b"Mtrn", b"Mt16", b"Mt32"}
_WIDE_KEYS = {
    b"LMsk", b"Lr16", b"Lr32", b"Layr", b"Mt16", b"Mt32", b"Mtrn", b"Alph", b"FMsk", b"lnk2",
    b"FEid", b"FXid", b"PxSD",
}  # fmt: skip


def _counted(count: int) -> _PsdLayers:
    """A negative count says that the first extra channel is the transparency of the flat picture."""
    return _PsdLayers(abs(count), transparency=count < 0)
