"""JPEG quality: pictures are not compressed so hard that it shows.

Why: JPEG throws detail away; how much can be read from the picture's own quantisation tables, whatever
    setting the program that saved it showed.
On paper: blocks of eight pixels, smudged edges and dirty skies, most of all around text.
Not flagged: pictures without JPEG compression, or whose tables tell nothing; small pictures (less than
    100 pixels one way); pictures outside trim and bleed, on hidden layers or clipped away.
Source: ITU-T T.81, annex K, for the tables that quality is worked out from; the scale from 1 to 100 is that
    of the common JPEG library. The limit is common practice (from memory).
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from pydantic import Field

from hotfolder.checks.shared.marks.on_product import on_product
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.settings import NamedFigures
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import Rule
from hotfolder.wording.lists import counted

ID: Final = "jpeg-quality"
_SMALL_PX: Final = 100


class JpegQualitySettings(NamedFigures):
    """least: the quality on the scale from 1 (worst) to 100."""

    needs: ClassVar[tuple[str, ...]] = ("least",)
    codes: ClassVar[Mapping[str, Severity]] = {"low": Severity.ADVICE}

    least: int = Field(default=1, ge=1, le=100)


def check(artwork: Artwork, settings: JpegQualitySettings) -> Iterator[Finding | Unjudged]:
    """Pictures that are compressed too hard, in one finding."""
    facts = NeededFacts(ID, settings)
    places = Occurrences()
    worst = 100
    for page in facts.pages(artwork):
        raster = page.raster
        if raster is not None:
            if _is_low(raster.jpeg_quality, (raster.width_px, raster.height_px), settings.least):
                places.add(page)
                worst = min(worst, raster.jpeg_quality or 0)
            continue
        worst = min(worst, _on_page(page, settings, facts, places))
    if places:
        yield places.located(_finding(places.count, worst, settings))
    yield from facts.unjudged()


def _on_page(page: Page, settings: JpegQualitySettings, facts: NeededFacts, places: Occurrences) -> int:
    """Adds the page's pictures that are compressed too hard to `places`; the lowest quality among them."""
    worst = 100
    for mark, box in on_product(page, facts.marks(page) or ()):
        image = mark.image
        if image is not None and _is_low(
            image.jpeg_quality, (image.width_px, image.height_px), settings.least
        ):
            places.add(page, box)
            worst = min(worst, image.jpeg_quality or 0)
    return worst


def _is_low(quality: int | None, size_px: tuple[int, int], least: int) -> bool:
    return quality is not None and quality < least and min(size_px) >= _SMALL_PX


def _finding(count: int, worst: int, settings: JpegQualitySettings) -> Finding:
    quality = f"quality {worst}" if count == 1 else f"quality {worst} at the lowest"
    return Finding(
        rule=ID,
        code="low",
        severity=settings.severity_of("low"),
        message=f"{counted(count, 'picture')} compressed so hard (JPEG, about {quality} of 100) that blocks"
        " and smudged edges may show.",
        remedy="Use the original picture, and save or export with less compression; saving this one again"
        " does not bring the detail back.",
        measured=Quantity.of(worst, unit="of 100"),
        required=Quantity.of(settings.least, unit="of 100"),
    )


RULE = Rule(
    id=ID,
    title="JPEG quality",
    settings=JpegQualitySettings,
    check=check,
    question="How hard may pictures be compressed?",
    since="0.1",
)
