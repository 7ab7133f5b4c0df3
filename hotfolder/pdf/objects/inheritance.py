"""Inherited entries of pages and form fields, which the nodes above them in their tree may have.

Source: ISO 32000-2, 7.7.3.4 (inheritance of page attributes), 12.7.4.1 (fields).
"""

from collections.abc import Iterator
from typing import Final

import pikepdf

from hotfolder.pdf.objects.limits import PARENTS
from hotfolder.pdf.objects.reading import entry, identity

# The attributes of a page that the nodes above it may bring (table 31); all others are the page's own.
_INHERITABLE: Final = frozenset({"/Resources", "/MediaBox", "/CropBox", "/Rotate"})


def lineage(node: object) -> Iterator[object]:
    """A page or form field and the nodes above it by Parent, nearest first; a circle is cut."""
    seen: set[str | None] = set()
    for _ in range(PARENTS):
        if not isinstance(node, pikepdf.Dictionary | pikepdf.Stream):
            return
        number = identity(node)
        if number is not None and number in seen:
            return
        seen.add(number)
        yield node
        node = entry(node, "/Parent")


def page_values(page: object, key: str) -> Iterator[object]:
    """A page's entry, and then those of the nodes above it where the entry can be inherited, nearest first.

    The first one counts; where that is malformed, readers take the next.
    """
    for node in lineage(page):
        value = entry(node, key)
        if value is not None:
            yield value
        if key not in _INHERITABLE:
            return


def page_value(page: object, key: str) -> object:
    """A page's entry, its own or an inherited one; None where there is none."""
    return next(page_values(page, key), None)
