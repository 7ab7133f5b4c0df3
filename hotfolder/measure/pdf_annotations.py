"""Lists a page's annotations as facts (ISO 32000-2, 12.5); their paint is read by the interpreter."""

import pikepdf

from hotfolder.artwork import Annotation, Problem, ProblemKind
from hotfolder.pdf.annotations import annotation_prints, normal_appearance
from hotfolder.pdf.boxes import read_rectangle
from hotfolder.pdf.document_limits import ANNOTATIONS, PARENTS
from hotfolder.pdf.reading import entry, item, items, name, number, text


def read_annotations(
    page: pikepdf.Dictionary, unit: float, where: str, problems: list[Problem]
) -> tuple[Annotation, ...]:
    """The annotations of a page in order; `unit` is the page's user unit.

    One that would paint something in print without saying what it looks like is told in
    `problems`: each reader draws it in its own way.
    """
    array = entry(page, "/Annots")
    found = []
    for index, annotation in enumerate(items(array, ANNOTATIONS), start=1):
        if not isinstance(annotation, pikepdf.Dictionary):
            continue
        box = read_rectangle(entry(annotation, "/Rect"), unit)
        if box is None:
            what = "an annotation has no place on the page; it was left out"
            problems.append(Problem(f"{where}.annotations[{index}]", what, ProblemKind.DAMAGED))
            continue
        fact = Annotation(
            subtype=name(entry(annotation, "/Subtype")) or "unknown",
            box=box,
            prints=annotation_prints(annotation),
            has_appearance=normal_appearance(annotation) is not None,
        )
        found.append(fact)
        extends = box.width > 0 and box.height > 0
        if fact.prints and extends and not fact.has_appearance and _shows_without(annotation, fact.subtype):
            what = (
                f"a printing annotation ({fact.subtype}) does not say what it looks like; "
                "what would be printed is not known"
            )
            problems.append(Problem(f"{where}.annotations", what, ProblemKind.UNSUPPORTED))
    if isinstance(array, pikepdf.Array) and len(array) > ANNOTATIONS:
        what = f"reading stopped after {ANNOTATIONS} annotations"
        problems.append(Problem(f"{where}.annotations", what, ProblemKind.LIMIT))
    return tuple(found)


def _shows_without(annotation: pikepdf.Dictionary, subtype: str) -> bool:
    """Whether readers would draw something for an annotation without appearance.

    A link is only its border; a field only its value, border and background (12.5.6.5, 12.7).
    """
    if isinstance(entry(entry(annotation, "/AP"), "/N"), pikepdf.Dictionary):
        return False  # states with looks, and none for this one: a check box that is off looks like nothing
    match subtype:
        case "Link":
            return _border_width(annotation) > 0
        case "Widget":
            look = entry(annotation, "/MK")
            drawn = any(entry(look, key) is not None for key in ("/BG", "/BC", "/CA"))
            return drawn or _has_value(annotation)
        case _:
            return True


def _border_width(annotation: pikepdf.Dictionary) -> float:
    """The width of the border: from the border style, else the older entry, else 1 (12.5.4)."""
    style = number(entry(entry(annotation, "/BS"), "/W"))
    older = number(item(entry(annotation, "/Border"), 2))
    return next((width for width in (style, older) if width is not None), 1.0)


def _has_value(field: object) -> bool:
    """Whether a field, or one above it that it inherits from, holds a value (12.7.4.1)."""
    for _ in range(PARENTS):
        value = entry(field, "/V")
        if value is not None:
            return (text(value) or name(value) or "Off") not in {"", "Off"}
        field = entry(field, "/Parent")
        if field is None:
            return False
    return False
