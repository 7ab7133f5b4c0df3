"""Reads streams within bounds: how long they decode to is found out before they are decoded.

qpdf decodes a stream as a whole, and a few megabytes of it may become gigabytes. So its filters are
first decoded here one by one, no further than a bound (ISO 32000-2, 7.4).
"""

import base64
import binascii
import zlib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

import pikepdf

from hotfolder.pdf.language.short_names import full_filter
from hotfolder.pdf.objects.limits import LIST_ENTRIES
from hotfolder.pdf.objects.lzw import lzw_length
from hotfolder.pdf.objects.reading import READING_ERRORS, entry, item, items, name, whole

_PIECE: Final = 1 << 20
_MORSEL: Final = 4096  # bytes of broken data that are tried at once
_MOST_BY_RUN_LENGTH: Final = 64  # bytes that one byte decodes to at most: two give 128 (7.4.5)


@dataclass(frozen=True, slots=True)
class Survey:
    """What decoding a stream would give.

    length: bytes, at the utmost; None where they are more than the bound. cut_off: deflated data stop before
    their end.
    """

    length: int | None
    cut_off: bool = False


@dataclass(frozen=True, slots=True)
class Salvaged:
    """The decoded data of a stream as far as they can be decoded. broken: the rest could not be."""

    data: bytes
    broken: bool


class _TooLongError(Exception):
    """Decoding would go beyond the bound."""


@dataclass(frozen=True, slots=True)
class _FilterStep:
    """A stream's data between two filters.

    data: None where only their length is known. length: in bytes, at the utmost. cut_off: as in `Survey`.
    """

    data: bytes | None
    length: int
    cut_off: bool = False


def filters(stream: object) -> tuple[str, ...]:
    """The full names of a stream's filters, in the order in which they decode."""
    value = entry(stream, "/Filter")
    if value is None:
        return ()
    single = name(value)
    names = (single,) if single is not None else (name(each) for each in items(value, LIST_ENTRIES))
    return tuple(full_filter(each) if each is not None else "unknown" for each in names)


def lies_elsewhere(stream: object) -> bool:
    """Whether a stream's data are in another file (7.3.8.2, table 5: F), which does not come with this one.

    F as a name is the short form of Filter, which belongs to inline images alone and is met elsewhere.
    """
    return isinstance(entry(stream, "/F"), pikepdf.String | pikepdf.Dictionary)


def survey(stream: pikepdf.Stream, most: int) -> Survey:
    """How many bytes `stream` decodes to, as long as they are no more than `most`, and whether it is cut off.

    Raises one of `READING_ERRORS` where not even its raw bytes can be read.
    """
    raw = stream.read_raw_bytes()
    step = _FilterStep(raw, len(raw))
    chain = filters(stream)
    try:
        if chain == ("FlateDecode",):
            step = _inflate(step, most, keep=False)  # by far the most streams: nothing is kept of them
            chain = ()
        for place, each in enumerate(chain):
            # Other filters are those of images; qpdf does not decode them.
            undo = _UNDO.get(each)
            step = undo(step, most, _parameters(stream, place)) if undo is not None else step
            if step.length > most:
                return Survey(None)
    except _TooLongError:
        return Survey(None)
    return Survey(step.length, cut_off=step.cut_off)


def bounded_bytes(stream: object, most: int) -> bytes | None:
    """A stream's decoded bytes; None where it is no stream, decodes to more than `most`, or cannot be."""
    if not isinstance(stream, pikepdf.Stream):
        return None
    try:
        return None if survey(stream, most).length is None else stream.read_bytes()
    except READING_ERRORS:
        return None


def undone_before_last(stream: pikepdf.Stream, most: int) -> bytes | memoryview | None:
    """The data that a stream's last filter takes in; None where they are unknown, or more than `most` bytes.

    Raises one of `READING_ERRORS` where not even its raw bytes can be read.
    """
    chain = filters(stream)
    if len(chain) < 2:
        return memoryview(stream.get_raw_stream_buffer())  # nothing is copied of large pictures
    return _undone(stream, chain[:-1], most)


def salvaged(stream: pikepdf.Stream, most: int) -> Salvaged | None:
    """A stream's decoded bytes, up to where its deflated data break; None where nothing can be decoded.

    Readers in use draw what stands before a break; qpdf takes nothing of such a stream.
    """
    try:
        return Salvaged(stream.read_bytes(), broken=False)
    except READING_ERRORS:
        pass
    chain = filters(stream)
    if chain[-1:] != ("FlateDecode",) or predictor(stream) > 1:
        return None  # of predicted data, which are differences between bytes, nothing is decoded here
    try:
        data = _undone(stream, chain[:-1], most)
    except READING_ERRORS:
        return None
    inflated = _inflate_to_break(data or b"", most)
    return Salvaged(inflated, broken=True) if inflated else None


def predictor(stream: object) -> int:
    """The predictor of a stream's last filter (7.4.4.4, table 10); 1, which is none, where it has none."""
    return _predictor(_parameters(stream, max(0, len(filters(stream)) - 1)))


def _predictor(parameters: object) -> int:
    return whole(entry(parameters, "/Predictor")) or 1


def _parameters(stream: object, place: int) -> object:
    """The parameters of a stream's filter by its place in their order (7.3.8.2, table 5: DecodeParms)."""
    given = entry(stream, "/DecodeParms")
    return item(given, place) if isinstance(given, pikepdf.Array) else given


def _undone(stream: pikepdf.Stream, chain: tuple[str, ...], most: int) -> bytes | None:
    """The data behind the first filters of a stream, which are `chain`; None as in `undone_before_last`."""
    raw = stream.read_raw_bytes()
    step = _FilterStep(raw, len(raw))
    try:
        for place, each in enumerate(chain):
            undo = _UNDO.get(each)
            step = undo(step, most, _parameters(stream, place)) if undo is not None else _FilterStep(None, 0)
    except _TooLongError:
        return None
    return step.data


def _inflate_to_break(data: bytes, most: int) -> bytes:
    """What inflates before the break, or as much of it as `most` allows."""
    machine = zlib.decompressobj()
    inflated = bytearray()
    for start in range(0, len(data), _MORSEL):
        morsel = data[start : start + _MORSEL]
        before = machine.copy()
        try:
            inflated += machine.decompress(morsel)
        except zlib.error:
            inflated += _byte_by_byte(before, morsel)
            break
        if machine.eof or len(inflated) > most:
            break
    return bytes(inflated[:most])


def _byte_by_byte(machine: "zlib._Decompress", data: bytes) -> bytes:
    inflated = bytearray()
    try:
        for place in range(len(data)):
            inflated += machine.decompress(data[place : place + 1])
    except zlib.error:
        pass  # this is the break
    return bytes(inflated)


def content_parts(contents: object) -> Iterator[object]:
    """The streams of a page's Contents, or whatever stands in their place; none for a page without."""
    if isinstance(contents, pikepdf.Array):
        yield from items(contents, len(contents))
    elif contents is not None:
        yield contents


def _inflate(step: _FilterStep, most: int, parameters: object = None, *, keep: bool = True) -> _FilterStep:
    if step.data is None:
        raise _TooLongError  # after a filter that is not undone here: nothing is known of the length
    machine = zlib.decompressobj()
    pieces: list[bytes] = []
    length, rest = 0, step.data
    try:
        while rest and not machine.eof:
            piece = machine.decompress(rest, _PIECE)
            length += len(piece)
            if length > most:
                raise _TooLongError
            if keep:
                pieces.append(piece)
            rest = machine.unconsumed_tail
    except zlib.error:
        return _FilterStep(b"".join(pieces), length)  # that the data are broken, qpdf reports itself
    # Of predicted data, which are differences between bytes, the length alone is known: no less than the true
    # one, since predicting adds a byte to a row, or nothing.
    inflated = b"".join(pieces) if _predictor(parameters) <= 1 else None
    return _FilterStep(inflated, length, cut_off=bool(step.data) and not machine.eof)


def _ascii_85(step: _FilterStep, _most: int, _parameters: object) -> _FilterStep:
    if step.data is None:
        return _FilterStep(None, step.length * 4)  # `z` gives four bytes
    try:
        data = base64.a85decode(step.data.split(b"~")[0].strip().removeprefix(b"<"))
    except ValueError:
        return _FilterStep(None, step.length * 4)
    return _FilterStep(data, len(data))


def _ascii_hex(step: _FilterStep, _most: int, _parameters: object) -> _FilterStep:
    if step.data is None:
        return _FilterStep(None, step.length)
    digits = b"".join(step.data.split(b">")[0].split())
    try:
        data = binascii.unhexlify(digits + b"0" * (len(digits) % 2))
    except binascii.Error:
        return _FilterStep(None, step.length)
    return _FilterStep(data, len(data))


def _run_length(step: _FilterStep, _most: int, _parameters: object) -> _FilterStep:
    return _FilterStep(None, step.length * _MOST_BY_RUN_LENGTH)


def _lzw(step: _FilterStep, most: int, parameters: object) -> _FilterStep:
    if step.data is None:
        raise _TooLongError
    length = lzw_length(step.data, most, early=whole(entry(parameters, "/EarlyChange")) != 0)
    if length is None:
        raise _TooLongError
    return _FilterStep(None, length)


_UNDO: Final[dict[str, Callable[[_FilterStep, int, object], _FilterStep]]] = {
    "FlateDecode": _inflate,
    "LZWDecode": _lzw,
    "RunLengthDecode": _run_length,
    "ASCII85Decode": _ascii_85,
    "ASCIIHexDecode": _ascii_hex,
}

# The filters for data of any kind, which qpdf decodes; the others are those of images alone.
PACKING_FILTERS: Final = frozenset(_UNDO)
