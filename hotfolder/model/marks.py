"""What a page paints: marks, in painting order, and what each says of itself."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from hotfolder.model.colour import Colour, ColourSpace
from hotfolder.model.geometry import Box


class MarkKind(StrEnum):
    """What kind of thing a mark is."""

    TEXT = "text"
    PATH = "path"
    IMAGE = "image"
    SHADING = "shading"


class Masking(StrEnum):
    """How an image is masked (ISO 32000-2, 8.9.6 and 11.6.5)."""

    NONE = "none"
    STENCIL = "stencil"  # the image is itself a stencil, painted in the fill colour
    EXPLICIT = "explicit"  # /Mask is an image
    COLOUR_KEY = "colour-key"  # /Mask is a range of colours
    SOFT = "soft"  # /SMask, or opacity inside a JPX file


@dataclass(frozen=True, slots=True)
class ImageFacts:
    """A placed image.

    object: `12 0`; None for an inline image or a raster file.
    bits: per component; None where only the codestream knows.
    colour: None for a stencil.
    x_ppi, y_ppi: effective resolution along the image's own axes, from the whole transform;
        infinite where an axis has no extent on the page.
    mask_width_px, mask_height_px: pixels of an explicit or soft mask, which covers the same place.
    flat: True where all pixels are known to have one colour.
    jpeg_quality: about how well JPEG data keep detail, 1 to 100, by their quantisation tables; None
        where they are none or do not tell.
    """

    object: str | None
    width_px: int
    height_px: int
    bits: int | None
    colour: ColourSpace | None
    filters: tuple[str, ...]
    x_ppi: float
    y_ppi: float
    masking: Masking = Masking.NONE
    mask_width_px: int | None = None
    mask_height_px: int | None = None
    flat: bool = False
    jpeg_quality: int | None = None

    @property
    def line_art(self) -> bool:
        """Whether each pixel is on or off: one bit, one component."""
        return self.bits == 1 and (self.colour is None or self.colour.components == 1)

    @property
    def coarsest_px(self) -> tuple[int, int]:
        """Pixels across and down of what shows: the picture's own, or those of a coarser mask without tones.

        Each pixel of such a mask is whole or nothing, and its steps are seen; a soft mask may be as coarse as
        a shadow is. A finer mask gives the picture no detail.
        """
        if self.masking is not Masking.EXPLICIT:
            return self.width_px, self.height_px
        return (
            min(self.width_px, self.mask_width_px or self.width_px),
            min(self.height_px, self.mask_height_px or self.height_px),
        )


@dataclass(frozen=True, slots=True)
class TextFacts:
    """A run of text shown by one operator.

    size_pt: height of the font's em on the page, after all transforms.
    font: the font's name as in `Font.name`.
    invisible: shown in rendering mode 3 (neither filled nor stroked, ISO 32000-2, 9.3.6),
        or as clip only.
    glyphs: how many glyphs the run shows, spaces included.
    ink: the box around what its glyphs ink, after all transforms and before clipping; letters do not
        fill the box that their font declares for them (`Mark.box`). None where that is not known: the font
        is not embedded or cannot be read, or nothing of the run is on paper.
    visible_ink: what clip and media box leave of `ink`.
    clips: its letters clip what is painted after it (modes 4 to 7).
    words: what it says, its first 60 characters at most; empty where the font does not tell, or where
        nothing of it is on paper.
    """

    size_pt: float
    font: str
    invisible: bool = False
    glyphs: int = 0
    ink: Box | None = None
    visible_ink: Box | None = None
    words: str = ""
    clips: bool = False


@dataclass(frozen=True, slots=True)
class MarkState:
    """The graphics state that decides how a mark lies over others (ISO 32000-2, 8.4 and 11)."""

    overprint_fill: bool = False
    overprint_stroke: bool = False
    overprint_mode: int = 0
    fill_opacity: float = 1.0
    stroke_opacity: float = 1.0
    blend_mode: str = "Normal"
    soft_mask: bool = False
    group: bool = False  # inside a transparency group XObject
    knockout_group: bool = False  # inside one whose parts knock each other out (11.4.6)
    on_screen: bool = False  # inside an isolated one in RGB: its colours become those before they become ink


PLAIN_STATE = MarkState()

# The blend modes in which a colour replaces what lies beneath (ISO 32000-2, 11.3.5.2; Compatible is an old
# name of Normal).
PLAIN_BLENDS: Final = frozenset({"Normal", "Compatible"})


@dataclass(frozen=True, slots=True)
class Source:
    """Where in the file a mark comes from.

    operator: the one that paints. object: the one whose stream holds it (`12 0`; None for a
    page's own content, whose streams count as one). index: the operator's number in it, from 0.
    """

    operator: str
    object: str | None = None
    index: int | None = None


@dataclass(frozen=True, slots=True)
class Mark:
    """One painted thing.

    box: after all transforms, stroke width included, before clipping.
    visible: what clip, media box and, as far as their shapes are known, soft masks leave of `box`; None where
        clip or media box leave nothing, or a picture is masked away.
    printed: False where its layer is off in print, or its text is invisible.
    fill, stroke: the colours used; None where the mark is not filled or not stroked.
        For images and shadings `fill` holds the space with no components.
    white: True where paint is known to be paper white in every pixel and knocks out: it is no paint.
    line_width_pt: effective stroke width at its narrowest, in points; 0 is the device's thinnest line.
    sliver_pt: how wide a filled shape that is a line is at its widest: one of three or four straight,
        slanting sides, or one that is evenly thin all along, up to 1.5 pt: the area of a stroke, a frame
        filled as a ring. None for all others, whose box tells it or which are no lines.
    hollow: the box of the largest hole in a filled path that is one shape with holes, or of paper white laid
        over the middle of a rectangle; None where it has none, or is not known to.
    solid: a part of `visible` that the mark is known to fill wholly and opaquely, so that nothing
        beneath shows there; None where that is not known.
    even: its colour is known to fill all of `visible`, whether it hides what lies beneath or overprints it.
    covered: later marks are known to hide all of it.
    pieces: the boxes of a path's subpaths, before clipping, without any line width; empty where it has fewer
        than two, or so many that they are not kept.
    sides: how many straight or curved sides the areas within a path have together; 0 for what is no path.
    knockout: the number of the outermost knockout group on its page that it is part of; 0 for none, and for
        the page itself where that is one.
    unseen: it leaves no trace on the plates, though nothing covers it: masked away, or blended into nothing.
    repeated: told once for the several places where the same thing is painted (a Type 3 glyph's picture).
    inks: those that carry its shape on paper, lighter or darker than around it, known by the plates for
        small text and thin lines that overprint or are transparent; empty where it leaves no trace. None
        where its colour tells it, or the plates cannot.
    """

    kind: MarkKind
    box: Box
    visible: Box | None
    source: Source
    fill: Colour | None = None
    stroke: Colour | None = None
    state: MarkState = PLAIN_STATE
    printed: bool = True
    white: bool = False
    line_width_pt: float | None = None
    image: ImageFacts | None = None
    text: TextFacts | None = None
    layers: tuple[str, ...] = ()
    solid: Box | None = None
    covered: bool = False
    repeated: bool = False
    inks: tuple[str, ...] | None = None
    unseen: bool = False
    pieces: tuple[Box, ...] = ()
    sides: int = 0
    even: bool = False
    sliver_pt: float | None = None
    hollow: Box | None = None
    knockout: int = 0

    @property
    def on_paper(self) -> bool:
        """Whether the mark is painted on paper: printed, and not clipped away; perhaps beneath others."""
        return self.printed and self.visible is not None

    @property
    def shows(self) -> bool:
        """Whether anything of the mark can be seen on paper: painted there, not covered, and not nothing."""
        return self.lies_open and self.inks != ()

    @property
    def lies_open(self) -> bool:
        """Whether it is painted on paper where nothing hides it, whatever ink that leaves: perhaps none."""
        return self.on_paper and not (self.covered or self.unseen or self.transparent)

    @property
    def transparent(self) -> bool:
        """Whether it is painted with no opacity at all."""
        state = self.state
        if self.kind in {MarkKind.IMAGE, MarkKind.SHADING}:
            return state.fill_opacity <= 0
        filled = self.fill is not None and state.fill_opacity > 0
        stroked = self.stroke is not None and state.stroke_opacity > 0
        return not (filled or stroked) and (self.fill is not None or self.stroke is not None)

    @property
    def frame_pt(self) -> float | None:
        """How wide the widest side of a hollow shape is; None where it is not hollow."""
        box, hole = self.box, self.hollow
        if hole is None:
            return None
        return max(hole.x0 - box.x0, hole.y0 - box.y0, box.x1 - hole.x1, box.y1 - hole.y1)

    def colours(self) -> Iterator[Colour]:
        """The colours that the mark is painted with."""
        if self.fill is not None:
            yield self.fill
        if self.stroke is not None:
            yield self.stroke


def effective_ppi(pixels: int, extent_pt: float) -> float:
    """Pixels per inch of `pixels` laid over `extent_pt` points; infinite where there is no extent."""
    return math.inf if extent_pt <= 0 else pixels * 72.0 / extent_pt
