"""What has been found on a page so far, and what is left of its limits."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace

from hotfolder.artwork import Font, Mark, Problem, ProblemKind
from hotfolder.pdf.limits import DECODED_BYTES_PER_PAGE, MARKS_PER_PAGE, OPERATORS_PER_PAGE


class LimitReachedError(Exception):
    """One of our own limits ends the reading of a page; what was found until then stands."""


class Ledger:
    """Collects marks, fonts and problems while a page is read."""

    def __init__(self, where: str) -> None:
        self.marks: list[Mark] = []
        self.fonts: dict[str, Font] = {}
        self.cells: dict[object, tuple[Mark, ...]] = {}
        self.glyphs_shown: set[object] = set()
        self._where = where
        self._times: dict[tuple[ProblemKind, str], int] = {}
        self._operators_left = OPERATORS_PER_PAGE
        self._bytes_left = DECODED_BYTES_PER_PAGE
        self._kept_aside = 0

    def note(self, kind: ProblemKind, what: str) -> None:
        """Notes a problem; the same one again is counted and not told twice."""
        self._times[kind, what] = self._times.get((kind, what), 0) + 1

    def problems(self) -> tuple[Problem, ...]:
        """The problems in the order in which they were first met."""
        return tuple(
            Problem(self._where, what if times == 1 else f"{what} ({times} times)", kind)
            for (kind, what), times in self._times.items()
        )

    def add(self, mark: Mark) -> None:
        """Adds a mark."""
        if len(self.marks) + self._kept_aside >= MARKS_PER_PAGE:
            raise LimitReachedError(f"reading stopped after {MARKS_PER_PAGE:,} painted things")
        self.marks.append(mark)

    def spend_operator(self) -> None:
        """Counts one operator, whatever stream it stands in."""
        self._operators_left -= 1
        if self._operators_left < 0:
            raise LimitReachedError(f"reading stopped after {OPERATORS_PER_PAGE:,} drawing instructions")

    def spend_bytes(self, count: int) -> None:
        """Counts decoded bytes that were read."""
        self._bytes_left -= count
        if self._bytes_left < 0:
            megabytes = DECODED_BYTES_PER_PAGE // 1024**2
            raise LimitReachedError(f"reading stopped after {megabytes} MB of drawing instructions")

    @contextmanager
    def aside(self) -> Iterator[list[Mark]]:
        """Collects the marks made meanwhile in the list that it gives, apart from those of the page."""
        page, apart = self.marks, list[Mark]()
        self.marks = apart
        self._kept_aside += len(page)
        try:
            yield apart
        finally:
            self.marks = page
            self._kept_aside -= len(page)

    def use_font(self, font: Font, *, printed: bool) -> None:
        """Counts a font as used; once it was printed it stays so."""
        key = font.object or font.name
        known = self.fonts.get(key)
        if known is None or (printed and not known.printed):
            self.fonts[key] = replace(font, printed=printed)
