"""What is painted at a place of a page, in words: a picture, a coloured area, a gradient, text."""

from collections.abc import Iterable, Sequence
from typing import Final

from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.wording.lists import listed

KIND_WORDS: Final = {
    MarkKind.IMAGE: "a picture",
    MarkKind.PATH: "a coloured area",
    MarkKind.SHADING: "a gradient",
    MarkKind.TEXT: "text",
}

# A mark lies at a place where it takes up at least this share of it (own choice).
_SHARE: Final = 0.3
# Places looked at: the words name kinds of things, and the largest places tell them.
_MOST_PLACES: Final = 8


def is_photo(mark: Mark) -> bool:
    """Whether a mark is a picture with more than one colour."""
    return mark.image is not None and not mark.image.flat and not mark.image.line_art


def marks_at(marks: Iterable[Mark], places: Sequence[Box]) -> list[Mark]:
    """The marks that show and take up much of one of `places`, in painting order."""
    looked_at = places[:_MOST_PLACES]
    if not looked_at:
        return []
    x0, y0 = min(box.x0 for box in looked_at), min(box.y0 for box in looked_at)
    x1, y1 = max(box.x1 for box in looked_at), max(box.y1 for box in looked_at)
    there: list[Mark] = []
    for mark in marks:
        box = mark.visible
        if box is None or box.x0 >= x1 or box.x1 <= x0 or box.y0 >= y1 or box.y1 <= y0:
            continue
        if mark.shows and not mark.white and any(_takes_up(box, place) for place in looked_at):
            there.append(mark)
    return there


def kinds_at(marks: Iterable[Mark], places: Sequence[Box]) -> str:
    """Kinds of things at `places`, the topmost first, such as `a picture and a coloured area`."""
    kinds = [KIND_WORDS[mark.kind] for mark in marks_at(marks, places) if mark.kind is not MarkKind.TEXT]
    return listed(dict.fromkeys(reversed(kinds)))


def _takes_up(box: Box, place: Box) -> bool:
    shared = box.cut_by(place)
    return shared is not None and shared.width * shared.height >= _SHARE * place.width * place.height
