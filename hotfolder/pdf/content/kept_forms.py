"""Form XObjects, with a cache of what drawing one gave, for the next time that it is drawn."""

from dataclasses import dataclass, field, replace
from typing import NamedTuple

import pikepdf

from hotfolder.model.colour import Colour, ColourSpace
from hotfolder.model.document import Font
from hotfolder.model.marks import Mark, MarkKind, MarkState
from hotfolder.pdf.content.graphics_state import LineStyle, Paint, TextState
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.resources import Resources


class Instruction(NamedTuple):
    """An operator with its operands. number: its place in the stream, from 0. spelling: `re`, `Tj`, ..."""

    number: int
    spelling: str
    operands: list[object]


@dataclass(frozen=True, slots=True)
class FontUse:
    """That a font was used, and whether what it was used for is on paper."""

    font: Font
    printed: bool


@dataclass(slots=True)
class Recording:
    """What was read from a content stream apart from the page.

    matrices: for each mark the matrix that its measures depend on; None where they depend on more than a
    matrix. operators: how many were read. troubled: problems were met.
    """

    marks: list[Mark] = field(default_factory=list)
    matrices: list[Matrix | None] = field(default_factory=list)
    fonts: list[FontUse] = field(default_factory=list)
    operators: int = 0
    troubled: bool = False


class PlainPaint(NamedTuple):
    """What of a colour decides more about marks than the colour that they have."""

    space: ColourSpace
    white: bool


class FormState(NamedTuple):
    """All that decides what a form paints, except for colours, size, place and the clip around it."""

    fill: Paint | PlainPaint
    stroke: Paint | PlainPaint
    line: LineStyle
    text: TextState
    own: MarkState
    laid_over: MarkState
    group: MarkState
    resources: Resources
    layers: tuple[str, ...]
    hidden: bool
    uncoloured: bool


@dataclass(slots=True)
class KeptMarks:
    """The marks of a form, drawn by `ctm` and clipped by nothing but the form itself.

    fill, stroke: the colours in force when the form began, as objects that nothing else refers to: marks that
    refer to them get the colours in force the next time. None where a pattern was in force.
    """

    recording: Recording
    ctm: Matrix
    fill: Colour | None
    stroke: Colour | None
    _unseen: "KeptMarks | None" = None

    @property
    def stretches(self) -> bool:
        """Whether the measures of all marks are known well enough to scale the form unevenly."""
        return None not in self.recording.matrices

    @property
    def marks_by_clip(self) -> bool:
        """Whether there are marks whose extent is that of the clip: those of `sh`."""
        return any(mark.kind is MarkKind.SHADING for mark in self.recording.marks)

    def unseen(self) -> "KeptMarks":
        """The same marks where the clip around the form leaves nothing of it."""
        if self._unseen is None:
            marks = [_unseen(mark) for mark in self.recording.marks]
            fonts = [FontUse(use.font, printed=False) for use in self.recording.fonts]
            recording = Recording(marks, self.recording.matrices, fonts)
            self._unseen = KeptMarks(recording, self.ctm, self.fill, self.stroke)
        return self._unseen


def _unseen(mark: Mark) -> Mark:
    text = mark.text
    if text is not None:
        text = replace(text, ink=None, visible_ink=None, words="")
    return replace(mark, visible=None, solid=None, text=text)


@dataclass(slots=True)
class KeptState:
    """A state in which a form was drawn, and the marks that it gave, once they are known.

    turn: what its matrix does beside scaling and moving, as four numbers.
    """

    conditions: FormState
    turn: tuple[float, ...]
    marks: KeptMarks | None = None

    def serves(self, conditions: FormState, turn: tuple[float, ...]) -> bool:
        """Whether the marks cached here, now or later, can be used for a drawing in another state."""
        if self.conditions != conditions:
            return False
        if self.turn == turn:
            return True
        # Boxes become other boxes where both stand upright, unmirrored to each other.
        upright = not (turn[1] or turn[2] or self.turn[1] or self.turn[2])
        alike = turn[0] * self.turn[0] > 0 and turn[3] * self.turn[3] > 0
        return upright and alike and (self.marks is None or self.marks.stretches)


@dataclass(slots=True)
class Form:
    """A form XObject, and what is cached of drawing it.

    key: its object number. bounds: its BBox. group: it is a transparency group; knockout: a knockout group
    (11.4.6). own_space: the blending colour space of an isolated group, as the file has it (11.6.6).
    operators: how many it has. instructions: these, once it was drawn twice. states: those in which it was
    drawn, with the marks that it gave. read_each_time: nothing is cached, since it is too large or has
    problems.
    """

    stream: pikepdf.Stream
    key: str | None
    matrix: Matrix
    bounds: tuple[float, ...] | None
    layer: object
    resources: object
    group: bool
    knockout: bool
    own_space: object = None
    times_drawn: int = 0
    operators: int = 0
    instructions: list[Instruction] | None = None
    states: list["KeptState"] = field(default_factory=list)
    read_each_time: bool = False
