"""How much a stream decodes to, found out before it is decoded.

qpdf decodes a stream as a whole, and a few megabytes of it may become gigabytes. So what
a stream can grow to is bounded first: by the most that its filters can make of its length, or, for
deflated streams, by inflating piece by piece and only counting. (ISO 32000-2, 7.4)
"""

import zlib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import pikepdf

from hotfolder.pdf.limits import LIST_ENTRIES
from hotfolder.pdf.reading import READING_ERRORS, entry, items, name

# How many bytes one byte can decode to. Deflate: 1032, zlib's technical notes. LZW: a code
# of 12 bits stands for 3838 bytes at most. RunLength: two bytes give 128. ASCII85: `z` gives four.
_GROWTH: Final = {
    "FlateDecode": 1032, "Fl": 1032,
    "LZWDecode": 2560, "LZW": 2560,
    "RunLengthDecode": 64, "RL": 64,
    "ASCII85Decode": 4, "A85": 4,
    "ASCIIHexDecode": 1, "AHx": 1,
    "Crypt": 1,
}  # fmt: skip
_PIECE: Final = 1 << 20


@dataclass(frozen=True, slots=True)
class Survey:
    """What decoding a stream would do. cut_off: its deflated data stops before its end."""

    too_long: bool = False
    cut_off: bool = False


def filters(stream: object) -> tuple[str, ...]:
    """The names of a stream's filters, in the order in which they decode."""
    value = entry(stream, "/Filter")
    if value is None:
        return ()
    single = name(value)
    found = (single,) if single is not None else (name(each) for each in items(value, LIST_ENTRIES))
    return tuple(each if each is not None else "unknown" for each in found)


def survey(stream: pikepdf.Stream, most: int) -> Survey:
    """Whether `stream` decodes to more than `most` bytes, and whether its data is whole.

    Raises one of `READING_ERRORS` where not even its raw bytes can be read.
    """
    raw = stream.read_raw_bytes()
    chain = filters(stream)
    if chain in {("FlateDecode",), ("Fl",)}:
        return _inflated(raw, most)
    length = len(raw)
    for each in chain:
        # A filter that qpdf does not decode for content (images' own) leaves the length as it is.
        length *= _GROWTH.get(each, 1)
    return Survey(too_long=length > most)


def bounded_bytes(stream: object, most: int) -> bytes | None:
    """A stream's decoded bytes; None where it is no stream, longer than `most`, or not to be decoded."""
    if not isinstance(stream, pikepdf.Stream):
        return None
    try:
        return None if survey(stream, most).too_long else stream.read_bytes()
    except READING_ERRORS:
        return None


def content_parts(contents: object) -> Iterator[object]:
    """The streams of a page's Contents, or whatever stands in their place; none for a page without."""
    if isinstance(contents, pikepdf.Array):
        yield from items(contents, len(contents))
    elif contents is not None:
        yield contents


def _inflated(raw: bytes, most: int) -> Survey:
    machine = zlib.decompressobj()
    length, rest = 0, raw
    try:
        while rest and not machine.eof:
            length += len(machine.decompress(rest, _PIECE))
            if length > most:
                return Survey(too_long=True)
            rest = machine.unconsumed_tail
    except zlib.error:
        return Survey()  # qpdf has its own ways with broken data, and its own word for it
    return Survey(cut_off=bool(raw) and not machine.eof)
