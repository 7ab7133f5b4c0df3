"""Forms as the file has them, and what is kept of drawing one for the next time that it is drawn."""

from dataclasses import dataclass, field, replace
from typing import NamedTuple

import pikepdf

from hotfolder.artwork import Font, Mark, MarkKind, MarkState
from hotfolder.pdf.graphics_state import LineStyle, Paint, TextState
from hotfolder.pdf.matrix import Matrix
from hotfolder.pdf.resources import Resources


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
    """What was found while it was made, apart from what the page has. troubled: problems were met."""

    marks: list[Mark] = field(default_factory=list)
    fonts: list[FontUse] = field(default_factory=list)
    operators: int = 0
    troubled: bool = False


class FormState(NamedTuple):
    """All that decides what a form paints, but for how large it is, where it lies and what clips it there.

    turn: what its matrix does beside enlarging and moving.
    """

    turn: tuple[float, ...]
    fill: Paint
    stroke: Paint
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
class Kept:
    """The marks of a form, drawn by `ctm` and clipped by nothing but the form itself."""

    found: Recording
    ctm: Matrix
    _unseen: "Kept | None" = None

    @property
    def marks_by_clip(self) -> bool:
        """Whether there are marks that are there only where the clip leaves something: those of `sh`."""
        return any(mark.kind is MarkKind.SHADING for mark in self.found.marks)

    def unseen(self) -> "Kept":
        """The same where what clips the form leaves nothing of it."""
        if self._unseen is None:
            marks = [_unseen(mark) for mark in self.found.marks]
            fonts = [FontUse(use.font, printed=False) for use in self.found.fonts]
            self._unseen = Kept(Recording(marks, fonts), self.ctm)
        return self._unseen


def _unseen(mark: Mark) -> Mark:
    text = mark.text
    if text is not None:
        text = replace(text, ink=None, visible_ink=None, words="")
    return replace(mark, visible=None, solid=None, text=text)


@dataclass(slots=True)
class Form:
    """A form as the file has it, and what was kept of drawing it.

    group: it is a transparency group; knockout: its parts knock each other out (11.4.6).
    drawn: how often so far. kept: by state; None where it was drawn in it once. passing: nothing is kept.
    """

    stream: pikepdf.Stream
    key: str | None
    matrix: Matrix
    bounds: tuple[float, ...] | None
    layer: object
    resources: object
    group: bool
    knockout: bool
    drawn: int = 0
    operators: int = 0
    instructions: list[Instruction] | None = None
    kept: list[tuple[FormState, Kept | None]] = field(default_factory=list)
    passing: bool = False
