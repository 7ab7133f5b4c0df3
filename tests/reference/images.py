"""Compares the images that our pages paint with those that `pdfimages -list` tells of."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import zip_longest
from typing import Final

from hotfolder.model.marks import ImageFacts
from hotfolder.model.pages import Page
from tests.reference.differences import Evidence
from tests.reference.facts import Compared, Kind, same
from tests.reference.poppler import PaintedImage

# pdfimages rounds to whole ppi, and to thousandths below 1; more than that, or 1 %, is a difference.
_PPI_SHARE: Final = 0.01


@dataclass(frozen=True, slots=True)
class _Key:
    """What tells images apart that a page paints: where they come from, and their pixels."""

    page: int
    object: str | None
    width_px: int
    height_px: int

    def __str__(self) -> str:
        return f"page {self.page}, image {self.object or 'inline'}"


@dataclass(frozen=True, slots=True)
class _Ours:
    """An image that one of our pages paints, and the stream that paints it."""

    image: ImageFacts
    source: str | None
    user_unit: float


@dataclass(frozen=True, slots=True)
class _Theirs:
    """A row of poppler's, and the row of its mask."""

    row: PaintedImage
    mask: PaintedImage | None


def compare_images(
    pages: Iterable[Page], theirs: tuple[PaintedImage, ...], evidence: Evidence
) -> Iterator[Compared]:
    """Pairs the images by page, object and pixels, in painting order, and compares the pairs.

    Images in layers that are off are no part of the page for us, nor for poppler. It applies neither
    clipping nor the page's edge, so images that these hide count.
    """
    ours, listed = _ours(pages, evidence), _theirs(theirs)
    for key in dict.fromkeys((*ours, *listed)):
        for our, their in zip_longest(ours[key], listed[key]):
            yield from _pair(key, our, their, evidence)


def _ours(pages: Iterable[Page], evidence: Evidence) -> dict[_Key, list[_Ours]]:
    found = defaultdict[_Key, list[_Ours]](list)
    for page in pages:
        for mark in (*page.known_marks, *page.mask_pictures):
            if mark.image is not None and mark.printed:
                key = _Key(page.number, mark.image.object, mark.image.width_px, mark.image.height_px)
                found[key].append(_Ours(mark.image, mark.source.object, page.user_unit))
    unlisted = evidence.glyph_procedures | evidence.pattern_cells
    for images in found.values():
        # Those that poppler cannot know stand last, so that the others meet their equals.
        images.sort(key=lambda image: image.source in unlisted)
    return found


def _theirs(rows: tuple[PaintedImage, ...]) -> dict[_Key, list[_Theirs]]:
    found = defaultdict[_Key, list[_Theirs]](list)
    for row, after in zip_longest(rows, rows[1:]):
        if not row.is_mask:
            mask = after if after is not None and after.is_mask else None
            found[_Key(row.page, row.object, row.width_px, row.height_px)].append(_Theirs(row, mask))
    return found


def _pair(key: _Key, ours: _Ours | None, theirs: _Theirs | None, evidence: Evidence) -> Iterator[Compared]:
    where = str(key)
    if ours is None:
        difference = evidence.only_theirs(key.page, key.object)
        yield Compared(Kind.PLACED, where, "not painted", "painted", agree=False, difference=difference)
    elif theirs is None:
        difference = evidence.only_ours(key.page, ours.source)
        yield Compared(Kind.PLACED, where, "painted", "not listed", agree=False, difference=difference)
    else:
        yield same(Kind.PLACED, where, "painted", "painted")
        yield from _facts(where, ours, theirs)


def _facts(where: str, ours: _Ours, theirs: _Theirs) -> Iterator[Compared]:
    image, row = ours.image, theirs.row
    yield same(Kind.PIXELS, where, (image.width_px, image.height_px), (row.width_px, row.height_px))
    if theirs.mask is not None:
        mask = (image.mask_width_px, image.mask_height_px)
        yield same(Kind.PIXELS, f"{where}, its mask", mask, (theirs.mask.width_px, theirs.mask.height_px))
    components = 1 if image.colour is None else image.colour.components
    yield same(Kind.DEPTH, where, (image.bits, components), (row.bits, row.components))
    yield _resolution(f"{where}, across", image.x_ppi * ours.user_unit, row.x_ppi)
    yield _resolution(f"{where}, down", image.y_ppi * ours.user_unit, row.y_ppi)


def _resolution(where: str, ours: float, theirs: float) -> Compared:
    """Compares ppi of user space units: poppler does not apply the user unit."""
    rounding = 0.5 if theirs >= 1 else 0.0005
    agree = abs(ours - theirs) <= max(rounding * 1.001, _PPI_SHARE * theirs)
    return Compared(Kind.RESOLUTION, where, f"{ours:.2f}", f"{theirs:g}", agree)
