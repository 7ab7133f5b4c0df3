"""Makes a TrueType font out of the wire alphabet, in any weight.

Each stroke becomes a contour of the stroke's width with round ends; contours may overlap, for
TrueType fills everything that a contour winds around (the non-zero winding rule).
"""

import io
import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen

from hotfolder.demo.artwork.alphabet import ALPHABET

EM: Final = 1000
CAP_HEIGHT: Final = 700
DESCENT: Final = -180
_ASCENT: Final = 800
_GRID: Final = 62  # font units from one column of the grid to the next
_RADIUS: Final = 3.0  # of a rounded corner, in rows of the grid; less where there is no room
_STEPS: Final = 8  # straight pieces that stand for a quarter of a circle
_SPACE: Final = 260

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Typeface:
    """A font: its name, the program (a TrueType file), and the advance of each character in 1/1000 em."""

    name: str
    program: bytes
    advances: dict[str, int]
    weight: int

    def units(self, text: str) -> int:
        """How wide `text` is, in 1/1000 em."""
        return sum(self.advances[character] for character in text)


def typeface(name: str, weight: int) -> Typeface:
    """The alphabet as a font. weight: width of the wire, in 1/1000 em."""
    side = 30 + weight // 5
    names = {character: f"uni{ord(character):04X}" for character in ALPHABET}
    builder = FontBuilder(EM, isTTF=True)
    builder.setupGlyphOrder([".notdef", "space", *names.values()])
    builder.setupCharacterMap({32: "space"} | {ord(character): glyph for character, glyph in names.items()})
    glyphs = {".notdef": TTGlyphPen(None).glyph(), "space": TTGlyphPen(None).glyph()}
    advances = {" ": _SPACE}
    for character, strokes in ALPHABET.items():
        drawn = [_Stroke.read(text, weight) for text in strokes]
        pen = TTGlyphPen(None)
        for stroke in drawn:
            for contour in stroke.contours(weight / 2, side + weight / 2):
                _draw(pen, contour)
        glyphs[names[character]] = pen.glyph()
        reach = max(x for stroke in drawn for x, _ in stroke.points)
        advances[character] = round(reach + weight + 2 * side)
    builder.setupGlyf(glyphs)
    widths = {".notdef": _SPACE, "space": _SPACE} | {names[each]: advances[each] for each in names}
    # A glyph is drawn so that its left edge lies at the bearing that is said here.
    bearings = {glyph: builder.font["glyf"][glyph].xMin if glyph in names.values() else 0 for glyph in widths}
    builder.setupHorizontalMetrics({glyph: (widths[glyph], bearings[glyph]) for glyph in widths})
    builder.setupHorizontalHeader(ascent=_ASCENT, descent=DESCENT)
    builder.setupNameTable({"familyName": name, "styleName": "Regular", "psName": name})
    builder.setupOS2(
        sTypoAscender=_ASCENT, sTypoDescender=DESCENT, usWinAscent=_ASCENT, usWinDescent=-DESCENT
    )
    builder.setupPost()
    file = io.BytesIO()
    builder.save(file)
    return Typeface(name, file.getvalue(), advances, weight)


@dataclass(frozen=True, slots=True)
class _Stroke:
    """A stroke in font units: its points, which of them are rounded, whether it is closed."""

    points: tuple[Point, ...]
    rounded: tuple[bool, ...]
    closed: bool

    @classmethod
    def read(cls, text: str, weight: int) -> "_Stroke":
        """The stroke written as in the alphabet, set so that the wire of this weight fills the cap height."""
        words = text.split()
        closed = words[-1] == "z"
        corners = words[:-1] if closed else words
        row = (CAP_HEIGHT - weight) / 10
        places = [word.rstrip("~").split(",") for word in corners]
        points = tuple((float(x) * _GRID, float(y) * row) for x, y in places)
        return cls(points, tuple(word.endswith("~") for word in corners), closed)

    def contours(self, half: float, left: float) -> list[list[Point]]:
        """The outline of the wire, `half` of its width to each side, moved right by `left`."""
        pieces = self._smooth_pieces()
        if self.closed:
            ring = pieces[0]
            outlines = [_side(ring, half, closed=True), _side(ring, -half, closed=True)[::-1]]
            outlines.sort(key=lambda outline: -abs(_area(outline)))
            outlines = [_clockwise(outlines[0]), _clockwise(outlines[1])[::-1]]
        else:
            outlines = [_clockwise(_wire(piece, half)) for piece in pieces]
        return [[(x + left, y + half) for x, y in outline] for outline in outlines]

    def _smooth_pieces(self) -> list[list[Point]]:
        """The stroke cut at its sharp corners, with the others rounded."""
        count = len(self.points)
        pieces: list[list[Point]] = [[]]
        for index, point in enumerate(self.points):
            if not self.rounded[index]:
                pieces[-1].append(point)
                if 0 < index < count - 1:
                    pieces.append([point])
                continue
            before, after = self.points[index - 1], self.points[(index + 1) % count]
            pieces[-1].extend(_bend(before, point, after, self._radius(index)))
        return pieces

    def _radius(self, index: int) -> float:
        """As much as both neighbouring straight lines leave room for."""
        point, count = self.points[index], len(self.points)
        radius = _RADIUS * _GRID
        for neighbour in (index - 1, (index + 1) % count):
            shared = self.rounded[neighbour]
            room = math.dist(point, self.points[neighbour])
            radius = min(radius, room / 2 if shared else room)
        return radius


def _bend(before: Point, corner: Point, after: Point, radius: float) -> list[Point]:
    """The corner as a row of points on a curve that touches both lines `radius` from it."""
    start, end = _toward(corner, before, radius), _toward(corner, after, radius)
    curve = []
    for step in range(_STEPS + 1):
        t = step / _STEPS
        # A cubic whose handles are those of a circle's quarter (0.5523 of the radius).
        weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3)
        handles = (start, _toward(start, corner, 0.5523 * radius), _toward(end, corner, 0.5523 * radius), end)
        x, y = (sum(w * handle[axis] for w, handle in zip(weights, handles, strict=True)) for axis in (0, 1))
        curve.append((x, y))
    return curve


def _toward(start: Point, end: Point, distance: float) -> Point:
    length = math.dist(start, end) or 1.0
    return tuple(a + (b - a) * distance / length for a, b in zip(start, end, strict=True))  # type: ignore[return-value] # of two


def _wire(line: list[Point], half: float) -> list[Point]:
    """The outline of an open line with round ends; a line without length becomes a dot."""
    if all(point == line[0] for point in line):
        return _arc(line[0], half, 0.0, 2 * math.pi)[:-1]
    first, last = _angle(line[0], line[1]), _angle(line[-2], line[-1])
    return [
        *_side(line, half),
        *_arc(line[-1], half, last + math.pi / 2, last - math.pi / 2),
        *_side(line, -half)[::-1],
        *_arc(line[0], half, first - math.pi / 2, first - 3 * math.pi / 2),
    ]


def _side(line: list[Point], offset: float, *, closed: bool = False) -> list[Point]:
    """The line moved to its left by `offset`; it bends gently, so that the mean direction will do."""
    line = [
        point for index, point in enumerate(line) if index == 0 or math.dist(point, line[index - 1]) > 0.01
    ]
    ring = [line[-1], *line, line[0]] if closed else line
    directions = [_angle(one, other) for one, other in pairwise(ring)]
    moved = []
    for index, (x, y) in enumerate(line):
        here = directions[index : index + 2] if closed else directions[max(0, index - 1) : index + 1]
        turn = math.remainder(here[-1] - here[0], 2 * math.pi)
        across = here[0] + turn / 2 + math.pi / 2
        reach = offset / math.cos(turn / 2)
        moved.append((x + reach * math.cos(across), y + reach * math.sin(across)))
    return moved


def _arc(centre: Point, radius: float, start: float, end: float) -> list[Point]:
    count = 2 * _STEPS
    angles = [start + (end - start) * step / count for step in range(count + 1)]
    return [(centre[0] + radius * math.cos(each), centre[1] + radius * math.sin(each)) for each in angles]


def _angle(one: Point, other: Point) -> float:
    return math.atan2(other[1] - one[1], other[0] - one[0])


def _area(outline: list[Point]) -> float:
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise([*outline, outline[0]])) / 2


def _clockwise(outline: list[Point]) -> list[Point]:
    """TrueType fills contours that run clockwise."""
    return outline if _area(outline) < 0 else outline[::-1]


def _draw(pen: TTGlyphPen, contour: list[Point]) -> None:
    rounded = list(dict.fromkeys((round(x), round(y)) for x, y in contour))
    pen.moveTo(rounded[0])
    for point in rounded[1:]:
        pen.lineTo(point)
    pen.closePath()
