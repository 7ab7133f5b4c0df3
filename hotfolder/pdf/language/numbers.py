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
    `5re`      5 re    5 re          5 re         nothing
    `5x`       5 x     5 x           5 x          nothing
    `1e1`      1 e1    1 e1          10           nothing

qpdf takes each for a word. The rule here: several signs are one, and a minus among them makes it a minus; the
number is what can be read after them, up to what does not belong to one; where nothing can be, it is 0. What
follows such a number without a space is a word of its own: an operator, or one that nobody knows, as there
are no exponents (7.3.3).
"""

import re
from typing import Final

_BROKEN: Final = re.compile(r"([+-]*)(\d*\.?\d*)[+\-.\d]*", re.ASCII)


def mended_number(written: str) -> tuple[float | None, str]:
    """The number that a word begins with, however it is spelled, or None; and the rest of the word."""
    number = _BROKEN.match(written)
    if number is None or not number[0]:
        return None, written
    signs, digits = number.groups()
    value = float(digits) if digits.strip(".") else 0.0
    return -value if "-" in signs else value, written[number.end() :]
