# Runs both readers of content over pages, and compares what each saw.
#
# Facts are read object by object, as qpdf cuts content; plates are rewritten from bytes in bulk. What each of
# them takes for the instructions of a stream is noted as it runs, stream by stream: the page's own, and each
# form, cell, glyph and appearance the first time that it is drawn.
import math
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import zip_longest
from pathlib import Path
from typing import Any
from unittest import mock

import pikepdf

import hotfolder.drawing.rewriting.page as rewriting
import hotfolder.pdf.content.interpret as interpreting
from hotfolder.colour.conversions import conversions_for
from hotfolder.drawing.images.images import PlateImages
from hotfolder.drawing.rewriting.context import Budget, PageSummary, RewriteContext
from hotfolder.drawing.rewriting.names import ResourceNames
from hotfolder.drawing.rewriting.operators.table import OPERATORS as REWRITTEN
from hotfolder.drawing.rewriting.rewriter import Rewriter
from hotfolder.drawing.rewriting.scan import Scan, names_in, numbers_in
from hotfolder.drawing.spaces.reader import PaintSpaces
from hotfolder.errors import NotDrawnError
from hotfolder.model.geometry import Box
from hotfolder.model.plates import PlateFrame
from hotfolder.pdf.content.content import Content
from hotfolder.pdf.content.operators.table import OPERATORS as MEASURED
from hotfolder.pdf.content.readers import Readers
from hotfolder.pdf.document.boxes import read_geometry
from hotfolder.pdf.document.document import opened
from hotfolder.pdf.document.optional_content import Layers
from hotfolder.pdf.document.page_tree import PageTree
from hotfolder.pdf.fonts.fonts import FontReader
from hotfolder.pdf.language.operators import DEVICE_COLOURS, OPERANDS, PATH_PAINTING
from hotfolder.pdf.objects.reading import name, number
from hotfolder.presses.loading import load_press

PAGE = "page"

# What is compared: what paints, what has a name, colours, and where the coordinate system, paths and lines of
# text go.
_NUMBERS = {*DEVICE_COLOURS, "cm", "m", "l", "c", "v", "y", "re", "w", "Td", "TD", "Tm"}
_NAMED = {"Do", "sh", "gs", "cs", "CS", "Tf"}
_COLOURS = {"sc", "scn", "SC", "SCN"}
_TEXT = {"Tj", "TJ", "'", '"'}
COMPARED = {*PATH_PAINTING, *_NUMBERS, *_NAMED, *_COLOURS, *_TEXT, "q", "Q", "h", "BI", "BDC"}

# An instruction as it was seen: its operator, and the names and numbers that matter.
Seen = tuple[str | float, ...]
Streams = dict[str, list[Seen]]


@dataclass
class Notes:
    """The instructions that a reader saw, by stream: `page`, or the number of an object."""

    streams: Streams = field(default_factory=dict)
    _open: list[list[Seen]] = field(default_factory=list)

    @contextmanager
    def reading(self, stream: str | None) -> Iterator[None]:
        """Takes what is seen within for that stream's, the first time that it is read; None: for nothing."""
        seen: list[Seen] = []
        self._open.append(seen)
        yield
        self._open.pop()
        if stream is not None:
            self.streams.setdefault(stream, seen)

    def note(self, *seen: str | float) -> None:
        self._open[-1].append(seen)


@dataclass(frozen=True)
class PageSeen:
    """What both readers saw of a page. not_drawn: why it is not drawn at all; empty where it is."""

    number: int
    measured: Streams
    rewritten: Streams
    not_drawn: str = ""

    def differences(self) -> list[str]:
        """Where the streams that both have read differ, a line each; the first place of each stream."""
        return [
            f"p. {self.number}, {stream}: {difference}"
            for stream in sorted(self.measured.keys() & self.rewritten.keys())
            if (difference := _difference(self.measured[stream], self.rewritten[stream]))
        ]


def pages_seen(path: Path, most: int) -> list[PageSeen]:
    """What both readers saw of the first `most` pages of a file; nothing where it does not open."""
    with opened(path) as file:
        if file.pdf is None:
            return []
        pages = PageTree(file.pdf).pages[:most]
        spaces = PaintSpaces(file.pdf, conversions_for(load_press("coated")))
        readers = Readers(FontReader(), Layers(file.pdf))
        return [_page_seen(page, number, readers, spaces) for number, page in enumerate(pages, start=1)]


def _page_seen(page: pikepdf.Dictionary, page_number: int, readers: Readers, spaces: PaintSpaces) -> PageSeen:
    geometry = read_geometry(page, PAGE)
    media = geometry.boxes.media
    if media is None:
        return PageSeen(page_number, {}, {}, "the page has no size")
    measured, rewritten = Notes(), Notes()
    with _noting_objects(measured):
        interpreting.interpret_page(page, page_number, geometry.user_unit, media, readers)
    not_drawn = ""
    try:
        with _noting_bytes(rewritten):
            rewriting.rewrite_page(page, geometry.user_unit, media, _context(spaces, media))
    except NotDrawnError as reason:
        not_drawn = reason.reason
    return PageSeen(page_number, measured.streams, rewritten.streams, not_drawn)


def _context(spaces: PaintSpaces, media: Box) -> RewriteContext:
    frame = PlateFrame(media.x0, media.y1, 3, 3 * math.ceil(media.width), 3 * math.ceil(media.height))
    layers = Layers(spaces.pdf)

    def context(masks: RewriteContext | None) -> RewriteContext:
        names, images = ResourceNames(spaces.pdf), PlateImages(spaces)
        return RewriteContext(names, spaces, images, layers, frame, Budget(), PageSummary(), masks)

    return context(context(None))


# Facts: every handler of the table notes what it was given.


@contextmanager
def _noting_objects(notes: Notes) -> Iterator[None]:
    def noting(spelling: str, handle: Callable[..., None]) -> Callable[..., None]:
        def noted(content: Content, operands: list[object]) -> None:
            seen = _seen_of_objects(spelling, operands)
            if seen is not None:
                notes.note(*seen)
            handle(content, operands)

        return noted

    def within(read: Callable[..., None], *, kept: bool = False) -> Callable[..., None]:
        def noted(content: Content, *given: object) -> None:
            chain = content.scope.chain
            with notes.reading(None if kept else chain[-1] if chain else PAGE):
                read(content, *given)

        return noted

    table = {
        spelling: operator
        if operator.handle is None
        else type(operator)(noting(spelling, operator.handle), operator.operands)
        for spelling, operator in MEASURED.items()
    }
    with (
        mock.patch.object(interpreting, "OPERATORS", table),
        mock.patch.object(Content, "read_page", within(Content.read_page)),
        mock.patch.object(Content, "read_stream", within(Content.read_stream)),
        mock.patch.object(Content, "read_kept", within(Content.read_kept, kept=True)),
    ):
        yield


def _seen_of_objects(spelling: str, operands: list[object]) -> Seen | None:
    if spelling == "EI":
        return ("BI",)
    if spelling == "BI" or spelling not in COMPARED:
        return None
    names = [each for each in map(name, operands) if each is not None]
    numbers = [each for each in map(number, operands) if each is not None]
    return _seen(spelling, names, numbers)


# Plates: the handlers of the table note what they were given; runs, which none is given, are cut up again.


@contextmanager
def _noting_bytes(notes: Notes) -> Iterator[None]:
    run, read = Scan.run, Rewriter.read

    def noted_run(scan: Scan, *kind: Any) -> bytes:  # noqa: ANN401 - a pattern, handed on as it is
        copied = run(scan, *kind)
        within = Scan(copied)
        while (instruction := within.instruction()) is not None:
            _note_bytes(notes, *instruction)
        return copied

    def noted_read(rewriter: Rewriter, data: bytes) -> None:
        chain = rewriter.scope.chain
        with notes.reading(chain[-1] if chain else PAGE):
            read(rewriter, data)

    def noting(handle: Callable[..., None]) -> Callable[..., None]:
        def noted(rewriter: Rewriter, operands: bytes, operator: bytes) -> None:
            _note_bytes(notes, operands, operator)
            handle(rewriter, operands, operator)

        return noted

    table = {operator: noting(handle) for operator, handle in REWRITTEN.items()}
    with (
        mock.patch.object(rewriting, "OPERATORS", table),
        mock.patch.object(Scan, "run", noted_run),
        mock.patch.object(Rewriter, "read", noted_read),
    ):
        yield


def _note_bytes(notes: Notes, operands: bytes, operator: bytes) -> None:
    spelling = operator.decode("latin-1")
    if spelling not in COMPARED or (spelling in _TEXT and not operands.strip()):
        return
    texts = spelling in _TEXT
    seen = _seen(spelling, [] if texts else list(names_in(operands)), [] if texts else numbers_in(operands))
    if seen is not None:
        notes.note(*seen)


# What of an instruction is compared.


def _seen(spelling: str, names: list[str], numbers: list[float]) -> Seen | None:
    """An instruction as both readers are to see it; None for one that lacks its operands."""
    if spelling in _NAMED:
        return (spelling, names[-1]) if names else None
    if spelling in _COLOURS:
        return (spelling, *(round(each, 5) for each in numbers), *names[-1:])
    if spelling in _NUMBERS:
        count = OPERANDS[spelling]
        rounded = (round(each, 5) for each in numbers[-count:])
        return (spelling, *rounded) if len(numbers) >= count else None
    return (spelling,)


def _difference(measured: list[Seen], rewritten: list[Seen]) -> str:
    """The first place where two readings differ; empty where there is none."""
    for place, (one, other) in enumerate(zip_longest(measured, rewritten)):
        if one != other:
            return f"instruction {place} is {one} to facts and {other} to plates"
    return ""
