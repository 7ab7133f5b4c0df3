"""Plates of a page, built step by step; places are millimetres from the lower left corner of the trim."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from hotfolder.checks.ink.total_ink import TotalInkSettings
from hotfolder.checks.shared.plates.technical import counts_as_ink
from hotfolder.measure.inks.ink_areas import InkLimits, heavy_ink
from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import PROCESS_INKS
from hotfolder.model.document import Layer
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box, Edge
from hotfolder.model.inks import Cells, ColourShift, Doubt, EdgePaint, PageInk, Plate
from hotfolder.model.pages import Page
from hotfolder.model.plates import Bytes, PlateFrame
from hotfolder.units import mm_to_pt
from tests.artwork.files import artwork
from tests.artwork.flyer import Flyer

_PX_PER_MM = 3
STEP_MM = 1 / 3  # as plates are drawn: three pixels a millimetre

Reach = Callable[[float], float | None]
"""How far paint runs beyond an edge, in mm, at a place along it; None where none touches the trim."""


@dataclass(frozen=True)
class Plates:
    """The plates of a flyer; each method returns new ones with a change."""

    flyer: Flyer
    room_mm: int
    coverage: Mapping[str, bytes]
    edges: Mapping[Edge, Reach]
    shift: ColourShift | None = None
    press: str | None = "coated"
    limits: InkLimits | None = None
    layers: tuple[Layer, ...] = ()
    doubts: tuple[Doubt, ...] = ()

    @property
    def columns(self) -> int:
        return round(self.flyer.width_mm) + 2 * self.room_mm

    @property
    def rows(self) -> int:
        return round(self.flyer.height_mm) + 2 * self.room_mm

    def with_ink(self, ink: str, percent: float, at_mm: tuple[float, float, float, float]) -> "Plates":
        """So much of an ink over a rectangle; cells that it covers in part carry their share."""
        plate = bytearray(self.coverage.get(ink, bytes(self.rows * self.columns)))
        x0, y0, x1, y1 = at_mm
        for row in range(self.rows):
            bottom = self.flyer.height_mm + self.room_mm - row - 1
            down = max(0.0, min(y1, bottom + 1) - max(y0, bottom))
            for column in range(self.columns) if down else ():
                left = column - self.room_mm
                across = max(0.0, min(x1, left + 1) - max(x0, left))
                if across:
                    plate[row * self.columns + column] = round(percent * 2.55 * across * down)
        return replace(self, coverage={**self.coverage, ink: bytes(plate)})

    def with_inks(self, at_mm: tuple[float, float, float, float], *cmyk: float) -> "Plates":
        """So much of cyan, magenta, yellow and black over a rectangle."""
        done = self
        for ink, percent in zip(PROCESS_INKS, cmyk, strict=True):
            done = done.with_ink(ink, percent, at_mm)
        return done

    def with_edge(self, edge: Edge, reach: Reach | float | None) -> "Plates":
        """How far paint runs beyond an edge: the same everywhere, or as a function of the place."""
        function: Reach = reach if callable(reach) else lambda _: reach
        return replace(self, edges={**self.edges, edge: function})

    def with_shift(self, shift: ColourShift) -> "Plates":
        """How the colours of the page move."""
        return replace(self, shift=shift)

    def with_doubt(
        self,
        reason: str,
        at_mm: tuple[float, float, float, float],
        *,
        undrawn: bool = False,
        summed: bool = False,
    ) -> "Plates":
        """A rectangle where other ink may lie than the plates show; undrawn, summed: as `Doubt` has them."""
        trim = self.flyer.trim_box
        x0, y0, x1, y1 = map(mm_to_pt, at_mm)
        box = Box(trim.x0 + x0, trim.y0 + y0, trim.x0 + x1, trim.y0 + y1)
        return replace(self, doubts=(*self.doubts, Doubt(reason, box, undrawn, summed)))

    def page(self) -> Page:
        """The facts of the page, its inks included."""
        box = self.flyer.trim_box
        corner = box.grown(mm_to_pt(self.room_mm))
        plates = tuple(
            Plate(ink, sum(cells) / len(cells) / 2.55, max(cells) / 2.55, cells)
            for ink, cells in self.coverage.items()
        )
        most = max((sum(cells) for cells in zip(*self.coverage.values(), strict=True)), default=0) / 2.55
        ink = PageInk(
            cells=Cells(corner.x0, corner.y1, self.columns, self.rows),
            plates=plates,
            max_percent=most,
            max_1mm2_percent=most,
            edges=tuple(self._edge(edge, box) for edge in Edge),
            shift=self.shift,
            doubts=self.doubts,
        )
        page = replace(self.flyer.page(), ink=ink)
        if self.limits is None:
            return page
        pixels = {plate.ink: self._pixels(plate.coverage) for plate in plates}
        frame = PlateFrame(
            corner.x0, corner.y1, _PX_PER_MM, self.columns * _PX_PER_MM, self.rows * _PX_PER_MM
        )
        return replace(page, ink=replace(ink, heavy=heavy_ink(pixels, frame, page, most, self.limits)))

    def _pixels(self, cells: bytes) -> Bytes:
        """A plate whose cells are even."""
        each = np.frombuffer(cells, np.uint8).reshape(self.rows, self.columns)
        return each.repeat(_PX_PER_MM, axis=0).repeat(_PX_PER_MM, axis=1)

    def looked_at(self, settings: TotalInkSettings) -> "Plates":
        """The plates with the areas that a rule about total ink asks for."""
        counts = counts_as_ink(self.artwork(), settings.technical)
        return replace(self, limits=InkLimits(settings.figures, counts))

    def artwork(self) -> Artwork:
        """A PDF file with this page alone, its plates drawn for a press."""
        piece = replace(artwork(self.page()), press=self.press)
        assert piece.pdf is not None
        return replace(piece, pdf=replace(piece.pdf, layers=self.layers))

    def _edge(self, edge: Edge, trim: Box) -> EdgePaint:
        upright = edge in {Edge.LEFT, Edge.RIGHT}
        start, length = (trim.y0, self.flyer.height_mm) if upright else (trim.x0, self.flyer.width_mm)
        reach = self.edges.get(edge, _untouched)
        steps = [reach((step + 0.5) * STEP_MM) for step in range(round(length / STEP_MM))]
        media = self.flyer.boxes.media
        return EdgePaint(
            edge=edge,
            start=start,
            step_pt=mm_to_pt(STEP_MM),
            reach_pt=tuple(None if each is None else mm_to_pt(each) for each in steps),
            sheet_pt=0.0 if media is None else media.beyond(edge, trim),
        )


def _untouched(_: float) -> None:
    return None


def plates(of: Flyer, room_mm: int = 3) -> Plates:
    """Bare plates of a flyer: nothing on them, and nothing that touches the trim."""
    return Plates(of, room_mm, {}, {})


def without_plates(of: Flyer, reason: str = "the file names no press for its screen colours") -> Artwork:
    """A file whose plates could not be drawn, though a press is named."""
    return replace(artwork(replace(of.page(), ink=Unmeasured("ink", reason))), press="coated")
