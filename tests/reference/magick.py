"""Asks ImageMagick's `identify` what a raster file declares, in the terms of our own facts."""

from dataclasses import dataclass
from pathlib import Path
from typing import Final

from tests.reference.tools import run_tool

_WORDS: Final = (
    "%w", "%h", "%z", "%[png:IHDR.bit-depth-orig]", "%[colorspace]", "%[channels]", "%C",
    "%[orientation]", "%[interlace]", "%[icc:description]", "%U", "%x", "%y",
)  # fmt: skip
_PER_INCH: Final = {"PixelsPerInch": 1.0, "PixelsPerCentimeter": 2.54}
_MODES: Final = {"sRGB": "RGB", "RGB": "RGB", "Gray": "grey", "CMYK": "CMYK", "CIELab": "Lab"}
_COMPRESSIONS: Final = {
    "None": "none", "Zip": "Deflate", "LZW": "LZW", "JPEG": "JPEG", "RLE": "run lengths", "Fax": "CCITT G3",
    "Group4": "CCITT G4",
}  # fmt: skip
# In the order of Exif's numbers, from 1.
_ORIENTATIONS: Final = (
    "TopLeft", "TopRight", "BottomRight", "BottomLeft", "LeftTop", "RightTop", "RightBottom", "LeftBottom",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Identified:
    """What `identify` tells of the first picture of a file.

    compression: its word for PackBits and CCITT RLE alike is RLE, here `run lengths`. mode: a palette's
    colours are RGB, a bitmap is grey.
    """

    width_px: int
    height_px: int
    bits: int
    mode: str
    alpha: bool
    compression: str
    orientation: int
    progressive: bool
    icc_profile: str | None
    x_ppi: float | None
    y_ppi: float | None


def identify(path: Path) -> Identified | None:
    """What ImageMagick tells of a file; None where it gives it up."""
    said = run_tool("identify", "-format", "\t".join(_WORDS) + "\n", f"{path}[0]")
    if not said.text:
        return None
    width, height, depth, png_bits, space, channels, packing, turn, interlace, profile, unit, x, y = (
        said.text.split("\n", 1)[0].split("\t")
    )
    x_ppi, y_ppi = (
        float(value) * _PER_INCH[unit] if unit in _PER_INCH and float(value) else None for value in (x, y)
    )
    return Identified(
        width_px=int(width),
        height_px=int(height),
        bits=int(png_bits or depth),  # a PNG of fewer bits it would hold in 8
        mode=_MODES.get(space, space),
        alpha=channels.endswith("a"),
        compression=_COMPRESSIONS.get(packing, packing),
        orientation=_ORIENTATIONS.index(turn) + 1 if turn in _ORIENTATIONS else 1,
        progressive=interlace not in {"None", "Line", "Plane"},
        icc_profile=profile or None,
        x_ppi=x_ppi,
        y_ppi=y_ppi,
    )
