"""Annotations on paper (ISO 32000-2, 12.5): which of them print, and where their appearances lie."""

from typing import Final

import pikepdf

from hotfolder.model.geometry import Box
from hotfolder.pdf.objects.matrix import Matrix
from hotfolder.pdf.objects.reading import entry, name, numbers, whole

# Flags (12.5.3, table 167), by their value. NoView is about the screen alone.
_HIDDEN: Final = 2
_PRINT: Final = 4
_NO_VIEW: Final = 32


def annotation_prints(annotation: object) -> bool:
    """Whether an annotation shows on paper by its flags and subtype: Print set, Hidden not set.

    A Popup never does (12.5.6.14). NoView hides an annotation on the screen, not on paper (12.5.3).
    """
    flags = whole(entry(annotation, "/F")) or 0
    return bool(flags & _PRINT) and not flags & _HIDDEN and name(entry(annotation, "/Subtype")) != "Popup"


def annotation_is_seen(annotation: object) -> bool:
    """Whether an annotation has extent, and its flags let it show on the screen or on paper (12.5.3)."""
    rectangle = numbers(entry(annotation, "/Rect"), 4)
    flags = whole(entry(annotation, "/F")) or 0
    if rectangle is None or flags & _HIDDEN or (flags & _NO_VIEW and not flags & _PRINT):
        return False
    x0, y0, x1, y1 = rectangle
    return x0 != x1 and y0 != y1


def normal_appearance(annotation: object) -> pikepdf.Stream | None:
    """The form that shows an annotation in its present state (12.5.5); None where it brings none."""
    normal = entry(entry(annotation, "/AP"), "/N")
    if isinstance(normal, pikepdf.Stream):
        return normal
    state = name(entry(annotation, "/AS"))
    chosen = entry(normal, f"/{state}") if state is not None else None
    return chosen if isinstance(chosen, pikepdf.Stream) else None


def fit_appearance(box: Box, rectangle: Box) -> Matrix | None:
    """The scaling and shift that lays the appearance's box on the annotation's rectangle (12.5.5).

    None where either has no extent: nothing is shown then.
    """
    if not (box.width and box.height and rectangle.width and rectangle.height):
        return None
    across, up = rectangle.width / box.width, rectangle.height / box.height
    return Matrix(across, 0.0, 0.0, up, rectangle.x0 - box.x0 * across, rectangle.y0 - box.y0 * up)
