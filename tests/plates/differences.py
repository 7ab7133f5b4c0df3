"""The pages on which we and tiffsep differ by more than is allowed, and the reason of each.

What is compared is what the program tells: small letters, thin rules that are painted twice and letters that
are pictures are drawn closely where the most ink lies, and agree. Pictures are not drawn any finer for that.
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
    ON_WHOLE_PIXELS = (
        "type in a scanned picture as coarse as our pixels: pictures are spread over the nearest whole ones,"
        " so that neighbours meet; exact means of its samples have 3 to 4 points less, as Ghostscript has"
    )
    NO_LOOKS = (
        "a comment or field that prints does not bring its looks: Ghostscript makes them up, we say that the"
        " plates are not known"
    )


# By the file's name in the comparison and the page.
DIFFERENCES: Final[dict[tuple[str, int], Difference]] = {
    ("ocrmypdf/graph_ocred.pdf", 1): Difference.ON_WHOLE_PIXELS,
    ("ocrmypdf/multipage.pdf", 1): Difference.ON_WHOLE_PIXELS,
    ("ocrmypdf/masks.pdf", 1): Difference.ONE_STEP,
    ("pdfannots/pr24.pdf", 1): Difference.POPUP,
    ("pdfannots/word2column.pdf", 1): Difference.NO_LOOKS,
    ("pdfannots/word2column.pdf", 2): Difference.NO_LOOKS,
    ("pyxpdf/tests_jpeg.pdf", 1): Difference.UNSAID_TRANSFORM,
    ("pypdf/pdflatex-forms.pdf", 1): Difference.NO_LOOKS,
}
