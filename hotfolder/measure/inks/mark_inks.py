"""Which inks carry text and thin lines that overprint or are transparent.

A letter's colour tells its inks as long as it lies opaque on the page. Black at half its strength lightens
the cyan beneath it and is a shape on two plates; white that multiplies is none on any. The plates show it,
where the ground around a mark is even. So they do for opaque text in a pattern or gradient, which has no one
colour that tells its inks.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from hotfolder.measure.inks.shape_inks import plates_darker_inside, plates_of_shape
from hotfolder.model.colour import ColourKind
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.inks import CELL_PT
from hotfolder.model.marks import PLAIN_BLENDS, Mark, MarkKind
from hotfolder.model.pages import Page
from hotfolder.model.plates import PagePlates, PlateFrame

# Rules about thin lines ask for less: 0.5 mm is the most that is known. Text counts in any size.
THIN_LINE_PT: Final = CELL_PT

# Pixels that are read at once, and those read in all for a page, on all plates together. A paragraph has
# 20,000; a line across a poster has millions, and everything else lies among them. 2,000 words that cannot be
# told together take a tenth of a second and two million pixels.
MOST_PIXELS_AT_ONCE: Final = 60_000
_MOST_PIXELS: Final = 120_000_000

_SMOOTHED_PX: Final = 1  # so far beyond its box a shape may reach by the smoothing of its edges
_GROUND_PT: Final = CELL_PT / 2
_NEAR_PT: Final = 2 * CELL_PT  # the words of a paragraph are this near to one another


def marks_with_inks(page: Page, plates: PagePlates) -> tuple[Mark, ...] | Unmeasured:
    """The marks of `page`, with `inks` set on those whose inks the plates tell.

    On a page that is blended in screen colours these are opaque text in several colours alone: all of the
    page becomes ink by one conversion in the end, opaque marks as well, and no mark's own state decides.
    """
    if isinstance(page.marks, Unmeasured) or not plates.inks:
        return page.marks
    reader = _PlateReader(plates)
    inks_by_order: dict[int, tuple[str, ...]] = {}
    shapes = _shapes(page.marks)
    if _blended_on_screen(page):
        shapes = (shape for shape in shapes if not _mixes(shape.mark))
    for run in _runs(shapes, plates.frame):
        inks_by_order.update(reader.inks(run))
    if not inks_by_order:
        return page.marks
    return tuple(
        replace(mark, inks=inks_by_order[order]) if order in inks_by_order else mark
        for order, mark in enumerate(page.marks)
    )


def _blended_on_screen(page: Page) -> bool:
    space = page.blend_space
    return space is not None and space.kind in {ColourKind.RGB, ColourKind.LAB}


@dataclass(frozen=True, slots=True)
class _MarkShape:
    """A mark whose inks the plates may tell. order: its number among the page's marks. box: its seen part."""

    order: int
    mark: Mark
    box: Box

    def is_painted_like(self, other: "_MarkShape") -> bool:
        """Whether on the same ground both are carried by the same inks."""
        one, two = self.mark, other.mark
        return (one.kind, one.state, one.fill, one.stroke) == (two.kind, two.state, two.fill, two.stroke)


def _shapes(marks: Sequence[Mark]) -> Iterator[_MarkShape]:
    for order, mark in enumerate(marks):
        if mark.shows and not mark.repeated and _is_fine(mark) and (_mixes(mark) or _varies(mark)):
            seen = mark.text.visible_ink if mark.text is not None else None
            box = seen or mark.visible
            if box is not None:
                yield _MarkShape(order, mark, box)


def _is_fine(mark: Mark) -> bool:
    match mark.kind:
        case MarkKind.TEXT:
            return mark.text is not None
        case MarkKind.PATH if mark.fill is None:
            return mark.line_width_pt is not None and mark.line_width_pt <= THIN_LINE_PT
        case MarkKind.PATH:
            return min(mark.box.width, mark.box.height) <= THIN_LINE_PT
        case _:
            return False


def _varies(mark: Mark) -> bool:
    """Whether text is drawn in more colours than one: by a pattern, or by a gradient."""
    colour = mark.fill or mark.stroke
    return mark.kind is MarkKind.TEXT and colour is not None and not colour.components


def _mixes(mark: Mark) -> bool:
    """Whether what a mark puts on paper may depend on what lies beneath."""
    return (
        not _is_opaque(mark)
        or (mark.fill is not None and mark.state.overprint_fill)
        or (mark.stroke is not None and mark.state.overprint_stroke)
    )


def _is_opaque(mark: Mark) -> bool:
    state = mark.state
    return (
        state.blend_mode in PLAIN_BLENDS
        and not state.soft_mask
        and (mark.fill is None or state.fill_opacity >= 1)
        and (mark.stroke is None or state.stroke_opacity >= 1)
    )


def _runs(shapes: Iterable[_MarkShape], frame: PlateFrame) -> Iterator[list[_MarkShape]]:
    """The shapes in their order, in groups: those in a row that are painted alike and near to one another."""
    run: list[_MarkShape] = []
    area = Box(0, 0, 0, 0)
    most = MOST_PIXELS_AT_ONCE * frame.pixel_pt**2
    for shape in shapes:
        joined = _around(area, shape.box)
        if run and (
            not shape.is_painted_like(run[-1])
            or area.grown(_NEAR_PT).cut_by(shape.box) is None
            or joined.width * joined.height > most
        ):
            yield run
            run = []
        area = joined if run else shape.box
        run.append(shape)
    if run:
        yield run


def _around(one: Box, other: Box) -> Box:
    return Box(min(one.x0, other.x0), min(one.y0, other.y0), max(one.x1, other.x1), max(one.y1, other.y1))


@dataclass(frozen=True, slots=True)
class _PixelWindow:
    """A part of the plates: rows and columns of pixels, the last ones not included."""

    top: int
    bottom: int
    left: int
    right: int

    @property
    def pixels(self) -> int:
        """How many there are."""
        return (self.bottom - self.top) * (self.right - self.left)

    def grown(self, by: int, within: "_PixelWindow") -> "_PixelWindow":
        """The part with `by` pixels more on each side, as far as that lies within another."""
        top, left = max(self.top - by, within.top), max(self.left - by, within.left)
        bottom, right = min(self.bottom + by, within.bottom), min(self.right + by, within.right)
        return _PixelWindow(top, max(top, bottom), left, max(left, right))

    def seen_from(self, other: "_PixelWindow") -> tuple[slice, slice]:
        """Its place in what is cut out of the plates as `other`."""
        return (
            slice(self.top - other.top, self.bottom - other.top),
            slice(self.left - other.left, self.right - other.left),
        )


class _PlateReader:
    """Tells the inks of marks by the plates of one page; no more than a granted number of pixels is read."""

    def __init__(self, plates: PagePlates) -> None:
        self._frame = plates.frame
        self._names = tuple(plates.inks)
        self._plates = tuple(plates.inks.values())
        self._all = _PixelWindow(0, plates.frame.height_px, 0, plates.frame.width_px)
        # Beyond the sheet's edge nothing is drawn, and that is no ground.
        self._sheet = self._window(plates.sheet).grown(-1, self._all)
        self._ground_px = max(1, round(_GROUND_PT / plates.frame.pixel_pt))
        self._granted = _MOST_PIXELS // max(1, len(self._plates))

    def inks(self, run: Sequence[_MarkShape]) -> dict[int, tuple[str, ...]]:
        """The inks of a run's shapes by `order`: of all together, else of each whose inks can be told."""
        boxes = [self._window(shape.box).grown(_SMOOTHED_PX, self._sheet) for shape in run]
        whole = _PixelWindow(
            min(box.top for box in boxes), max(box.bottom for box in boxes),
            min(box.left for box in boxes), max(box.right for box in boxes),
        ).grown(self._ground_px, self._sheet)  # fmt: skip
        if not 0 < whole.pixels <= min(2 * MOST_PIXELS_AT_ONCE, self._granted):
            return {}
        self._granted -= whole.pixels
        cut = whole.seen_from(self._all)
        pixels = np.array([plate[cut] for plate in self._plates])
        around = np.ones(pixels.shape[1:], np.bool_)
        for box in boxes:
            around[box.seen_from(whole)] = False
        varies = _varies(run[0].mark)
        together = None if varies else self._inks_of_shape(run[0].mark, pixels, around)
        if together is not None:
            return {shape.order: together for shape in run}
        inks_by_order: dict[int, tuple[str, ...]] = {}
        for shape, box in zip(run, boxes, strict=True) if len(run) > 1 or varies else ():
            near = box.grown(self._ground_px, self._sheet)
            part = near.seen_from(whole)
            if varies:
                alone = self._inks_of_varied_text(
                    shape.mark, pixels[:, *part], around[part], box.seen_from(near)
                )
            else:
                alone = self._inks_of_shape(shape.mark, pixels[:, *part], around[part])
            if alone is not None:
                inks_by_order[shape.order] = alone
        return inks_by_order

    def _inks_of_varied_text(
        self,
        mark: Mark,
        pixels: NDArray[np.uint8],
        around: NDArray[np.bool_],
        place: tuple[slice, slice],
    ) -> tuple[str, ...] | None:
        """The inks of text in several colours; None where they are not known."""
        if _mixes(mark) or not sum(around.shape) <= np.count_nonzero(around) < around.size:
            return None
        inside = np.zeros(around.shape, np.bool_)
        inside[place] = True
        plates = plates_darker_inside(pixels, around, inside)
        return None if plates is None else tuple(self._names[plate] for plate in plates)

    def _inks_of_shape(
        self, mark: Mark, pixels: NDArray[np.uint8], around: NDArray[np.bool_]
    ) -> tuple[str, ...] | None:
        """The inks that carry a shape; None where they are not known, or are those of its colour."""
        # Less ground than half of an outline is a gap between other things; nothing but ground is no shape.
        if not sum(around.shape) <= np.count_nonzero(around) < around.size:
            return None
        shape = plates_of_shape(pixels, around)
        # An opaque mark that takes ink away knocks out, as all do: its colour tells its inks. And a line much
        # thinner than a pixel may leave no trace on the plates that are drawn here.
        if shape is None or (shape.lightens and _is_opaque(mark)):
            return None
        if not shape.plates and mark.kind is not MarkKind.TEXT:
            return None
        return tuple(self._names[plate] for plate in shape.plates)

    def _window(self, box: Box) -> _PixelWindow:
        """The pixels that a box touches."""
        side, frame = self._frame.pixel_pt, self._frame
        return _PixelWindow(
            math.floor((frame.top - box.y1) / side), math.ceil((frame.top - box.y0) / side),
            math.floor((box.x0 - frame.left) / side), math.ceil((box.x1 - frame.left) / side),
        )  # fmt: skip
