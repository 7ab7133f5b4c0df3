"""Rewrites one content stream: the page's own, or that of a form, pattern cell, glyph, mask or appearance.

The operators that change between drawings, or that others depend on, have handlers in the modules of
`operators`, looked up in `operators/table.py`. All else is copied as it stands.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Final

import pikepdf

from hotfolder.drawing.rewriting.context import RewriteContext
from hotfolder.drawing.rewriting.gstates import GState, LineOpacity, LineState
from hotfolder.drawing.rewriting.overprint import Touched, named_inks
from hotfolder.drawing.rewriting.paints import Chosen
from hotfolder.drawing.rewriting.rectangles import with_soft_rectangles
from hotfolder.drawing.rewriting.scan import (
    CAREFUL_RUN,
    RUN,
    TEXT_RUN,
    Scan,
    has_operands,
    path_at_end,
)
from hotfolder.drawing.rewriting.script import AsPaths, Multiplied, Part, Script
from hotfolder.drawing.rewriting.state import State
from hotfolder.drawing.spaces.changed import SpaceChange
from hotfolder.drawing.spaces.space import PaintSpace
from hotfolder.errors import NotDrawnError
from hotfolder.model.doubts import NOT_ISOLATED
from hotfolder.model.geometry import Box
from hotfolder.pdf.objects.limits import NESTING, SAVED_STATES
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.resources import Resources

Handler = Callable[["Rewriter", bytes, bytes], None]  # operands, operator

# A run's instructions are not counted one by one; this many bytes of it are taken for one.
_BYTES_OF_AN_INSTRUCTION: Final = 12

# The thinnest line of a digital press, a dot of 1/600 inch; what a file means by a width of 0.
_THINNEST_PT: Final = 0.12

_NO_LINES: Final = LineOpacity(0.0)

_WIDE_PX: Final = 64  # of rectangles that are left to be laid on whole pixels

_RULE: Final = 4  # times as long as it is wide at least

_WHOLE: Final = 0.999  # of a cell, as numbers are rounded


@dataclass(frozen=True, slots=True)
class StreamScope:
    """What a content stream is part of; it does not change from its first operator to its last.

    base: its space to the page's points, which pattern matrices build on (8.7.3.1). chain: the objects
    that are being drawn. isolated: it is drawn on nothing, into a group of its own (11.4.5). placed: what it
    draws lies where it lies now, and nowhere else. cell: the steps of the pattern whose cell it is.
    on_screen: its colours become screen colours before they become inks. on_page: what lies beneath is the
    page itself, which is opaque.
    """

    resources: Resources
    base: Matrix
    chain: tuple[str, ...] = ()
    isolated: bool = False
    placed: bool = True
    cell: tuple[float, float] | None = None
    on_screen: bool = False
    on_page: bool = False


@dataclass(slots=True)
class StreamRecord:
    """What a content stream draws: it decides where its rewritten content may be used again.

    cost: how many instructions, those of drawn forms included. overprinted: the plates that overprinting
    objects touch. placed: pictures are drawn that were made for their very place. tinted: something has the
    colour built in that held before the stream. blends: something blends with its backdrop (11.3.5).
    transparent: something is not opaque. doubts: why other ink may lie than is drawn. laid_back: the places
    at which the page is laid back as it was before, by number.
    """

    cost: int = 0
    overprinted: set[Touched] = field(default_factory=set)
    placed: bool = False
    tinted: bool = False
    blends: bool = False
    transparent: bool = False
    doubts: set[str] = field(default_factory=set)
    laid_back: set[int] = field(default_factory=set)

    @property
    def shows_beneath(self) -> bool:
        """Whether something lets what lies beneath show: by opacity, by its blend mode, or by overprint."""
        return self.transparent or bool(self.overprinted)

    def add(self, inner: "StreamRecord") -> None:
        """Adds the record of a form XObject that this stream draws."""
        self.cost += inner.cost
        self.overprinted |= inner.overprinted
        self.placed = self.placed or inner.placed
        self.tinted = self.tinted or inner.tinted
        self.blends = self.blends or inner.blends
        self.transparent = self.transparent or inner.transparent
        self.doubts |= inner.doubts
        self.laid_back |= inner.laid_back


class Rewriter:
    """A content stream being rewritten."""

    def __init__(
        self,
        operators: Mapping[bytes, Handler],
        context: RewriteContext,
        scope: StreamScope,
        state: State,
        *,
        hidden: bool = False,
    ) -> None:
        self.operators = operators
        self.context = context
        self.scope = scope
        self.state = state
        self.named = context.named(scope.resources)
        self.record = StreamRecord()
        self.in_text = False  # between BT and ET
        self.uncoloured = False  # colour operators do not count here (8.7.3.3, 9.6.4)
        self.saved: list[State] = []
        self.hidden: list[bool] = [hidden]  # by marked content: whether it is off in print
        self.scan = Scan(b"")
        self.parts: list[Part] = []
        self._rectangle: tuple[float, float, float, float] | None = None

    def rewrite(self, data: bytes) -> Script:
        """The script for `data`."""
        self.read(data)
        return Script.of(self.parts)

    def read(self, data: bytes) -> None:
        """Adds the parts for `data`."""
        scan = self.scan = Scan(data)
        parts, operators, budget = self.parts, self.operators, self.context.budget
        steps = len(data) // _BYTES_OF_AN_INSTRUCTION
        budget.spend_steps(steps)
        parts.append(b"\n")
        self.record.cost += steps
        while True:
            run = scan.run(CAREFUL_RUN if self.careful else TEXT_RUN if self.in_text else RUN)
            if run:
                parts.append(run if self.in_text else with_soft_rectangles(run, self.softens))
            instruction = scan.instruction()
            if instruction is None:
                break
            operands, operator = instruction
            handle = operators.get(operator)
            if handle is not None and has_operands(operands, operator):
                handle(self, operands, operator)
        parts.append(b" Q" * len(self.saved))

    def emit(self, part: Part) -> None:
        """Adds a part; bytes have a space in front."""
        self.parts.append(part)

    def text_as_paths(self, *, on: bool) -> None:
        """Switches the drawing of letters as paths on or off, where text is filled with a plain colour."""
        if self.in_text and self.state.plainly_filled:
            names, opacity = self.context.names, self.state.written_opacity
            hidden = names.name("ExtGState", ("line", _NO_LINES), lambda: LineState(_NO_LINES))
            shown = names.name("ExtGState", ("line", opacity), lambda: LineState(opacity))
            self.emit(AsPaths(hidden if on else shown, on=on))

    def choose_again(self) -> None:
        """Writes the operators that set both current colours, where the renderer would begin with black."""
        self.emit(Chosen(self.state.fill, stroke=False))
        self.emit(Chosen(self.state.stroke, stroke=True))

    @property
    def careful(self) -> bool:
        """Whether what is painted has to be looked at: it may have to be left out of a pass, or changed."""
        state = self.state
        return (
            self.off
            or state.overprint.on
            or bool(state.spared)
            or state.fill.nothing
            or state.stroke.nothing
            or state.written_opacity != state.line_opacity
            or state.outlined_apart
            or state.by_pattern
            or (state.lettering is not None and state.lettering.coloured)
        )

    @property
    def change(self) -> SpaceChange | None:
        """How colours change before they become inks: into sRGB, by a transfer function; or not at all."""
        if not self.scope.on_screen and not self.state.tones:
            return None
        return SpaceChange(self.scope.on_screen, self.state.tones)

    def change_of(self, space: PaintSpace) -> SpaceChange | None:
        """How the colours of `space` change before they become inks; Separation and DeviceN stay inks."""
        change = self.change
        if change is None or space.family == "Pattern":
            return None
        if change.on_screen and named_inks(space):
            change = SpaceChange(tones=change.tones)
        return change if change != SpaceChange() else None

    def changed(self, space: PaintSpace) -> PaintSpace:
        """The colour space that gives the changed colours of `space`; itself where none change."""
        change = self.change_of(space)
        return space if change is None else self.context.changed(space, change)

    def doubt(self, reason: str, box: Box) -> None:
        """Notes that other ink may lie in `box`, in points, than is drawn there, and why."""
        self.record.doubts.add(reason)
        self.context.summary.doubt(reason, box if self.scope.placed else None)

    def doubt_somewhere(self, reason: str) -> None:
        """Notes that other ink may lie than is drawn, at a place that is not known, and why."""
        self.record.doubts.add(reason)
        self.context.summary.doubt(reason)

    def shines_through(self) -> None:
        """Notes that something here is not opaque."""
        self.record.transparent = self.context.summary.transparent = True

    @property
    def off(self) -> bool:
        """Whether this is in optional content that is not printed (8.11)."""
        return self.hidden[-1]

    def measure_lines(self) -> None:
        """Finds the opacity for lines: the renderer draws none thinner than a pixel, so thin ones go pale."""
        state = self.state
        scale = (state.ctm.x_length + state.ctm.y_length) / 2
        width = max(state.line_width * scale, _THINNEST_PT) * self.context.pixels_per_pt
        state.line_opacity = LineOpacity(state.stroke_opacity, min(1.0, round(width, 3)))

    def widen_lines(self) -> None:
        """Makes lines as wide as the thinnest of a press that are thinner: finer drawings show how wide."""
        state = self.state
        scale = (state.ctm.x_length + state.ctm.y_length) / 2
        thin = state.line_width * scale < _THINNEST_PT
        if scale and (thin or state.widened):
            self.emit(b" %.6f w" % (_THINNEST_PT / scale if thin else state.line_width))
            state.widened = thin

    def set_line_opacity(self) -> None:
        """Makes lines as opaque as they are to be drawn, where rewritten content has not said so yet."""
        state = self.state
        if state.written_opacity != state.line_opacity:
            opacity = state.written_opacity = state.line_opacity
            resource_name = self.context.names.name(
                "ExtGState", ("line", opacity), lambda: LineState(opacity)
            )
            self.emit(b" %b gs" % resource_name)

    def space_called(self, key: str) -> PaintSpace:
        """The colour space that a name stands for here."""
        spaces = self.named.spaces
        if key not in spaces:
            spaces[key] = self.context.spaces.read(pikepdf.Name(f"/{key}"), self.scope.resources)
        return spaces[key]

    def save(self) -> None:
        """`q`."""
        if len(self.saved) >= SAVED_STATES:
            raise NotDrawnError("drawing instructions save the graphics state without end")
        self.saved.append(self.state.saved())

    def softens(self, x: float, y: float, width: float, height: float) -> bool:
        """Whether an upright rectangle is to be drawn with soft edges, and as heavy as it is.

        The renderer lays one on whole pixels and rounds up: half a pixel too many each way, and a thin rule
        comes out up to four times as heavy. One with another speck of a path in it has soft edges. Wide ones
        are left alone, as that matters little to them; and so are those side by side, which would have seams.
        """
        ctm, scale = self.state.ctm, self.context.pixels_per_pt
        across, up = abs(width) * ctm.x_length * scale, abs(height) * ctm.y_length * scale
        if min(across, up) > _WIDE_PX or self._fills_cell(width, height):
            return False
        return not self._abuts(x, y, width, height)

    def _fills_cell(self, width: float, height: float) -> bool:
        """Whether a rectangle fills a pattern's cell: it meets itself in the next one, on all sides."""
        cell = self.scope.cell
        if cell is None or self.state.ctm[:4] != self.scope.base[:4]:
            return False
        return abs(width) >= cell[0] * _WHOLE and abs(height) >= cell[1] * _WHOLE

    def _abuts(self, x: float, y: float, width: float, height: float) -> bool:
        """Whether a rectangle lies side by side with the one before it, as the strips of a gradient do.

        Rules that meet at their ends, such as the borders of a table's cells, do not count.
        """
        before, self._rectangle = self._rectangle, (x, y, width, height)
        if before is None:
            return False
        px, py, pwidth, pheight = before
        beside = (y, height) == (py, pheight) and (_near(x, px + pwidth) or _near(px, x + width))
        above = (x, width) == (px, pwidth) and (_near(y, py + pheight) or _near(py, y + height))
        shared, *lengths = (height, width, pwidth) if beside else (width, height, pheight)
        return (beside or above) and max(map(abs, lengths)) < _RULE * abs(shared)

    def multiplied(self) -> Multiplied:
        """How something that overprints here is drawn where it has to be multiplied."""
        names, mode = self.context.names, self.state.blend_mode
        begin = names.name("ExtGState", ("mode", "Multiply"), lambda: GState({}, "Multiply"))
        end = names.name("ExtGState", ("mode", mode), lambda: GState({}, mode))
        return Multiplied(b" %b gs" % begin, b" %b gs" % end, self.scope.isolated)

    def path(self) -> bytes:
        """The operators that build the path about to be painted; nothing where they cannot be made out."""
        built = b""
        for part in reversed(self.parts):
            if not isinstance(part, bytes):
                break
            end = path_at_end(part)
            built = end + built
            if end != part:
                break
        return built if b"m" in built or b"re" in built else b""

    def note_touched(self, touched: Touched) -> None:
        """Notes that something is painted that touches these plates only."""
        if touched.only is not None or touched.but:
            if self.scope.placed:
                self.context.summary.touch(touched)
            else:
                self.context.summary.overprinted_anywhere.add(touched)
            self.record.overprinted.add(touched)

    def note_painted(self, *, stroke: bool) -> None:
        """Notes that something is painted with the paint for filling, or for lines.

        The cell of a pattern that blends with what lies beneath finds nothing there where the pattern itself
        is laid down with opacity, a mask or a blend mode.
        """
        state = self.state
        paint = state.stroke if stroke else state.fill
        opaque = state.stroke_opacity == 1 if stroke else state.fill_opacity == 1
        if paint.blends and not (opaque and state.covers):
            self.doubt_somewhere(NOT_ISOLATED)

    def inner_chain(self, key: str) -> tuple[str, ...]:
        """The objects being drawn with the one of that number added."""
        if len(self.scope.chain) >= NESTING:
            raise NotDrawnError("drawings are nested within drawings without end")
        return (*self.scope.chain, key)

    def draws_itself(self, key: str) -> bool:
        """Whether the object of that number is being drawn already; then the inner drawing is left out."""
        return key in self.scope.chain

    def inner(self, scope: StreamScope, state: State) -> "Rewriter":
        """The rewriting of a stream that is drawn from this one."""
        return Rewriter(self.operators, self.context, scope, state)


def _near(one: float, other: float) -> bool:
    return abs(one - other) <= 1e-3 * max(abs(one), abs(other), 1e-3)
