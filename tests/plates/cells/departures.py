"""Where tiffsep (Ghostscript 10.00) does otherwise than the standard says, and why each is its doing.

Every other cell it draws within a point of what is expected: so what is expected is no opinion of ours.
"""

from typing import Final

DEPARTURES: Final = {
    "Lab: image": "it reads a and b of an image from -128 on, whatever Range says (8.6.5.4)",
    "image mixed with its matte": "it takes an image with a matte through RGB, so that grey is four inks",
    "tiles at half opacity": "it applies the opacity to each paint of a tile and to the tiles again (11.6.7)",
    "the first mode known of several": "it knows no blend modes by list (11.6.3)",
    "luminosity of inks": "it is two points darker than 1 - (0.3 C + 0.59 M + 0.11 Y + K)",
    "a pattern that overprints": "it takes tiles as opaque in every ink",
    "tagged CMYK in mode 1": "told to take tagged CMYK as delivered, it takes it for DeviceCMYK altogether",
    "a colour from around in a group of screen colours": "it paints black: the colour from around is lost",
    "a grey image in a group of screen colours": (
        "it takes grey to screen colours by the profile that keeps masks straight; by sRGB's tones it agrees"
    ),
    "a layer that does not print": "it looks at no usage of layers (8.11.4.4)",
}
# Cells that are drawn with their profiles: told to take CMYK and grey as delivered, tiffsep takes sRGB for
# every other profile of RGB.
WITH_PROFILES: Final = frozenset(
    {
        "ICCBased RGB: fill",
        "ICCBased RGB: stroke",
        "ICCBased RGB: image",
        "ICCBased RGB: gradient",
        "default space for RGB",
    }
)
