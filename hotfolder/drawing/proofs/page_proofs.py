"""The pictures of a file's pages for its report: out of their plates, or drawn where there are none."""

from dataclasses import dataclass
from pathlib import Path
from typing import Final, Protocol

from hotfolder.colour.conversions import conversions_for
from hotfolder.colour.quick_proof import ProofColours
from hotfolder.colour.soft_proof import InkColours
from hotfolder.drawing.proofs.chosen_pages import choose_pages, draw_pages
from hotfolder.drawing.proofs.pictures import ProofWanted, page_proof
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.inks import PageInk
from hotfolder.model.pictures import PagePicture, PageProof
from hotfolder.model.plates import PagePlates
from hotfolder.model.press import Press

# A report is read by mail and on telephones: the first pages with something to say get all pictures.
_MOST_PAGES: Final = 8
_MOST_WHOLE: Final = 4

# Bleed is in question where paint that touches the trim runs on less far than wanted. Reach is measured
# on pixels of a third of a millimetre, or less.
_REACH_TOLERANCE_PT: Final = 1.0


class PlateSource(Protocol):
    """The part of `PlateDrawer` that proofs need."""

    def draw(self, page_number: int) -> PagePlates | Unmeasured:
        """The plates of a page, counted from 1."""


@dataclass(frozen=True, slots=True)
class ProofRules:
    """What the rule set says that the pictures show.

    press: the printing condition. bleed_pt: what the product needs. limit_percent: the highest total of
    ink, where there is one. left_out: technical inks by name. paper_white: the paper's own tint is shown.
    finding_pages: the pages that findings stand on. bleed_pages: those with a finding on bleed.
    """

    press: Press | None = None
    bleed_pt: float = 0.0
    limit_percent: float | None = None
    left_out: frozenset[str] = frozenset()
    paper_white: bool = False
    finding_pages: tuple[int, ...] = ()
    bleed_pages: frozenset[int] = frozenset()


def page_proofs(
    plates: PlateSource | None, path: Path, artwork: Artwork, rules: ProofRules
) -> tuple[PageProof | PagePicture | Unmeasured, ...]:
    """Pictures of at most eight pages, in page order; nothing that a file holds makes this raise.

    plates: None where none are drawn. Pages with findings come first; what room they leave goes to the
    first pages. Each page's plates are asked for once. A page without plates (`Page.ink` says why) is
    drawn as `draw_pages` does; one that cannot be drawn is `Unmeasured`.
    """
    chosen = choose_pages(artwork.known_pages, _MOST_PAGES, rules.finding_pages)
    first = [page.number for page in choose_pages(chosen, _MOST_WHOLE, rules.finding_pages)]
    conversions = conversions_for(rules.press)
    press = None if conversions is None else ProofColours(conversions)
    proofs: dict[int, PageProof | PagePicture | Unmeasured] = {}
    for page in chosen:
        if plates is None or isinstance(page.ink, Unmeasured):
            continue
        drawn = plates.draw(page.number)
        if isinstance(drawn, PagePlates):
            colours = InkColours(press, drawn.looks, rules.paper_white and press is not None)
            wanted = _wanted(
                page.ink, rules, whole=page.number in first, bleed_finding=page.number in rules.bleed_pages
            )
            proofs[page.number] = page_proof(drawn, page, colours, wanted)
    left = [page.number for page in chosen if page.number not in proofs]
    if left:
        drawn_pages = draw_pages(path, artwork, max_pages=len(left), pages=left)
        proofs |= dict(zip(left, drawn_pages, strict=True))
    return tuple(proofs[page.number] for page in chosen)


def _wanted(ink: PageInk, rules: ProofRules, *, whole: bool, bleed_finding: bool) -> ProofWanted:
    return ProofWanted(
        condition=rules.press.title if rules.press is not None and rules.press.profile is not None else "",
        bleed_pt=rules.bleed_pt,
        limit_percent=rules.limit_percent,
        left_out=rules.left_out,
        whole=whole,
        edges=whole and (bleed_finding or _bleed_is_short(ink, rules.bleed_pt)),
    )


def _bleed_is_short(ink: PageInk, bleed_pt: float) -> bool:
    """Whether paint that touches the trim ends before the end of the bleed anywhere."""
    if isinstance(ink.edges, Unmeasured):
        return False
    enough = bleed_pt - _REACH_TOLERANCE_PT
    return any(reach is not None and reach < enough for edge in ink.edges for reach in edge.reach_pt)
