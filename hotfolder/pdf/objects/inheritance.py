"""Entries that a node of a tree has from the nodes above it: attributes of pages, and those of form fields.

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
    """A node and those above it, the nearest first; one that lies above itself is not met twice."""
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
    """What a page has at `key`, and then what those above it have, if pages inherit it.

    The first one holds; where that is junk, readers take the next.
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
