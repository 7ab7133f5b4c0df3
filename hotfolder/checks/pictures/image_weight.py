"""Image weight: pictures do not have far more pixels than a press can show.

Why: a press shows about as much detail as its screen ruling lets it; pixels beyond that only make the
    file heavy, slow to send and slow to prepare. More resolution is never worse on paper.
On paper: nothing.
Not flagged: pictures of less than a million pixels, which weigh little; pictures of one flat colour;
    anything up to the limit; pictures outside trim and bleed, on hidden layers or clipped away.
Source: common practice (one and a half times what is wanted, from memory); the million pixels are this
    program's own choice.
"""

from collections.abc import Iterator, Mapping
from typing import ClassVar, Final

from hotfolder.checks.shared.marks.on_product import on_product
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.settings import NamedFigures
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.marks import ImageFacts
from hotfolder.model.ruleset import PpiSetting, Rule
from hotfolder.units import plain
from hotfolder.wording.lists import counted

ID: Final = "image-weight"
_HEAVY_PX: Final = 1_000_000
# Rounding of a placed size does this much.
_SHARE: Final = 1.01


class ImageWeightSettings(NamedFigures):
    """most: pixels per inch at the printed size.

    line_art_most: the same for pictures of one bit; where it is not named, they are not judged.
    """

    needs: ClassVar[tuple[str, ...]] = ("most",)
    codes: ClassVar[Mapping[str, Severity]] = {
        "heavy": Severity.ADVICE,
        "line-art-heavy": Severity.ADVICE,
    }

    most: PpiSetting = 0.0
    line_art_most: PpiSetting | None = None


def check(artwork: Artwork, settings: ImageWeightSettings) -> Iterator[Finding | Unjudged]:
    """Large pictures with far more pixels than wanted, by kind."""
    facts = NeededFacts(ID, settings)
    by_code = {code: Occurrences() for code in settings.codes}
    finest = dict.fromkeys(settings.codes, 0.0)
    for page in facts.pages(artwork):
        for mark, box in on_product(page, facts.marks(page) or ()):
            if mark.image is None or mark.image.flat:
                continue
            line_art = mark.image.line_art
            limit = settings.line_art_most if line_art else settings.most
            ppi = min(mark.image.x_ppi, mark.image.y_ppi)
            if limit is not None and _is_large(mark.image) and ppi > limit * _SHARE:
                code = "line-art-heavy" if line_art else "heavy"
                by_code[code].add(page, box)
                finest[code] = max(finest[code], ppi)
    for code, places in by_code.items():
        limit = settings.line_art_most if code == "line-art-heavy" else settings.most
        if places and limit is not None:
            yield places.located(_finding(code, places.count, finest[code], limit, settings))
    yield from facts.unjudged()


def _is_large(image: ImageFacts) -> bool:
    return image.width_px * image.height_px >= _HEAVY_PX


def _finding(code: str, count: int, finest: float, limit: float, settings: ImageWeightSettings) -> Finding:
    pictures = counted(count, "line art picture" if code == "line-art-heavy" else "picture")
    ppi = f"{plain(finest, 0)} ppi" if count == 1 else f"{plain(finest, 0)} ppi at most"
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=f"{pictures} with far more pixels than a press can show ({ppi} at the printed size). That"
        " does no harm on paper; it only makes the file heavy.",
        remedy=f"Export with pictures scaled down to about {plain(limit, 0)} ppi, if the file is too heavy.",
        measured=Quantity.of(float(round(finest)), unit="ppi"),
        required=f"{plain(limit, 0)} ppi or less",
    )


RULE = Rule(
    id=ID,
    title="Image weight",
    settings=ImageWeightSettings,
    check=check,
    question="Above which resolution do pictures only make a file heavier?",
    since="0.1",
)
