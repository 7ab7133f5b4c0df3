"""What a page of a wrong size probably is: another paper size, one with its bleed, two pages side by side."""

from collections.abc import Iterable, Iterator
from typing import Final

from hotfolder.units import PAPER_SIZES, Size, mm_to_pt

# A trim box drawn around the bleed, as exporters without a bleed setting make it, is larger by
# the same amount on each side; bleeds are 1 to 10 mm (common practice).
_LEAST_BLEED: Final = mm_to_pt(1)
_LARGEST_BLEED: Final = mm_to_pt(10)
# Two A5 are a millimetre narrower than an A4 (ISO 216 rounds down): just what two tolerances allow.
_NOISE: Final = 0.01


def known_size(width: float, height: float, tolerance: float) -> Size | None:
    """The named paper size that a page has, either way up, within `tolerance` points."""
    for size in PAPER_SIZES:
        if min(way.distance(width, height) for way in (size, size.turned())) <= tolerance:
            return size
    return None


def bled_size(
    sizes: Iterable[Size], width: float, height: float, tolerance: float
) -> tuple[Size, float] | None:
    """That of `sizes` to which a bleed was added on every side, as the page lies; the bleed in points."""
    for way in _ways(sizes):
        beyond, above = (width - way.width) / 2, (height - way.height) / 2
        if abs(beyond - above) <= tolerance and _LEAST_BLEED <= beyond <= _LARGEST_BLEED:
            return way, beyond
    return None


def half_of_spread(sizes: Iterable[Size], width: float, height: float, tolerance: float) -> Size | None:
    """That of `sizes` of which the page holds two, side by side."""
    for way in _ways(sizes):
        if Size(2 * way.width, way.height).distance(width, height) <= 2 * tolerance + _NOISE:
            return way
    return None


def _ways(sizes: Iterable[Size]) -> Iterator[Size]:
    for size in sizes:
        yield size
        yield size.turned()
