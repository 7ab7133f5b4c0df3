"""The graphics state (ISO 32000-2, 8.4): frozen, so that saving it is keeping a reference."""

from dataclasses import dataclass, replace
from typing import Final

from hotfolder.model.colour import Colour, ColourKind
from hotfolder.model.geometry import Box
from hotfolder.model.marks import PLAIN_STATE, MarkState
from hotfolder.pdf.colour.colour_spaces import DEVICE_GREY
from hotfolder.pdf.content.mask_shapes import MaskShape
from hotfolder.pdf.content.shadings import LaidShading
from hotfolder.pdf.fonts.fonts import FontMetrics
from hotfolder.pdf.objects.matrix import Matrix


@dataclass(frozen=True, slots=True)
class Paint:
    """What fills or strokes: a colour, and the pattern that lays it down, if one does.

    pattern: the tiling pattern's stream. cell_colour: the colour given to an uncoloured pattern.
    shading: that of a shading pattern.
    """

    colour: Colour
    pattern: object = None
    cell_colour: Colour | None = None
    shading: LaidShading | None = None

    @property
    def hides(self) -> bool:
        """Whether it is known to cover every point of what is painted with it, and to lay ink."""
        if self.shading is not None:
            return self.shading.everywhere and self.colour.space.kind not in _NO_INK
        return self.pattern is None and self.colour.space.kind not in _NO_INK


# Colorant None lays no ink; what patterns and unknown spaces lay is not known here.
_NO_INK: Final = frozenset({ColourKind.NONE, ColourKind.PATTERN, ColourKind.UNKNOWN})

BLACK: Final = Paint(Colour(DEVICE_GREY, (0.0,)))


@dataclass(frozen=True, slots=True)
class LineStyle:
    """How lines are drawn (8.4.3): width in user space, caps and joins by the standard's numbers."""

    width: float = 1.0
    cap: int = 0
    join: int = 0
    miter_limit: float = 10.0


@dataclass(frozen=True, slots=True)
class TextState:
    """The text state (9.3).

    scale: horizontal scaling, 1.0 for 100 %. Leading and spacing: text space.
    """

    font: FontMetrics | None = None
    size: float = 0.0
    character_spacing: float = 0.0
    word_spacing: float = 0.0
    scale: float = 1.0
    leading: float = 0.0
    rise: float = 0.0
    mode: int = 0


@dataclass(frozen=True, slots=True)
class GraphicsState:
    """The graphics state that the next mark is painted with.

    ctm: user space to the page's space in points. clip: the box around the clipping path, None where that is
    empty; clip_exact: the clipping path is that box. own: overprint and transparency parameters as set in
    this content; laid_over: the same combined with those of the transparency groups around. mask: the soft
    mask set here, where its shape is known; outer_masks: those in force around the transparency groups.
    """

    ctm: Matrix
    clip: Box | None
    clip_exact: bool = True
    fill: Paint = BLACK
    stroke: Paint = BLACK
    line: LineStyle = LineStyle()
    text: TextState = TextState()
    own: MarkState = PLAIN_STATE
    laid_over: MarkState = PLAIN_STATE
    mask: MaskShape | None = None
    outer_masks: tuple[MaskShape, ...] = ()

    def visible_part(self, box: Box) -> tuple[Box | None, bool]:
        """What clip and soft masks leave of a box (None: nothing), and whether masks hide it within the clip.

        Where masks hide all that the clip leaves, the box is what the clip leaves.
        """
        clipped = seen = seen_through(box, self.clip)
        for mask in (*self.outer_masks, self.mask):
            if mask is not None and seen is not None:
                seen = mask.seen(seen)
        return (clipped, True) if seen is None and clipped is not None else (seen, False)

    # Changing one field by `dataclasses.replace` takes three times as long as by hand, and every other
    # operator of a page changes one of these.

    def with_ctm(self, ctm: Matrix) -> "GraphicsState":
        """The same with another transformation."""
        return GraphicsState(
            ctm, self.clip, self.clip_exact, self.fill, self.stroke, self.line, self.text, self.own,
            self.laid_over, self.mask, self.outer_masks,
        )  # fmt: skip

    def with_clip(self, clip: Box | None, *, exact: bool) -> "GraphicsState":
        """The same with another clip."""
        return GraphicsState(
            self.ctm, clip, exact, self.fill, self.stroke, self.line, self.text, self.own, self.laid_over,
            self.mask, self.outer_masks,
        )  # fmt: skip

    def with_fill(self, fill: Paint) -> "GraphicsState":
        """The same with another colour to fill with."""
        return GraphicsState(
            self.ctm, self.clip, self.clip_exact, fill, self.stroke, self.line, self.text, self.own,
            self.laid_over, self.mask, self.outer_masks,
        )  # fmt: skip

    def with_stroke(self, stroke: Paint) -> "GraphicsState":
        """The same with another colour to stroke with."""
        return GraphicsState(
            self.ctm, self.clip, self.clip_exact, self.fill, stroke, self.line, self.text, self.own,
            self.laid_over, self.mask, self.outer_masks,
        )  # fmt: skip

    def with_line(self, line: LineStyle) -> "GraphicsState":
        """The same with another style of lines."""
        return GraphicsState(
            self.ctm, self.clip, self.clip_exact, self.fill, self.stroke, line, self.text, self.own,
            self.laid_over, self.mask, self.outer_masks,
        )  # fmt: skip

    def with_text(self, text: TextState) -> "GraphicsState":
        """The same with another text state."""
        return GraphicsState(
            self.ctm, self.clip, self.clip_exact, self.fill, self.stroke, self.line, text, self.own,
            self.laid_over, self.mask, self.outer_masks,
        )  # fmt: skip


def within_group(own: MarkState, group: MarkState) -> MarkState:
    """The parameters of a mark as it is painted on the page: its `own`, within a `group` painted as a whole.

    Opacities multiply. A blend mode of the mark's own goes before that of its group.
    """
    if group == PLAIN_STATE:
        return own
    return replace(
        own,
        fill_opacity=own.fill_opacity * group.fill_opacity,
        stroke_opacity=own.stroke_opacity * group.fill_opacity,
        blend_mode=own.blend_mode if own.blend_mode != "Normal" else group.blend_mode,
        soft_mask=own.soft_mask or group.soft_mask,
        group=group.group,
        knockout_group=group.knockout_group,
        on_screen=group.on_screen,
    )


def seen_through(box: Box, clip: Box | None) -> Box | None:
    """What `clip` leaves of `box`; None where nothing is left, or no more than a shared edge."""
    if clip is None:
        return None
    if clip.x0 <= box.x0 and clip.y0 <= box.y0 and clip.x1 >= box.x1 and clip.y1 >= box.y1:
        return box
    cut = box.cut_by(clip)
    if cut is None:
        return None
    # A part without extent is nothing, unless the box has no extent itself: a line without width.
    lost = (cut.x0 == cut.x1 and box.x0 != box.x1) or (cut.y0 == cut.y1 and box.y0 != box.y1)
    return None if lost else cut
