"""Narrows down where plates of knockout groups (ISO 32000-2, 11.4.6) are in doubt: where their parts overlap.

Each element of such a group is composited with the group's initial backdrop. The plates are drawn as if it
were composited with the elements before it; where those do not lie beneath it, or it is opaque and does not
overprint, that is the same.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from hotfolder.model.doubts import KNOCKOUT
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.inks import Doubt
from hotfolder.model.marks import PLAIN_BLENDS, Mark, Masking
from hotfolder.model.pages import Page

# More parts are not compared with one another, nor more places told apart.
_MOST_PARTS: Final = 400
_MOST_PLACES: Final = 20
_TOUCH_PT: Final = 0.01  # parts that share an edge do not lie over one another

# The blend modes whose result has no more of an ink than the two that are blended have together; that follows
# from the formulas of 11.3.5.2 with 1 less the ink for the colour. Others, such as Difference, lay ink where
# neither had any.
_ADDING_AT_MOST: Final = frozenset(
    {
        "Normal", "Compatible", "Multiply", "Screen", "Overlay", "Darken", "Lighten", "ColorDodge",
        "ColorBurn", "HardLight", "SoftLight",
    }
)  # fmt: skip


def narrowed_doubts(page: Page, doubts: Sequence[Doubt]) -> tuple[Doubt, ...]:
    """The doubts about a page's plates; those about knockout groups cover only where their parts overlap."""
    narrowed: list[Doubt] = []
    for doubt in doubts:
        places = _places(page, doubt.box) if doubt.reason == KNOCKOUT else None
        if places is None:
            narrowed.append(doubt)
        else:
            narrowed.extend(replace(doubt, box=box, summed=_is_summed(page, box)) for box in places)
    return tuple(dict.fromkeys(narrowed))


def _places(page: Page, within: Box) -> list[Box] | None:
    """Where parts that are not opaque lie over others; None where that is not known."""
    if isinstance(page.marks, Unmeasured):
        return None
    parts = [mark for mark in page.marks if mark.state.knockout_group and mark.on_paper]
    # A repeated mark stands for many places, which are not known.
    if any(mark.repeated for mark in parts) or len(parts) > _MOST_PARTS:
        return None
    boxes = [_seen(mark) for mark in parts]
    if not any(_shines_through(mark) for mark in parts):
        return None  # what is not opaque is none of the marks
    places: list[Box] = []
    for number, part in enumerate(parts):
        if _shines_through(part):
            for before, below in zip(parts[:number], boxes, strict=False):
                shared = boxes[number].cut_by(below) if before.knockout == part.knockout else None
                place = shared.cut_by(within) if shared is not None else None
                if place is not None and min(place.width, place.height) > _TOUCH_PT:
                    places = _joined(places, place)
    return places if len(places) <= _MOST_PLACES else [_around(places)]


def _joined(places: list[Box], place: Box) -> list[Box]:
    """The places with one more; those that it overlaps are drawn together with it."""
    apart: list[Box] = []
    for other in places:
        if place.cut_by(other) is None:
            apart.append(other)
        else:
            place = _around([place, other])
    return [*apart, place]


def _around(boxes: Sequence[Box]) -> Box:
    return Box.around([corner for box in boxes for corner in box.corners])


def _seen(mark: Mark) -> Box:
    """All that a mark may paint: letters reach beyond the box that their font declares."""
    box = mark.visible or mark.box
    if mark.text is not None:
        box = _around([box, mark.text.visible_ink or box]).grown(mark.text.size_pt / 4)
    return box


def _shines_through(mark: Mark) -> bool:
    state = mark.state
    masked = mark.image is not None and mark.image.masking is Masking.SOFT
    opaque = state.fill_opacity >= 1 and state.stroke_opacity >= 1
    opaque = opaque and not (state.overprint_fill or state.overprint_stroke)
    return masked or state.soft_mask or not opaque or state.blend_mode not in PLAIN_BLENDS


def _is_summed(page: Page, place: Box) -> bool:
    """Whether no more of an ink can lie in a place than all that is painted there has of it together."""
    if page.sets_transfer:
        return False
    return all(
        mark.state.blend_mode in _ADDING_AT_MOST
        for mark in page.known_marks
        if mark.on_paper and _seen(mark).cut_by(place) is not None
    )
