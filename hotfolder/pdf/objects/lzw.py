"""How long LZW data are when decoded, counted without decoding them (ISO 32000-2, 7.4.4)."""

from typing import Final

_CLEAR, _END, _FIRST_FREE = 256, 257, 258
_LONGEST_CODE: Final = 12


def lzw_length(data: bytes, most: int, *, early: bool = True) -> int | None:
    """The decoded length of `data`, never less than the true one; None where it is more than `most`.

    early: codes grow one entry early, as they do unless a file says otherwise (table 8: EarlyChange).
    """
    lengths: list[int] = []  # of the sequences in the table from 258 on
    total, previous = 0, 0
    width, bits, held = 9, 0, 0
    for byte in data:
        held, bits = (held << 8 | byte) & 0xFFFFFF, bits + 8
        if bits < width:
            continue
        bits -= width
        code = held >> bits & (1 << width) - 1
        if code == _END:
            break
        if code == _CLEAR:
            lengths, previous, width = [], 0, 9
            continue
        length = _length(code, lengths, previous)
        total += length
        if total > most:
            return None
        if previous and len(lengths) < (1 << _LONGEST_CODE) - _FIRST_FREE:
            lengths.append(previous + 1)
        previous = length
        width = min(max(9, (_FIRST_FREE + len(lengths) + early).bit_length()), _LONGEST_CODE)
    return total


def _length(code: int, lengths: list[int], previous: int) -> int:
    if code < _CLEAR:
        return 1
    at = code - _FIRST_FREE
    return lengths[at] if at < len(lengths) else previous + 1
