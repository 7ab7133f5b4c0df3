"""Runs one content stream: the page's own, or that of a form, pattern cell, glyph or appearance.

A `Content` holds what changes while the stream is read (the graphics state and its stack, the path
and text being built); a `Scope` what was fixed when it began. The operators themselves are handlers in
the modules of `operators`, which `operators/table.py` lists.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

import pikepdf

from hotfolder.model.colour import ColourSpace
from hotfolder.model.facts import ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.model.marks import PLAIN_STATE, MarkState, Source
from hotfolder.pdf.content.graphics_state import GraphicsState, Paint, seen_through
from hotfolder.pdf.content.kept_forms import Instruction
from hotfolder.pdf.content.ledger import Ledger
from hotfolder.pdf.content.readers import Readers
from hotfolder.pdf.content.uses import UseKind
from hotfolder.pdf.language.numbers import mended_number
from hotfolder.pdf.objects.limits import DECODED_BYTES_PER_STREAM, NESTING, OPERANDS
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix
from hotfolder.pdf.objects.outline import Outline
from hotfolder.pdf.objects.reading import READING_ERRORS, identity, name
from hotfolder.pdf.objects.resources import Resources
from hotfolder.pdf.objects.streams import content_parts, lies_elsewhere, salvaged, survey

Operand = object
Operands = list[Operand]
Handler = Callable[["Content", Operands], None]

_OPERATOR: Final = pikepdf.Operator
_NO_STREAM: Final = "the page names drawing instructions that the file does not hold"
_ELSEWHERE: Final = "drawing instructions are in another file, which does not come with this one"
_UNREADABLE: Final = "drawing instructions could not be decoded; what they draw is not known"
_BROKEN: Final = "compressed drawing instructions are broken; only what stands before the break was read"


@dataclass(frozen=True, slots=True)
class Operator:
    """One operator of the table.

    operands: how many it needs at least; the last ones count. ignored: why it has no handler.
    """

    handle: Handler | None
    operands: int = 0
    ignored: str = ""


@dataclass(frozen=True, slots=True)
class Scope:
    """What is the same for a whole content stream.

    object: the stream's object number (`12 0`). base: from the stream's space to the page's; pattern matrices
    build on it (8.7.3.1). group: the state in which the transparency groups around it are painted. layers:
    those around it, the outermost first. hidden: one of them is off in print. chain: the objects whose
    drawing led to this stream, the outermost first.
    """

    object: str | None
    resources: Resources
    base: Matrix
    group: MarkState = PLAIN_STATE
    layers: tuple[str, ...] = ()
    hidden: bool = False
    chain: tuple[str, ...] = ()


@dataclass(slots=True)
class TextPosition:
    """The text object's matrices (9.4.1), and the boxes of text that is to clip at its end."""

    matrix: Matrix = IDENTITY
    line: Matrix = IDENTITY
    clip: list[Box] | None = None


@dataclass(frozen=True, slots=True)
class MarkedContent:
    """The layers around what is drawn (8.11.3.2), the outermost first; whether one is off in print."""

    layers: tuple[str, ...] = ()
    hidden: bool = False


class Content(pikepdf.StreamParser):
    """A content stream while it is read.

    qpdf cuts the stream into objects and hands them over one by one, so that even the longest one
    takes no memory beyond its bytes.
    """

    def __init__(
        self,
        operators: Mapping[str, Operator],
        ledger: Ledger,
        readers: Readers,
        scope: Scope,
        state: GraphicsState,
    ) -> None:
        super().__init__()
        self.operators = operators
        self.ledger = ledger
        self.readers = readers
        self.scope = scope
        self.state = state
        self.saved: list[GraphicsState] = []
        self.outline = Outline()
        self.text = TextPosition()
        self.marked: list[MarkedContent] = []
        self.named = ledger.named(scope.resources)
        self.fonts = self.named.fonts
        self.collected: list[Instruction] | None = (
            None  # the instructions read so far, where they are collected
        )
        self.inline_entries: Operands | None = None  # those of an inline image whose EI has not come yet
        self.compatibility = 0  # open BX sections (7.8.2), in which unknown operators are ignored
        self.uncoloured = False  # colour operators are ignored here (8.7.3.3, 9.6.4)
        self.operator = ""
        self.index = -1
        self._operands: Operands = []
        self._outermost = MarkedContent(scope.layers, scope.hidden)

    # Reading

    def read_page(self, page: pikepdf.Dictionary, contents: object) -> None:
        """Reads all content streams of a page as one (7.8.2)."""
        parts = list(content_parts(contents))
        streams = [part for part in parts if isinstance(part, pikepdf.Stream)]
        if len(streams) < len(parts):
            self.note(ProblemKind.DAMAGED, _NO_STREAM)
        sound = [stream for stream in streams if self._fits(stream)]
        whole = len(sound) == len(parts)
        try:
            if whole:
                pikepdf.Page(page).parse_contents(self)
        except pikepdf.PikepdfError:
            # Nothing has been read then: qpdf decodes all parts before it reads the first.
            whole = self.index >= 0
            if whole:
                self.note(ProblemKind.UNREADABLE, _UNREADABLE)
        if not whole:
            self._read_salvaged(sound)
        self._finish()

    def read_stream(self, stream: pikepdf.Stream) -> None:
        """Reads the stream of a form, cell, glyph or appearance."""
        if self._fits(stream):
            try:
                _parse(stream, self)
            except pikepdf.PikepdfError:
                self._read_salvaged([stream])
        self._finish()

    def read_kept(self, instructions: list[Instruction]) -> None:
        """Runs instructions that were collected when their stream was read before without a problem."""
        self.ledger.spend_operators(len(instructions))
        for self.index, self.operator, operands in instructions:
            handle = self.operators[self.operator].handle
            if handle is not None:
                handle(self, operands)

    def _read_salvaged(self, streams: list[pikepdf.Stream]) -> None:
        """Reads as one stream what can be decoded of several, at least one of which is broken (7.8.2)."""
        sound_parts = []
        for stream in streams:
            part = salvaged(stream, DECODED_BYTES_PER_STREAM)
            if part is None:
                self.note(ProblemKind.UNREADABLE, _UNREADABLE)
                continue
            if part.broken:
                self.note(ProblemKind.DAMAGED, _BROKEN)
            sound_parts.append(part.data)
        try:
            with pikepdf.new() as scratch:
                _parse(scratch.make_stream(b"\n".join(sound_parts)), self)
        except pikepdf.PikepdfError:
            self.note(ProblemKind.UNREADABLE, _UNREADABLE)

    def _fits(self, stream: pikepdf.Stream) -> bool:
        if lies_elsewhere(stream):
            self.note(ProblemKind.UNREADABLE, _ELSEWHERE)
            return False
        try:
            decoding = survey(stream, DECODED_BYTES_PER_STREAM)
        except READING_ERRORS:
            self.note(ProblemKind.UNREADABLE, _UNREADABLE)
            return False
        if decoding.length is None:
            megabytes = DECODED_BYTES_PER_STREAM // 1024**2
            what = f"drawing instructions unpack to more than {megabytes} MB and were not read"
            self.note(ProblemKind.LIMIT, what)
            return False
        if decoding.cut_off:
            self.note(ProblemKind.DAMAGED, "compressed drawing instructions stop before their end")
        self.ledger.spend_bytes(decoding.length)
        return True

    def handle_object(self, obj: object, _offset: int, _length: int) -> None:
        """Takes the next object of the stream; runs the operator if it is one."""
        if not isinstance(obj, _OPERATOR):
            self._operands.append(obj)
            if len(self._operands) > OPERANDS:
                self.note(ProblemKind.DAMAGED, "an instruction has more values than any takes")
                del self._operands[0]
                self.ledger.spend_operators(1)  # it takes as long, and there may be no end of them
            return
        operands, self._operands = self._operands, []
        self.index += 1
        ledger = self.ledger
        ledger.operators_left -= 1
        if ledger.operators_left < ledger.next_look:
            ledger.look()
        spelling = _spelling(obj)
        operator = self.operators.get(spelling)
        if operator is None:
            self._unknown(spelling, operands)
            return
        if self.collected is not None:
            self.collected.append(Instruction(self.index, spelling, operands))
        if len(operands) < operator.operands:
            self.note(ProblemKind.DAMAGED, "an instruction lacks values and was left out")
        elif operator.handle is not None:
            self.operator = spelling
            operator.handle(self, operands)

    def handle_eof(self) -> None:
        """Does nothing: a page of several streams may have several ends."""

    def _unknown(self, spelling: str, operands: Operands) -> None:
        number, rest = mended_number(spelling)
        if number is not None:
            # It goes on as the operand that it was meant to be, with those before it.
            self.index -= 1
            self._operands = operands
            self.handle_object(number, 0, 0)
            if rest:
                self.handle_object(pikepdf.Operator(rest), 0, 0)
            return
        self.uses(UseKind.OPERATOR, spelling)
        if not self.compatibility:
            self.note(ProblemKind.DAMAGED, "an unknown instruction was left out")

    def _finish(self) -> None:
        if self.inline_entries is not None:
            # qpdf takes all that follows ID for the image's data.
            self.note(ProblemKind.UNREADABLE, "an image has no end; what is drawn after it is not known")
        if self._operands:
            self.note(ProblemKind.DAMAGED, "drawing instructions break off in the middle of one")
        if self.saved:
            self.note(ProblemKind.NOTE, "a saved graphics state is never restored")

    # What handlers use

    def note(self, kind: ProblemKind, what: str) -> None:
        """Notes a problem of the page."""
        self.ledger.note(kind, what)

    def numbers(self, operands: Operands, count: int) -> tuple[float, ...] | None:
        """The last `count` operands as numbers; None where they are no finite numbers, which is noted."""
        try:
            figures = tuple(map(float, operands[-count:]))  # type: ignore[arg-type] # what is no number raises
        except READING_ERRORS:
            figures = ()
        if not figures or not math.isfinite(sum(figures)):
            self.note(ProblemKind.DAMAGED, "an instruction has something else in place of a number")
            return None
        return figures

    def uses(self, kind: UseKind, value: object) -> None:
        """Keeps account of something that this content names."""
        self.ledger.uses.add(kind, value, self.scope.resources, self.scope.object)

    def uses_resource(self, kind: UseKind, category: str, key: str, value: object) -> None:
        """Keeps account of a named resource; `value` is None where there is none of that name."""
        if value is None:
            self.uses(UseKind.MISSING, f"{category} {key}")
        else:
            self.uses(kind, value)

    def colour_space(self, value: object) -> ColourSpace:
        """The colour space that an operand or an entry stands for here."""
        key = name(value)
        if key is None:
            if value is not None:
                self.uses(UseKind.SPACE, value)
            return self.readers.colour_space(value, self.scope.resources)
        spaces = self.named.spaces
        if key not in spaces:
            self.uses(UseKind.SPACE, value)
            spaces[key] = self.readers.colour_space(value, self.scope.resources)
        return spaces[key]

    def box_is_sound(self, box: Box) -> bool:
        """Whether a box is made of finite numbers; if not, its mark is left out, and that is noted."""
        if math.isfinite(box.x0 + box.y0 + box.x1 + box.y1):
            return True
        self.note(ProblemKind.DAMAGED, "something is drawn beyond all bounds and was left out")
        return False

    def clip_to(self, box: Box | None, *, exact: bool = False) -> None:
        """Narrows what may be painted to `box`; None leaves nothing.

        exact: the clip is the box itself, and not some other shape in it.
        """
        state = self.state
        narrowed = seen_through(state.clip, box) if state.clip is not None else None
        self.state = state.with_clip(narrowed, exact=state.clip_exact and exact)

    def layer_of(self, layer: object) -> MarkedContent:
        """The marked content of an optional content group or membership dictionary; `layer` may be None."""
        around = self.around
        if not isinstance(layer, pikepdf.Dictionary):
            return around
        layers = self.readers.layers
        names = tuple(dict.fromkeys((*around.layers, *layers.names(layer))))
        return MarkedContent(names, hidden=around.hidden or not layers.printed(layer))

    def inner_chain(self, stream: object) -> tuple[str, ...] | None:
        """`Scope.chain` for drawing `stream` from here; None, noted, where that is a circle or too deep."""
        key = identity(stream) or ""
        if key in self.scope.chain:
            self.note(ProblemKind.DAMAGED, "something is drawn inside itself; the inner drawing was left out")
            return None
        if len(self.scope.chain) >= NESTING:
            self.note(ProblemKind.LIMIT, f"drawings within drawings were read {NESTING} levels deep")
            return None
        return (*self.scope.chain, key)

    def inner(self, scope: Scope, state: GraphicsState) -> "Content":
        """The interpreter of a stream that is drawn from this one."""
        return Content(self.operators, self.ledger, self.readers, scope, state)

    @property
    def around(self) -> MarkedContent:
        """The layers around what is drawn now."""
        return self.marked[-1] if self.marked else self._outermost

    @property
    def printed(self) -> bool:
        """Whether all layers around are on in print."""
        return not self.around.hidden

    @property
    def layers(self) -> tuple[str, ...]:
        """The layers around, the outermost first."""
        return self.around.layers

    @property
    def opaque(self) -> bool:
        """Whether what is painted hides what lies beneath it."""
        laid = self.state.laid_over
        return (
            laid.fill_opacity == laid.stroke_opacity == 1.0
            and laid.blend_mode == "Normal"
            and not laid.soft_mask
        )

    def solid(self, box: Box | None, paint: Paint) -> Box | None:
        """The visible part of a rectangle filled with `paint`, where it hides all beneath it; else None.

        It may not where it overprints. In a knockout group a later element may remove this one.
        """
        laid = self.state.laid_over
        if box is None or laid.knockout_group or laid.overprint_fill or not self.even(box, paint):
            return None
        return seen_through(box, self.state.clip)

    def even(self, box: Box | None, paint: Paint) -> bool:
        """Whether the visible part of a rectangle is filled with `paint` alone, at full opacity."""
        state, laid = self.state, self.state.laid_over
        whole = laid.fill_opacity >= 1 and laid.blend_mode == "Normal" and not laid.soft_mask
        return box is not None and state.clip_exact and whole and paint.hides

    @property
    def source(self) -> Source:
        """Where the mark now being made comes from."""
        return Source(self.operator, self.scope.object, self.index)


def _parse(stream: pikepdf.Stream, into: Content) -> None:
    # The public way is for pages and forms only; cells and glyphs are streams like them.
    pikepdf.Object._parse_stream(stream, into)  # noqa: SLF001 - see above


def _spelling(operator: pikepdf.Object) -> str:
    try:
        return str(operator)
    except UnicodeDecodeError:
        return bytes(operator).decode("latin-1")
