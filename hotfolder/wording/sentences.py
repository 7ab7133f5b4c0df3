"""Wording that findings share: lists, counts, pages, edges as people see them, figures with units."""

from collections.abc import Iterable, Sequence
from typing import Final

from hotfolder.model.document import Font
from hotfolder.model.findings import Quantity
from hotfolder.model.geometry import Edge
from hotfolder.units import Length, LengthUnit, Size
from hotfolder.wording.shown import shown_name

_CLOCKWISE: Final = (Edge.LEFT, Edge.TOP, Edge.RIGHT, Edge.BOTTOM)
_SHOWN: Final = (Edge.TOP, Edge.BOTTOM, Edge.LEFT, Edge.RIGHT)
_FINE_DECIMALS: Final = {LengthUnit.MM: 2, LengthUnit.CM: 3, LengthUnit.INCH: 3, LengthUnit.POINT: 2}


def counted(number: int, one: str, many: str = "") -> str:
    """`number` with its noun.

    >>> counted(1, "page"), counted(3, "page")
    ('1 page', '3 pages')
    """
    return f"{number} {one if number == 1 else many or one + 's'}"


def listed(items: Iterable[str], last: str = "and") -> str:
    """The items as a sentence lists them.

    >>> listed(["A4", "A5", "A6"], "or")
    'A4, A5 or A6'
    """
    *first, end = list(items) or [""]
    return f"{', '.join(first)} {last} {end}" if first else end


def shortened(items: Sequence[str], most: int = 3) -> str:
    """The first `most` items, and how many more there are."""
    if len(items) <= most:
        return listed(items)
    return f"{', '.join(items[:most])} and {len(items) - most} more"


def pages_told(numbers: Iterable[int], most: int = 6) -> str:
    """Page numbers with runs drawn together; where there are more than `most` runs, how many pages.

    >>> pages_told([1, 2, 3, 7]), pages_told([4])
    ('pages 1 to 3 and 7', 'page 4')
    >>> pages_told(range(1, 40, 2))
    '20 pages from 1 to 39'
    """
    ordered = sorted(set(numbers))
    runs: list[list[int]] = []
    for number in ordered:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    if len(runs) > most:
        return f"{len(ordered)} pages from {ordered[0]} to {ordered[-1]}"
    run_words: list[str] = []
    for run in runs:
        run_words.extend([f"{run[0]} to {run[-1]}"] if len(run) > 2 else [str(number) for number in run])
    return f"{'page' if len(ordered) == 1 else 'pages'} {listed(run_words)}"


def seen_edge(edge: Edge, rotate: int) -> Edge:
    """Where an edge of unrotated user space lies on the page as it is shown.

    `rotate` turns the page clockwise (ISO 32000-2, 7.7.3.3), so at 90 the left edge is on top.
    """
    return _CLOCKWISE[(_CLOCKWISE.index(edge) + rotate // 90) % 4]


def edges_told(edges: Iterable[Edge], rotate: int) -> str:
    """Edges by the names that a person looking at the page gives them.

    >>> edges_told([Edge.LEFT, Edge.TOP], 0), edges_told([Edge.LEFT], 90)
    ('top and left edges', 'top edge')
    """
    seen = {seen_edge(edge, rotate) for edge in edges}
    if len(seen) == len(_SHOWN):
        return "all four edges"
    return f"{listed(edge for edge in _SHOWN if edge in seen)} {'edge' if len(seen) == 1 else 'edges'}"


def quoted(words: str, most: int = 30) -> str:
    """What a piece of text says, in quotes and cut after `most` characters; empty where it is not known."""
    shown = " ".join(shown_name(words).split())
    if not shown:
        return ""
    return f"'{shown}'" if len(shown) <= most else f"'{shown[:most].rstrip()}...'"


def quantity(like: Length, *points: float) -> Quantity:
    """Lengths in points as a quantity in the unit of `like`, rounded to what can be told apart."""
    decimals = _FINE_DECIMALS[like.unit]
    # Adding zero turns a minus zero, which JSON would keep, into zero.
    values = tuple(round(like.like(value).value, decimals) + 0.0 for value in points)
    return Quantity(values, str(like.unit))


def size_quantity(width: float, height: float, like: Size) -> Quantity:
    """A width and a height in points as a quantity in the unit of `like`."""
    return quantity(Length(0, like.unit), width, height)


def plain_font_name(font: Font) -> str:
    """A font's name without the six letters that mark a subset (ISO 32000-2, 9.9.2)."""
    mark, plus, name = font.name.partition("+")
    is_subset = plus and len(mark) == 6 and mark.isupper()
    return shown_name(name if is_subset else font.name) or "a font without a name"
