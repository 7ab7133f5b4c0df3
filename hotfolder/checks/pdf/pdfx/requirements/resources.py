"""Requirements on the fonts, pictures, colours and states that a page names."""

from collections.abc import Iterator
from typing import Final

from hotfolder.checks.pdf.pdfx.places import places_of
from hotfolder.checks.pdf.pdfx.requirement import Breach, Requirement, Subject
from hotfolder.checks.shared.pdfx_levels import ALL, Level
from hotfolder.model.geometry import Box
from hotfolder.model.marks import Mark
from hotfolder.wording.shown import shown_name

_CALLED: Final = {
    "Font": "the font",
    "XObject": "the picture or drawing",
    "ColorSpace": "the colour space",
    "ExtGState": "the graphics state",
    "Pattern": "the pattern",
    "Shading": "the gradient",
}
_KINDS: Final = {
    "Font": "a font",
    "XObject": "a picture or drawing",
    "ColorSpace": "a colour space",
    "Pattern": "a pattern",
}

# Operators choose these by a name among the resources; other spaces may be a default for a device space.
_NAMED_SPACES: Final = frozenset({"Separation", "DeviceN", "Indexed"})


def _missing(subject: Subject, _level: Level) -> Iterator[Breach]:
    pages = {page.number: page for page in subject.pages}
    for resource in subject.inventory.resources.missing:
        called = _CALLED.get(resource.category, resource.category)
        named = f" '{shown_name(resource.name)}'" if resource.name else ""
        yield Breach(f"{called}{named} is named and not there", pages.get(resource.page))


def _pages_have_them(subject: Subject, _level: Level) -> Iterator[Breach]:
    pages = {page.number: page for page in subject.pages}
    for number in subject.inventory.resources.pages_without:
        yield Breach("the page has no list of fonts, pictures and colours (Resources)", pages.get(number))


def _own(subject: Subject, _level: Level) -> Iterator[Breach]:
    pages = {page.number: page for page in subject.pages}
    borrowed = subject.inventory.resources.borrowed
    without = subject.inventory.resources.drawings_without
    places = places_of(subject, frozenset(each.drawing for each in borrowed))
    for each in borrowed:
        page = pages.get(each.page)
        boxes = next((boxes for at, boxes in places.get(each.drawing, []) if at is page), ())
        yield Breach(_taken(each.drawing, each.category), page, boxes)
    for page in subject.pages if without else ():
        taken: dict[tuple[str, str], list[Box]] = {}
        for mark in page.known_marks:
            drawing, category = mark.source.object, _category(mark)
            if drawing in without and category is not None:
                taken.setdefault((drawing, category), []).append(mark.box)
        for (drawing, category), around in taken.items():
            yield Breach(_taken(drawing, category), page, tuple(around))


def _taken(drawing: str, category: str) -> str:
    return f"drawing {drawing.split(maxsplit=1)[0]} takes {_KINDS[category]} of the page around it"


def _category(mark: Mark) -> str | None:
    """What a mark needs a resource for; None where it may do without any."""
    if mark.text is not None:
        return "Font"
    if mark.image is not None and mark.image.object is not None:
        return "XObject"
    named = any(colour.space.family in _NAMED_SPACES for colour in mark.colours())
    return "ColorSpace" if named else None


RESOURCES: Final = (
    Requirement(
        id="missing-resource",
        wants="wants all fonts, pictures, colours and states that a page names to be in the file",
        levels=ALL,
        why="What should be painted with them is missing, or comes out in some other way.",
        remedy="Export the artwork again; if it is missing still, place or choose it anew in the original.",
        source="ISO 32000-2, 7.8.3: names in content refer to entries of its resource dictionary",
        judge=_missing,
        of_content=True,
    ),
    Requirement(
        id="page-resources",
        wants="wants a list of resources for each page, of its own or of the pages that it is among",
        levels=ALL,
        why="Some programs do not open a page without it.",
        remedy="Export the artwork again; if the page is blank, leave it out or place something on it.",
        source="ISO 32000-2, 7.7.3.3, table 31: Resources is required, and may be inherited",
        judge=_pages_have_them,
    ),
    Requirement(
        id="own-resources",
        wants="wants each drawing on a page to have its own fonts, pictures and colours",
        levels=ALL,
        unconfirmed=ALL,
        why="Programs that do not look for them on the page around it leave these out.",
        remedy="Export the artwork again with a newer program, or through a PDF library that writes it anew.",
        source="ISO 32000-2, 7.8.3: that a form does without is a practice of PDF 1.1, which files should not"
        " follow",
        judge=_own,
        of_content=True,
    ),
)
