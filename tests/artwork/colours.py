"""Colour spaces and colours as files have them."""

from hotfolder.model.colour import Colour, ColourKind, ColourSpace

DEVICE_CMYK = ColourSpace("DeviceCMYK", ColourKind.CMYK, 4)
DEVICE_GREY = ColourSpace("DeviceGray", ColourKind.GREY, 1)
DEVICE_RGB = ColourSpace("DeviceRGB", ColourKind.RGB, 3)
LAB = ColourSpace("Lab", ColourKind.LAB, 3)
ICC_RGB = ColourSpace("ICCBased", ColourKind.RGB, 3, profile="A screen")
ICC_CMYK = ColourSpace("ICCBased", ColourKind.CMYK, 4, profile="A press")
UNKNOWN = ColourSpace("", ColourKind.UNKNOWN, 0)
PATTERN = ColourSpace("Pattern", ColourKind.PATTERN, 0)
REGISTRATION = ColourSpace("Separation", ColourKind.REGISTRATION, 1, ("All",), DEVICE_CMYK)
NO_PLATE = ColourSpace("Separation", ColourKind.NONE, 1, ("None",), DEVICE_CMYK)

BLUE = Colour(DEVICE_CMYK, (1.0, 0.6, 0.0, 0.0))
YELLOW = Colour(DEVICE_CMYK, (0.0, 0.0, 1.0, 0.0))
BLACK = Colour(DEVICE_GREY, (0.0,))
RICH_BLACK = Colour(DEVICE_CMYK, (0.6, 0.4, 0.4, 1.0))
CMYK_BLACK = Colour(DEVICE_CMYK, (0.0, 0.0, 0.0, 1.0))
CMYK_WHITE = Colour(DEVICE_CMYK, (0.0, 0.0, 0.0, 0.0))
FOUR_FULL = Colour(DEVICE_CMYK, (1.0, 1.0, 1.0, 1.0))
GREY_WHITE = Colour(DEVICE_GREY, (1.0,))
SCREEN_BLACK = Colour(DEVICE_RGB, (0.0, 0.0, 0.0))
SCREEN_RED = Colour(DEVICE_RGB, (1.0, 0.0, 0.0))
ALL_PLATES = Colour(REGISTRATION, (1.0,))


def spot(*names: str, tint: float = 1.0) -> Colour:
    """One spot colour, or several: full ink, or a tint of each."""
    family = "Separation" if len(names) == 1 else "DeviceN"
    space = ColourSpace(family, ColourKind.SPOT, len(names), names, DEVICE_CMYK)
    return Colour(space, (tint,) * len(names))


def cmyk(*percent: float) -> Colour:
    """A colour in DeviceCMYK by its tints in percent."""
    return Colour(DEVICE_CMYK, tuple(value / 100 for value in percent))
