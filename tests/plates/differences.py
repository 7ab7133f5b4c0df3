"""The pages on which we and tiffsep differ by more than is allowed, and the reason of each.

Not among them are pages whose most ink differs at our own pixels and no more once both sides are drawn
closely: small letters, thin rules that are painted twice, Type 3 fonts, whose letters the renderer draws as
small pictures on whole pixels, and coarse pictures, which are brought to whole pixels. On those the program's
own figure for one square millimetre is off by some points, where rules are painted twice by up to 45.
"""

from enum import StrEnum
from typing import Final


class Difference(StrEnum):
    """A reason. Each was found out by an experiment, told here."""

    ONE_STEP = (
        "the whole sheet is a picture in one nearly white grey, 254: our table for large pictures gives a"
        " step of 256 too much, Ghostscript one too little"
    )
    UNSAID_TRANSFORM = (
        "six of its thirty JPEG pictures, made as a test, leave open whether their colours are transformed or"
        " say it falsely: no Adobe marker, and an entry ColorTransform that is missing or against the data"
    )
    POPUP = "Ghostscript paints the windows of comments, which are on no paper (ISO 32000-2, 12.5.6.14)"
    NO_LOOKS = (
        "a comment or field that prints does not bring its looks: Ghostscript makes them up, we say that the"
        " plates are not known"
    )


# By the file's name in the comparison and the page.
DIFFERENCES: Final[dict[tuple[str, int], Difference]] = {
    ("ocrmypdf/masks.pdf", 1): Difference.ONE_STEP,
    ("pdfannots/pr24.pdf", 1): Difference.POPUP,
    ("pdfannots/word2column.pdf", 1): Difference.NO_LOOKS,
    ("pdfannots/word2column.pdf", 2): Difference.NO_LOOKS,
    ("pyxpdf/tests_jpeg.pdf", 1): Difference.UNSAID_TRANSFORM,
    ("pypdf/pdflatex-forms.pdf", 1): Difference.NO_LOOKS,
}
