"""Forms as the file has them, and what is kept of drawing one for the next time that it is drawn."""

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
    """An operator: its number in the stream, how it is spelled, its operands."""

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
    """What was found while it was made, apart from what the page has.

    matrices: of each mark, what decides its measures; None where it is more than a matrix. troubled: problems
    were met.
    """

    marks: list[Mark] = field(default_factory=list)
    matrices: list[Matrix | None] = field(default_factory=list)
    fonts: list[FontUse] = field(default_factory=list)
    operators: int = 0
    troubled: bool = False


class PlainPaint(NamedTuple):
    """A paint that is a colour and no pattern, as far as it decides more than the colour of marks."""

    space: ColourSpace
    white: bool


class FormState(NamedTuple):
    """All that decides what a form paints, but for its colours, its size and place, and what clips it."""

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

    fill, stroke: the colours that the form began with, objects that nothing else has: what is painted with
    them takes on those that it begins with the next time. None where it began with a pattern.
    """

    found: Recording
    ctm: Matrix
    fill: Colour | None
    stroke: Colour | None
    _unseen: "KeptMarks | None" = None

    @property
    def stretches(self) -> bool:
        """Whether each mark is known well enough to be drawn in other proportions."""
        return None not in self.found.matrices

    @property
    def marks_by_clip(self) -> bool:
        """Whether there are marks that are there only where the clip leaves something: those of `sh`."""
        return any(mark.kind is MarkKind.SHADING for mark in self.found.marks)

    def unseen(self) -> "KeptMarks":
        """The same where what clips the form leaves nothing of it."""
        if self._unseen is None:
            marks = [_unseen(mark) for mark in self.found.marks]
            fonts = [FontUse(use.font, printed=False) for use in self.found.fonts]
            found = Recording(marks, self.found.matrices, fonts)
            self._unseen = KeptMarks(found, self.ctm, self.fill, self.stroke)
        return self._unseen


def _unseen(mark: Mark) -> Mark:
    text = mark.text
    if text is not None:
        text = replace(text, ink=None, visible_ink=None, words="")
    return replace(mark, visible=None, solid=None, text=text)


@dataclass(slots=True)
class KeptState:
    """A state in which a form was drawn, and what it gave, once that is known.

    turn: what its matrix does beside enlarging and moving.
    """

    conditions: FormState
    turn: tuple[float, ...]
    kept: KeptMarks | None = None

    def serves(self, conditions: FormState, turn: tuple[float, ...]) -> bool:
        """Whether what is kept here, or will be, is that of a drawing in another state."""
        if self.conditions != conditions:
            return False
        if self.turn == turn:
            return True
        # Boxes become other boxes where both stand upright, unmirrored to each other.
        upright = not (turn[1] or turn[2] or self.turn[1] or self.turn[2])
        alike = turn[0] * self.turn[0] > 0 and turn[3] * self.turn[3] > 0
        return upright and alike and (self.kept is None or self.kept.stretches)


@dataclass(slots=True)
class Form:
    """A form as the file has it, and what was kept of drawing it.

    group: it is a transparency group; knockout: its parts knock each other out (11.4.6). own_space: the
    colour space that it is blended in, as the file has it, where it has one of its own (11.6.6).
    drawn: how often so far. kept: what it gave in some states, or in which it was drawn once. passing:
    nothing is kept.
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
    drawn: int = 0
    operators: int = 0
    instructions: list[Instruction] | None = None
    kept: list["KeptState"] = field(default_factory=list)
    passing: bool = False
