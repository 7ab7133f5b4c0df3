"""Pages with their finished sizes: how far each is from those that are taken, and which are alike."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from hotfolder.checks.size.trim_sizes.trim_settings import TrimSizeSettings
from hotfolder.model.facts import Unmeasured
from hotfolder.model.geometry import Box
from hotfolder.model.pages import Page, TrimOrigin
from hotfolder.units import Size, mm_to_pt
from hotfolder.wording.pages import pages_words

# More room than this around a size is a sheet of its own; as for placing.
_MOST_ROOM: Final = mm_to_pt(15)


@dataclass(frozen=True, slots=True)
class SizedPage:
    """A page, its finished size, the size it comes nearest to and how far it is from that.

    origin: None where the page does not say where it is cut: its size is then that of all that can be seen.
    """

    page: Page
    box: Box
    nearest: Size
    distance: float
    note: str
    origin: TrimOrigin | None

    @property
    def seen(self) -> tuple[float, float]:
        """Width and height in points, as the page is shown."""
        return _as_seen(self.page, self.box)

    @property
    def upright(self) -> bool | None:
        """Whether the page is higher than wide as it is shown; None for a square."""
        width, height = self.seen
        return None if abs(width - height) < mm_to_pt(1) else height > width


def _as_seen(page: Page, box: Box) -> tuple[float, float]:
    return (box.width, box.height) if page.rotate in {0, 180} else (box.height, box.width)


def visible_area(page: Page) -> Box | None:
    """All that can be seen of a page; None where its size is not known, as that of many pictures is not."""
    media, crop = page.boxes.media, page.boxes.crop
    if isinstance(page.marks, Unmeasured) and page.raster is not None:
        return None
    return media.cut_by(crop) or media if media is not None and crop is not None else media


def may_have_wanted_size(area: Box, settings: TrimSizeSettings) -> bool:
    """Whether a page may be one of the sizes wanted: it is that, or has the same room on every side of it."""
    return any(
        -settings.tolerance.points <= room <= _MOST_ROOM
        and size.grown(room).distance(area.width, area.height) <= settings.tolerance.points
        for each in settings.sizes
        for size in (each, each.turned())
        for room in [(area.width - size.width + area.height - size.height) / 4]
    )


def sized_page(
    page: Page, box: Box, note: str, origin: TrimOrigin | None, settings: TrimSizeSettings
) -> SizedPage:
    """A page with the size that it comes nearest to, whichever way up, and its distance from that."""
    ways = [way for size in settings.sizes for way in (size, size.turned())]
    seen = _as_seen(page, box)
    nearest = min(ways, key=lambda way: way.distance(*seen))
    return SizedPage(page, box, nearest, nearest.distance(*seen), note, origin)


def grouped_by_size(pages: Sequence[SizedPage]) -> Iterator[list[SizedPage]]:
    """The pages in groups of one size as they are shown, to a tenth of a point."""

    def key(each: SizedPage) -> tuple[float, float]:
        width, height = each.seen
        return round(width, 1), round(height, 1)

    for _, group in groupby(sorted(pages, key=key), key):
        yield list(group)


def are_of_one_size(one: SizedPage, other: SizedPage, settings: TrimSizeSettings) -> bool:
    """Whether two pages have the same size, either way up, each within the tolerance."""
    size = Size(one.box.width, one.box.height)
    return (
        min(
            size.distance(other.box.width, other.box.height),
            size.turned().distance(other.box.width, other.box.height),
        )
        <= 2 * settings.tolerance.points
    )


def size_in_unit(width: float, height: float, like: Size) -> str:
    """A size in points as people read it, in the unit of `like`."""
    return str(Size(width, height, "", like.unit))


def pages_are(alike: list[SizedPage]) -> str:
    """The beginning of a sentence: 'Page 1 is', 'Pages 1 and 2 are'."""
    numbers = pages_words(each.page.number for each in alike)
    return f"{numbers[:1].upper()}{numbers[1:]} {'is' if len(alike) == 1 else 'are'}"


def on_pages(alike: list[SizedPage]) -> str:
    """The beginning of a line: 'Page 1:'."""
    numbers = pages_words(each.page.number for each in alike)
    return f"{numbers[:1].upper()}{numbers[1:]}:"
