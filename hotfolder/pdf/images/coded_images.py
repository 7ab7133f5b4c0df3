"""What JPEG and JPEG 2000 data declare of themselves: size in pixels, components, quality.

The image's dictionary has to say the same (ISO 32000-2, 7.4.8, 7.4.9 and 8.9.5), and does not always.
"""

from dataclasses import dataclass
from typing import Final

import pikepdf

from hotfolder.pdf.images.jpx import JpxFacts, read_jpx
from hotfolder.pdf.objects.limits import IMAGE_DATA_BYTES
from hotfolder.pdf.objects.reading import READING_ERRORS
from hotfolder.pdf.objects.streams import filters, undone_before_last
from hotfolder.raster.jpeg_quality import quality_of_tables
from hotfolder.raster.jpeg_segments import frame_in, segments

JPEG_FILTER: Final = "DCTDecode"
_JPX_FILTER: Final = "JPXDecode"
_QUANTISATION_TABLES: Final = 0xDB
_START_OF_IMAGE: Final = b"\xff\xd8"
_LEAD_BYTES: Final = 1024  # some line ends have been met; far more is no JPEG with something before it
_NO_JPX: Final = JpxFacts()


@dataclass(frozen=True, slots=True)
class CodedImage:
    """What the data of an image declare; None for what they do not, or where they are coded in another way.

    components: of a colour; always None for JPEG 2000 data, whose components may include opacity.
    jpx: all that JPEG 2000 data declare. jpeg_quality: as in `ImageFacts`.
    """

    width_px: int | None = None
    height_px: int | None = None
    components: int | None = None
    jpx: JpxFacts = _NO_JPX
    jpeg_quality: int | None = None


NOT_CODED: Final = CodedImage()


def read_coded(stream: object) -> CodedImage:
    """What an image's data declare; `NOT_CODED` for other filters, and for data that cannot be read."""
    chain = filters(stream)
    if not isinstance(stream, pikepdf.Stream) or not chain:
        return NOT_CODED
    try:
        if chain[-1] == _JPX_FILTER:
            return _of_jpx(undone_before_last(stream, IMAGE_DATA_BYTES) or b"")
        if chain[-1] == JPEG_FILTER:
            return _of_jpeg(undone_before_last(stream, IMAGE_DATA_BYTES) or b"")
    except READING_ERRORS:
        pass  # the data cannot be read, which `image_data` reports
    return NOT_CODED


def _of_jpx(data: bytes | memoryview) -> CodedImage:
    facts = read_jpx(bytes(data))
    return CodedImage(facts.width_px or None, facts.height_px or None, jpx=facts)


def jpeg_start(data: bytes | memoryview) -> int | None:
    """Where JPEG data begin, whose first bytes may be something else; None where they are none.

    Readers in use everywhere look for the first marker (T.81, B.2.1: SOI).
    """
    start = bytes(data[:_LEAD_BYTES]).find(_START_OF_IMAGE)
    return start if start >= 0 else None


def _of_jpeg(data: bytes | memoryview) -> CodedImage:
    frame = quality = None
    for marker, body in segments(data[jpeg_start(data) or 0 :]):
        frame = frame or frame_in(marker, body)
        if quality is None and marker == _QUANTISATION_TABLES:
            quality = quality_of_tables(body)
    if frame is None:
        return CodedImage(jpeg_quality=quality)
    return CodedImage(frame.width_px or None, frame.height_px or None, frame.components, jpeg_quality=quality)
