"""Tiling patterns (ISO 32000-2, 8.7.3): their cells rewritten, and as many drawn as one as make them exact.

The renderer makes a picture of a cell, in whole pixels, and lays it down at whole pixels: what is small comes
out up to an eighth too heavy or too light. Where many cells are drawn as one, that is little.
"""

import math
from dataclasses import dataclass
from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name

from hotfolder.drawing.rewriting.names import Entries, Making, PassResource
from hotfolder.drawing.rewriting.rewriter import Rewriter, StreamRecord, StreamScope
from hotfolder.drawing.rewriting.script import Script
from hotfolder.errors import NotDrawnError
from hotfolder.model.geometry import Box
from hotfolder.pdf.objects.matrix import IDENTITY, Matrix
from hotfolder.pdf.objects.reading import entry, fingerprint, number, numbers, whole

_LARGE_PX: Final = 256
_MOST_TOGETHER: Final = 40  # along a side
_MOST_BYTES: Final = 2_000_000

# A sheet of 40 megapixels is then laid with some ten million of them, which takes seconds.
_LEAST_PX2: Final = 4.0

_HAIR_LESS: Final = 1 - 1e-5  # a cell of 120.00001 pixels would be drawn on 121


@dataclass(frozen=True, slots=True)
class Tiling:
    """Where the cells of a pattern lie in its space. box: of one. across, up: from one to the next."""

    box: Box
    across: float
    up: float

    def together(self, ctm: Matrix, pixels_per_pt: float, content_bytes: int) -> tuple[int, int]:
        """How many cells, in columns and rows, are drawn as one."""
        sides = self.across * ctm.x_length * pixels_per_pt, self.up * ctm.y_length * pixels_per_pt
        columns, rows = (
            max(1, min(_MOST_TOGETHER, math.ceil(_LARGE_PX / max(side, 1e-6)))) for side in sides
        )
        cells = (columns, rows) if columns * rows * content_bytes <= _MOST_BYTES else (1, 1)
        if cells[0] * sides[0] * cells[1] * sides[1] < _LEAST_PX2:
            raise NotDrawnError("the cells of a pattern are too small to be drawn")
        return cells


class CellResource(PassResource):
    """A tiling pattern.

    record: what a cell draws. together: how many cells, in columns and rows, are drawn as one. entries: those
    that tell its kind.
    """

    def __init__(
        self,
        script: Script,
        record: StreamRecord,
        tiling: Tiling,
        together: tuple[int, int],
        entries: Entries,
    ) -> None:
        self._script = script
        self.record = record
        self._tiling = tiling
        self._columns, self._rows = together
        self._entries = entries

    def made(self, making: Making) -> pikepdf.Object:
        """The pattern in a pass."""
        tiling, box = self._tiling, self._tiling.box
        right = box.x0 + (box.width + (self._columns - 1) * tiling.across) * _HAIR_LESS
        top = box.y0 + (box.height + (self._rows - 1) * tiling.up) * _HAIR_LESS
        bounds = Array([box.x0, box.y0, right, top])
        group = making.stream(self._content(self._script.written(making.into)), _group())
        group.BBox, group.Resources = bounds, making.resources
        made = making.stream(b"/Whole gs /Cells Do", self._entries)
        made.BBox = bounds
        made.XStep, made.YStep = self._columns * tiling.across, self._rows * tiling.up
        made.Resources = Dictionary(
            XObject=Dictionary(Cells=group),
            ExtGState=Dictionary(Whole=Dictionary(ca=1, CA=1, SMask=Name("/None"))),
        )
        return made

    def _content(self, cell: bytes) -> bytes:
        if self._columns == self._rows == 1:
            return cell
        tiling, box = self._tiling, self._tiling.box
        clip = b"%.6f %.6f %.6f %.6f re W n" % (box.x0, box.y0, box.width, box.height)
        return b"".join(
            b"q 1 0 0 1 %.6f %.6f cm %b%b Q\n" % (column * tiling.across, row * tiling.up, clip, cell)
            for row in range(self._rows)
            for column in range(self._columns)
        )


def rewritten_cell(rewriter: Rewriter, stream: pikepdf.Stream, *, uncoloured: bool) -> CellResource:
    """A tiling pattern, its cell rewritten. NotDrawnError where it does not say how large it is."""
    context = rewriter.context
    own = numbers(entry(stream, "/Matrix"), 6)
    matrix = Matrix(*own) if own is not None else IDENTITY
    tiling = _tiling(stream)
    ctm = matrix.then(rewriter.scope.base)
    key = fingerprint(stream)
    resources = rewriter.scope.resources.within(entry(stream, "/Resources"), key)
    chain = rewriter.inner_chain(key)
    scope = StreamScope(
        resources,
        ctm,
        chain,
        placed=False,
        cell=(tiling.across, tiling.up),
        on_screen=rewriter.scope.on_screen,
    )
    inner = rewriter.inner(scope, context.plain_state(ctm))
    inner.measure_lines()
    inner.uncoloured = uncoloured
    if not uncoloured:
        inner.choose_again()
    content = context.content(stream)
    script = inner.rewrite(content)
    together = tiling.together(ctm, context.pixels_per_pt, len(content))
    context.budget.spend_steps(inner.record.cost * together[0] * together[1])
    entries: Entries = {
        "/Type": Name.Pattern,
        "/PatternType": 1,
        "/PaintType": 2 if uncoloured else 1,
        "/TilingType": whole(entry(stream, "/TilingType")) or 1,
        "/Matrix": Array(list(matrix)),
    }
    return CellResource(script, inner.record, tiling, together, entries)


def _tiling(stream: pikepdf.Stream) -> Tiling:
    box = numbers(entry(stream, "/BBox"), 4)
    across, up = (abs(number(entry(stream, step)) or 0.0) for step in ("/XStep", "/YStep"))
    if box is None or not across or not up:
        raise NotDrawnError("a pattern does not say how large it is")
    return Tiling(IDENTITY.bounds(*box), across, up)


def _group() -> Entries:
    """What makes the cells one object (11.6.7): blended one by one, those that meet in a pixel count twice.

    They are then laid down wholly opaque: the renderer applies the opacity and the mask in force to the
    pattern itself.
    """
    return {
        "/Type": Name.XObject,
        "/Subtype": Name.Form,
        "/Group": Dictionary(S=Name.Transparency),
    }
