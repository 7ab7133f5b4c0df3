"""The graphics state (ISO 32000-2, 8.4): frozen, so that saving it is keeping a reference."""

from dataclasses import dataclass, replace
from typing import Final

from hotfolder.artwork import PLAIN_STATE, Box, Colour, MarkState
from hotfolder.pdf.colour_spaces import DEVICE_GREY
from hotfolder.pdf.fonts import FontMetrics
from hotfolder.pdf.matrix import Matrix


@dataclass(frozen=True, slots=True)
class Paint:
    """What fills or strokes: a colour, and the tiling pattern that lays it down, if one does.

    pattern: the tiling pattern's stream. cell_colour: the colour given to an uncoloured pattern.
    """

    colour: Colour
    pattern: object = None
    cell_colour: Colour | None = None


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

    scale: horizontal scaling, 1.0 for 100 %. Leading and spacing: text space. blanks: the codes of the
    font that show nothing.
    """

    font: FontMetrics | None = None
    blanks: frozenset[int] = frozenset()
    size: float = 0.0
    character_spacing: float = 0.0
    word_spacing: float = 0.0
    scale: float = 1.0
    leading: float = 0.0
    rise: float = 0.0
    mode: int = 0


@dataclass(frozen=True, slots=True)
class GraphicsState:
    """What holds for the next mark.

    ctm: user space to the page's space in points. clip: the box around what may be painted, None
    where nothing may be. own: the parameters as set here; laid_over: the same together with those
    of the transparency groups around.
    """

    ctm: Matrix
    clip: Box | None
    fill: Paint = BLACK
    stroke: Paint = BLACK
    line: LineStyle = LineStyle()
    text: TextState = TextState()
    own: MarkState = PLAIN_STATE
    laid_over: MarkState = PLAIN_STATE


def within_group(own: MarkState, group: MarkState) -> MarkState:
    """How a mark with the parameters `own` comes to lie on the page, its `group` laid down as a whole.

    Opacities multiply. A blend mode of the mark's own is told rather than that of its group.
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
    )


def seen_through(box: Box, clip: Box | None) -> Box | None:
    """What `clip` leaves of `box`; None where nothing is left, or no more than a shared edge."""
    if clip is None:
        return None
    cut = box.cut_by(clip)
    if cut is None:
        return None
    # An edge shared with the clip shows nothing; a rule without thickness of its own does.
    lost = (cut.x0 == cut.x1 and box.x0 != box.x1) or (cut.y0 == cut.y1 and box.y0 != box.y1)
    return None if lost else cut
