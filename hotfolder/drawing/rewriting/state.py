"""The graphics state as far as rewriting has to know it (ISO 32000-2, 8.4)."""

from dataclasses import dataclass, replace
from typing import Final

from hotfolder.colour.conversions import Intent
from hotfolder.drawing.rewriting.gstates import LineOpacity
from hotfolder.drawing.rewriting.laid_back import MaskSet
from hotfolder.drawing.rewriting.overprint import (
    EVERY_PLATE,
    NO_OVERPRINT,
    NO_PLATE,
    Overprint,
    Touched,
    paints_nothing,
    touched_by_space,
)
from hotfolder.drawing.rewriting.paints import PatternPaint, RewrittenPaint
from hotfolder.drawing.rewriting.passes import KEEPS_BLACK
from hotfolder.drawing.spaces.changed import Tones
from hotfolder.drawing.spaces.space import PaintSpace
from hotfolder.pdf.objects.matrix import Matrix

_PLAIN: Final = "Normal"
_OPAQUE: Final = LineOpacity()
_BLACK: Final = frozenset({"Black"})
_NOTHING: Final[frozenset[str]] = frozenset()


@dataclass(frozen=True, slots=True)
class Lettering:
    """The font that is chosen. key: by which the context keeps it. resource_name: in rewritten content.

    coloured: a Type 3 font whose glyphs bring colours. size: as written.
    """

    key: str
    resource_name: bytes
    size: bytes
    coloured: bool = False


@dataclass(slots=True)
class State:
    """The graphics state for the next mark (8.4.1).

    ctm: user space to the page's points. stroke_opacity: as the file asks. line_opacity: what lines are to be
    drawn with, less where they are thinner than a pixel; written_opacity: what rewritten content has set.
    widened: rewritten content has set another line width than that.
    tones: of the transfer function in force (10.5).
    """

    ctm: Matrix
    fill: RewrittenPaint
    stroke: RewrittenPaint
    fill_space: PaintSpace
    stroke_space: PaintSpace
    overprint: Overprint = NO_OVERPRINT
    blend_mode: str = _PLAIN
    masked: bool = False
    mask: MaskSet | None = None
    fill_opacity: float = 1.0
    stroke_opacity: float = 1.0
    line_opacity: LineOpacity = _OPAQUE
    written_opacity: LineOpacity = _OPAQUE
    line_width: float = 1.0
    widened: bool = False
    text_mode: int = 0
    lettering: Lettering | None = None
    intent: Intent = Intent.RELATIVE
    tones: Tones = ()

    def saved(self) -> "State":
        """A copy, for `q`."""
        return State(
            self.ctm, self.fill, self.stroke, self.fill_space, self.stroke_space, self.overprint,
            self.blend_mode, self.masked, self.mask, self.fill_opacity, self.stroke_opacity,
            self.line_opacity, self.written_opacity, self.line_width, self.widened,
            self.text_mode, self.lettering, self.intent, self.tones,
        )  # fmt: skip

    def for_group(self, ctm: Matrix) -> "State":
        """The state that a transparency group begins with (11.6.6)."""
        return replace(
            self,
            ctm=ctm,
            blend_mode=_PLAIN,
            masked=False,
            mask=None,
            fill_opacity=1.0,
            stroke_opacity=1.0,
            written_opacity=_OPAQUE,
        )

    @property
    def laid_plainly(self) -> bool:
        """Whether a group drawn now covers what lies beneath, without opacity, mask or blend mode."""
        return self.fill_opacity == 1 and self.covers

    @property
    def covers(self) -> bool:
        """Whether what is painted now and is opaque covers what lies beneath: without mask or blend mode."""
        return not self.masked and self.blend_mode == _PLAIN

    @property
    def by_pattern(self) -> bool:
        """Whether a pattern fills or strokes."""
        return isinstance(self.fill, PatternPaint) or isinstance(self.stroke, PatternPaint)

    @property
    def plainly_filled(self) -> bool:
        """Whether text is filled with a colour, and nothing else."""
        return self.text_mode == 0 and not isinstance(self.fill, PatternPaint)

    @property
    def outlined_apart(self) -> bool:
        """Whether text is filled and given an outline that is drawn apart from the filling.

        Either that is drawn paler than it is, or a pattern is among the two.
        """
        return (self.text_mode == 2 and self.has_pale_lines) or (self.text_mode in {2, 6} and self.by_pattern)

    @property
    def has_pale_lines(self) -> bool:
        """Whether lines are drawn paler than the file asks."""
        return self.line_opacity.width_px < 1

    @property
    def spared(self) -> frozenset[str]:
        """The inks that nothing painted now touches, because of the blend mode."""
        return _BLACK if self.blend_mode in KEEPS_BLACK else _NOTHING

    def touched(self, *, stroke: bool) -> Touched:
        """The plates that filling or stroking touches."""
        return self.touched_by(self.stroke if stroke else self.fill, stroke=stroke)

    def touched_by(self, paint: RewrittenPaint, *, stroke: bool = False) -> Touched:
        """The plates that painting with `paint` touches."""
        if paint.nothing:
            return NO_PLATE
        overprints = self.overprint.stroke if stroke else self.overprint.fill
        touched = paint.touched(self.overprint.mode) if overprints else EVERY_PLATE
        return touched.without(self.spared)

    def touched_in(self, space: PaintSpace) -> Touched:
        """The plates that a picture or shading in `space` touches."""
        if paints_nothing(space):
            return NO_PLATE
        touched = touched_by_space(space) if self.overprint.fill else EVERY_PLATE
        return touched.without(self.spared)
