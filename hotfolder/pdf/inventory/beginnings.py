"""The first bytes of a stream, for those who need no more: profiles and font programs are large."""

import zlib

import pikepdf

from hotfolder.pdf.objects.limits import FONT_PROGRAM_BYTES, PROFILE_BYTES
from hotfolder.pdf.objects.reading import READING_ERRORS
from hotfolder.pdf.objects.streams import bounded_bytes, filters, predictor

_MOST: int = max(FONT_PROGRAM_BYTES, PROFILE_BYTES)


def beginning_of(stream: object, length: int) -> bytes | None:
    """The first `length` decoded bytes of a stream, or all where there are fewer; None where unreadable."""
    if not isinstance(stream, pikepdf.Stream):
        return None
    if filters(stream) == ("FlateDecode",) and predictor(stream) == 1:
        try:
            return zlib.decompressobj().decompress(stream.read_raw_bytes(), length)
        except (zlib.error, *READING_ERRORS):
            return None
    data = bounded_bytes(stream, _MOST)
    return data[:length] if data is not None else None
