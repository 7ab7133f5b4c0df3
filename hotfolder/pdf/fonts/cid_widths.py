"""Widths of a CIDFont: W and DW across, W2 and DW2 down (ISO 32000-2, 9.7.4.3)."""

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import pikepdf

from hotfolder.pdf.objects.reading import entry, item, items, number, numbers, whole

# A CID has 16 bits, so no honest W array holds more than three entries for each, those of arrays within it
# included: the same one may stand in it a hundred thousand times.
_MOST_ENTRIES: Final = 3 * 65_536


@dataclass(frozen=True, slots=True)
class WidthRun:
    """CIDs `first` to `last` with their figures, in em: one tuple for each CID, or a single one for all."""

    first: int
    last: int
    figures: tuple[tuple[float, ...], ...]

    def of(self, cid: int) -> tuple[float, ...]:
        """The figures of `cid`, which lies in this run."""
        return self.figures[0] if len(self.figures) == 1 else self.figures[cid - self.first]


@dataclass(frozen=True, slots=True)
class CidWidths:
    """The widths of a CIDFont, in em.

    across: runs of W, with the width. down: runs of W2, with the vertical displacement and the position
    vector.
    """

    across: tuple[WidthRun, ...]
    down: tuple[WidthRun, ...]
    default_width: float
    default_down: tuple[float, float]  # height of the vertical origin, vertical displacement

    def given(self, cid: int) -> float | None:
        """The width of `cid` in W; None where it has the default width."""
        figures = _find(self.across, cid)
        return figures[0] if figures is not None else None

    def vertical(self, cid: int) -> tuple[float, tuple[float, float]]:
        """The vertical displacement of `cid` (down is negative), and its position vector (9.7.4.3)."""
        figures = _find(self.down, cid)
        if figures is not None:
            return figures[0], (figures[1], figures[2])
        width = self.given(cid)
        middle = (self.default_width if width is None else width) / 2
        return self.default_down[1], (middle, self.default_down[0])


def read_cid_widths(descendant: object) -> CidWidths:
    """The widths that a CIDFont dictionary gives; the standard's defaults where it gives none."""
    default = number(entry(descendant, "/DW"))
    down = numbers(entry(descendant, "/DW2"), 2) or (880.0, -1000.0)
    return CidWidths(
        across=_runs(entry(descendant, "/W"), 1),
        down=_runs(entry(descendant, "/W2"), 3),
        default_width=(1000.0 if default is None else default) / 1000,
        default_down=(down[0] / 1000, down[1] / 1000),
    )


def _runs(array: object, size: int) -> tuple[WidthRun, ...]:
    """The runs of a W (`size` 1) or W2 (`size` 3) array, sorted; reading ends at the first nonsense."""
    return tuple(sorted(_read_runs(array, size), key=lambda run: run.first))


def _read_runs(array: object, size: int) -> Iterator[WidthRun]:
    values, left = items(array, _MOST_ENTRIES), _MOST_ENTRIES
    for value in values:
        first, following = whole(value), next(values, None)
        if first is None:
            return
        if isinstance(following, pikepdf.Array):
            figures = [_thousandth(item(following, at)) for at in range(min(len(following), left))]
            left -= len(figures)
            groups = tuple(tuple(figures[at : at + size]) for at in range(0, len(figures) - size + 1, size))
            if groups:
                yield WidthRun(first, first + len(groups) - 1, groups)
            continue
        last = whole(following)
        if last is None:
            return
        yield WidthRun(first, last, (tuple(_thousandth(next(values, None)) for _ in range(size)),))


def _thousandth(value: object) -> float:
    return (number(value) or 0.0) / 1000


def _find(runs: tuple[WidthRun, ...], cid: int) -> tuple[float, ...] | None:
    at = bisect_right(runs, cid, key=lambda run: run.first) - 1
    return runs[at].of(cid) if at >= 0 and cid <= runs[at].last else None
