"""Compares what we measure of a raster file with what exiftool, identify and tiffinfo tell of it."""

import math
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final

from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Format, Unmeasured
from hotfolder.model.raster import RasterFacts, ResolutionOrigin
from tests.reference.exif import Header, Tags, has_exif, has_flat_picture, header, tags_of
from tests.reference.facts import Compared, Comparison, Difference, Kind, same
from tests.reference.magick import Identified, identify
from tests.reference.tiff import TiffHeader, tiff_header

_RESOLUTION_SHARE: Final = 1e-4  # exiftool prints five decimals or so
_FILE_TYPES: Final = {"JPEG": Format.JPEG, "PNG": Format.PNG, "TIFF": Format.TIFF, "PSD": Format.PSD}
_LAYER_NAME: Final = b"8BIMluni"  # each layer has one such block, its name in Unicode


def compare_raster(path: Path, artwork: Artwork) -> Comparison:
    """The facts of a raster file on which both have something to say."""
    tags = tags_of(path)
    form = _FILE_TYPES.get(str(tags.get("File:FileType")))
    facts = [same(Kind.FORMAT, "the file", artwork.file.format, form)]
    if form is None or isinstance(artwork.pages, Unmeasured):
        return Comparison(path, tuple(facts))
    ours = artwork.pages[0].raster
    assert ours is not None
    facts.extend(_facts(ours, header(tags, form), path))
    facts.append(same(Kind.LAYERS, "flat picture", ours.flat_picture_valid, has_flat_picture(tags)))
    tiff = tiff_header(path) if form is Format.TIFF else None
    if tiff is not None:
        facts.extend(_against_tiff(ours, tiff))
    if (identified := identify(path)) is not None:
        facts.extend(_against_magick(ours, identified, _magick_reasons(ours, tags, tiff)))
    return Comparison(path, tuple(facts))


def _magick_reasons(ours: RasterFacts, tags: Tags, tiff: TiffHeader | None) -> dict[Kind, Difference]:
    """Why ImageMagick may tell another fact of a kind, by what the other tools tell."""
    if not has_flat_picture(tags):
        return dict.fromkeys((Kind.MAGICK_COLOUR, Kind.MAGICK_HEADER), Difference.NO_FLAT_PICTURE)
    if tiff is not None and tiff.x_ppi is None:
        return {Kind.MAGICK_DECLARED: Difference.NO_RESOLUTION}
    if ours.resolution_origin is ResolutionOrigin.JFIF and has_exif(tags):
        return {Kind.MAGICK_DECLARED: Difference.EXIF_FIRST}
    return {}


def _facts(ours: RasterFacts, theirs: Header, path: Path) -> Iterator[Compared]:
    yield same(Kind.CANVAS, "width", ours.width_px, theirs.width_px)
    yield same(Kind.CANVAS, "height", ours.height_px, theirs.height_px)
    yield same(Kind.CHANNEL_BITS, "bits", ours.bits, theirs.bits)
    yield same(Kind.MODE, "mode", _mode(ours), theirs.mode)
    yield same(Kind.PACKING, "compression", ours.compression, theirs.compression)
    yield same(Kind.ORIENTATION, "orientation", ours.orientation, theirs.orientation)
    yield same(Kind.PROFILE, "profile", ours.icc_profile, theirs.icc_profile)
    yield same(Kind.PROFILE, "profile's space", ours.icc_space, theirs.icc_space)
    yield same(Kind.PROGRESSIVE, "progressive", ours.progressive, theirs.progressive)
    yield from _declared(Kind.DECLARED, ours, theirs.x_ppi, theirs.y_ppi)
    yield same(Kind.LAYERS, "layers", ours.layers, theirs.layers, _layer_difference(ours, path))


def _against_magick(
    ours: RasterFacts, theirs: Identified, reasons: Mapping[Kind, Difference]
) -> Iterator[Compared]:
    def told(kind: Kind, where: str, our: object, their: object) -> Compared:
        return same(kind, where, our, their, reasons.get(kind))

    yield told(Kind.MAGICK_SIZE, "width", ours.width_px, theirs.width_px)
    yield told(Kind.MAGICK_SIZE, "height", ours.height_px, theirs.height_px)
    yield told(Kind.MAGICK_SIZE, "bits", ours.bits, theirs.bits)
    mode = _mode(ours)
    yield told(Kind.MAGICK_COLOUR, "mode", "RGB" if mode == "indexed" else mode, theirs.mode)
    yield told(Kind.MAGICK_COLOUR, "transparency", ours.alpha, theirs.alpha)
    packing = "run lengths" if ours.compression in {"PackBits", "CCITT RLE"} else ours.compression
    yield told(Kind.MAGICK_HEADER, "compression", packing, theirs.compression)
    yield told(Kind.MAGICK_HEADER, "orientation", ours.orientation, theirs.orientation)
    yield told(Kind.MAGICK_HEADER, "interlacing", ours.progressive, theirs.progressive)
    if ours.icc_space is not None:  # not where the header says sRGB in words
        yield told(Kind.MAGICK_HEADER, "profile", ours.icc_profile, theirs.icc_profile)
    reason = reasons.get(Kind.MAGICK_DECLARED)
    yield from _declared(Kind.MAGICK_DECLARED, ours, theirs.x_ppi, theirs.y_ppi, reason)


def _against_tiff(ours: RasterFacts, theirs: TiffHeader) -> Iterator[Compared]:
    yield same(Kind.TIFF_SIZE, "width", ours.width_px, theirs.width_px)
    yield same(Kind.TIFF_SIZE, "height", ours.height_px, theirs.height_px)
    yield same(Kind.TIFF_SIZE, "bits", ours.bits, theirs.bits)
    yield same(Kind.TIFF_SIZE, "pictures", ours.pictures, theirs.pictures)
    if theirs.mode:
        yield same(Kind.TIFF_COLOUR, "mode", _mode(ours), theirs.mode)
    yield same(Kind.TIFF_COLOUR, "extra channels", ours.extra_channels, theirs.extra_channels)
    yield same(Kind.TIFF_HEADER, "compression", ours.compression, theirs.compression)
    yield same(Kind.TIFF_HEADER, "orientation", ours.orientation, theirs.orientation)
    yield same(Kind.TIFF_HEADER, "profile", ours.icc_space is not None, theirs.has_profile)
    yield from _declared(Kind.TIFF_DECLARED, ours, theirs.x_ppi, theirs.y_ppi)


def _declared(
    kind: Kind,
    ours: RasterFacts,
    x_ppi: float | None,
    y_ppi: float | None,
    reason: Difference | None = None,
) -> Iterator[Compared]:
    for axis, ppi, declared in (("across", ours.x_ppi, x_ppi), ("down", ours.y_ppi, y_ppi)):
        agree = _close(ppi, declared)
        yield Compared(kind, axis, str(ppi), str(declared), agree, None if agree else reason)


def _close(ours: float | None, theirs: float | None) -> bool:
    if ours is None or theirs is None:
        return ours is theirs
    return math.isclose(ours, theirs, rel_tol=_RESOLUTION_SHARE)


def _mode(ours: RasterFacts) -> str:
    """Our mode; for exiftool a bitmap is a grey picture of one bit, but in layered files."""
    return "grey" if ours.colour.family == "bitmap" else ours.colour.family


def _layer_difference(ours: RasterFacts, path: Path) -> Difference | None:
    named = ours.bits == 32 and path.read_bytes().count(_LAYER_NAME) == ours.layers
    return Difference.LAYERS_OF_32_BITS if named else None
