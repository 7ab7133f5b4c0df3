"""What has been read of a page so far, and what is left of its limits."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from sys import maxsize
from typing import Final

from hotfolder.errors import LimitReachedError
from hotfolder.model.colour import ColourSpace
from hotfolder.model.document import Font
from hotfolder.model.facts import Problem, ProblemKind
from hotfolder.model.marks import Mark
from hotfolder.pdf.content.ext_gstate import Parameters
from hotfolder.pdf.content.kept_forms import FontUse, Form, Recording
from hotfolder.pdf.content.mask_shapes import MaskMarks
from hotfolder.pdf.content.shadings import Shading
from hotfolder.pdf.content.uses import PageUses
from hotfolder.pdf.fonts.fonts import FontMetrics
from hotfolder.pdf.images.images import StoredImage
from hotfolder.pdf.objects.deadline import NO_DEADLINE, Deadline
from hotfolder.pdf.objects.limits import (
    DECODED_BYTES_PER_PAGE,
    KEPT_MARKS,
    KEPT_OPERATORS,
    LETTERS_OF_AN_OPERATOR,
    LETTERS_PER_RUN,
    MARKS_PER_PAGE,
    OPERATORS_PER_PAGE,
    PIECES_PER_PAGE,
    USUAL_RUN,
    WIDTHS_PER_PAGE,
)
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.resources import Resources

# Some milliseconds; text and pictures take a hundred times as long as a line to the next point.
_OPERATORS_BETWEEN_LOOKS: Final = 1000


@dataclass(frozen=True, slots=True)
class NamedImage:
    """An image that is drawn by name: what it is, None where it has no pixels, and its layer."""

    image: StoredImage | None
    layer: object


@dataclass(frozen=True, slots=True)
class OtherXObject:
    """An XObject that is neither image nor form, and is not drawn: the problem that using it is."""

    kind: ProblemKind
    what: str
    layer: None = None


Drawable = Form | NamedImage | OtherXObject


@dataclass(slots=True)
class NamedResources:
    """What the names in one set of resources stand for: a cache, filled as they are used."""

    drawables: dict[str, Drawable] = field(default_factory=dict)
    fonts: dict[str, FontMetrics | None] = field(default_factory=dict)
    spaces: dict[str, ColourSpace] = field(default_factory=dict)
    parameters: dict[str, Parameters | None] = field(default_factory=dict)
    shadings: dict[str, Shading] = field(default_factory=dict)


class Ledger:
    """Collects marks, fonts and problems while a page is read, and counts against its limits.

    page: its number, from 1. operators, marks: how many may still be read of the document; a page has limits
    of its own.
    deadline: when the time for reading the document is over.
    """

    def __init__(
        self,
        page: int,
        operators: int = maxsize,
        marks: int = maxsize,
        deadline: Deadline = NO_DEADLINE,
    ) -> None:
        self.marks: list[Mark] = []
        self.uses = PageUses(page)
        self.fonts: dict[str, Font] = {}
        self.cells: dict[object, tuple[Mark, ...]] = {}
        self.glyphs_shown: set[object] = set()
        self.masks_read: dict[str, MaskMarks | None] = {}
        self.mask_pictures: list[Mark] = []
        self.forms: dict[str, Form] = {}
        self.sets_transfer = False
        self.notes = 0
        self.operators_kept = KEPT_OPERATORS
        self.marks_kept = KEPT_MARKS
        self.pieces_left = PIECES_PER_PAGE
        self.widths_left = WIDTHS_PER_PAGE
        self.knockout_groups = 0
        self._where = f"pages[{page}].marks"
        self._times: dict[tuple[ProblemKind, str], int] = {}
        self._named: dict[Resources, NamedResources] = {}
        self._most_operators = min(operators, OPERATORS_PER_PAGE)
        self._most_marks = min(marks, MARKS_PER_PAGE)
        self.operators_left = self._most_operators
        self.next_look = max(0, self.operators_left - _OPERATORS_BETWEEN_LOOKS)
        self._deadline = deadline
        self._bytes_left = DECODED_BYTES_PER_PAGE
        self._kept_aside = 0
        self._font_uses: list[FontUse] | None = None
        self._matrices: list[Matrix | None] | None = None

    def note(self, kind: ProblemKind, what: str) -> None:
        """Notes a problem; the same one again is only counted."""
        self._times[kind, what] = self._times.get((kind, what), 0) + 1
        self.notes += 1

    def problems(self) -> tuple[Problem, ...]:
        """The problems in the order in which they were first met."""
        return tuple(
            Problem(self._where, what if times == 1 else f"{what} ({times} times)", kind)
            for (kind, what), times in self._times.items()
        )

    def add(self, mark: Mark, matrix: Matrix | None = None) -> None:
        """Adds a mark; `matrix` is that which its measures depend on, None where they depend on more."""
        if len(self.marks) + self._kept_aside >= self._most_marks:
            raise LimitReachedError(f"reading stopped after {self._most_marks:,} painted things")
        self.marks.append(mark)
        if self._matrices is not None:
            self._matrices.append(matrix)

    @contextmanager
    def measuring(self) -> Iterator["Ledger"]:
        """A ledger for what is read apart from the page; its operators and time are those of the page."""
        apart = Ledger(0, max(self.operators_left, 0), deadline=self._deadline)
        try:
            yield apart
        finally:
            # One more, so that where no operator is left it is the page that tells of it.
            self.spend_operators(apart.operators_spent + 1)

    @property
    def is_recording(self) -> bool:
        """Whether marks are recorded, to be drawn again later."""
        return self._matrices is not None

    def spend_operators(self, count: int) -> None:
        """Counts operators, whatever stream they stand in."""
        self.operators_left -= count
        if self.operators_left < self.next_look:
            self.look()

    def look(self) -> None:
        """Looks whether operators and time are used up: due when `operators_left` is below `next_look`.

        LimitReachedError if they are. Asking for the time at each operator would take a tenth of all of it.
        """
        if self.operators_left < 0:
            raise LimitReachedError(f"reading stopped after {self._most_operators:,} drawing instructions")
        if self._deadline.is_over():
            raise LimitReachedError(
                f"reading stopped after {self._deadline.seconds:g} s of processor time for the whole file"
            )
        self.next_look = max(0, self.operators_left - _OPERATORS_BETWEEN_LOOKS)

    def spend_letters(self, count: int) -> None:
        """Counts the letters of a run of text, where they are more than a run has."""
        if count > LETTERS_PER_RUN:
            raise LimitReachedError(
                f"reading stopped at a text of more than {LETTERS_PER_RUN:,} letters in a row"
            )
        if count > USUAL_RUN:
            self.spend_operators(count // LETTERS_OF_AN_OPERATOR)

    @property
    def operators_spent(self) -> int:
        """How many operators were read."""
        return self._most_operators - max(self.operators_left, 0)

    def spend_bytes(self, count: int) -> None:
        """Counts decoded bytes that were read."""
        self._bytes_left -= count
        if self._bytes_left < 0:
            megabytes = DECODED_BYTES_PER_PAGE // 1024**2
            raise LimitReachedError(f"reading stopped after {megabytes} MB of drawing instructions")

    def named(self, resources: Resources) -> NamedResources:
        """What was read of these resources so far."""
        resources_read = self._named.get(resources)
        if resources_read is None:
            resources_read = self._named[resources] = NamedResources()
        return resources_read

    @contextmanager
    def aside(self) -> Iterator[list[Mark]]:
        """Collects the marks that are made within the context in a list, apart from those of the page.

        They are marked as repeated: a glyph or a pattern cell is read once for all places where it is
        painted.
        """
        with self._apart(None) as marks:
            yield marks
            marks[:] = [replace(mark, repeated=True, solid=None, even=False) for mark in marks]

    @contextmanager
    def recording(self) -> Iterator[Recording]:
        """Collects the marks and fonts that are read within the context, apart from those of the page."""
        outer_uses, operators, notes = self._font_uses, self.operators_left, self.notes
        recording = Recording()
        self._font_uses = recording.fonts
        try:
            with self._apart(recording.matrices) as marks:
                recording.marks = marks
                yield recording
        finally:
            self._font_uses = outer_uses
            recording.operators = operators - self.operators_left
            recording.troubled = self.notes > notes

    @contextmanager
    def _apart(self, matrices: list[Matrix | None] | None) -> Iterator[list[Mark]]:
        page, apart, outer = self.marks, list[Mark](), self._matrices
        self.marks, self._matrices = apart, matrices
        self._kept_aside += len(page)
        try:
            yield apart
        finally:
            self.marks, self._matrices = page, outer
            self._kept_aside -= len(page)

    def use_font(self, font: Font, *, printed: bool) -> None:
        """Adds a font to those of the page; it is printed once any use of it is."""
        if self._font_uses is not None:
            self._font_uses.append(FontUse(font, printed))
            return
        key = font.object or font.name
        known = self.fonts.get(key)
        if known is None or (printed and not known.printed):
            self.fonts[key] = replace(font, printed=printed)
