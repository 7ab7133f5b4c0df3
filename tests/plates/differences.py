"""The pages on which we and tiffsep differ by more than is allowed, and the reason of each."""

from enum import StrEnum
from typing import Final


class Difference(StrEnum):
    """A reason. Each is told by our facts, or theirs to answer for, or moves single square millimetres."""

    SMALL_TYPE = (
        "the most ink lies in a few small letters: a hundredth of a millimetre more or less of their edges is"
        " several points of one square millimetre"
    )
    TYPE_BY_PICTURES = (
        "the letters of a Type 3 font: the renderer draws them as small pictures on whole pixels, up to a"
        " sixth of a millimetre off"
    )
    PAINTED_TWICE = (
        "rules are painted twice over one another: where a pixel is half covered, the second painting covers"
        " half of what the first one left"
    )
    SOFTENED_PICTURE = (
        "a picture is reduced to about its own resolution: each program softens it in its own way"
    )
    ONE_STEP = (
        "the whole sheet is a picture in nearly white: a step of 256 too much on one side, too little on the"
        " other"
    )
    POPUP = "Ghostscript paints the windows of comments, which are on no paper (ISO 32000-2, 12.5.6.14)"
    NO_LOOKS = (
        "a comment or field that prints does not bring its looks: Ghostscript makes them up, we say that the"
        " plates are not known"
    )


# By the file's name in the comparison and the page.
DIFFERENCES: Final[dict[tuple[str, int], Difference]] = {
    ("auto-multiple-choice-doc-pdf/automultiplechoice.pdf", 1): Difference.TYPE_BY_PICTURES,
    ("ocrmypdf/masks.pdf", 1): Difference.ONE_STEP,
    ("ocrmypdf/multipage.pdf", 1): Difference.SOFTENED_PICTURE,
    ("ocrmypdf/type3_font_nomapping.pdf", 1): Difference.TYPE_BY_PICTURES,
    ("pdfannots/pr24.pdf", 1): Difference.POPUP,
    ("pdfannots/word2column.pdf", 1): Difference.NO_LOOKS,
    ("pdfannots/word2column.pdf", 2): Difference.NO_LOOKS,
    ("pdftotext/table.pdf", 1): Difference.PAINTED_TWICE,
    ("pdftotext/two_pages.pdf", 1): Difference.SMALL_TYPE,
    ("pypdf/pdflatex-forms.pdf", 1): Difference.NO_LOOKS,
    ("pypdf/two-different-pages.pdf", 1): Difference.SMALL_TYPE,
}
