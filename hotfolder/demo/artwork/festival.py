"""What the invented festival prints: flyer, card, programme and poster."""

import io
import math
from dataclasses import dataclass
from typing import Final

from PIL import ImageDraw, ImageFont

from hotfolder.demo.artwork.colours import PRESS, DesignColours
from hotfolder.demo.artwork.scenery import as_press_jpeg, as_screen_jpeg, harbour
from hotfolder.demo.artwork.sheet import Gradient, JpegPicture, Sheet, TypeStyle
from hotfolder.demo.artwork.typeface import EM, Typeface, typeface
from hotfolder.units import MM_PER_INCH

_TITLE: Final = "Lampfall"
_WHAT: Final = "Nine nights of small theatre"
_WHEN: Final = "12\u201320 October"
_NIGHTS: Final = (
    ("12", "The tide has nine coats", "Shadow play"),
    ("14", "A goat called Tuesday", "Puppets, from six years"),
    ("16", "Nobody's umbrella", "A very short opera"),
    ("18", "Soup for the lighthouse", "Masks and brass"),
    ("20", "Everyone bring a lamp", "Closing night"),
)
_WHERE: Final = "The old ropeworks, Quillhaven"
_SMALL_PRINT: Final = "Doors at 7, lamps out at 7:30 · Pay what you can · The quay path is dark: bring a lamp"


@dataclass(frozen=True, slots=True)
class Faces:
    """The two fonts of all designs."""

    text: Typeface
    poster: Typeface


def faces() -> Faces:
    """The alphabet in a light weight for reading and a heavy one for headings."""
    return Faces(typeface("Lampfall-Text", 74), typeface("Lampfall-Poster", 124))


def scene(width_mm: float, height_mm: float, ppi: int, *, for_press: bool = True) -> JpegPicture:
    """The harbour at a printed size and resolution."""
    width, height = (math.ceil(length / MM_PER_INCH * ppi) for length in (width_mm, height_mm))
    picture = harbour(width, height)
    return as_press_jpeg(picture) if for_press else as_screen_jpeg(picture)


def flyer(fonts: Faces, palette: DesignColours, picture_ppi: int, *, small_print_mm: float = 7.0) -> Sheet:
    """The A5 flyer. small_print_mm: how far the last line keeps from the lower edge."""
    sheet = Sheet(148, 210)
    sheet.picture(-3, 72, 154, 141, scene(154, 141, picture_ppi, for_press=palette is PRESS))
    sheet.gradient(-3, -3, 154, 75, Gradient((0, 0), (0, 72), (palette.night, palette.plum)))
    sheet.area(-3, 71.2, 154, 0.8, palette.ember)
    sheet.centred(183, _TITLE, TypeStyle(fonts.poster, 76, palette.lamp))
    sheet.centred(58.5, _WHAT, TypeStyle(fonts.text, 17, palette.paper, 1.2))
    sheet.centred(46.5, _WHEN, TypeStyle(fonts.poster, 25, palette.lamp, 0.6))
    for row, (day, play, kind) in enumerate(_NIGHTS[:4]):
        x, y = (14, 80)[row % 2], (34, 24)[row // 2]
        sheet.text((x, y), day, TypeStyle(fonts.poster, 17, palette.ember))
        sheet.text((x + 11.5, y + 1.9), play, TypeStyle(fonts.poster, 7.6, palette.paper, 0.3))
        sheet.text((x + 11.5, y - 1.6), kind, TypeStyle(fonts.text, 7, palette.lamp, 0.3))
    sheet.centred(small_print_mm + 6, _WHERE, TypeStyle(fonts.text, 9, palette.paper, 0.8))
    sheet.centred(small_print_mm, _SMALL_PRINT, TypeStyle(fonts.text, 7, palette.paper, 0.2))
    return sheet


def card(fonts: Faces, picture_ppi: int) -> Sheet:
    """A card of 85 x 55 mm for the box office."""
    sheet = Sheet(85, 55)
    sheet.picture(-3, -3, 39, 61, scene(39, 61, picture_ppi))
    sheet.gradient(36, -3, 52, 61, Gradient((36, 0), (88, 0), (PRESS.night, PRESS.plum)))
    sheet.text((42, 40), _TITLE, TypeStyle(fonts.poster, 19, PRESS.lamp))
    sheet.text((42, 34.6), _WHAT, TypeStyle(fonts.text, 6.5, PRESS.paper, 0.1))
    sheet.rule((42, 30), (79, 30), 0.35, PRESS.ember)
    for row, line in enumerate(("Box office", "The old ropeworks", "Quillhaven")):
        sheet.text((42, 22 - row * 4.6), line, TypeStyle(fonts.text, 7, PRESS.paper, 0.4))
    sheet.text((42, 7), "Knock twice", TypeStyle(fonts.poster, 7, PRESS.lamp, 0.4))
    return sheet


def programme(fonts: Faces) -> tuple[Sheet, Sheet]:
    """A leaflet of two pages, a third of A4."""
    front, back = Sheet(99, 210), Sheet(99, 210)
    front.picture(-3, -3, 105, 216, scene(105, 216, 300))
    front.centred(184, _TITLE, TypeStyle(fonts.poster, 48, PRESS.lamp))
    front.centred(176, "Programme", TypeStyle(fonts.text, 15, PRESS.paper, 4))
    front.centred(12, _WHEN, TypeStyle(fonts.poster, 14, PRESS.lamp, 0.6))
    back.area(-3, -3, 105, 216, (0.02, 0.05, 0.16, 0.00))
    back.area(-3, 184, 105, 29, PRESS.plum)
    back.centred(194, "The nights", TypeStyle(fonts.poster, 22, PRESS.lamp, 1))
    number = TypeStyle(fonts.poster, 15, PRESS.paper)
    for row, (day, play, kind) in enumerate(_NIGHTS):
        y = 164 - row * 27
        back.disc(17, y + 2, 7.5, PRESS.ember)
        back.ring(17, y + 2, 8.6, 0.35, PRESS.lamp)
        back.text((17 - number.width_mm(day) / 2, y + 0.2), day, number)
        back.text((30, y + 3.4), play, TypeStyle(fonts.poster, 9.4, PRESS.plum, 0.2))
        back.text((30, y - 2.2), kind, TypeStyle(fonts.text, 8.5, PRESS.ink, 0.3))
        back.rule((30, y - 8), (90, y - 8), 0.2, PRESS.ember)
    back.centred(17, _WHERE, TypeStyle(fonts.text, 8.5, PRESS.plum, 0.5))
    back.centred(11, "Pay what you can at the door", TypeStyle(fonts.text, 7, PRESS.ink, 0.3))
    return front, back


def poster(fonts: Faces, ppi: int) -> bytes:
    """The A2 poster with 5 mm of bleed, as a JPEG file for a printer that takes pictures."""
    width, height = (round(length / MM_PER_INCH * ppi) for length in (420 + 2 * 5, 594 + 2 * 5))
    picture = harbour(width, height)
    draw = ImageDraw.Draw(picture)
    for text, face, share, y in (
        (_TITLE, fonts.poster, 0.86, 0.055),
        (_WHAT, fonts.text, 0.86, 0.205),
        (_WHEN, fonts.poster, 0.6, 0.85),
        (_WHERE, fonts.text, 0.6, 0.925),
    ):
        fitted = _screen_font(face, text, share * width)
        draw.text((width / 2, y * height), text.upper(), (255, 226, 150), fitted, anchor="mt")
    return as_press_jpeg(picture, ppi).jpeg


def _screen_font(face: Typeface, text: str, width_px: float) -> ImageFont.FreeTypeFont:
    size = width_px * EM / face.units(text.upper())
    return ImageFont.truetype(io.BytesIO(face.program), size)
