"""One page being drawn: areas, gradients, pictures and text.

Places are millimetres from the lower left corner of the trim.
"""

from dataclasses import dataclass, field
from typing import Final

from hotfolder.demo.artwork.colours import Colour
from hotfolder.demo.artwork.typeface import EM, Typeface
from hotfolder.units import mm_to_pt, pt_to_mm

# A circle's quarter as a Bezier curve has its handles at this part of the radius.
_KAPPA: Final = 0.5523


@dataclass(frozen=True, slots=True)
class JpegPicture:
    """A JPEG picture, as it goes into a page or is a file of its own."""

    jpeg: bytes
    width_px: int
    height_px: int
    is_cmyk: bool


@dataclass(frozen=True, slots=True)
class Gradient:
    """A straight run from one colour to another, between two points in millimetres."""

    start: tuple[float, float]
    end: tuple[float, float]
    colours: tuple[Colour, Colour]


@dataclass(frozen=True, slots=True)
class TypeStyle:
    """How a line of text is set. spacing_pt: what is added between two letters."""

    face: Typeface
    size_pt: float
    colour: Colour
    spacing_pt: float = 0.0

    def width_mm(self, text: str) -> float:
        """How wide `text` becomes."""
        units = self.face.units(text.upper())
        return pt_to_mm(units / EM * self.size_pt + self.spacing_pt * (len(text) - 1))


@dataclass
class Sheet:
    """A page of a finished size, and what was drawn on it so far.

    width, height: the trim. room: how far the page goes on beyond the trim, for the bleed.
    """

    width: float
    height: float
    room: float = 3.0
    content: list[str] = field(default_factory=list)
    pictures: list[JpegPicture] = field(default_factory=list)
    gradients: list[Gradient] = field(default_factory=list)
    typefaces: list[Typeface] = field(default_factory=list)

    def area(self, x: float, y: float, width: float, height: float, colour: Colour) -> None:
        """A rectangle of one colour."""
        self._add(f"{_fill(colour)} {_numbers(x, y, width, height)} re f")

    def disc(self, x: float, y: float, radius: float, colour: Colour) -> None:
        """A full circle around x, y."""
        self._add(f"{_fill(colour)} {_circle(x, y, radius)} f")

    def ring(self, x: float, y: float, radius: float, width: float, colour: Colour) -> None:
        """A circle drawn as a line of this width."""
        self._add(f"{_stroke(colour)} {_numbers(width)} w {_circle(x, y, radius)} S")

    def rule(
        self, start: tuple[float, float], end: tuple[float, float], width: float, colour: Colour
    ) -> None:
        """A straight line."""
        self._add(f"{_stroke(colour)} {_numbers(width)} w {_numbers(*start)} m {_numbers(*end)} l S")

    def gradient(self, x: float, y: float, width: float, height: float, gradient: Gradient) -> None:
        """A rectangle filled with `gradient`."""
        self.gradients.append(gradient)
        pattern = f"/G{len(self.gradients) - 1}"
        self._add(f"/Pattern cs {pattern} scn {_numbers(x, y, width, height)} re f")

    def picture(self, x: float, y: float, width: float, height: float, picture: JpegPicture) -> None:
        """`picture`, stretched to fill a rectangle."""
        self.pictures.append(picture)
        self._add(f"q {_numbers(width, 0, 0, height, x, y)} cm /P{len(self.pictures) - 1} Do Q")

    def text(self, at: tuple[float, float], text: str, lettering: TypeStyle) -> None:
        """A line of text that begins at `at`, its base line there. Capitals, for the fonts have no others."""
        if lettering.face not in self.typefaces:
            self.typefaces.append(lettering.face)
        font = f"/F{self.typefaces.index(lettering.face)} {_numbers(lettering.size_pt)} Tf"
        spacing = f"{_numbers(lettering.spacing_pt)} Tc"
        point = pt_to_mm(1)  # text is set in points, everything else in millimetres
        place = f"{_numbers(point, 0, 0, point, *at)} Tm"
        codes = text.upper().encode("cp1252").hex()
        self._add(f"BT {_fill(lettering.colour)} {font} {spacing} {place} <{codes}> Tj ET")

    def centred(self, y: float, text: str, lettering: TypeStyle) -> None:
        """A line of text in the middle of the page."""
        self.text(((self.width - lettering.width_mm(text)) / 2, y), text, lettering)

    def stream(self) -> bytes:
        """All that was drawn, as a content stream for a page whose corner is the bleed's."""
        return "\n".join([f"q {_numbers(*self.matrix)} cm", *self.content, "Q"]).encode()

    @property
    def matrix(self) -> tuple[float, ...]:
        """From millimetres off the trim's corner to points off the page's."""
        unit, room = mm_to_pt(1), mm_to_pt(self.room)
        return unit, 0, 0, unit, room, room

    def _add(self, operators: str) -> None:
        self.content.append(operators)


def _circle(x: float, y: float, radius: float) -> str:
    handle = radius * _KAPPA
    start = f"{_numbers(x + radius, y)} m"
    quarters = (
        (x + radius, y + handle, x + handle, y + radius, x, y + radius),
        (x - handle, y + radius, x - radius, y + handle, x - radius, y),
        (x - radius, y - handle, x - handle, y - radius, x, y - radius),
        (x + handle, y - radius, x + radius, y - handle, x + radius, y),
    )
    return " ".join([start, *(f"{_numbers(*quarter)} c" for quarter in quarters), "h"])


def _fill(colour: Colour) -> str:
    return f"{_numbers(*colour)} {'k' if len(colour) == 4 else 'rg'}"


def _stroke(colour: Colour) -> str:
    return f"{_numbers(*colour)} {'K' if len(colour) == 4 else 'RG'}"


def _numbers(*values: float) -> str:
    return " ".join(f"{value:.4f}".rstrip("0").rstrip(".") for value in values)
