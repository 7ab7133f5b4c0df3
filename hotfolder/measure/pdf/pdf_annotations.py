"""Lists a page's annotations as facts (ISO 32000-2, 12.5); their paint is read by the interpreter."""

from typing import Final

import pikepdf

from hotfolder.model.facts import Problem, ProblemKind
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Annotation
from hotfolder.pdf.document.annotations import annotation_prints, normal_appearance
from hotfolder.pdf.document.boxes import read_rectangle
from hotfolder.pdf.objects.inheritance import lineage
from hotfolder.pdf.objects.limits import ANNOTATIONS_PER_PAGE
from hotfolder.pdf.objects.reading import entry, item, items, name, number, text

_POINTS: Final = ("/QuadPoints", "/L", "/CL", "/Vertices")
_MOST_POINTS: Final = 10_000


def read_annotations(
    page: pikepdf.Dictionary, unit: float, where: str, problems: list[Problem]
) -> tuple[Annotation, ...]:
    """The annotations of a page in order; `unit` is the page's user unit in points.

    An annotation that prints without an appearance stream is added to `problems`: each reader draws it in its
    own way.
    """
    array = entry(page, "/Annots")
    annotations = []
    for index, annotation in enumerate(items(array, ANNOTATIONS_PER_PAGE), start=1):
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
        annotations.append(fact)
        extends = box.width > 0 and box.height > 0
        if fact.prints and extends and not fact.has_appearance and _shows_without(annotation, fact.subtype):
            what = (
                f"a printing annotation ({fact.subtype}) does not say what it looks like; "
                "what would be printed is not known"
            )
            place = _reach(annotation, box, unit)
            problems.append(Problem(f"{where}.annotations", what, ProblemKind.UNSUPPORTED, place))
    if isinstance(array, pikepdf.Array) and len(array) > ANNOTATIONS_PER_PAGE:
        what = f"reading stopped after {ANNOTATIONS_PER_PAGE} annotations"
        problems.append(Problem(f"{where}.annotations", what, ProblemKind.LIMIT))
    return tuple(annotations)


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


def _reach(annotation: pikepdf.Dictionary, box: Box, unit: float) -> Box:
    """How far readers would draw an annotation without appearance, `box` being its rectangle; in points.

    Some are drawn by points of their own, which may lie outside (12.5.6.7 to 12.5.6.13). Lines are as wide as
    the border is.
    """
    lines = [entry(annotation, key) for key in _POINTS]
    lines += items(entry(annotation, "/InkList"), _MOST_POINTS)
    points = []
    for line in lines:
        coordinates = [each for each in map(number, items(line, _MOST_POINTS)) if each is not None]
        points += [(x * unit, y * unit) for x, y in zip(coordinates[::2], coordinates[1::2], strict=False)]
    corners = [(box.x0, box.y0), (box.x1, box.y1)]
    return Box.around([*corners, *points]).grown(_border_width(annotation) * unit)


def _border_width(annotation: pikepdf.Dictionary) -> float:
    """The width of the border, no less than 0: from its style, else from the older entry, else 1 (12.5.4)."""
    style = number(entry(entry(annotation, "/BS"), "/W"))
    older = number(item(entry(annotation, "/Border"), 2))
    return max(0.0, next((width for width in (style, older) if width is not None), 1.0))


def _has_value(field: object) -> bool:
    """Whether a field has a value, or inherits one from a field above it (12.7.4.1)."""
    values = (entry(node, "/V") for node in lineage(field))
    value = next((each for each in values if each is not None), None)
    return (text(value) or name(value) or "Off") not in {"", "Off"}
