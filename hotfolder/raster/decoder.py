"""Decodes pictures to see whether they are damaged; nothing that decoders raise or warn of gets out.

JPEG goes through qpdf, which takes the warnings of libjpeg for what they are (a scan that ends
early, bits that make no sense); Pillow fills such places with grey and says nothing. Pillow
decodes the TIFF packings, and JPEG pictures that are too large for memory, at an eighth of
their sides.
"""

import warnings
from collections.abc import Iterator
from pathlib import Path
from typing import Final

import pikepdf
from PIL.JpegImagePlugin import JpegImageFile
from PIL.TiffImagePlugin import TiffImageFile

from hotfolder.model.facts import ProblemKind
from hotfolder.model.raster import RasterFacts
from hotfolder.raster.headers.picture import HeaderTrouble, JpegScans, TiffFrame
from hotfolder.raster.limits import MOST_DECODED_BYTES
from hotfolder.raster.opacity import decodes_whole
from hotfolder.raster.pillow import PILLOW_ERRORS, without_pixel_limit

# Pillow's and qpdf's; MemoryError is told apart from these.
DECODER_ERRORS: Final = (*PILLOW_ERRORS, pikepdf.PikepdfError)

_DAMAGED = HeaderTrouble(
    "",
    "the picture cannot be decoded without errors; a part of it would print wrong or not at all",
    ProblemKind.DAMAGED,
)
_UNKNOWN_KIND = HeaderTrouble(
    "",
    "this version cannot decode pictures of this kind; its pixels were not looked at",
    ProblemKind.UNSUPPORTED,
)
_LOOSELY = HeaderTrouble(
    "",
    "the picture is so large that only missing pixels were looked for, not damaged ones",
    ProblemKind.NOTE,
)
_ODD_ENTRIES = HeaderTrouble(
    "", "the header holds entries that do not add up; they do not touch the picture", ProblemKind.NOTE
)


def decode_jpeg(path: Path, facts: RasterFacts, scans: JpegScans) -> Iterator[HeaderTrouble]:
    """What is wrong with the picture when it is decoded, if anything. OSError where `path` does not open."""
    if not scans.supported:
        yield _UNKNOWN_KIND
    elif scans.memory_bytes <= MOST_DECODED_BYTES:
        yield from _strictly_decoded(_bare_jpeg(path.read_bytes(), scans), facts)
    elif scans.reduced_bytes <= MOST_DECODED_BYTES:
        yield from _decoded(path, facts, None)
        yield _LOOSELY
    else:
        yield _limit(facts)


def decode_tiff(path: Path, facts: RasterFacts, frame: TiffFrame) -> Iterator[HeaderTrouble]:
    """What is wrong with the picture when it is decoded, if anything. OSError where `path` does not open."""
    if not frame.supported:
        yield _UNKNOWN_KIND
    elif frame.memory_bytes <= MOST_DECODED_BYTES:
        yield from _decoded(path, facts, frame)
    else:
        yield _limit(facts)


def _limit(facts: RasterFacts) -> HeaderTrouble:
    return HeaderTrouble(
        "",
        f"decoding {facts.width_px} x {facts.height_px} px takes more memory than is granted; "
        "the pixels were not looked at",
        ProblemKind.LIMIT,
    )


def _bare_jpeg(data: bytes, scans: JpegScans) -> bytes:
    """The picture alone: odd application segments are no damage to it, nor is a missing end mark."""
    tables = b"".join(data[place : place + length] for place, length in scans.tables)
    return b"\xff\xd8" + tables + data[scans.start :] + b"\xff\xd9"


def _strictly_decoded(data: bytes, facts: RasterFacts) -> Iterator[HeaderTrouble]:
    try:
        pdf = pikepdf.new()
        stream = pdf.make_stream(data, Filter=pikepdf.Name.DCTDecode)
        stream.read_bytes(pikepdf.StreamDecodeLevel.all)
    except MemoryError:
        yield _limit(facts)
    except DECODER_ERRORS:
        yield _DAMAGED


def _decoded(path: Path, facts: RasterFacts, frame: TiffFrame | None) -> Iterator[HeaderTrouble]:
    """What Pillow makes of a TIFF file's picture, or of a JPEG file where `frame` is None."""
    with path.open("rb"):
        pass  # a file that does not open is no damaged picture: let that OSError out
    with without_pixel_limit(), warnings.catch_warnings(record=True) as warned:
        warnings.simplefilter("always")
        trouble = _loaded(path, facts, frame)
    if trouble is not None:
        yield trouble
    elif warned:
        yield _ODD_ENTRIES


def _loaded(path: Path, facts: RasterFacts, frame: TiffFrame | None) -> HeaderTrouble | None:
    try:
        image = _opened(path, frame)
    except MemoryError:
        return _limit(facts)
    except DECODER_ERRORS:
        return _not_opened(path, facts, frame)
    with image:
        if image.width * image.height > facts.width_px * facts.height_px:
            return _UNKNOWN_KIND  # not the picture that our limits were asked about
        try:
            if isinstance(image, JpegImageFile):
                # Every coefficient is read, and an eighth of the picture's width and height is kept.
                image.draft(None, (max(1, facts.width_px // 8), max(1, facts.height_px // 8)))
            image.load()
        except MemoryError:
            return _limit(facts)
        except DECODER_ERRORS:
            return _DAMAGED
    return None


def _not_opened(path: Path, facts: RasterFacts, frame: TiffFrame | None) -> HeaderTrouble | None:
    """What to say of a picture that Pillow does not open."""
    if frame is None or frame.pieces is None:
        return _DAMAGED
    # A TIFF whose data our reader found in its place is legal, only unknown; Pillow knows no CMYK with an
    # alpha channel, which another decoder takes.
    return None if facts.extra_channels and decodes_whole(path, frame.frame) else _UNKNOWN_KIND


def _opened(path: Path, frame: TiffFrame | None) -> JpegImageFile | TiffImageFile:
    """The picture, opened by the plugin of its format and no other."""
    if frame is None:
        return JpegImageFile(path)
    image = TiffImageFile(path)
    if frame.frame:
        image.seek(frame.frame)
    return image
