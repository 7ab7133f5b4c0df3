"""Asks exiftool what the header of a raster file declares, in the terms of our own facts."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from hotfolder.model.facts import Format
from tests.reference.tools import run_tool

Tags = Mapping[str, str | int | float]


@dataclass(frozen=True, slots=True)
class Header:
    """What exiftool reads. None: it names none. mode: our word for what it calls by a number."""

    width_px: int
    height_px: int
    bits: int
    mode: str
    compression: str
    x_ppi: float | None
    y_ppi: float | None
    orientation: int
    icc_profile: str | None
    icc_space: str | None
    progressive: bool
    layers: int


# Groups in which exiftool tells the size; for TIFF the first directory that is a full picture.
_GROUPS: Final = {
    Format.JPEG: "File",
    Format.PNG: "PNG",
    Format.TIFF: "IFD0",
    Format.PSD: "Photoshop",
}
# Codes of each standard: T.81 has none but the number of components; PNG third edition 11.2.1;
# TIFF 6.0 PhotometricInterpretation; the layered format's mode word.
_JPEG_MODES: Final = {1: "grey", 3: "RGB", 4: "CMYK"}
_PNG_MODES: Final = {0: "grey", 2: "RGB", 3: "indexed", 4: "grey", 6: "RGB"}
_TIFF_MODES: Final = {0: "grey", 1: "grey", 2: "RGB", 3: "indexed", 5: "CMYK", 6: "RGB", 8: "Lab"}
_PSD_MODES: Final = {
    0: "bitmap", 1: "grey", 2: "indexed", 3: "RGB", 4: "CMYK", 7: "multichannel", 8: "duotone", 9: "Lab",
}  # fmt: skip
_TIFF_COMPRESSIONS: Final = {
    1: "none", 2: "CCITT RLE", 3: "CCITT G3", 4: "CCITT G4", 5: "LZW", 6: "JPEG (old)", 7: "JPEG",
    8: "Deflate", 32773: "PackBits", 32946: "Deflate",
}  # fmt: skip
_PSD_COMPRESSIONS: Final = {0: "none", 1: "PackBits", 2: "Deflate", 3: "Deflate"}
# Second hexadecimal digit of exiftool's EncodingProcess, the frame marker (T.81, table B.1).
_PROGRESSIVE_FRAMES: Final = {2, 6, 10, 14}


def tags_of(path: Path) -> Tags:
    """All tags of a file by group and name, as numbers."""
    (tags,) = json.loads(run_tool("exiftool", "-j", "-n", "-G1", "-a", str(path)).text)
    assert isinstance(tags, dict)
    return tags


def has_flat_picture(tags: Tags) -> bool:
    """Whether a layered file says that its flat picture is a usable one; other files have nothing else."""
    return tags.get("Photoshop:HasRealMergedData") != 0


def has_exif(tags: Tags) -> bool:
    """Whether a file has Exif data of its own, broken ones included."""
    return "IFD0:XResolution" in tags or "Bad IFD0 directory" in str(tags.get("ExifTool:Warning"))


def header(tags: Tags, form: Format) -> Header:
    """The tags in the terms of our facts."""
    group = _GROUPS[form]
    bits = _first(tags, f"{group}:BitsPerSample", f"{group}:BitDepth")
    profile = _first(tags, "ICC_Profile:ProfileDescription")
    if profile is None and _says_srgb(tags, form):
        profile = "sRGB"
    space = _first(tags, "ICC-header:ColorSpaceData")
    x_ppi, y_ppi = _resolution(tags)
    return Header(
        width_px=_whole(tags, f"{group}:ImageWidth") or 0,
        height_px=_whole(tags, f"{group}:ImageHeight") or 0,
        bits=int(str(bits).split()[0]) if bits is not None else 1,
        mode=_mode(tags, form),
        compression=_compression(tags, form),
        x_ppi=x_ppi,
        y_ppi=y_ppi,
        orientation=_whole(tags, "IFD0:Orientation") or 1,
        icc_profile=None if profile is None else str(profile),
        icc_space=None if space is None else str(space).strip(),
        progressive=_progressive(tags, form),
        layers=_whole(tags, "Photoshop:LayerCount") or 0,
    )


def _mode(tags: Tags, form: Format) -> str:
    match form:
        case Format.JPEG:
            return _JPEG_MODES.get(_whole(tags, "File:ColorComponents") or 0, "multichannel")
        case Format.PNG:
            return _PNG_MODES[_whole(tags, "PNG:ColorType") or 0]
        case Format.TIFF:
            return _TIFF_MODES[_whole(tags, "IFD0:PhotometricInterpretation") or 0]
        case _:
            return _PSD_MODES[_whole(tags, "Photoshop:ColorMode") or 0]


def _compression(tags: Tags, form: Format) -> str:
    match form:
        case Format.JPEG:
            return "JPEG"
        case Format.PNG:
            return "Deflate"  # the one method that PNG knows (third edition, 11.2.1)
        case Format.TIFF:
            return _TIFF_COMPRESSIONS[_whole(tags, "IFD0:Compression") or 1]
        case _:
            return _PSD_COMPRESSIONS[_whole(tags, "Photoshop:Compression") or 0]


def _progressive(tags: Tags, form: Format) -> bool:
    if form is Format.PNG:
        return _whole(tags, "PNG:Interlace") == 1
    return form is Format.JPEG and _whole(tags, "File:EncodingProcess") in _PROGRESSIVE_FRAMES


def _says_srgb(tags: Tags, form: Format) -> bool:
    """Whether the header names sRGB without a profile: PNG's `sRGB` chunk, Exif's ColorSpace 1."""
    return "PNG:SRGBRendering" in tags or (form is Format.JPEG and _whole(tags, "ExifIFD:ColorSpace") == 1)


def _resolution(tags: Tags) -> tuple[float | None, float | None]:
    """By the order of our facts: JFIF, Exif or TIFF, pHYs, image resource; the first that has a unit."""
    for x_ppi, y_ppi in _declared(tags):
        if x_ppi and y_ppi:
            return x_ppi, y_ppi
    return None, None


def _declared(tags: Tags) -> Iterator[tuple[float, float]]:
    # Units: JFIF 1.02, 1 inch and 2 centimetre; TIFF 6.0 and Exif, 2 inch (also where none is said) and
    # 3 centimetre; PNG, 1 metre.
    for group, units, unsaid in (("JFIF", {1: 1.0, 2: 2.54}, 0), ("IFD0", {2: 1.0, 3: 2.54}, 2)):
        unit = _whole(tags, f"{group}:ResolutionUnit")
        yield _pair(tags, f"{group}:{{}}Resolution", units.get(unsaid if unit is None else unit, 0.0))
    if _whole(tags, "PNG-pHYs:PixelUnits") == 1:
        yield _pair(tags, "PNG-pHYs:PixelsPerUnit{}", 0.0254)
    yield _pair(tags, "Photoshop:{}Resolution", 1.0)


def _pair(tags: Tags, name: str, per_inch: float) -> tuple[float, float]:
    x, y = (_number(tags, name.format(side)) * per_inch for side in "XY")
    return x, y


def _first(tags: Tags, *names: str) -> str | int | float | None:
    return next((tags[name] for name in names if name in tags), None)


def _number(tags: Tags, name: str) -> float:
    value = tags.get(name)
    return float(value) if isinstance(value, int | float) else 0.0


def _whole(tags: Tags, name: str) -> int | None:
    value = tags.get(name)
    return int(value) if isinstance(value, int | float) else None
