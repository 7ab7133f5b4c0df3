"""Reads which named resources pages, forms and patterns lack (ISO 32000-2, 7.8.3)."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import pikepdf

from hotfolder.model.inventory.resources import BorrowedResource, MissingResource, ResourceFacts
from hotfolder.pdf.content.uses import Use, UseKind
from hotfolder.pdf.language.short_names import full_colour_space
from hotfolder.pdf.objects.inheritance import page_value
from hotfolder.pdf.objects.limits import LIST_ENTRIES
from hotfolder.pdf.objects.reading import entry, fingerprint, identity, keys, name

_CATEGORIES: Final[Mapping[UseKind, str]] = {
    UseKind.IMAGE: "XObject",
    UseKind.FORM: "XObject",
    UseKind.OTHER_XOBJECT: "XObject",
    UseKind.PATTERN: "Pattern",
    UseKind.FONT: "Font",
    UseKind.SPACE: "ColorSpace",
}
_DRAWINGS: Final = frozenset({UseKind.FORM, UseKind.PATTERN})
_NO_RESOURCE: Final = frozenset({"DeviceGray", "DeviceRGB", "DeviceCMYK", "Pattern"})


def read_resources(pages: Sequence[pikepdf.Dictionary], uses: Sequence[Use]) -> ResourceFacts:
    """The facts of resources; nothing is raised for what a file says."""
    missing = dict.fromkeys(_missing(uses))
    return ResourceFacts(
        missing=tuple(missing),
        borrowed=tuple(dict.fromkeys(_borrowed(uses))),
        pages_without=tuple(
            number
            for number, page in enumerate(pages, start=1)
            if not isinstance(page_value(page, "/Resources"), pikepdf.Dictionary)
        ),
        drawings_without=frozenset(
            number
            for use in uses
            if use.kind in _DRAWINGS
            and (number := identity(use.value)) is not None
            and not isinstance(entry(use.value, "/Resources"), pikepdf.Dictionary)
        ),
    )


def _missing(uses: Sequence[Use]) -> Iterator[MissingResource]:
    for use in uses:
        if use.kind is UseKind.MISSING:
            category, _, key = str(use.value).partition(" ")
            yield MissingResource(category, key, use.page)
        elif use.kind is UseKind.SPACE:
            key = name(use.value) or ""
            by_name = key and full_colour_space(key) not in _NO_RESOURCE
            if by_name and use.resources.find("ColorSpace", key) is None:
                yield MissingResource("ColorSpace", key, use.page)


def _borrowed(uses: Sequence[Use]) -> Iterator[BorrowedResource]:
    drawings = {identity(use.value): use.value for use in uses if use.kind in _DRAWINGS}
    # A font may also be chosen by a graphics state, and then needs no name.
    by_state = {fingerprint(_font_of(use.value)) for use in uses if use.kind is UseKind.STATE}
    own = _OwnResources()
    for use in uses:
        drawing, category = drawings.get(use.within), _CATEGORIES.get(use.kind)
        if use.within is None or drawing is None or category is None or not _is_named(use):
            continue
        if use.kind is UseKind.FONT and fingerprint(use.value) in by_state:
            continue
        if not own.has(use.within, drawing, category, use.value):
            yield BorrowedResource(use.within, category, use.page)


def _font_of(state: object) -> object:
    given = entry(state, "/Font")
    return given[0] if isinstance(given, pikepdf.Array) and len(given) else None


def _is_named(use: Use) -> bool:
    """Whether the content names a resource that there is: an image's own space, for one, is not named."""
    if use.kind is not UseKind.SPACE:
        return True
    key = name(use.value)
    return (
        key is not None
        and full_colour_space(key) not in _NO_RESOURCE
        and use.resources.find("ColorSpace", key) is not None
    )


class _OwnResources:
    """What the resource dictionaries of forms and patterns hold; each category is read once."""

    def __init__(self) -> None:
        self._held: dict[tuple[str, str], frozenset[str]] = {}

    def has(self, number: str, drawing: object, category: str, value: object) -> bool:
        """Whether a drawing's own resources have `value`, or where it is a name, something of that name."""
        holder = entry(entry(drawing, "/Resources"), f"/{category}")
        key = name(value)
        if key is not None:
            return entry(holder, f"/{key}") is not None
        if (number, category) not in self._held:
            values = (entry(holder, each) for each in keys(holder, LIST_ENTRIES))
            self._held[number, category] = frozenset(map(fingerprint, values))
        return fingerprint(value) in self._held[number, category]
