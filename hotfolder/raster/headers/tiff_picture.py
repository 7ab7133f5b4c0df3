"""What each full picture of a TIFF file declares (TIFF 6.0; section numbers in the comments).

Previews (NewSubfileType bit 0) and masks (bit 2) are no pages.
"""

from contextlib import suppress
from dataclasses import dataclass
from typing import Literal

from hotfolder.colour.icc import clean_name, read_profile
from hotfolder.errors import CutShortError
from hotfolder.model.facts import ProblemKind
from hotfolder.model.raster import RasterFacts, ResolutionOrigin
from hotfolder.raster.headers.exif import declared_resolution, orientation
from hotfolder.raster.headers.picture import (
    HeaderReading,
    HeaderTrouble,
    Packing,
    PictureHeader,
    Pieces,
    TiffFrame,
    space,
    unreadable,
)
from hotfolder.raster.headers.source import ByteSource
from hotfolder.raster.headers.tiff import Directory, directories
from hotfolder.raster.limits import MOST_VALUES

SUBFILE, OLD_SUBFILE, WIDTH, HEIGHT, BITS, COMPRESSION, PHOTOMETRIC = 254, 255, 256, 257, 258, 259, 262
STRIP_OFFSETS, SAMPLES, ROWS_PER_STRIP, STRIP_BYTES, PLANAR = 273, 277, 278, 279, 284
TILE_WIDTH, TILE_HEIGHT, TILE_OFFSETS, TILE_BYTES = 322, 323, 324, 325
INK_SET, INK_NAMES, EXTRA_SAMPLES, ICC_PROFILE, LAYER_DATA = 332, 333, 338, 34675, 37724

_MOST_SIDE = 2**31 - 1  # pixels; what 32 bits hold, signed
_MOST_SAMPLES = 64  # channels of one picture

_COMPRESSIONS = {
    1: "none", 2: "CCITT RLE", 3: "CCITT G3", 4: "CCITT G4", 5: "LZW", 6: "JPEG (old)", 7: "JPEG",
    8: "Deflate", 32773: "PackBits", 32946: "Deflate", 34712: "JPEG 2000", 34887: "LERC",
    34925: "LZMA", 50000: "Zstandard", 50001: "WebP", 50002: "JPEG XL", 52546: "JPEG XL",
}  # fmt: skip
# PhotometricInterpretation: mode and samples of a colour.
_PHOTOMETRIC = {
    0: ("grey", 1), 1: ("grey", 1), 2: ("RGB", 3), 3: ("indexed", 1), 5: ("CMYK", 4), 6: ("RGB", 3),
    8: ("Lab", 3), 9: ("Lab", 3), 10: ("Lab", 3),
}  # fmt: skip
_FOLLOWED = {1: Packing.NONE, 8: Packing.DEFLATE, 32946: Packing.DEFLATE, 32773: Packing.PACKBITS}
# What libtiff decodes wherever it is built. Old JPEG was withdrawn by TIFF Technical Note 2 (readers
# disagree about it), and the newer packings are not in every build: a refusal would say nothing.
_DECODED = {*_FOLLOWED, 2, 3, 4, 5, 7}
_YCBCR = 6
_LAYER_DATA_TITLE = b"Adobe Photoshop Document Data Block\0"


def read_tiff(source: ByteSource) -> HeaderReading:
    """The full pictures of a TIFF file, in the order of its directories."""
    numbered: list[tuple[int, Directory]] = []
    troubles: list[HeaderTrouble] = []
    try:
        for number, directory in enumerate(directories(source)):
            numbered.append((number, directory))  # what came before a break is kept
    except CutShortError:
        if not numbered:
            return unreadable("the directory that describes the picture is not in the file")
        troubles.append(
            HeaderTrouble(
                "", "the list of pages leads outside the file; later pages are missing", ProblemKind.DAMAGED
            )
        )
    full = [item for item in numbered if _is_full(item[1])] or numbered[:1]
    sized = [item for item in full if _size(item[1]) is not None]
    if not sized:
        return unreadable("the header declares a picture without extent")
    if len(sized) < len(full):
        troubles.append(HeaderTrouble("", "a page without extent was left aside", ProblemKind.DAMAGED))
    return HeaderReading(
        tuple(_picture(directory, number, len(sized)) for number, directory in sized), tuple(troubles)
    )


def picture_directory(source: ByteSource, page: int) -> tuple[int, Directory]:
    """The directory of page `page` (from 1), and its number among all directories (from 0).

    Raises CutShortError where there is none.
    """
    numbered: list[tuple[int, Directory]] = []
    with suppress(CutShortError):  # what came before a break is kept, as in reading
        numbered.extend(enumerate(directories(source)))
    full = [item for item in numbered if _is_full(item[1])] or numbered[:1]
    sized = [item for item in full if _size(item[1]) is not None]
    if not 1 <= page <= len(sized):
        raise CutShortError
    return sized[page - 1]


def first_opacity(directory: Directory) -> int | None:
    """Which of the channels beside the colours, from 0, is the first that is opacity; None without one.

    1 is opacity that the colours are multiplied with, 2 plain opacity; 0 may be a saved selection or a spot
    ink (section 18).
    """
    kinds = directory.numbers(EXTRA_SAMPLES, _MOST_SAMPLES)
    return next((place for place, kind in enumerate(kinds) if kind in {1, 2}), None)


def _is_full(directory: Directory) -> bool:
    if SUBFILE not in directory and OLD_SUBFILE in directory:
        return directory.number(OLD_SUBFILE, 1) != 2  # 2 is a reduced picture (section 8, SubfileType)
    return not directory.number(SUBFILE, 0) & 0b101 and directory.number(PHOTOMETRIC, 1) != 4


def _size(directory: Directory) -> tuple[int, int] | None:
    width, height = directory.number(WIDTH, 0), directory.number(HEIGHT, 0)
    possible = 0 < width <= _MOST_SIDE and 0 < height <= _MOST_SIDE
    return (width, height) if possible and 1 <= directory.number(SAMPLES, 1) <= _MOST_SAMPLES else None


def _picture(directory: Directory, number: int, pictures: int) -> PictureHeader:
    width, height = directory.number(WIDTH, 0), directory.number(HEIGHT, 0)
    samples = directory.number(SAMPLES, 1)
    bits = directory.number(BITS, 1)
    code = directory.number(COMPRESSION, 1)
    family, components = _colour(directory, samples, bits)
    troubles: list[HeaderTrouble] = []
    block = directory.block(ICC_PROFILE)
    profile = read_profile(block) if block is not None else None
    if ICC_PROFILE in directory and profile is None:
        troubles.append(
            HeaderTrouble("icc_profile", "the embedded colour profile cannot be read", ProblemKind.DAMAGED)
        )
    name = profile.title if profile else None
    resolution = declared_resolution(directory, ResolutionOrigin.TIFF)
    extra = samples - components
    facts = RasterFacts(
        width_px=width,
        height_px=height,
        bits=bits,
        colour=space(family, components, inks=_inks(directory, family, components), profile=name),
        x_ppi=resolution.x_ppi if resolution else None,
        y_ppi=resolution.y_ppi if resolution else None,
        resolution_origin=resolution.origin if resolution else None,
        compression=_COMPRESSIONS.get(code, f"TIFF {code}"),
        orientation=orientation(directory),
        icc_profile=name,
        icc_space=profile.space if profile else None,
        alpha=extra > 0 and first_opacity(directory) is not None,
        extra_channels=extra,
        layers=_layers(directory, troubles),
        pictures=pictures,
    )
    pieces = _pieces(directory, facts, samples, code)
    if pieces is not None and code in _FOLLOWED and directory.number(PHOTOMETRIC, 1) != _YCBCR:
        return PictureHeader(facts, pieces, tuple(troubles))
    decoder = TiffFrame(_decoded_bytes(facts, samples, pieces), number, code in _DECODED, pieces)
    return PictureHeader(facts, decoder, tuple(troubles))


def _colour(directory: Directory, samples: int, bits: int) -> tuple[str, int]:
    """The mode, and how many samples make a colour (PhotometricInterpretation, section 8 and 16 to 23)."""
    photometric = directory.number(PHOTOMETRIC, 2 if samples >= 3 else 1)
    family, components = _PHOTOMETRIC.get(photometric, ("unknown", samples))
    if family == "grey" and bits == 1 and samples == 1:
        family = "bitmap"
    if family == "CMYK" and not (directory.number(INK_SET, 1) == 1 and samples >= 4):
        extra = directory.numbers(EXTRA_SAMPLES, _MOST_SAMPLES)
        return "multichannel", max(1, samples - len(extra))
    return family, min(components, samples)


def _inks(directory: Directory, family: str, components: int) -> tuple[str, ...]:
    """Names of the inks of a picture that is not plain CMYK (InkNames, section 16), where all have one."""
    if family != "multichannel":
        return ()
    parts = (directory.block(INK_NAMES) or b"").decode("latin-1").split("\0")
    names = tuple(clean_name(part) for part in parts if part)
    return names if len(names) == components and all(names) else ()


def _decoded_bytes(facts: RasterFacts, samples: int, pieces: Pieces | None) -> int:
    """Memory to decode the picture: four bytes a pixel in colour, else the sample's; twice to turn it.

    One piece is held beside it, and in files of a single strip that is as much again.
    """
    each = 4 if samples > 1 or facts.colour.family in {"RGB", "Lab"} else max(1, facts.bits // 8)
    picture = facts.width_px * facts.height_px * each
    piece = max(pieces.unpacked_bytes) if pieces is not None else picture
    return picture * (2 if facts.orientation != 1 else 1) + piece


def _layers(directory: Directory, troubles: list[HeaderTrouble]) -> int:
    """The number of layers in tag 37724: blocks as in a layered file, in the TIFF file's byte order."""
    if LAYER_DATA not in directory:
        return 0
    count = None
    with suppress(CutShortError):
        count = _counted_layers(directory)
    if count is None:
        troubles.append(
            HeaderTrouble("layers", "there are layers, but they cannot be counted", ProblemKind.NOTE)
        )
        return 1
    return count


def _counted_layers(directory: Directory) -> int | None:
    """What the first layer block counts; None where there is none. Raises CutShortError."""
    source, entry = directory.source, directory.entries[LAYER_DATA]
    little = directory.order == "<"
    order: Literal["little", "big"] = "little" if little else "big"
    place, end = entry.place + len(_LAYER_DATA_TITLE), entry.place + entry.count
    while place + 14 <= end:
        signature, key = source.read(place, 4), source.read(place + 4, 4)
        if little:
            signature, key = signature[::-1], key[::-1]
        size = source.number(place + 8, 4, order)
        if signature != b"8BIM":
            return None
        if key in {b"Layr", b"Lr16", b"Lr32"} and size >= 2:
            return abs(source.number(place + 12, 2, order, signed=True))
        place += 12 + (size + 3 & ~3)
    return None


def _pieces(directory: Directory, facts: RasterFacts, samples: int, code: int) -> Pieces | None:
    """Where the strips or tiles lie (sections 3 and 15); None where the directory does not tell."""
    unpacked = _piece_sizes(directory, facts, samples)
    tiled = TILE_OFFSETS in directory
    offsets = directory.numbers(TILE_OFFSETS if tiled else STRIP_OFFSETS)
    packed = directory.numbers(TILE_BYTES if tiled else STRIP_BYTES)
    if unpacked is None or not len(offsets) == unpacked.pieces <= MOST_VALUES:
        return None
    sizes = unpacked.each()
    if code == 1 and not packed:
        packed = sizes  # old writers leave the byte counts out where nothing is packed
    if len(packed) != len(sizes):
        return None
    return Pieces(_FOLLOWED.get(code, Packing.NONE), offsets, packed, sizes)


@dataclass(frozen=True, slots=True)
class _PieceSizes:
    """Bytes of each piece of a plane when unpacked: `count` of `size`, the last of them of `last`."""

    planes: int
    count: int
    size: int
    last: int

    @property
    def pieces(self) -> int:
        return self.planes * self.count

    def each(self) -> tuple[int, ...]:
        return ((self.size,) * (self.count - 1) + (self.last,)) * self.planes


def _piece_sizes(directory: Directory, facts: RasterFacts, samples: int) -> _PieceSizes | None:
    planes = samples if directory.number(PLANAR, 1) == 2 else 1
    all_bits = directory.numbers(BITS, _MOST_SAMPLES) or (1,)
    if len(all_bits) < samples:
        all_bits = all_bits[:1] * samples
    bits = all_bits[0] if planes > 1 else sum(all_bits[:samples])
    if TILE_OFFSETS in directory:
        across, down = directory.number(TILE_WIDTH, 0), directory.number(TILE_HEIGHT, 0)
        if across <= 0 or down <= 0:
            return None
        size = down * ((across * bits + 7) // 8)
        return _PieceSizes(planes, -(-facts.width_px // across) * -(-facts.height_px // down), size, size)
    height = facts.height_px
    rows = min(directory.number(ROWS_PER_STRIP, height), height)
    if rows <= 0:
        return None
    strips = -(-height // rows)
    row_bytes = (facts.width_px * bits + 7) // 8
    return _PieceSizes(planes, strips, rows * row_bytes, (height - rows * (strips - 1)) * row_bytes)
