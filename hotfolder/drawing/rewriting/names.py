"""The named resources (ISO 32000-2, 7.8.3) of rewritten content, and the objects they become in each pass.

All content of a page shares one set of names, so that a form or a glyph finds in any drawing of the page
what its names mean there; nothing of the master's own resources is changed or kept.
"""

from abc import ABC, abstractmethod
from collections.abc import Callable, Hashable
from dataclasses import dataclass
from typing import Final

import pikepdf
from pikepdf import Dictionary

from hotfolder.drawing.rewriting.passes import Pass

Entries = dict[str, object]  # what a dictionary of a PDF is made with, keys with slash

CATEGORIES: Final = ("Font", "XObject", "ExtGState", "ColorSpace", "Pattern", "Shading")


@dataclass(frozen=True, slots=True)
class Making:
    """A pass whose objects are being made in a document.

    resources: the resource dictionary of the pass, still being filled. streams: all those of the page.
    """

    into: Pass
    pdf: pikepdf.Pdf
    resources: Dictionary
    streams: list[pikepdf.Stream]

    def stream(self, content: bytes, entries: Entries | None = None) -> pikepdf.Stream:
        """A new stream; what it holds is to be dropped once the page has been drawn."""
        made = self.pdf.make_stream(content, entries or {})
        self.streams.append(made)
        return made


class PassResource(ABC):
    """A resource of rewritten content: a form, image, font, pattern or graphics state.

    Its object is made anew for each pass, as the same colour is other channels in each.
    """

    @abstractmethod
    def made(self, making: Making) -> pikepdf.Object:
        """Its object in a pass."""


class ResourceNames:
    """Names the resources of a page while it is rewritten, then makes their objects for each pass."""

    def __init__(self, pdf: pikepdf.Pdf) -> None:
        self.pdf = pdf
        self._names: dict[tuple[str, Hashable], bytes] = {}
        self._resources: dict[str, dict[str, object]] = {each: {} for each in CATEGORIES}
        self._count = 0
        self._streams: list[pikepdf.Stream] = []

    def name(self, category: str, key: Hashable, make: Callable[[], object]) -> bytes:
        """The name, slash included, of the resource known as `key`; `make` gives it when it is new.

        It is a `PassResource`, or an object of the file that is the same in all passes.
        """
        known = self._names.get((category, key))
        if known is None:
            known = self._names[category, key] = self.add(category, make())
        return known

    def knows(self, category: str, key: Hashable) -> bool:
        """Whether something is known as `key`."""
        return (category, key) in self._names

    def known(self, category: str, key: Hashable) -> object:
        """The resource known as `key`; None where there is none yet."""
        name = self._names.get((category, key))
        return None if name is None else self._resources[category][name.decode("ascii")]

    def add(self, category: str, resource: object) -> bytes:
        """A new name for a resource, slash included."""
        self._count += 1
        name = f"/{category[0]}{self._count}"
        self._resources[category][name] = resource
        return name.encode("ascii")

    def made(self, into: Pass) -> Making:
        """A pass with the object of every resource in its resource dictionary."""
        making = self.begun(into)
        self.fill(making)
        return making

    def begun(self, into: Pass) -> Making:
        """A pass whose resource dictionary is still empty."""
        return Making(into, self.pdf, self.pdf.make_indirect(Dictionary()), self._streams)

    def fill(self, making: Making) -> None:
        """Makes the object of every resource in a pass, and puts it into the pass's resource dictionary."""
        for category, resources in self._resources.items():
            if resources:
                objects = {
                    name: resource.made(making) if isinstance(resource, PassResource) else resource
                    for name, resource in resources.items()
                }
                making.resources[f"/{category}"] = self.pdf.make_indirect(Dictionary(objects))

    def drop(self) -> None:
        """Frees the memory of what was made; the document that holds it would keep it while it is open."""
        for stream in self._streams:
            stream.write(b"")
        self._streams.clear()
