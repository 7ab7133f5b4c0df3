"""Colours of a file as a screen shows them: profiles followed, inks mixed, transparency over white paper.

A picture in the report shows where things are; it is no colour proof, and says so.
"""

from io import BytesIO
from typing import Final

from PIL import Image, ImageChops, ImageCms, ImageFilter

# Solids and their overprints in CIELAB, D50: characterisation data FOGRA39 (ISO 12647-2:2004/Amd 1,
# paper types 1 and 2, white backing); cyan + magenta + yellow: ISO 12647-2:2013, premium coated.
# In the order that a three-dimensional table wants them: cyan runs fastest, yellow slowest.
_SOLIDS_LAB: Final = (
    (95, 0, -2), (55, -37, -50), (48, 74, -3), (24, 22, -46),  # paper, C, M, C + M
    (89, -5, 93), (50, -65, 27), (47, 68, 48), (23, 0, -1),  # Y, C + Y, M + Y, C + M + Y
)  # fmt: skip
_PAPER: Final = 0

# What a black solid of L* 16 leaves of the light beneath it, as a share of the sRGB value.
_BLACK_LEAVES: Final = 0.17


def on_screen(image: Image.Image) -> Image.Image:
    """`image` in RGB or grey, flat on white. Takes every mode that Pillow has."""
    if image.mode in {"La", "RGBa"}:
        image = image.convert({"La": "LA", "RGBa": "RGBA"}[image.mode])
    if image.mode in {"LA", "RGBA"}:
        opaque = _without_alpha(image.convert("RGB"), image.info.get("icc_profile"))
        paper = Image.new("RGB", image.size, "white")
        paper.paste(opaque, mask=image.getchannel("A"))
        return paper
    return _without_alpha(image, image.info.get("icc_profile"))


def _without_alpha(image: Image.Image, profile: object) -> Image.Image:
    if image.mode == "LAB":
        return _through(_lab(), image)
    if image.mode in {"CMYK", "RGB", "L"} and isinstance(profile, bytes) and profile:
        try:
            return _through(ImageCms.ImageCmsProfile(BytesIO(profile)), image)
        except (ImageCms.PyCMSError, OSError, ValueError):
            pass  # a profile that does not fit its picture: shown as if it had none
    if image.mode == "CMYK":
        return _mixed_inks(image)
    return image if image.mode in {"RGB", "L"} else image.convert("RGB")


def _through(profile: ImageCms.ImageCmsProfile, image: Image.Image) -> Image.Image:
    shown = ImageCms.profileToProfile(
        image,
        profile,
        ImageCms.createProfile("sRGB"),
        renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
        outputMode="RGB",
    )
    if shown is None:
        raise ImageCms.PyCMSError("no picture came back")
    return shown


def _lab() -> ImageCms.ImageCmsProfile:
    return ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB"))


def _mixed_inks(image: Image.Image) -> Image.Image:
    """CMYK without a profile: between the colours of the solids, in sRGB values.

    Mixing encoded values instead of light makes middle tones darker, much as dot gain does.
    """
    cyan, magenta, yellow, black = image.split()
    table = ImageFilter.Color3DLUT(2, [value for solid in _solids_srgb() for value in solid])
    colour = Image.merge("RGB", (cyan, magenta, yellow)).filter(table)
    left = black.point([round(255 - value * (1 - _BLACK_LEAVES)) for value in range(256)])
    return ImageChops.multiply(colour, Image.merge("RGB", (left, left, left)))


def _solids_srgb() -> list[tuple[float, float, float]]:
    """The solids as sRGB values of 0 to 1, relative to the paper, which a screen shows as white."""
    strip = Image.new("LAB", (len(_SOLIDS_LAB), 1))
    for x, (lightness, a, b) in enumerate(_SOLIDS_LAB):
        strip.putpixel((x, 0), (round(lightness * 255 / 100), a + 128, b + 128))
    shown = _through(_lab(), strip)
    pixels = [shown.getpixel((x, 0)) for x in range(len(_SOLIDS_LAB))]
    colours = [tuple(float(value) for value in pixel) for pixel in pixels if isinstance(pixel, tuple)]
    white = colours[_PAPER]
    return [
        (min(1.0, red / white[0]), min(1.0, green / white[1]), min(1.0, blue / white[2]))
        for red, green, blue in colours
    ]
