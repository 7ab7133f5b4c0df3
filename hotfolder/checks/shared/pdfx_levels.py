"""The levels of PDF/X, the names that they go by, and what each forbids of the facts that are measured.

Only what is certain is listed: a file that keeps all of this may still break its level elsewhere.
Source: ISO 15930-1, -3, -4, -6, -7, -8 and -9 for the levels and their names.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Final, TypeAlias

from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import ColourKind, ColourSpace
from hotfolder.model.document import PdfFacts, PdfxClaim
from hotfolder.model.marks import PLAIN_BLENDS, Mark, Masking
from hotfolder.model.pages import Construct, Page
from hotfolder.wording.pages import pages_words

X1A: Final = ("PDF/X-1a:2001", "PDF/X-1a:2003")
X3: Final = ("PDF/X-3:2002", "PDF/X-3:2003")
X4: Final = ("PDF/X-4", "PDF/X-4p")
OTHERS: Final = (
    "PDF/X-2:2003", "PDF/X-5g", "PDF/X-5pg", "PDF/X-5n", "PDF/X-6", "PDF/X-6p", "PDF/X-6n",
)  # fmt: skip
LEVELS: Final = (*X1A, *X3, *X4, *OTHERS)

# Levels whose output profile lies outside of the file, by definition.
OUTSIDE_PROFILE: Final = frozenset({"PDF/X-4p", "PDF/X-5pg", "PDF/X-6p", "PDF/X-6n", "PDF/X-5n"})

# ISO 15930-1 writes the level of an X-1a:2001 file as PDF/X-1:2001, with the conformance entry beside it.
_WRITTEN_2001: Final = "PDF/X-1:2001"
_NAME_2001: Final = "PDF/X-1a:2001"

_NOT_DEVICE: Final = frozenset({"CalGray", "CalRGB", "Lab", "ICCBased"})
_LATER_FILTERS: Final = frozenset({"JPXDecode"})
_NO_JBIG2: Final = frozenset({"PDF/X-1a:2003", "PDF/X-3:2003"})

# What no level before X-5 takes.
_FORBIDDEN: Final = {
    Construct.TRANSFER: "transfer functions, which change the tones at the press",
    Construct.OPI: "pictures that stand in for others (OPI)",
    Construct.POSTSCRIPT: "PostScript code that only some presses run",
    Construct.REFERENCE: "pages of other files that are referred to, not included",
}

_Test: TypeAlias = Callable[[Mark], bool]


def level_name(level: str) -> str:
    """The name by which the trade knows a level as files write it."""
    return _NAME_2001 if level == _WRITTEN_2001 else level


def badly_written(claim: PdfxClaim) -> str | None:
    """What is wrong with the way in which a claim is written; None where it is right.

    `PDF/X-1a:2001` in the place of the level is common, but the standard's value there is
    `PDF/X-1:2001`, with the conformance entry beside it. PDF/X-4 and later are identified by XMP.
    """
    if claim.level == _NAME_2001:
        standard = f"the standard has '{_WRITTEN_2001}', with the conformance entry beside it"
        return f"the level is written '{_NAME_2001}'; {standard}"
    if claim.level == _WRITTEN_2001 and claim.conformance is None:
        return f"the level is written '{_WRITTEN_2001}' without the conformance '{_NAME_2001}' beside it"
    if claim.level == _WRITTEN_2001 and claim.conformance != _NAME_2001:
        return f"'{claim.conformance}' stands beside the level where the standard has '{_NAME_2001}'"
    if not is_level(claim.level):
        return f"'{claim.level}' stands where the level belongs, and there is no such level"
    if claim.origin == "Info" and claim.level.startswith(("PDF/X-4", "PDF/X-5", "PDF/X-6")):
        return f"'{claim.level}' stands only in the document information, not in the metadata (XMP)"
    return None


def is_level(level: str) -> bool:
    """Whether there is a level that files write as `level`."""
    return level_name(level) in LEVELS


@dataclass(frozen=True, slots=True)
class Contradiction:
    """Something in the file that its level forbids, in words; and which findings tell of all of it."""

    what: str
    told_by: frozenset[str] = frozenset()


def contradictions(name: str, artwork: Artwork, pdf: PdfFacts) -> Iterator[Contradiction]:
    """What in the file contradicts the level `name`.

    What X-4 forbids of transfer functions, OPI, PostScript and files without an ID is from memory.
    """
    pages = artwork.known_pages
    if pdf.encryption is not None:
        yield Contradiction("it is encrypted", frozenset({"encryption.encrypted", "encryption.locked"}))
    if any(font.printed and not font.embedded for font in artwork.fonts):
        yield Contradiction("not all fonts are in the file", frozenset({"fonts-embedded.not-embedded"}))
    without_cut = [page.number for page in pages if (page.boxes.trim or page.boxes.art) is None]
    if without_cut:
        told_by = frozenset({"page-boxes.no-trim-box", "trim-size.unknown"})
        yield Contradiction(f"no trim box ({pages_words(without_cut)})", told_by)
    both = [page.number for page in pages if page.boxes.trim and page.boxes.art]
    if both:
        told_by = frozenset({"page-boxes.two-boxes"})
        yield Contradiction(f"trim box and art box ({pages_words(both)})", told_by)
    if name in (*X1A, *X3, *X4):
        if not pdf.has_id:
            yield Contradiction("it has no file identifier")
        for construct, what in _FORBIDDEN.items():
            yield from _drawn_with(construct, what, pages)
    if name in (*X1A, *X3):
        yield from _early_levels(name, artwork, pdf)
    if name in X1A:
        yield from _where(artwork, "colours other than CMYK, grey and spot", _device_independent)


def needless_groups(name: str, artwork: Artwork) -> list[int]:
    """Pages that are transparency groups in a file of a level without any, though nothing on them needs it.

    Groups came with PDF 1.4, and X-1a:2001 and X-3:2002 build on PDF 1.3. Of the levels of 2003 it is known
    that forms may be none; that pages may be none could not be verified.
    """
    if name not in (*X1A, *X3):
        return []
    return [
        page.number
        for page in artwork.known_pages
        if Construct.PAGE_GROUP in page.constructs
        and Construct.GROUP not in page.constructs
        and not _any(page, is_transparent)
    ]


def _early_levels(name: str, artwork: Artwork, pdf: PdfFacts) -> Iterator[Contradiction]:
    """What X-1a and X-3 forbid: all that came after PDF 1.3 and 1.4, transparency first of all."""
    document = {
        "it does not say whether it is trapped": pdf.trapped not in {"True", "False"},
        "it has no title": not pdf.title,
        "it does not say when it was made": not pdf.created,
        "it does not say when it was last changed": not pdf.modified,
        "it has scripts": bool(pdf.scripts),
        "it has attached files": bool(pdf.attachments),
        "it has layers": bool(pdf.layers),
        "its objects are packed in streams, which came with PDF 1.5": pdf.object_streams,
    }
    yield from (Contradiction(what) for what, is_so in document.items() if is_so)
    yield from _where(artwork, "transparency", is_transparent)
    yield from _drawn_with(Construct.GROUP, "transparency groups", artwork.known_pages)
    yield from _where(
        artwork, "LZW-compressed pictures", lambda mark: _filtered(mark, frozenset({"LZWDecode"}))
    )
    yield from _where(artwork, "JPEG 2000 pictures", lambda mark: _filtered(mark, _LATER_FILTERS))
    if name in _NO_JBIG2:
        yield from _where(artwork, "JBIG2 pictures", lambda mark: _filtered(mark, frozenset({"JBIG2Decode"})))


def _drawn_with(construct: Construct, what: str, pages: Iterable[Page]) -> Iterator[Contradiction]:
    numbers = [page.number for page in pages if construct in page.constructs]
    if numbers:
        yield Contradiction(f"{what} ({pages_words(numbers)})")


def _where(artwork: Artwork, what: str, guilty: _Test) -> Iterator[Contradiction]:
    numbers = [page.number for page in artwork.known_pages if _any(page, guilty)]
    if numbers:
        yield Contradiction(f"{what} ({pages_words(numbers)})")


def _any(page: Page, guilty: _Test) -> bool:
    return any(mark.on_paper and guilty(mark) for mark in page.known_marks)


def _device_independent(mark: Mark) -> bool:
    return any(_forbidden_in_x1a(colour.space) for colour in mark.colours())


def _forbidden_in_x1a(space: ColourSpace) -> bool:
    if space.kind in {ColourKind.RGB, ColourKind.LAB} or space.family in _NOT_DEVICE:
        return True
    return space.base is not None and _forbidden_in_x1a(space.base)


def is_transparent(mark: Mark) -> bool:
    """Whether something shines through a mark, or it blends with what lies beneath."""
    state = mark.state
    return (
        (mark.fill is not None and state.fill_opacity < 1)
        or (mark.stroke is not None and state.stroke_opacity < 1)
        or state.blend_mode not in PLAIN_BLENDS
        or state.soft_mask
        or (mark.image is not None and mark.image.masking is Masking.SOFT)
    )


def _filtered(mark: Mark, filters: frozenset[str]) -> bool:
    return mark.image is not None and not filters.isdisjoint(mark.image.filters)
