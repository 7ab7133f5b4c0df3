"""Finds the marks that leave no ink on paper though nothing covers them: masked or blended into nothing.

A mask may hide all of a mark, and white in the blend mode Multiply adds nothing. Only the plates tell the
first: where such a mark lies they are bare. A picture without a mask that lies where they are bare is white,
however its pixels are coded.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind, Masking
from hotfolder.model.pages import Page
from hotfolder.model.plates import PagePlates
from hotfolder.pdf.colour.colour_spaces import is_white

# As for plates as a whole: 1 of 255 is the rounding of a conversion or a blend.
_LEAST_INK: Final = 2
# A line much thinner than a pixel may leave no trace on the plates that are drawn here.
_LEAST_PX: Final = 2
# Pixels read for a page, on all plates together: an illustration may have thousands of masked parts.
_MOST_PIXELS: Final = 12_000_000

# White is the neutral colour of these: what lies beneath stays as it is (ISO 32000-2, 11.3.5.2).
_NEUTRAL_TO_WHITE: Final = frozenset({"Multiply", "Darken", "ColorBurn"})


def with_unseen(page: Page, plates: PagePlates) -> tuple[Mark, ...] | Unmeasured:
    """The marks of `page`, with `unseen` set on those that leave no ink, and `white` on white pictures."""
    if isinstance(page.marks, Unmeasured):
        return page.marks
    unseen = {order for order, mark in enumerate(page.marks) if mark.shows and _adds_nothing(mark)}
    bare = set(_on_bare_paper(page.marks, plates))
    white = {order for order in bare if _is_plain_picture(page.marks[order])}
    unseen |= bare - white
    if not unseen and not white:
        return page.marks
    return tuple(
        replace(mark, unseen=order in unseen, white=order in white) if order in unseen | white else mark
        for order, mark in enumerate(page.marks)
    )


def _adds_nothing(mark: Mark) -> bool:
    """Whether all of it is white, in a blend mode whose neutral colour is white."""
    if mark.state.blend_mode not in _NEUTRAL_TO_WHITE or mark.kind not in {MarkKind.TEXT, MarkKind.PATH}:
        return False
    return all(is_white(colour) for colour in mark.colours())


def _on_bare_paper(marks: tuple[Mark, ...], plates: PagePlates) -> Iterator[int]:
    """The numbers of the marks that may be masked away, or are pictures, and lie where plates are bare."""
    granted = _MOST_PIXELS
    for order, mark in enumerate(marks):
        box = mark.visible
        if not mark.shows or mark.white or mark.repeated or box is None or not _may_vanish(mark):
            continue
        rows, columns = _pixels(box, plates)
        if _is_plain_picture(mark):
            if not _is_bare_amid(rows, columns, plates):
                continue  # by far the most pictures, and told by four pixels
            # Its rim shares pixels with what lies beside it.
            rows, columns = slice(rows.start + 1, rows.stop - 1), slice(columns.start + 1, columns.stop - 1)
        size = (rows.stop - rows.start) * (columns.stop - columns.start)
        granted -= size * len(plates.inks)
        if granted < 0:
            return
        if min(rows.stop - rows.start, columns.stop - columns.start) < _LEAST_PX:
            continue
        if all(int(ink[rows, columns].max(initial=0)) < _LEAST_INK for ink in plates.inks.values()):
            yield order


def _may_vanish(mark: Mark) -> bool:
    """Whether something may take all of a mark away."""
    masked = mark.image is not None and mark.image.masking in {Masking.EXPLICIT, Masking.SOFT}
    blended = mark.state.soft_mask or mark.state.blend_mode != "Normal"
    return masked or blended or _is_plain_picture(mark)


def _is_plain_picture(mark: Mark) -> bool:
    """Whether a picture takes the place of all that lies beneath it: where it leaves no ink, it is white."""
    state = mark.state
    plain = state.blend_mode == "Normal" and not (state.soft_mask or state.overprint_fill)
    return mark.image is not None and mark.image.masking is Masking.NONE and plain and state.fill_opacity == 1


def _is_bare_amid(rows: slice, columns: slice, plates: PagePlates) -> bool:
    """Whether no plate carries anything in the middle of some pixels."""
    row, column = (rows.start + rows.stop) // 2, (columns.start + columns.stop) // 2
    middle = slice(row, row + 1), slice(column, column + 1)
    return all(int(ink[middle].max(initial=0)) < _LEAST_INK for ink in plates.inks.values())


def _pixels(box: Box, plates: PagePlates) -> tuple[slice, slice]:
    """The rows and columns of the pixels that a box touches, within the plates."""
    side, frame = plates.frame.pixel_pt, plates.frame
    top, bottom = math.floor((frame.top - box.y1) / side), math.ceil((frame.top - box.y0) / side)
    left, right = math.floor((box.x0 - frame.left) / side), math.ceil((box.x1 - frame.left) / side)
    return (
        slice(max(top, 0), max(0, min(bottom, frame.height_px))),
        slice(max(left, 0), max(0, min(right, frame.width_px))),
    )
