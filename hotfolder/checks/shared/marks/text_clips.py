"""Text through which a picture is seen: letters that clip, and what is painted through them.

Such letters leave no ink of their own. A reader reads them all the same, and the picture is their colour.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark

_NOISE: Final = 0.05


@dataclass(frozen=True, slots=True)
class TextClips:
    """The numbers of the texts that are seen as clips, and of the marks that are painted through them."""

    texts: frozenset[int]
    painted: frozenset[int]


def text_clips(marks: Sequence[Mark]) -> TextClips:
    """The texts of a page that clip something which is larger than they are."""
    texts: set[int] = set()
    painted: set[int] = set()
    run: list[int] = []
    around: Box | None = None
    before = -1
    for order, mark in enumerate(marks):
        if mark.text is not None and mark.text.clips:
            if before != order - 1 or around is None:
                run, around = [], mark.box
            run.append(order)
            before = order
            around = Box.around([*around.corners, *mark.box.corners])
        elif around is not None and _is_seen_through(mark, around):
            texts.update(run)
            run = []  # each is counted once, however much is painted through it
            painted.add(order)
    return TextClips(frozenset(texts), frozenset(painted))


def _is_seen_through(mark: Mark, clip: Box) -> bool:
    """Whether a mark is larger than `clip` and shows within it alone."""
    if not mark.shows or mark.visible is None or mark.white:
        return False
    return clip.holds(mark.visible, _NOISE) and not clip.holds(mark.box, _NOISE)
