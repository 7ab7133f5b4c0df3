"""Requirements on page boxes, and on what a page is."""

from collections.abc import Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.requirement import Breach, Requirement, Subject
from hotfolder.checks.pdf.pdfx.sources import SERIES
from hotfolder.checks.shared.pdfx_levels import ALL, X4, Level
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.pages import Page
from hotfolder.units import pt_to_mm
from hotfolder.wording.pages import edges_words

_WRITER: Final = "PDFlib tutorial, table 10.3 (what to set and to avoid for PDF/X)"
_GHOSTSCRIPT: Final = "Ghostscript's documentation of pdfwrite"
_CLAUSE: Final = "ISO 32000-2, 14.11.2"

# Writers round coordinates to a hundredth of a point and coarser; own choice.
_ROUNDING: Final = 0.01

_EXPORT: Final = "Export again with page size, cut line and bleed set in the program's export settings"


def _cut_line(subject: Subject, _level: Level) -> Iterator[Breach]:
    for page in subject.pages:
        if page.boxes.trim is None and page.boxes.art is None:
            yield Breach("the page has no trim box", page)


def _one_cut_line(subject: Subject, _level: Level) -> Iterator[Breach]:
    for page in subject.pages:
        if page.boxes.trim is not None and page.boxes.art is not None:
            yield Breach("the page has a trim box and an art box", page)


def _has_page_size(subject: Subject, _level: Level) -> Iterator[Breach]:
    for page in subject.pages:
        if page.boxes.media is None:
            yield Breach("the page does not say how large it is (no media box)", page)


def _within_bleed(subject: Subject, _level: Level) -> Iterator[Breach]:
    for page in subject.pages:
        yield from _beyond(page, _cut(page), page.boxes.bleed, "the bleed box")


def _within_page(subject: Subject, _level: Level) -> Iterator[Breach]:
    for page in subject.pages:
        boxes = page.boxes
        for named in (("the bleed box", boxes.bleed), _cut(page), ("the crop box", boxes.crop)):
            yield from _beyond(page, named, boxes.media, "the media box")


def _within_crop(subject: Subject, _level: Level) -> Iterator[Breach]:
    for page in subject.pages:
        for named in (("the bleed box", page.boxes.bleed), _cut(page)):
            yield from _beyond(page, named, page.boxes.crop, "the crop box")


def _cut(page: Page) -> tuple[str, Box | None]:
    if page.boxes.trim is not None:
        return "the trim box", page.boxes.trim
    return "the art box", page.boxes.art


def _beyond(
    page: Page, named: tuple[str, Box | None], outer: Box | None, outer_name: str
) -> Iterator[Breach]:
    """A breach where the named box reaches beyond the outer one; none where either is missing."""
    called, box = named
    if box is None or outer is None:
        return
    reach = {edge: box.beyond(edge, outer) for edge in Edge}
    edges = [edge for edge, distance in reach.items() if distance > _ROUNDING]
    if edges:
        furthest = pt_to_mm(max(reach.values()))
        where = edges_words(edges, page.rotate)
        yield Breach(f"{called} reaches {furthest:.2f} mm beyond {outer_name} ({where})", page, (box,))


def _not_separated(subject: Subject, _level: Level) -> Iterator[Breach]:
    for page, entries in zip(subject.pages, subject.inventory.pages, strict=False):
        if entries.separated:
            yield Breach("the page is one plate of a page that was separated before", page)


def _viewer_areas(subject: Subject, _level: Level) -> Iterator[Breach]:
    for key, box in subject.inventory.interactive.viewer_areas:
        if box not in {"MediaBox", "BleedBox"}:
            yield Breach(f"the viewer preferences name the {box} ({key})")


PAGE_BOXES: Final = (
    Requirement(
        id="media-box",
        wants="wants a media box for each page, its own or an inherited one",
        levels=ALL,
        why="Without it nobody knows how large the page is.",
        remedy=f"{_EXPORT}.",
        source="ISO 32000-2, table 31 (MediaBox is required)",
        judge=_has_page_size,
        told_by=frozenset({"page-boxes.no-page-size"}),
    ),
    Requirement(
        id="trim-box",
        wants="wants a trim box, or else an art box, on each page itself",
        levels=ALL,
        why="The printer's programs place and cut the page by it; without one they have to guess.",
        remedy=f"{_EXPORT}, so that a trim box is written.",
        source=f"{SERIES}; {_WRITER}; {_GHOSTSCRIPT}; that it is not inherited: Arlington PDF model of the"
        " PDF Association",
        judge=_cut_line,
        told_by=frozenset({"page-boxes.no-trim-box", "trim-size.unknown"}),
    ),
    Requirement(
        id="trim-and-art-box",
        wants="wants a trim box or an art box on each page, not both",
        levels=ALL,
        why="Where both are there, one program cuts by the one and the next by the other.",
        remedy=f"{_EXPORT}, with a trim box and without an art box.",
        source=f"{SERIES}; {_WRITER}; Ghostscript's gdevpdf.c, which leaves out the art box beside a trim"
        " box",
        judge=_one_cut_line,
        told_by=frozenset({"page-boxes.two-boxes"}),
    ),
    Requirement(
        id="trim-in-bleed",
        wants="wants the trim box to lie within the bleed box",
        levels=ALL,
        why="The page would be cut outside of what was made to be printed.",
        remedy=f"{_EXPORT}: the bleed runs outwards from the cut line.",
        source=f"{SERIES}; Ghostscript's gdevpdf.c, which lets nothing else into any level; {_CLAUSE}",
        judge=_within_bleed,
        told_by=frozenset({"page-boxes.not-nested"}),
    ),
    Requirement(
        id="boxes-in-page",
        wants="wants all boxes of a page to lie within its media box",
        levels=ALL,
        unconfirmed=ALL,
        why="What lies outside of the page is not there to be printed.",
        remedy=f"{_EXPORT}, on a page that is large enough for the bleed.",
        source=f"{_CLAUSE}, by which they do not ordinarily reach further, and count only as far as it where"
        " they do; that PDF/X forbids it is said by no public source",
        judge=_within_page,
        told_by=frozenset({"page-boxes.not-nested"}),
    ),
    Requirement(
        id="crop-box",
        wants="wants the bleed box and the trim box to lie within the crop box, where there is one",
        levels=ALL,
        unconfirmed=X4,
        why="Many programs print no more than the crop box, and the edge of the page would be missing.",
        remedy="Take the crop box out (undo the cropping of the page), or export again without cropping.",
        source=f"{SERIES}; of the trim box Ghostscript's gdevpdf.c; for PDF/X-4 from memory, and uncertain"
        " whether the edition of 2010 has it",
        judge=_within_crop,
    ),
    Requirement(
        id="viewer-area",
        wants="takes only the media box and the bleed box as the area that is shown or printed",
        levels=ALL,
        unconfirmed=ALL,
        why="A program that goes by it prints less than the page.",
        remedy="Remove the area to show or to print from the document's properties, or export again.",
        source=f"{_WRITER}; no second source; for PDF/X-4 from memory",
        judge=_viewer_areas,
    ),
    Requirement(
        id="separated-page",
        wants="wants composite pages, not one page for each plate",
        levels=ALL,
        unconfirmed=ALL,
        why="Each plate would be taken for a page of its own and printed in black.",
        remedy="Export again as composite CMYK; the printer's programs make the plates.",
        source=f"{SERIES}; no second source; that SeparationInfo marks such pages: ISO 32000-2, 14.11.4; for"
        " PDF/X-4 from memory",
        judge=_not_separated,
    ),
)
