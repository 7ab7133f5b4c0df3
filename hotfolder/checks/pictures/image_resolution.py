"""Image resolution: pictures have enough pixels for the size at which they are printed.

Why: a press shows about as much detail as its screen ruling lets it; with fewer pixels than that
    a picture looks soft or shows its pixels. Line art (each pixel on or off) needs far more.
On paper: soft or stepped pictures, jagged edges of line art.
    A picture's own pixels count, whatever masks it: a fine mask gives it no detail, and the steps of a
    coarse mask without tones are seen as the picture's. Slices that lie edge to edge are one picture.
Not flagged: more resolution than wanted; half a pixel less, or a row of pixels where there are hundreds (2550
    px over 216 mm are 299.86 ppi and count as 300); pictures of one flat colour or of paper white,
    whatever their mask; soft masks that are coarser than their picture, as shadows are, and pictures that
    only make up a soft mask; pictures under 1 pt and single slices of less than 16 pixels one way; pictures
    outside trim and bleed, on hidden layers, clipped or masked away, without any opacity, or covered by
    what is painted later.
Source: common practice: twice the screen ruling, one and a half times at least (150 lines an inch:
    300 and 225 ppi); large-format work needs what its viewing distance asks.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import ClassVar, Final, Self

from pydantic import model_validator

from hotfolder.checks.shared.marks.on_product import on_product
from hotfolder.checks.shared.marks.whole_pictures import SLICE_PX, WholePicture, whole_pictures
from hotfolder.checks.shared.needed_facts import NeededFacts
from hotfolder.checks.shared.occurrences import Occurrences
from hotfolder.checks.shared.settings import NamedFigures
from hotfolder.model.artwork import Artwork
from hotfolder.model.findings import Finding, Quantity, Severity, Unjudged
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page
from hotfolder.model.ruleset import PpiSetting, Rule
from hotfolder.units import Size, keeps_ppi, plain
from hotfolder.wording.lists import counted

ID: Final = "image-resolution"
_LEAST_EXTENT_PT: Final = 1.0


class ImageResolutionSettings(NamedFigures):
    """wanted, floor: pixels per inch at the printed size; where no floor is named, it equals wanted.

    line_art_wanted, line_art_floor: the same for pictures of one bit; where none is named, they
    are judged as pictures.
    """

    needs: ClassVar[tuple[str, ...]] = ("wanted",)
    codes: ClassVar[Mapping[str, Severity]] = {
        "below-floor": Severity.MUST_FIX,
        "below-wanted": Severity.ADVICE,
        "line-art-below-floor": Severity.MUST_FIX,
        "line-art-below-wanted": Severity.ADVICE,
    }

    wanted: PpiSetting = 0.0
    floor: PpiSetting | None = None
    line_art_wanted: PpiSetting | None = None
    line_art_floor: PpiSetting | None = None

    @model_validator(mode="after")
    def _floors_lie_below(self) -> Self:
        if self.floor is not None and self.floor > self.wanted and not self.ask:
            message = f"floor ({plain(self.floor, 1)} ppi) is above wanted ({plain(self.wanted, 1)} ppi)"
            raise ValueError(message)
        if self.line_art_floor is not None and self.line_art_floor > (self.line_art_wanted or 0):
            message = "line_art_floor is above line_art_wanted, or that is missing"
            raise ValueError(message)
        return self


@dataclass(frozen=True, slots=True)
class _ResolutionLimits:
    """The figures for one kind of picture, and the codes under which they are told."""

    wanted: float
    floor: float
    prefix: str
    called: str


@dataclass(frozen=True, slots=True)
class _PrintedPicture:
    """A picture that matters: its pixels and printed lengths along its own axes."""

    page: Page
    box: Box
    pixels: tuple[int, int]
    lengths: tuple[float, float]

    @property
    def ppi(self) -> float:
        """The lower of the resolutions along the two axes."""
        return min(
            px * 72 / length if length else inf for px, length in zip(self.pixels, self.lengths, strict=True)
        )

    def keeps(self, ppi: float) -> bool:
        """Whether the picture reaches `ppi` along both axes, within rounding."""
        return all(keeps_ppi(px, length, ppi) for px, length in zip(self.pixels, self.lengths, strict=True))


def check(artwork: Artwork, settings: ImageResolutionSettings) -> Iterator[Finding | Unjudged]:
    """Pictures below the floor or below what is wanted, by kind."""
    pictures = _ResolutionLimits(settings.wanted, _floor(settings.floor, settings.wanted), "", "picture")
    line_art = pictures
    if settings.line_art_wanted is not None:
        floor = _floor(settings.line_art_floor, settings.line_art_wanted)
        line_art = _ResolutionLimits(settings.line_art_wanted, floor, "line-art-", "line art picture")
    facts = NeededFacts(ID, settings)
    by_limits: dict[_ResolutionLimits, list[_PrintedPicture]] = {
        limits: [] for limits in dict.fromkeys((pictures, line_art))
    }
    for page in facts.pages(artwork):
        marks = facts.marks(page)
        if marks is None:
            continue
        placed = [
            (mark.image, visible)
            for mark, visible in on_product(page, marks)
            if mark.image is not None and not mark.white and not mark.image.flat
        ]
        for piece in whole_pictures(placed):
            picture = _picture(page, piece)
            if picture is not None:
                by_limits[line_art if piece.image.line_art else pictures].append(picture)
    for limits, group in by_limits.items():
        yield from _judged(group, limits, settings)
    yield from facts.unjudged()


def _floor(floor: float | None, wanted: float) -> float:
    return wanted if floor is None else floor


def _picture(page: Page, piece: WholePicture) -> _PrintedPicture | None:
    """The picture with its pixels and lengths; None where it is too small to matter."""
    across, down = piece.pixels
    if min(*piece.lengths, max(piece.box.width, piece.box.height)) < _LEAST_EXTENT_PT:
        return None
    if min(across, down) < SLICE_PX <= max(across, down) or (across, down) == (1, 1):
        return None
    return _PrintedPicture(page, piece.box, (across, down), piece.lengths)


def _judged(
    group: Sequence[_PrintedPicture], limits: _ResolutionLimits, settings: ImageResolutionSettings
) -> Iterator[Finding]:
    below_floor = [picture for picture in group if not picture.keeps(limits.floor)]
    below_wanted = [
        picture for picture in group if picture.keeps(limits.floor) and not picture.keeps(limits.wanted)
    ]
    least = plain(limits.floor, 1)
    wanted = plain(limits.wanted, 1)
    asked = f"{wanted} ppi is wanted" + ("" if least == wanted else f", {least} ppi at least")
    if below_floor:
        yield _finding(below_floor, f"{limits.prefix}below-floor", asked, limits, settings)
    if below_wanted:
        yield _finding(below_wanted, f"{limits.prefix}below-wanted", asked, limits, settings)


def _finding(
    group: Sequence[_PrintedPicture],
    code: str,
    asked: str,
    limits: _ResolutionLimits,
    settings: ImageResolutionSettings,
) -> Finding:
    coarsest = min(group, key=lambda picture: picture.ppi)
    ppi = _ppi_words(coarsest.ppi)
    printed = Size(*coarsest.lengths)
    pixels = f"{coarsest.pixels[0]} x {coarsest.pixels[1]} pixels over {printed}"
    if len(group) == 1:
        what = f"a {limits.called} has {ppi} ppi (pixels per inch) at its printed size ({pixels})"
    else:
        what = (
            f"{counted(len(group), limits.called)} have too few pixels for their printed size; the coarsest"
            f" has {ppi} ppi (pixels per inch; {pixels})"
        )
    looks = "jagged" if limits.prefix else "soft, or show its pixels"
    required = limits.floor if code.endswith("floor") else limits.wanted
    places = Occurrences()
    for picture in group:
        places.add(picture.page, picture.box)
    finding = Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=f"{what}. {asked}. It may look {looks}.",
        remedy="Place the picture smaller, or use the original with more pixels. Resampling it to a higher"
        " resolution adds pixels but no detail.",
        measured=Quantity.of(float(ppi), unit="ppi"),
        required=Quantity.of(required, unit="ppi"),
    )
    return places.located(finding)


def _ppi_words(ppi: float) -> str:
    """Whole pixels per inch; of very few, a tenth."""
    return plain(ppi, 0) if ppi >= 10 else plain(ppi, 1)


RULE = Rule(
    id=ID,
    title="Image resolution",
    settings=ImageResolutionSettings,
    check=check,
    question="What resolution do you want for pictures, and below which do you refuse them?",
    since="0.1",
)
