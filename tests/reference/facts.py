"""What a comparison consists of: facts that we and a reference tool both tell, and named differences."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path
from typing import Final


class Kind(StrEnum):
    """A kind of fact, and the tool that it is compared with."""

    OPENS = "PDF: opens, is locked, or is past reading (pdfinfo)"
    PAGES = "PDF: number of pages (pdfinfo)"
    BOX = "PDF: page box (pdfinfo -box)"
    TURN = "PDF: turn of a page (pdfinfo)"
    PLACED = "PDF: image placed on a page (pdfimages -list)"
    PIXELS = "PDF: pixels of an image or its mask (pdfimages -list)"
    DEPTH = "PDF: bits and components of an image (pdfimages -list)"
    RESOLUTION = "PDF: effective resolution along an axis (pdfimages -list)"
    FONT_NAME = "PDF: name of a font (pdffonts)"
    EMBEDDED = "PDF: font embedded (pdffonts)"
    SUBSET = "PDF: font subset (pdffonts)"
    UNUSED = "PDF: font that no text is painted in (pdffonts, PDFium)"
    WORD = "PDF: word, from edge to edge along its baseline (pdftotext -bbox)"
    WORD_HEIGHT = "PDF: word, as high as its font declares (pdftotext -bbox)"
    TEXT_SEEN = "PDF: text that is there at all (pdftotext -bbox)"
    FORMAT = "raster: format (exiftool)"
    CANVAS = "raster: width or height in pixels (exiftool)"
    CHANNEL_BITS = "raster: bits a channel (exiftool)"
    MODE = "raster: colour mode (exiftool)"
    PACKING = "raster: compression (exiftool)"
    DECLARED = "raster: declared resolution (exiftool)"
    ORIENTATION = "raster: orientation (exiftool)"
    PROFILE = "raster: colour profile, its name and space (exiftool)"
    PROGRESSIVE = "raster: progressive or interlaced (exiftool)"
    LAYERS = "raster: number of layers, and if there is a flat picture (exiftool)"
    MAGICK_SIZE = "raster: width, height or bits (identify)"
    MAGICK_COLOUR = "raster: colour mode or transparency (identify)"
    MAGICK_HEADER = "raster: compression, turn, profile or interlacing (identify)"
    MAGICK_DECLARED = "raster: declared resolution (identify)"
    TIFF_SIZE = "TIFF: width, height, bits or number of pictures (tiffinfo)"
    TIFF_COLOUR = "TIFF: colour mode or extra channels (tiffinfo)"
    TIFF_HEADER = "TIFF: compression, turn or profile (tiffinfo)"
    TIFF_DECLARED = "TIFF: declared resolution (tiffinfo)"


class Difference(StrEnum):
    """A difference that is understood. Each says why we are right to differ, or what the tool cannot tell.

    None of them may stand for a fault of ours. `differences` finds what proves each in the file.
    """

    GLYPH_PICTURE = (
        "poppler's list leaves out the images that a Type 3 font draws its glyphs with; they are printed"
    )
    PATTERN_PICTURE = (
        "poppler's list leaves out the pictures that cells of tiling patterns paint; they are printed"
    )
    MISSING_PAGES = (
        "the list of pages names some that are not there, or runs in a circle: poppler counts as many as it "
        "declares, we count those that are there and tell the damage"
    )
    DIRECT_PAGE = (
        "a page stands in the list of pages itself, where a reference has to stand (ISO 32000-2, 7.7.3.2): "
        "poppler tells no boxes of it"
    )
    UNKNOWN_CMAP = "poppler leaves a font out of its list whose code map it does not know"
    SCREEN_ONLY = (
        "poppler paints as for a screen; an annotation without the print flag is on no paper "
        "(ISO 32000-2, 12.5.3)"
    )
    BROKEN_INSTRUCTION = (
        "poppler ends the page at an instruction that lacks values; we leave it out, tell it, and go on"
    )
    ENDLESS_IMAGE = "an inline image has no end: poppler makes one up, we tell that the page cannot be read"
    NO_MEDIA_BOX = "the page has no media box: poppler takes Letter for it, we tell that there is none"
    MENDED = "the page tree is broken: poppler gives up, we read what is left and tell the damage"
    REDRAWN_FIELD = (
        "a form field brings no looks, or its file asks viewers to make them up: poppler does, we take what "
        "is in the file"
    )
    ACTUAL_TEXT = (
        "poppler tells the text that a marked span stands for, also where nothing but a space is shown "
        "(ISO 32000-2, 14.9.4)"
    )
    EURO = "poppler knows no euro sign in the standard font Symbol; it has one (ISO 32000-2, D.5, octal 240)"
    OBLIQUE = "poppler has no boxes for text at an angle; the letters lie in the box, or it is beside them"
    ACCENT = "poppler joins an accent that is set apart with its letter, and gives it no width of its own"
    REPEATED = "text is painted over itself, a little aside: poppler tells one of the copies, and not which"
    BEYOND_QPDF = (
        "poppler guesses a file together that qpdf, which we read with, does not; we tell that it cannot be "
        "read"
    )
    TYPE3_HEIGHT = "a Type 3 font declares no ascent; poppler guesses one from its letters"
    NO_FLAT_PICTURE = "a file without a flat picture: ImageMagick makes one of the layers and tells of that"
    NO_RESOLUTION = "ImageMagick takes 72 ppi for a TIFF that declares none; tiffinfo tells none either"
    EXIF_FIRST = (
        "the header declares two resolutions: we take JFIF's as the format's own, ImageMagick takes Exif's"
    )
    LAYERS_OF_32_BITS = (
        "exiftool counts no layers of 32 bits, which stand in a block of their own (Lr32); "
        "there are as many layer names in the file as we count layers"
    )


@dataclass(frozen=True, slots=True)
class Compared:
    """One fact as both tell it. difference: why they are not the same, where that is understood."""

    kind: Kind
    where: str
    ours: str
    theirs: str
    agree: bool
    difference: Difference | None = None

    @property
    def unexplained(self) -> bool:
        """Whether both differ and nobody knows why: we may be wrong."""
        return not self.agree and self.difference is None

    def __str__(self) -> str:
        return f"{self.where}: {self.kind}: ours {self.ours}, theirs {self.theirs}"


def same(
    kind: Kind, where: str, ours: object, theirs: object, difference: Difference | None = None
) -> Compared:
    """The comparison of two values that must be the same."""
    agree = ours == theirs
    return Compared(kind, where, str(ours), str(theirs), agree, None if agree else difference)


@dataclass(frozen=True, slots=True)
class Comparison:
    """All facts of one file on which both have something to say.

    producer: of a PDF, as it says itself. agreeing: how many words agree, which are too many to keep;
    the other facts are kept in any case.
    """

    path: Path
    facts: tuple[Compared, ...]
    producer: str | None = None
    agreeing: Mapping[Kind, int] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """The file's name, with that of its folder."""
        return f"{self.path.parent.name}/{self.path.name}"

    @property
    def named(self) -> Mapping[Difference, int]:
        """How many facts differ for each known reason."""
        return Counter(fact.difference for fact in self.facts if fact.difference is not None)

    @property
    def unexplained(self) -> tuple[Compared, ...]:
        """The facts on which both differ, nobody knows why."""
        return tuple(fact for fact in self.facts if fact.unexplained)


@dataclass(frozen=True, slots=True)
class Row:
    """A row of the table of agreement."""

    kind: Kind
    agree: int
    named: int
    unexplained: int

    @property
    def compared(self) -> int:
        """How many facts of the kind were compared."""
        return self.agree + self.named + self.unexplained


def table(comparisons: Iterable[Comparison]) -> tuple[Row, ...]:
    """How many facts of each kind were compared, agree, differ for a known reason, or differ."""
    agree: Counter[Kind] = Counter()
    named: Counter[Kind] = Counter()
    unexplained: Counter[Kind] = Counter()
    for comparison in comparisons:
        agree.update(comparison.agreeing)
        for fact in comparison.facts:
            chosen = agree if fact.agree else unexplained if fact.unexplained else named
            chosen[fact.kind] += 1
    return tuple(Row(kind, agree[kind], named[kind], unexplained[kind]) for kind in Kind)


# More than this share of named differences would hide the rest.
MOST_NAMED_SHARE: Final = 0.02
