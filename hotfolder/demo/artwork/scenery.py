"""Pictures that look like photographs: a harbour at dusk under a string of paper lanterns.

Everything is computed: gradients, blurred light, ragged hills, grain. The same size always gives the
same picture.
"""

import io
import math
import random
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from PIL import Image, ImageChops, ImageDraw, ImageFilter

from hotfolder.demo.artwork.sheet import JpegPicture

Rgb = tuple[int, int, int]

_SKY: Final[tuple[tuple[float, Rgb], ...]] = (
    (0.00, (10, 16, 48)),
    (0.35, (44, 30, 92)),
    (0.62, (150, 58, 112)),
    (0.82, (240, 120, 86)),
    (1.00, (255, 206, 140)),
)
_HORIZON: Final = 0.74  # of the height, from the top
_LIGHT: Final[Rgb] = (255, 214, 138)
_GRAIN: Final = 14  # standard deviation, of 255
_SOFT: Final = 6  # light that fades is drawn this many times smaller


@dataclass(frozen=True, slots=True)
class _Lantern:
    """A paper lantern: its middle and half its height, in pixels."""

    x: float
    y: float
    size: float


def harbour(width_px: int, height_px: int) -> Image.Image:
    """The scene, in the colours of a screen."""
    horizon = round(height_px * _HORIZON)
    picture = Image.new("RGB", (width_px, height_px))
    picture.paste(_sky(width_px, horizon), (0, 0))
    _hills(picture, horizon)
    _water(picture, horizon)
    lanterns = _string_of_lanterns(width_px, height_px)
    picture = _lit(picture, lanterns, horizon)
    _lanterns(picture, lanterns)
    return _grained(picture)


def as_screen_jpeg(picture: Image.Image) -> JpegPicture:
    """The picture as a camera or a web page has it: RGB."""
    return _jpeg(picture, is_cmyk=False)


def as_press_jpeg(picture: Image.Image, ppi: int | None = None) -> JpegPicture:
    """The picture in the four process inks; `ppi` is written into the file, for one that stands alone.

    A plain separation: what the three colours have in common is printed with black instead, in part.
    """
    cyan, magenta, yellow = ImageChops.invert(picture).split()
    grey = ImageChops.darker(ImageChops.darker(cyan, magenta), yellow)
    black = _share(grey, 0.6)
    # Less is taken from cyan than from the others, so that the night stays blue.
    less = ((cyan, 0.2), (magenta, 0.38), (yellow, 0.6))
    inks = [ImageChops.subtract(ink, _share(grey, part)) for ink, part in less]
    return _jpeg(Image.merge("CMYK", [*inks, black]), is_cmyk=True, ppi=ppi)


def _share(grey: Image.Image, part: float) -> Image.Image:
    """`part` of the darkest tones, and little of the light ones."""
    return grey.point([round(part * 255 * (value / 255) ** 1.6) for value in range(256)])


def _jpeg(picture: Image.Image, *, is_cmyk: bool, ppi: int | None = None) -> JpegPicture:
    file = io.BytesIO()
    resolution = {} if ppi is None else {"dpi": (ppi, ppi)}
    picture.save(file, "JPEG", quality=88, **resolution)
    return JpegPicture(file.getvalue(), *picture.size, is_cmyk)


def _sky(width: int, height: int) -> Image.Image:
    column = Image.new("RGB", (1, 64))
    column.putdata([_between(_SKY, row / 63) for row in range(64)])
    sky = column.resize((width, height), Image.Resampling.BICUBIC)
    stars = ImageDraw.Draw(sky)
    chance = random.Random(11)  # noqa: S311 - for a picture, nothing to guess
    for _ in range(90):
        x, y = chance.uniform(0, width), height * chance.uniform(0, 0.6) ** 1.5
        radius, bright = width / 1400 * chance.uniform(0.5, 1.6), chance.randrange(120, 230)
        stars.ellipse((x - radius, y - radius, x + radius, y + radius), (bright, bright, bright))
    return sky


def _between(stops: tuple[tuple[float, Rgb], ...], place: float) -> Rgb:
    for (start, first), (end, last) in pairwise(stops):
        if place <= end:
            part = (place - start) / (end - start)
            red, green, blue = (round(a + (b - a) * part) for a, b in zip(first, last, strict=True))
            return red, green, blue
    return stops[-1][1]


def _hills(picture: Image.Image, horizon: int) -> None:
    """Three ridges, the nearer the darker."""
    draw = ImageDraw.Draw(picture)
    for number, colour in enumerate(((168, 82, 116), (94, 48, 96), (36, 26, 62))):
        chance = random.Random(40 + number)  # noqa: S311 - for a picture
        high = picture.height * (0.17 - 0.05 * number)
        phases = [
            (chance.uniform(2, 5), chance.uniform(0, 6.3)),
            (chance.uniform(9, 17), chance.uniform(0, 6.3)),
        ]
        ridge = []
        for step in range(161):
            across = step / 160
            rise = 0.55 + 0.3 * math.sin(phases[0][0] * across * 2 + phases[0][1])
            rise += 0.1 * math.sin(phases[1][0] * across * 2 + phases[1][1]) + chance.uniform(-0.02, 0.02)
            ridge.append((across * picture.width, horizon - high * max(rise, 0.05)))
        draw.polygon([(0, horizon), *ridge, (picture.width, horizon)], colour)


def _water(picture: Image.Image, horizon: int) -> None:
    """What is above the horizon, upside down, darker, and drawn out by ripples."""
    deep = picture.height - horizon
    if deep <= 0:
        return
    above = picture.crop((0, horizon - 2 * deep, picture.width, horizon)).transpose(
        Image.Transpose.FLIP_TOP_BOTTOM
    )
    mirrored = above.resize((picture.width, deep)).point([round(value * 0.72) for value in range(256)] * 3)
    rows = max(1, deep // 90)
    chance = random.Random(5)  # noqa: S311 - for a picture
    for top in range(0, deep, rows):
        shift = round(chance.gauss(0, picture.width / 160) * (0.3 + top / deep))
        strip = mirrored.crop((0, top, picture.width, min(top + rows, deep)))
        picture.paste(ImageChops.offset(strip, shift, 0), (0, horizon + top))


def _string_of_lanterns(width: int, height: int) -> list[_Lantern]:
    """Lanterns on a sagging string from edge to edge, nearer ones larger."""
    lanterns = []
    for number in range(9):
        across = (number + 0.5) / 9
        sag = 0.24 + 0.2 * (1 - (2 * across - 1.1) ** 2)
        size = min(height, 1.25 * width) * (0.018 + 0.022 * abs(math.sin(number * 1.9)) + 0.012 * across)
        lanterns.append(_Lantern(across * width, sag * height + size, size))
    return lanterns


def _lit(picture: Image.Image, lanterns: list[_Lantern], horizon: int) -> Image.Image:
    """The picture with the lanterns' light on it, and its trail on the water."""
    small = (picture.width // _SOFT, picture.height // _SOFT)
    glow = Image.new("RGB", small)
    draw = ImageDraw.Draw(glow)
    for lantern in lanterns:
        x, y, radius = lantern.x / _SOFT, lantern.y / _SOFT, lantern.size * 1.7 / _SOFT
        draw.ellipse((x - radius, y - radius, x + radius, y + radius), (230, 130, 50))
        top = horizon / _SOFT
        draw.rectangle((x - radius / 3, top, x + radius / 3, small[1]), (120, 70, 30))
    glow = glow.filter(ImageFilter.GaussianBlur(picture.height / _SOFT / 45))
    return ImageChops.screen(picture, glow.resize(picture.size, Image.Resampling.BICUBIC))


def _lanterns(picture: Image.Image, lanterns: list[_Lantern]) -> None:
    draw = ImageDraw.Draw(picture)
    wire = max(1, picture.height // 600)
    ends = [
        (0.0, lanterns[0].y - 2.2 * lanterns[0].size),
        (picture.width, lanterns[-1].y - 2.2 * lanterns[-1].size),
    ]
    hooks = [ends[0], *((each.x, each.y - 1.5 * each.size) for each in lanterns), ends[1]]
    draw.line(hooks, (24, 18, 40), wire, joint="curve")
    for lantern in lanterns:
        x, y, size = lantern.x, lantern.y, lantern.size
        draw.line((x, y - 1.5 * size, x, y - size), (24, 18, 40), wire)
        for step in range(12):  # brighter towards the middle
            part = 1 - step / 12
            red, green, blue = (
                round(dark + (light - dark) * (step / 11))
                for dark, light in zip((236, 110, 52), _LIGHT, strict=True)
            )
            draw.ellipse(
                (x - size * 0.86 * part, y - size * part, x + size * 0.86 * part, y + size * part),
                (red, green, blue),
            )
        for cap in (-1, 1):
            draw.rectangle(
                (
                    x - size * 0.34,
                    y + cap * size - size * 0.09,
                    x + size * 0.34,
                    y + cap * size + size * 0.09,
                ),
                (60, 26, 40),
            )
        for rib in (-0.55, -0.2, 0.2, 0.55):
            half = size * 0.86 * math.sqrt(1 - rib**2)
            draw.arc(
                (x - half, y + rib * size - size * 0.1, x + half, y + rib * size + size * 0.1),
                0,
                180,
                (214, 92, 48),
                wire,
            )


def _grained(picture: Image.Image) -> Image.Image:
    """The picture with the grain of a fast film."""
    tile = Image.effect_noise((400, 400), _GRAIN)
    grain = Image.new("L", picture.size)
    for x in range(0, picture.width, 400):
        for y in range(0, picture.height, 400):
            grain.paste(tile, (x, y))
    return ImageChops.overlay(picture, Image.merge("RGB", [grain] * 3))
