"""The inks of each page in figures: what its plates carry, for which press, and what is only nearly so."""

from hotfolder.model.artwork import Artwork
from hotfolder.model.facts import Unmeasured
from hotfolder.model.inks import PageInk, Plate
from hotfolder.report.as_html.chapters import Chapter, table_of
from hotfolder.wording.figures import percent_words
from hotfolder.wording.pages import page_numbers

_COLUMNS = (
    "Page",
    "Plates: mean of the sheet, highest",
    "Most ink on a square millimetre",
    "Most ink in a spot",
)


def ink_on_paper(artwork: Artwork, condition: str = "") -> Chapter:
    """What the plates of all pages carry. condition: the press in words, where there are any."""
    rows = [
        (
            str(page.number),
            "; ".join(_plate(plate) for plate in page.ink.plates) or "nothing is printed",
            percent_words(page.ink.max_1mm2_percent),
            percent_words(page.ink.max_percent),
        )
        for page in artwork.known_pages
        if isinstance(page.ink, PageInk)
    ]
    sentences = [_press(artwork, condition)] if rows else []
    return Chapter(
        "Ink on paper", table_of(_COLUMNS, rows), (*sentences, *_moving(artwork), *_doubts(artwork))
    )


def _plate(plate: Plate) -> str:
    return f"{plate.ink} {percent_words(plate.mean_percent)}, {percent_words(plate.max_percent)}"


def _press(artwork: Artwork, condition: str) -> str:
    if artwork.press is None:
        return "The plates are the file's own: no printing condition was named."
    return f"The plates are those for this printing condition: {condition or artwork.press}."


def _moving(artwork: Artwork) -> list[str]:
    """How much of each page changes its colour when it is printed."""
    sentences = []
    for page in artwork.known_pages:
        shift = page.ink.shift if isinstance(page.ink, PageInk) else None
        if shift is not None:
            shares = shift.over_5_percent, shift.over_10_percent, shift.over_20_percent
            five, ten, twenty = (percent_words(share) for share in shares)
            sentences.append(
                f"Page {page.number}: {five} of the sheet changes its colour by more than 5 units of "
                f"CIEDE2000 when it is printed, {ten} by more than 10, {twenty} by more than 20."
            )
    return sentences


def _doubts(artwork: Artwork) -> list[str]:
    """What is only nearly so, and what was not measured, each with its pages."""
    nearly: dict[str, list[int]] = {}
    unmeasured: dict[str, list[int]] = {}
    for page in artwork.known_pages:
        if isinstance(page.ink, Unmeasured):
            unmeasured.setdefault(page.ink.reason, []).append(page.number)
        else:
            for reason in page.ink.approximate:
                nearly.setdefault(reason, []).append(page.number)
    return [
        *(f"Approximate, {_pages(pages)}: {_ended(reason)}" for reason, pages in nearly.items()),
        *(f"Not measured, {_pages(pages)}: {_ended(reason)}" for reason, pages in unmeasured.items()),
    ]


def _pages(numbers: list[int]) -> str:
    return f"page{'' if len(numbers) == 1 else 's'} {page_numbers(numbers)}"


def _ended(sentence: str) -> str:
    return sentence if sentence.endswith((".", "?")) else f"{sentence}."
