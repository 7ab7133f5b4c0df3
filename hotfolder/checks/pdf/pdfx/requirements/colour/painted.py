"""Where on the pages something is painted in a colour space, and what."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, TypeAlias

from hotfolder.checks.pdf.pdfx.requirement import Breach, Judging, Subject
from hotfolder.model.colour import ColourSpace
from hotfolder.model.geometry import Box
from hotfolder.model.inventory.colour import SpaceTree, UsedSpace
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.wording.lists import listed, shortened

_CALLED: Final = {
    MarkKind.TEXT: "text",
    MarkKind.PATH: "shapes",
    MarkKind.IMAGE: "pictures",
    MarkKind.SHADING: "gradients",
}
_IN_MASK: Final = "a soft mask"
_PICTURE: Final = "picture "
_PICTURES: Final = "pictures "

# What is wrong with a space, and with which space that it is made of; None where nothing is.
Fault: TypeAlias = Callable[[SpaceTree], str | None]


@dataclass(frozen=True, slots=True)
class PaintedMark:
    """A mark on paper: the stream that paints it, where it lies, and what people call it."""

    within: str | None
    box: Box
    called: str


class PaintedSpaces:
    """What is painted in which space, page by page; each page is looked through at most once.

    What never comes on paper does not count: what is clipped away, on a layer that is off in print, or
    outside of the media box.
    """

    def __init__(self, subject: Subject) -> None:
        self._pages = {page.number: page for page in subject.pages}
        self._marks: dict[int, dict[ColourSpace, list[PaintedMark]]] = {}

    def breaches(self, used: UsedSpace, fault: str) -> Iterator[Breach]:
        """`fault`, said of what is painted in the space; nothing where nothing is.

        fault: goes on after the name of what is painted: `in RGB`.
        """
        page = self._pages.get(used.page)
        marks = self._on_page(used.page).get(used.paint, [])
        own = [mark for mark in marks if mark.within == used.within] or marks
        if page is None or not (own or used.in_mask):
            return
        yield Breach(f"{_things(own)} {fault}", page, tuple(mark.box for mark in own))

    def _on_page(self, number: int) -> dict[ColourSpace, list[PaintedMark]]:
        if number not in self._marks:
            by_space: dict[ColourSpace, list[PaintedMark]] = {}
            # Marks share their spaces, which take long to compare.
            lists: dict[int, list[PaintedMark]] = {}
            page = self._pages.get(number)
            for mark in page.known_marks if page is not None else ():
                box = mark.visible
                if not mark.on_paper or box is None:
                    continue
                for colour in mark.colours():
                    key = id(colour.space)
                    if key not in lists:
                        lists[key] = by_space.setdefault(colour.space, [])
                    lists[key].append(PaintedMark(mark.source.object, box, called(mark)))
            self._marks[number] = by_space
        return self._marks[number]


def _things(marks: Sequence[PaintedMark]) -> str:
    """What marks are together: `text and pictures 12, 14 and 15`."""
    things = list(dict.fromkeys(mark.called for mark in marks)) or [_IN_MASK]
    numbers = [each.removeprefix(_PICTURE) for each in things if each.startswith(_PICTURE)]
    others = [each for each in things if not each.startswith(_PICTURE)]
    if numbers:
        others.append(f"{_PICTURE if len(numbers) == 1 else _PICTURES}{shortened(numbers)}")
    return listed(others)


def called(mark: Mark) -> str:
    """What people call a mark: `text`, `shapes`, `picture 12` by its object number."""
    if mark.image is not None and mark.image.object is not None:
        return f"{_PICTURE}{mark.image.object.split()[0]}"
    return _CALLED[mark.kind]


def faulty(subject: Subject, fault: Fault) -> Iterator[Breach]:
    """What is painted in spaces that `fault` finds something wrong with.

    A space that is none, or that builds on one that is none, has nothing else that could be judged.
    """
    yield from _found(subject, lambda tree: None if _troubled(tree) else fault(tree))


def each_space(fault: Fault) -> Judging:
    """A judging by a fault that spaces have in themselves, whatever the level."""
    return lambda subject, _level: faulty(subject, fault)


def each_troubled_space(fault: Fault) -> Judging:
    """A judging of those spaces that are none, or build on one that is none."""
    return lambda subject, _level: _found(subject, lambda tree: fault(tree) if _troubled(tree) else None)


def _found(subject: Subject, fault: Fault) -> Iterator[Breach]:
    painted = PaintedSpaces(subject)
    known: dict[int, str | None] = {}  # pages of a book share their few spaces
    for used in subject.inventory.colour.spaces:
        key = id(used.tree)
        if key not in known:
            known[key] = fault(used.tree)
        words = known[key]
        if words is not None:
            yield from painted.breaches(used, words)


def _troubled(tree: SpaceTree) -> bool:
    return any(part.trouble is not None for part in tree.parts())
