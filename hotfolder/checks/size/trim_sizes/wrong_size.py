"""A page whose size is none of those that are taken: what it probably is, and what to do about it."""

from typing import Final

from hotfolder.checks.size.trim_sizes.likely_size import bled_size, half_of_spread, known_size
from hotfolder.checks.size.trim_sizes.sized_pages import SizedPage, pages_are, size_in_unit
from hotfolder.checks.size.trim_sizes.trim_settings import ID, WITH_BOXES, TrimSizeSettings
from hotfolder.model.findings import Finding
from hotfolder.units import PAPER_SIZES, Size, plain
from hotfolder.wording.figures import size_quantity
from hotfolder.wording.lists import listed

# A picture of nearly the shape that is wanted: bleed changes it by as much.
_SAME_SHAPE: Final = 0.03


def wrong_size(alike: list[SizedPage], settings: TrimSizeSettings) -> Finding:
    """What is told of pages of one size that is not taken: what it probably is, and where it would belong."""
    first = alike[0]
    width, height = first.seen
    measured = size_in_unit(width, height, first.nearest)
    wanted = listed((str(size) for size in settings.sizes), "or")
    boxes = "" if first.origin is not None else f" {WITH_BOXES}"
    remedy = f"Set the page size to {first.nearest}, adapt the layout to it and export again{boxes}."
    if first.page.raster is not None:
        remedy = f"Make the picture as large as {first.nearest}, with the bleed around it{_at_ppi(first)}."
    tolerance = settings.tolerance.points
    known = known_size(width, height, tolerance)
    bled = bled_size(settings.sizes, width, height, tolerance)
    spread = half_of_spread(settings.sizes, width, height, tolerance)
    code = "wrong" if spread is None else "spread"
    inbox = _other_inbox(first, settings)
    if inbox:
        remedy = f"{inbox}{remedy[:1].lower()}{remedy[1:]}"
    printed = bled_size(PAPER_SIZES, width, height, tolerance) if first.origin is None else None
    if spread is not None:
        also = f", or {known.name} as a whole" if known is not None else ""
        meant = f"That is two pages of {spread} side by side{also}. {wanted} is expected here."
        remedy = f"{inbox}{'e' if inbox else 'E'}xport single pages instead of spreads."
    elif known is not None:
        meant = f"This is {known.name}; {wanted} is expected here."
        remedy = _dropped_elsewhere(known, remedy, first, settings)
    elif bled is not None:
        size, added = bled[0], settings.tolerance.like(bled[1])
        meant = (
            f"That is {size} with {added} more on every side: the bleed seems to be part of the page."
            f" {wanted} is expected here, with the bleed outside it."
        )
        remedy = (
            f"{inbox}{'s' if inbox else 'S'}et the page size to {size}, set the bleed to {added}, then export"
        )
        remedy += " again."
    elif printed is not None:
        size, added = printed[0], settings.tolerance.like(printed[1])
        meant = f"That is {size} with {added} more on every side; {wanted} is expected here."
        remedy = _dropped_elsewhere(size, remedy, first, settings)
    else:
        meant = f"{wanted} is expected here."
    return Finding(
        rule=ID,
        code=code,
        severity=settings.severity_of(code),
        message=f"{pages_are(alike)} {measured} {_how_known(first)}. {meant} It would be cut in the wrong"
        " place or printed at another size.",
        remedy=remedy,
        page=first.page.number,
        boxes=(first.box,),
        measured=size_quantity(width, height, first.nearest),
        required=size_quantity(first.nearest.width, first.nearest.height, first.nearest),
        standard="ISO 32000-2, 14.11.2",
    )


def _other_inbox(sized: SizedPage, settings: TrimSizeSettings) -> str:
    """Where else in the studio such a page is taken, to begin a remedy with; empty for nowhere."""
    (width, height), tolerance = sized.seen, settings.tolerance.points
    for other in settings.elsewhere:
        for size in other.sizes:
            fits = min(way.distance(width, height) for way in (size, size.turned())) <= tolerance
            bled = sized.origin is None and bled_size((size,), width, height, tolerance) is not None
            if fits or bled:
                return f"Wrong inbox? {size} is taken in {other.inbox}: drop it there. If it belongs here: "
    return ""


def _dropped_elsewhere(size: Size, remedy: str, sized: SizedPage, settings: TrimSizeSettings) -> str:
    """The remedy, and before it where the page may belong: the studio's own inbox where one is known."""
    if _other_inbox(sized, settings):
        return remedy
    return f"Drop it where {size.name} is taken, or: {remedy[:1].lower()}{remedy[1:]}"


def _how_known(sized: SizedPage) -> str:
    """What the size of a page is the size of."""
    if sized.origin is not None:
        return "after cutting"
    if sized.page.raster is not None:
        return "as its header says"
    return "as a whole, and the file does not say where it is cut"


def _at_ppi(sized: SizedPage) -> str:
    """What a picture's pixels come to in the size wanted, where it has about that shape; else nothing."""
    raster, nearest, (width, height) = sized.page.raster, sized.nearest, sized.seen
    ratio = width / height * nearest.height / nearest.width
    if raster is None or abs(ratio - 1) > _SAME_SHAPE:
        return ""
    across, _ = raster.turned_px
    return f"; its pixels then come to about {plain(across / nearest.width * 72, 0)} ppi"
