"""Image resources: the `8BIM` blocks of layered files, which JPEG and TIFF files carry too.

Layout: Adobe Photoshop File Formats Specification, "Image Resource Blocks". The layouts of
DisplayInfo (1077) and VersionInfo (1057) follow the same document from memory.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from hotfolder.colour.icc import clean_name
from hotfolder.errors import CutShortError
from hotfolder.model.raster import ResolutionOrigin
from hotfolder.raster.headers.picture import Resolution
from hotfolder.raster.headers.source import ByteSource
from hotfolder.raster.limits import MOST_RESOURCES

RESOLUTION, CHANNEL_NAMES, ICC_PROFILE, UNICODE_NAMES, VERSION_INFO, DISPLAY_INFO = (
    1005, 1006, 1039, 1045, 1057, 1077,
)  # fmt: skip
_WANTED = {RESOLUTION, CHANNEL_NAMES, ICC_PROFILE, UNICODE_NAMES, VERSION_INFO, DISPLAY_INFO}
_SPOT_CHANNEL = 2  # kind in DisplayInfo: 0 selected areas, 1 masked areas, 2 spot ink


@dataclass(frozen=True, slots=True)
class ImageResources:
    """Image resources by id. whole: False where the block ends inside one of them."""

    blocks: dict[int, bytes]
    whole: bool

    @property
    def resolution(self) -> Resolution | None:
        """What ResolutionInfo declares: pixels per inch in 16.16 fixed point, whatever unit is shown."""
        block = self.blocks.get(RESOLUTION, b"")
        if len(block) < 12:
            return None
        x, y = (int.from_bytes(block[at : at + 4], "big") / 65536 for at in (0, 8))
        return Resolution.declared(x, y, ResolutionOrigin.PHOTOSHOP)

    @property
    def flat_picture_valid(self) -> bool:
        """False where VersionInfo says that no real flat picture was saved."""
        block = self.blocks.get(VERSION_INFO, b"")
        return len(block) < 5 or block[4] != 0

    @property
    def channel_names(self) -> tuple[str, ...]:
        """Names of the channels beyond the colour's own, in order; the Unicode ones where there are any."""
        try:
            unicode = tuple(_unicode_names(ByteSource.of(self.blocks.get(UNICODE_NAMES, b""))))
        except CutShortError:
            unicode = ()
        try:
            return unicode or tuple(_pascal_names(ByteSource.of(self.blocks.get(CHANNEL_NAMES, b""))))
        except CutShortError:
            return ()

    def spot_channels(self) -> tuple[str, ...]:
        """Names of the channels that are spot inks, as far as both resources agree in number."""
        block = self.blocks.get(DISPLAY_INFO, b"")
        kinds = block[4:][12::13]  # version, then 13 bytes a channel with its kind last
        names = self.channel_names
        if len(block) != 4 + 13 * len(kinds) or len(kinds) != len(names):
            return ()
        return tuple(name for name, kind in zip(names, kinds, strict=True) if kind == _SPOT_CHANNEL and name)


def read_resources(source: ByteSource, start: int, end: int) -> ImageResources:
    """The resources between two offsets, as far as they can be followed; the first of an id counts."""
    blocks: dict[int, bytes] = {}
    place = start
    try:
        for _ in range(MOST_RESOURCES):
            if place + 12 > end:
                return ImageResources(blocks, whole=place <= end)
            if source.read(place, 4) not in {b"8BIM", b"8B64", b"MeSa", b"AgHg", b"PHUT", b"DCSR"}:
                return ImageResources(blocks, whole=False)
            name = source.number(place + 6, 1)
            data = place + 6 + (name + 2 & ~1)  # the name and its length byte, padded to even
            ident, size = source.number(place + 4, 2), source.number(data, 4)
            if data + 4 + size > end:
                return ImageResources(blocks, whole=False)
            if ident in _WANTED:
                blocks.setdefault(ident, source.read(data + 4, size))
            place = data + 4 + (size + 1 & ~1)
    except CutShortError:
        pass
    return ImageResources(blocks, whole=False)


def _unicode_names(source: ByteSource) -> Iterator[str]:
    place = 0
    while place < source.size:
        length = source.number(place, 4)
        yield clean_name(source.read(place + 4, 2 * length).decode("utf-16-be", "replace"))
        place += 4 + 2 * length


def _pascal_names(source: ByteSource) -> Iterator[str]:
    place = 0
    while place < source.size:
        length = source.number(place, 1)
        yield clean_name(source.read(place + 1, length).decode("mac_roman"))
        place += 1 + length
