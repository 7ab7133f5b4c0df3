"""The named resources that pages use (ISO 32000-2, 7.8.3), as far as they are missing or somebody else's."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class MissingResource:
    """A resource that is named on a page and is not there. category: as in the file (`Font`, `XObject`)."""

    category: str
    name: str
    page: int


@dataclass(frozen=True, slots=True)
class BorrowedResource:
    """A resource that a form or pattern lacks among its own, so that the page's is taken.

    drawing: the object number of the form or pattern (`12 0`). category: as in the file.
    """

    drawing: str
    category: str
    page: int


@dataclass(frozen=True, slots=True)
class ResourceFacts:
    """What resources pages lack.

    pages_without: the pages that have none, of their own or inherited. drawings_without: the forms and
    patterns that are drawn and have none, by object number.
    """

    missing: tuple[MissingResource, ...] = ()
    borrowed: tuple[BorrowedResource, ...] = ()
    pages_without: tuple[int, ...] = ()
    drawings_without: frozenset[str] = frozenset()
