"""Looks up named resources (ISO 32000-2, 7.8.3)."""

from collections.abc import Sequence

import pikepdf

from hotfolder.pdf.objects.reading import entry


class Resources:
    """The resource dictionaries that a content stream may use, its own first.

    A form without resources of its own uses those of the page it is drawn on (7.8.3). Readers in
    use everywhere look there too for a name that a form's own dictionary lacks, and files rely on it.
    """

    def __init__(self, dictionaries: Sequence[object] = ()) -> None:
        self._chain = tuple(each for each in dictionaries if isinstance(each, pikepdf.Dictionary))
        self._looked_up: dict[tuple[str, str], object] = {}
        self._within: dict[str, Resources] = {}

    def within(self, own: object, key: str | None = None) -> "Resources":
        """The resources for a stream that is drawn from this content and has the Resources entry `own`.

        key: the stream's object number, by which the result is cached: streams are drawn again and again.
        """
        if not isinstance(own, pikepdf.Dictionary):
            return self
        if key is None:
            return Resources((own, *self._chain))
        if key not in self._within:
            self._within[key] = Resources((own, *self._chain))
        return self._within[key]

    def find(self, category: str, key: str) -> object:
        """The resource called `key`, without slash, in a category such as `Font`; None if there is none."""
        if (category, key) not in self._looked_up:
            values = (entry(entry(each, f"/{category}"), f"/{key}") for each in self._chain)
            self._looked_up[category, key] = next((each for each in values if each is not None), None)
        return self._looked_up[category, key]

    def default_space(self, family: str) -> object:
        """The resource that remaps a device colour space (8.6.5.6), such as `DefaultRGB`; None without one.

        Only the nearest dictionary counts: a page's default does not reach into a form with resources.
        """
        key = ("nearest", family)
        if key not in self._looked_up:
            nearest = entry(self._chain[0], "/ColorSpace") if self._chain else None
            self._looked_up[key] = entry(nearest, "/" + family.replace("Device", "Default"))
        return self._looked_up[key]
