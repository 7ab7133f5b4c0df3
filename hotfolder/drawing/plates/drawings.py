"""The drawings that a page's plates are made of: of all of it, and of places of it, closely."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import pikepdf
from pikepdf import Array, Dictionary, Name

from hotfolder.drawing.plates.frames import Laid
from hotfolder.drawing.plates.renderer import PlateRenderer
from hotfolder.drawing.rewriting.context import RewriteContext
from hotfolder.drawing.rewriting.passes import Pass
from hotfolder.drawing.rewriting.script import Script
from hotfolder.drawing.spaces.view import Showing
from hotfolder.model.geometry import Box
from hotfolder.model.plates import Bytes, PlateFrame

# Passes are written into one document, which holds their pictures; for larger drawings one by one.
_SMALL_PX: Final = 2_000_000

# Of a page's documents, whose pictures are kept at hand for places of it to be drawn again: a photo of
# 70 x 100 cm takes 25 MB.
_KEPT_BYTES: Final = 32_000_000

_FINE_ENOUGH: Final = 6  # pixels a millimetre: for letters with hard edges to be as heavy as they are

_HAIR: Final = 1e-3  # what is less of a pixel is rounding


@dataclass(slots=True)
class PageDrawings:
    """A rewritten page, drawn pass by pass.

    laid: its sheet and the frame that it was rewritten for. bytes_written: how large the documents are in
    which it was drawn as a whole.
    """

    passes: Sequence[Pass]
    script: Script
    context: RewriteContext
    laid: Laid
    user_unit: float
    bytes_written: int = 0

    def whole(self) -> Iterator[tuple[Pass, Bytes]]:
        """Each pass, and the picture of the page in it.

        Where the page is laid back as it was before, that is drawn first, from the first place to the last.
        """
        laid_back = self.context.laid_back
        for number in range(laid_back.count):
            laid_back.until = number
            for each, picture in self._pictures():
                laid_back.before[number, each] = picture
        laid_back.until = None
        for each, picture in self._pictures():
            _fade_at_edges(picture, self.laid)
            yield each, picture

    @property
    def can_be_drawn_closely(self) -> bool:
        """Whether what the page shows is still at hand, once it was drawn as a whole."""
        return self.bytes_written <= _KEPT_BYTES

    def closely(
        self, passes: Sequence[Pass], places: Sequence[PlateFrame]
    ) -> Iterator[tuple[Pass, list[Bytes]]]:
        """Some of the passes, and the pictures of the places in each.

        places: within the page's frame, finer than it, and all as fine as one another. Pictures on the page
        are no finer than in the drawing of the whole page; letters, lines and shapes are.
        """
        finer = places[0].px_per_mm // self.laid.frame.px_per_mm
        close = [replace(each, finer=finer) for each in passes]
        with self._written(close) as renderer:
            for index, each in enumerate(passes):
                yield each, renderer.drawn_at(index, places, grey=_is_grey(each), hard_text=self._hard(each))

    def _pictures(self) -> Iterator[tuple[Pass, Bytes]]:
        """The picture of each pass as the renderer gives it."""
        frame = self.laid.frame
        together = len(self.passes) if frame.width_px * frame.height_px <= _SMALL_PX else 1
        for start in range(0, len(self.passes), together or 1):
            batch = self.passes[start : start + together]
            with self._written(batch) as renderer:
                self.bytes_written += renderer.bytes_held
                if not self.can_be_drawn_closely:
                    self.context.drop_pictures()
                for index, each in enumerate(batch):
                    yield each, renderer.drawn(index, grey=_is_grey(each), hard_text=self._hard(each))

    def _hard(self, each: Pass) -> bool:
        # The grey of a half covered pixel is other inks than half of a black letter's: where pixels
        # become inks one by one, and many of them one of the plates', letters have hard edges.
        return each.view.showing is Showing.BLENDED and self.laid.frame.px_per_mm >= _FINE_ENOUGH

    def _written(self, passes: Sequence[Pass]) -> PlateRenderer:
        """A document with the page in each of several passes."""
        context, frame = self.context, self.laid.frame
        with pikepdf.new() as document:
            for each in passes:
                making = context.names.made(each)
                page = Dictionary(
                    Type=Name.Page,
                    MediaBox=_frame_box(frame.box, self.user_unit),
                    Resources=making.resources,
                    Contents=making.stream(self.script.written(each)),
                )
                document.pages.append(pikepdf.Page(context.pdf.make_indirect(page)))
            return PlateRenderer(document, frame, context.budget.until)


def _is_grey(each: Pass) -> bool:
    return len(each.plates) == 1


def _fade_at_edges(picture: Bytes, laid: Laid) -> None:
    """Makes pixels that lie only partly on the sheet as pale as that: the renderer cuts at whole pixels."""
    frame, sheet = laid.frame, laid.sheet
    places = [(x - frame.left) / frame.pixel_pt for x in (sheet.x0, sheet.x1)]
    places += [(frame.top - y) / frame.pixel_pt for y in (sheet.y1, sheet.y0)]
    for number, place in enumerate(places):
        at = math.floor(place)
        share = place - at if number % 2 else 1 - (place - at)
        lines = picture[:, at : at + 1] if number < 2 else picture[at : at + 1]
        if _HAIR < share < 1 - _HAIR:
            lines[...] = 255 - (255 - lines) * share


def _frame_box(box: Box, user_unit: float) -> Array:
    return Array([each / user_unit for each in (box.x0, box.y0, box.x1, box.y1)])
