"""Draws the glyphs of TrueType fonts (tables loca and glyf of the OpenType specification 1.9).

Outlines are drawn as they stand, without the instructions that fit them to a screen's pixels. As all
renderers do, a glyph is shifted so that it begins at its left side bearing.
"""

import struct
from collections.abc import Callable, Iterator
from itertools import pairwise
from typing import Final

from hotfolder.errors import DamagedFontError, FontFaultError, FontLimitError
from hotfolder.pdf.fonts.programs.sfnt import Sfnt, read
from hotfolder.pdf.objects.limits import GLYPH_COMPONENTS, GLYPH_NESTING, GLYPH_WORK, WORK_OF_A_POINT
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.outline import Outline

# Flags of a point of a simple glyph.
_ON_CURVE, _X_SHORT, _Y_SHORT, _REPEAT, _X_SAME, _Y_SAME = 0x01, 0x02, 0x04, 0x08, 0x10, 0x20
# Flags of a component of a composite glyph.
_WORDS, _OFFSETS, _SCALE, _MORE, _TWO_SCALES, _FOUR_SCALES = 0x01, 0x02, 0x08, 0x20, 0x40, 0x80
_OFFSET_IS_SCALED: Final = 0x800

_OTHER_LETTERS: Final = (b"CFF2", b"EBDT", b"bdat", b"CBDT", b"sbix", b"SVG ")
# A glyph of no contour has its header and no more; one of this length with nothing in it was wiped out.
_LEAST_GLYPH: Final = 24
_LEAST_GLYPHS: Final = 64

_Point = tuple[float, float, bool]  # x, y, whether it lies on the curve
_Contour = list[_Point]


class TrueTypeOutlines:
    """The outlines of a font."""

    def __init__(self, font: Sfnt, spend: Callable[[int], None]) -> None:
        """`spend` counts the work on the whole font, and raises where it is too much."""
        self._font = font
        self._spend = spend
        self._components_left = self._work_left = 0  # of the glyph that is being read
        (self._long,) = read(">50xh", font.table(b"head"), 0)
        if b"loca" not in font or b"glyf" not in font:
            # Letters may be pictures, or outlines of another kind.
            other = any(tag in font for tag in _OTHER_LETTERS)
            raise FontFaultError if other else DamagedFontError
        if font.is_cut(b"loca") or font.is_cut(b"glyf"):
            raise DamagedFontError
        places, size = font.table(b"loca"), 4 if self._long else 2
        all_alike = places == places[:size] * (len(places) // size)
        self._is_emptied = all_alike and len(font.table(b"glyf")) >= _LEAST_GLYPHS

    def outline(self, glyph: int) -> Outline:
        """The outline in em; raises `DamagedFontError` where the glyph is broken."""
        self._components_left, self._work_left = GLYPH_COMPONENTS, GLYPH_WORK
        contours = self._contours(glyph, GLYPH_NESTING)
        metrics = self._font.metrics(glyph)
        shift = 0
        if contours and metrics is not None:
            (x_min,) = read(">2xh", self._data(glyph), 0)
            shift = metrics[1] - x_min
        scale = 1 / self._font.units_per_em
        outline = Outline()
        for contour in contours:
            _draw(outline, [((x + shift) * scale, y * scale, on) for x, y, on in contour])
        return outline

    def _data(self, glyph: int) -> bytes:
        size = 4 if self._long else 2
        places = self._font.piece(b"loca", size * glyph, 2 * size)
        if len(places) < 2 * size:
            raise DamagedFontError
        start, end = int.from_bytes(places[:size]), int.from_bytes(places[size:])
        factor = 1 if self._long else 2
        if end <= start:
            if self._is_emptied:
                raise DamagedFontError  # there are glyphs, but loca was wiped out
            return b""
        # As readers do, a glyph is drawn by what the data have of it; what is missing then shows.
        description = self._font.piece(b"glyf", factor * start, factor * (end - start))
        if not description or (len(description) >= _LEAST_GLYPH and not any(description)):
            raise DamagedFontError
        return description

    def _contours(self, glyph: int, levels_left: int) -> list[_Contour]:
        data = self._data(glyph)
        if not data:
            return []
        (count,) = read(">h", data, 0)
        if count >= 0:
            return self._simple(data, count)
        if not levels_left:
            raise FontLimitError
        return self._composite(data, levels_left)

    def _simple(self, data: bytes, count: int) -> list[_Contour]:
        if not count:
            return []
        ends = read(f">{count}H", data, 10)
        (instructions,) = read(">H", data, 10 + 2 * count)
        at = 12 + 2 * count + instructions
        if any(one > other for one, other in pairwise(ends)):
            raise DamagedFontError
        points = ends[-1] + 1
        self._work_left -= WORK_OF_A_POINT * points
        if self._work_left < 0:
            raise FontLimitError
        self._spend(WORK_OF_A_POINT * points)
        flags, at = _flags(data, at, points)
        xs, at = _coordinates(data, at, flags, _X_SHORT, _X_SAME)
        ys, at = _coordinates(data, at, flags, _Y_SHORT, _Y_SAME)
        contours: list[_Contour] = []
        start = 0
        for end in ends:
            place = slice(start, end + 1)
            contours.append(
                [
                    (x, y, bool(flag & _ON_CURVE))
                    for x, y, flag in zip(xs[place], ys[place], flags[place], strict=True)
                ]
            )
            start = end + 1
        return contours

    def _composite(self, data: bytes, levels_left: int) -> list[_Contour]:
        contours: list[_Contour] = []
        for glyph, matrix, match in _components(data):
            self._components_left -= 1
            if self._components_left < 0:
                raise FontLimitError
            part = self._contours(glyph, levels_left - 1)
            placed = [[(*matrix.point(x, y), on) for x, y, on in contour] for contour in part]
            if match is not None:
                # The component is moved so that one of its points lies on one of those before it.
                fixed, moved = _nth(contours, match[0]), _nth(placed, match[1])
                dx, dy = fixed[0] - moved[0], fixed[1] - moved[1]
                placed = [[(x + dx, y + dy, on) for x, y, on in contour] for contour in placed]
            contours += placed
        return contours


def _flags(data: bytes, at: int, count: int) -> tuple[list[int], int]:
    flags: list[int] = []
    try:
        while len(flags) < count:
            flag = data[at]
            at += 1
            flags.append(flag)
            if flag & _REPEAT:
                flags.extend([flag] * data[at])
                at += 1
    except IndexError as error:
        raise DamagedFontError from error
    return flags[:count], at


def _coordinates(data: bytes, at: int, flags: list[int], short: int, same: int) -> tuple[list[int], int]:
    """Coordinates along one axis; `short` and `same` are the flags for it (see the table glyf)."""
    coordinates: list[int] = []
    here = 0
    try:
        for flag in flags:
            if flag & short:
                here += data[at] if flag & same else -data[at]
                at += 1
            elif not flag & same:
                here += struct.unpack_from(">h", data, at)[0]
                at += 2
            coordinates.append(here)
    except (IndexError, struct.error) as error:
        raise DamagedFontError from error
    return coordinates, at


def _components(data: bytes) -> Iterator[tuple[int, Matrix, tuple[int, int] | None]]:
    """The components of a composite glyph: glyph, transformation, and the points to match, if any."""
    at, more = 10, True
    while more:
        flags, glyph = read(">HH", data, at)
        at += 4
        signed = bool(flags & _OFFSETS)
        form = {(True, True): ">hh", (True, False): ">HH", (False, True): ">bb", (False, False): ">BB"}
        x, y = read(form[bool(flags & _WORDS), signed], data, at)
        at += 4 if flags & _WORDS else 2
        a, b, c, d = 1.0, 0.0, 0.0, 1.0
        if flags & _FOUR_SCALES:
            a, b, c, d = (each / 16384 for each in read(">hhhh", data, at))
            at += 8
        elif flags & _TWO_SCALES:
            a, d = (each / 16384 for each in read(">hh", data, at))
            at += 4
        elif flags & _SCALE:
            a = d = read(">h", data, at)[0] / 16384
            at += 2
        matrix = Matrix(a, b, c, d, 0.0, 0.0)
        if signed:
            moved = (x * matrix.x_length, y * matrix.y_length) if flags & _OFFSET_IS_SCALED else (x, y)
            yield glyph, Matrix(a, b, c, d, *moved), None
        else:
            yield glyph, matrix, (x, y)
        more = bool(flags & _MORE)


def _nth(contours: list[_Contour], index: int) -> _Point:
    for contour in contours:
        if index < len(contour):
            return contour[index]
        index -= len(contour)
    raise DamagedFontError


def _draw(outline: Outline, contour: _Contour) -> None:
    """Draws a contour of quadratic curves; between two points off the curve lies one on it."""
    if len(contour) < 2:
        return
    first = next((place for place, point in enumerate(contour) if point[2]), None)
    if first is None:
        start = _middle(contour[-1], contour[0])
        rest = contour
    else:
        start = contour[first]
        rest = contour[first + 1 :] + contour[:first]
    outline.move(start[:2])
    here, off = start, None
    for point in (*rest, start):
        if point[2]:
            if off is None:
                outline.draw((point[:2],))
            else:
                _curve(outline, here, off, point)
            here, off = point, None
        else:
            if off is not None:
                middle = _middle(off, point)
                _curve(outline, here, off, middle)
                here = middle
            off = point


def _curve(outline: Outline, start: _Point, off: _Point, end: _Point) -> None:
    """A quadratic curve as the cubic one that it also is."""
    x, y = 2 * off[0], 2 * off[1]
    outline.draw((((start[0] + x) / 3, (start[1] + y) / 3), ((end[0] + x) / 3, (end[1] + y) / 3), end[:2]))


def _middle(one: _Point, other: _Point) -> _Point:
    return (one[0] + other[0]) / 2, (one[1] + other[1]) / 2, True
