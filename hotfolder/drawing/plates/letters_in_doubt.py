"""Where on a page letters lie that a pattern or gradient paints and that are drawn only nearly.

Rewriting does not follow where text stands; the facts of the page do.
"""

from collections.abc import Iterator
from typing import Final

from hotfolder.model.artwork import Artwork
from hotfolder.model.colour import Colour
from hotfolder.model.doubts import OUTLINE_BY_PATTERN, PATTERN_IN_TYPE_3, PATTERN_UNDER_MASK
from hotfolder.model.facts import ProblemKind, Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.model.pages import Page

# Where marks may be missing.
_CUT_OFF: Final = frozenset({ProblemKind.LIMIT, ProblemKind.UNREADABLE})


class LettersInDoubt:
    """The places of such letters in a file."""

    def __init__(self, artwork: Artwork) -> None:
        self._drawn_fonts = frozenset(font.name for font in artwork.fonts if font.type3)
        self._cut_off = tuple(each.where for each in artwork.problems if each.kind in _CUT_OFF)

    def places(self, page: Page, reason: str) -> tuple[Box, ...]:
        """Where the letters lie that `reason` is about; none where that is not known, or about letters."""
        whole = not any(where.startswith(f"pages[{page.number}].") for where in self._cut_off)
        if (
            reason not in {PATTERN_IN_TYPE_3, OUTLINE_BY_PATTERN, PATTERN_UNDER_MASK}
            or not whole
            or isinstance(page.marks, Unmeasured)
        ):
            return ()
        boxes = (
            box
            for mark in page.marks
            if mark.kind is MarkKind.TEXT and self._is_meant(mark, reason)
            for box in _where(mark)
        )
        return tuple(dict.fromkeys(boxes))

    def _is_meant(self, mark: Mark, reason: str) -> bool:
        if reason == OUTLINE_BY_PATTERN:
            return _by_pattern(mark.stroke)
        if reason == PATTERN_UNDER_MASK:
            return _by_pattern(mark.fill) and mark.state.soft_mask
        return _by_pattern(mark.fill) and mark.text is not None and mark.text.font in self._drawn_fonts


def _by_pattern(colour: Colour | None) -> bool:
    """Whether a pattern or a gradient paints, which has no one colour, or is given it."""
    return colour is not None and (not colour.components or colour.space.family == "Pattern")


def _where(mark: Mark) -> Iterator[Box]:
    """Where letters lie at most: their lines, and what they ink."""
    seen = mark.text.visible_ink if mark.text is not None else None
    yield from (box for box in (mark.visible, seen) if box is not None)
