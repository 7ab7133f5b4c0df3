"""Compares what we measure of a PDF with what poppler tells of it."""

from collections.abc import Iterator
from pathlib import Path
from typing import Final

from hotfolder.model.artwork import Artwork
from hotfolder.model.document import Font
from hotfolder.model.facts import ProblemKind, Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page
from tests.reference.differences import Evidence, evidence_in
from tests.reference.facts import Compared, Comparison, Difference, Kind, same
from tests.reference.glyphs import ShownRuns
from tests.reference.images import compare_images
from tests.reference.pdfium import plain_name, used_font_names
from tests.reference.poppler import (
    ListedFont,
    Opening,
    PageGeometry,
    knows_no_cmap,
    listed_fonts,
    opening,
    page_geometries,
    painted_images,
)
from tests.reference.poppler_words import words_of
from tests.reference.tools import run_tool
from tests.reference.word_differences import WordEvidence
from tests.reference.words import ComparedWords, compare_words

_BOX_TOLERANCE_PT: Final = 0.006  # pdfinfo prints two decimals


def compare_pdf(path: Path, artwork: Artwork, runs: ShownRuns) -> Comparison:
    """The facts of a PDF on which both have something to say; runs: those caught while it was measured."""
    theirs, pages = opening(path)
    facts = [_opening(path, artwork, theirs)]
    words = ComparedWords()
    if theirs is Opening.OPEN and not isinstance(artwork.pages, Unmeasured):
        reason = Difference.MISSING_PAGES if _tells_missing_pages(artwork) else None
        facts.append(counted := same(Kind.PAGES, "the file", len(artwork.known_pages), pages, reason))
        evidence = evidence_in(path)
        if counted.agree:  # else one's page 7 is not the other's
            facts.extend(_geometry(artwork.known_pages, page_geometries(path, pages), evidence))
            facts.extend(compare_images(artwork.known_pages, painted_images(path), evidence))
            words = compare_words(artwork.known_pages, runs, words_of(path), WordEvidence(path))
            facts.extend(words.differences)
        fonts = listed_fonts(path)
        facts.extend(_fonts(path, artwork.fonts, fonts))
        facts.extend(_unused_fonts(path, artwork.fonts, fonts))
    producer = artwork.pdf.producer if artwork.pdf is not None else None
    return Comparison(path, tuple(facts), producer, words.agreeing)


def _opening(path: Path, artwork: Artwork, theirs: Opening) -> Compared:
    encryption = artwork.pdf.encryption if artwork.pdf is not None else None
    locked = encryption is not None and not encryption.opened
    unread = not artwork.known_pages  # pdfinfo does not open a file that says it has none
    ours = Opening.LOCKED if locked else Opening.BROKEN if unread else Opening.OPEN
    told = any(problem.kind is ProblemKind.DAMAGED for problem in artwork.problems)
    reason = None
    if ours is Opening.OPEN and theirs is Opening.BROKEN and told:
        reason = Difference.MENDED
    elif (
        ours is not Opening.OPEN and theirs is Opening.OPEN and run_tool("qpdf", "--check", str(path)).failed
    ):
        reason = Difference.BEYOND_QPDF
    return same(Kind.OPENS, "the file", ours, theirs, reason)


def _tells_missing_pages(artwork: Artwork) -> bool:
    """Whether we tell that the list of pages is damaged."""
    return any(each.where == "pages" and each.kind is ProblemKind.DAMAGED for each in artwork.problems)


def _geometry(
    pages: tuple[Page, ...], theirs: dict[int, PageGeometry], evidence: Evidence
) -> Iterator[Compared]:
    for page in pages:
        geometry = theirs.get(page.number, PageGeometry({}, -1))
        yield same(Kind.TURN, f"page {page.number}", page.rotate, geometry.rotate)
        for name, ours in _as_poppler_fills_in(page).items():
            difference = Difference.NO_MEDIA_BOX if page.boxes.media is None else None
            if evidence.direct_pages and not geometry.boxes:
                difference = Difference.DIRECT_PAGE
            box = geometry.boxes.get(name)
            agree = ours is not None and box is not None and _close(ours, box)
            yield Compared(
                Kind.BOX,
                f"page {page.number}, {name}",
                str(ours),
                str(box),
                agree,
                None if agree else difference,
            )


def _as_poppler_fills_in(page: Page) -> dict[str, Box | None]:
    """Our boxes as `pdfinfo -box` shows them.

    It fills in the defaults (ISO 32000-2, table 31), cuts each box by the media box
    (14.11.2.1) and does not apply the user unit. We do none of that: boxes are facts.
    """
    boxes, media = page.boxes, page.boxes.media

    def shown(box: Box | None) -> Box | None:
        if box is None or media is None:
            return None
        cut = box.cut_by(media) or media
        return Box(*(corner / page.user_unit for corner in (cut.x0, cut.y0, cut.x1, cut.y1)))

    crop = shown(boxes.crop) or shown(media)
    return {
        "MediaBox": shown(media),
        "CropBox": crop,
        "BleedBox": shown(boxes.bleed) or crop,
        "TrimBox": shown(boxes.trim) or crop,
        "ArtBox": shown(boxes.art) or crop,
    }


def _close(ours: Box, theirs: Box) -> bool:
    return ours.holds(theirs, _BOX_TOLERANCE_PT) and theirs.holds(ours, _BOX_TOLERANCE_PT)


def _fonts(path: Path, ours: tuple[Font, ...], theirs: list[ListedFont]) -> Iterator[Compared]:
    """Compares the fonts that painted text uses; poppler lists those of the resources, used or not."""
    listed = {font.object or font.name: font for font in theirs}
    for font in ours:
        row = listed.get(font.object or font.name)
        where = f"font {font.object} {font.name}"
        if row is None:
            reason = Difference.UNKNOWN_CMAP if knows_no_cmap(path) else None
            yield Compared(Kind.FONT_NAME, where, font.name, "not listed", agree=False, difference=reason)
            continue
        yield same(Kind.EMBEDDED, where, font.embedded, row.embedded)
        # A Type 3 font has no name that counts (ISO 32000-2, table 110), and no program to be a part of.
        if not font.type3:
            yield same(Kind.FONT_NAME, where, font.name, row.name)
            yield same(Kind.SUBSET, where, font.subset, row.subset)


def _unused_fonts(path: Path, ours: tuple[Font, ...], theirs: list[ListedFont]) -> Iterator[Compared]:
    """Of the fonts that poppler alone lists: that PDFium finds no text in them either."""
    objects = {font.object for font in ours}
    # Of two fonts with one name PDFium does not tell which it means.
    names = {plain_name(font.name) for font in ours} | {"[none]"}
    alone = [row for row in theirs if row.object not in objects and plain_name(row.name) not in names]
    used = used_font_names(path) if alone else None
    if used is None:
        return
    for row in alone:
        state = "used" if plain_name(row.name) in used else "not used"
        yield same(Kind.UNUSED, f"font {row.object} {row.name}", "not used", state)
