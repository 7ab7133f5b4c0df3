"""Reads Type 1 font programs: clear text, then an encrypted part with a charstring for each glyph.

The program is written in PostScript, and is searched for the few things that matter instead of
being run: every font program that is meant for a PDF keeps to the form that Adobe Type 1 Font Format
(chapters 2, 7 and 10) prescribes for it.
"""

import re
from collections.abc import Callable
from typing import Final

from fontTools.misc.psCharStrings import T1CharString

from hotfolder.errors import DamagedFontError
from hotfolder.pdf.fonts.encodings import STANDARD, Encoding
from hotfolder.pdf.fonts.programs.charstrings import CharString, Drawing, draw_type1
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.outline import Outline

_EEXEC_KEY, _CHARSTRING_KEY = 55665, 4330
_MOST_CODES: Final = 1024
_NUMBER: Final = rb"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?"
_FONT_MATRIX: Final = re.compile(
    rb"/FontMatrix\s*[\[{]\s*((?:" + _NUMBER + rb"\s+){5}" + _NUMBER + rb")\s*[\]}]"
)
_ENCODING: Final = re.compile(rb"\bdup\s+(8#)?(\d{1,3})\s*/([^\s/\[\](){}<>%]+)\s+put\b")
_SEED_BYTES: Final = re.compile(rb"/lenIV\s+(-?\d{1,9})")
# A number of bytes, one word (RD, -|) and a space; then the bytes.
_SUBROUTINE: Final = re.compile(rb"\bdup\s+(\d{1,5})\s+(\d{1,5})\s+[^\s/]+ ")
_LIST_END: Final = re.compile(rb"\bend\b")
_GLYPH: Final = re.compile(rb"/([^\s/\[\](){}<>%]*)\s+(\d{1,5})\s+[^\s/]+ ")


class Type1Program:
    """The glyphs of a Type 1 font. A glyph is known by its place in `names`; .notdef has the number 0."""

    def __init__(self, data: bytes, spend: Callable[[int], None]) -> None:
        clear, private = _parts(data)
        self._spend = spend
        self._seed_bytes = int(seed_bytes[1]) if (seed_bytes := _SEED_BYTES.search(private)) else 4
        given = _FONT_MATRIX.search(clear)
        self._matrix = Matrix(*map(float, given[1].split())) if given else Matrix(0.001, 0, 0, 0.001, 0, 0)
        self.encoding = _encoding(clear)
        start = private.find(b"/CharStrings")
        if start < 0:
            raise DamagedFontError
        self._subroutines = self._read_subroutines(private[:start])
        listed, end = _read_charstrings(private, start)
        charstrings = dict(listed)
        # A program that is cut off lacks the end of its list.
        if not charstrings or _LIST_END.search(private, end) is None:
            raise DamagedFontError
        notdef = charstrings.pop(".notdef", b"")
        self.names = {".notdef": 0} | {name: place for place, name in enumerate(charstrings, start=1)}
        self._charstrings = [notdef, *charstrings.values()]
        self.glyph_count = len(self._charstrings)

    def draw(self, glyph: int) -> tuple[Outline, float | None]:
        """The outline of a glyph and its advance, in em; raises `DamagedFontError` where it is broken."""
        drawing, parts = self._draw(self._charstrings[glyph], self._matrix)
        for name, x, y in parts:
            # The parts of an accented letter are drawn as they are; parts of parts are not made.
            place = self.names.get(name)
            if place is None:
                raise DamagedFontError
            a, b, c, d, _, _ = self._matrix
            part, _ = self._draw(self._charstrings[place], Matrix(a, b, c, d, *self._matrix.point(x, y)))
            drawing.outline.subpaths.extend(part.outline.subpaths)
        return drawing.outline, None if drawing.advance is None else drawing.advance * self._matrix.a

    def _draw(self, charstring: bytes, matrix: Matrix) -> tuple[Drawing, list[tuple[str, float, float]]]:
        return draw_type1(self._clear(charstring), self._subroutines, matrix, self._spend)

    def _clear(self, data: bytes) -> CharString:
        """A charstring decrypted, without the random bytes at its beginning (chapter 7.3)."""
        if self._seed_bytes < 0:
            return T1CharString(data)  # a negative lenIV tells that there is no encryption
        return T1CharString(decrypted(data, _CHARSTRING_KEY)[self._seed_bytes :])

    def _read_subroutines(self, private: bytes) -> list[CharString]:
        start = private.find(b"/Subrs")
        if start < 0:
            return []
        by_number: dict[int, CharString] = {}
        at = start
        while (match := _SUBROUTINE.search(private, at)) is not None:
            at = match.end() + int(match[2])
            by_number[int(match[1])] = self._clear(private[match.end() : at])
        empty = T1CharString(b"")
        return [by_number.get(index, empty) for index in range(max(by_number, default=-1) + 1)]


def decrypted(data: bytes, key: int) -> bytes:
    """Data that are encrypted as Type 1 fonts are (chapter 7.1), with the random bytes at the beginning."""
    clear = bytearray(len(data))
    for place, cipher in enumerate(data):
        clear[place] = cipher ^ (key >> 8)
        key = ((cipher + key) * 52845 + 22719) & 0xFFFF
    return bytes(clear)


def _parts(data: bytes) -> tuple[bytes, bytes]:
    """The clear part, and the encrypted one in the clear."""
    if data[:1] == b"\x80":
        data = _without_headers(data)
    at = data.find(b"eexec")
    if at < 0:
        raise DamagedFontError
    clear, rest = data[:at], data[at + 5 :].lstrip(b" \t\r\n")
    if re.fullmatch(rb"[0-9A-Fa-f\s]{4,}", rest[:8]):
        digits = re.sub(rb"[^0-9A-Fa-f]", b"", rest)
        rest = bytes.fromhex(digits[: len(digits) // 2 * 2].decode("ascii"))
    return clear, decrypted(rest, _EEXEC_KEY)[4:]


def _without_headers(data: bytes) -> bytes:
    """A program out of the segments in which it is kept in a file of its own (a PDF has it without)."""
    segments = []
    at = 0
    while data[at : at + 1] == b"\x80" and data[at + 1 : at + 2] in {b"\1", b"\2"}:
        start = at + 6
        at = start + int.from_bytes(data[at + 2 : start], "little")
        segments.append(data[start:at])
    return b"".join(segments)


def _encoding(clear: bytes) -> Encoding:
    start = clear.find(b"/Encoding")
    if start < 0 or clear[start : start + 40].split()[1:2] == [b"StandardEncoding"]:
        return STANDARD
    encoding: Encoding = {}
    for number, match in enumerate(_ENCODING.finditer(clear, start)):
        code = int(match[2], 8 if match[1] else 10) if match[1] is None or match[2].isdigit() else 0
        if number < _MOST_CODES and code <= 255:
            encoding[code] = match[3].decode("latin-1")
    return encoding


def _read_charstrings(private: bytes, start: int) -> tuple[list[tuple[str, bytes]], int]:
    """The charstrings by name, and where the last of them ends."""
    charstrings = []
    at = start + len(b"/CharStrings")
    while (match := _GLYPH.search(private, at)) is not None:
        at = match.end() + int(match[2])
        charstrings.append((match[1].decode("latin-1"), private[match.end() : at]))
    return charstrings, at
