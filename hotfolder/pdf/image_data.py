"""Finds pictures whose data end before the picture does (ISO 32000-2, 7.4 and 8.9.5).

On a screen such a picture may look whole, or blank from some row on; a program at the press may stop at it.
Looked at are JPEG data, which have an end of their own (ITU-T T.81, annex B), and data that unpack to a known
number of bytes. Fax, JBIG2 and JPEG 2000 data are not: their length tells nothing. Nor are pictures without
any data, which paint nothing.
"""

from typing import Final

import pikepdf

from hotfolder.artwork import ImageFacts
from hotfolder.pdf.limits import IMAGE_DATA_BYTES
from hotfolder.pdf.reading import READING_ERRORS, entry, item, whole
from hotfolder.pdf.streams import filters, survey

BREAKS_OFF: Final = "the data of a picture break off before its end"
NO_JPEG: Final = "the data of a picture are not JPEG, as the file says they are"
UNREADABLE: Final = "the data of a picture cannot be read"

_JPEG: Final = frozenset({("DCTDecode",), ("DCT",)})
_UNPACKED: Final = frozenset(
    {"FlateDecode", "Fl", "LZWDecode", "LZW", "RunLengthDecode", "RL", "ASCII85Decode", "A85",
     "ASCIIHexDecode", "AHx"}
)  # fmt: skip
_START: Final = b"\xff\xd8"
_SCAN: Final = b"\xff\xda"
_END: Final = b"\xff\xd9"
_PNG_PREDICTORS: Final = 10  # and above: each row has a byte more (7.4.4.4, table 10)


def trouble_with(stream: pikepdf.Stream, facts: ImageFacts) -> str | None:
    """What is wrong with the data of an image or of its mask, in words; None where nothing is known to be."""
    parts = 1 if facts.colour is None else facts.colour.components
    found = _trouble(stream, facts.width_px, facts.height_px, facts.bits or 0, parts)
    if found is None:
        for key in ("/SMask", "/Mask"):
            mask = entry(stream, key)
            if found is None and isinstance(mask, pikepdf.Stream):
                found = _trouble_with_mask(mask)
    return found


def _trouble_with_mask(mask: pikepdf.Stream) -> str | None:
    bits = 1 if entry(mask, "/ImageMask") is True else whole(entry(mask, "/BitsPerComponent"))
    width, height = whole(entry(mask, "/Width")), whole(entry(mask, "/Height"))
    return _trouble(mask, width or 0, height or 0, bits or 0, 1)


def _trouble(stream: pikepdf.Stream, width: int, height: int, bits: int, parts: int) -> str | None:
    chain = filters(stream)
    row = (width * parts * bits + 7) // 8
    try:
        if not whole(entry(stream, "/Length")):
            return None
        if chain in _JPEG:
            return _trouble_with_jpeg(stream.read_raw_bytes())
        if not row or not set(chain) <= _UNPACKED:
            return None
        row += 1 if _predictor(stream) >= _PNG_PREDICTORS else 0
        # Programs leave out some last bytes: less than a row, nobody sees.
        needed = row * (height - 1) + 1
        length = survey(stream, min(needed, IMAGE_DATA_BYTES)).length
    except READING_ERRORS:
        return UNREADABLE
    return BREAKS_OFF if length is not None and length < needed else None


def _trouble_with_jpeg(data: bytes) -> str | None:
    if not data.startswith(_START):
        return NO_JPEG
    # Nothing in the data of a scan looks like an end (T.81, B.1.1.5); a preview before it may have one.
    return BREAKS_OFF if data.rfind(_END) < data.rfind(_SCAN) else None


def _predictor(stream: pikepdf.Stream) -> int:
    given = entry(stream, "/DecodeParms")
    parameters = item(given, len(given) - 1) if isinstance(given, pikepdf.Array) else given
    return whole(entry(parameters, "/Predictor")) or 1
