"""Reads what the dictionaries of pages say beside their boxes, and their annotations."""

from collections.abc import Iterator, Sequence

import pikepdf

from hotfolder.model.inventory.pages import PageAnnotation, PageEntries, TrapNetwork
from hotfolder.pdf.document.annotations import normal_appearance
from hotfolder.pdf.document.boxes import read_rectangle
from hotfolder.pdf.objects.limits import ANNOTATIONS_PER_PAGE
from hotfolder.pdf.objects.reading import entry, items, name, number


def read_pages(pages: Sequence[pikepdf.Dictionary]) -> tuple[PageEntries, ...]:
    """The entries of all pages, in order."""
    return tuple(_page(page, position) for position, page in enumerate(pages, start=1))


def _page(page: pikepdf.Dictionary, position: int) -> PageEntries:
    annotations = entry(page, "/Annots")
    return PageEntries(
        number=position,
        separated=isinstance(entry(page, "/SeparationInfo"), pikepdf.Dictionary),
        annotations=tuple(_annotations(annotations, number(entry(page, "/UserUnit")) or 1.0)),
        unread_annotations=isinstance(annotations, pikepdf.Array) and len(annotations) > ANNOTATIONS_PER_PAGE,
    )


def _annotations(annotations: object, unit: float) -> Iterator[PageAnnotation]:
    for annotation in items(annotations, ANNOTATIONS_PER_PAGE):
        if isinstance(annotation, pikepdf.Dictionary):
            subtype = name(entry(annotation, "/Subtype")) or ""
            box = read_rectangle(entry(annotation, "/Rect"), unit)
            traps = _trap_network(annotation) if subtype == "TrapNet" else None
            yield PageAnnotation(subtype, box, traps)


def _trap_network(annotation: pikepdf.Dictionary) -> TrapNetwork:
    return TrapNetwork(
        model=name(entry(normal_appearance(annotation), "/PCM")),
        substituted=next(items(entry(annotation, "/FontFauxing"), 1), None) is not None,
    )
