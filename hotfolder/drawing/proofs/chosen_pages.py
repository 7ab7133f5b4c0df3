"""Which pages are drawn, and by which of the two ways."""

from collections.abc import Sequence
from pathlib import Path

from hotfolder.drawing.proofs.pdf_pages import draw_pdf_pages
from hotfolder.drawing.proofs.raster_pages import draw_raster_page
from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Format, Unmeasured
from hotfolder.model.pages import Page
from hotfolder.model.pictures import PagePicture, picture_fact


def draw_pages(
    path: Path, artwork: Artwork, max_pages: int = 8, max_px: int = 1000, pages: Sequence[int] = ()
) -> tuple[PagePicture | Unmeasured, ...]:
    """Pictures of at most `max_pages` pages, in page order, the longer side `max_px` pixels.

    `pages` are the numbers of those that matter most (pages with findings); what room they
    leave goes to the first pages. A page that cannot be drawn is `Unmeasured` with the
    reason; nothing that a file holds makes this raise. The renderer is not thread-safe:
    call this from one thread of a process only.
    """
    chosen = choose_pages(artwork.known_pages, max_pages, pages)
    if not chosen:
        return ()
    match artwork.file.format:
        case Format.PDF:
            return draw_pdf_pages(path, chosen, max_px)
        case None:
            return tuple(Unmeasured(picture_fact(page.number), "no known file format") for page in chosen)
        case _:
            return tuple(draw_raster_page(path, page, max_px) for page in chosen)


def choose_pages(pages: Sequence[Page], max_pages: int, wanted: Sequence[int]) -> list[Page]:
    """At most `max_pages` of `pages`, in page order: those whose numbers are `wanted`, then the first."""
    by_number = {page.number: page for page in pages}
    first = dict.fromkeys(number for number in wanted if number in by_number)
    chosen = list(first | dict.fromkeys(by_number))
    return [by_number[number] for number in sorted(chosen[:max_pages])]
