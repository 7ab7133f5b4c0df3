"""Numbers that are not written as ISO 32000-2, 7.3.3, has them: what is read in their place.

Programs have written `--5`, `0.-3` and `1.2.3`, and no two readers draw all of them alike (poppler 22.12,
Ghostscript 10.0 and PDFium, each asked for the place of a rectangle):

    written    here    poppler       Ghostscript  PDFium
    `+-5`      -5      -5            -5           0
    `-+5`      -5      0, then 5     -5           0
    `--5`      -5      -5            0            0
    `++5`      5       0, then 5     5            0
    `5-3`      5       5, then -3    5            5
    `0.5-3`    0.5     0.5           0.5          0.5
    `1.5.3`    1.5     1.5, then .3  0            1.5
    `.` `-`    0       0             0            0

qpdf takes each for a word. The rule here: several signs are one, and a minus among them makes it a minus; the
number is what can be read after them, up to what does not belong to one; where nothing can be, it is 0.
"""

import re
from typing import Final

# A word is a number of sorts if it begins as one, or is nothing but signs and points.
_BROKEN: Final = re.compile(r"(?=[+\-.]*\d|[+\-.]+$)([+-]*)(\d*\.?\d*)", re.ASCII)


def mended_number(written: str) -> float | None:
    """The number that a broken spelling is read as; None for a word that is no number of any sort."""
    found = _BROKEN.match(written)
    if found is None:
        return None
    signs, digits = found.groups()
    value = float(digits) if digits.strip(".") else 0.0
    return -value if "-" in signs else value
