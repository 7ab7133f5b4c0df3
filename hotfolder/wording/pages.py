"""Pages, and the edges of a page, by the names that people give them."""

from collections.abc import Iterable
from typing import Final

from hotfolder.model.geometry import Edge
from hotfolder.wording.lists import listed

_CLOCKWISE: Final = (Edge.LEFT, Edge.TOP, Edge.RIGHT, Edge.BOTTOM)
_SHOWN: Final = (Edge.TOP, Edge.BOTTOM, Edge.LEFT, Edge.RIGHT)


def pages_words(numbers: Iterable[int], most: int = 6) -> str:
    """Page numbers with runs drawn together; where there are more than `most` runs, how many pages.

    >>> pages_words([1, 2, 3, 7]), pages_words([4])
    ('pages 1 to 3 and 7', 'page 4')
    >>> pages_words(range(1, 40, 2))
    '20 pages from 1 to 39'
    """
    runs = _runs(numbers)
    count = sum(last - first + 1 for first, last in runs)
    if len(runs) > most:
        return f"{count} pages from {runs[0][0]} to {runs[-1][1]}"
    words: list[str] = []
    for first, last in runs:
        words.extend([f"{first} to {last}"] if last - first > 1 else map(str, range(first, last + 1)))
    return f"{'page' if count == 1 else 'pages'} {listed(words)}"


def page_numbers(numbers: Iterable[int]) -> str:
    """The numbers alone, all of them, with runs drawn together.

    >>> page_numbers([1]), page_numbers([1, 3, 4])
    ('1', '1, 3 to 4')
    """
    return ", ".join(str(first) if first == last else f"{first} to {last}" for first, last in _runs(numbers))


def _runs(numbers: Iterable[int]) -> list[tuple[int, int]]:
    """The first and the last number of each run, in order."""
    runs: list[tuple[int, int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][1] + 1:
            runs[-1] = (runs[-1][0], number)
        else:
            runs.append((number, number))
    return runs


def seen_edge(edge: Edge, rotate: int) -> Edge:
    """Where an edge of unrotated user space lies on the page as it is shown.

    `rotate` turns the page clockwise (ISO 32000-2, 7.7.3.3), so at 90 the left edge is on top.
    """
    return _CLOCKWISE[(_CLOCKWISE.index(edge) + rotate // 90) % 4]


def edges_words(edges: Iterable[Edge], rotate: int) -> str:
    """Edges by the names that a person looking at the page gives them.

    >>> edges_words([Edge.LEFT, Edge.TOP], 0), edges_words([Edge.LEFT], 90)
    ('top and left edges', 'top edge')
    """
    seen = {seen_edge(edge, rotate) for edge in edges}
    if len(seen) == len(_SHOWN):
        return "all four edges"
    return f"{listed(edge for edge in _SHOWN if edge in seen)} {'edge' if len(seen) == 1 else 'edges'}"
