"""What a header reader hands on: the facts of each picture, and where its pixels lie."""

import math
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Final

from hotfolder.model.colour import ColourKind, ColourSpace
from hotfolder.model.facts import ProblemKind
from hotfolder.model.raster import RasterFacts, ResolutionOrigin

# A pixel of 25 m: by less, the sides of a picture would pass what numbers can hold.
_LEAST_PPI: Final = 1e-3


@dataclass(frozen=True, slots=True)
class HeaderTrouble:
    """Something odd in a picture: `part` is the fact that it touches, empty for the picture itself."""

    part: str
    what: str
    kind: ProblemKind


@dataclass(frozen=True, slots=True)
class Resolution:
    """A declared resolution in pixels per inch; both figures are finite and no less than a thousandth."""

    x_ppi: float
    y_ppi: float
    origin: ResolutionOrigin

    @classmethod
    def declared(cls, x_ppi: float, y_ppi: float, origin: ResolutionOrigin) -> "Resolution | None":
        """The resolution where both figures can be one, else None."""
        usable = all(math.isfinite(value) and value >= _LEAST_PPI for value in (x_ppi, y_ppi))
        return cls(x_ppi, y_ppi, origin) if usable else None

    def agrees(self, other: "Resolution") -> bool:
        """Whether both say the same within 1 %: headers round differently."""
        return math.isclose(self.x_ppi, other.x_ppi, rel_tol=0.01) and math.isclose(
            self.y_ppi, other.y_ppi, rel_tol=0.01
        )


class Packing(StrEnum):
    """How the bytes of a piece of pixel data are packed, where we can follow that ourselves."""

    NONE = "none"
    DEFLATE = "deflate"
    PACKBITS = "PackBits"


@dataclass(frozen=True, slots=True)
class Pieces:
    """Pixel data in strips or tiles: where each lies, its packed bytes, its bytes unpacked."""

    packing: Packing
    offsets: tuple[int, ...]
    packed_bytes: tuple[int, ...]
    unpacked_bytes: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class PackedRows:
    """PackBits rows behind a table of their packed lengths: a layered file's flat picture.

    Each entry of the table at `table` has `entry_bytes` bytes; the rows follow it.
    """

    table: int
    entry_bytes: int
    rows: int
    row_bytes: int


@dataclass(frozen=True, slots=True)
class PngRows:
    """PNG data: the offset of the first data chunk, and for each pass its rows and bytes a row.

    A row's bytes include the filter byte before it (PNG third edition, 7.2).
    """

    first_chunk: int
    passes: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class TiffFrame:
    """A picture of a TIFF file that only a decoder can follow, and the memory which that takes.

    frame: its number among the file's directories, from 0. supported: False where no decoder
    here is known to read this kind, so that a refusal says nothing about the file.
    pieces: where the data lies, if that is known.
    """

    memory_bytes: int
    frame: int
    supported: bool
    pieces: Pieces | None


@dataclass(frozen=True, slots=True)
class JpegScans:
    """The scans of a JPEG file, which only a decoder can follow, and what that takes.

    tables: offset and length of the segments that a decoder needs before the first scan.
    start: offset of the first scan's marker. least_bytes: what the scans take at the very least.
    memory_bytes: to decode the picture whole. reduced_bytes: at an eighth of each side.
    supported: False where no decoder here reads this kind.
    """

    tables: tuple[tuple[int, int], ...]
    start: int
    least_bytes: int
    memory_bytes: int
    reduced_bytes: int
    supported: bool


Pixels = Pieces | PackedRows | PngRows | TiffFrame | JpegScans


@dataclass(frozen=True, slots=True)
class PictureHeader:
    """One picture of a file. pixels: None where the header does not tell where they are."""

    facts: RasterFacts
    pixels: Pixels | None
    troubles: tuple[HeaderTrouble, ...] = ()


@dataclass(frozen=True, slots=True)
class HeaderReading:
    """What a header reader found: no pictures where the header cannot be understood at all.

    troubles: those of the file as a whole; where there are no pictures the first says why.
    """

    pictures: tuple[PictureHeader, ...]
    troubles: tuple[HeaderTrouble, ...] = field(default=())


def unreadable(what: str, kind: ProblemKind = ProblemKind.UNREADABLE) -> HeaderReading:
    """The reading of a file in which no picture was found, and why."""
    return HeaderReading((), (HeaderTrouble("", what, kind),))


def space(
    family: str, components: int, *, inks: tuple[str, ...] = (), profile: str | None = None
) -> ColourSpace:
    """The colour space of a raster mode; indexed pictures have an RGB palette (TIFF, PNG and PSD alike)."""
    kinds = {
        "bitmap": ColourKind.GREY,
        "grey": ColourKind.GREY,
        "indexed": ColourKind.RGB,
        "RGB": ColourKind.RGB,
        "CMYK": ColourKind.CMYK,
        "Lab": ColourKind.LAB,
        "multichannel": ColourKind.SPOT,
        "duotone": ColourKind.SPOT,
    }
    base = ColourSpace("RGB", ColourKind.RGB, 3, profile=profile) if family == "indexed" else None
    return ColourSpace(family, kinds.get(family, ColourKind.UNKNOWN), components, inks, base, profile)
