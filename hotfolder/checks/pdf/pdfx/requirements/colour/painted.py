"""Where on the pages something is painted in a colour space, and what."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Final, TypeAlias

from hotfolder.checks.pdf.pdfx.requirement import Breach, Judging, Subject
from hotfolder.model.colour import ColourSpace
from hotfolder.model.geometry import Box
from hotfolder.model.inventory.colour import SpaceTree, UsedSpace
from hotfolder.model.marks import Mark, MarkKind
from hotfolder.model.pages import Page
from hotfolder.wording.lists import listed, shortened

_CALLED: Final = {
    MarkKind.TEXT: "text",
    MarkKind.PATH: "shapes",
    MarkKind.IMAGE: "pictures",
    MarkKind.SHADING: "gradients",
}
_IN_MASK: Final = "a soft mask"
_SOMETHING: Final = "something"
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


@dataclass(slots=True)
class MarksOnPage:
    """The marks of a page: pictures by their object number, all others by the space of their colour."""

    by_picture: dict[str, list[PaintedMark]] = field(default_factory=dict)
    by_space: dict[ColourSpace, list[PaintedMark]] = field(default_factory=dict)

    @classmethod
    def of(cls, page: Page) -> "MarksOnPage":
        """Those on paper: nothing that is clipped away, hidden in print or outside of the media box."""
        marks = cls()
        lists: dict[int, list[PaintedMark]] = {}  # marks share their spaces, which take long to compare
        for mark in page.known_marks:
            if not mark.on_paper or mark.visible is None:
                continue
            painted = PaintedMark(mark.source.object, mark.visible, called(mark))
            if mark.image is not None and mark.image.object is not None and mark.image.colour is not None:
                marks.by_picture.setdefault(mark.image.object, []).append(painted)
                continue
            for colour in mark.colours():
                key = id(colour.space)
                if key not in lists:
                    lists[key] = marks.by_space.setdefault(colour.space, [])
                lists[key].append(painted)
        return marks

    def painted_in(self, used: UsedSpace) -> list[PaintedMark]:
        """What is painted in a space: by the stream that chooses it, or else on the page at all."""
        by_picture = used.picture is not None
        marks = (
            self.by_picture.get(used.picture or "", []) if by_picture else self.by_space.get(used.paint, [])
        )
        return [mark for mark in marks if mark.within == used.within] or marks


@dataclass(slots=True)
class FaultyPaint:
    """What one fault comes to on one page. unclear: marks of it, or of a sound space that looks the same."""

    marks: list[PaintedMark] = field(default_factory=list)
    unclear: bool = False

    @property
    def things(self) -> str:
        """What the marks are together: `text and pictures 12, 14 and 15`."""
        things = list(dict.fromkeys(mark.called for mark in self.marks))
        numbers = [each.removeprefix(_PICTURE) for each in things if each.startswith(_PICTURE)]
        others = [each for each in things if not each.startswith(_PICTURE)]
        if numbers:
            others.append(f"{_PICTURE if len(numbers) == 1 else _PICTURES}{shortened(numbers)}")
        if self.unclear:
            others.append(_SOMETHING)
        return listed(others) if others else _IN_MASK


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
    """What is painted on each page in spaces with a fault, one breach for each page and fault."""
    known: dict[int, str | None] = {}  # pages of a book share their few spaces
    spaces = subject.inventory.colour.spaces
    for used in spaces:
        if id(used.tree) not in known:
            known[id(used.tree)] = fault(used.tree)
    if not any(known.values()):
        return
    # Marks tell their space by what it looks like, and a sound one may look the same.
    sound = {(used.page, used.paint) for used in spaces if not used.picture and known[id(used.tree)] is None}
    pages = {page.number: page for page in subject.pages}
    on_page: dict[int, MarksOnPage] = {}
    faults: dict[tuple[int, str], FaultyPaint] = {}
    for used in spaces:
        words, page = known[id(used.tree)], pages.get(used.page)
        if words is None or page is None:
            continue
        if used.page not in on_page:
            on_page[used.page] = MarksOnPage.of(page)
        marks = on_page[used.page].painted_in(used)
        if marks or used.in_mask:
            paint = faults.setdefault((used.page, words), FaultyPaint())
            if used.picture is None and (used.page, used.paint) in sound:
                paint.unclear = True
            else:
                paint.marks += marks
    for (number, words), paint in faults.items():
        boxes = tuple(dict.fromkeys(mark.box for mark in paint.marks))
        yield Breach(f"{paint.things} {words}", pages[number], boxes)


def _troubled(tree: SpaceTree) -> bool:
    return any(part.trouble is not None for part in tree.parts())
