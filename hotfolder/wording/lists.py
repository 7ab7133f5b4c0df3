"""Counts and lists as a sentence has them."""

from collections.abc import Iterable, Sequence


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
