"""Asks libtiff's `tiffinfo` what a TIFF declares, in the terms of our own facts."""

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from tests.reference.tools import run_tool

_DIRECTORY: Final = re.compile(r"^=== TIFF directory \d+ ===$", re.MULTILINE)
_MODES: Final = {
    "min-is-white": "grey", "min-is-black": "grey", "RGB color": "RGB", "separated": "CMYK",
    "palette color (RGB from colormap)": "indexed", "CIE L*a*b*": "Lab", "YCbCr": "RGB",
}  # fmt: skip
_COMPRESSIONS: Final = {
    "None": "none", "CCITT RLE": "CCITT RLE", "CCITT Group 3": "CCITT G3", "CCITT Group 4": "CCITT G4",
    "LZW": "LZW", "JPEG": "JPEG", "AdobeDeflate": "Deflate", "Deflate": "Deflate", "PackBits": "PackBits",
}  # fmt: skip
_ORIENTATIONS: Final = (
    "row 0 top, col 0 lhs", "row 0 top, col 0 rhs", "row 0 bottom, col 0 rhs", "row 0 bottom, col 0 lhs",
    "row 0 lhs, col 0 top", "row 0 rhs, col 0 top", "row 0 rhs, col 0 bottom", "row 0 lhs, col 0 bottom",
)  # fmt: skip
# Where no unit is said it is the inch (TIFF 6.0, ResolutionUnit).
_PER_INCH: Final = {"": 1.0, "pixels/inch": 1.0, "pixels/cm": 2.54}


@dataclass(frozen=True, slots=True)
class TiffHeader:
    """What `tiffinfo` tells of the first picture of a file, and how many there are."""

    width_px: int
    height_px: int
    bits: int
    mode: str
    extra_channels: int
    compression: str
    orientation: int
    has_profile: bool
    pictures: int
    x_ppi: float | None
    y_ppi: float | None


def tiff_header(path: Path) -> TiffHeader | None:
    """What libtiff tells of a file; None where it gives it up."""
    directories = _DIRECTORY.split(run_tool("tiffinfo", str(path)).text)[1:]
    if not directories:
        return None
    first = directories[0].split("--- ", 1)[0]  # the directories of Exif and GPS come after
    size = re.search(r"Image Width: (\d+) Image Length: (\d+)", first)
    if size is None:
        return None
    x_ppi, y_ppi = _resolution(first)
    return TiffHeader(
        width_px=int(size[1]),
        height_px=int(size[2]),
        bits=int(_value(first, "Bits/Sample") or 1),
        mode=_told(_MODES, _value(first, "Photometric Interpretation")),
        extra_channels=int((_value(first, "Extra Samples") or "0").split("<")[0]),
        compression=_told(_COMPRESSIONS, _value(first, "Compression Scheme")),
        orientation=_orientation(_value(first, "Orientation")),
        has_profile=bool(_value(first, "ICC Profile")),
        pictures=len(directories),
        x_ppi=x_ppi,
        y_ppi=y_ppi,
    )


def _value(directory: str, name: str) -> str:
    match = re.search(rf"^  {re.escape(name)}: (.*?)\s*$", directory, re.MULTILINE)
    return match[1] if match else ""


def _told(words: dict[str, str], value: str) -> str:
    """Our word for one of libtiff's; its own where we have none."""
    return words.get(value, value)


def _orientation(words: str) -> int:
    return _ORIENTATIONS.index(words) + 1 if words in _ORIENTATIONS else 1


def _resolution(directory: str) -> tuple[float | None, float | None]:
    found = re.fullmatch(r"([-\d.e+]+), ([-\d.e+]+) ?(.*)", _value(directory, "Resolution"))
    if found is None or found[3] not in _PER_INCH:
        return None, None
    x_ppi, y_ppi = (float(value) * _PER_INCH[found[3]] for value in found.groups()[:2])
    return (x_ppi, y_ppi) if x_ppi > 0 and y_ppi > 0 else (None, None)
