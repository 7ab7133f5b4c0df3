"""Compares what we measure of a raster file with what exiftool tells of it."""

import math
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from hotfolder.artwork import Artwork, Format, RasterFacts, Unmeasured
from tests.reference.exif import Header, header, tags_of
from tests.reference.facts import Compared, Comparison, Difference, Kind, same

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
    return Comparison(path, tuple(facts))


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
    for axis, ppi, declared in (("across", ours.x_ppi, theirs.x_ppi), ("down", ours.y_ppi, theirs.y_ppi)):
        agree = _close(ppi, declared)
        yield Compared(Kind.DECLARED, axis, str(ppi), str(declared), agree)
    yield same(Kind.LAYERS, "layers", ours.layers, theirs.layers, _layer_difference(ours, path))


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
