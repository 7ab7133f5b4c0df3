"""All pictures that a report shows of one page, out of its plates.

What they may weigh keeps two pages with all of theirs below 1.5 MB as text in a page (four characters
for three bytes). Ordinary pictures are far lighter.
"""

from dataclasses import dataclass
from typing import Final

from hotfolder.colour.soft_proof import InkColours
from hotfolder.drawing.proofs.coverage import coverage_picture
from hotfolder.drawing.proofs.edges import edge_pictures
from hotfolder.drawing.proofs.encoding import encoded
from hotfolder.drawing.proofs.separations import plate_pictures
from hotfolder.drawing.proofs.sheet import SheetPlates, as_picture, fitting, smaller
from hotfolder.model.pages import Page, Trim
from hotfolder.model.pictures import EncodedPicture, PagePicture, PageProof
from hotfolder.model.plates import PagePlates

# Longer sides. The page is shown 680 units high beside its notes, and wider on a large screen; A4 with
# bleed has 909 pixels as drawn, which need no scaling.
_PRINTED_PX: Final = 920
_PRINTED_BYTES: Final = 230_000
_MEANT_PX: Final = 560
_MEANT_BYTES: Final = 90_000


@dataclass(frozen=True, slots=True)
class ProofWanted:
    """What the pictures of a page are made for.

    condition: the printing condition in words. bleed_pt: what the product needs. limit_percent: of total
    ink, where there is one. left_out: inks that are no ink to look at (cutting, varnish).
    whole: with coverage and plates; without, the page is all. edges: with them, where there is a trim.
    """

    condition: str
    bleed_pt: float
    limit_percent: float | None = None
    left_out: frozenset[str] = frozenset()
    whole: bool = True
    edges: bool = True


def page_proof(plates: PagePlates, page: Page, colours: InkColours, wanted: ProofWanted) -> PageProof:
    """The pictures of `page`, turned as it is meant to be seen."""
    sheet = SheetPlates(page, plates, wanted.left_out)
    trim = page.trim.box if isinstance(page.trim, Trim) else None
    within = None if trim is None else trim.grown(wanted.bleed_pt)
    return PageProof(
        printed=_printed(sheet, colours),
        condition=wanted.condition,
        paper_white=colours.paper,
        left_out=tuple(name for name in plates.inks if name in wanted.left_out),
        meant=_meant(sheet),
        coverage=coverage_picture(sheet, wanted.limit_percent, within) if wanted.whole else None,
        plates=plate_pictures(sheet, colours) if wanted.whole else (),
        edges=edge_pictures(sheet, trim, wanted.bleed_pt, colours) if trim and wanted.edges else (),
    )


def _printed(sheet: SheetPlates, colours: InkColours) -> PagePicture:
    cut = sheet.sheet
    size = fitting(cut.size, _PRINTED_PX)
    image = sheet.upright(colours.printed(sheet.inks(cut, size), size))
    media_type, data = encoded(image, _PRINTED_BYTES)
    page = sheet.page
    return PagePicture(
        page.number, data, media_type, image.width, image.height, cut.box(sheet.frame), page.rotate
    )


def _meant(sheet: SheetPlates) -> EncodedPicture | None:
    if sheet.plates.screen is None:
        return None
    cut = sheet.sheet
    shown = smaller(cut.of_picture(sheet.plates.screen), fitting(cut.size, _MEANT_PX))
    alt = f"Page {sheet.page.number} as the file means it on a screen"
    return as_picture(sheet.upright(shown), alt, _MEANT_BYTES)
