"""A page: its boxes, its trim, what lies on it."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from hotfolder.model.colour import ColourSpace
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.inks import PageInk
from hotfolder.model.marks import Mark
from hotfolder.model.raster import RasterFacts

NOT_DRAWN: Final = Unmeasured("ink", "the plates were not drawn")


@dataclass(frozen=True, slots=True)
class PageBoxes:
    """Page boundaries (ISO 32000-2, 14.11.2): inherited ones included, None where the file has none.

    Corners are put in order. Nothing is clipped to the media box and no default is filled in.
    """

    media: Box | None
    crop: Box | None = None
    bleed: Box | None = None
    trim: Box | None = None
    art: Box | None = None


class TrimOrigin(StrEnum):
    """How the trim of a page is known."""

    TRIM_BOX = "trim-box"
    ART_BOX = "art-box"
    INFERRED = "inferred"  # no box, but the media box is a product size plus bleed
    CANVAS = "canvas"  # a raster file placed at a product's size


@dataclass(frozen=True, slots=True)
class Trim:
    """The finished size of a page: its box, and how that is known.

    note: one sentence for the report where the size was concluded and not declared.
    """

    box: Box
    origin: TrimOrigin
    note: str = ""


@dataclass(frozen=True, slots=True)
class Annotation:
    """An annotation (ISO 32000-2, 12.5).

    prints: by its flags and subtype it would show on paper.
    has_appearance: it brings its own normal appearance.
    """

    subtype: str
    box: Box
    prints: bool
    has_appearance: bool


@dataclass(frozen=True, slots=True)
class Page:
    """One page.

    rotate: 0, 90, 180 or 270, clockwise, for display only; boxes and marks are unrotated.
    trim: the finished size; `Unmeasured` where nothing tells it. `measure` fills in what the
        file declares; `placing` may conclude it from the product's sizes.
    marks: in painting order, annotations' appearances last; `Unmeasured` where the page's
        content could not be read, or where a raster file's size is not known.
    blend_space: the space in which what is transparent on the page is blended, where the page names one
        (ISO 32000-2, 11.6.6).
    ink: what its plates carry; known only where they were drawn, for a press.
    sets_transfer: it is drawn with transfer functions, which change its tones at the press (8.4.5: TR, and
        a TR2 other than `Default`).
    mask_pictures: the pictures that groups of soft masks are made up of (ISO 32000-2, 11.6.5.2), each once
        for its group. They paint nothing themselves: they say how much of other marks shows.
    """

    number: int
    rotate: int
    user_unit: float
    boxes: PageBoxes
    trim: Trim | Unmeasured
    marks: tuple[Mark, ...] | Unmeasured
    annotations: tuple[Annotation, ...] = ()
    raster: RasterFacts | None = None
    ink: PageInk | Unmeasured = NOT_DRAWN
    blend_space: ColourSpace | None = None
    sets_transfer: bool = False
    mask_pictures: tuple[Mark, ...] = ()

    @property
    def known_marks(self) -> tuple[Mark, ...]:
        """The marks, none where they are unmeasured."""
        return () if isinstance(self.marks, Unmeasured) else self.marks

    @property
    def product_area(self) -> Box | None:
        """Trim and declared bleed: what lies outside is cut off. None where the trim is not known."""
        if isinstance(self.trim, Unmeasured):
            return None
        trim, bleed = self.trim.box, self.boxes.bleed
        if bleed is None:
            return trim
        return Box(
            min(trim.x0, bleed.x0), min(trim.y0, bleed.y0), max(trim.x1, bleed.x1), max(trim.y1, bleed.y1)
        )
