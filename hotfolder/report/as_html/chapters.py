"""What stands under one plain heading of the measurements."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

# The page is for people; all that was measured stands in the facts' JSON.
_MOST_ROWS: Final = 60


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of words under their columns. The first cell of a row names it. left_out: rows not shown."""

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    left_out: int = 0


@dataclass(frozen=True, slots=True)
class Chapter:
    """One plain heading: a table where there is something to list, sentences where there is not."""

    heading: str
    table: Table | None
    sentences: tuple[str, ...] = ()


def table_of(columns: tuple[str, ...], rows: Sequence[tuple[str, ...]]) -> Table | None:
    """A table of the first `rows`, which says how many more there are; None where there are none."""
    if not rows:
        return None
    return Table(columns, tuple(rows[:_MOST_ROWS]), max(0, len(rows) - _MOST_ROWS))
