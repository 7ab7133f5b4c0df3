"""The operators of content streams (ISO 32000-2, Annex A), with what holds of each wherever it is read.

Two readers run content streams: facts are read object by object, plates are drawn from bytes in bulk. Each
has its own table of what it does at an operator; both tables are built on these.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

# How many operands each needs at least; where more are written, the last ones count.
OPERANDS: Final[Mapping[str, int]] = {
    # Compatibility sections (7.8.2, table 33)
    "BX": 0, "EX": 0,
    # General graphics state (8.4.4, table 56)
    "w": 1, "J": 1, "j": 1, "M": 1, "d": 2, "ri": 1, "i": 1, "gs": 1,
    # Special graphics state (8.4.4, table 56)
    "q": 0, "Q": 0, "cm": 6,
    # Path construction (8.5.2, table 58)
    "m": 2, "l": 2, "c": 6, "v": 4, "y": 4, "h": 0, "re": 4,
    # Path painting (8.5.3, table 59)
    "S": 0, "s": 0, "f": 0, "F": 0, "f*": 0, "B": 0, "B*": 0, "b": 0, "b*": 0, "n": 0,
    # Clipping paths (8.5.4, table 60)
    "W": 0, "W*": 0,
    # Colour (8.6.8, table 73); how many components a colour has depends on its space
    "CS": 1, "cs": 1, "SC": 1, "SCN": 1, "sc": 1, "scn": 1,
    "G": 1, "g": 1, "RG": 3, "rg": 3, "K": 4, "k": 4,
    # Shadings (8.7.4.2, table 76)
    "sh": 1,
    # XObjects (8.8, table 86)
    "Do": 1,
    # Inline images (8.9.7, table 90): the entries come with ID, the data with EI
    "BI": 0, "ID": 0, "EI": 1,
    # Text state (9.3.1, table 103)
    "Tc": 1, "Tw": 1, "Tz": 1, "TL": 1, "Tf": 2, "Tr": 1, "Ts": 1,
    # Text objects (9.4.1, table 105)
    "BT": 0, "ET": 0,
    # Text positioning (9.4.2, table 106)
    "Td": 2, "TD": 2, "Tm": 6, "T*": 0,
    # Text showing (9.4.3, table 107)
    "Tj": 1, "TJ": 1, "'": 1, '"': 3,
    # Type 3 fonts (9.6.4, table 111)
    "d0": 2, "d1": 6,
    # Marked content (14.6, table 352)
    "MP": 1, "DP": 2, "BMC": 1, "BDC": 2, "EMC": 0,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class PathPainting:
    """What a path-painting operator does (8.5.3). closes: it closes the last subpath before it paints.

    even_odd: what lies inside the path is told by that rule (8.5.3.3.3), not by the nonzero winding number.
    """

    fill: bool = False
    stroke: bool = False
    closes: bool = False
    even_odd: bool = False


NO_PAINT: Final = PathPainting()

PATH_PAINTING: Final[Mapping[str, PathPainting]] = {
    "S": PathPainting(stroke=True),
    "s": PathPainting(stroke=True, closes=True),
    "f": PathPainting(fill=True),
    "F": PathPainting(fill=True),  # as f, from before PDF was a standard
    "f*": PathPainting(fill=True, even_odd=True),
    "B": PathPainting(fill=True, stroke=True),
    "B*": PathPainting(fill=True, stroke=True, even_odd=True),
    "b": PathPainting(fill=True, stroke=True, closes=True),
    "b*": PathPainting(fill=True, stroke=True, closes=True, even_odd=True),
    "n": NO_PAINT,
}

# The operators that choose a device colour space and a colour in it at once (8.6.8): the space, and whether
# the colour is for lines.
DEVICE_COLOURS: Final[Mapping[str, tuple[str, bool]]] = {
    "g": ("DeviceGray", False), "G": ("DeviceGray", True),
    "rg": ("DeviceRGB", False), "RG": ("DeviceRGB", True),
    "k": ("DeviceCMYK", False), "K": ("DeviceCMYK", True),
}  # fmt: skip
