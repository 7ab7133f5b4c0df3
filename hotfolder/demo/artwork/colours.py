"""The festival's colours, once as inks for a press and once as a screen has them."""

from dataclasses import dataclass
from typing import Final

Colour = tuple[float, ...]
"""Three parts are red, green and blue; four are cyan, magenta, yellow and black; each from 0 to 1."""


@dataclass(frozen=True, slots=True)
class DesignColours:
    """The colours of all designs."""

    night: Colour
    plum: Colour
    ember: Colour
    lamp: Colour
    paper: Colour
    ink: Colour


PRESS: Final = DesignColours(
    night=(0.95, 0.80, 0.30, 0.35),
    plum=(0.70, 0.90, 0.20, 0.20),
    ember=(0.00, 0.68, 0.72, 0.00),
    lamp=(0.00, 0.16, 0.62, 0.00),
    paper=(0.00, 0.00, 0.00, 0.00),
    ink=(0.00, 0.00, 0.00, 1.00),
)

SCREEN: Final = DesignColours(
    night=(0.07, 0.11, 0.27),
    plum=(0.30, 0.09, 0.33),
    ember=(0.95, 0.40, 0.27),
    lamp=(1.00, 0.84, 0.44),
    paper=(1.00, 1.00, 1.00),
    ink=(0.00, 0.00, 0.00),
)
